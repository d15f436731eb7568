//! The window of projections: deep enough to part the wire cleanly, short of the far wall.

use super::{Allowances, Kerf, SlitError};
use crate::coil::InsideDiameter;
use crate::quantity::Length;
use crate::wire::Wire;

/// Projections between which a blade works on one ring, all measured from the coil's top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ProjectionWindow {
    /// The slot first breaks through at its middle.
    pub parts: Length,
    /// The faces are clean over the whole kerf, blade on the axis.
    pub clean: Length,
    /// The faces are clean over the whole kerf with the blade as far off the axis as it is.
    pub clean_with_offset: Length,
    /// The blade, on the axis, touches the far wall of a round coil.
    pub far_wall: Length,
    /// The blade, as far off the axis as it is, touches the far wall of a round coil.
    pub far_wall_with_offset: Length,
    /// Deepest allowed with the blade on the axis: `far_wall` less squash and margin.
    pub most: Length,
    /// Deepest allowed with the blade off the axis: `far_wall_with_offset` less squash and margin.
    pub most_with_offset: Length,
}

/// How far a circle falls away from its top at a distance to the side: `R - sqrt(R^2 - h^2)`.
///
/// # Units
/// Lengths.
/// # Validity
/// `|h| <= R`; beyond it the circle has ended and the answer is not a number.
/// # Source
/// Circle; mechanics D1.
///
/// ```
/// use linkwright_calc::{quantity::Length, slit::sagitta};
/// // 3-4-5 triangle.
/// assert_eq!(sagitta(Length::from_mm(5.0), Length::from_mm(3.0)).mm(), 1.0);
/// ```
pub fn sagitta(radius: Length, aside: Length) -> Length {
    let (r_mm, h_mm) = (radius.mm(), aside.mm());
    // The same as R - sqrt(R^2 - h^2), without the loss of digits for a small h.
    Length::from_mm(h_mm * h_mm / (r_mm + (r_mm * r_mm - h_mm * h_mm).sqrt()))
}

/// Projections at which the slot parts, parts cleanly, and reaches the far wall.
///
/// `parts = d`; `clean = d + s(k/2)`; `clean_with_offset = d + s(|y0| + k/2)`;
/// `far_wall = d + ID - s(k/2)`, the same with `|y0| + k/2` for `far_wall_with_offset`; the most
/// allowed is less by squash and margin. `d` wire, `k` kerf, `y0` blade offset, `ID` inside
/// diameter, `s(h)` the sagitta of the inside circle at `h`: the edge of the slot meets the
/// inside of the ring lower than its middle does, and the far side higher.
///
/// # Units
/// Lengths.
/// # Validity
/// Round coil less its squash; blade plane parallel to the coil's axis.
/// # Errors
/// [`SlitError::SlotBesideBore`] if the slot's edge lies outside the hole.
/// # Source
/// Mechanics D1-D4; own derivation, `docs/theory/slitting.md`, section 1.
///
/// ```
/// use linkwright_calc::coil::InsideDiameter;
/// use linkwright_calc::slit::{Allowances, Kerf, projection_window};
/// use linkwright_calc::{quantity::Length, wire::Wire};
/// let wire = Wire::new(Length::from_mm(1.63)).unwrap();
/// let inside = InsideDiameter::new(Length::from_mm(6.24)).unwrap();
/// let kerf = Kerf::new(Length::from_mm(0.3)).unwrap();
/// let window = projection_window(wire, inside, kerf, Allowances::NONE).unwrap();
/// // A blade 2.2 deep clears the far side by 5.67.
/// assert!((window.far_wall.mm() - 2.2 - 5.67).abs() < 0.005);
/// ```
pub fn projection_window(
    wire: Wire,
    inside: InsideDiameter,
    kerf: Kerf,
    allowances: Allowances,
) -> Result<ProjectionWindow, SlitError> {
    let d = wire.diameter();
    let bore = inside.diameter();
    let radius = Length::from_mm(bore.mm() / 2.0);
    let half_kerf = Length::from_mm(kerf.width().mm() / 2.0);
    let edge = half_kerf + Length::from_mm(allowances.blade_offset().mm().abs());
    if edge > radius {
        return Err(SlitError::SlotBesideBore {
            slot_edge_mm: edge.mm(),
            inside_radius_mm: radius.mm(),
        });
    }
    let sag_centred = sagitta(radius, half_kerf);
    let sag_offset = sagitta(radius, edge);
    let kept_free = allowances.squash() + allowances.margin();
    let far_wall = d + bore - sag_centred;
    let far_wall_with_offset = d + bore - sag_offset;
    Ok(ProjectionWindow {
        parts: d,
        clean: d + sag_centred,
        clean_with_offset: d + sag_offset,
        far_wall,
        far_wall_with_offset,
        most: far_wall - kept_free,
        most_with_offset: far_wall_with_offset - kept_free,
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::slit::AllowanceParts;

    fn at(k: f64, offset_mm: f64) -> ProjectionWindow {
        let length = |mm: f64| Length::from_mm(mm * k);
        projection_window(
            Wire::new(length(1.3)).unwrap(),
            InsideDiameter::new(length(5.0)).unwrap(),
            Kerf::new(length(0.3)).unwrap(),
            Allowances::new(AllowanceParts {
                blade_offset: length(offset_mm),
                squash: length(0.1),
                margin: length(0.2),
                hub_clearance: length(0.0),
            })
            .unwrap(),
        )
        .unwrap()
    }

    #[test]
    fn a_slot_beside_the_hole_is_refused() {
        let wire = Wire::new(Length::from_mm(0.8)).unwrap();
        let inside = InsideDiameter::new(Length::from_mm(2.0)).unwrap();
        let kerf = Kerf::new(Length::from_mm(2.5)).unwrap();
        assert_eq!(
            projection_window(wire, inside, kerf, Allowances::NONE),
            Err(SlitError::SlotBesideBore { slot_edge_mm: 1.25, inside_radius_mm: 1.0 })
        );
    }

    proptest! {
        #[test]
        fn the_window_scales_as_a_length(k in 0.2..5.0) {
            let (small, large) = (at(1.0, 0.4), at(k, 0.4));
            for (a, b) in [(small.clean_with_offset, large.clean_with_offset), (small.most, large.most)] {
                prop_assert!((b.mm() - k * a.mm()).abs() <= 1e-12 * b.mm()); // rounding
            }
        }

        #[test]
        fn a_blade_off_the_axis_narrows_the_window_from_both_ends(offset_mm in 0.01..2.0) {
            let (centred, beside, other_side) = (at(1.0, 0.0), at(1.0, offset_mm), at(1.0, -offset_mm));
            prop_assert!(beside.clean_with_offset > centred.clean_with_offset);
            prop_assert!(beside.most_with_offset < centred.most_with_offset);
            prop_assert_eq!(beside, other_side);
        }
    }
}
