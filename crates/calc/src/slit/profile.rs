//! The blade's circle over the coil: how deep it cuts along the axis, and which turns it severs.

use super::{Blade, Projection, SlitError};
use crate::quantity::Length;
use crate::wire::Wire;

/// Depth of the blade's edge below the coil's top at a distance along the axis from its centre.
///
/// `depth(s) = sqrt((Db/2)^2 - s^2) - (Db/2 - c)`: `Db` blade diameter, `c` projection; nothing
/// where the edge is above the coil.
///
/// # Units
/// Lengths; `along` may be to either side.
/// # Validity
/// Blade plane through the coil's axis and parallel to it.
/// # Errors
/// [`SlitError::PastBladeCentre`] if the projection exceeds the blade's radius.
/// # Source
/// Circle; mechanics D5.
///
/// ```
/// use linkwright_calc::{quantity::Length, slit::{Blade, BladeParts, Kerf, Projection, depth_at}};
/// let blade = Blade::new(BladeParts {
///     diameter: Length::from_mm(20.0),
///     kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
///     teeth: None,
///     hub_diameter: None,
/// }).unwrap();
/// let projection = Projection::new(Length::from_mm(4.0)).unwrap();
/// // 6-8-10 triangle: the edge is 8 below the centre, which is 6 above the coil.
/// assert_eq!(depth_at(blade, projection, Length::from_mm(6.0)).unwrap().mm(), 2.0);
/// assert_eq!(depth_at(blade, projection, Length::from_mm(9.0)).unwrap().mm(), 0.0);
/// ```
pub fn depth_at(blade: Blade, projection: Projection, along: Length) -> Result<Length, SlitError> {
    let c_mm = blade.reaching(projection.depth().mm())?;
    Ok(Length::from_mm(depth_at_mm(blade.diameter().mm(), c_mm, along.mm())))
}

/// Half the length of the coil's top that the blade covers: `sqrt(c (Db - c))`.
///
/// This is the lead-in the blade needs before a flat bar; a round wire wants a little more, see
/// [`touched_reach`].
///
/// # Units
/// Lengths.
/// # Validity
/// As [`depth_at`].
/// # Errors
/// [`SlitError::PastBladeCentre`] if the projection exceeds the blade's radius.
/// # Source
/// Chord of a circle; mechanics D5.
///
/// ```
/// use linkwright_calc::{quantity::Length, slit::{Blade, BladeParts, Kerf, Projection, half_chord}};
/// let blade = Blade::new(BladeParts {
///     diameter: Length::from_mm(20.0),
///     kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
///     teeth: None,
///     hub_diameter: None,
/// }).unwrap();
/// let projection = Projection::new(Length::from_mm(4.0)).unwrap();
/// assert_eq!(half_chord(blade, projection).unwrap().mm(), 8.0); // 6-8-10 triangle
/// ```
pub fn half_chord(blade: Blade, projection: Projection) -> Result<Length, SlitError> {
    let c_mm = blade.reaching(projection.depth().mm())?;
    Ok(Length::from_mm(half_chord_mm(blade.diameter().mm(), c_mm)))
}

