//! What an answer rests on: tried, worked out or assumed, and the cautions that travel with it.

use std::fmt;

/// A value with what it rests on and what to watch.
///
/// Doubt is data, not an error: a formula outside its tried range still answers, and every page
/// and command prints the cautions.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer<T> {
    /// The value.
    pub value: T,
    /// What it rests on.
    pub basis: Basis,
    /// What to watch, most important first.
    pub cautions: Vec<Caution>,
}

/// What a value rests on.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Basis {
    /// Measured at this bench.
    Tried {
        /// How many trials or readings stand behind it.
        trials: u32,
        /// The last of them, as an ISO date, if it was noted.
        last: Option<String>,
    },
    /// Computed; the sum can be shown.
    WorkedOut(Box<Sum>),
    /// Taken from a table or a habit, and to be replaced by a measurement.
    Assumed {
        /// Where the value was taken from, as a phrase a jeweller reads.
        from: String,
    },
}

/// The sum behind a worked-out value: formula in words, inputs, source.
#[derive(Clone, Debug, PartialEq)]
pub struct Sum {
    /// The formula in words, such as "wire length = turns x turn length + tails".
    pub formula: &'static str,
    /// Where the formula comes from.
    pub source: &'static str,
    /// What went in, each with its own basis.
    pub inputs: Vec<Input>,
}

/// One input of a [`Sum`].
#[derive(Clone, Debug, PartialEq)]
pub struct Input {
    /// Trade name, such as "wire diameter".
    pub name: &'static str,
    /// The number in `unit`.
    pub value: f64,
    /// Unit as printed; "-" for a plain number.
    pub unit: &'static str,
    /// What the input itself rests on.
    pub basis: Basis,
}

impl Basis {
    /// Measured by `trials` readings, undated.
    pub const fn tried(trials: u32) -> Basis {
        Basis::Tried { trials, last: None }
    }

    /// Taken from a table or a habit.
    pub fn assumed(from: impl Into<String>) -> Basis {
        Basis::Assumed { from: from.into() }
    }

    /// Computed by `formula` from `inputs`.
    pub fn worked_out(formula: &'static str, source: &'static str, inputs: Vec<Input>) -> Basis {
        Basis::WorkedOut(Box::new(Sum { formula, source, inputs }))
    }

    /// The one word a page prints: "tried", "worked out" or "assumed".
    ///
    /// ```
    /// use linkwright_calc::basis::Basis;
    /// assert_eq!(Basis::tried(3).word(), "tried");
    /// assert_eq!(Basis::assumed("density table").word(), "assumed");
    /// ```
    pub const fn word(&self) -> &'static str {
        match self {
            Basis::Tried { .. } => "tried",
            Basis::WorkedOut(_) => "worked out",
            Basis::Assumed { .. } => "assumed",
        }
    }
}

impl fmt::Display for Basis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Basis::Tried { trials, last } => {
                let times =
                    if *trials == 1 { "once".to_owned() } else { format!("{trials} times") };
                write!(f, "tried {times}")?;
                last.as_ref().map_or(Ok(()), |last| write!(f, ", last {last}"))
            }
            Basis::WorkedOut(sum) => write!(f, "worked out: {}", sum.formula),
            Basis::Assumed { from } => write!(f, "assumed: {from}"),
        }
    }
}

impl Input {
    /// An input of a sum.
    pub const fn new(name: &'static str, value: f64, unit: &'static str, basis: Basis) -> Input {
        Input { name, value, unit, basis }
    }
}

/// Something to watch that does not stop the answer.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Caution {
    /// The quantity lies outside the range where the formula or the data were tried.
    OutsideTriedRange {
        /// Trade name of the quantity.
        quantity: &'static str,
        /// The value.
        given: f64,
        /// Low end of the tried range.
        low: f64,
        /// High end of the tried range.
        high: f64,
        /// Unit as printed.
        unit: &'static str,
    },
    /// Few readings stand behind the number.
    FewTrials {
        /// How many there are.
        trials: u32,
    },
    /// A sentence that came with the data: a metal's own caution, a workshop's note.
    Note(String),
}

impl fmt::Display for Caution {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Caution::OutsideTriedRange { quantity, given, low, high, unit: "-" } => write!(
                f,
                "{quantity} of {given:.2} is outside the tried range {low:.2} to {high:.2}"
            ),
            Caution::OutsideTriedRange { quantity, given, low, high, unit } => write!(
                f,
                "{quantity} of {given:.3} {unit} is outside the tried range {low:.3} to {high:.3} {unit}"
            ),
            Caution::FewTrials { trials: 1 } => f.write_str("only one trial stands behind this"),
            Caution::FewTrials { trials } => write!(f, "only {trials} trials stand behind this"),
            Caution::Note(sentence) => f.write_str(sentence),
        }
    }
}
