//! An invented workshop: two blades, copper wire, cells and coils made by hand.

use linkwright_calc::quantity::{Length, Stress};
use linkwright_calc::slit::{AxisHeight, Blade, BladeParts, Kerf};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;
use linkwright_trials::{Cell, CellParts, Counts, TrialBlade, TrialRow};

/// A cell in copper, half hard, dry and taped, cut by Ann.
pub fn cell(wire_mm: f64, mandrel_mm: f64, blade: &str) -> Cell {
    let mm = Length::from_mm;
    let (diameter_mm, kerf_mm, teeth) =
        if blade == "small" { (31.75, 0.2, 160) } else { (38.1, 0.25, 190) };
    let kerf = Kerf::new(mm(kerf_mm)).unwrap();
    let parts =
        BladeParts { diameter: mm(diameter_mm), kerf, teeth: Some(teeth), hub_diameter: None };
    Cell::new(CellParts {
        wire: Wire::new(mm(wire_mm)).unwrap(),
        mandrel: Mandrel::new(mm(mandrel_mm)).unwrap(),
        blade: TrialBlade { name: blade.into(), blade: Blade::new(parts).unwrap() },
        axis: AxisHeight::new(mm(14.35)).unwrap(),
        metal: "copper".into(),
        yield_strength: Stress::from_mpa(145.0),
        taped: true,
        lubricated: false,
        operator: Some("Ann".into()),
        rings_cut_since_new: None,
    })
    .unwrap()
}

/// One coil of thirty turns, one lost at the entry and two at the stop.
pub fn coil(cell: &Cell, crushed: u32, uncut: u32, deformed: u32) -> TrialRow {
    let good = 27 - crushed - uncut - deformed;
    let counts = Counts { entry_lost: 1, stop_lost: 2, crushed, uncut, deformed, good };
    TrialRow::new(cell.clone(), 30, counts).unwrap()
}

/// A few coils over the chart, mostly good.
pub fn some_trials() -> Vec<TrialRow> {
    let mut rows = Vec::new();
    for (i, wire_mm) in [0.6, 0.8, 1.0, 1.3].into_iter().enumerate() {
        for (j, mandrel_mm) in [3.0, 5.0, 8.0].into_iter().enumerate() {
            let blade = if (i + j) % 2 == 0 { "small" } else { "large" };
            let bad = u32::try_from(i + j).unwrap();
            rows.push(coil(&cell(wire_mm, mandrel_mm, blade), bad / 2, bad, bad / 3));
        }
    }
    rows
}
