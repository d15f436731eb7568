//! The pages of one kind of thing: its list, one of it, its form, putting it away.

use askama::Template;
use axum::Router;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use linkwright_store::records::MetalOverlay;
use linkwright_store::{Conflict, Id, PhotoShown, Saved, View};

use super::form_page::{FieldView, FormPage};
use super::kept::{About, Around, Kept, Typed, text};
use crate::error::PageError;
use crate::form::{Complaints, Sent, given};
use crate::frame::Frame;
use crate::planning::catalogue;
use crate::state::App;

/// All pages of one kind.
pub(super) fn of<T: Kept>() -> Router<App> {
    let path = format!("/workshop/{}", T::PATH);
    Router::new()
        .route(&path, get(list::<T>))
        .route(&format!("{path}/new"), get(fresh::<T>).post(add::<T>))
        .route(&format!("{path}/{{id}}"), get(one::<T>))
        .route(&format!("{path}/{{id}}/edit"), get(edit::<T>).post(change::<T>))
        .route(&format!("{path}/{{id}}/measure"), post(measure::<T>))
        .route(&format!("{path}/{{id}}/put-away"), post(put_away::<T>))
        .route(&format!("{path}/{{id}}/take-back"), post(take_back::<T>))
        .route(&format!("{path}/{{id}}/remove"), post(remove::<T>))
}

impl Around {
    fn of(view: &View<'_>, app: &App) -> Result<Around, PageError> {
        // Own metals were checked when they were kept; if one no longer reads, the built-in ones stand.
        let metals = catalogue(&view.all::<MetalOverlay>()?)
            .unwrap_or_else(|_| linkwright_calc::metal::Catalogue::built_in());
        Ok(Around { metals, blades: view.all()?, today: app.clock().today().to_string() })
    }
}

struct Listed {
    id: i64,
    cells: Vec<String>,
    away: Option<String>,
}

#[derive(Template)]
#[template(path = "pages/workshop/list.html")]
struct ListPage {
    frame: Frame,
    path: &'static str,
    many: &'static str,
    one: &'static str,
    empty: &'static str,
    headings: &'static [&'static str],
    parts: [(&'static str, Vec<Listed>); 2],
}

async fn list<T: Kept>(State(app): State<App>) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            let mut listed = Vec::new();
            let mut all = view.all::<T>()?;
            all.sort_by(|a, b| a.record.size_mm().total_cmp(&b.record.size_mm()));
            for Saved { id, record } in all {
                listed.push(Listed {
                    id: id.number(),
                    cells: record.cells(id, view)?,
                    away: record.put_away().map(|(since, why)| since_and_why(since, why)),
                });
            }
            let (in_use, away) = listed.into_iter().partition(|one: &Listed| one.away.is_none());
            Ok(ListPage {
                frame: Frame::of(&at, view, "workshop")?,
                path: T::PATH,
                many: T::MANY,
                one: T::NAME,
                empty: T::EMPTY,
                headings: T::HEADINGS,
                parts: [("In use", in_use), ("Put away", away)],
            })
        })
        .await?;
    Ok(Html(page.render()?))
}

fn since_and_why(since: &str, why: &str) -> String {
    if why.is_empty() { since.to_owned() } else { format!("{since}: {why}") }
}

#[derive(Template)]
#[template(path = "pages/workshop/one.html")]
struct OnePage {
    frame: Frame,
    path: &'static str,
    many: &'static str,
    one: &'static str,
    table: &'static str,
    id: i64,
    name: String,
    about: About,
    away: Option<String>,
    /// The reading that stands in the short form for a micrometer; absent for what is not measured.
    measured: Option<String>,
    /// Absent for what photos are not taken of.
    photos: Option<Vec<PhotoShown>>,
    complaint: String,
}

async fn one<T: Kept>(State(app): State<App>, Path(id): Path<i64>) -> Result<Response, PageError> {
    show_one::<T>(app, id, StatusCode::OK, String::new()).await
}

