//! How long an answer about coils takes, with as many plays as a chart has.

use divan::{Bencher, black_box};
use linkwright_trials::{CellPlay, CoilCost, EndLoss, PLAYS, Yield};

fn main() {
    divan::main();
}

fn of() -> Yield {
    let plays: Vec<CellPlay> = (0..u32::try_from(PLAYS).unwrap_or(0))
        .map(|i| {
            let off = f64::from(i % 20) / 10.0 - 1.0;
            CellPlay {
                log_odds: [4.0 + off, 3.0 + off, 4.0],
                coil_scatter: [0.5; 3],
                entry: EndLoss { mean: 1.0, size: 4.0 },
                stop: EndLoss { mean: 2.0, size: 4.0 },
            }
        })
        .collect();
    Yield::of(&plays)
}

#[divan::bench(args = [100, 1000])]
fn coils_for(bencher: Bencher<'_, '_>, rings: u32) {
    let of = of();
    bencher.bench(|| black_box(&of).coils_for(rings, 60, 0.95));
}

#[divan::bench]
fn promise_of_twenty_coils(bencher: Bencher<'_, '_>) {
    let of = of();
    bencher.bench(|| black_box(&of).promise(20, 60, 0.95));
}

#[divan::bench]
fn cheapest(bencher: Bencher<'_, '_>) {
    let of = of();
    let cost = CoilCost { per_coil: 2.0, per_turn: 0.1, scrap_per_turn: 0.06 };
    bencher.bench(|| black_box(&of).cheapest(300, 60, 0.95, cost));
}
