//! All symptoms in plain words, to choose from.

use std::collections::BTreeMap;

use askama::Template;
use axum::extract::{Query, State};
use axum::response::Html;
use linkwright_calc::fault::symptoms;
use linkwright_store::Id;
use linkwright_store::records::Run;
use serde::Deserialize;

use crate::error::PageError;
use crate::frame::Frame;
use crate::state::App;

#[derive(Deserialize)]
pub(super) struct Asked {
    /// The run it happened in.
    pub(super) run: Option<i64>,
}

#[derive(Template)]
#[template(path = "pages/faults/list.html")]
struct List {
    frame: Frame,
    run: Option<(i64, String)>,
    symptoms: Vec<(&'static str, &'static str, u32)>,
}

pub(super) async fn list(
    State(app): State<App>,
    Query(asked): Query<Asked>,
) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            let counts: BTreeMap<String, u32> = view.fault_counts()?.into_iter().collect();
            let count = |code: &str| counts.get(code).copied().unwrap_or(0);
            let run = match asked.run {
                Some(run) => Some((run, view.get(Id::<Run>::new(run))?.name)),
                None => None,
            };
            let symptoms = symptoms().iter();
            Ok(List {
                frame: Frame::of(&at, view, "faults")?,
                run,
                symptoms: symptoms.map(|it| (it.code, it.words, count(it.code))).collect(),
            })
        })
        .await?;
    Ok(Html(page.render()?))
}
