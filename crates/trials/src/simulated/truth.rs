//! What is true of an invented workshop: links, curves and scatter that the model does not have.

use std::f64::consts::{PI, SQRT_2};

use super::Workshop;
use super::chance::{around, bell, chance};
use super::wander::Wander;
use crate::gate::{NODES_9, share_passing};
use crate::geometry::{Features, features};
use crate::play::{GATES, Gate};
use crate::trial::Cell;

/// Share of coils that are written off; the model takes one in a hundred.
pub(super) const WRITTEN_OFF: f64 = 0.015;
/// Rings after which a blade is thrown away, fewest and most.
pub(super) const BLADE_LIFE_RINGS: [f64; 2] = [2000.0, 5000.0];
/// Rings that dull a blade by one measure of dullness.
const DULL_AFTER_RINGS: f64 = 3000.0;
/// Ages that stand for the life of a blade whose rings nobody counts, as shares of the mean life.
const AGES: [f64; 5] = [0.1, 0.3, 0.5, 0.7, 0.9];
/// Chances nearer to none or all than this are not told apart.
const HARDLY: f64 = 1e-6;

/// What is true of a workshop. Heights are in standard deviations of the bell curve (probits): 1 is
/// 84 %, 2 is 97.7 %, 2.3 is 98.9 % of the rings of an ordinary coil.
#[derive(Clone, Debug)]
pub(super) struct Truth {
    seed: u64,
    /// How much higher the axis really is than it was measured, in mm.
    axis_error_mm: f64,
    /// Height no cell gets above, one per gate.
    ceiling: [f64; 3],
    /// Height of the clamp's curve at no load, and its fall per unit of the load.
    clamp: [f64; 2],
    /// Powers of mean diameter, wire and yield stress in the load.
    load_powers: [f64; 3],
    /// Sever margin a cut needs, and how many mm one unit of height takes.
    sever_mm: [f64; 2],
    /// The same of the far margin.
    far_mm: [f64; 2],
    /// What few teeth, a hard clamp, a wide kerf cost.
    snag: f64,
    squeeze: f64,
    kerf: f64,
    /// What tape and lubricant bring, one per gate.
    tape: [f64; 3],
    lubricant: [f64; 3],
    /// What dullness costs, one per gate.
    dull: [f64; 3],
    /// Spread of the straying from geometry, one per gate.
    stray: [f64; 3],
    /// Spread of single coils about their session, in log odds, one per gate.
    pub coil_scatter: [f64; 3],
    /// Spread of sessions, in log odds, the same session for all three gates.
    pub session_scatter: f64,
    /// Turns lost at the entry and at the stop of a 1 mm coil under one turn of rim.
    ends: [f64; 2],
}

impl Truth {
    pub(super) fn new(seed: u64) -> Truth {
        let mut source = chance(seed, &["truth"]);
        let s = &mut source;
        Truth {
            seed,
            axis_error_mm: bell(s, 0.0, 0.04),
            ceiling: [bell(s, 2.3, 0.25), bell(s, 2.5, 0.25), bell(s, 2.2, 0.25)],
            clamp: [bell(s, 1.6, 0.3), around(s, 0.9, 0.2)],
            load_powers: [bell(s, 1.0, 0.15), bell(s, 2.0, 0.25), bell(s, 0.8, 0.2)],
            sever_mm: [bell(s, 0.03, 0.05), around(s, 0.16, 0.2)],
            far_mm: [bell(s, 0.05, 0.08), around(s, 0.25, 0.2)],
            snag: around(s, 0.3, 0.3),
            squeeze: around(s, 0.35, 0.3),
            kerf: around(s, 0.25, 0.3),
            tape: [bell(s, 0.3, 0.12), bell(s, 0.0, 0.1), bell(s, 0.2, 0.1)],
            lubricant: [bell(s, 0.1, 0.08), bell(s, 0.15, 0.08), bell(s, 0.0, 0.1)],
            dull: [around(s, 0.1, 0.4), around(s, 0.35, 0.4), around(s, 0.2, 0.4)],
            stray: [around(s, 0.25, 0.3), around(s, 0.25, 0.3), around(s, 0.25, 0.3)],
            coil_scatter: [around(s, 0.5, 0.25), around(s, 0.5, 0.25), around(s, 0.5, 0.25)],
            session_scatter: around(s, 0.25, 0.3),
            ends: [around(s, 0.9, 0.35), around(s, 0.6, 0.35)],
        }
    }

