//! Answers of a search as programs read them.

use serde_json::{Value, json};

use super::{Aim, Design, Designs, Given, Miss, NextRod, OwnRing};
use crate::batch::basis_as_json;
use linkwright_calc::money::Currency;

/// What comes nearest to a wanted chain or sheet, nearest first, unrounded.
pub fn designs_as_json(designs: &Designs) -> Value {
    let left_out = &designs.left_out;
    json!({
        "found": designs.found.iter().map(design_as_json).collect::<Vec<_>>(),
        "looked_at": designs.looked_at,
        "left_out": left_out.sentences().iter().chain(&left_out.no_ring).collect::<Vec<_>>(),
        "left_out_counts": {
            "no_ring": left_out.no_ring.len(),
            "too_small": left_out.too_small,
            "loose": left_out.loose,
            "beyond_table": left_out.beyond_table,
            "no_companions": left_out.no_companions,
            "unpriced": left_out.unpriced,
            "own_patterns": left_out.own_patterns,
        },
    })
}

fn design_as_json(design: &Design) -> Value {
    let main = design.main();
    let further = design.rings.iter().skip(1).map(|part| {
        let mut ring = ring_as_json(&part.ring);
        ring["per_cell"] = part.per_cell.into();
        ring
    });
    let mut gives = ring_as_json(main);
    put(&mut gives, Some(&design.gives));
    json!({
        "pattern": design.pattern,
        "title": design.title,
        "lot": main.lot,
        "metal": main.metal_name,
        "wire_diameter_mm": main.ring.wire().diameter().mm(),
        "aspect_ratio_min": design.least,
        "off": design.off,
        "wanted": design.misses.iter().map(miss_as_json).collect::<Vec<_>>(),
        "tight": design.tight,
        "loose": design.loose,
        "gives": gives,
        "further_rings": further.collect::<Vec<_>>(),
        "next_rod_up": design.next[0].as_ref().map(next_as_json),
        "next_rod_down": design.next[1].as_ref().map(next_as_json),
        "rests_on": {
            "ring": basis_as_json(&main.closed_basis()),
            "rings": basis_as_json(&design.count_basis()),
        },
    })
}

fn next_as_json(next: &NextRod) -> Value {
    let mut ring = ring_as_json(&next.ring);
    put(&mut ring, next.gives.as_ref().ok());
    ring
}

fn ring_as_json(ring: &OwnRing) -> Value {
    json!({
        "lot": ring.lot,
        "wire_diameter_mm": ring.ring.wire().diameter().mm(),
        "anneal_first": ring.anneal_first,
        "rod": ring.rod,
        "mandrel_diameter_mm": ring.rod_diameter.mm(),
        "open_inside_diameter_mm": ring.open_inside.value.mm(),
        "open_inside_rests_on": ring.open_inside.basis.word(),
        "blade": ring.blade,
        "kerf_mm": ring.kerf.mm(),
        "closed_inside_diameter_mm": ring.ring.closed_inside().mm(),
        "aspect_ratio": ring.ring.as_closed().aspect_ratio(),
        "price": ring.price.as_ref().map(|price| price.price.to_string()),
        "price_date": ring.price.as_ref().and_then(|price| price.date.clone()),
    })
}

/// Puts what a ring gives beside it, as `chain` or as `sheet`; `chain` is nothing where it gives none.
fn put(ring: &mut Value, given: Option<&Given>) {
    match given {
        Some(given) if given.across.is_some() => ring["sheet"] = sheet_as_json(given),
        Some(given) => ring["chain"] = chain_as_json(given),
        None => ring["chain"] = Value::Null,
    }
}

fn chain_as_json(given: &Given) -> Value {
    json!({
        "advance_mm": given.advance.mm(),
        "width_mm": given.width.map(|width| width.mm()),
        "thickness_mm": given.thickness.mm(),
        "rings_per_cm": given.rings,
        "mass_g_per_cm": given.mass.g(),
        "cost_per_cm": given.cost.map(cost_as_json),
        "length_from": given.read_in_words(),
        "tolerance": given.within,
    })
}

fn sheet_as_json(given: &Given) -> Value {
    json!({
        "advance_mm": given.advance.mm(),
        "across_mm": given.across.map(|across| across.mm()),
        "thickness_mm": given.thickness.mm(),
        "rings_per_cm2": given.rings,
        "mass_g_per_cm2": given.mass.g(),
        "cost_per_cm2": given.cost.map(cost_as_json),
        "length_from": given.read_in_words(),
        "tolerance": given.within,
    })
}

fn cost_as_json((minor, currency): (f64, Currency)) -> Value {
    let scale = 10.0_f64.powi(i32::from(currency.decimals()));
    json!({ "amount": minor / scale, "currency": currency.to_string() })
}

fn miss_as_json(miss: &Miss) -> Value {
    let what = match miss.aim {
        Aim::Width => "width_mm",
        Aim::Thickness => "thickness_mm",
        Aim::Mass => "mass_g",
        Aim::Cost => "cost_minor_units",
    };
    json!({ "what": what, "wanted": miss.wanted, "given": miss.given, "off": miss.off() })
}
