//! The owner's own metals: values that win over the table, and alloys the table lacks.

use super::{
    Band, Catalogue, Family, FineMetal, Hardness, Measured, Metal, MetalError, Name, Product,
    Temper, Verified,
};
use crate::limits::{self, Limit};
use crate::quantity::{Density, Stress};

/// What the owner says of one metal; everything left out is taken from the table.
///
/// A key of the table changes that metal. A new key adds one: like another metal if `like` names
/// it, else from nothing, and then family, density and nickel must be given.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MetalOverlay {
    /// Key of the metal.
    pub key: String,
    /// Key, name or alias of a metal whose strength, or everything for a new key, is taken over.
    pub like: Option<String>,
    /// Name printed.
    pub trade_name: Option<String>,
    /// More names to find it by.
    pub aliases: Vec<String>,
    /// Kind of metal.
    pub family: Option<Family>,
    /// The metal a refiner pays for.
    pub fine_metal: Option<FineMetal>,
    /// Fineness mark, parts per thousand.
    pub stamp_permille: Option<f64>,
    /// Parts of gold in twenty-four.
    pub karat: Option<f64>,
    /// Whether it holds nickel on purpose.
    pub nickel_bearing: Option<bool>,
    /// Whether a torch in air may soften it; a metal from nothing may not unless this says so.
    pub may_torch: Option<bool>,
    /// Density from a label or a supplier.
    pub density_stated: Option<Density>,
    /// Density weighed at this bench; it wins over everything.
    pub density_measured: Option<Measured<Density>>,
    /// Young's modulus; alone it gets a band of 5 % to either side.
    pub youngs_modulus: Option<Stated<Stress>>,
    /// Poisson's ratio; alone it gets a band of 5 % to either side, not above a half.
    pub poisson_ratio: Option<Stated<f64>>,
    /// Tempers, each changing or adding one.
    pub tempers: Vec<TemperOverlay>,
}

/// What the owner says of one temper; everything left out is taken from the record it changes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TemperOverlay {
    /// The temper: the source's own words, a common name, or a new name.
    pub name: String,
    /// Its hardness, needed where the name does not say it.
    pub hardness: Option<Hardness>,
    /// 0.2 % proof strength.
    pub yield_strength: Option<Stated<Stress>>,
    /// Tensile strength.
    pub tensile_strength: Option<Stated<Stress>>,
    /// Hardening exponent.
    pub hardening_exponent: Option<Stated<f64>>,
    /// Strength coefficient.
    pub strength_coefficient: Option<Stated<Stress>>,
    /// Bending flow stress.
    pub flow_stress: Option<Stated<Stress>>,
    /// Elongation at fracture, percent.
    pub elongation_percent: Option<Stated<f64>>,
    /// Reduction of area at fracture, percent.
    pub reduction_of_area_percent: Option<Stated<f64>>,
}

/// A stated value with its ends, if they are known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stated<T> {
    /// Low end.
    pub low: Option<T>,
    /// The value to use.
    pub typical: T,
    /// High end.
    pub high: Option<T>,
}

/// Share to either side of a strength stated without ends: the rule of the table for drawn wire.
const STRENGTH_SPREAD: f64 = 0.10;
/// The same for a modulus or Poisson's ratio; own choice, about the width of the table's bands.
const STIFFNESS_SPREAD: f64 = 0.05;
/// The same for what a tensile test says of stretch and of hardening; own choice.
const STRETCH_SPREAD: f64 = 0.20;

const SOURCE: &str = "own metals file";

impl<T> Stated<T> {
    /// A value without ends.
    pub const fn alone(typical: T) -> Stated<T> {
        Stated { low: None, typical, high: None }
    }
}