/// Distance along the axis from the blade's centre within which a turn is severed.
///
/// `s6 = sqrt((c' - d)(Db - c'))` with `c' = c - sagitta`: the whole section of the wire, not
/// only its centre line, lies inside the disc.
///
/// # Units
/// Lengths; `sag` is the curve of the bore across the slot, nothing if left out of account.
/// # Validity
/// As [`depth_at`].
/// # Errors
/// - [`SlitError::DoesNotReach`] if `c' < d`, so that no turn is severed anywhere;
/// - [`SlitError::PastBladeCentre`] if the projection exceeds the blade's radius.
/// # Source
/// Mechanics D6; own derivation, `docs/theory/slitting.md`, section 3.
///
/// ```
/// use linkwright_calc::slit::{Blade, BladeParts, Kerf, Projection, severed_reach};
/// use linkwright_calc::{quantity::Length, wire::Wire};
/// let blade = Blade::new(BladeParts {
///     diameter: Length::from_mm(31.75),
///     kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
///     teeth: None,
///     hub_diameter: None,
/// }).unwrap();
/// let wire = Wire::new(Length::from_mm(1.63)).unwrap();
/// let reach = |c_mm| {
///     let projection = Projection::new(Length::from_mm(c_mm)).unwrap();
///     severed_reach(blade, projection, wire, Length::from_mm(0.0))
/// };
/// assert!((reach(2.2).unwrap().mm() - 4.10).abs() < 0.005);
/// assert!(reach(1.6).is_err());
/// ```
pub fn severed_reach(
    blade: Blade,
    projection: Projection,
    wire: Wire,
    sag: Length,
) -> Result<Length, SlitError> {
    let c_mm = blade.reaching(projection.depth().mm())?;
    let d_mm = wire.diameter().mm();
    let needed_mm = d_mm + sag.mm();
    if c_mm < needed_mm {
        return Err(SlitError::DoesNotReach {
            projection_mm: c_mm,
            needed_mm,
            short_by_mm: needed_mm - c_mm,
        });
    }
    let reach_mm = severed_reach_mm(blade.diameter().mm(), c_mm - sag.mm(), d_mm);
    Ok(Length::from_mm(reach_mm))
}

/// Distance along the axis from the blade's centre within which a turn is touched at all.
///
/// `s7 = sqrt(c (Db - c + d))`: the section of the wire and the disc just meet.
///
/// # Units
/// Lengths.
/// # Validity
/// As [`depth_at`].
/// # Errors
/// [`SlitError::PastBladeCentre`] if the projection exceeds the blade's radius.
/// # Source
/// Mechanics D7; own derivation, `docs/theory/slitting.md`, section 3.
///
/// ```
/// use linkwright_calc::slit::{Blade, BladeParts, Kerf, Projection, touched_reach};
/// use linkwright_calc::{quantity::Length, wire::Wire};
/// let blade = Blade::new(BladeParts {
///     diameter: Length::from_mm(31.75),
///     kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
///     teeth: None,
///     hub_diameter: None,
/// }).unwrap();
/// let wire = Wire::new(Length::from_mm(1.63)).unwrap();
/// let projection = Projection::new(Length::from_mm(2.2)).unwrap();
/// let reach_mm = touched_reach(blade, projection, wire).unwrap().mm();
/// assert!((reach_mm - 8.28).abs() < 0.005);
/// ```
pub fn touched_reach(
    blade: Blade,
    projection: Projection,
    wire: Wire,
) -> Result<Length, SlitError> {
    let c_mm = blade.reaching(projection.depth().mm())?;
    let reach_mm = touched_reach_mm(blade.diameter().mm(), c_mm, wire.diameter().mm());
    Ok(Length::from_mm(reach_mm))
}

/// [`depth_at`] in bare millimetres, for `0 <= c <= Db/2`.
pub(super) fn depth_at_mm(blade_mm: f64, c_mm: f64, along_mm: f64) -> f64 {
    if along_mm.abs() >= half_chord_mm(blade_mm, c_mm) {
        return 0.0;
    }
    let radius_mm = blade_mm / 2.0;
    (radius_mm * radius_mm - along_mm * along_mm).sqrt() - (radius_mm - c_mm)
}

/// [`half_chord`] in bare millimetres, for `0 <= c <= Db`.
pub(super) fn half_chord_mm(blade_mm: f64, c_mm: f64) -> f64 {
    (c_mm * (blade_mm - c_mm)).sqrt()
}

/// [`severed_reach`] in bare millimetres, for `d <= c <= Db/2`.
pub(super) fn severed_reach_mm(blade_mm: f64, c_mm: f64, d_mm: f64) -> f64 {
    ((c_mm - d_mm) * (blade_mm - c_mm)).sqrt()
}

