//! How much a coil opened, seen from one ring.

use super::mandrel::Mandrel;
use crate::coil::InsideDiameter;

/// Springback as the bench says it: how much wider the ring is than its rod, `(ID - D)/D`.
///
/// # Units
/// A share of one; negative if the ring is tighter than the rod.
/// # Validity
/// The inside of the open ring, before closing.
/// # Source
/// Definition, as in the glossary.
///
/// ```
/// use linkwright_calc::{coil::InsideDiameter, quantity::Length, wind::{Mandrel, springback}};
/// let inside = InsideDiameter::new(Length::from_mm(4.14)).unwrap();
/// let rod = Mandrel::new(Length::from_mm(4.0)).unwrap();
/// assert!((springback(rod, inside) - 0.035).abs() < 1e-12);
/// ```
pub fn springback(mandrel: Mandrel, inside: InsideDiameter) -> f64 {
    let mandrel_mm = mandrel.diameter().mm();
    (inside.diameter().mm() - mandrel_mm) / mandrel_mm
}