impl Catalogue {
    /// This catalogue with the owner's values and metals over it.
    ///
    /// # Units
    /// As in [`MetalOverlay`].
    /// # Validity
    /// Each key once; a later overlay may be like an earlier one.
    /// # Errors
    /// [`MetalError`] naming the metal, the field, the value and what it may be.
    /// # Source
    /// A measured value beats a stated one, and a stated one the table: own rule.
    ///
    /// ```
    /// use linkwright_calc::metal::{Catalogue, Measured, MetalOverlay};
    /// use linkwright_calc::quantity::Density;
    /// let weighed = MetalOverlay {
    ///     key: "sterling_925".into(),
    ///     density_measured: Some(Measured { value: Density::from_g_cm3(10.31), readings: 3, last: None }),
    ///     ..MetalOverlay::default()
    /// };
    /// let metals = Catalogue::built_in().with_overlay(vec![weighed]).unwrap();
    /// let density = metals.find("sterling").unwrap().density();
    /// assert_eq!(density.value.g_cm3(), 10.31);
    /// assert_eq!(density.basis.to_string(), "tried 3 times");
    /// ```
    pub fn with_overlay(mut self, overlays: Vec<MetalOverlay>) -> Result<Catalogue, MetalError> {
        let mut seen: Vec<String> = Vec::new();
        for overlay in overlays {
            let plain = Name::plain(&overlay.key);
            if plain.is_empty() {
                return Err(MetalError::BlankKey);
            }
            if seen.contains(&plain) {
                return Err(MetalError::OverlayTwice { metal: Name::typed(&overlay.key) });
            }
            let lender =
                overlay.like.as_deref().map(|like| self.find(like).cloned()).transpose()?;
            let place =
                self.metals.iter().position(|metal| Name::plain(metal.key.as_str()) == plain);
            let base = match (place, lender) {
                (Some(place), None) => self.metals[place].clone(),
                (Some(place), Some(lender)) => self.metals[place].with_strength_of(&lender),
                (None, Some(lender)) => Metal {
                    key: Name::typed(&overlay.key),
                    trade_name: Name::typed(&overlay.key),
                    aliases: Vec::new(),
                    strength_from: Some(lender.key.clone()),
                    ..lender
                },
                (None, None) => overlay.new_metal()?,
            };
            let metal = overlay.over(base)?;
            match place {
                Some(place) => self.metals[place] = metal,
                None => self.metals.push(metal),
            }
            seen.push(plain);
        }
        Ok(self)
    }
}

impl MetalOverlay {
    /// A metal that the table lacks and that is like no other.
    fn new_metal(&self) -> Result<Metal, MetalError> {
        let missing = |field| MetalError::OverlayIncomplete { metal: self.name(), field };
        let measured = self.density_measured.as_ref().map(|measured| measured.value);
        let density = self.density_stated.or(measured).ok_or_else(|| missing("density_g_cm3"))?;
        Ok(Metal {
            key: self.name(),
            trade_name: self.name(),
            aliases: Vec::new(),
            family: self.family.ok_or_else(|| missing("family"))?,
            fine_metal: None,
            stamp_permille: None,
            karat: None,
            clad_mass_share: None,
            nickel_bearing: self.nickel_bearing.ok_or_else(|| missing("nickel_bearing"))?,
            torch: false,
            strength_from: None,
            density: self.band(
                limits::DENSITY,
                [density; 3],
                Density::g_cm3,
                Verified::StatedByOwner,
            )?,
            density_tried: None,
            youngs_modulus: None,
            poisson_ratio: None,
            clad_thickness_share: None,
            tempers: Vec::new(),
            anneal: None,
        })
    }

    /// The metal with everything that this says put over it.
    fn over(&self, base: Metal) -> Result<Metal, MetalError> {
        let mut metal = base;
        if let Some(trade_name) = &self.trade_name {
            metal.trade_name = Name::typed(trade_name);
        }
        metal.aliases.extend(self.aliases.iter().map(|alias| Name::typed(alias)));
        metal.family = self.family.unwrap_or(metal.family);
        metal.fine_metal = self.fine_metal.or(metal.fine_metal);
        metal.nickel_bearing = self.nickel_bearing.unwrap_or(metal.nickel_bearing);
        metal.torch = self.may_torch.unwrap_or(metal.torch);
        if self.stamp_permille.is_some() || self.karat.is_some() {
            let check = |limit: Limit, value: Option<f64>| {
                value.map(|value| self.within(limit, value)).transpose()
            };
            metal.stamp_permille = check(limits::STAMP, self.stamp_permille)?;
            metal.karat = check(limits::KARAT, self.karat)?;
        }
        if let Some(stated) = self.density_stated {
            metal.density = self.density(limits::DENSITY, stated, Verified::StatedByOwner)?;
            metal.density_tried = None;
        }
        if let Some(measured) = &self.density_measured {
            let limit = limits::DENSITY.named("measured_density_g_cm3");
            metal.density = self.density(limit, measured.value, Verified::Measured)?;
            metal.density_tried = Some(measured.basis());
        }
        if let Some(stated) = self.youngs_modulus {
            metal.youngs_modulus =
                Some(self.stress(limits::YOUNGS_MODULUS, stated, STIFFNESS_SPREAD)?);
        }
        if let Some(stated) = self.poisson_ratio {
            metal.poisson_ratio =
                Some(self.plain(limits::POISSON_RATIO, stated, STIFFNESS_SPREAD)?);
        }
        for temper in &self.tempers {
            let own = self.temper(temper, &metal)?;
            metal
                .tempers
                .retain(|other| other.product != Product::OwnWire || other.name != own.name);
            metal.tempers.push(own);
        }
        metal.tempers.sort_by_key(|temper| (temper.hardness, temper.product));
        Ok(metal)
    }

