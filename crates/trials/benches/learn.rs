//! Learning from trials afresh and after one more, and playing out a chart; never a gate.

use std::sync::Arc;

use divan::{Bencher, black_box};
use linkwright_calc::quantity::{Length, Stress};
use linkwright_calc::slit::{AxisHeight, Blade, BladeParts, Kerf};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;
use linkwright_trials::{
    Cell, CellParts, CoilCost, CoilMoney, Counts, Features, Learned, Outcome, Place, Prior,
    TrialBlade, TrialRow, decide, features, pooled_from_trials, try_next,
};
use rand::rngs::Xoshiro256PlusPlus;
use rand::{RngExt, SeedableRng};
use rand_distr::StandardNormal;

const MM: fn(f64) -> Length = Length::from_mm;
/// Name, diameter in mm, kerf in mm, teeth.
const BLADES: [(&str, f64, f64, u32); 4] = [
    ("B1", 31.75, 0.2, 160),
    ("B2", 31.75, 0.4, 90),
    ("B3", 38.1, 0.25, 190),
    ("B4", 38.1, 0.5, 110),
];
/// Name, yield stress in MPa.
const METALS: [(&str, f64); 5] =
    [("copper", 145.0), ("silver", 215.0), ("brass", 225.0), ("bronze", 274.0), ("steel", 438.0)];

fn main() {
    divan::main();
}

/// Ten gauges by eighteen mandrels by four blades.
fn chart() -> Vec<Cell> {
    let even = |low: f64, high: f64, i: u32, of: u32| {
        low * (high / low).powf(f64::from(i) / f64::from(of - 1))
    };
    let mut cells = Vec::new();
    for gauge in 0..10 {
        for rod in 0..18 {
            for blade in BLADES {
                let size = (even(0.405, 2.05, gauge, 10), even(2.0, 14.0, rod, 18));
                cells.push(cell(size, blade, METALS[0], true, "Ann"));
            }
        }
    }
    cells
}

fn cell(
    (wire_mm, mandrel_mm): (f64, f64),
    (name, diameter_mm, kerf_mm, teeth): (&str, f64, f64, u32),
    (metal, yield_mpa): (&str, f64),
    taped: bool,
    operator: &str,
) -> Cell {
    let kerf = Kerf::new(MM(kerf_mm)).expect("within limits");
    let parts =
        BladeParts { diameter: MM(diameter_mm), kerf, teeth: Some(teeth), hub_diameter: None };
    let blade = Blade::new(parts).expect("within limits");
    Cell::new(CellParts {
        wire: Wire::new(MM(wire_mm)).expect("within limits"),
        mandrel: Mandrel::new(MM(mandrel_mm)).expect("within limits"),
        blade: TrialBlade { name: Arc::from(name), blade },
        axis: AxisHeight::new(MM(14.35)).expect("within limits"),
        metal: metal.into(),
        yield_strength: Stress::from_mpa(yield_mpa),
        taped,
        lubricated: false,
        operator: Some(operator.into()),
        rings_cut_since_new: None,
    })
    .expect("within the chart")
}

/// Log odds of an invented workshop: steep in the margins, mild in the rest.
fn truth(f: &Features) -> [f64; 3] {
    let rise = |steps: [f64; 5]| steps.iter().sum::<f64>();
    [
        2.5 + 0.9 * rise(f.crush) + 0.5 * f.tape,
        -2.5 + 1.3 * rise(f.sever) + 0.3 * f.teeth,
        -2.5 + 1.3 * rise(f.far) + 0.5 * rise(f.crush),
    ]
}

