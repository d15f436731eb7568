//! The shape of a row of the generated table, and how a row becomes a metal.

use super::{Anneal, Band, Family, FineMetal, Hardness, Metal, Name, Product, Temper, Verified};
use crate::quantity::{Density, Length, Stress};

/// Low, typical and high value, source, how verified.
#[derive(Clone, Copy)]
pub(super) struct BandRow([f64; 3], &'static str, Verified);

pub(super) struct MetalRow {
    pub key: &'static str,
    pub trade_name: &'static str,
    pub aliases: &'static [&'static str],
    pub family: Family,
    pub fine_metal: Option<FineMetal>,
    pub stamp_permille: Option<f64>,
    pub karat: Option<f64>,
    pub clad_mass_share: Option<f64>,
    pub nickel_bearing: bool,
    pub torch: bool,
    pub strength_like: Option<&'static str>,
    pub density: BandRow,
    pub youngs_modulus: Option<BandRow>,
    pub poisson_ratio: Option<BandRow>,
    pub clad_thickness_share: Option<BandRow>,
    pub tempers: &'static [TemperRow],
    pub anneal: Option<Anneal>,
}

/// Name, hardness, product, wire sizes in mm, then yield strength, tensile strength, hardening
/// exponent, strength coefficient and flow stress.
pub(super) struct TemperRow(
    pub &'static str,
    pub Hardness,
    pub Product,
    pub Option<[f64; 2]>,
    pub [Option<BandRow>; 5],
);

pub(super) const fn b(
    low: f64,
    typical: f64,
    high: f64,
    source: &'static str,
    verified: Verified,
) -> Option<BandRow> {
    Some(BandRow([low, typical, high], source, verified))
}

impl BandRow {
    /// As [`b`], for a value every metal has.
    pub(super) const fn of(
        low: f64,
        typical: f64,
        high: f64,
        source: &'static str,
        verified: Verified,
    ) -> BandRow {
        BandRow([low, typical, high], source, verified)
    }

    /// `None` only if the table were out of order, which the generator refuses.
    fn band<T: Copy + PartialOrd>(self, unit: impl Fn(f64) -> T) -> Option<Band<T>> {
        Band::new(self.0.map(unit), self.1, self.2)
    }
}

impl MetalRow {
    pub(super) fn metal(&self) -> Option<Metal> {
        Some(Metal {
            key: Name::of(self.key),
            trade_name: Name::of(self.trade_name),
            aliases: self.aliases.iter().copied().map(Name::of).collect(),
            family: self.family,
            fine_metal: self.fine_metal,
            stamp_permille: self.stamp_permille,
            karat: self.karat,
            clad_mass_share: self.clad_mass_share,
            nickel_bearing: self.nickel_bearing,
            torch: self.torch,
            strength_from: self.strength_like.map(Name::of),
            density: self.density.band(Density::from_g_cm3)?,
            density_tried: None,
            youngs_modulus: stress(self.youngs_modulus),
            poisson_ratio: plain(self.poisson_ratio),
            clad_thickness_share: plain(self.clad_thickness_share),
            tempers: self.tempers.iter().map(TemperRow::temper).collect(),
            anneal: self.anneal,
        })
    }
}

impl TemperRow {
    fn temper(&self) -> Temper {
        let TemperRow(name, hardness, product, sizes_mm, [yielding, tensile, n, k, flow]) = *self;
        Temper {
            name: Name::of(name),
            hardness,
            product,
            wire_sizes: sizes_mm.map(|[low, high]| (Length::from_mm(low), Length::from_mm(high))),
            yield_strength: stress(yielding),
            tensile_strength: stress(tensile),
            hardening_exponent: plain(n),
            strength_coefficient: stress(k),
            flow_stress: stress(flow),
            elongation: None,
            reduction_of_area: None,
        }
    }
}

fn stress(row: Option<BandRow>) -> Option<Band<Stress>> {
    row.and_then(|row| row.band(Stress::from_mpa))
}

fn plain(row: Option<BandRow>) -> Option<Band<f64>> {
    row.and_then(|row| row.band(|value| value))
}
