//! Photos of orders, wire, blades, trials, runs and batches: added, shown, removed.

mod picture;

mod subject;

mod upload;

use std::sync::Mutex;

use askama::Template;
use axum::Router;
use axum::extract::{DefaultBodyLimit, Multipart, Path, Query, State};
use axum::http::StatusCode;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE, X_CONTENT_TYPE_OPTIONS};
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use linkwright_store::records::{Image, Photo};
use linkwright_store::{Id, PhotoShown, StoreError};
use serde::Deserialize;
use time::Date;
use time::format_description::well_known::Iso8601;

use self::picture::PictureError;
use self::subject::Subject;
use self::upload::Upload;
use crate::error::PageError;
use crate::form::{Complaints, Sent};
use crate::frame::Frame;
use crate::state::{App, locked};

/// Bytes of a whole form that are read at all; of these, the picture may be 12 MB.
const FORM_BYTES_MAX: usize = 64 * 1024 * 1024;

/// Large pictures are unfolded one after the other, so that memory stays bounded.
static UNFOLDING: Mutex<()> = Mutex::new(());

pub(crate) fn routes() -> Router<App> {
    let limit = DefaultBodyLimit::max(FORM_BYTES_MAX);
    Router::new()
        .route("/photos/new", get(show).post(add).layer(limit))
        .route("/photos/{name}", get(picture_itself))
        .route("/photos/{id}/remove", post(remove))
}

/// Which record the photos are of.
#[derive(Clone, Deserialize)]
struct Of {
    record: String,
    id: i64,
}

#[derive(Template)]
#[template(path = "pages/photos.html")]
struct Photos {
    frame: Frame,
    of: Subject,
    shown: Vec<PhotoShown>,
    taken_on: String,
    caption: String,
    complaints: Complaints,
}

async fn show(State(app): State<App>, Query(of): Query<Of>) -> Result<Response, PageError> {
    let today = app.clock().today().to_string();
    page(&app, of, (today, String::new()), Complaints::default()).await
}

async fn page(
    app: &App,
    of: Of,
    (taken_on, caption): (String, String),
    complaints: Complaints,
) -> Result<Response, PageError> {
    let status =
        if complaints.is_empty() { StatusCode::OK } else { StatusCode::UNPROCESSABLE_ENTITY };
    let at = app.clone();
    let page = app
        .read(move |view| {
            let subject = Subject::find(view, &of.record, of.id)?;
            let shown = view.photos_of(subject.table, subject.number)?;
            let frame = Frame::of(&at, view, "")?;
            Ok(Photos { frame, of: subject, shown, taken_on, caption, complaints })
        })
        .await?;
    Ok((status, Html(page.render()?)).into_response())
}

async fn add(
    State(app): State<App>,
    Query(of): Query<Of>,
    form: Multipart,
) -> Result<Response, PageError> {
    let Upload { token, taken_on, caption, picture } = Upload::read(app.tokens(), form).await?;
    let asked = of.clone();
    let subject = app.read(move |view| Subject::find(view, &asked.record, asked.id)).await?;
    let mut complaints = Complaints::default();
    if Date::parse(&taken_on, &Iso8601::DATE).is_err() {
        complaints.add("taken_on", "write the day as year-month-day, such as 2026-11-25");
    }
    let image = complaints.take("picture", unfolded(picture).await?);
    let Some(image) = image.filter(|_| complaints.is_empty()) else {
        return page(&app, of, (taken_on, caption), complaints).await;
    };
    let what = format!("Added a photo of {}", subject.title);
    app.act(&token, what, move |act| {
        let image_id = act.keep_image(&image)?;
        let photo = Photo {
            record: subject.table.to_owned(),
            record_id: subject.number,
            image_id,
            taken_on,
            caption,
        };
        Ok(act.add(&photo)?)
    })
    .await?;
    Ok(Redirect::to(&address(&of.record, of.id)).into_response())
}

/// The picture as it is kept, made off the threads that serve.
async fn unfolded(upload: Vec<u8>) -> Result<Result<Image, PictureError>, PageError> {
    let unfold = move || {
        let _one_at_a_time = locked(&UNFOLDING);
        picture::kept(&upload)
    };
    Ok(tokio::task::spawn_blocking(unfold).await?)
}

fn address(table: &str, number: i64) -> String {
    format!("/photos/new?record={table}&id={number}")
}

/// `/photos/7.jpg`: a picture never changes, so a browser may keep it for good.
async fn picture_itself(
    State(app): State<App>,
    Path(name): Path<String>,
) -> Result<Response, PageError> {
    let nothing = PageError::NotFound { what: "picture" };
    let id: Id<Image> =
        name.strip_suffix(".jpg").and_then(|number| number.parse().ok()).ok_or(nothing)?;
    let image = app.read(move |view| Ok(view.get(id)?)).await?;
    let headers = [
        (CONTENT_TYPE, "image/jpeg"),
        (CACHE_CONTROL, "private, max-age=31536000, immutable"),
        (X_CONTENT_TYPE_OPTIONS, "nosniff"),
    ];
    Ok((headers, image.jpeg).into_response())
}

#[derive(Deserialize)]
struct Nothing {}

async fn remove(
    State(app): State<App>,
    Path(id): Path<i64>,
    form: Sent<Nothing>,
) -> Result<Redirect, PageError> {
    let id = Id::<Photo>::new(id);
    let photo = app
        .read(move |view| match view.get(id) {
            Ok(photo) => Ok(Some(photo)),
            // Sent twice, it is gone already.
            Err(StoreError::NotFound { .. }) => Ok(None),
            Err(error) => Err(error.into()),
        })
        .await?;
    let Some(Photo { record, record_id, .. }) = photo else {
        return Ok(Redirect::to("/"));
    };
    let (table, number) = (record.clone(), record_id);
    let title = app
        .read(move |view| Ok(Subject::find(view, &table, number)?.title))
        .await
        .unwrap_or(record.clone());
    let what = format!("Removed a photo of {title}");
    app.act(&form.token, what, move |act| Ok(act.remove(id)?)).await?;
    Ok(Redirect::to(&address(&record, record_id)))
}
