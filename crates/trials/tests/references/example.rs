//! The reference's example table of trials, read.
//! Source: `trials-example.csv` beside the project's reference on the statistics of the trials;
//! sixty coils of an invented workshop.

use linkwright_calc::quantity::{Length, Stress};
use linkwright_calc::slit::{AxisHeight, Blade, BladeParts, Kerf};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;
use linkwright_trials::{Cell, CellParts, Counts, NominalYield, TrialBlade, TrialRow};

const TABLE: &str = include_str!("data/trials_example.csv");

/// Every trial of the table.
pub fn rows() -> Vec<TrialRow> {
    TABLE.lines().skip(1).map(row).collect()
}

/// Cells of the table that a belief is asked of: the cell of every fifth trial, and the same a
/// little further along the mandrel, where nothing was tried.
pub fn asked() -> Vec<Cell> {
    let tried: Vec<Cell> = rows().iter().step_by(5).map(|row| row.cell().clone()).collect();
    let beside = tried.iter().map(|cell| {
        let parts = cell.parts();
        let further = Length::from_mm((parts.mandrel.diameter().mm() * 1.13).min(13.9));
        let mandrel = Mandrel::new(further).unwrap();
        Cell::new(CellParts { mandrel, ..parts.clone() }).unwrap()
    });
    tried.iter().cloned().chain(beside).collect()
}

/// Nominal yield strength of a metal and temper of the table.
fn yield_strength(metal: &str, temper: &str) -> Stress {
    let nominal = NominalYield::of(metal).unwrap();
    match temper {
        "annealed" => nominal.annealed(),
        "hard" => nominal.hard(),
        _ => nominal.half_hard(),
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
        yield_strength: yield_strength(field[6], field[7]),
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
