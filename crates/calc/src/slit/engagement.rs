//! How much of the blade is in the metal, and the chip each tooth takes.

use std::f64::consts::PI;

use super::{Blade, FeedRate, Projection, Rpm, SlitError};
use crate::coil::Pitch;
use crate::quantity::Length;
use crate::wire::Wire;

/// How much of the blade is in the metal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Engagement {
    /// Arc of the blade in the cut.
    pub arc_rad: f64,
    /// Length of the coil in the cut, along its axis.
    pub chord: Length,
    /// Turns in the cut at once.
    pub turns_in_cut: f64,
    /// Teeth in the cut at once; nothing if the teeth are not counted.
    pub teeth_in_cut: Option<f64>,
    /// Angle from straight down at which a tooth enters, `phi1`.
    entry_rad: f64,
}

/// The chip each tooth takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chip {
    /// How far the blade moves on from tooth to tooth.
    pub feed_per_tooth: Length,
    /// Thickest place of the chip.
    pub thickest: Length,
    /// Mean thickness over the arc.
    pub mean: Length,
}

/// The arc, chord, turns and teeth in the cut of one wall.
///
/// `phi1 = acos(1 - 2c/Db)`, `phi2 = acos(1 - 2(c - d)/Db)`, arc `psi = phi1 - phi2`;
/// chord `sqrt(c(Db - c)) - sqrt((c - d)(Db - c + d))`; turns `chord/p`; teeth `z psi/(2 pi)`.
///
/// # Units
/// Lengths in; radians, a length and plain numbers out.
/// # Validity
/// The blade parts the wire: `d <= c <= Db/2`.
/// # Errors
/// - [`SlitError::DoesNotReach`] or [`SlitError::PastBladeCentre`] outside that range;
/// - [`SlitError::Coil`] if the pitch is below the wire.
/// # Source
/// Mechanics D10-D12.
///
/// ```
/// use linkwright_calc::{coil::Pitch, quantity::Length, wire::Wire};
/// use linkwright_calc::slit::{Blade, BladeParts, Kerf, Projection, engagement};
/// let mm = Length::from_mm;
/// let blade = Blade::new(BladeParts {
///     diameter: mm(22.0), kerf: Kerf::new(mm(0.3)).unwrap(), teeth: Some(72), hub_diameter: None,
/// }).unwrap();
/// let cut = engagement(
///     blade,
///     Projection::new(mm(1.8)).unwrap(),
///     Wire::new(mm(1.291)).unwrap(),
///     Pitch::new(mm(1.31)).unwrap(),
/// ).unwrap();
/// assert!((cut.teeth_in_cut.unwrap() - 3.1488).abs() < 5e-5);
/// assert!((cut.turns_in_cut - 2.0783).abs() < 5e-5);
/// ```
pub fn engagement(
    blade: Blade,
    projection: Projection,
    wire: Wire,
    pitch: Pitch,
) -> Result<Engagement, SlitError> {
    let pitch_mm = pitch.clearing(wire)?.advance().mm();
    let c_mm = blade.reaching(projection.depth().mm())?;
    let d_mm = wire.diameter().mm();
    if c_mm < d_mm {
        return Err(SlitError::DoesNotReach {
            projection_mm: c_mm,
            needed_mm: d_mm,
            short_by_mm: d_mm - c_mm,
        });
    }
    let blade_mm = blade.diameter().mm();
    let entry_rad = (1.0 - 2.0 * c_mm / blade_mm).acos();
    let exit_rad = (1.0 - 2.0 * (c_mm - d_mm) / blade_mm).acos();
    let arc_rad = entry_rad - exit_rad;
    let inner_mm = c_mm - d_mm;
    let chord_mm = (c_mm * (blade_mm - c_mm)).sqrt() - (inner_mm * (blade_mm - inner_mm)).sqrt();
    Ok(Engagement {
        arc_rad,
        chord: Length::from_mm(chord_mm),
        turns_in_cut: chord_mm / pitch_mm,
        teeth_in_cut: blade.teeth().map(|teeth| f64::from(teeth) * arc_rad / (2.0 * PI)),
        entry_rad,
    })
}

