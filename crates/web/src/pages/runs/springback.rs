//! What the measured rings of a run say: mean, spread, springback, and the ring on every other rod.

use linkwright_calc::metal::{Catalogue, MetalError};
use linkwright_calc::plan::StockedWire;
use linkwright_calc::quantity::Length;
use linkwright_calc::wind::{LotFit, Mandrel, RingTrial, WireState};
use linkwright_store::records::{MetalOverlay, Rod};
use linkwright_store::{Saved, View};

use super::at_bench::AtBench;
use crate::error::PageError;
use crate::planning::{catalogue, fit_of, lot_fit, stock_named, stocks};

/// Step of a calliper, where the readings themselves do not tell: common practice, no source.
const READING_STEP_MM: f64 = 0.01;

/// What the rings of this run say.
pub(crate) struct Measured {
    /// Mean inside diameter of the open rings.
    pub(crate) mean_mm: f64,
    /// Their spread; none for a single ring.
    pub(crate) spread_mm: Option<f64>,
    /// Springback on the rod of the run, as a share.
    pub(crate) springback_share: f64,
    /// Coils of this wire that stand behind the rings predicted.
    pub(crate) coils_behind: u32,
    /// The ring to expect on the rods there are; empty if the strength is not on record.
    pub(crate) rods: Vec<RodRing>,
}

/// The ring to expect on a rod.
pub(crate) struct RodRing {
    pub(crate) name: String,
    pub(crate) inside_mm: f64,
    pub(crate) low_mm: f64,
    pub(crate) high_mm: Option<f64>,
    /// How it stands to what was tried, in words.
    pub(crate) stands: String,
    /// Whether it is the rod of this run.
    pub(crate) is_here: bool,
}

/// The rings of a run as one trial of its rod; none before the first.
pub(crate) fn trial_of(at: &AtBench) -> Option<RingTrial> {
    let read: Vec<Length> =
        at.work.readings.iter().map(|reading| Length::from_mm(reading.record.inside_mm)).collect();
    RingTrial::new(at.wire, at.rod, &read, Length::from_mm(READING_STEP_MM)).ok()
}

/// What the rings measured so far say; nothing before the first.
pub(crate) fn measured(view: &View<'_>, at: &AtBench) -> Result<Option<Measured>, PageError> {
    let Some(trial) = trial_of(at) else { return Ok(None) };
    let own: Vec<Saved<MetalOverlay>> = view.all()?;
    let stocks = stocks(view)?;
    let stocked = match at.run().wire_lot_id {
        Some(lot) => stock_named(&stocks, &view.get(lot)?.name),
        None => None,
    };
    let metals = catalogue(&own).unwrap_or_else(|_| Catalogue::built_in());
    let fit = fit(at, &metals, stocked, &trial).ok();
    let coils_behind = fit.as_ref().map_or(1, LotFit::trials);
    let all_rods: Vec<Saved<Rod>> = view.all()?;
    let rods = fit.map(|fit| rods(at, &fit, &all_rods)).unwrap_or_default();
    Ok(Some(Measured {
        mean_mm: trial.mean().mm(),
        spread_mm: trial.spread().map(Length::mm),
        springback_share: trial.springback_share(),
        coils_behind,
        rods,
    }))
}

/// What is believed of the lot, these rings among the others; without a lot, of these rings alone.
fn fit(
    at: &AtBench,
    metals: &Catalogue,
    stocked: Option<&StockedWire>,
    trial: &RingTrial,
) -> Result<LotFit, MetalError> {
    let annealed = at.run().annealed_at.is_some();
    let state = if annealed { WireState::Annealed } else { WireState::AsBought };
    if let Some(stock) = stocked {
        return lot_fit(stock, state);
    }
    let metal = metals.find(&at.sheet.metal_key)?;
    let as_bought = metal.temper_for_wire(&at.sheet.temper, at.wire)?.value;
    fit_of(metal, as_bought, state, std::slice::from_ref(trial))
}

fn rods(at: &AtBench, fit: &LotFit, rods: &[Saved<Rod>]) -> Vec<RodRing> {
    let here_mm = at.rod.diameter().mm();
    rods.iter()
        .filter(|rod| rod.record.retired_on.is_none())
        .filter_map(|rod| {
            let mandrel = Mandrel::new(Length::from_mm(rod.record.diameter_mm())).ok()?;
            let ring = fit.predict(at.wire, mandrel)?.value;
            Some(RodRing {
                name: rod.record.name.clone(),
                inside_mm: ring.inside_diameter.mm(),
                low_mm: ring.low.mm(),
                high_mm: ring.high.map(Length::mm),
                stands: ring.reach.to_string(),
                is_here: (mandrel.diameter().mm() - here_mm).abs() < READING_STEP_MM,
            })
        })
        .collect()
}