/// Coils of thirty turns spread over the chart.
fn trials(count: usize, seed: u64) -> Vec<TrialRow> {
    let mut chance = Xoshiro256PlusPlus::seed_from_u64(seed);
    let cells = chart();
    let mut rows = Vec::with_capacity(count);
    while rows.len() < count {
        let place = chance.random_range(0..cells.len());
        let parts = cells[place].parts();
        let size = (parts.wire.diameter().mm(), parts.mandrel.diameter().mm());
        let metal = METALS[chance.random_range(0..METALS.len())];
        let operator = ["Ann", "Bo", "Cy"][chance.random_range(0..3)];
        let tried = cell(size, BLADES[place % 4], metal, chance.random(), operator);
        let odds = truth(&features(&tried));
        let mut left = 28;
        let mut lost = [0; 3];
        for (odds, lost) in odds.into_iter().zip(&mut lost) {
            let own: f64 = chance.sample(StandardNormal);
            let share = 1.0 / (1.0 + (-odds - 0.5 * own).exp());
            let failed = (0..left).filter(|_| chance.random::<f64>() > share).count();
            *lost = u32::try_from(failed).expect("at most 28");
            left -= *lost;
        }
        let [crushed, uncut, deformed] = lost;
        let counts = Counts { entry_lost: 1, stop_lost: 1, crushed, uncut, deformed, good: left };
        rows.push(TrialRow::new(tried, 30, counts).expect("adds up"));
    }
    rows
}

#[divan::bench(args = [200, 2_000], sample_count = 10, sample_size = 1)]
fn afresh(bencher: Bencher<'_, '_>, count: usize) {
    let rows = trials(count, 20);
    bencher.bench_local(|| Learned::fit(black_box(&rows), &Prior::geometry()));
}

#[divan::bench(args = [200, 2_000], sample_count = 20, sample_size = 1)]
fn after_one_more(bencher: Bencher<'_, '_>, count: usize) {
    let rows = trials(count, 20);
    let before = Learned::fit(&rows[..count - 1], &Prior::geometry());
    bencher.bench_local(|| before.refit_with(black_box(&rows)));
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn plays_of_720_cells(bencher: Bencher<'_, '_>) {
    let learned = Learned::fit(&trials(2_000, 20), &Prior::geometry());
    let cells = chart();
    bencher.bench_local(|| learned.plays(black_box(&cells), 1));
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn beliefs_of_720_cells(bencher: Bencher<'_, '_>) {
    let learned = Learned::fit(&trials(2_000, 20), &Prior::geometry());
    let cells = chart();
    bencher.bench_local(|| learned.beliefs(black_box(&cells), 1));
}

#[divan::bench(args = [1, 10], sample_count = 20, sample_size = 1)]
fn try_next_of_720_cells(bencher: Bencher<'_, '_>, tests: usize) {
    let learned = Learned::fit(&trials(2_000, 20), &Prior::geometry());
    let cost = CoilCost { per_coil: 1.5, per_turn: 0.1, scrap_per_turn: 0.06 };
    let money = CoilMoney { ring_value: 0.3, cost, turns: 30 };
    let outcomes = learned.outcomes(&chart(), 1);
    let place =
        |blades: &[Outcome]| Place { blades: blades.to_vec(), money, planned_turns: 1_000.0 };
    let places: Vec<Place> = outcomes.chunks(BLADES.len()).map(place).collect();
    bencher.bench_local(|| try_next(black_box(&places), 20, tests, 1));
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn decisions_of_180_places(bencher: Bencher<'_, '_>) {
    let learned = Learned::fit(&trials(2_000, 20), &Prior::geometry());
    let cost = CoilCost { per_coil: 1.5, per_turn: 0.1, scrap_per_turn: 0.06 };
    let money = CoilMoney { ring_value: 0.3, cost, turns: 30 };
    let cells = chart();
    bencher.bench_local(|| {
        let outcomes = learned.outcomes(black_box(&cells), 1);
        let places = outcomes.chunks(BLADES.len());
        places.map(|blades| decide(blades, money, None)).collect::<Vec<_>>()
    });
}

/// Workshops of a thousand trials each, made anew whenever they are asked for: making them is part
/// of the time. A thousand workshops are a million trials; the next bench says what making takes.
#[divan::bench(args = [8, 64, 1_000], sample_count = 1, sample_size = 1)]
fn pooled_workshops_of_1000(bencher: Bencher<'_, '_>, workshops: usize) {
    let seed = |shop| u64::try_from(shop).unwrap_or(0);
    bencher.bench_local(|| pooled_from_trials(workshops, |shop| trials(1_000, seed(shop))));
}

/// What making them takes alone, once: pooling asks five times.
#[divan::bench(args = [8, 64], sample_count = 1, sample_size = 1)]
fn workshops_of_1000_made_once(bencher: Bencher<'_, '_>, workshops: u64) {
    bencher.bench_local(|| {
        for shop in 0..workshops {
            black_box(trials(1_000, shop));
        }
    });
}
