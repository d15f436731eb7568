//! The wire of a line: the lot it comes from, and the ring that lot is believed to give.

use crate::basis::{Answer, Basis, Caution, Input};
use crate::metal::{Band, Catalogue, Metal, MetalError, Temper, Verified};
use crate::quantity::{Density, Length};
use crate::wind::{LotFit, LotPrior, Mandrel, RingTrial, WireState};
use crate::wire::Wire;

use super::{OrderLine, PlanError, StockedWire, Workshop};

/// A lot is taken for a line if its diameter is within this share of the wire ordered: less than
/// half a step of either gauge system.
const SAME_WIRE_SHARE: f64 = 0.03;

/// Flow stress over Young's modulus where a metal has no strength on record: dead soft copper at
/// one end, spring wire at the other. From the bands of `data/metals.csv`.
const ANY_FLOW_RATIO: [f64; 3] = [0.001, 0.0035, 0.012];

/// The wire of a line, and what is known of it.
pub(super) struct LineWire<'a> {
    pub metal: &'a Metal,
    pub temper: &'a Temper,
    pub stock: Option<&'a StockedWire>,
    pub wire: Answer<Wire>,
    pub density: Answer<Density>,
    fits: [(WireState, LotFit); 2],
    trials: Vec<&'a (WireState, RingTrial)>,
    pub doubts: Vec<Caution>,
}

impl<'a> LineWire<'a> {
    pub(super) fn find(
        line: &OrderLine,
        workshop: &'a Workshop,
        metals: &'a Catalogue,
    ) -> Result<LineWire<'a>, PlanError> {
        let metal = metals.find(&line.metal)?;
        let temper = metal.temper_for_wire(&line.temper, line.wire)?;
        let mut doubts = temper.cautions;
        let temper = temper.value;
        let stock = matching(workshop, metal, temper, line.wire).min_by(|a, b| {
            let off = |lot: &StockedWire| off_share(lot.lot.diameter().value, line.wire);
            off(a).total_cmp(&off(b))
        });
        let (wire, density) = match stock {
            Some(stock) => (stock.lot.diameter(), stock.lot.density()),
            None => {
                let basis = Basis::assumed("size as ordered");
                (Answer { value: line.wire, basis, cautions: Vec::new() }, metal.density())
            }
        };
        let trials: Vec<_> = stock.iter().flat_map(|stock| &stock.trials).collect();
        let mut fit = |state| -> Result<(WireState, LotFit), PlanError> {
            let prior = prior(metal, temper, state, &mut doubts)?;
            let own: Vec<RingTrial> = trials
                .iter()
                .filter(|(tried, _)| *tried == state)
                .map(|(_, trial)| trial.clone())
                .collect();
            Ok((state, LotFit::new(&prior, &own)))
        };
        let fits = [fit(WireState::AsBought)?, fit(WireState::Annealed)?];
        Ok(LineWire { metal, temper, stock, wire, density, fits, trials, doubts })
    }

    /// The fit for wire in a state.
    pub(super) fn fit(&self, state: WireState) -> &LotFit {
        let [as_bought, annealed] = &self.fits;
        if state == WireState::AsBought { &as_bought.1 } else { &annealed.1 }
    }

    /// Whether the lot was softened before it was put away.
    pub(super) fn annealed_already(&self) -> bool {
        self.stock.is_some_and(|stock| stock.lot.annealed)
    }

    /// The temper as it is wound in a state: for annealed wire the soft record, if there is one.
    pub(super) fn temper_in(&self, state: WireState) -> &Temper {
        match state {
            WireState::AsBought => self.temper,
            WireState::Annealed => self.metal.soft_temper().unwrap_or(self.temper),
        }
    }

    /// The open ring to plan with on a rod: the mean of what was read there, which beats any fit.
    pub(super) fn read_on(&self, mandrel: Mandrel, state: WireState) -> Option<Answer<Length>> {
        // A hundredth of a millimetre is what a rod is measured to.
        let here = |trial: &RingTrial| {
            (trial.mandrel().diameter().mm() - mandrel.diameter().mm()).abs() < 0.01
        };
        let read: Vec<&RingTrial> = self
            .trials
            .iter()
            .filter(|(tried, trial)| *tried == state && here(trial))
            .map(|(_, trial)| trial)
            .collect();
        if read.is_empty() {
            return None;
        }
        let mean_mm: f64 = read.iter().map(|trial| trial.mean().mm()).sum::<f64>() / count(&read);
        let last = read.iter().filter_map(|trial| trial.tried_on()).max().map(str::to_owned);
        let trials = u32::try_from(read.len()).unwrap_or(u32::MAX);
        let cautions = if trials < 3 { vec![Caution::FewTrials { trials }] } else { Vec::new() };
        Some(Answer {
            value: Length::from_mm(mean_mm),
            basis: Basis::Tried { trials, last },
            cautions,
        })
    }

    /// The diameter as an input of a sum.
    pub(super) fn wire_input(&self) -> Input {
        let mm = self.wire.value.diameter().mm();
        Input::new("wire diameter", mm, "mm", self.wire.basis.clone())
    }
}

/// Lots of the same metal, temper and size.
pub(super) fn matching<'a>(
    workshop: &'a Workshop,
    metal: &'a Metal,
    temper: &'a Temper,
    wire: Wire,
) -> impl Iterator<Item = &'a StockedWire> {
    workshop.wire.iter().filter(move |stock| {
        stock.lot.metal.key() == metal.key()
            && stock.lot.temper.hardness() == temper.hardness()
            && off_share(stock.lot.diameter().value, wire) <= SAME_WIRE_SHARE
    })
}

fn off_share(a: Wire, b: Wire) -> f64 {
    (a.diameter().mm() / b.diameter().mm() - 1.0).abs()
}

#[expect(clippy::cast_precision_loss, reason = "a lot has few coils")]
fn count<T>(items: &[T]) -> f64 {
    items.len() as f64
}

fn prior(
    metal: &Metal,
    temper: &Temper,
    state: WireState,
    doubts: &mut Vec<Caution>,
) -> Result<LotPrior, PlanError> {
    let record = match state {
        WireState::AsBought => Some(temper),
        WireState::Annealed => metal.soft_temper().ok(),
    };
    let no_record = || {
        Band::new(
            ANY_FLOW_RATIO,
            "no strength on record: soft copper to spring wire",
            Verified::Estimated,
        )
    };
    let band = match record.map(|record| metal.flow_ratio_likely_band(record)) {
        Some(Ok(band)) => band,
        None | Some(Err(MetalError::NoValue { .. })) => {
            if state == WireState::AsBought {
                doubts.push(Caution::Note(format!(
                    "no strength of {} is on record: the ring is a wide guess until one is measured",
                    metal.trade_name()
                )));
            }
            no_record()
                .ok_or(MetalError::NoValue { metal: metal.key().clone(), property: "flow_ratio" })?
        }
        Some(Err(error)) => return Err(error.into()),
    };
    let hardening = record.and_then(Temper::hardening_exponent);
    Ok(LotPrior::from_bands(&band, hardening, state)?)
}
