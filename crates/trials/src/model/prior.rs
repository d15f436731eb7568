//! What is believed before any trial.

use std::collections::BTreeMap;

use super::{Lean, Term};
use crate::play::Gate;

/// A bell curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bell {
    /// Middle.
    pub mean: f64,
    /// Standard deviation.
    pub sd: f64,
}

/// What is believed of the weight of one term.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TermPrior {
    /// A bell curve of known width.
    Fixed(Bell),
    /// A bell curve whose standard deviation is so many times the departure from geometry.
    OfDeparture {
        /// Middle.
        mean: f64,
        /// Standard deviation per unit of the departure.
        times: f64,
    },
}

/// What is believed of one gate.
#[derive(Clone, Debug, PartialEq)]
pub struct GatePrior {
    /// Logarithm of the coils' scatter, in log odds.
    pub ln_scatter: Bell,
    /// Logarithm of the departure from geometry, in log odds.
    pub ln_departure: Bell,
    /// What other workshops taught of single terms; the rest is geometry's own prior.
    pub learned: BTreeMap<Term, TermPrior>,
}

/// What is believed of the turns lost at one end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndPrior {
    /// Logarithm of the mean loss of 1 mm wire.
    pub level: Bell,
    /// Per logarithm of the wire.
    pub wire: Bell,
    /// Taped against not.
    pub tape: Bell,
    /// Per logarithm of the turns under the rim at the stop; nothing for the entry.
    pub rim: Option<Bell>,
    /// Each operator but the first.
    pub operator: Bell,
    /// Logarithm of the size of the negative binomial law.
    pub ln_size: Bell,
}

/// Everything believed before this workshop's first trial.
#[derive(Clone, Debug, PartialEq)]
pub struct Prior {
    /// One per gate, kept first.
    pub gates: [GatePrior; 3],
    /// Where the blade enters.
    pub entry: EndPrior,
    /// At the stop.
    pub stop: EndPrior,
}

/// Spread of what sets one blade apart, per unit of the departure from geometry.
const BLADE_OF_DEPARTURE: f64 = 0.7;
/// Spread of what sets one cell apart, per unit of the departure from geometry.
pub(crate) const QUIRK_OF_DEPARTURE: f64 = 0.6;
/// Spread of a soft sign per unit of its weight: the right sign with 92 %.
const SOFT_SIGN: f64 = 0.7;

impl Prior {
    /// Geometry alone: what is believed with no trial from anywhere.
    ///
    /// Widths and weights are the reference's, which rest on geometry and on simulated workshops and
    /// on no real trial; the weight of sharpness is our own guess.
    pub fn geometry() -> Prior {
        let gate = || GatePrior {
            ln_scatter: Bell { mean: 0.5_f64.ln(), sd: 0.5 },
            ln_departure: Bell { mean: 0.5_f64.ln(), sd: 0.6 },
            learned: BTreeMap::new(),
        };
        let small = Bell { mean: 0.0, sd: 0.3 };
        let entry = EndPrior {
            level: Bell { mean: 0.0, sd: 0.7 },
            wire: small,
            tape: Bell { mean: -0.3, sd: 0.3 },
            rim: None,
            operator: small,
            ln_size: Bell { mean: 4.0_f64.ln(), sd: 1.0 },
        };
        let stop = EndPrior {
            level: Bell { mean: -0.6, sd: 0.7 },
            tape: small,
            rim: Some(Bell { mean: 1.0, sd: 0.3 }),
            ..entry
        };
        Prior { gates: [gate(), gate(), gate()], entry, stop }
    }

    /// What is believed of one term of one gate; nothing if the gate has no such term.
    pub fn term(&self, gate: Gate, term: &Term) -> Option<TermPrior> {
        let learned = self.gates[gate.index()].learned.get(term).copied();
        learned.or_else(|| geometry_term(gate, term))
    }
}

/// Geometry's own prior for one term of one gate.
fn geometry_term(gate: Gate, term: &Term) -> Option<TermPrior> {
    use Gate::{Kept, Round, Severed};
    let signed = |weight: f64| Some(bell(weight, SOFT_SIGN * weight));
    let free = |sd: f64| Some(bell(0.0, sd));
    let departure = |times: f64| Some(TermPrior::OfDeparture { mean: 0.0, times });
    match (term, gate) {
        (Term::Intercept, Kept) => Some(bell(2.5, 1.5)),
        (Term::Intercept, Severed | Round) => Some(bell(-3.0, 1.5)),
        (Term::Sever(_), Severed) | (Term::Far(_), Round) => signed(1.4),
        (Term::Crush(_), Kept) => signed(0.9),
        (Term::Crush(_), Round) => signed(0.8),
        (Term::Teeth, Kept) => signed(0.4),
        (Term::Teeth, Severed) => free(0.5),
        (Term::Kerf, Round) => free(0.5),
        (Term::Tape, Kept) => signed(0.5),
        (Term::Tape, Severed) => free(0.5),
        (Term::Tape, Round) => signed(0.4),
        (Term::Lubricant, Kept | Severed) => signed(0.3),
        (Term::Lubricant, Round) => free(0.5),
        (Term::Sharpness, Severed | Round) => signed(0.3),
        (Term::Metal(_) | Term::Operator(_), _) => free(0.4),
        (Term::Blade(_, Lean::Even | Lean::WithWire | Lean::WithMandrel), _) => {
            departure(BLADE_OF_DEPARTURE)
        }
        (Term::Smooth(_), _) => departure(1.0),
        _ => None,
    }
}

fn bell(mean: f64, sd: f64) -> TermPrior {
    TermPrior::Fixed(Bell { mean, sd })
}

impl TermPrior {
    /// Middle.
    pub fn mean(self) -> f64 {
        match self {
            TermPrior::Fixed(bell) => bell.mean,
            TermPrior::OfDeparture { mean, .. } => mean,
        }
    }

    /// Standard deviation where the departure from geometry is known.
    pub fn sd(self, departure: f64) -> f64 {
        match self {
            TermPrior::Fixed(bell) => bell.sd,
            TermPrior::OfDeparture { times, .. } => times * departure,
        }
    }
}

impl Bell {
    /// Log density less that in the middle.
    pub(crate) fn ln_at(self, value: f64) -> f64 {
        let z = (value - self.mean) / self.sd;
        -0.5 * z * z
    }
}
