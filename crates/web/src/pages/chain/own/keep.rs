//! A pattern of one's own tried, kept, put in the place of another, removed.

use axum::extract::{Multipart, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use linkwright_store::records::KeptPattern;
use linkwright_store::{Id, StoreError};
use serde::Deserialize;

use super::page::{Found, Page, shown};
use super::sent::{Sent, TEXT_BYTES_MOST};
use crate::error::PageError;
use crate::form::Sent as Button;
use crate::pages::chain::asked::{FURTHER, address};
use crate::patterns::tried::{Outcome, Tried, Wrong, tried};
use crate::state::App;

/// Patterns of one's own kept at most; all are read at each start.
const KEPT_MOST: usize = 200;

pub(super) async fn add(State(app): State<App>, form: Multipart) -> Result<Response, PageError> {
    take(app, None, form).await
}

pub(super) async fn replace(
    State(app): State<App>,
    Path(id): Path<i64>,
    form: Multipart,
) -> Result<Response, PageError> {
    take(app, Some(Id::new(id)), form).await
}

/// Tries what was sent; keeps it if that is wanted and nothing is left to be asked.
async fn take(
    app: App,
    id: Option<Id<KeptPattern>>,
    form: Multipart,
) -> Result<Response, PageError> {
    let sent = Sent::read(&app, form).await?;
    let all = app.read(|view| Ok(view.all::<KeptPattern>()?)).await?;
    if id.is_some_and(|id| all.iter().all(|kept| kept.id != id)) {
        return Err(PageError::NotFound { what: "own pattern" });
    }
    if id.is_none() && all.len() >= KEPT_MOST {
        let said = format!("{KEPT_MOST} patterns are kept and no more; remove one first");
        return again(&app, id, sent.text, Found::of(Err(Wrong::said(said)))).await;
    }
    let others: Vec<String> = all
        .iter()
        .filter(|kept| Some(kept.id) != id)
        .map(|kept| kept.record.name.clone())
        .collect();
    let mut text = sent.text;
    let mut outcome = match sent.unreadable {
        Some(said) => Err(Wrong::said(said)),
        None => outcome(&app, &text, others.clone()).await?,
    };
    if let (Ok(found), Some(which)) = (&outcome, sent.which)
        && found.chains.len() > 1
        && let Some(chain) = found.chains.get(which - 1)
        && chain.text != text
    {
        text = chain.text.clone();
        outcome = self::outcome(&app, &text, others).await?;
    }
    let found = match outcome {
        Ok(found) if sent.is_to_keep => found,
        checked => return again(&app, id, text, Found::of(checked)).await,
    };
    // Where several chains have these links, the file must say which is meant.
    if found.own.search.as_ref().is_some_and(|search| search.chains.len() > 1 && !search.is_said) {
        let asking = Found { is_which_wanted: true, ..Found::of(Ok(found)) };
        return again(&app, id, text, asking).await;
    }
    let kept = record(&found, text, app.clock().today().to_string());
    let (to, title) = (address_with_rings(&found), kept.title.clone());
    let what = match id {
        None => format!("Brought in the pattern {title}"),
        Some(_) => format!("Replaced the pattern {title}"),
    };
    app.act(&sent.token, what, move |act| match id {
        None => Ok(act.add(&kept).map(drop)?),
        Some(id) => {
            let added_on = act.get(id)?.added_on;
            Ok(act.change(id, &KeptPattern { added_on, ..kept })?)
        }
    })
    .await?;
    Ok(Redirect::to(&to).into_response())
}

async fn outcome(app: &App, text: &str, others: Vec<String>) -> Result<Outcome, PageError> {
    if text.trim().is_empty() {
        return Ok(Err(Wrong::said("choose a file, or type or paste the text of one")));
    }
    if text.len() > TEXT_BYTES_MOST {
        let said =
            format!("the text has {} bytes; at most {TEXT_BYTES_MOST} are taken", text.len());
        return Ok(Err(Wrong::said(said)));
    }
    tried(app, text.to_owned(), others).await
}

/// The page of the pattern in the file's own rings.
fn address_with_rings(found: &Tried) -> String {
    let names = [("wire", "inside")].into_iter().chain(FURTHER);
    let mm = |mm: f64| format!("{mm} mm");
    let sizes = names.zip(&found.own.rings).flat_map(|((wire, inside), ring)| {
        [(wire, mm(ring.wire().diameter().mm())), (inside, mm(ring.inside().mm()))]
    });
    let pattern = ("pattern", found.own.pattern.name().to_owned());
    let asked: Vec<_> =
        [pattern, ("state", "closed".to_owned())].into_iter().chain(sizes).collect();
    address("/chain/pattern", asked.iter().map(|(field, text)| (*field, text.as_str())))
}

fn record(found: &Tried, text: String, added_on: String) -> KeptPattern {
    let spec = found.own.pattern.spec();
    KeptPattern {
        name: spec.name.clone(),
        title: spec.title.clone(),
        text,
        start: found.own.start_found(),
        shown: found.shown.clone(),
        aspect_ratio_min: found.linked.aspect_ratio_min,
        added_on,
    }
}

/// The page again, with what was found or what is wrong.
async fn again(
    app: &App,
    id: Option<Id<KeptPattern>>,
    text: String,
    found: Found,
) -> Result<Response, PageError> {
    let is_well = found.outcome.is_ok() && !found.is_which_wanted;
    let status = if is_well { StatusCode::OK } else { StatusCode::UNPROCESSABLE_ENTITY };
    let page = Page { id, text, found: Some(found) };
    Ok((status, shown(app, page).await?).into_response())
}

#[derive(Deserialize)]
pub(super) struct Nothing {}

/// Takes a pattern out; orders in it say so from then on.
pub(super) async fn remove(
    State(app): State<App>,
    Path(id): Path<i64>,
    form: Button<Nothing>,
) -> Result<Redirect, PageError> {
    let Nothing {} = form.typed;
    let id = Id::<KeptPattern>::new(id);
    let found = app
        .read(move |view| match view.get(id) {
            Ok(kept) => Ok(Some(kept)),
            // Sent twice, it is gone already.
            Err(StoreError::NotFound { .. }) => Ok(None),
            Err(error) => Err(error.into()),
        })
        .await?;
    if let Some(kept) = found {
        let what = format!("Removed the pattern {}", kept.title);
        app.act(&form.token, what, move |act| Ok(act.remove(id)?)).await?;
    }
    Ok(Redirect::to("/chain/own"))
}