    /// The owner's record of a temper, over the record of that name if there is just one.
    fn temper(&self, given: &TemperOverlay, metal: &Metal) -> Result<Temper, MetalError> {
        let known = metal.temper(&given.name).ok();
        let hardness = given
            .hardness
            .or(known.map(Temper::hardness))
            .or(Hardness::from_words(&given.name))
            .ok_or_else(|| MetalError::OverlayIncomplete {
                metal: self.name(),
                field: "hardness",
            })?;
        let stress =
            |field, stated: Option<Stated<Stress>>, known: Option<&Band<Stress>>| match stated {
                Some(stated) => {
                    self.stress(limits::STRESS.named(field), stated, STRENGTH_SPREAD).map(Some)
                }
                None => Ok(known.cloned()),
            };
        let plain = |limit, stated: Option<Stated<f64>>, known: Option<&Band<f64>>| match stated {
            Some(stated) => self.plain(limit, stated, STRETCH_SPREAD).map(Some),
            None => Ok(known.cloned()),
        };
        Ok(Temper {
            name: Name::typed(&given.name),
            hardness,
            product: Product::OwnWire,
            wire_sizes: None,
            yield_strength: stress(
                "yield_strength_mpa",
                given.yield_strength,
                known.and_then(Temper::yield_strength),
            )?,
            tensile_strength: stress(
                "tensile_strength_mpa",
                given.tensile_strength,
                known.and_then(Temper::tensile_strength),
            )?,
            hardening_exponent: plain(
                limits::HARDENING_EXPONENT,
                given.hardening_exponent,
                known.and_then(Temper::hardening_exponent),
            )?,
            strength_coefficient: stress(
                "strength_coefficient_mpa",
                given.strength_coefficient,
                known.and_then(Temper::strength_coefficient),
            )?,
            flow_stress: stress(
                "flow_stress_mpa",
                given.flow_stress,
                known.and_then(Temper::flow_stress),
            )?,
            elongation: plain(
                limits::ELONGATION,
                given.elongation_percent,
                known.and_then(Temper::elongation),
            )?,
            reduction_of_area: plain(
                limits::REDUCTION_OF_AREA,
                given.reduction_of_area_percent,
                known.and_then(Temper::reduction_of_area),
            )?,
        })
    }

    fn density(
        &self,
        limit: Limit,
        density: Density,
        verified: Verified,
    ) -> Result<Band<Density>, MetalError> {
        let value = Density::from_g_cm3(self.within(limit, density.g_cm3())?);
        self.band(limit, [value; 3], Density::g_cm3, verified)
    }

    fn stress(
        &self,
        limit: Limit,
        stated: Stated<Stress>,
        spread: f64,
    ) -> Result<Band<Stress>, MetalError> {
        let ends_mpa = self.ends(limit, stated.map(Stress::mpa), spread)?;
        self.band(limit, ends_mpa.map(Stress::from_mpa), Stress::mpa, Verified::StatedByOwner)
    }

    fn plain(
        &self,
        limit: Limit,
        stated: Stated<f64>,
        spread: f64,
    ) -> Result<Band<f64>, MetalError> {
        let ends = self.ends(limit, stated, spread)?;
        self.band(limit, ends, |value| value, Verified::StatedByOwner)
    }

    /// The three values, checked; ends that were not stated are set apart by `spread`, inside the limit.
    fn ends(&self, limit: Limit, stated: Stated<f64>, spread: f64) -> Result<[f64; 3], MetalError> {
        let typical = self.within(limit, stated.typical)?;
        let low = stated.low.unwrap_or((typical * (1.0 - spread)).max(limit.low));
        let high = stated.high.unwrap_or((typical * (1.0 + spread)).min(limit.high));
        Ok([self.within(limit, low)?, typical, self.within(limit, high)?])
    }

    fn band<T: Copy + PartialOrd>(
        &self,
        limit: Limit,
        ends: [T; 3],
        number: fn(T) -> f64,
        verified: Verified,
    ) -> Result<Band<T>, MetalError> {
        let [low, typical, high] = ends.map(number);
        Band::new(ends, SOURCE, verified).ok_or_else(|| MetalError::BandOutOfOrder {
            metal: self.name(),
            field: limit.field,
            low,
            typical,
            high,
        })
    }

    fn within(&self, limit: Limit, value: f64) -> Result<f64, MetalError> {
        limit.check(value).map_err(|error| MetalError::OutsideLimits { metal: self.name(), error })
    }

    fn name(&self) -> Name {
        Name::typed(self.key.trim())
    }
}

