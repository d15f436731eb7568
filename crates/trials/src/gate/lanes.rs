//! Exponentials and logarithms of a few numbers at once, written so that the compiler does two or
//! more in one instruction: a fit takes tens of millions of them.

use std::f64::consts::LOG2_E;

/// Numbers at once: the seven nodes of a coil and one to spare.
pub(super) const LANES: usize = 8;

/// Added and taken off again, this leaves the nearest whole number in the lowest bits.
const TO_WHOLE: f64 = 6_755_399_441_055_744.0; // 1.5 * 2^52
/// Below this the exponential is nothing to any sum it enters.
const LOWEST: f64 = -700.0;
/// The natural logarithm of 2 to its leading 33 bits, whose product with a whole number is exact,
/// and what is left of it. Computed with fifty digits.
const LN_2_HIGH: f64 = 0.693_147_180_369_123_8;
/// See [`LN_2_HIGH`].
const LN_2_LOW: f64 = 1.908_214_929_270_587_7e-10;

/// `exp(x)` for `x <= 700`, within 1e-15 of itself; below -700 as at -700.
pub(super) fn exp(x: [f64; LANES]) -> [f64; LANES] {
    let x = x.map(|x| x.max(LOWEST));
    let shifted = x.map(|x| x * LOG2_E + TO_WHOLE);
    let mut rest = [0.0; LANES];
    for i in 0..LANES {
        let whole = shifted[i] - TO_WHOLE;
        rest[i] = (x[i] - whole * LN_2_HIGH) - whole * LN_2_LOW;
    }
    // Taylor up to the 12th power: the rest is at most ln 2 / 2, the next term below 2e-16.
    let mut sum = [1.0 / 479_001_600.0; LANES];
    for factor in FACTORIALS {
        for i in 0..LANES {
            sum[i] = sum[i] * rest[i] + factor;
        }
    }
    for i in 0..LANES {
        // The lowest bits of `shifted` are the whole number: moved to the exponent's place.
        let power = (shifted[i].to_bits() << 52).wrapping_add(1.0_f64.to_bits());
        sum[i] *= f64::from_bits(power);
    }
    sum
}

/// `1 / k!` from 11 down to 0.
const FACTORIALS: [f64; 12] = [
    1.0 / 39_916_800.0,
    1.0 / 3_628_800.0,
    1.0 / 362_880.0,
    1.0 / 40_320.0,
    1.0 / 5_040.0,
    1.0 / 720.0,
    1.0 / 120.0,
    1.0 / 24.0,
    1.0 / 6.0,
    0.5,
    1.0,
    1.0,
];

/// `ln(1 + e)` for `e` from 0 to 1, within 1e-14: `2 artanh(e / (2 + e))` as a series.
pub(super) fn ln_1p(e: [f64; LANES]) -> [f64; LANES] {
    let t = e.map(|e| e / (2.0 + e));
    let square = t.map(|t| t * t);
    // Up to the 27th power of t, which is at most a third: the next term is below 4e-16.
    let mut sum = [0.0; LANES];
    for odd in ODDS {
        for i in 0..LANES {
            sum[i] = sum[i] * square[i] + 1.0 / odd;
        }
    }
    for i in 0..LANES {
        sum[i] *= 2.0 * t[i];
    }
    sum
}

const ODDS: [f64; 14] =
    [27.0, 25.0, 23.0, 21.0, 19.0, 17.0, 15.0, 13.0, 11.0, 9.0, 7.0, 5.0, 3.0, 1.0];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn they_agree_with_the_standard_library() {
        for i in -60_000..6_000 {
            let x = f64::from(i) * 0.01137;
            let ours = exp([x; LANES])[3];
            assert!((ours / x.exp() - 1.0).abs() < 1e-15, "exp({x}) is not {ours}");
        }
        for i in 0..=10_000 {
            let e = f64::from(i) / 10_000.0;
            let ours = ln_1p([e; LANES])[5];
            assert!((ours - e.ln_1p()).abs() <= 1e-14 * e, "ln_1p({e}) is not {ours}");
        }
        assert!(exp([-1e300; LANES])[0] < 1e-300 && exp([f64::NEG_INFINITY; LANES])[0] < 1e-300);
    }
}
