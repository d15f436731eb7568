//! Rings in place, for the picture that turns: the solved pose of this question, and the poses of the
//! table between which a slider moves.

use std::collections::BTreeMap;

use axum::Json;
use axum::extract::{Query, State};
use linkwright_answers::chain::figure::{Scene, View, copies};
use linkwright_linkage::answer::Drawn;
use linkwright_linkage::pattern::{Image, Kind, Pattern};
use linkwright_linkage::pose::Pose;
use linkwright_linkage::table::{self, Entry, Row};
use linkwright_linkage::vector::Vec3;
use serde_json::{Value, json};

use super::answers::answered;
use super::asked::Asked;
use super::picture::{rings_most, typical_aspect_ratio};
use super::question::pattern_named;
use super::show::{asked_in_full, ready};
use crate::error::PageError;
use crate::state::App;

/// The rows of the table, each with its rings; lengths in main wires, rings in main ring radii.
pub(super) async fn rows(
    State(app): State<App>,
    Query(typed): Query<BTreeMap<String, String>>,
) -> Result<Json<Value>, PageError> {
    let asked = Asked::of(&typed);
    let pattern = app.read(move |view| pattern_named(view, asked.at("pattern"))).await?;
    let Some(entry) = table::entry(&pattern) else {
        return Ok(Json(json!({ "rows": [] })));
    };
    Ok(Json(rows_as_json(&pattern, entry)))
}

fn rows_as_json(pattern: &Pattern, entry: &Entry) -> Value {
    // The same copies in every row, so that the picture shows the same rings while the slider moves.
    let wanted = typical_aspect_ratio(entry.aspect_ratio_min);
    let row = entry.rows.iter().rev().find(|row| row.aspect_ratio <= wanted);
    let shown = row
        .and_then(|row| Some((entry.pose_below(pattern, row.aspect_ratio)?, row.aspect_ratio)))
        .map(|(pose, ratio)| copies(&pose, 2.0 / (ratio + 1.0), rings_most(pattern.kind())))
        .unwrap_or_default();
    let sizes: Vec<[f64; 2]> =
        pattern.spec().sizes.iter().map(|size| [size.radius, size.wire]).collect();
    let per_cell = |size| pattern.spec().rings.iter().filter(|ring| ring.size == size).count();
    json!({
        "least": entry.aspect_ratio_min,
        "kind": match pattern.kind() {
            Kind::Chain => "chain",
            Kind::Sheet => "sheet",
            Kind::Cluster => "cluster",
        },
        "sizes": sizes,
        "per_cell": (0..sizes.len()).map(per_cell).collect::<Vec<_>>(),
        "rows": entry
            .states()
            .enumerate()
            .flat_map(|(state, rows)| rows.iter().map(move |row| (state, row)))
            .filter_map(|(state, row)| row_as_json(pattern, entry, (state, row), &shown))
            .collect::<Vec<_>>(),
    })
}

fn row_as_json(
    pattern: &Pattern,
    entry: &Entry,
    (state, row): (usize, &Row),
    shown: &[Image],
) -> Option<Value> {
    let pose = entry.pose_below(pattern, row.aspect_ratio)?;
    let wire = 2.0 / (row.aspect_ratio + 1.0);
    Some(json!({
        "ratio": row.aspect_ratio,
        "state": state,
        "advance": row.advance,
        "across": row.across,
        "width": row.width,
        "thickness": row.thickness,
        "rings": Placed::of(&pose, wire, wire, shown).rings(pattern),
    }))
}

/// The pattern of this question pulled taut, in millimetres, with the contacts that carry.
pub(super) async fn taut(
    State(app): State<App>,
    Query(typed): Query<BTreeMap<String, String>>,
) -> Result<Json<Value>, PageError> {
    let asked = Asked::of(&typed);
    ready(&app, &asked).await?;
    let scene = app
        .read(move |view| {
            let pattern = pattern_named(view, asked.at("pattern"))?;
            let Ok(question) = asked_in_full(view, &pattern, &asked)?.question else {
                return Ok(Value::Null);
            };
            let Ok(answered) = answered(&question) else {
                return Ok(Value::Null);
            };
            Ok(answered.drawn.as_ref().map_or(Value::Null, |drawn| drawn_as_json(&pattern, drawn)))
        })
        .await?;
    Ok(Json(scene))
}

fn drawn_as_json(pattern: &Pattern, drawn: &Drawn) -> Value {
    let wire_mm = drawn.wire.mm();
    let shown = copies(&drawn.pose, wire_mm, rings_most(pattern.kind()));
    let placed = Placed::of(&drawn.pose, wire_mm, wire_mm, &shown);
    let mut sizes: Vec<[f64; 2]> = vec![[0.0; 2]; pattern.spec().sizes.len()];
    for (ring, spec) in drawn.pose.rings.iter().zip(&pattern.spec().rings) {
        sizes[spec.size] = [ring.circle.radius, ring.wire_share * wire_mm];
    }
    json!({
        "sizes": sizes,
        "rings": placed.rings(pattern),
        "spots": placed.spots(drawn, &shown),
    })
}

/// Share of the most that any contact carries, below which one is not shown: rings that lie along each
/// other touch in many places, none of which matters.
const LEAST_SHOWN: f64 = 0.1;

/// Rings in the frame of the view, their middle at the origin.
struct Placed {
    scene: Scene,
    view: View,
    middle: Vec3,
}

impl Placed {
    fn of(pose: &Pose, wire: f64, wire_shown: f64, shown: &[Image]) -> Placed {
        let view = View::of(pose);
        let scene = Scene::of(pose, wire, wire_shown, shown);
        let middle = scene.middle(view);
        Placed { scene, view, middle }
    }

    /// Size, centre and normal of each.
    fn rings(&self, pattern: &Pattern) -> Vec<Vec<f64>> {
        let specs = pattern.spec().rings.iter().cycle();
        let placed = self.scene.tubes.iter().zip(specs).map(|(tube, spec)| {
            let centre = self.view.sees(tube.circle.centre) - self.middle;
            let normal = self.view.sees(tube.circle.normal);
            let mut ring = vec![spec.size as f64];
            ring.extend([centre, normal].iter().flat_map(|v| [v.x, v.y, v.z]).map(rounded));
            ring
        });
        placed.collect()
    }

    /// Place and force of each contact that carries between rings that are shown.
    fn spots(&self, drawn: &Drawn, shown: &[Image]) -> Vec<[f64; 4]> {
        let most = drawn.carrying.iter().map(|one| one.force).fold(0.0, f64::max);
        let mut spots = Vec::new();
        for image in shown {
            let motion = drawn.pose.cell.motion(*image);
            for carrying in drawn.carrying.iter().filter(|one| one.force >= LEAST_SHOWN * most) {
                let other = [image[0] + carrying.image[0], image[1] + carrying.image[1]];
                if shown.contains(&other) {
                    let at = self.view.sees(motion.place(carrying.at)) - self.middle;
                    spots.push([at.x, at.y, at.z, carrying.force].map(rounded));
                }
            }
        }
        spots
    }
}

/// To a ten-thousandth, which no eye sees.
fn rounded(number: f64) -> f64 {
    (number * 1e4).round() / 1e4
}