/// The chip at a speed of turn and a feed.
///
/// `fz = vf/(z n)`; thickest `fz sin(phi1)`; mean `fz (2d/Db)/psi`.
///
/// # Units
/// Lengths.
/// # Validity
/// As [`engagement`]; `cut` is the engagement of this very blade and wire.
/// # Errors
/// [`SlitError::TeethNotKnown`] if the blade's teeth are not counted.
/// # Source
/// Mechanics D13.
///
/// ```
/// use linkwright_calc::{coil::Pitch, quantity::Length, wire::Wire};
/// use linkwright_calc::slit::{
///     Blade, BladeParts, FeedRate, Kerf, Projection, Rpm, chip, engagement,
/// };
/// let mm = Length::from_mm;
/// let blade = Blade::new(BladeParts {
///     diameter: mm(22.0), kerf: Kerf::new(mm(0.3)).unwrap(), teeth: Some(72), hub_diameter: None,
/// }).unwrap();
/// let wire = Wire::new(mm(1.291)).unwrap();
/// let cut =
///     engagement(blade, Projection::new(mm(1.8)).unwrap(), wire, Pitch::new(mm(1.31)).unwrap());
/// let chip =
///     chip(&cut.unwrap(), blade, wire, Rpm::new(900.0).unwrap(), FeedRate::new(60.0).unwrap());
/// assert!((chip.unwrap().thickest.mm() - 0.000_507_57).abs() < 1e-8);
/// ```
pub fn chip(
    cut: &Engagement,
    blade: Blade,
    wire: Wire,
    rpm: Rpm,
    feed: FeedRate,
) -> Result<Chip, SlitError> {
    let teeth = f64::from(blade.teeth().ok_or(SlitError::TeethNotKnown)?);
    let feed_per_tooth_mm = feed.mm_per_min() / (teeth * rpm.per_min());
    let mean_share = 2.0 * wire.diameter().mm() / blade.diameter().mm() / cut.arc_rad;
    Ok(Chip {
        feed_per_tooth: Length::from_mm(feed_per_tooth_mm),
        thickest: Length::from_mm(feed_per_tooth_mm * cut.entry_rad.sin()),
        mean: Length::from_mm(feed_per_tooth_mm * mean_share),
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert, proptest};

    use super::*;
    use crate::slit::{BladeParts, Kerf};

    fn blade(diameter_mm: f64, teeth: Option<u32>) -> Blade {
        Blade::new(BladeParts {
            diameter: Length::from_mm(diameter_mm),
            kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
            teeth,
            hub_diameter: None,
        })
        .unwrap()
    }

    proptest! {
        #[test]
        fn the_mean_chip_is_the_mean_of_fz_sin_phi_over_the_arc(
            d_mm in 0.3..2.0, deeper_mm in 0.0..3.0, blade_mm in 20.0..40.0,
        ) {
            let blade = blade(blade_mm, Some(80));
            let wire = Wire::new(Length::from_mm(d_mm)).unwrap();
            let pitch = Pitch::new(Length::from_mm(d_mm * 1.01)).unwrap();
            let projection = Projection::new(Length::from_mm(d_mm + deeper_mm)).unwrap();
            let cut = engagement(blade, projection, wire, pitch).unwrap();
            let (feed, rpm) = (FeedRate::new(100.0).unwrap(), Rpm::new(800.0).unwrap());
            let chip = chip(&cut, blade, wire, rpm, feed).unwrap();
            let points = 2000;
            let mean = (0..points)
                .map(|i| (f64::from(i) + 0.5) / f64::from(points))
                .map(|share| (cut.entry_rad - share * cut.arc_rad).sin())
                .sum::<f64>() / f64::from(points);
            // Midpoint rule: arc^2 / (24 n^2), below 1e-7 of the mean for arcs under 1.6 rad.
            let off = chip.mean.mm() / chip.feed_per_tooth.mm() / mean - 1.0;
            prop_assert!(off.abs() < 1e-7, "{off:e}");
            prop_assert!(chip.mean <= chip.thickest);
        }

        #[test]
        fn a_deeper_blade_has_less_arc_in_the_cut(d_mm in 0.3..2.0, deeper_mm in 0.0..3.0) {
            let wire = Wire::new(Length::from_mm(d_mm)).unwrap();
            let pitch = Pitch::new(Length::from_mm(d_mm * 1.01)).unwrap();
            let arc = |c_mm| {
                let projection = Projection::new(Length::from_mm(c_mm)).unwrap();
                engagement(blade(31.75, None), projection, wire, pitch).unwrap().arc_rad
            };
            prop_assert!(arc(d_mm + deeper_mm + 0.1) < arc(d_mm + deeper_mm));
        }
    }

    #[test]
    fn uncounted_teeth_are_asked_for_and_a_shallow_blade_is_refused() {
        let wire = Wire::new(Length::from_mm(1.0)).unwrap();
        let pitch = Pitch::new(Length::from_mm(1.0)).unwrap();
        let at = |c_mm| Projection::new(Length::from_mm(c_mm)).unwrap();
        let cut = engagement(blade(22.0, None), at(2.0), wire, pitch).unwrap();
        assert_eq!(cut.teeth_in_cut, None);
        let (feed, rpm) = (FeedRate::new(60.0).unwrap(), Rpm::new(900.0).unwrap());
        let refused = chip(&cut, blade(22.0, None), wire, rpm, feed);
        assert_eq!(refused, Err(SlitError::TeethNotKnown));
        let shallow = engagement(blade(22.0, None), at(0.9), wire, pitch);
        assert!(matches!(shallow, Err(SlitError::DoesNotReach { .. })), "{shallow:?}");
    }
}
