//! American wire gauge: a formula.

use std::ops::RangeInclusive;

use crate::quantity::Length;

/// Sizes tabulated in ASTM B258-02: 0000 to 56.
pub(super) const NUMBERS: RangeInclusive<i8> = -3..=56;

/// `d = 0.127 * 92^((36 - n)/39)` mm: 0.005 in at 36, 92 times that at 0000.
pub(super) fn diameter(number: i8) -> Length {
    let n = f64::from(number);
    Length::from_mm(0.127 * 92.0_f64.powf((36.0 - n) / 39.0))
}
