//! A monotone curve as a sum of smooth steps, each with its own weight.

/// Steps of each curve.
pub const STEPS: usize = 5;

/// Where the steps of a curve stand and how wide they are, in the unit of what they are taken of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Steps {
    /// Middle of each step.
    pub middles: [f64; STEPS],
    /// Width: a step goes from 27 to 73 % within one width on either side.
    pub width: f64,
    /// Whether a step left of nothing is counted from its top, so that the curve is 0 at 0.
    pub zero_at_zero: bool,
}

/// Blade depth less wire, in mm: how surely the blade parts the wire.
pub const SEVER_STEPS: Steps =
    Steps { middles: [-0.45, -0.15, 0.0, 0.15, 0.45], width: 0.10, zero_at_zero: false };
/// Far wall less blade depth, in mm: how surely the blade stays off it.
pub const FAR_STEPS: Steps =
    Steps { middles: [-0.45, -0.15, 0.05, 0.30, 0.80], width: 0.12, zero_at_zero: false };
/// Less the crush index: how surely the ring stands the clamp.
pub const CRUSH_STEPS: Steps =
    Steps { middles: [-2.2, -1.3, -0.5, 0.3, 1.1], width: 0.35, zero_at_zero: true };

impl Steps {
    /// Height of each step at `value`, `L((v - c) / b)` with `L` the logistic curve.
    pub fn at(&self, value: f64) -> [f64; STEPS] {
        self.middles.map(|middle| {
            let top = if self.zero_at_zero && middle < 0.0 { 1.0 } else { 0.0 };
            logistic((value - middle) / self.width) - top
        })
    }
}

/// `1 / (1 + exp(-v))`.
pub(crate) fn logistic(v: f64) -> f64 {
    1.0 / (1.0 + (-v).exp())
}
