//! What becomes of the rings of an invented coil: geometry decides, chance scatters.

use linkwright_answers::chart::yield_strength;
use linkwright_calc::metal::Catalogue;
use linkwright_calc::quantity::Length;
use linkwright_calc::slit::{AxisHeight, Projection};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;
use linkwright_store::records::{Blade, Outcome};
use linkwright_trials::{Cell, CellParts, Counts, Workshop};
use rand::rngs::ChaCha8Rng;

use crate::learning::trial_blade;

/// The invented truth behind the sample's coils.
const TRUTH: u64 = 5;

/// What is cut.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cut<'a> {
    /// Key of the metal, and the temper it is cut in.
    pub(super) metal: (&'a str, &'a str),
    pub(super) wire_mm: f64,
    pub(super) rod_mm: f64,
    pub(super) projection_mm: f64,
    pub(super) taped: bool,
    pub(super) lubricated: bool,
}

/// The bench of the sample, whose truth nobody there knows.
#[derive(Clone, Debug)]
pub(super) struct Cutting {
    truth: Option<Workshop>,
    metals: Catalogue,
}

impl Cutting {
    pub(super) fn new() -> Cutting {
        Cutting { truth: Workshop::new(TRUTH).ok(), metals: Catalogue::built_in() }
    }

    /// Cuts a coil of so many turns; outside the model's limits only the ends are lost.
    pub(super) fn coil(
        &self,
        cut: Cut<'_>,
        blade: &Blade,
        turns: u32,
        chance: &mut ChaCha8Rng,
    ) -> Counts {
        let cell = self.cell(cut, blade);
        match self.truth.as_ref().zip(cell) {
            Some((truth, cell)) => truth.coil(&cell, turns, chance),
            None => {
                let ends = turns.min(2);
                Counts {
                    entry_lost: ends,
                    stop_lost: 0,
                    crushed: 0,
                    uncut: 0,
                    deformed: 0,
                    good: turns - ends,
                }
            }
        }
    }

    fn cell(&self, cut: Cut<'_>, blade: &Blade) -> Option<Cell> {
        let blade = trial_blade(blade)?;
        let wire = Wire::new(Length::from_mm(cut.wire_mm)).ok()?;
        let projection = Projection::new(Length::from_mm(cut.projection_mm)).ok()?;
        let (metal, temper) = cut.metal;
        let parts = CellParts {
            wire,
            mandrel: Mandrel::new(Length::from_mm(cut.rod_mm)).ok()?,
            axis: AxisHeight::from_measured(blade.blade, projection).ok()?,
            blade,
            metal: metal.into(),
            yield_strength: yield_strength(&self.metals, metal, temper, wire).ok()?,
            taped: cut.taped,
            lubricated: cut.lubricated,
            operator: None,
            rings_cut_since_new: Some(0.0),
        };
        Cell::new(parts).ok()
    }
}

/// How a coil is written down, by its share of good rings.
pub(super) fn outcome(counts: Counts) -> Outcome {
    let spoilt = counts.uncut + counts.deformed + counts.crushed;
    match (counts.good, spoilt) {
        (good, spoilt) if spoilt * 9 <= good => Outcome::Good,
        (good, spoilt) if spoilt <= good => Outcome::Poor,
        _ => Outcome::Failed,
    }
}
