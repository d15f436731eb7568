//! Once a turn is cut, the clamp closes its slit on the blade.

use std::f64::consts::PI;

use super::{HeldTurn, HoldError};
use crate::limits::{FORCE, SQUEEZE};
use crate::quantity::{Force, Length};

/// Where the slit lies to the plates that hold the turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SlitAt {
    /// Half way between the plates: they press at a right angle to the slit.
    BesidePlates,
    /// Under one plate, which bears on both lips of the slit.
    UnderPlate,
}

impl SlitAt {
    /// Approach of the plates and closing of the slit, as multiples of `P R^3 / EI`.
    const fn flexibilities(self) -> (f64, f64) {
        match self {
            SlitAt::BesidePlates => (PI / 2.0, 2.0 + PI / 2.0),
            SlitAt::UnderPlate => (PI / 4.0, 2.0),
        }
    }
}

/// A cut turn under a constant force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutTurn {
    /// How far the plates have come together.
    pub approach: Length,
    /// How much narrower the slit is.
    pub slit_closes: Length,
}

/// How far a cut turn gives under a force that stays the same.
///
/// With `c1 = P R^3 / EI`: slit beside the plates, approach `(pi/2) c1`, slit closes
/// `(2 + pi/2) c1`; slit under a plate, approach `(pi/4) c1`, slit closes `2 c1`.
///
/// # Units
/// Force per turn in, lengths out.
/// # Validity
/// Thin elastic ring, as long as the slit is open; a spring or a hand keeps its force.
/// # Errors
/// [`HoldError::Limit`] if the force is outside [`FORCE`].
/// # Source
/// Mechanics C7; own derivation, `docs/theory/holding.md`, section 4.
///
/// ```
/// use linkwright_calc::coil::InsideDiameter;
/// use linkwright_calc::hold::{HeldTurn, HeldTurnParts, SlitAt, cut_turn_under_force};
/// use linkwright_calc::quantity::{Force, Length, Stress};
/// use linkwright_calc::wire::Wire;
/// let turn = HeldTurn::new(HeldTurnParts {
///     wire: Wire::new(Length::from_mm(1.0)).unwrap(),
///     inside: InsideDiameter::new(Length::from_mm(4.0)).unwrap(),
///     youngs_modulus: Stress::from_mpa(110_000.0),
///     poisson_ratio: 0.34,
///     yield_strength: Stress::from_mpa(450.0),
/// }).unwrap();
/// let cut = cut_turn_under_force(turn, Force::from_n(10.0), SlitAt::BesidePlates).unwrap();
/// // Ten times the give of the whole ring: half of it was held by the part now cut.
/// let whole = turn.thin_ring(Force::from_n(10.0)).unwrap();
/// assert!((cut.approach.mm() / whole.shortening.mm() - 10.56).abs() < 0.005);
/// ```
pub fn cut_turn_under_force(
    turn: HeldTurn,
    force: Force,
    slit_at: SlitAt,
) -> Result<CutTurn, HoldError> {
    let c1_mm = FORCE.check(force.n())? * turn.give_mm_per_n();
    let (approach, closing) = slit_at.flexibilities();
    Ok(CutTurn {
        approach: Length::from_mm(approach * c1_mm),
        slit_closes: Length::from_mm(closing * c1_mm),
    })
}

