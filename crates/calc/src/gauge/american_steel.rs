//! American steel wire gauge, carried only to warn: its numbers are also called "SWG".

use crate::quantity::Length;

/// Diameters in tenths of a thou, 0 to 30.
///
/// Source: `fluids` 1.3.1, wire schedule "SWG"; `data/wire-gauges.csv`, column `american_steel_in`.
#[rustfmt::skip]
const TENTH_THOU: [u16; 31] = [
    3065, 2830, 2625, 2437, 2253, 2070, 1920, 1770, 1620, 1483,
    1350, 1205, 1055,  915,  800,  720,  625,  540,  475,  410,
     348,  318,  286,  258,  230,  204,  181,  173,  162,  150,
     140,
];

/// Diameter of a number of the American steel wire gauge; `None` outside 0 to 30.
///
/// # Units
/// A length.
/// # Validity
/// For showing what the other "SWG" would be. It is no [`Gauge`](super::Gauge): steel wire is
/// bought by it, jewellery wire is not.
/// # Source
/// `fluids` 1.3.1, wire schedule "SWG", citing Machinery's Handbook (2012).
///
/// ```
/// use linkwright_calc::gauge::american_steel_diameter;
/// assert_eq!(american_steel_diameter(18).unwrap().mm(), 1.2065);
/// assert_eq!(american_steel_diameter(31), None);
/// ```
pub fn diameter(number: i8) -> Option<Length> {
    let tenth_thou = TENTH_THOU.get(usize::try_from(number).ok()?)?;
    Some(Length::from_mm(f64::from(u32::from(*tenth_thou) * 254) / 100_000.0))
}
