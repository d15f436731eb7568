//! Reach of the blade against a search over points of the wire's rim in scipy.
//!
//! Source: `data/scipy_slit.csv`, written by `cargo xtask references`; it names the version.

use linkwright_calc::quantity::Length;
use linkwright_calc::slit::{Blade, BladeParts, Kerf, Projection, severed_reach, touched_reach};
use linkwright_calc::wire::Wire;

use crate::table::rows;

/// The search finds the extreme point of the rim to 1e-9 rad; near it distance is flat.
const SEARCH_MM: f64 = 1e-8;

#[test]
fn severed_and_touched_reach_agree_with_the_search() {
    let all = rows(include_str!("data/scipy_slit.csv"));
    assert_eq!(all.len(), 8);
    for row in all {
        let mm = |column| Length::from_mm(row.number(column));
        let blade = Blade::new(BladeParts {
            diameter: mm("blade_diameter_mm"),
            kerf: Kerf::new(Length::from_mm(0.3)).expect("within limits"),
            teeth: None,
            hub_diameter: None,
        })
        .expect("within limits");
        let wire = Wire::new(mm("wire_diameter_mm")).expect("within limits");
        let projection = Projection::new(mm("projection_mm")).expect("within limits");
        let severed = severed_reach(blade, projection, wire, Length::from_mm(0.0));
        let touched = touched_reach(blade, projection, wire);
        for (ours, column) in [(severed, "severed_reach_mm"), (touched, "touched_reach_mm")] {
            let off_mm = ours.expect("the blade reaches").mm() - row.number(column);
            assert!(off_mm.abs() <= SEARCH_MM, "{}: {column} off by {off_mm:e}", row.line());
        }
    }
}
