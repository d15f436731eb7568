//! Ticking a cause: this was it.

use axum::extract::{Path, State};
use axum::response::Redirect;
use linkwright_calc::fault::symptom;
use linkwright_store::Id;
use linkwright_store::records::Fault;
use serde::Deserialize;

use crate::error::PageError;
use crate::form::Sent;
use crate::state::App;

#[derive(Deserialize)]
pub(super) struct Ticked {
    cause: String,
    #[serde(default)]
    run: String,
    #[serde(default)]
    blade: String,
    #[serde(default)]
    note: String,
}

pub(super) async fn record(
    State(app): State<App>,
    Path(code): Path<String>,
    Sent { token, typed }: Sent<Ticked>,
) -> Result<Redirect, PageError> {
    let symptom = symptom(&code).ok_or(PageError::NotFound { what: "fault" })?;
    let cause = symptom.causes.iter().find(|cause| cause.code == typed.cause);
    let cause = cause.ok_or(PageError::NotFound { what: "cause" })?;
    let run = number("run", &typed.run)?;
    let blade = number("blade", &typed.blade)?;
    let found_on = app.clock().today().to_string();
    let note = typed.note.trim().to_owned();
    let what = format!("Found a cause: {}", cause.words);
    app.act(&token, what, move |act| {
        Ok(act.add(&Fault {
            symptom: symptom.code.to_owned(),
            cause: cause.code.to_owned(),
            found_on,
            run_id: run.map(Id::new),
            blade_id: blade.map(Id::new),
            note,
        })?)
    })
    .await?;
    let run = run.map_or_else(String::new, |run| format!("?run={run}"));
    Ok(Redirect::to(&format!("/faults/{}{run}#found", symptom.code)))
}

fn number(what: &'static str, typed: &str) -> Result<Option<i64>, PageError> {
    match typed {
        "" => Ok(None),
        typed => typed.parse().map(Some).map_err(|_| PageError::NotFound { what }),
    }
}
