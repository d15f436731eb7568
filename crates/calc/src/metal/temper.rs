//! Tempers: how hard the wire arrives, in the source's words and in one set of names.

use std::fmt;

use super::{Band, Name};
use crate::quantity::{Length, Stress};
use crate::wire::Wire;

/// Hardness of a temper, in one set of names for all metals, softest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Hardness {
    /// Annealed: dead soft, soft; UK annealed.
    Annealed,
    /// Eighth hard.
    EighthHard,
    /// Quarter hard.
    QuarterHard,
    /// Half hard.
    HalfHard,
    /// Hard, as drawn.
    Hard,
    /// Extra hard.
    ExtraHard,
    /// Spring hard.
    SpringHard,
}

/// What the values were measured on; strip of a temper is far softer than wire of the same name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Product {
    /// The owner's own wire, from the workshop's metals file.
    OwnWire,
    /// Round wire.
    Wire,
    /// The source does not say.
    Unstated,
    /// Flat strip: a low guess for wire.
    Strip,
}

/// One temper of a metal with what is known of its strength.
#[derive(Clone, Debug, PartialEq)]
pub struct Temper {
    pub(super) name: Name,
    pub(super) hardness: Hardness,
    pub(super) product: Product,
    pub(super) wire_sizes: Option<(Length, Length)>,
    pub(super) yield_strength: Option<Band<Stress>>,
    pub(super) tensile_strength: Option<Band<Stress>>,
    pub(super) hardening_exponent: Option<Band<f64>>,
    pub(super) strength_coefficient: Option<Band<Stress>>,
    pub(super) flow_stress: Option<Band<Stress>>,
    pub(super) elongation: Option<Band<f64>>,
    pub(super) reduction_of_area: Option<Band<f64>>,
}

impl Temper {
    /// The temper as its source words it, such as "half hard wire H02".
    pub const fn name(&self) -> &Name {
        &self.name
    }

    /// The temper in the one set of names.
    pub const fn hardness(&self) -> Hardness {
        self.hardness
    }

    /// What the values were measured on.
    pub const fn product(&self) -> Product {
        self.product
    }

    /// Thinnest and thickest wire the values were measured on, if the source says.
    pub const fn wire_sizes(&self) -> Option<(Length, Length)> {
        self.wire_sizes
    }

    /// 0.2 % proof strength. Not the stress at which wire bends on a mandrel: see
    /// [`flow_stress`](Temper::flow_stress).
    pub const fn yield_strength(&self) -> Option<&Band<Stress>> {
        self.yield_strength.as_ref()
    }

    /// Tensile strength.
    pub const fn tensile_strength(&self) -> Option<&Band<Stress>> {
        self.tensile_strength.as_ref()
    }

    /// Hardening exponent `n` of `sigma = K eps^n`.
    pub const fn hardening_exponent(&self) -> Option<&Band<f64>> {
        self.hardening_exponent.as_ref()
    }

    /// Strength coefficient `K` of `sigma = K eps^n`.
    pub const fn strength_coefficient(&self) -> Option<&Band<Stress>> {
        self.strength_coefficient.as_ref()
    }

    /// Bending flow stress `s_eq = 6 M / d^3`, for annealed metal at 20 % strain of the outer fibre.
    pub const fn flow_stress(&self) -> Option<&Band<Stress>> {
        self.flow_stress.as_ref()
    }

    /// Elongation at fracture in percent of the gauge length.
    pub const fn elongation(&self) -> Option<&Band<f64>> {
        self.elongation.as_ref()
    }

    /// Reduction of area at fracture in percent: what the smallest bend is worked out from, see
    /// [`cracking_limit`](crate::wind::cracking_limit).
    pub const fn reduction_of_area(&self) -> Option<&Band<f64>> {
        self.reduction_of_area.as_ref()
    }

    /// How far the wire lies outside the sizes of this record: 0 inside or if no sizes are stated,
    /// else the ratio of the diameters less one.
    pub(super) fn off_size(&self, wire: Wire) -> f64 {
        let d_mm = wire.diameter().mm();
        self.wire_sizes
            .map_or(0.0, |(low, high)| (low.mm() / d_mm).max(d_mm / high.mm()).max(1.0) - 1.0)
    }
}

impl Hardness {
    /// All of them, softest first.
    pub const ALL: [Hardness; 7] = [
        Hardness::Annealed,
        Hardness::EighthHard,
        Hardness::QuarterHard,
        Hardness::HalfHard,
        Hardness::Hard,
        Hardness::ExtraHard,
        Hardness::SpringHard,
    ];

    /// The word printed, such as "half hard".
    pub const fn word(self) -> &'static str {
        match self {
            Hardness::Annealed => "annealed",
            Hardness::EighthHard => "eighth hard",
            Hardness::QuarterHard => "quarter hard",
            Hardness::HalfHard => "half hard",
            Hardness::Hard => "hard",
            Hardness::ExtraHard => "extra hard",
            Hardness::SpringHard => "spring hard",
        }
    }

    /// Reads the words people use: "soft" and "dead soft" are annealed, "spring" is spring hard.
    ///
    /// # Units
    /// None.
    /// # Validity
    /// Words of the trade and the usual temper numbers of copper alloys, in any case.
    /// # Source
    /// Common practice, no source.
    ///
    /// ```
    /// use linkwright_calc::metal::Hardness;
    /// assert_eq!(Hardness::from_words("dead-soft"), Some(Hardness::Annealed));
    /// assert_eq!(Hardness::from_words("1/2 hard"), Some(Hardness::HalfHard));
    /// assert_eq!(Hardness::from_words("number 3 hard"), None);
    /// ```
    pub fn from_words(words: &str) -> Option<Hardness> {
        Some(match Name::plain(words).as_str() {
            "annealed" | "soft" | "dead soft" | "fully soft" => Hardness::Annealed,
            "eighth hard" | "1/8 hard" | "h00" => Hardness::EighthHard,
            "quarter hard" | "1/4 hard" | "h01" => Hardness::QuarterHard,
            "half hard" | "1/2 hard" | "h02" => Hardness::HalfHard,
            "hard" | "full hard" | "fully hard" | "hard drawn" | "h04" => Hardness::Hard,
            "extra hard" | "h06" => Hardness::ExtraHard,
            "spring hard" | "spring" | "spring temper" | "h08" => Hardness::SpringHard,
            _ => return None,
        })
    }
}

impl fmt::Display for Hardness {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}
