//! Which gauge people usually mean for a metal: said when asking back, never assumed.

use super::{Family, table};

/// The gauge a metal's wire is customarily sold by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct GaugeCustom {
    /// Metals it holds for.
    pub families: &'static [Family],
    /// The gauge or unit.
    pub customary_gauge: &'static str,
    /// Where the custom differs.
    pub note: &'static str,
    /// Where this comes from: a habit of the trade.
    pub source: &'static str,
}

/// The custom for a kind of metal, if one is on record.
///
/// A hint beside the question which gauge is meant; a bare number is asked about all the same.
///
/// # Units
/// None.
/// # Validity
/// A habit, not a rule.
/// # Source
/// Common practice, no source.
///
/// ```
/// use linkwright_calc::metal::{Family, gauge_custom};
/// let custom = gauge_custom(Family::Silver).unwrap();
/// assert_eq!(custom.customary_gauge, "AWG (B&S)");
/// assert_eq!(custom.source, "common practice, no source");
/// ```
pub fn gauge_custom(family: Family) -> Option<&'static GaugeCustom> {
    table::GAUGE_CUSTOMS.iter().find(|custom| custom.families.contains(&family))
}
