//! The coil to aim at for a wanted closed ring: the inverse of cutting and closing.

use super::bracket::crossing;
use super::{Ring, RingError, RingInput};
use crate::coil::Pitch;
use crate::limits::INSIDE_DIAMETER;
use crate::quantity::Length;
use crate::slit::Kerf;
use crate::wire::Wire;

/// The ring wanted, closed flush, and what it is cut with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OpenForClosed {
    /// The wire.
    pub wire: Wire,
    /// Inside diameter wanted once closed.
    pub closed_inside: Length,
    /// The slot the blade leaves.
    pub kerf: Kerf,
    /// Advance of the sprung coil per turn.
    pub pitch: Pitch,
}

/// Inside diameter of the sprung coil whose rings close flush to the wanted inside diameter.
///
/// Solves `L_ring(ID) = pi (ID_c + d)` for `ID`, exactly and not by the first order of
/// [`Ring::closed_inside`]; the left side rises with `ID`.
///
/// # Units
/// Lengths.
/// # Validity
/// As [`Ring::cut`].
/// # Errors
/// [`RingError::NoCoilCloses`] if even the smallest coil the kerf leaves whole closes to more;
/// [`RingError::Limit`], [`RingError::PitchBelowWire`] as [`Ring::cut`].
/// # Source
/// Own derivation, `docs/theory/ring.md`, section 2.
///
/// ```
/// use linkwright_calc::{coil::Pitch, quantity::Length, slit::Kerf, wire::Wire};
/// use linkwright_calc::ring::{OpenForClosed, coil_inside_for_closed};
/// let coil_inside = coil_inside_for_closed(OpenForClosed {
///     wire: Wire::new(Length::from_mm(1.02)).unwrap(),
///     closed_inside: Length::from_mm(4.07),
///     kerf: Kerf::new(Length::from_mm(0.25)).unwrap(),
///     pitch: Pitch::new(Length::from_mm(1.0302)).unwrap(),
/// }).unwrap();
/// assert!((coil_inside.mm() - 4.139).abs() < 0.0005);
/// ```
pub fn coil_inside_for_closed(wanted: OpenForClosed) -> Result<Length, RingError> {
    let OpenForClosed { wire, closed_inside, kerf, pitch } = wanted;
    let wanted_mm = INSIDE_DIAMETER.named("closed_inside_diameter_mm").check(closed_inside.mm())?;
    let closes_to_mm = |coil_inside_mm: f64| {
        let coil_inside = Length::from_mm(coil_inside_mm);
        let input = RingInput { wire, coil_inside, kerf, pitch };
        Ring::cut(input).map(|ring| ring.closed_inside().mm())
    };
    let k_mm = kerf.width().mm();
    // The narrowest coil that the slot does not cut in two; the next number above the kerf.
    let low_mm = INSIDE_DIAMETER.low.max(k_mm.next_up());
    let least_mm = closes_to_mm(low_mm)?;
    if wanted_mm < least_mm {
        return Err(RingError::NoCoilCloses {
            closed_inside_diameter_mm: wanted_mm,
            closed_inside_diameter_mm_min: least_mm,
        });
    }
    // Closing takes off less than half a kerf, since asin(x) <= pi x / 2.
    let high_mm = (wanted_mm + k_mm).clamp(low_mm, INSIDE_DIAMETER.high);
    let most_mm = closes_to_mm(high_mm)?;
    if wanted_mm > most_mm {
        INSIDE_DIAMETER.named("coil_inside_diameter_mm").check(wanted_mm + (high_mm - most_mm))?;
    }
    // Both ends were cut without an error, and so is every coil between them.
    let coil_inside_mm = crossing(low_mm, high_mm, |coil_inside_mm| {
        closes_to_mm(coil_inside_mm).map_or(f64::NAN, |closed_mm| closed_mm - wanted_mm)
    });
    Ok(Length::from_mm(coil_inside_mm))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert, proptest};

    use super::{OpenForClosed, coil_inside_for_closed};
    use crate::coil::Pitch;
    use crate::quantity::Length;
    use crate::ring::{Ring, RingError, RingInput};
    use crate::slit::Kerf;
    use crate::wire::Wire;

    fn wire(d_mm: f64) -> Wire {
        Wire::new(Length::from_mm(d_mm)).unwrap()
    }
    fn kerf(k_mm: f64) -> Kerf {
        Kerf::new(Length::from_mm(k_mm)).unwrap()
    }
    fn pitch(p_mm: f64) -> Pitch {
        Pitch::new(Length::from_mm(p_mm)).unwrap()
    }

    proptest! {
        #[test]
        fn opening_undoes_closing(
            d_mm in 0.2..4.0_f64, ratio in 0.6..12.0_f64, kerf_share in 0.02..0.9_f64, gap in 1.0..3.0,
        ) {
            let coil_inside_mm = d_mm * ratio;
            let k_mm = (kerf_share * coil_inside_mm).clamp(0.01, 6.0);
            let ring = Ring::cut(RingInput {
                wire: wire(d_mm), coil_inside: Length::from_mm(coil_inside_mm), kerf: kerf(k_mm),
                pitch: pitch(gap * d_mm),
            }).unwrap();
            let back = coil_inside_for_closed(OpenForClosed {
                wire: wire(d_mm), closed_inside: ring.closed_inside(), kerf: kerf(k_mm),
                pitch: pitch(gap * d_mm),
            }).unwrap();
            // The slope is at least a half where the slot is wide, so rounding at most doubles.
            prop_assert!((back.mm() - coil_inside_mm).abs() <= 1e-12 * (coil_inside_mm + d_mm));
        }
    }

    #[test]
    fn a_ring_smaller_than_any_coil_gives_is_refused_with_the_least() {
        let wanted = OpenForClosed {
            wire: wire(1.0),
            closed_inside: Length::from_mm(0.5),
            kerf: kerf(1.0),
            pitch: pitch(1.01),
        };
        let error = coil_inside_for_closed(wanted).unwrap_err();
        let RingError::NoCoilCloses { closed_inside_diameter_mm_min, .. } = error else {
            panic!("another error: {error}");
        };
        // rho = 1, L = hypot(2 pi, 1.01), asin(1/2)/pi = 1/6: 5/6 L / pi - 1 = 0.688.
        assert!((closed_inside_diameter_mm_min - 0.688).abs() < 0.0005);
    }

    #[test]
    fn a_ring_that_needs_a_coil_beyond_the_limit_is_refused_by_name() {
        let wanted = OpenForClosed {
            wire: wire(1.0),
            closed_inside: Length::from_mm(1000.0),
            kerf: kerf(1.0),
            pitch: pitch(1.01),
        };
        let error = coil_inside_for_closed(wanted).unwrap_err().to_string();
        assert!(error.starts_with("coil_inside_diameter_mm is 1000.3"), "{error}");
    }
}