async fn show_one<T: Kept>(
    app: App,
    id: i64,
    status: StatusCode,
    complaint: String,
) -> Result<Response, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            let record = view.get(Id::<T>::new(id))?;
            let around = Around::of(view, &at)?;
            let has_photos = matches!(T::TABLE, "wire_lot" | "blade");
            Ok(OnePage {
                measured: record.typed().remove("measured"),
                frame: Frame::of(&at, view, "workshop")?,
                path: T::PATH,
                many: T::MANY,
                one: T::NAME,
                table: T::TABLE,
                id,
                name: record.name().to_owned(),
                about: record.about(Id::new(id), view, &around)?,
                away: record.put_away().map(|(since, why)| since_and_why(since, why)),
                photos: has_photos.then(|| view.photos_of(T::TABLE, id)).transpose()?,
                complaint,
            })
        })
        .await?;
    Ok((status, Html(page.render()?)).into_response())
}

fn form<T: Kept>(
    app: &App,
    view: &View<'_>,
    around: &Around,
    typed: &Typed,
    complaints: &Complaints,
    id: Option<i64>,
) -> Result<FormPage, PageError> {
    let (title, back) = match id {
        None => (format!("A new {}", T::NAME), format!("/workshop/{}", T::PATH)),
        Some(id) => (format!("Change this {}", T::NAME), format!("/workshop/{}/{id}", T::PATH)),
    };
    let fields = FieldView::all(T::fields(around), typed, complaints);
    Ok(FormPage {
        frame: Frame::of(app, view, "workshop")?,
        path: T::PATH,
        many: T::MANY,
        title,
        back,
        whole: complaints.about("").to_owned(),
        fields,
    })
}

async fn fresh<T: Kept>(State(app): State<App>) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            let around = Around::of(view, &at)?;
            form::<T>(&at, view, &around, &T::fresh(&around), &Complaints::default(), None)
        })
        .await?;
    Ok(Html(page.render()?))
}

async fn edit<T: Kept>(
    State(app): State<App>,
    Path(id): Path<i64>,
) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            let record = view.get(Id::<T>::new(id))?;
            let around = Around::of(view, &at)?;
            form::<T>(&at, view, &around, &record.typed(), &Complaints::default(), Some(id))
        })
        .await?;
    Ok(Html(page.render()?))
}

async fn add<T: Kept>(State(app): State<App>, sent: Sent<Typed>) -> Result<Response, PageError> {
    save::<T>(app, sent, None).await
}

async fn change<T: Kept>(
    State(app): State<App>,
    Path(id): Path<i64>,
    sent: Sent<Typed>,
) -> Result<Response, PageError> {
    save::<T>(app, sent, Some(id)).await
}

/// Saves what was typed, or shows the form again with what is wrong beside its fields.
async fn save<T: Kept>(
    app: App,
    Sent { token, typed }: Sent<Typed>,
    id: Option<i64>,
) -> Result<Response, PageError> {
    let (at, words) = (app.clone(), typed.clone());
    let (read, complaints) = app
        .read(move |view| {
            let former = id.map(|id| view.get(Id::<T>::new(id))).transpose()?;
            let around = Around::of(view, &at)?;
            let mut complaints = Complaints::default();
            let read = T::read(&words, &around, former.as_ref(), &mut complaints);
            Ok((read, complaints))
        })
        .await?;
    let Some(record) = read.filter(|_| complaints.is_empty()) else {
        return again::<T>(app, typed, complaints, id).await;
    };
    let name = record.name().to_owned();
    let (what, target) = match id {
        None => (format!("Added {} {name}", T::NAME), format!("/workshop/{}", T::PATH)),
        Some(id) => (format!("Changed {} {name}", T::NAME), format!("/workshop/{}/{id}", T::PATH)),
    };
    let saved = app
        .act(&token, what, move |act| match id {
            None => record.saved(act, act.add(&record)?),
            Some(id) => {
                act.change(Id::<T>::new(id), &record)?;
                record.saved(act, Id::new(id))
            }
        })
        .await;
    match saved {
        Ok(_) => Ok(Redirect::to(&target).into_response()),
        Err(PageError::Refused(Conflict::Taken { column })) => {
            let mut complaints = Complaints::default();
            let column = column.rsplit('.').next().unwrap_or_default();
            // A metal's key stands inside its entry, which is a field of another name.
            let field = match column {
                "metal" if given(text(&typed, "entry")).is_some() => "entry",
                "metal" => "name",
                other => other,
            };
            complaints.add(field, format!("another {} is called {name}", T::NAME));
            again::<T>(app, typed, complaints, id).await
        }
        Err(error) => Err(error),
    }
}

