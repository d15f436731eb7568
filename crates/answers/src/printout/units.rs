//! How a number is printed with its unit, in both systems.

use linkwright_calc::gauge::nearest;
use linkwright_calc::quantity::{G_PER_POUND, Length, MM_PER_INCH, Mass};

use crate::printout::Unit;

/// Newtons in a pound-force, exact. NIST SP 811 (2008), appendix B.8.
const N_PER_LBF: f64 = 4.448_221_615_260_5;
/// Metres in a foot, exact. NIST SP 811 (2008), appendix B.8.
const M_PER_FOOT: f64 = 0.3048;
/// From here on a length reads better in metres and feet.
const LONG_MM: f64 = 1000.0;

impl Unit {
    /// The number with its unit, and the other system behind it.
    pub fn show(self, number: f64) -> String {
        match self {
            Unit::Length => both_lengths(number),
            Unit::Mass => {
                let ounces = Mass::from_g(number).troy_ounces();
                pair(number, "g", ounces, "ozt")
            }
            Unit::Force => pair(number, "N", number / N_PER_LBF, "lbf"),
            Unit::Torque => pair(number, "N mm", number / N_PER_LBF / MM_PER_INCH, "lbf in"),
            Unit::Stress => {
                let ksi = number * MM_PER_INCH * MM_PER_INCH / N_PER_LBF / 1000.0;
                pair(number, "MPa", ksi, "ksi")
            }
            Unit::Density => {
                let per_cubic_inch = number * MM_PER_INCH.powi(3) / 1000.0 / G_PER_POUND;
                pair(number, "g/cm3", per_cubic_inch, "lb/in3")
            }
            Unit::Speed => pair(number, "m/min", number / M_PER_FOOT, "ft/min"),
            Unit::Share => format!("{} %", significant(100.0 * number, 3)),
            Unit::Only("") => significant(number, 4),
            Unit::Only(unit) => format!("{} {unit}", significant(number, 4)),
        }
    }
}

/// Places of a size that heads a row or a column: what a micrometer shows.
pub const SIZE_PLACES: usize = 3;

/// A length in millimetres to so many places, without noughts at its end.
pub fn short_mm(mm: f64, places: usize) -> String {
    let digits = format!("{mm:.places$}");
    format!("{} mm", digits.trim_end_matches('0').trim_end_matches('.'))
}

/// A gauge is named beside a wire that is this near to it. The project's own choice.
const GAUGE_ERROR_PERCENT_MAX: f64 = 0.5;

/// A wire in inches, and by its American gauge if it is one.
///
/// ```
/// use linkwright_answers::printout::inches_and_gauge;
/// use linkwright_calc::quantity::Length;
/// // AWG 14 is 1.628 mm (ASTM B258, from memory); 1.60 mm is 1.7 % thinner.
/// assert_eq!(inches_and_gauge(Length::from_mm(1.63)), "0.0642 in, 14 AWG");
/// assert_eq!(inches_and_gauge(Length::from_mm(1.60)), "0.0630 in");
/// ```
pub fn inches_and_gauge(wire: Length) -> String {
    let inches = format!("{:.4} in", wire.inches());
    let near = nearest(wire);
    if near.awg_error_percent.abs() <= GAUGE_ERROR_PERCENT_MAX {
        format!("{inches}, {}", near.awg)
    } else {
        inches
    }
}

/// A length in millimetres and inches, or in metres and feet where it is long.
///
/// A micrometre and a ten-thousandth of an inch are what a micrometer shows.
pub fn both_lengths(mm: f64) -> String {
    if mm.abs() < LONG_MM {
        format!("{mm:.3} mm ({:.4} in)", Length::from_mm(mm).inches())
    } else {
        let m = mm / 1000.0;
        format!("{m:.3} m ({:.3} ft)", m / M_PER_FOOT)
    }
}

/// The number with so many significant digits, and no more decimals than that needs.
pub fn significant(number: f64, digits: i32) -> String {
    if number == 0.0 || !number.is_finite() {
        return format!("{number:.0}");
    }
    // Written with an exponent, the number is rounded first, so that 0.99999 counts as 1.000.
    let rounded = format!("{number:.*e}", usize::try_from(digits - 1).unwrap_or(0));
    let exponent: i32 =
        rounded.rsplit('e').next().and_then(|exponent| exponent.parse().ok()).unwrap_or(0);
    let decimals = (digits - 1 - exponent).clamp(0, 12);
    format!("{number:.*}", usize::try_from(decimals).unwrap_or(0))
}

fn pair(number: f64, unit: &str, other: f64, other_unit: &str) -> String {
    let number = significant(number, 4);
    let other = significant(other, 4);
    format!("{number} {unit} ({other} {other_unit})")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_are_counted_from_the_first_that_is_not_nought() {
        assert_eq!(significant(0.135_42, 4), "0.1354");
        assert_eq!(significant(1234.5, 3), "1234");
        assert_eq!(significant(-19.876, 4), "-19.88");
        assert_eq!(significant(0.0, 4), "0");
    }

    #[test]
    fn both_systems_stand_side_by_side() {
        assert_eq!(Unit::Length.show(25.4), "25.400 mm (1.0000 in)");
        assert_eq!(Unit::Length.show(3048.0), "3.048 m (10.000 ft)");
        assert_eq!(Unit::Mass.show(31.103_476_8), "31.10 g (1.000 ozt)");
        assert_eq!(Unit::Force.show(4.448_221_615_260_5), "4.448 N (1.000 lbf)");
        // 1 ksi is 6.894757 MPa: NIST SP 811 (2008), appendix B.8.
        assert_eq!(Unit::Stress.show(6.894_757), "6.895 MPa (1.000 ksi)");
        // 1 lb/in3 is 27.67990 g/cm3: NIST SP 811 (2008), appendix B.8.
        assert_eq!(Unit::Density.show(27.679_90), "27.68 g/cm3 (1.000 lb/in3)");
        // 1 lbf in is 112.9848 N mm: NIST SP 811 (2008), appendix B.8.
        assert_eq!(Unit::Torque.show(112.984_8), "113.0 N mm (1.000 lbf in)");
    }

    #[test]
    fn a_size_is_shown_without_noughts_at_its_end() {
        let short = |mm| short_mm(mm, SIZE_PLACES);
        assert_eq!((short(6.0), short(1.63)), ("6 mm".to_owned(), "1.63 mm".to_owned()));
    }
}
