//! Teeth across one wire: too few snag, too many clog.

use std::f64::consts::PI;

use super::Blade;
use crate::wire::Wire;

/// Fewest teeth wanted across one wire. Class notes on slitting jump rings with a hand saw, text
/// seen: about two.
pub const TEETH_ACROSS_LEAST: f64 = 2.0;
/// Most teeth wanted across one wire: the three-teeth rule for saws in general, text seen on a
/// hacksaw blade's page, doubled as the most that still clears its chips; own choice.
pub const TEETH_ACROSS_MOST: f64 = 6.0;

/// How many teeth stand across one wire.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum TeethAcross {
    /// The teeth are not counted.
    NotCounted,
    /// Fewer than [`TEETH_ACROSS_LEAST`]: a tooth may snag.
    Few(f64),
    /// As wanted.
    Wanted(f64),
    /// More than [`TEETH_ACROSS_MOST`]: the gaps may clog.
    Many(f64),
}

/// Teeth across one wire, `z d/(pi Db)`, and whether that is few or many.
///
/// # Units
/// A plain number of teeth.
/// # Validity
/// A rule of thumb for saws in general.
/// # Source
/// Mechanics D12; the rule is common practice, text seen for hand saws.
///
/// ```
/// use linkwright_calc::{quantity::Length, wire::Wire};
/// use linkwright_calc::slit::{Blade, BladeParts, Kerf, TeethAcross, teeth_across};
/// let mm = Length::from_mm;
/// let blade = |teeth| Blade::new(BladeParts {
///     diameter: mm(31.75), kerf: Kerf::new(mm(0.3)).unwrap(), teeth, hub_diameter: None,
/// }).unwrap();
/// let wire = Wire::new(mm(1.02)).unwrap();
/// assert!(matches!(teeth_across(blade(Some(250)), wire), TeethAcross::Wanted(teeth) if teeth > 2.5));
/// assert!(matches!(teeth_across(blade(Some(40)), wire), TeethAcross::Few(_)));
/// assert_eq!(teeth_across(blade(None), wire), TeethAcross::NotCounted);
/// ```
pub fn teeth_across(blade: Blade, wire: Wire) -> TeethAcross {
    let Some(teeth) = blade.teeth() else { return TeethAcross::NotCounted };
    let across = f64::from(teeth) * wire.diameter().mm() / (PI * blade.diameter().mm());
    if across < TEETH_ACROSS_LEAST {
        TeethAcross::Few(across)
    } else if across > TEETH_ACROSS_MOST {
        TeethAcross::Many(across)
    } else {
        TeethAcross::Wanted(across)
    }
}
