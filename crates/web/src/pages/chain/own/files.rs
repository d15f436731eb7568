//! The text of a pattern to be kept elsewhere, and examples to begin from.

use axum::extract::{Path, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use linkwright_store::Id;
use linkwright_store::records::KeptPattern;

use crate::error::PageError;
use crate::state::App;

/// Pattern files to begin from: name, what it shows, text.
pub(super) const EXAMPLES: [(&str, &str, &str); 2] = [
    (
        "skipping-rope.toml",
        "by the order of linking alone: one ring a repeat",
        include_str!("../../../../../../examples/skipping-rope.toml"),
    ),
    (
        "large-and-steps.toml",
        "by rough places: five rings a repeat, two sizes",
        include_str!("../../../../../../examples/large-and-steps.toml"),
    ),
];

pub(super) async fn example(Path(file): Path<String>) -> Result<Response, PageError> {
    let found = EXAMPLES.into_iter().find(|(name, ..)| *name == file);
    let (name, _, text) = found.ok_or(PageError::NotFound { what: "example" })?;
    Ok(download(name, text.to_owned()))
}

/// The file of a pattern, as it is kept.
pub(super) async fn text(
    State(app): State<App>,
    Path(id): Path<i64>,
) -> Result<Response, PageError> {
    let kept = app.read(move |view| Ok(view.get(Id::<KeptPattern>::new(id))?)).await?;
    // A key has small letters, digits and _ only.
    Ok(download(&format!("{}.toml", kept.name), kept.text))
}

fn download(name: &str, text: String) -> Response {
    let headers = [
        (CONTENT_TYPE, "application/toml; charset=utf-8".to_owned()),
        (CONTENT_DISPOSITION, format!("attachment; filename=\"{name}\"")),
    ];
    (headers, text).into_response()
}
