//! The quantity types and their exact conversion factors, each typed once.

use std::fmt;
use std::ops::{Add, Sub};

/// Millimetres in an inch, exact by definition. NIST SP 811 (2008), appendix B.8.
pub const MM_PER_INCH: f64 = 25.4;
/// Millimetres in a US survey foot, 1200/3937 m, given up at the end of 2022; from memory. Only
/// shown beside the international foot, never read.
pub const MM_PER_SURVEY_FOOT: f64 = 1_200_000.0 / 3937.0;
/// Grams in a kilogram. SI prefix.
pub const G_PER_KILOGRAM: f64 = 1000.0;
/// Grams in a grain, exact: one avoirdupois pound is 7000 grains. NIST SP 811 (2008), appendix B.8.
pub const G_PER_GRAIN: f64 = 0.064_798_91;
/// Grams in a pennyweight: 24 grains. NIST Handbook 44, appendix C.
pub const G_PER_PENNYWEIGHT: f64 = 1.555_173_84;
/// Grams in a troy ounce: 480 grains. NIST Handbook 44, appendix C.
pub const G_PER_TROY_OUNCE: f64 = 31.103_476_8;
/// Grams in a troy pound: 5760 grains. NIST Handbook 44, appendix C.
pub const G_PER_TROY_POUND: f64 = 373.241_721_6;
/// Grams in a tola: 180 grains, from memory.
pub const G_PER_TOLA: f64 = 11.663_803_8;
/// Grams in a metric carat, exact. NIST SP 811 (2008), appendix B.8.
pub const G_PER_CARAT: f64 = 0.2;
/// Grams in an avoirdupois ounce: one sixteenth of a pound. NIST Handbook 44, appendix C.
pub const G_PER_AVOIRDUPOIS_OUNCE: f64 = 28.349_523_125;
/// Grams in an avoirdupois pound, exact. NIST SP 811 (2008), appendix B.8, footnote.
pub const G_PER_POUND: f64 = 453.592_37;

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $field:ident, $from:ident, $unit:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
        pub struct $name {
            $field: f64,
        }

        impl $name {
            #[doc = concat!("From a number of ", $unit, ".")]
            pub const fn $from($field: f64) -> $name {
                $name { $field }
            }

            #[doc = concat!("The number of ", $unit, ".")]
            pub const fn $field(self) -> f64 {
                self.$field
            }
        }

        impl Add for $name {
            type Output = $name;
            fn add(self, other: $name) -> $name {
                $name { $field: self.$field + other.$field }
            }
        }

        impl Sub for $name {
            type Output = $name;
            fn sub(self, other: $name) -> $name {
                $name { $field: self.$field - other.$field }
            }
        }
    };
}

quantity!(
    /// A length, kept in millimetres. It may be negative, being perhaps a difference; roles such as
    /// [`Wire`](crate::wire::Wire) are positive.
    Length, mm, from_mm, "millimetres"
);
quantity!(
    /// A mass, kept in grams.
    Mass, g, from_g, "grams"
);
quantity!(
    /// An area, kept in square millimetres.
    Area, mm2, from_mm2, "square millimetres"
);
quantity!(
    /// Mass per volume, kept in grams per cubic centimetre.
    Density, g_cm3, from_g_cm3, "grams per cubic centimetre"
);
quantity!(
    /// Force per area, kept in megapascals, which are newtons per square millimetre.
    Stress, mpa, from_mpa, "megapascals"
);
quantity!(
    /// A force, kept in newtons.
    Force, n, from_n, "newtons"
);
quantity!(
    /// A turning or bending moment, kept in newton millimetres.
    Torque, n_mm, from_n_mm, "newton millimetres"
);
quantity!(
    /// One over a radius, kept per millimetre.
    Curvature, per_mm, from_per_mm, "reciprocal millimetres"
);

impl Length {
    /// From a number of inches of exactly 25.4 mm.
    pub const fn from_inches(inches: f64) -> Length {
        Length::from_mm(inches * MM_PER_INCH)
    }

    /// The number of inches of exactly 25.4 mm.
    pub const fn inches(self) -> f64 {
        self.mm() / MM_PER_INCH
    }
}

impl Mass {
    /// From a number of troy ounces of exactly 31.1034768 g.
    pub const fn from_troy_ounces(troy_ounces: f64) -> Mass {
        Mass::from_g(troy_ounces * G_PER_TROY_OUNCE)
    }

    /// The number of troy ounces of exactly 31.1034768 g.
    pub const fn troy_ounces(self) -> f64 {
        self.g() / G_PER_TROY_OUNCE
    }

    /// The number of pennyweights of exactly 1.55517384 g.
    pub const fn pennyweights(self) -> f64 {
        self.g() / G_PER_PENNYWEIGHT
    }

    /// The number of avoirdupois pounds of exactly 453.59237 g.
    pub const fn avoirdupois_pounds(self) -> f64 {
        self.g() / G_PER_POUND
    }
}

/// Every digit, so that the text read again gives the same value.
impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mm", self.mm())
    }
}

/// Every digit, so that the text read again gives the same value.
impl fmt::Display for Mass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} g", self.g())
    }
}
