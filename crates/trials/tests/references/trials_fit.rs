//! The fit at one known setting as printed.
//! Source: the project's reference on the statistics of the trials (`trials.md`), section 10: the
//! example table fitted there with an independent program, scatter and departure 0.5.

use linkwright_calc::quantity::{Length, Stress};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;
use linkwright_trials::{Cell, CellParts, GATES, Gate, Learned, Prior, Term, TrialRow};

use crate::example::rows;

/// Printed with the values: what the seven-node rule and the floor of the curvature may differ by.
const WITHIN: f64 = 1e-3;

fn fitted() -> (Vec<TrialRow>, Learned) {
    let rows = rows();
    let learned = Learned::fit_at(&rows, &Prior::geometry(), 0.5, 0.5);
    (rows, learned)
}

/// The reference does not print the circumstances of its two cells; of all those in the table,
/// these give its twelve numbers.
fn printed_cell(rows: &[TrialRow], wire_mm: f64, mandrel_mm: f64, blade: &str) -> Cell {
    let like = rows.iter().find(|row| &*row.cell().parts().blade.name == blade).unwrap();
    Cell::new(CellParts {
        wire: Wire::new(Length::from_mm(wire_mm)).unwrap(),
        mandrel: Mandrel::new(Length::from_mm(mandrel_mm)).unwrap(),
        metal: "copper".into(),
        yield_strength: Stress::from_mpa((70.0_f64 * 300.0).sqrt()),
        taped: true,
        lubricated: true,
        operator: Some("op0".into()),
        ..like.cell().parts().clone()
    })
    .unwrap()
}

fn agree(what: &str, ours: f64, printed: f64) {
    assert!((ours - printed).abs() < WITHIN, "{what}: {ours} is not {printed}");
}

#[test]
fn the_printed_evidences_and_intercepts_agree() {
    let (_, learned) = fitted();
    let printed = [(-131.550_100, 2.205_125), (-89.643_243, -3.785_444), (-41.909_797, -0.912_615)];
    for (gate, (evidence, intercept)) in GATES.into_iter().zip(printed) {
        agree("evidence", learned.ln_evidence(gate), evidence);
        agree("intercept", learned.weight(gate, &Term::Intercept).unwrap(), intercept);
    }
}

#[test]
fn the_printed_sever_weights_agree() {
    let (_, learned) = fitted();
    for (i, printed) in [0.861_39, 1.163_48, 1.456_95, 1.660_53, 2.345_92].into_iter().enumerate() {
        let ours = learned.weight(Gate::Severed, &Term::Sever(i)).unwrap();
        agree("sever weight", ours, printed);
    }
}

#[test]
fn the_printed_log_odds_of_two_cells_agree() {
    let (rows, learned) = fitted();
    let near = printed_cell(&rows, 0.8118, 5.0, "B1");
    let far = printed_cell(&rows, 0.4049, 14.0, "B2");
    for (cell, printed) in [
        (near, [(2.669_434, 0.481_841), (3.386_458, 0.491_017), (5.910_293, 0.743_656)]),
        (far, [(0.497_682, 1.105_504), (3.911_427, 0.936_286), (3.444_949, 1.191_581)]),
    ] {
        for (story, (mean, sd)) in learned.explain(&cell).iter().zip(printed) {
            agree("mean", story.mean, mean);
            agree("sd", story.sd, sd);
        }
    }
}

#[test]
fn no_wear_counted_leaves_the_fit_as_it_was() {
    let (rows, learned) = fitted();
    let counted: Vec<TrialRow> = rows
        .iter()
        .map(|row| {
            let parts = CellParts { rings_cut_since_new: Some(0.0), ..row.cell().parts().clone() };
            TrialRow::new(Cell::new(parts).unwrap(), row.turns(), row.counts()).unwrap()
        })
        .collect();
    let other = Learned::fit_at(&counted, &Prior::geometry(), 0.5, 0.5);
    for gate in GATES {
        // The same numbers go through the same sums.
        assert!((learned.ln_evidence(gate) - other.ln_evidence(gate)).abs() < 1e-12);
    }
    let prior = 0.3; // its own guess, unmoved where no blade is worn
    let sharpness = learned.weight(Gate::Severed, &Term::Sharpness).unwrap();
    assert!((sharpness - prior).abs() < 1e-12);
}