    /// Log odds of an ordinary coil in an ordinary session under a blade of that age, one per gate.
    pub(super) fn log_odds(&self, cell: &Cell, rings: f64) -> [f64; 3] {
        let features = features(cell);
        let dullness = (rings / DULL_AFTER_RINGS).powf(1.5);
        GATES.map(|gate| {
            let i = gate.index();
            let height = under(self.ceiling[i], self.geometry(gate, cell, &features))
                + self.circumstances(gate, cell)
                - self.dull[i] * dullness;
            let share = share_below(height).clamp(HARDLY, 1.0 - HARDLY);
            (share / (1.0 - share)).ln()
        })
    }

    /// What margins and clamp give, before the ceiling.
    fn geometry(&self, gate: Gate, cell: &Cell, features: &Features) -> f64 {
        let parts = cell.parts();
        let wire_mm = parts.wire.diameter().mm();
        match gate {
            Gate::Kept => {
                let blade = parts.blade.blade;
                let pitch_mm = blade
                    .teeth()
                    .map_or(wire_mm, |teeth| PI * blade.diameter().mm() / f64::from(teeth));
                self.clamp[0]
                    - self.clamp[1] * self.load(cell)
                    - self.snag * soft((pitch_mm / wire_mm).ln())
            }
            Gate::Severed => {
                let margin_mm = features.sever_margin_mm - self.axis_error_mm;
                (margin_mm - self.sever_mm[0]) / self.sever_mm[1]
            }
            Gate::Round => {
                let margin_mm = features.far_margin_mm + self.axis_error_mm;
                (margin_mm - self.far_mm[0]) / self.far_mm[1]
            }
        }
    }

    /// How hard the clamp presses this ring: nothing for a 1 mm wire of 145 MPa, 6 mm across.
    fn load(&self, cell: &Cell) -> f64 {
        let parts = cell.parts();
        let (wire_mm, mandrel_mm) = (parts.wire.diameter().mm(), parts.mandrel.diameter().mm());
        let [by_mean, by_wire, by_yield] = self.load_powers;
        by_mean * ((mandrel_mm + wire_mm) / 6.0).ln()
            - by_wire * wire_mm.ln()
            - by_yield * (parts.yield_strength.mpa() / 145.0).ln()
    }

    /// What metal, person, tape, lubricant, blade and this very cell add.
    fn circumstances(&self, gate: Gate, cell: &Cell) -> f64 {
        let parts = cell.parts();
        let (wire_mm, mandrel_mm) = (parts.wire.diameter().mm(), parts.mandrel.diameter().mm());
        let (i, name) = (gate.index(), ["kept", "severed", "round"][gate.index()]);
        let blade = &*parts.blade.name;
        let own = |sd: f64, words: &[&str]| bell(&mut chance(self.seed, words), 0.0, sd);
        let key = cell.key();
        let size = format!("{} {}", key.wire_um, key.mandrel_um);
        let mut height = own(0.15, &["metal", name, &parts.metal]);
        if let Some(operator) = &parts.operator {
            height += own(0.15, &["operator", name, operator]);
        }
        height += own(0.2, &["blade", name, blade]);
        height += own(0.12, &["quirk", name, blade, &size]);
        for words in [&["stray", name] as &[&str], &["stray", name, blade]] {
            let field = Wander::new(self.seed, words);
            height += self.stray[i] / SQRT_2 * field.at(wire_mm, mandrel_mm);
        }
        if parts.taped {
            height += self.tape[i];
        }
        if parts.lubricated {
            height += self.lubricant[i];
        }
        if gate == Gate::Round {
            let kerf_of_wire = parts.blade.blade.kerf().width().mm() / wire_mm;
            height -= self.squeeze * soft(self.load(cell) - 0.5)
                + self.kerf * (kerf_of_wire / 0.3).ln().max(0.0);
        }
        height
    }

    /// Mean turns lost at the entry and at the stop.
    pub(super) fn ends(&self, cell: &Cell) -> [f64; 2] {
        let wire_mm = cell.parts().wire.diameter().mm();
        let tape = if cell.parts().taped { 0.8 } else { 1.0 };
        let [entry, stop] = self.ends;
        [entry * wire_mm.powf(-0.2) * tape, stop * features(cell).turns_at_stop.powf(0.9)]
    }
}