/// How much a slit closes between plates locked at a distance that had squeezed the whole turn.
///
/// The cut turn is softer and the plates do not follow, so the slit closes by a fixed multiple of
/// the squeeze: `(2 + pi/2)/(pi/2) = 2.273` beside the plates, `8/pi = 2.546` under one.
///
/// # Units
/// Lengths; the squeeze is the elastic one, as of [`HeldTurn::curved_ring`].
/// # Validity
/// Elastic; the multiple is that of thin rings.
/// # Errors
/// [`HoldError::Limit`] if the squeeze is outside [`SQUEEZE`].
/// # Source
/// Mechanics C8, the ratio of C7; own derivation, `docs/theory/holding.md`, section 4.
///
/// ```
/// use linkwright_calc::hold::{SlitAt, slit_closes_between_locked_plates};
/// use linkwright_calc::quantity::Length;
/// let squeeze = Length::from_mm(0.07);
/// let closes = slit_closes_between_locked_plates(squeeze, SlitAt::BesidePlates).unwrap();
/// assert!((closes.mm() - 0.16).abs() < 0.005); // half of a 0.3 mm kerf
/// ```
pub fn slit_closes_between_locked_plates(
    squeeze: Length,
    slit_at: SlitAt,
) -> Result<Length, HoldError> {
    let (approach, closing) = slit_at.flexibilities();
    Ok(Length::from_mm(SQUEEZE.check(squeeze.mm())? * closing / approach))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::coil::InsideDiameter;
    use crate::hold::HeldTurnParts;
    use crate::quantity::Stress;
    use crate::wire::Wire;

    /// Unit-load integration round the cut ring, `int M m R dtheta`, with `P = R = EI = 1`.
    ///
    /// `theta` runs from the slit's lip to the point opposite; the two halves mirror each other.
    fn integrate(load: impl Fn(f64) -> f64, unit: impl Fn(f64) -> f64) -> f64 {
        let steps = 20_000;
        let step = PI / f64::from(steps);
        let half: f64 = (0..steps)
            .map(|i| (f64::from(i) + 0.5) * step)
            .map(|theta| load(theta) * unit(theta) * step)
            .sum();
        2.0 * half
    }

    /// Closing the slit: a pair of unit forces on its lips, arm `1 - cos(theta)`.
    fn lips(theta: f64) -> f64 {
        1.0 - theta.cos()
    }

    #[test]
    fn the_slit_beside_the_plates_closes_as_integrated() {
        // The plates press half way round, at theta = pi/2; each half carries P over the far
        // quarter with arm -cos(theta).
        let plates = |theta: f64| if theta > PI / 2.0 { -theta.cos() } else { 0.0 };
        let (approach, closing) = SlitAt::BesidePlates.flexibilities();
        // Midpoint rule over 20 000 steps: relative error some 1e-9.
        assert!((integrate(plates, plates) - approach).abs() < 1e-7);
        assert!((integrate(plates, lips) - closing).abs() < 1e-7);
    }

    #[test]
    fn the_slit_under_a_plate_closes_as_integrated() {
        // Half of P on each lip, along the line through the slit: arm sin(theta).
        let plate = |theta: f64| theta.sin() / 2.0;
        let (approach, closing) = SlitAt::UnderPlate.flexibilities();
        assert!((integrate(plate, plate) - approach).abs() < 1e-7);
        assert!((integrate(plate, lips) - closing).abs() < 1e-7);
    }

    #[test]
    fn locked_plates_close_the_slit_by_the_ratio_of_the_two() {
        let turn = HeldTurn::new(HeldTurnParts {
            wire: Wire::new(Length::from_mm(1.0)).unwrap(),
            inside: InsideDiameter::new(Length::from_mm(4.0)).unwrap(),
            youngs_modulus: Stress::from_mpa(110_000.0),
            poisson_ratio: 0.34,
            yield_strength: Stress::from_mpa(450.0),
        })
        .unwrap();
        for (slit_at, printed) in [(SlitAt::BesidePlates, 2.273), (SlitAt::UnderPlate, 2.546)] {
            let cut = cut_turn_under_force(turn, Force::from_n(7.0), slit_at).unwrap();
            let locked = slit_closes_between_locked_plates(cut.approach, slit_at).unwrap();
            assert!((locked.mm() / cut.slit_closes.mm() - 1.0).abs() < 1e-12); // rounding
            assert!((locked.mm() / cut.approach.mm() - printed).abs() < 0.0005);
        }
    }
}
