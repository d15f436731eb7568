//! What one workshop's trials say about the terms all workshops share: a bell curve's worth of
//! numbers per gate, with no trial, name or date in it.

use thiserror::Error;

use crate::dense::{Factor, Symmetric};
use crate::fit::{GatePosterior, Mode, Setting};
use crate::learned::Learned;
use crate::model::{Bell, Layout, Term, TermPrior};
use crate::play::{GATES, Gate};

/// Largest number a condensed file may hold: far beyond a million trials.
const LARGEST: f64 = 1e12;
/// Added to the diagonal before a file's numbers are tried: rounding may leave a hair below nothing.
const HAIR: f64 = 1e-6;

/// What one workshop's trials say about one gate: `exp(-b'Hb/2 + r'b)` over the shared weights `b`.
#[derive(Clone, Debug, PartialEq)]
pub struct CondensedGate {
    terms: Vec<Term>,
    /// `H`, lower triangle row by row.
    information: Vec<f64>,
    /// `r`.
    pull: Vec<f64>,
    ln_scatter: Bell,
    ln_departure: Bell,
}

/// What one workshop's trials say, with no trial, name or date in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Condensed {
    gates: [CondensedGate; 3],
    trials: usize,
    cells: usize,
}

/// Why a condensed file is refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum PoolError {
    /// A term that only one workshop knows, or one the gate does not have.
    #[error("term {place} of the condensed file is not one that workshops share")]
    TermNotShared {
        /// Place of the term.
        place: usize,
    },
    /// A term comes twice.
    #[error("term {place} of the condensed file comes twice")]
    TermTwice {
        /// Place of the second one.
        place: usize,
    },
    /// Too few or too many numbers for the terms.
    #[error("the condensed file holds {given} numbers where its terms need {needed}")]
    WrongLength {
        /// Numbers found.
        given: usize,
        /// Numbers needed.
        needed: usize,
    },
    /// A number that is none, or far too large.
    #[error("number {place} of the condensed file is not a number within 1e12 either way")]
    OutOfRange {
        /// Place of the number.
        place: usize,
    },
    /// The numbers are no bell curve.
    #[error(
        "the condensed file's numbers cannot come from trials: some weight would be less than unknown"
    )]
    NotInformation,
}

/// Whether a term means the same in every workshop: blades and operators do not.
pub fn pooled_term(term: &Term) -> bool {
    !matches!(term, Term::Blade(..) | Term::Operator(_))
}

impl CondensedGate {
    /// From the numbers of a file.
    ///
    /// `information` is the lower triangle of a square table, row by row; `pull` has one number per
    /// term; scatter and departure are logarithms of log odds.
    ///
    /// # Errors
    /// [`PoolError`] for terms that are not shared or come twice, for numbers too few, too many, too
    /// large or none, and for a table that no trials can have made.
    pub fn new(
        gate: Gate,
        terms: Vec<Term>,
        information: Vec<f64>,
        pull: Vec<f64>,
        [ln_scatter, ln_departure]: [Bell; 2],
    ) -> Result<CondensedGate, PoolError> {
        let geometry = crate::model::Prior::geometry();
        for (place, term) in terms.iter().enumerate() {
            if !pooled_term(term) || !in_range(term) || geometry.term(gate, term).is_none() {
                return Err(PoolError::TermNotShared { place });
            }
            if terms[..place].contains(term) {
                return Err(PoolError::TermTwice { place });
            }
        }
        let size = terms.len();
        for (given, needed) in [(information.len(), size * (size + 1) / 2), (pull.len(), size)] {
            if given != needed {
                return Err(PoolError::WrongLength { given, needed });
            }
        }
        let settings = [ln_scatter.mean, ln_scatter.sd, ln_departure.mean, ln_departure.sd];
        let numbers = information.iter().chain(&pull).chain(&settings);
        if let Some(place) =
            numbers.clone().position(|number| number.is_nan() || number.abs() > LARGEST)
        {
            return Err(PoolError::OutOfRange { place });
        }
        let condensed = CondensedGate { terms, information, pull, ln_scatter, ln_departure };
        let mut table = Symmetric::zero(size);
        condensed.add_to(&mut table);
        table.add_diagonal(&vec![HAIR; size]);
        if ln_scatter.sd < 0.0
            || ln_departure.sd < 0.0
            || table.factor_into(&mut Factor::empty()).is_none()
        {
            return Err(PoolError::NotInformation);
        }
        Ok(condensed)
    }

    /// The terms, in the order of the numbers.
    pub fn terms(&self) -> &[Term] {
        &self.terms
    }

    /// Lower triangle of the information, row by row.
    pub fn information(&self) -> &[f64] {
        &self.information
    }

    /// One number per term.
    pub fn pull(&self) -> &[f64] {
        &self.pull
    }

    /// Logarithms of scatter and departure.
    pub fn settings(&self) -> [Bell; 2] {
        [self.ln_scatter, self.ln_departure]
    }

