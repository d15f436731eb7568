//! A one-in-one chain pulled straight: its length, and the rings for a wanted length.

use crate::limits::{INSIDE_DIAMETER, LENGTH, LimitError};
use crate::quantity::Length;
use crate::wire::Wire;

/// A chain of closed rings, one through the next, pulled straight, with its clasp.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StraightChain {
    wire: Wire,
    closed_inside: Length,
    clasp: Length,
}

/// So many rings and the length they pull to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChainLength {
    /// Rings in the chain.
    pub rings: u32,
    /// Length over all, clasp included.
    pub length: Length,
}

/// The whole numbers of rings on both sides of a wanted length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RingsForLength {
    /// Most rings that stay within the length; none if not even one ring fits.
    pub below: Option<ChainLength>,
    /// Fewest rings that reach the length.
    pub above: ChainLength,
}

impl StraightChain {
    /// A chain of rings of this wire and closed inside diameter; `clasp` is nothing where the length
    /// is asked without it.
    ///
    /// # Units
    /// Lengths.
    /// # Validity
    /// `closed_inside` is the closed ring, not the coil and not the mandrel.
    /// # Errors
    /// [`LimitError`] if the inside diameter or the clasp is outside its limits.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, ring::StraightChain, wire::Wire};
    /// let wire = Wire::new(Length::from_mm(1.02)).unwrap();
    /// let mm = Length::from_mm;
    /// assert!(StraightChain::new(wire, mm(4.071), mm(12.0)).is_ok());
    /// assert!(StraightChain::new(wire, mm(4.071), mm(-12.0)).is_err());
    /// ```
    pub fn new(
        wire: Wire,
        closed_inside: Length,
        clasp: Length,
    ) -> Result<StraightChain, LimitError> {
        INSIDE_DIAMETER.named("closed_inside_diameter_mm").check(closed_inside.mm())?;
        LENGTH.named("clasp_mm").check(clasp.mm())?;
        Ok(StraightChain { wire, closed_inside, clasp })
    }

    /// Length over all of `n` rings: `n ID_c + 2 d + clasp`.
    ///
    /// # Units
    /// A count in, a length out.
    /// # Validity
    /// Each ring pulls against the wire of the next, round and unstretched; `n` of nought gives the
    /// clasp alone.
    /// # Source
    /// Geometry of touching rings; `docs/theory/ring.md`, section 6.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, ring::StraightChain, wire::Wire};
    /// let wire = Wire::new(Length::from_mm(1.02)).unwrap();
    /// let mm = Length::from_mm;
    /// let chain = StraightChain::new(wire, mm(4.0706), mm(12.0)).unwrap();
    /// assert!((chain.length(107).mm() - 449.6).abs() < 0.05);
    /// ```
    pub fn length(self, rings: u32) -> Length {
        if rings == 0 {
            return self.clasp;
        }
        let ends_mm = 2.0 * self.wire.diameter().mm() + self.clasp.mm();
        Length::from_mm(f64::from(rings) * self.closed_inside.mm() + ends_mm)
    }

