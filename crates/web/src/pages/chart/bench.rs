//! What the chart is drawn for: the sizes, blades and holder of this workshop, one metal and temper.

use std::sync::Arc;

use linkwright_answers::chart::{metal_key, yield_strength};
use linkwright_calc::metal::Catalogue;
use linkwright_calc::quantity::{Length, parse_length};
use linkwright_calc::slit::AxisHeight;
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;
use linkwright_store::records::{Blade, Holder};
use linkwright_store::{StoreError, View};
use linkwright_trials::{Cell, CellParts, CoilMoney};

use super::asked::Asked;
use crate::learning::{BladeKind, Pricing, Taught, kinds_in_use};
use crate::pages::workshop::holders::axis_by;
use crate::planning::catalogue_or_built_in;

/// Two sizes count as one line of the chart if they are this close.
const SAME_MM: f64 = 0.004;

/// Thinnest and thickest wire of the chart, mm: what the model may speak about.
pub(super) const WIRES_MM: [f64; 2] = [0.4, 2.1];

/// The same for rods.
pub(super) const RODS_MM: [f64; 2] = [2.0, 14.0];

/// What the chart is drawn for.
pub(super) struct ChartBench {
    pub(super) metals: Catalogue,
    /// Key of the metal.
    pub(super) metal: String,
    pub(super) temper: String,
    /// Metals and tempers to choose from, the most tried first.
    pub(super) known: Vec<(String, String)>,
    pub(super) wires_mm: Vec<f64>,
    pub(super) rods_mm: Vec<f64>,
    pub(super) kinds: Vec<BladeKind>,
    /// How high the blade's axis stands; `None` until a projection was measured.
    pub(super) axis: Option<AxisHeight>,
    /// What coils cost and rings bring.
    pub(super) pricing: Pricing,
    /// The longest coil the holder takes.
    holder: Length,
    /// Pitch over wire diameter.
    packing: f64,
}

/// The coil that is reckoned with where no holder is on record.
const USUAL_HOLDER_MM: f64 = 75.0;

impl ChartBench {
    /// Worked out once for each metal and temper while records and lessons stay the same.
    pub(super) fn of(
        view: &View<'_>,
        taught: &Taught,
        asked: &Asked,
    ) -> Result<Arc<ChartBench>, StoreError> {
        let Asked { metal, temper, .. } = asked;
        let name = format!("bench of the chart by lessons {}, {metal}, {temper}", taught.number);
        view.worked_out(&name, || ChartBench::afresh(view, taught, asked))
    }

    fn afresh(view: &View<'_>, taught: &Taught, asked: &Asked) -> Result<ChartBench, StoreError> {
        let bench = view.worked_out("the bench", || view.bench(None))?;
        let metals = catalogue_or_built_in(&bench.metals);
        let known = known(taught, &bench, &metals);
        let (metal, temper) = known
            .iter()
            .find(|(metal, temper)| {
                (asked.metal.is_empty() || *metal == asked.metal)
                    && (asked.temper.is_empty() || *temper == asked.temper)
            })
            .cloned()
            .unwrap_or_else(|| ("sterling_925".to_owned(), "annealed".to_owned()));
        let blades: Vec<Blade> = bench.blades.iter().map(|blade| blade.record.clone()).collect();
        let tried = || taught.lessons.coils.iter().map(|coil| coil.cell().parts());
        let wires = bench.wire.iter().map(|shelf| shelf.lot.record.wire_mm());
        let wires = wires.chain(tried().map(|parts| parts.wire.diameter().mm()));
        let rods = bench.rods.iter().map(|rod| rod.record.diameter_mm());
        let rods = rods.chain(tried().map(|parts| parts.mandrel.diameter().mm()));
        let holder = bench.holder.as_ref().and_then(|holder| {
            parse_length(&holder.length_typed).ok().map(|length| length.value())
        });
        Ok(ChartBench {
            pricing: Pricing::of(&bench, &metals),
            holder: holder.unwrap_or(Length::from_mm(USUAL_HOLDER_MM)),
            packing: bench.workshop.as_ref().map_or(1.0, |habits| habits.packing.max(1.0)),
            metals,
            metal,
            temper,
            known,
            wires_mm: sizes(wires, WIRES_MM),
            rods_mm: sizes(rods, RODS_MM),
            kinds: kinds_in_use(&blades),
            axis: axis(view, bench.holder.as_ref())?,
        })
    }

