//! The three turn counts, as three types that cannot be mixed.

use std::fmt;

use crate::quantity::Length;
use crate::wind::Mandrel;
use crate::wire::Wire;

/// Whole turns wound on the mandrel: what the counter at the crank shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct WoundTurns(u32);

/// Turns left after the coil has sprung open; not whole in general.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct RelaxedTurns(f64);

/// Whole rings left after the ends and the stop have taken theirs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct GoodRings(u32);

impl WoundTurns {
    /// From a count of turns.
    pub const fn new(turns: u32) -> WoundTurns {
        WoundTurns(turns)
    }

    /// The count.
    pub const fn get(self) -> u32 {
        self.0
    }

    /// Turns left once the end is let go: `N (D + d) / (ID + d)`, since the wire keeps its length.
    ///
    /// # Units
    /// Turns in and out; `coil_inside` is the inside diameter after springback.
    /// # Validity
    /// Pitch small against the diameter: the helix changes the ratio by less than 0.1 % for
    /// touching turns at an aspect ratio of 3.
    /// # Source
    /// Constant wire length; own derivation, `docs/theory/coil.md`.
    ///
    /// ```
    /// use linkwright_calc::{coil::WoundTurns, quantity::Length, wind::Mandrel, wire::Wire};
    /// // 47 wound on 4.00 with 1.02 wire, sprung to 4.14: 45.7 left.
    /// let wire = Wire::new(Length::from_mm(1.02)).unwrap();
    /// let mandrel = Mandrel::new(Length::from_mm(4.0)).unwrap();
    /// let left = WoundTurns::new(47).relaxed(wire, mandrel, Length::from_mm(4.14));
    /// assert!((left.get() - 45.72).abs() < 0.005);
    /// ```
    pub fn relaxed(self, wire: Wire, mandrel: Mandrel, coil_inside: Length) -> RelaxedTurns {
        RelaxedTurns(f64::from(self.0) * wound_over_relaxed_radius(wire, mandrel, coil_inside))
    }
}

impl RelaxedTurns {
    /// From a number of turns, whole or not.
    pub const fn new(turns: f64) -> RelaxedTurns {
        RelaxedTurns(turns)
    }

    /// The number of turns.
    pub const fn get(self) -> f64 {
        self.0
    }

    /// Inside diameter that the coil must have sprung to: `ID = (N / n) (D + d) - d`, with `N` turns
    /// wound and `n` left, so that counting turns reads the springback without a calliper.
    ///
    /// # Units
    /// Turns in, a length out.
    /// # Validity
    /// As [`WoundTurns::relaxed`]; half a turn miscounted in 46 is 1 % of the mean diameter.
    /// # Source
    /// Inverse of [`WoundTurns::relaxed`] for the diameter.
    ///
    /// ```
    /// use linkwright_calc::coil::{RelaxedTurns, WoundTurns};
    /// use linkwright_calc::{quantity::Length, wind::Mandrel, wire::Wire};
    /// let wire = Wire::new(Length::from_mm(1.02)).unwrap();
    /// let mandrel = Mandrel::new(Length::from_mm(4.0)).unwrap();
    /// let sprung = RelaxedTurns::new(45.72).sprung_to(WoundTurns::new(47), wire, mandrel);
    /// assert!((sprung.mm() - 4.14).abs() < 0.001);
    /// ```
    pub fn sprung_to(self, wound: WoundTurns, wire: Wire, mandrel: Mandrel) -> Length {
        let d_mm = wire.diameter().mm();
        let mean_mm = f64::from(wound.0) / self.0 * (mandrel.diameter().mm() + d_mm);
        Length::from_mm(mean_mm - d_mm)
    }

    /// Fewest whole turns to wind so that at least this many are left after release.
    ///
    /// # Units
    /// Turns in and out; `coil_inside` is the inside diameter after springback.
    /// # Validity
    /// As [`WoundTurns::relaxed`]; a shortfall below one millionth of a turn is not made up.
    /// # Source
    /// Inverse of [`WoundTurns::relaxed`], rounded up.
    ///
    /// ```
    /// use linkwright_calc::{coil::RelaxedTurns, quantity::Length, wind::Mandrel, wire::Wire};
    /// let wire = Wire::new(Length::from_mm(1.02)).unwrap();
    /// let mandrel = Mandrel::new(Length::from_mm(4.0)).unwrap();
    /// let wound = RelaxedTurns::new(45.0).to_wind(wire, mandrel, Length::from_mm(4.14));
    /// assert_eq!(wound.get(), 47);
    /// ```
    pub fn to_wind(self, wire: Wire, mandrel: Mandrel, coil_inside: Length) -> WoundTurns {
        let exact = self.0 / wound_over_relaxed_radius(wire, mandrel, coil_inside);
        // `as` saturates; the door keeps turn counts far below the limit of u32.
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "ceil of a small positive number"
        )]
        WoundTurns((exact - 1e-6).ceil() as u32)
    }
}

impl GoodRings {
    /// From a count of rings.
    pub const fn new(rings: u32) -> GoodRings {
        GoodRings(rings)
    }

    /// The count.
    pub const fn get(self) -> u32 {
        self.0
    }
}

fn wound_over_relaxed_radius(wire: Wire, mandrel: Mandrel, coil_inside: Length) -> f64 {
    let d_mm = wire.diameter().mm();
    (mandrel.diameter().mm() + d_mm) / (coil_inside.mm() + d_mm)
}

impl fmt::Display for WoundTurns {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} wound turns", self.0)
    }
}

impl fmt::Display for RelaxedTurns {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:.1} relaxed turns", self.0)
    }
}

impl fmt::Display for GoodRings {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} good rings", self.0)
    }
}
