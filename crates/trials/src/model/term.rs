//! The terms that add up to the log odds of a gate.

use std::sync::Arc;

/// How a blade's own effect changes over the chart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Lean {
    /// The same everywhere.
    Even,
    /// Grows with the logarithm of the wire.
    WithWire,
    /// Grows with the logarithm of the mandrel.
    WithMandrel,
}

/// One term of the log odds of a gate; a gate has some of them.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Term {
    /// No margin at all.
    Intercept,
    /// A step of the sever margin.
    Sever(usize),
    /// A step of the far margin.
    Far(usize),
    /// Teeth across the wire.
    Teeth,
    /// Thinness of the kerf.
    Kerf,
    /// What sets one blade apart.
    Blade(Arc<str>, Lean),
    /// One wave of the smooth departure from geometry over wire and mandrel.
    Smooth(usize),
    /// A step of the crush index.
    Crush(usize),
    /// Taped or not.
    Tape,
    /// Lubricated or not.
    Lubricant,
    /// Sharpness left to the blade.
    Sharpness,
    /// What sets one metal apart.
    Metal(Arc<str>),
    /// What sets one operator apart from the first.
    Operator(Arc<str>),
}

impl Term {
    /// Whether it depends on wire, mandrel, blade and axis alone and not on the circumstances.
    pub(crate) fn is_of_site(&self) -> bool {
        match self {
            Term::Intercept
            | Term::Sever(_)
            | Term::Far(_)
            | Term::Teeth
            | Term::Kerf
            | Term::Blade(..)
            | Term::Smooth(_) => true,
            Term::Crush(_)
            | Term::Tape
            | Term::Lubricant
            | Term::Sharpness
            | Term::Metal(_)
            | Term::Operator(_) => false,
        }
    }
}