    /// Adds the information to a table of the same terms.
    pub(super) fn add_to(&self, table: &mut Symmetric) {
        table.add_packed(&self.information);
    }

    /// What a fitted mode says about the shared terms: its own prior is taken off them, what only
    /// this workshop knows is integrated out.
    pub(super) fn of_mode(
        shared: impl Fn(&Term) -> bool,
        layout: &Layout,
        prior: &[TermPrior],
        mode: &Mode,
        departure: f64,
        settings: [Bell; 2],
    ) -> CondensedGate {
        let (shared, own): (Vec<usize>, Vec<usize>) =
            (0..layout.len()).partition(|i| shared(&layout.terms()[*i]));
        let order: Vec<usize> = own.iter().chain(&shared).copied().collect();
        let precision = mode.factor.product();
        let mut table: Vec<Vec<f64>> = order
            .iter()
            .enumerate()
            .map(|(i, row)| order[..=i].iter().map(|column| precision.at(*row, *column)).collect())
            .collect();
        let mut pull: Vec<f64> = order
            .iter()
            .map(|row| (0..layout.len()).map(|i| precision.at(*row, i) * mode.weights[i]).sum())
            .collect();
        for (place, column) in order.iter().enumerate().skip(own.len()) {
            let known = prior[*column].sd(departure).powi(-2);
            table[place][place] -= known;
            pull[place] -= known * prior[*column].mean();
        }
        for k in 0..own.len() {
            let pivot = table[k][k];
            let below: Vec<f64> = (k + 1..order.len()).map(|i| table[i][k]).collect();
            for i in k + 1..order.len() {
                let factor = below[i - k - 1] / pivot;
                for j in k + 1..=i {
                    table[i][j] -= factor * below[j - k - 1];
                }
                pull[i] -= factor * pull[k];
            }
        }
        let information =
            table[own.len()..].iter().flat_map(|row| row[own.len()..].iter().copied()).collect();
        CondensedGate {
            terms: shared.iter().map(|column| layout.terms()[*column].clone()).collect(),
            information,
            pull: pull.split_off(own.len()),
            ln_scatter: settings[0],
            ln_departure: settings[1],
        }
    }
}

/// Whether the number of a step or wave exists.
fn in_range(term: &Term) -> bool {
    match term {
        Term::Sever(i) | Term::Far(i) | Term::Crush(i) => *i < crate::geometry::STEPS,
        Term::Smooth(i) => *i < crate::model::SMOOTH_TERMS,
        _ => true,
    }
}

impl Condensed {
    /// From the three gates of a file, kept first, and how many trials of how many cells they came
    /// from.
    pub fn new(gates: [CondensedGate; 3], trials: usize, cells: usize) -> Condensed {
        Condensed { gates, trials, cells }
    }

    /// One gate.
    pub fn gate(&self, gate: Gate) -> &CondensedGate {
        &self.gates[gate.index()]
    }

    /// Trials it came from.
    pub fn trials(&self) -> usize {
        self.trials
    }

    /// Cells (wire, mandrel and blade) those trials were of.
    pub fn cells(&self) -> usize {
        self.cells
    }
}

impl Learned {
    /// What this workshop's trials say about the terms all workshops share, with no trial, name or
    /// date in it; metals keep their names.
    pub fn condensed(&self) -> Condensed {
        self.condensed_with_metals(|_| true)
    }

    /// The same, with only those metals by name that `is_shared` says yes to: what sets the others
    /// apart is integrated out, as with blades and operators.
    pub fn condensed_with_metals(&self, is_shared: impl Fn(&str) -> bool) -> Condensed {
        let shared = |term: &Term| match term {
            Term::Metal(metal) => is_shared(metal),
            other => pooled_term(other),
        };
        let gates = GATES.map(|gate| condensed_gate(self.posterior(gate), shared));
        Condensed::new(gates, self.trials(), self.cells_tried())
    }
}

/// At the setting believed most; the settings as a bell curve.
fn condensed_gate(gate: &GatePosterior, shared: impl Fn(&Term) -> bool) -> CondensedGate {
    let bell = |of: fn(&Setting) -> f64| {
        let mean: f64 = gate.points.iter().map(|point| point.share * of(&point.setting).ln()).sum();
        let square: f64 = gate
            .points
            .iter()
            .map(|point| point.share * (of(&point.setting).ln() - mean).powi(2))
            .sum();
        Bell { mean, sd: square.sqrt() }
    };
    let settings = [bell(|setting| setting.scatter), bell(|setting| setting.departure)];
    let mut most = &gate.points[0];
    for point in &gate.points {
        if point.share > most.share {
            most = point;
        }
    }
    let departure = most.setting.departure;
    CondensedGate::of_mode(shared, &gate.layout, &gate.prior, &most.mode, departure, settings)
}
