//! Softening: the range and the look of it by metal, and whether this wire needs it.

use super::Verified;

/// How to soften a metal: heat range, cooling, what to look for, what to watch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Anneal {
    /// Low end of the range in degrees Celsius; judged by eye, a torch misses by 50.
    pub temperature_c_low: f64,
    /// High end of the range in degrees Celsius.
    pub temperature_c_high: f64,
    /// How to cool it.
    pub quench: &'static str,
    /// What the heat looks like.
    pub visual_cue: &'static str,
    /// What this metal does if it is done wrong; may be empty.
    pub caution: &'static str,
    /// Where this comes from.
    pub source: &'static str,
    /// How the source was checked.
    pub verified: Verified,
}
