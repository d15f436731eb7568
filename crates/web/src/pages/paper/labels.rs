//! Labels for batches.

use axum::extract::{Query, State};
use axum::http::HeaderMap;
use axum::http::header::HOST;
use axum::response::Response;
use linkwright_calc::metal::Catalogue;
use linkwright_sheets::{Label, LabelSheet};
use linkwright_store::records::{Batch, MetalOverlay, WireLot};
use linkwright_store::{Id, StoreError, View};
use serde::Deserialize;

use super::{paper_named, printed};
use crate::error::PageError;
use crate::pages::rings::{in_address, label_lines};
use crate::planning::catalogue_or_built_in;
use crate::state::App;

/// More labels than anybody cuts out at a time.
const LABELS_MOST: usize = 500;

#[derive(Deserialize)]
pub(super) struct Asked {
    #[serde(default)]
    paper: String,
    /// Numbers of batches, with commas between them.
    #[serde(default)]
    ids: String,
}

pub(super) async fn show(
    State(app): State<App>,
    headers: HeaderMap,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let paper = paper_named(&asked.paper)?;
    let ids = numbers(&asked.ids)?;
    // The address by which this page was asked for is the one by which the batch can be found.
    let host = headers.get(HOST).and_then(|host| host.to_str().ok()).unwrap_or("localhost");
    let host = host.to_owned();
    let sheet = app.read(move |view| Ok(label_sheet(view, &ids, &host)?)).await?;
    printed("labels", paper, move |paper| sheet.pdf(paper)).await
}

/// Labels for batches; their codes lead to the batches' pages on a host, such as
/// "127.0.0.1:8040".
///
/// # Errors
/// [`StoreError::NotFound`] if there is no such batch, or if the file cannot be read.
pub fn label_sheet(
    view: &View<'_>,
    ids: &[Id<Batch>],
    host: &str,
) -> Result<LabelSheet, StoreError> {
    let metals = catalogue_or_built_in(&view.all::<MetalOverlay>()?);
    let labels = ids.iter().map(|id| {
        let batch = view.get(*id)?;
        let lot = batch.wire_lot_id.map(|lot| view.get::<WireLot>(lot)).transpose()?;
        Ok(label(&batch, lot.as_ref().map(|lot| lot.name.as_str()), &metals, host))
    });
    Ok(LabelSheet { labels: labels.collect::<Result<_, StoreError>>()? })
}

fn numbers(typed: &str) -> Result<Vec<Id<Batch>>, PageError> {
    let ids: Vec<Id<Batch>> = typed
        .split(',')
        .map(str::trim)
        .filter(|number| !number.is_empty())
        .map(|number| {
            number
                .parse()
                .map_err(|_| PageError::Unreadable(format!("\"{number}\" is no number of a batch")))
        })
        .collect::<Result<_, _>>()?;
    match ids.len() {
        0 => Err(PageError::Unreadable("say for which batches, as ?ids=1,2,3".to_owned())),
        1..=LABELS_MOST => Ok(ids),
        more => {
            let told = format!("{more} labels are too many at a time; {LABELS_MOST} is the most");
            Err(PageError::Unreadable(told))
        }
    }
}

fn label(batch: &Batch, lot: Option<&str>, metals: &Catalogue, host: &str) -> Label {
    Label {
        code: batch.code.clone(),
        address: format!("http://{host}/b/{}", in_address(&batch.code)),
        lines: label_lines(batch, lot, metals),
    }
}