    /// The cell of one wire, rod and blade; `None` where the metal's strength is not known or no
    /// projection was measured.
    pub(super) fn cell(&self, wire_mm: f64, rod_mm: f64, kind: &BladeKind) -> Option<Cell> {
        let wire = Wire::new(Length::from_mm(wire_mm)).ok()?;
        let parts = CellParts {
            wire,
            mandrel: Mandrel::new(Length::from_mm(rod_mm)).ok()?,
            blade: kind.blade.clone(),
            axis: self.axis?,
            metal: Arc::from(self.metal.as_str()),
            yield_strength: yield_strength(&self.metals, &self.metal, &self.temper, wire).ok()?,
            taped: true,
            lubricated: true,
            operator: None,
            rings_cut_since_new: None,
        };
        Cell::new(parts).ok()
    }
}

impl ChartBench {
    /// What a coil of this cell costs and brings, as long as the holder takes it.
    pub(super) fn coil_money(&self, cell: &Cell) -> Option<CoilMoney> {
        let (wire, rod) = (cell.parts().wire, cell.parts().mandrel);
        let density = self.metals.find(&self.metal).ok()?.density().value;
        let turns = self.holder.mm() / (wire.diameter().mm() * self.packing);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 1000")]
        let turns = turns.clamp(1.0, 1000.0) as u32;
        Some(self.pricing.coil(&self.metal, density, (wire, rod), turns))
    }
}

/// Height of the axis by the projection that was measured once with the holder.
fn axis(view: &View<'_>, holder: Option<&Holder>) -> Result<Option<AxisHeight>, StoreError> {
    let Some((id, typed)) =
        holder.and_then(|holder| holder.projection_blade_id.zip(holder.projection_typed.as_ref()))
    else {
        return Ok(None);
    };
    Ok(axis_by(&view.get(id)?, typed))
}

/// Metals and tempers that were tried or are on the shelf, the most tried first.
fn known(
    taught: &Taught,
    bench: &linkwright_store::Bench,
    metals: &Catalogue,
) -> Vec<(String, String)> {
    let mut counted: Vec<((String, String), usize)> = Vec::new();
    let mut add = |metal: &str, temper: &str, trials: usize| {
        let pair = (metal.to_owned(), temper.to_owned());
        match counted.iter_mut().find(|(known, _)| *known == pair) {
            Some((_, count)) => *count += trials,
            None => counted.push((pair, trials)),
        }
    };
    for (coil, temper) in taught.lessons.coils.iter().zip(&taught.lessons.tempers) {
        add(&coil.cell().parts().metal, temper, 1);
    }
    for shelf in &bench.wire {
        let lot = &shelf.lot.record;
        let metal = metal_key(metals, &lot.metal).unwrap_or_else(|| lot.metal.clone());
        add(&metal, if lot.annealed { "annealed" } else { &lot.temper }, 0);
    }
    counted.sort_by_key(|(_, trials)| std::cmp::Reverse(*trials));
    counted.into_iter().map(|(pair, _)| pair).collect()
}

/// The sizes within the chart, each once, thinnest first.
fn sizes(all: impl Iterator<Item = f64>, [low, high]: [f64; 2]) -> Vec<f64> {
    let mut sizes: Vec<f64> = all.filter(|mm| (low..=high).contains(mm)).collect();
    sizes.sort_by(f64::total_cmp);
    sizes.dedup_by(|next, kept| *next - *kept < SAME_MM);
    sizes
}