async fn again<T: Kept>(
    app: App,
    typed: Typed,
    complaints: Complaints,
    id: Option<i64>,
) -> Result<Response, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            let around = Around::of(view, &at)?;
            form::<T>(&at, view, &around, &typed, &complaints, id)
        })
        .await?;
    Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response())
}

/// Takes a reading of a micrometer for something that is kept, everything else as it is.
async fn measure<T: Kept>(
    State(app): State<App>,
    Path(id): Path<i64>,
    Sent { token, typed: sent }: Sent<Typed>,
) -> Result<Response, PageError> {
    let mut typed = app.read(move |view| Ok(view.get(Id::<T>::new(id))?.typed())).await?;
    let reading = typed.get_mut("measured").ok_or(PageError::NotFound { what: "page" })?;
    text(&sent, "measured").clone_into(reading);
    save::<T>(app, Sent { token, typed }, Some(id)).await
}

async fn put_away<T: Kept>(
    State(app): State<App>,
    Path(id): Path<i64>,
    Sent { token, typed }: Sent<Typed>,
) -> Result<Response, PageError> {
    let Some(why) = given(text(&typed, "why")) else {
        let complaint = "say why, such as worn out, broke, used up".to_owned();
        return show_one::<T>(app, id, StatusCode::UNPROCESSABLE_ENTITY, complaint).await;
    };
    let today = app.clock().today().to_string();
    set::<T>(&app, id, token, "Put away", Some((today, why))).await
}

async fn take_back<T: Kept>(
    State(app): State<App>,
    Path(id): Path<i64>,
    Sent { token, .. }: Sent<Typed>,
) -> Result<Response, PageError> {
    set::<T>(&app, id, token, "Took back", None).await
}

async fn set<T: Kept>(
    app: &App,
    id: i64,
    token: crate::form::Token,
    did: &str,
    since_and_why: Option<(String, String)>,
) -> Result<Response, PageError> {
    let name = app.read(move |view| Ok(view.get(Id::<T>::new(id))?.name().to_owned())).await?;
    app.act(&token, format!("{did} {} {name}", T::NAME), move |act| {
        let mut record = act.get(Id::<T>::new(id))?;
        record.set_put_away(since_and_why);
        Ok(act.change(Id::new(id), &record)?)
    })
    .await?;
    Ok(Redirect::to(&format!("/workshop/{}/{id}", T::PATH)).into_response())
}

async fn remove<T: Kept>(
    State(app): State<App>,
    Path(id): Path<i64>,
    Sent { token, .. }: Sent<Typed>,
) -> Result<Response, PageError> {
    let name = app.read(move |view| Ok(view.get(Id::<T>::new(id))?.name().to_owned())).await?;
    let removed = app
        .act(&token, format!("Removed {} {name}", T::NAME), move |act| {
            Ok(act.remove(Id::<T>::new(id))?)
        })
        .await;
    match removed {
        Ok(_) => Ok(Redirect::to(&format!("/workshop/{}", T::PATH)).into_response()),
        Err(PageError::Refused(Conflict::Used)) => {
            let complaint = format!(
                "{name} cannot be removed, since other records name it; put it away instead"
            );
            show_one::<T>(app, id, StatusCode::CONFLICT, complaint).await
        }
        Err(error) => Err(error),
    }
}