    /// The rings on both sides of a wanted length, with the lengths they pull to.
    ///
    /// # Units
    /// A length in, counts and lengths out.
    /// # Validity
    /// A length met to one part in a million million counts as met: below and above are then one.
    /// # Errors
    /// [`LimitError`] if the length is outside [`LENGTH`].
    /// # Source
    /// Inverse of [`length`](StraightChain::length).
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, ring::StraightChain, wire::Wire};
    /// let wire = Wire::new(Length::from_mm(1.02)).unwrap();
    /// let mm = Length::from_mm;
    /// let chain = StraightChain::new(wire, mm(4.0706), mm(12.0)).unwrap();
    /// let offer = chain.rings_for_length(mm(450.0)).unwrap();
    /// assert_eq!((offer.below.unwrap().rings, offer.above.rings), (107, 108));
    /// assert_eq!(offer.nearest(mm(450.0)).rings, 107);
    /// ```
    pub fn rings_for_length(self, length: Length) -> Result<RingsForLength, LimitError> {
        let length_mm = LENGTH.check(length.mm())?;
        let ends_mm = 2.0 * self.wire.diameter().mm() + self.clasp.mm();
        let rings = (length_mm - ends_mm) / self.closed_inside.mm();
        let slack = 1e-12 * (length_mm + ends_mm) / self.closed_inside.mm();
        let at = |rings: f64| {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "whole, positive, at most the length limit over the least diameter: 1e9"
            )]
            let rings = rings as u32;
            ChainLength { rings, length: self.length(rings) }
        };
        let below = (rings + slack).floor();
        let above = (rings - slack).ceil().max(1.0);
        Ok(RingsForLength { below: (below >= 1.0).then(|| at(below)), above: at(above) })
    }
}

impl RingsForLength {
    /// The one whose length is nearest to `length`; of two equally near, the shorter.
    ///
    /// # Units
    /// A length in, a count and a length out.
    /// # Validity
    /// `length` is the one these were worked out for.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, ring::StraightChain, wire::Wire};
    /// let wire = Wire::new(Length::from_mm(1.0)).unwrap();
    /// let mm = Length::from_mm;
    /// let chain = StraightChain::new(wire, mm(4.0), mm(0.0)).unwrap();
    /// assert_eq!(chain.rings_for_length(mm(24.0)).unwrap().nearest(mm(24.0)).rings, 5);
    /// ```
    pub fn nearest(self, length: Length) -> ChainLength {
        match self.below {
            Some(below)
                if length.mm() - below.length.mm() <= self.above.length.mm() - length.mm() =>
            {
                below
            }
            _ => self.above,
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert, prop_assert_eq, proptest};

    use super::StraightChain;
    use crate::quantity::Length;
    use crate::wire::Wire;

    fn chain(d_mm: f64, closed_inside_mm: f64, clasp_mm: f64) -> StraightChain {
        let wire = Wire::new(Length::from_mm(d_mm)).unwrap();
        let mm = Length::from_mm;
        StraightChain::new(wire, mm(closed_inside_mm), mm(clasp_mm)).unwrap()
    }

    #[test]
    fn a_length_too_short_for_one_ring_offers_one_ring_only() {
        let offer = chain(1.0, 4.0, 12.0).rings_for_length(Length::from_mm(15.0));
        let offer = offer.unwrap();
        assert_eq!(offer.below, None);
        assert_eq!(offer.nearest(Length::from_mm(15.0)).rings, 1);
    }

    proptest! {
        #[test]
        fn the_length_of_whole_rings_gives_those_rings_back(
            rings in 1_u32..100_000, d_mm in 0.2..4.0, ratio in 2.0..8.0, clasp_mm in 0.0..30.0,
        ) {
            let chain = chain(d_mm, ratio * d_mm, clasp_mm);
            let offer = chain.rings_for_length(chain.length(rings)).unwrap();
            prop_assert_eq!(offer.below.map(|below| below.rings), Some(rings));
            prop_assert_eq!(offer.above.rings, rings);
        }

        #[test]
        fn the_two_offers_are_neighbours_around_the_length(
            length_mm in 30.0..5000.0, d_mm in 0.2..4.0, ratio in 2.0..6.0,
        ) {
            let offer = chain(d_mm, ratio * d_mm, 0.0).rings_for_length(Length::from_mm(length_mm));
            let offer = offer.unwrap();
            let Some(below) = offer.below else { return Ok(()) };
            prop_assert!(below.length.mm() <= length_mm * (1.0 + 1e-12)); // the stated slack
            prop_assert!(offer.above.length.mm() >= length_mm * (1.0 - 1e-12));
            prop_assert!(offer.above.rings - below.rings <= 1);
        }
    }
}
