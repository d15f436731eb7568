//! The list of batches, and finding one by any clue.

use askama::Template;
use axum::extract::{Query, State};
use axum::response::Html;
use linkwright_store::BatchSearch;
use serde::Deserialize;

use super::clues::clues;
use super::words;
use crate::error::PageError;
use crate::frame::Frame;

use crate::state::App;

/// Batches on one page.
const BATCHES_PER_PAGE: u32 = 50;

#[derive(Deserialize)]
pub(super) struct Asked {
    #[serde(default)]
    q: String,
    /// "gone" for those used up or sold.
    #[serde(default)]
    show: String,
    #[serde(default)]
    page: u32,
}

#[derive(Template)]
#[template(path = "pages/rings/list.html")]
struct List {
    frame: Frame,
    q: String,
    complaint: String,
    gone: bool,
    batches: Vec<Row>,
    found: u64,
    rings: u64,
    newer: Option<u32>,
    older: Option<u32>,
    any_at_all: bool,
}

struct Row {
    number: i64,
    code: String,
    metal: String,
    temper: String,
    wire: String,
    inside: String,
    rings: String,
    place: String,
    made_on: String,
    gone_on: String,
}

pub(super) async fn list(
    State(app): State<App>,
    Query(asked): Query<Asked>,
) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            let metals = words::metals(view)?;
            let gone = asked.show == "gone";
            let (clues, complaint) = match clues(&asked.q) {
                Ok(clues) => (clues, String::new()),
                Err(question) => (Vec::new(), question.to_string()),
            };
            let search = BatchSearch { clues, gone };
            let (found, rings) = view.batch_totals(&search)?;
            let skipped = asked.page.saturating_mul(BATCHES_PER_PAGE);
            let batches = view.batches(&search, skipped, BATCHES_PER_PAGE)?;
            let rows = batches
                .into_iter()
                .map(|saved| Row {
                    number: saved.id.number(),
                    metal: words::metal_name(&metals, &saved.record.metal),
                    wire: words::wire(&saved.record),
                    inside: words::inside(&saved.record),
                    rings: words::count(&saved.record),
                    code: saved.record.code,
                    temper: saved.record.temper,
                    place: saved.record.place,
                    made_on: saved.record.made_on,
                    gone_on: saved.record.gone_on.unwrap_or_default(),
                })
                .collect();
            let shown_to = u64::from(skipped) + u64::from(BATCHES_PER_PAGE);
            let any = found > 0 || view.count::<linkwright_store::records::Batch>()? > 0;
            Ok(List {
                frame: Frame::of(&at, view, "rings")?,
                q: asked.q,
                complaint,
                gone,
                batches: rows,
                found,
                rings,
                newer: asked.page.checked_sub(1),
                older: (shown_to < found).then(|| asked.page + 1),
                any_at_all: any,
            })
        })
        .await?;
    Ok(Html(page.render()?))
}
