//! What the rings measured on a lot of wire say of its next ones.

use std::sync::Arc;

use linkwright_answers::files::from_json;
use linkwright_calc::metal::{Metal, MetalError, Temper};
use linkwright_calc::plan::StockedWire;
use linkwright_calc::wind::{LotFit, LotPrior, RingTrial, WireState};
use linkwright_store::{StoreError, View};

use super::{catalogue, workshop_as_json};

/// All lots as plans see them, with their measured rings; none while the workshop cannot be read.
pub(crate) fn stocks(view: &View<'_>) -> Result<Arc<Vec<StockedWire>>, StoreError> {
    view.worked_out("stocks", || {
        let bench = view.bench(None)?;
        let read = || {
            let metals = catalogue(&bench.metals).ok()?;
            from_json::workshop(&workshop_as_json(&bench).ok()?, &metals).ok()
        };
        Ok(read().map_or_else(Vec::new, |workshop| workshop.wire))
    })
}

/// The lot of that name among them; a lot that is put away is not.
pub(crate) fn stock_named<'a>(stocks: &'a [StockedWire], name: &str) -> Option<&'a StockedWire> {
    stocks.iter().find(|stock| stock.name == name)
}

/// What is believed of the lot's springback in a state, from its metal and its rings so far.
///
/// # Errors
/// If the metals table holds no strength for it.
pub(crate) fn lot_fit(stock: &StockedWire, state: WireState) -> Result<LotFit, MetalError> {
    let rings = stock.trials.iter().filter(|(tried, _)| *tried == state);
    let rings: Vec<RingTrial> = rings.map(|(_, trial)| trial.clone()).collect();
    fit_of(&stock.lot.metal, &stock.lot.temper, state, &rings)
}

/// The same of wire that is no lot's: its metal, its temper as bought, and the rings measured on it.
///
/// # Errors
/// If the metals table holds no strength for it.
pub(crate) fn fit_of(
    metal: &Metal,
    as_bought: &Temper,
    state: WireState,
    rings: &[RingTrial],
) -> Result<LotFit, MetalError> {
    let temper = match state {
        WireState::Annealed => metal.temper("annealed")?,
        WireState::AsBought => as_bought,
    };
    let ratio = metal.flow_ratio_likely_band(temper)?;
    let prior = LotPrior::from_bands(&ratio, temper.hardening_exponent(), state)
        .map_err(|error| MetalError::OutsideLimits { metal: metal.key().clone(), error })?;
    Ok(LotFit::new(&prior, rings))
}
