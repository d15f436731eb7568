//! Answers as programs read them.

use linkwright_linkage::answer::Piece;
use linkwright_linkage::pattern::Kind;
use serde_json::{Value, json};

use super::answered::{ChainAnswer, RingUsed, ground_in_words};
use super::counted::{Counts, counts};
use super::in_full::InFull;
use super::patterns::PatternListed;
use super::table::TableRow;
use super::words::cautions;
use crate::batch::basis_as_json;

/// The answer as one object, unrounded, with what the chain is like in the hand where that was asked for;
/// `null` where there is no number.
pub fn chain_as_json(answer: &ChainAnswer, in_full: Option<&InFull>) -> Value {
    let linked = &answer.linked;
    let taut = linked.taut.as_ref().filter(|_| linked.possible());
    let density = answer.metal.as_ref().map(|metal| metal.density);
    let main = &answer.rings[0];
    let nearest = counts(answer);
    let mut cautions = cautions(answer);
    cautions.extend(in_full.map(InFull::cautions).unwrap_or_default());
    let mut json = json!({
        "pattern": answer.name,
        "aspect_ratio": linked.aspect_ratio,
        "possible": linked.possible(),
        "aspect_ratio_min": linked.aspect_ratio_min,
        "rings_per_cm": linked.rings_per_cm(),
        "rings": answer.rings_in_all,
        "mass_g": answer.mass.map(|mass| mass.g()),
        "width_mm": taut.and_then(|taut| taut.width).map(|width| width.mm()),
        "thickness_mm": taut.map(|taut| taut.thickness.mm()),
        "basis": answer.basis_in_words(),
        "tolerance": answer.tolerance(),
        "title": answer.title,
        "kind": kind_in_words(answer.kind),
        "wire_diameter_mm": main.ring.wire().diameter().mm(),
        "closed_inside_diameter_mm": main.ring.closed_inside().mm(),
        "inside_to_spare_mm": linked.inside_to_spare.mm(),
        "limit_basis": ground_in_words(linked.limit_ground),
        "rings_per_inch": linked.rings_per_inch(),
        "rings_per_cm2": linked.rings_per_cm2(),
        "advance_mm": taut.map(|taut| taut.advance.mm()),
        "across_mm": taut.and_then(|taut| taut.across).map(|across| across.mm()),
        "length_mm": answer.length.map(|length| length.mm()),
        "piece_below": answer.around.and_then(|around| around.below).map(piece_as_json),
        "piece_above": answer.around.map(|around| piece_as_json(around.above)),
        "rings_nearest": nearest.as_ref().map(Counts::rings),
        "length_nearest_mm": nearest.and_then(|nearest| nearest.length).map(|length| length.mm()),
        "mass_g_per_cm": density.and_then(|d| linked.mass_per_cm(d)).map(|mass| mass.g()),
        "mass_g_per_cm2": density.and_then(|d| linked.mass_per_cm2(d)).map(|mass| mass.g()),
        "sizes": answer.rings.iter().map(size_as_json).collect::<Vec<_>>(),
        "measured": linked.correction().map(|correction| json!({
            "pieces": correction.pieces,
            "ratio": correction.ratio,
            "ratio_spread": correction.spread,
        })),
        "rests_on": basis_as_json(&linked.basis()),
        "cautions": cautions,
    });
    if let (Some(in_full), Some(keys)) = (in_full, json.as_object_mut()) {
        keys.extend(in_full.as_json());
    }
    json
}

/// Rings of the pattern's own cells, and the length over all with the ends.
fn piece_as_json(piece: Piece) -> Value {
    json!({ "cells": piece.cells, "rings": piece.rings, "length_mm": piece.length.mm() })
}

fn size_as_json(used: &RingUsed) -> Value {
    let opened = used.ring.opened();
    json!({
        "wire_diameter_mm": used.ring.wire().diameter().mm(),
        "closed_inside_diameter_mm": used.ring.closed_inside().mm(),
        "open_inside_diameter_mm": opened.map(|open| open.inside.mm()),
        "kerf_mm": opened.map(|open| open.kerf.width().mm()),
        "by_proportion": used.by_proportion,
        "per_cell": used.per_cell,
        "rings": used.count,
        "mass_g_each": used.mass_each.map(|mass| mass.g()),
    })
}

/// Every pattern there is.
pub fn list_as_json(patterns: &[PatternListed]) -> Value {
    let listed = patterns.iter().map(|pattern| {
        json!({
            "pattern": pattern.name,
            "title": pattern.title,
            "kind": kind_in_words(pattern.kind),
            "ring_sizes": pattern.sizes,
            "rings_per_cell": pattern.rings_per_cell,
            "aspect_ratio_min": pattern.aspect_ratio_min,
        })
    });
    json!({ "patterns": listed.collect::<Vec<_>>() })
}

/// The table of a pattern against aspect ratio; lengths in wire diameters.
pub fn table_as_json(name: &str, rows: &[TableRow]) -> Value {
    let rows = rows.iter().map(|row| {
        json!({
            "aspect_ratio": row.aspect_ratio,
            "advance_over_wire": row.advance,
            "across_over_wire": row.across,
            "rings_per_cm_times_wire_mm": row.rings_per_cm_times_wire_mm,
            "width_over_wire": row.width,
            "thickness_over_wire": row.thickness,
            "searches": row.searches,
            "searches_that_agree": row.agree,
            "tolerance": row.within,
        })
    });
    json!({ "pattern": name, "rows": rows.collect::<Vec<_>>() })
}

/// How the pattern repeats, in a word.
pub const fn kind_in_words(kind: Kind) -> &'static str {
    match kind {
        Kind::Chain => "chain",
        Kind::Sheet => "sheet",
        Kind::Cluster => "cluster",
    }
}
