//! A batch added by hand, or changed.

use askama::Template;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use linkwright_store::records::{Batch, Workshop};
use linkwright_store::{Conflict, Id, StoreError, View};

use super::entry::{Entry, PACKING_ASSUMED};
use super::words;
use crate::error::PageError;
use crate::form::{Complaints, Sent};
use crate::frame::Frame;
use crate::state::App;

#[derive(Template)]
#[template(path = "pages/rings/form.html")]
struct FormPage {
    frame: Frame,
    /// The batch that is changed; none for a new one.
    number: Option<i64>,
    entry: Entry,
    metals: Vec<String>,
    complaints: Complaints,
}

impl FormPage {
    fn of(
        app: &App,
        view: &View<'_>,
        number: Option<i64>,
        entry: Entry,
        complaints: Complaints,
    ) -> Result<FormPage, PageError> {
        let metals = words::metals(view)?;
        let metals = metals.metals().iter().map(|metal| metal.trade_name().to_string()).collect();
        Ok(FormPage { frame: Frame::of(app, view, "rings")?, number, entry, metals, complaints })
    }
}

pub(super) async fn new(State(app): State<App>) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            let code = view.free_batch_code()?;
            let made_on = at.clock().today().to_string();
            let entry = Entry { code, made_on, ..Entry::default() };
            FormPage::of(&at, view, None, entry, Complaints::default())
        })
        .await?;
    Ok(Html(page.render()?))
}

pub(super) async fn edit(
    State(app): State<App>,
    Path(id): Path<i64>,
) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            let batch = view.get(Id::<Batch>::new(id))?;
            let mut entry = Entry::of(&batch);
            entry.metal = words::metal_name(&words::metals(view)?, &batch.metal);
            FormPage::of(&at, view, Some(id), entry, Complaints::default())
        })
        .await?;
    Ok(Html(page.render()?))
}

pub(super) async fn add(
    State(app): State<App>,
    Sent { token, typed }: Sent<Entry>,
) -> Result<Response, PageError> {
    let batch = match read(&app, None, &typed).await? {
        Ok(batch) => batch,
        Err(complaints) => return again(&app, None, typed, complaints).await,
    };
    let what = format!("Added batch {} of {} rings", batch.code, batch.rings);
    match app.act(&token, what, move |act| Ok(act.add(&batch)?)).await {
        Ok(Some(id)) => Ok(Redirect::to(&format!("/rings/{id}")).into_response()),
        Ok(None) => Ok(Redirect::to("/rings").into_response()),
        Err(PageError::Refused(Conflict::Taken { .. })) => taken(&app, None, typed).await,
        Err(error) => Err(error),
    }
}

pub(super) async fn change(
    State(app): State<App>,
    Path(id): Path<i64>,
    Sent { token, typed }: Sent<Entry>,
) -> Result<Response, PageError> {
    let batch = match read(&app, Some(id), &typed).await? {
        Ok(batch) => batch,
        Err(complaints) => return again(&app, Some(id), typed, complaints).await,
    };
    let what = format!("Changed batch {}", batch.code);
    match app.act(&token, what, move |act| Ok(act.change(Id::new(id), &batch)?)).await {
        Ok(_) => Ok(Redirect::to(&format!("/rings/{id}")).into_response()),
        Err(PageError::Refused(Conflict::Taken { .. })) => taken(&app, Some(id), typed).await,
        Err(error) => Err(error),
    }
}

/// The batch that was typed, or what is wrong with it.
async fn read(
    app: &App,
    id: Option<i64>,
    typed: &Entry,
) -> Result<Result<Batch, Complaints>, PageError> {
    let typed = typed.clone();
    app.read(move |view| {
        let former = id.map(|id| view.get(Id::<Batch>::new(id))).transpose()?;
        let mut complaints = Complaints::default();
        let metals = words::metals(view)?;
        let batch = typed.batch(former.as_ref(), &metals, packing(view)?, &mut complaints);
        Ok(batch.ok_or(complaints))
    })
    .await
}

/// The workshop's own packing; a close coil's where there is no workshop yet.
fn packing(view: &View<'_>) -> Result<f64, PageError> {
    match view.get(Id::<Workshop>::new(1)) {
        Ok(workshop) => Ok(workshop.packing),
        Err(StoreError::NotFound { .. }) => Ok(PACKING_ASSUMED),
        Err(error) => Err(error.into()),
    }
}

async fn taken(app: &App, id: Option<i64>, typed: Entry) -> Result<Response, PageError> {
    let mut complaints = Complaints::default();
    complaints.add("code", "another batch has this code; choose another");
    again(app, id, typed, complaints).await
}

async fn again(
    app: &App,
    id: Option<i64>,
    typed: Entry,
    complaints: Complaints,
) -> Result<Response, PageError> {
    let at = app.clone();
    let page = app.read(move |view| FormPage::of(&at, view, id, typed, complaints)).await?;
    Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response())
}
