//! What is believed of a wire lot before any ring of it is measured.

use crate::basis::Basis;
use crate::limits::{FLOW_RATIO, HARDENING_EXPONENT, LimitError};
use crate::metal::Band;

/// Half of the middle 80 % of a normal distribution, in standard deviations.
pub(super) const Z_80: f64 = 1.281_551_565_544_8;

/// How far the flow stress of a lot may lie off the middle of its temper's band beyond the band,
/// as a standard deviation of its logarithm: a temper name is loose. Half hard brass of the metals
/// table is 600 MPa as wire and 425 MPa as strip, 0.34 in the logarithm; we take less than half.
const NAME_SPREAD: f64 = 0.15;

/// The same for wire softened at the bench: a torch stops anywhere between a stress relief and a
/// coarse grain, so one measured ring should outweigh the table. Own choice.
const BENCH_ANNEAL_SPREAD: f64 = 0.35;

/// Hardening of drawn wire in further bending where the table has no exponent: little, and less
/// than the 0.1 that the weakest of annealed metals show. Own choice.
const DRAWN_EXPONENT: (f64, f64) = (0.05, 0.05);

/// Whether the wire is used as it came or softened at the bench; the two are kept apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WireState {
    /// As it came from the supplier, of whatever temper.
    AsBought,
    /// Softened at the bench before winding.
    Annealed,
}

impl WireState {
    /// The words printed.
    pub const fn word(self) -> &'static str {
        match self {
            WireState::AsBought => "as bought",
            WireState::Annealed => "annealed",
        }
    }
}

/// Belief in a lot's flow-stress ratio before any reading.
#[derive(Clone, Debug, PartialEq)]
pub struct LotPrior {
    /// Mean and standard deviation of `ln q` at 20 % outer strain.
    pub(super) log_ratio: (f64, f64),
    /// Mean and standard deviation of the exponent by which `q` follows the strain.
    pub(super) exponent: (f64, f64),
    pub(super) state: WireState,
    /// What the band rests on.
    pub(super) basis: Basis,
}

impl LotPrior {
    /// From the bands of a metal and temper.
    ///
    /// The band of `q = s_eq/E` is read as the middle 80 % of a normal distribution of `ln q`,
    /// widened for the looseness of temper names: `sd^2 = (ln(high/low)/2.563)^2 + 0.15^2`, or
    /// `+ 0.35^2` for wire softened at the bench. `q` follows the outer strain as a power, whose
    /// exponent has the band of the metal's hardening exponent, or 0.05 +- 0.05 for drawn wire.
    ///
    /// # Units
    /// Plain numbers.
    /// # Validity
    /// 80 and not 95 %: most bands of the table join two or three sources or are a rule of
    /// +-10 %, and sources of the same temper differ by more than that.
    /// # Errors
    /// [`LimitError`] naming `flow_ratio` or `hardening_exponent`.
    /// # Source
    /// Own choice; checked by the share of simulated lots that the ranges cover.
    ///
    /// ```
    /// use linkwright_calc::metal::{Band, Verified};
    /// use linkwright_calc::wind::{LotFit, LotPrior, WireState};
    /// let band = Band::new([0.0049, 0.0055, 0.0062], "metals table", Verified::Estimated).unwrap();
    /// let prior = LotPrior::from_bands(&band, None, WireState::AsBought).unwrap();
    /// let ratio = LotFit::new(&prior, &[]).flow_ratio();
    /// // Wider than the band on both sides, about its typical value.
    /// assert!(ratio.value.low < 0.0049 && ratio.value.high > 0.0062);
    /// assert!((ratio.value.typical - 0.0055).abs() < 1e-12);
    /// ```
    pub fn from_bands(
        flow_ratio: &Band<f64>,
        hardening_exponent: Option<&Band<f64>>,
        state: WireState,
    ) -> Result<LotPrior, LimitError> {
        let [low, typical, high] = [flow_ratio.low(), flow_ratio.typical(), flow_ratio.high()];
        for ratio in [low, typical, high] {
            FLOW_RATIO.check(ratio)?;
        }
        let extra = match state {
            WireState::AsBought => NAME_SPREAD,
            WireState::Annealed => BENCH_ANNEAL_SPREAD,
        };
        let exponent = match hardening_exponent {
            None => DRAWN_EXPONENT,
            Some(band) => {
                HARDENING_EXPONENT.check(band.low())?;
                HARDENING_EXPONENT.check(band.high())?;
                let sd = (band.high() - band.low()) / (2.0 * Z_80);
                (band.typical(), sd.hypot(DRAWN_EXPONENT.1))
            }
        };
        Ok(LotPrior {
            log_ratio: (typical.ln(), ((high / low).ln() / (2.0 * Z_80)).hypot(extra)),
            exponent,
            state,
            basis: flow_ratio.basis(),
        })
    }
}
