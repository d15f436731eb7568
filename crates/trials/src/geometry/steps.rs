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
    /// Where the first step goes on falling once its foot is reached; nothing if it stays level.
    pub fall: Option<Fall>,
}

/// How a curve goes on falling left of its first step, by the first step's weight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fall {
    /// Where it begins.
    pub from: f64,
    /// How far one more step's height takes.
    pub per_step: f64,
    /// Steps it falls at most.
    pub most: f64,
}

/// Margins a whole step's distance short of the first step: a blade that misses by so much does
/// not cut now and then, it does not cut. The fall goes on at the pace of the steps before it.
const OUT_OF_REACH: Option<Fall> = Some(Fall { from: -0.75, per_step: 0.30, most: 4.0 });

/// Blade depth less wire, in mm: how surely the blade parts the wire.
pub const SEVER_STEPS: Steps = Steps {
    middles: [-0.45, -0.15, 0.0, 0.15, 0.45],
    width: 0.10,
    zero_at_zero: false,
    fall: OUT_OF_REACH,
};
/// Far wall less blade depth, in mm: how surely the blade stays off it.
pub const FAR_STEPS: Steps = Steps {
    middles: [-0.45, -0.15, 0.05, 0.30, 0.80],
    width: 0.12,
    zero_at_zero: false,
    fall: OUT_OF_REACH,
};
/// Less the crush index: how surely the ring stands the clamp.
pub const CRUSH_STEPS: Steps =
    Steps { middles: [-2.2, -1.3, -0.5, 0.3, 1.1], width: 0.35, zero_at_zero: true, fall: None };

impl Steps {
    /// Height of each step at `value`, `L((v - c) / b)` with `L` the logistic curve; the first less
    /// what the curve has fallen beyond it.
    pub fn at(&self, value: f64) -> [f64; STEPS] {
        let mut heights = self.middles.map(|middle| {
            let top = if self.zero_at_zero && middle < 0.0 { 1.0 } else { 0.0 };
            logistic((value - middle) / self.width) - top
        });
        if let Some(fall) = self.fall {
            heights[0] -= ((fall.from - value) / fall.per_step).clamp(0.0, fall.most);
        }
        heights
    }
}

/// `1 / (1 + exp(-v))`.
pub(crate) fn logistic(v: f64) -> f64 {
    1.0 / (1.0 + (-v).exp())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn margins_out_of_reach_go_on_falling_and_the_clamp_does_not() {
        let first = |steps: Steps, value| steps.at(value)[0];
        for steps in [SEVER_STEPS, FAR_STEPS] {
            assert!(first(steps, -0.7) > 0.0);
            // One step lower at -1.05, two at -1.35, four at -1.95 and beyond; its own foot is below 7e-3.
            for (value, fallen) in [(-1.05, 1.0), (-1.35, 2.0), (-1.95, 4.0), (-5.0, 4.0)] {
                assert!((first(steps, value) + fallen).abs() < 7e-3, "{value}");
            }
            assert!(steps.at(-3.0)[1..].iter().all(|step| *step > 0.0));
        }
        assert!(first(CRUSH_STEPS, -9.0) >= -1.0);
    }
}