impl Workshop {
    /// Long-run share of good rings among those that are not end losses: over coils, sessions and
    /// write-offs; over the life of a blade where the cell does not say its age.
    pub fn true_good_share(&self, cell: &Cell) -> f64 {
        let truth = &self.truth;
        let at = |rings: f64| {
            let log_odds = truth.log_odds(cell, rings);
            let sum: f64 = NODES_9
                .into_iter()
                .map(|(x, weight)| {
                    let session = SQRT_2 * truth.session_scatter * x;
                    let [kept, severed, round] = [0, 1, 2]
                        .map(|i| share_passing(log_odds[i] + session, truth.coil_scatter[i]));
                    let kept = (1.0 - WRITTEN_OFF) * kept + WRITTEN_OFF / 2.0;
                    weight * kept * severed * round
                })
                .sum();
            sum / PI.sqrt()
        };
        let life = f64::midpoint(BLADE_LIFE_RINGS[0], BLADE_LIFE_RINGS[1]);
        match cell.parts().rings_cut_since_new {
            Some(rings) => at(rings),
            None => AGES.iter().map(|age| at(age * life)).sum::<f64>() / 5.0,
        }
    }
}

impl Workshop {
    /// Mean turns of a coil lost at its two ends together.
    pub fn true_lost_turns(&self, cell: &Cell) -> f64 {
        self.truth.ends(cell).iter().sum()
    }
}

/// A height that bends over below the ceiling instead of going through it.
fn under(ceiling: f64, height: f64) -> f64 {
    ceiling - soft(3.0 * (ceiling - height)) / 3.0
}

/// `ln(1 + exp(v))`: nothing far below nothing, `v` far above it.
fn soft(v: f64) -> f64 {
    v.max(0.0) + (-v.abs()).exp().ln_1p()
}

/// Share of the bell curve below a height, by its series; good to 1e-9 where it is not hardly 0 or 1.
fn share_below(height: f64) -> f64 {
    if height.abs() > 6.0 {
        return if height > 0.0 { 1.0 } else { 0.0 };
    }
    let square = height * height;
    let (mut term, mut sum, mut odd) = (height, height, 1.0);
    while term.abs() > 1e-17 {
        odd += 2.0;
        term *= square / odd;
        sum += term;
    }
    0.5 + sum * (-0.5 * square).exp() / (2.0 * PI).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_of_the_bell_curve_are_the_printed_ones() {
        // Standard normal table, common to every textbook; six digits, from memory.
        for (height, share) in [(0.0, 0.5), (1.0, 0.841_345), (2.0, 0.977_250), (-1.645, 0.049_985)]
        {
            assert!((share_below(height) - share).abs() < 1e-6, "{height}");
        }
        assert!(share_below(-7.0).abs() < 1e-9 && (share_below(5.9) - 1.0).abs() < 1e-8);
    }

    #[test]
    fn the_ceiling_is_not_reached_and_low_heights_are_left_alone() {
        assert!(under(2.3, 9.0) < 2.3 && under(2.3, 9.0) > 2.29);
        assert!((under(2.3, -1.0) + 1.0).abs() < 1e-4);
    }

    /// Mean true share over workshops of the cell of that wire and mandrel under a blade.
    fn usual(wire_mm: f64, mandrel_mm: f64, blade: usize) -> f64 {
        let shares: Vec<f64> = (0..40)
            .map(|seed| {
                let workshop = Workshop::new(seed).unwrap();
                let near = |cell: &Cell| {
                    let parts = cell.parts();
                    (parts.wire.diameter().mm() - wire_mm).abs() < 0.01
                        && (parts.mandrel.diameter().mm() - mandrel_mm).abs() < 0.01
                        && parts.blade == workshop.bench().blades[blade]
                };
                let cell = workshop.chart().unwrap().into_iter().find(near).unwrap();
                workshop.true_good_share(&cell)
            })
            .collect();
        shares.iter().sum::<f64>() / 40.0
    }

    #[test]
    fn a_jeweller_would_believe_the_workshops() {
        // Ample margins, stout ring: good. The words in the brief of a bench, not of any record.
        let stout = usual(1.0237, 5.0, 0);
        assert!((0.85..0.99).contains(&stout), "{stout}");
        // A small blade does not part 2 mm wire; a large one goes through the far wall of a small coil.
        assert!(usual(2.0525, 9.0, 0) < 0.1);
        assert!(usual(1.0237, 2.5, 2) < 0.1);
        // The large blade parts 2 mm wire on a mandrel that keeps the far wall away.
        assert!(usual(2.0525, 9.0, 2) > 0.85);
        // A large thin coil is crushed.
        let flimsy = usual(0.4049, 14.0, 0);
        assert!(flimsy < 0.4, "{flimsy}");
    }
}
