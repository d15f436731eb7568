//! The reference's example table of trials, read.
//! Source: `trials-example.csv` beside the project's reference on the statistics of the trials;
//! sixty coils of an invented workshop.

use linkwright_calc::quantity::{Length, Stress};
use linkwright_calc::slit::{AxisHeight, Blade, BladeParts, Kerf};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;
use linkwright_trials::{Cell, CellParts, Counts, TrialBlade, TrialRow};

const TABLE: &str = include_str!("data/trials_example.csv");

/// Every trial of the table.
pub fn rows() -> Vec<TrialRow> {
    TABLE.lines().skip(1).map(row).collect()
}

/// Nominal yield stress in MPa of the metals of the table, annealed and hard; half hard is their
/// geometric mean. The reference prints copper's pair only. The other eight numbers were found by
/// least squares from the twelve values it prints for the gates KEPT and ROUND; all came out round
/// to within 0.5 MPa, and the twelve values agree at the round numbers.
fn yield_mpa(metal: &str, temper: &str) -> f64 {
    let (annealed, hard) = match metal {
        "copper" => (70.0_f64, 300.0_f64),
        "sterling" => (140.0, 330.0),
        "brass" => (120.0, 420.0),
        "bronze" => (150.0, 500.0),
        _ => (240.0, 800.0),
    };
    match temper {
        "annealed" => annealed,
        "hard" => hard,
        _ => (annealed * hard).sqrt(),
    }
}

fn row(line: &str) -> TrialRow {
    let field: Vec<&str> = line.split(',').collect();
    let mm = |i: usize| Length::from_mm(field[i].parse().unwrap());
    let count = |i: usize| field[i].parse::<u32>().unwrap();
    let blade = BladeParts {
        diameter: mm(3),
        kerf: Kerf::new(mm(4)).unwrap(),
        teeth: Some(count(5)),
        hub_diameter: None,
    };
    let cell = Cell::new(CellParts {
        wire: Wire::new(mm(0)).unwrap(),
        mandrel: Mandrel::new(mm(1)).unwrap(),
        blade: TrialBlade { name: field[2].into(), blade: Blade::new(blade).unwrap() },
        axis: AxisHeight::new(mm(13)).unwrap(),
        metal: field[6].into(),
        yield_strength: Stress::from_mpa(yield_mpa(field[6], field[7])),
        taped: field[8] == "1",
        lubricated: field[9] == "1",
        operator: Some(field[10].into()),
        rings_cut_since_new: None,
    });
    let counts = Counts {
        entry_lost: count(14),
        stop_lost: count(15),
        crushed: count(16),
        uncut: count(17),
        deformed: count(18),
        good: count(19),
    };
    TrialRow::new(cell.unwrap(), count(11), counts).unwrap()
}
