//! Which files of other workshops are learned from; a file taken back out leaves no trace on the chart.

use axum::extract::{Path, State};
use axum::response::Redirect;
use linkwright_store::records::OtherWorkshop;
use linkwright_store::{Act, Id, Saved, StoreError};
use serde::Deserialize;

use super::changes::counted;
use crate::error::PageError;
use crate::form::Sent;
use crate::state::App;

#[derive(Deserialize)]
pub(super) struct Nothing {}

/// What a button does with a file.
#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Choice {
    /// Learn from it.
    Learn,
    /// Keep it, but do not learn from it.
    TakeOut,
    /// Remove it.
    Remove,
}

impl Choice {
    fn done(self, to: &str) -> String {
        match self {
            Choice::Learn => format!("Learn from {to}"),
            Choice::TakeOut => format!("Took {to} out of the chart"),
            Choice::Remove => format!("Removed {to} of another workshop"),
        }
    }

    fn to(self, act: &Act<'_>, file: Saved<OtherWorkshop>) -> Result<(), StoreError> {
        match self {
            Choice::Remove => act.remove(file.id),
            Choice::Learn | Choice::TakeOut => {
                let in_use = matches!(self, Choice::Learn);
                act.change(file.id, &OtherWorkshop { in_use, ..file.record })
            }
        }
    }
}

/// One file.
pub(super) async fn one(
    State(app): State<App>,
    Path((id, choice)): Path<(i64, Choice)>,
    form: Sent<Nothing>,
) -> Result<Redirect, PageError> {
    let Nothing {} = form.typed;
    let id = Id::<OtherWorkshop>::new(id);
    let found = app
        .read(move |view| match view.get(id) {
            Ok(record) => Ok(Some(record)),
            // Sent twice, it is gone already.
            Err(StoreError::NotFound { .. }) => Ok(None),
            Err(error) => Err(error.into()),
        })
        .await?;
    if let Some(record) = found {
        let what = choice.done(&record.name);
        app.act(&form.token, what, move |act| Ok(choice.to(act, Saved { id, record })?)).await?;
    }
    Ok(Redirect::to("/chart/others"))
}

/// Every file that it would change.
pub(super) async fn all(
    State(app): State<App>,
    Path(choice): Path<Choice>,
    form: Sent<Nothing>,
) -> Result<Redirect, PageError> {
    let Nothing {} = form.typed;
    let files = app.read(|view| Ok(view.all::<OtherWorkshop>()?)).await?;
    let concerned: Vec<Saved<OtherWorkshop>> = files
        .into_iter()
        .filter(|file| match choice {
            Choice::Learn => !file.record.in_use,
            Choice::TakeOut => file.record.in_use,
            Choice::Remove => true,
        })
        .collect();
    if !concerned.is_empty() {
        let what = choice.done(&counted(concerned.len(), "file"));
        app.act(&form.token, what, move |act| {
            for file in concerned {
                choice.to(act, file)?;
            }
            Ok(())
        })
        .await?;
    }
    Ok(Redirect::to("/chart/others"))
}
