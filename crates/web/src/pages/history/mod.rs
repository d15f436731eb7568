//! What was done: every action, and everything one record ever was.

mod fields;

mod names;

pub(crate) use fields::{Teller, column_in_words};

use askama::Template;
use axum::Router;
use axum::extract::{Path, Query, State};
use axum::response::Html;
use axum::routing::get;
use linkwright_store::{ActionDone, ChangeKind, record_tables};
use serde::Deserialize;

use crate::error::PageError;
use crate::frame::Frame;
use crate::pages::today::dated;
use crate::state::App;
use fields::{Field, differing, table_words};

/// Actions on one page.
const ON_A_PAGE: u32 = 50;

pub(crate) fn routes() -> Router<App> {
    Router::new().route("/history", get(list)).route("/history/{table}/{number}", get(one))
}

#[derive(Deserialize)]
struct From {
    before: Option<i64>,
}

#[derive(Template)]
#[template(path = "pages/history/list.html")]
struct List {
    frame: Frame,
    actions: Vec<(String, ActionDone)>,
    is_newest: bool,
    older: Option<i64>,
}

async fn list(State(app): State<App>, Query(from): Query<From>) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app.read(move |view| {
        let actions = view.actions(from.before, ON_A_PAGE)?;
        let older = actions.last().filter(|_| actions.len() == ON_A_PAGE as usize);
        Ok(List {
            frame: Frame::of(&at, view, "")?,
            is_newest: from.before.is_none(),
            older: older.map(|action| action.number),
            actions: dated(at.clock(), actions),
        })
    });
    Ok(Html(page.await?.render()?))
}

/// One change of a record.
struct Version {
    time: String,
    action: ActionDone,
    kind: ChangeKind,
    fields: Vec<Field>,
}

impl Version {
    /// Whether there was nothing before it.
    fn is_first(&self) -> bool {
        self.kind == ChangeKind::Added
    }
}

#[derive(Template)]
#[template(path = "pages/history/one.html")]
struct One {
    frame: Frame,
    called: String,
    number: i64,
    is_there: bool,
    versions: Vec<Version>,
}

async fn one(
    State(app): State<App>,
    Path((table, number)): Path<(String, i64)>,
) -> Result<Html<String>, PageError> {
    if !record_tables().contains(&table.as_str()) {
        return Err(PageError::NotFound { what: "kind of record" });
    }
    let at = app.clone();
    let page = app.read(move |view| {
        let rows = view.rows(&table, number.saturating_sub(1), 1)?.unwrap_or_default();
        let now =
            rows.into_iter().find(|row| row.get("id").and_then(|id| id.as_i64()) == Some(number));
        let is_there = now.is_some();
        let mut after = now;
        let teller = Teller::new(at.clock(), view);
        let mut versions = Vec::new();
        for change in view.former_rows(&table, number)? {
            versions.push(Version {
                time: at.clock().shown(change.action.at),
                action: change.action,
                kind: change.kind,
                fields: differing(&teller, change.former.as_ref(), after.as_ref()),
            });
            after = change.former;
        }
        if versions.is_empty() {
            return Err(PageError::NotFound { what: "record with this number" });
        }
        let frame = Frame::of(&at, view, "")?;
        Ok(One { frame, called: table_words(&table), number, is_there, versions })
    });
    Ok(Html(page.await?.render()?))
}
