//! British standard wire gauge: a table.

use std::ops::RangeInclusive;

use crate::quantity::Length;

/// Sizes of the series: 7/0 to 50.
pub(super) const NUMBERS: RangeInclusive<i8> = -6..=50;

/// Diameters in tenths of a thou, 7/0 first; by definition whole.
///
/// Source: British standard wire gauge of 1884, later BS 3737:1964; `data/wire-gauges.csv`. No. 28
/// is 0.0148 in there; `docs/theory/gauge.md` says why.
#[rustfmt::skip]
const TENTH_THOU: [u16; 57] = [
    5000, 4640, 4320, 4000, 3720, 3480,
    3240, 3000, 2760, 2520, 2320, 2120, 1920, 1760, 1600, 1440,
    1280, 1160, 1040,  920,  800,  720,  640,  560,  480,  400,
     360,  320,  280,  240,  220,  200,  180,  164,  148,  136,
     124,  116,  108,  100,   92,   84,   76,   68,   60,   52,
      48,   44,   40,   36,   32,   28,   24,   20,   16,   12,
      10,
];

/// The tabulated diameter; the number must be one of [`NUMBERS`].
pub(super) fn diameter(number: i8) -> Length {
    let row = usize::from(number.abs_diff(*NUMBERS.start()));
    // One tenth of a thou is 254 hundred-thousandths of a millimetre: whole up to the one division.
    Length::from_mm(f64::from(u32::from(TENTH_THOU[row]) * 254) / 100_000.0)
}
