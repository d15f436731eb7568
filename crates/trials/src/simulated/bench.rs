//! What stands on the bench of an invented workshop, as it would be written down there.

use std::sync::Arc;

use linkwright_calc::quantity::{Length, Stress};
use linkwright_calc::slit::{AxisHeight, Blade, BladeParts, Kerf};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;
use rand::RngExt;

use super::chance::{chance, pick};
use super::{SimulatedError, Workshop};
use crate::geometry::NominalYield;
use crate::trial::{Cell, CellParts, TrialBlade};

/// Wires of the chart in mm: the American gauges 26, 24, 22 to 18, 16, 14, 12.
const WIRES_MM: [f64; 10] =
    [0.4049, 0.5106, 0.6438, 0.7229, 0.8118, 0.9116, 1.0237, 1.2908, 1.6277, 2.0525];
/// Mandrels of the chart in mm.
const MANDRELS_MM: [f64; 18] =
    [2.0, 2.5, 3.0, 3.5, 4.0, 4.5, 5.0, 5.5, 6.0, 6.5, 7.0, 8.0, 9.0, 10.0, 11.0, 12.0, 13.0, 14.0];
/// Name, diameter in mm, least and greatest kerf in mm, fewest and most teeth.
const BLADES: [(&str, f64, [f64; 2], [u32; 2]); 4] = [
    ("small fine", 31.75, [0.15, 0.25], [120, 180]),
    ("small coarse", 31.75, [0.3, 0.45], [70, 110]),
    ("large fine", 38.1, [0.2, 0.3], [150, 210]),
    ("large coarse", 38.1, [0.4, 0.55], [90, 130]),
];
/// Lowest and highest axis of a holder over the coil's top, in mm: the small blades reach 1.4 to
/// 1.8 mm deep and part every wire but the thickest, the large ones reach 4.6 to 5 mm.
const AXIS_MM: [f64; 2] = [14.05, 14.5];
/// Metal, and how much of it a usual workshop uses.
const METALS: [(&str, f64); 5] =
    [("sterling", 4.0), ("copper", 2.0), ("bronze", 1.0), ("brass", 1.0), ("steel304", 1.0)];
/// Soft, half hard, hard: what of it is bought.
const TEMPERS: [f64; 3] = [0.3, 0.6, 0.1];
/// Who cuts, and how much of it.
pub(super) const OPERATORS: [(&str, f64); 3] = [("Ann", 6.0), ("Bo", 3.0), ("Cy", 1.0)];
/// Rings on a blade in the middle of its life, for a workshop that counts them.
const MID_LIFE_RINGS: f64 = 1500.0;

/// What stands on the bench of an invented workshop, as it is written down there.
#[derive(Clone, Debug, PartialEq)]
pub struct Bench {
    /// Four blades, two small and two large.
    pub blades: Vec<TrialBlade>,
    /// Height of the axis as measured; the measurement is a little wrong.
    pub axis: AxisHeight,
    /// The metal it uses most, and the nominal yield stress of its usual temper.
    pub metal: (&'static str, Stress),
    /// Whether it counts the rings a blade has cut since it was new.
    pub counts_rings: bool,
}

/// What of a cell is not its size: metal, tape, lubricant, person, age of the blade.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Circumstances {
    pub metal: &'static str,
    pub yield_strength: Stress,
    pub taped: bool,
    pub lubricated: bool,
    pub operator: &'static str,
    pub rings_cut_since_new: Option<f64>,
}

/// One of the metals in one of its tempers, as often as they are used.
pub(super) fn some_metal(source: &mut impl rand::Rng) -> Option<(&'static str, Stress)> {
    let metal = METALS[pick(source, &METALS.map(|(_, share)| share))].0;
    let nominal = NominalYield::of(metal)?;
    Some((metal, [nominal.annealed(), nominal.half_hard(), nominal.hard()][pick(source, &TEMPERS)]))
}

impl Bench {
    pub(super) fn new(seed: u64) -> Result<Bench, SimulatedError> {
        let mut source = chance(seed, &["bench"]);
        let mut between = |[low, high]: [f64; 2]| low + (high - low) * source.random::<f64>();
        let hundredth = |mm: f64| Length::from_mm((mm * 100.0).round() / 100.0);
        let axis = AxisHeight::new(hundredth(between(AXIS_MM)))?;
        let mut blades = Vec::with_capacity(BLADES.len());
        for (name, diameter_mm, kerf_mm, teeth) in BLADES {
            let parts = BladeParts {
                diameter: Length::from_mm(diameter_mm),
                kerf: Kerf::new(hundredth(between(kerf_mm)))?,
                teeth: Some(source_of_teeth(seed, name).random_range(teeth[0]..=teeth[1])),
                hub_diameter: None,
            };
            blades.push(TrialBlade { name: name.into(), blade: Blade::new(parts)? });
        }
        let counts_rings = source.random();
        let copper = ("copper", Stress::from_mpa(145.0));
        let metal = some_metal(&mut source).unwrap_or(copper);
        Ok(Bench { blades, axis, metal, counts_rings })
    }
}

fn source_of_teeth(seed: u64, blade: &str) -> impl rand::Rng {
    chance(seed, &["teeth", blade])
}

impl Workshop {
    /// Every cell of its chart, ten wires by eighteen mandrels by four blades, in its usual metal,
    /// taped and dry, cut by Ann; by a blade in the middle of its life where the rings are counted.
    ///
    /// # Errors
    /// [`SimulatedError`] if a size leaves the limits of the model.
    pub fn chart(&self) -> Result<Vec<Cell>, SimulatedError> {
        let (metal, yield_strength) = self.bench.metal;
        let usual = Circumstances {
            metal,
            yield_strength,
            taped: true,
            lubricated: false,
            operator: OPERATORS[0].0,
            rings_cut_since_new: self.bench.counts_rings.then_some(MID_LIFE_RINGS),
        };
        let mut cells = Vec::new();
        for size in sizes() {
            for blade in 0..self.bench.blades.len() {
                cells.push(self.cell(size, blade, &usual)?);
            }
        }
        Ok(cells)
    }

    pub(super) fn cell(
        &self,
        (wire_mm, mandrel_mm): (f64, f64),
        blade: usize,
        circumstances: &Circumstances,
    ) -> Result<Cell, SimulatedError> {
        Ok(Cell::new(CellParts {
            wire: Wire::new(Length::from_mm(wire_mm))?,
            mandrel: Mandrel::new(Length::from_mm(mandrel_mm))?,
            blade: self.bench.blades[blade].clone(),
            axis: self.bench.axis,
            metal: circumstances.metal.into(),
            yield_strength: circumstances.yield_strength,
            taped: circumstances.taped,
            lubricated: circumstances.lubricated,
            operator: Some(Arc::from(circumstances.operator)),
            rings_cut_since_new: circumstances.rings_cut_since_new,
        })?)
    }
}

/// Wire and mandrel of every size of the chart, in mm.
pub(super) fn sizes() -> impl Iterator<Item = (f64, f64)> {
    WIRES_MM
        .into_iter()
        .flat_map(|wire_mm| MANDRELS_MM.into_iter().map(move |mandrel_mm| (wire_mm, mandrel_mm)))
}