/// [`touched_reach`] in bare millimetres, for `0 <= c <= Db/2`.
pub(super) fn touched_reach_mm(blade_mm: f64, c_mm: f64, d_mm: f64) -> f64 {
    (c_mm * (blade_mm - c_mm + d_mm)).sqrt()
}

#[cfg(test)]
mod tests {
    use std::f64::consts::TAU;

    use proptest::prelude::*;

    use super::*;

    /// Furthest any point of the section, and nearest, lies from the blade's centre: by walking
    /// round the section, with no use of the formulas above.
    fn section_from_centre_mm(blade_mm: f64, c_mm: f64, d_mm: f64, along_mm: f64) -> (f64, f64) {
        let centre_above_mm = blade_mm / 2.0 - c_mm;
        (0..20_000).fold((0.0_f64, f64::INFINITY), |(far, near), step| {
            let (sin, cos) = (TAU * f64::from(step) / 20_000.0).sin_cos();
            let x_mm = along_mm + d_mm / 2.0 * cos;
            let y_mm = centre_above_mm + d_mm / 2.0 + d_mm / 2.0 * sin;
            let from_centre_mm = x_mm.hypot(y_mm);
            (far.max(from_centre_mm), near.min(from_centre_mm))
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        #[test]
        fn points_of_the_section_agree_with_both_reaches(
            blade_mm in 15.0..60.0, d_mm in 0.3..2.5, deeper in 0.01..1.0,
        ) {
            let c_mm = d_mm + deeper * (blade_mm / 2.0 - d_mm);
            let radius_mm = blade_mm / 2.0;
            // A chord of 1/20000 of the section sags by d/2 (pi/20000)^2 / 2, under 2e-8 mm.
            let severed = severed_reach_mm(blade_mm, c_mm, d_mm);
            let (far, _) = section_from_centre_mm(blade_mm, c_mm, d_mm, severed);
            prop_assert!((far - radius_mm).abs() < 1e-7, "severed limit: {far} against {radius_mm}");
            let touched = touched_reach_mm(blade_mm, c_mm, d_mm);
            let (_, near) = section_from_centre_mm(blade_mm, c_mm, d_mm, touched);
            prop_assert!((near - radius_mm).abs() < 1e-7, "touched limit: {near} against {radius_mm}");
        }

        #[test]
        fn deeper_reaches_further_and_severs_less_far_than_it_touches(
            blade_mm in 15.0..60.0, d_mm in 0.3..2.5, a in 0.0..0.99, by in 0.001..0.01,
        ) {
            let at = |share: f64| d_mm + share * (blade_mm / 2.0 - d_mm);
            let (c_mm, deeper_mm) = (at(a), at(a + by));
            prop_assert!(severed_reach_mm(blade_mm, c_mm, d_mm) < severed_reach_mm(blade_mm, deeper_mm, d_mm));
            prop_assert!(touched_reach_mm(blade_mm, c_mm, d_mm) < touched_reach_mm(blade_mm, deeper_mm, d_mm));
            prop_assert!(severed_reach_mm(blade_mm, c_mm, d_mm) <= touched_reach_mm(blade_mm, c_mm, d_mm));
            prop_assert!(half_chord_mm(blade_mm, c_mm) <= touched_reach_mm(blade_mm, c_mm, d_mm));
        }

        #[test]
        fn reaches_scale_as_lengths(k in 0.2..5.0_f64) {
            let severed = severed_reach_mm(22.0 * k, 1.8 * k, 1.29 * k);
            prop_assert!((severed - k * severed_reach_mm(22.0, 1.8, 1.29)).abs() <= 1e-12 * severed);
            let depth = depth_at_mm(22.0 * k, 1.8 * k, 3.0 * k);
            prop_assert!((depth - k * depth_at_mm(22.0, 1.8, 3.0)).abs() <= 1e-12 * k * 22.0);
        }
    }
}
