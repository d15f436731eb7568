//! Numbers as they are read at the bench: as many digits as a hand can set or a caliper can show,
//! a unit on each, and the other system beside it.

use linkwright_calc::quantity::{Force, G_PER_GRAIN, Length, Mass};

use crate::printout::{Unit, significant};

/// Millimetres from which a length reads better in metres and feet.
const LONG_MM: f64 = 1000.0;
/// Inches in a foot, by definition.
const INCHES_PER_FOOT: f64 = 12.0;
/// Grams below which the other system is grains, above it troy ounces.
const LIGHT_G: f64 = 1.0;

/// A number with its unit, and the same in the other system.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// As it is set and weighed here.
    pub first: String,
    /// In the other system.
    pub other: String,
}

/// A setting: to a hundredth of a millimetre and a thousandth of an inch.
pub fn setting(length: Length) -> Shown {
    Shown { first: format!("{:.2} mm", length.mm()), other: format!("{:.3} in", length.inches()) }
}

/// A size that is worked out or read with a micrometer, a digit finer than a setting.
pub fn fine(length: Length) -> Shown {
    Shown { first: format!("{:.3} mm", length.mm()), other: format!("{:.4} in", length.inches()) }
}

/// A length laid against a ruler; metres and feet where it is long.
pub fn ruled(length: Length) -> Shown {
    let mm = length.mm();
    if mm.abs() < LONG_MM {
        Shown { first: format!("{mm:.1} mm"), other: format!("{:.2} in", length.inches()) }
    } else {
        let feet = length.inches() / INCHES_PER_FOOT;
        Shown { first: format!("{:.3} m", mm / 1000.0), other: format!("{feet:.2} ft") }
    }
}

/// A mass on a scale; grains where it is light, troy ounces where it is not.
pub fn weighed(mass: Mass) -> Shown {
    let other = if mass.g() < LIGHT_G {
        format!("{} grains", significant(mass.g() / G_PER_GRAIN, 3))
    } else {
        format!("{} troy oz", significant(mass.troy_ounces(), 3))
    };
    Shown { first: format!("{} g", significant(mass.g(), 4)), other }
}

/// A force of the hand or of the clamp.
pub fn pulled(force: Force) -> Shown {
    let both = Unit::Force.show(force.n());
    match both.split_once(" (") {
        Some((first, other)) => {
            Shown { first: first.to_owned(), other: other.trim_end_matches(')').to_owned() }
        }
        None => Shown { first: both, other: String::new() },
    }
}

impl Shown {
    /// Both in one phrase.
    pub fn both(&self) -> String {
        format!("{} ({})", self.first, self.other)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_setting_has_the_digits_a_hand_can_set() {
        assert_eq!(setting(Length::from_mm(1.5)).both(), "1.50 mm (0.059 in)");
        assert_eq!(fine(Length::from_mm(25.4)).both(), "25.400 mm (1.0000 in)");
    }

    #[test]
    fn long_wire_is_given_in_metres_and_feet() {
        assert_eq!(ruled(Length::from_mm(782.807)).both(), "782.8 mm (30.82 in)");
        assert_eq!(ruled(Length::from_mm(3048.0)).both(), "3.048 m (10.00 ft)");
    }

    #[test]
    fn light_things_are_weighed_in_grains_and_heavy_ones_in_troy_ounces() {
        // A grain is 64.79891 mg, a troy ounce 480 of them: NIST Handbook 44, appendix C.
        assert_eq!(weighed(Mass::from_g(0.064_798_91)).both(), "0.06480 g (1.00 grains)");
        assert_eq!(weighed(Mass::from_g(31.103_476_8)).both(), "31.10 g (1.00 troy oz)");
    }

    #[test]
    fn a_pull_is_in_newtons_and_pounds() {
        assert_eq!(pulled(Force::from_n(4.448_221_6)).both(), "4.448 N (1.000 lbf)");
    }
}
