//! Dust of a cut where only wire and kerf are known.

use crate::quantity::{Density, Mass};
use crate::slit::Kerf;
use crate::wire::Wire;

/// Dust the blade makes of one turn, whatever the coil: `k A rho / 1000`.
///
/// # Units
/// A density in, a mass out.
/// # Validity
/// A straight cut across the wire. The turns lean and the cut is a chord, which makes it 0.2 to
/// 0.5 % more at aspect ratios of 3 to 5: [`Ring::kerf_dust`](super::Ring::kerf_dust).
/// # Source
/// Mass is density times volume.
///
/// ```
/// use linkwright_calc::{quantity::{Density, Length}, ring::kerf_dust, slit::Kerf, wire::Wire};
/// // A quarter's 12,000 sterling rings of 1.02 mm wire: 25.4 g.
/// let wire = Wire::new(Length::from_mm(1.02)).unwrap();
/// let kerf = Kerf::new(Length::from_mm(0.25)).unwrap();
/// let dust = kerf_dust(wire, kerf, Density::from_g_cm3(10.36));
/// assert!((12_000.0 * dust.g() - 25.4).abs() < 0.05);
/// ```
pub fn kerf_dust(wire: Wire, kerf: Kerf, density: Density) -> Mass {
    wire.mass(kerf.width(), density)
}
