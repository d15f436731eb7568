//! The small still picture of each pattern.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use axum::extract::{Path, State};
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use linkwright_answers::chain::figure::{Drawing, Ink, Scene, View};
use linkwright_linkage::pattern::{Kind, Pattern, craft};
use linkwright_linkage::pose::Pose;
use linkwright_linkage::table;

use super::own::own_picture;
use crate::error::PageError;
use crate::state::App;

/// Rings of a small picture: of a chain or cluster, and of a sheet.
const RINGS_MOST: [usize; 2] = [36, 48];

/// Wire of a small picture, in millimetres; all are drawn alike.
const WIRE_MM: f64 = 1.0;

/// The pictures, drawn when the first is asked for.
static PICTURES: LazyLock<BTreeMap<String, String>> = LazyLock::new(|| {
    let patterns = craft::all().into_iter().filter_map(|spec| Pattern::new(spec).ok());
    patterns.map(|pattern| (pattern.name().to_owned(), drawn(&pattern))).collect()
});

/// Most rings a picture of the pattern shows.
pub(super) const fn rings_most(kind: Kind) -> usize {
    match kind {
        Kind::Sheet => RINGS_MOST[1],
        Kind::Chain | Kind::Cluster => RINGS_MOST[0],
    }
}

pub(super) async fn show(
    State(app): State<App>,
    Path(file): Path<String>,
) -> Result<Response, PageError> {
    let name = file.strip_suffix(".svg").unwrap_or(&file);
    // One's own may be replaced at any time.
    let (picture, for_how_long) = match PICTURES.get(name) {
        Some(picture) => (picture.clone(), "max-age=86400"),
        None => {
            let own = own_picture(&app, name.to_owned()).await?;
            (own.ok_or(PageError::NotFound { what: "pattern" })?, "no-cache")
        }
    };
    let headers = [(CONTENT_TYPE, "image/svg+xml"), (CACHE_CONTROL, for_how_long)];
    Ok((headers, picture).into_response())
}

fn drawn(pattern: &Pattern) -> String {
    let (pose, wire) = typical(pattern);
    let scene = Scene::piece(&pose, wire, WIRE_MM, rings_most(pattern.kind()));
    Drawing::of(&scene, View::of(&pose), Ink::Black).svg(2.0, "")
}

/// A pose that looks like the pattern: some way above the smallest possible ring.
fn typical(pattern: &Pattern) -> (Pose, f64) {
    let solved = table::entry(pattern).and_then(|entry| {
        let wanted = typical_aspect_ratio(entry.aspect_ratio_min);
        let row = entry.rows.iter().rev().find(|row| row.aspect_ratio <= wanted)?;
        let pose = entry.pose_below(pattern, row.aspect_ratio)?;
        Some((pose, 2.0 / (row.aspect_ratio + 1.0)))
    });
    solved.unwrap_or_else(|| (pattern.start().clone(), pattern.start_wire()))
}

/// An aspect ratio that is neither stiff nor loose. Own choice, by the looks of the pictures.
pub(super) fn typical_aspect_ratio(least: f64) -> f64 {
    1.2 * least + 0.4
}