impl<T> Stated<T> {
    fn map<U>(self, to: impl Fn(T) -> U) -> Stated<U> {
        Stated { low: self.low.map(&to), typical: to(self.typical), high: self.high.map(&to) }
    }
}

#[cfg(test)]
mod tests {
    use super::{MetalOverlay, Stated, TemperOverlay};
    use crate::metal::{Catalogue, Family, FlowLaw, MetalError};
    use crate::quantity::{Density, Stress};

    fn named(key: &str) -> MetalOverlay {
        MetalOverlay { key: key.to_owned(), ..MetalOverlay::default() }
    }

    fn with(overlay: MetalOverlay) -> Result<Catalogue, MetalError> {
        Catalogue::built_in().with_overlay(vec![overlay])
    }

    #[test]
    fn an_empty_overlay_changes_nothing() {
        assert_eq!(Catalogue::built_in().with_overlay(Vec::new()).unwrap(), Catalogue::built_in());
    }

    #[test]
    fn a_stated_flow_stress_wins_over_the_table_and_is_found_by_the_common_name() {
        let flow_stress = Some(Stated::alone(Stress::from_mpa(410.0)));
        let temper =
            TemperOverlay { name: "half hard".into(), flow_stress, ..TemperOverlay::default() };
        let metals = with(MetalOverlay { tempers: vec![temper], ..named("sterling_925") }).unwrap();
        let sterling = metals.find("sterling").unwrap();
        let temper = sterling.temper("half hard").unwrap();
        let band = temper.flow_stress().unwrap();
        assert_eq!(
            (band.low(), band.typical()),
            (Stress::from_mpa(369.0), Stress::from_mpa(410.0))
        );
        // What was not said is still the table's.
        assert_eq!(temper.tensile_strength().unwrap().typical(), Stress::from_mpa(386.0));
        let law = sterling.flow_law(temper).unwrap().value;
        assert_eq!(
            law,
            FlowLaw::ElasticPerfectlyPlastic { yield_strength: Stress::from_mpa(410.0) }
        );
    }

    #[test]
    fn a_new_metal_may_be_like_another() {
        let overlay = MetalOverlay {
            like: Some("14k yellow".into()),
            aliases: vec!["the pale gold".into()],
            density_stated: Some(Density::from_g_cm3(13.4)),
            ..named("gold_14k_pale")
        };
        let metals = with(overlay).unwrap();
        let pale = metals.find("The Pale Gold").unwrap();
        assert_eq!(pale.density().value, Density::from_g_cm3(13.4));
        assert_eq!(pale.strength_borrowed_from().unwrap().as_str(), "gold_14k_yellow");
        assert!(pale.temper("half hard").is_ok());
        assert_eq!(metals.find("14k yellow").unwrap().key().as_str(), "gold_14k_yellow");
    }

    #[test]
    fn a_new_metal_like_no_other_must_say_what_it_is() {
        let error = with(named("unobtainium")).unwrap_err();
        assert!(
            matches!(error, MetalError::OverlayIncomplete { field: "density_g_cm3", .. }),
            "{error}"
        );
        let full = MetalOverlay {
            density_stated: Some(Density::from_g_cm3(7.0)),
            family: Some(Family::Steel),
            nickel_bearing: Some(false),
            ..named("unobtainium")
        };
        let metals = with(full).unwrap();
        let metal = metals.find("unobtainium").unwrap();
        assert!(!metal.may_torch());
        assert!(matches!(metal.temper("hard"), Err(MetalError::NoValue { .. })));
    }

    #[test]
    fn what_cannot_be_is_refused_with_field_value_and_limits() {
        let heavy = MetalOverlay {
            density_stated: Some(Density::from_g_cm3(103.6)),
            ..named("sterling_925")
        };
        let said = with(heavy).unwrap_err().to_string();
        for part in ["sterling_925", "density_g_cm3 is 103.6", "between 0.5 and 25"] {
            assert!(said.contains(part), "{said}");
        }
        let nan = MetalOverlay { karat: Some(f64::NAN), ..named("sterling_925") };
        assert!(with(nan).unwrap_err().to_string().contains("karat is NaN"));
        let crossed = Stated { low: Some(0.4), typical: 0.35, high: Some(0.5) };
        let crossed = MetalOverlay { poisson_ratio: Some(crossed), ..named("copper_c110") };
        assert!(matches!(
            with(crossed),
            Err(MetalError::BandOutOfOrder { field: "poisson_ratio", .. })
        ));
        assert_eq!(with(named(" ")), Err(MetalError::BlankKey));
        let twice = Catalogue::built_in().with_overlay(vec![named("niobium"), named("Niobium")]);
        assert!(matches!(twice, Err(MetalError::OverlayTwice { .. })));
    }
}
