//! One metal: what it is called, what it weighs, how stiff it is, and its tempers.

use super::{Anneal, Band, Hardness, MetalError, Name, Names, Temper};
use crate::basis::{Answer, Basis, Caution};
use crate::quantity::{Density, Stress};
use crate::wire::Wire;

/// Kinds of metal that are treated alike at the bench.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Family {
    /// Silver and its alloys.
    Silver,
    /// Karat gold.
    Gold,
    /// Base metal with a layer of karat gold.
    GoldFilled,
    /// Copper.
    Copper,
    /// Copper and zinc.
    Brass,
    /// Copper with tin, or low in zinc.
    Bronze,
    /// Copper, nickel and zinc; no silver.
    NickelSilver,
    /// Aluminium alloys.
    Aluminium,
    /// Stainless steel.
    Stainless,
    /// Other steel.
    Steel,
    /// Titanium.
    Titanium,
    /// Niobium.
    Niobium,
}

/// The metal a refiner pays for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum FineMetal {
    /// Silver.
    Silver,
    /// Gold.
    Gold,
}

/// A metal by alloy, with its tempers.
#[derive(Clone, Debug, PartialEq)]
pub struct Metal {
    pub(super) key: Name,
    pub(super) trade_name: Name,
    pub(super) aliases: Vec<Name>,
    pub(super) family: Family,
    pub(super) fine_metal: Option<FineMetal>,
    pub(super) stamp_permille: Option<f64>,
    pub(super) karat: Option<f64>,
    pub(super) clad_mass_share: Option<f64>,
    pub(super) nickel_bearing: bool,
    pub(super) torch: bool,
    pub(super) strength_from: Option<Name>,
    pub(super) density: Band<Density>,
    pub(super) density_tried: Option<Basis>,
    pub(super) youngs_modulus: Option<Band<Stress>>,
    pub(super) poisson_ratio: Option<Band<f64>>,
    pub(super) clad_thickness_share: Option<Band<f64>>,
    pub(super) tempers: Vec<Temper>,
    pub(super) anneal: Option<Anneal>,
}

impl Metal {
    /// The key files and commands use, such as `sterling_925`.
    pub const fn key(&self) -> &Name {
        &self.key
    }

    /// The name printed, such as "sterling silver 925".
    pub const fn trade_name(&self) -> &Name {
        &self.trade_name
    }

    /// Other names it is found by.
    pub fn aliases(&self) -> &[Name] {
        &self.aliases
    }

    /// What kind of metal it is.
    pub const fn family(&self) -> Family {
        self.family
    }

    /// The metal a refiner pays for, if any.
    pub const fn fine_metal(&self) -> Option<FineMetal> {
        self.fine_metal
    }

    /// The fineness mark in parts per thousand, where the metal may bear one.
    pub const fn stamp_permille(&self) -> Option<f64> {
        self.stamp_permille
    }

    /// Share of the clad layer in the mass, for gold filled.
    pub const fn clad_mass_share(&self) -> Option<f64> {
        self.clad_mass_share
    }

    /// Share of fine metal in the mass: the smaller of mark / 1000 and karat / 24, times the clad
    /// share for gold filled.
    ///
    /// # Units
    /// A share of one; `None` for base metal.
    /// # Validity
    /// What is surely there: 14 k is 0.5833 and not 0.585. An assay beats both.
    /// # Source
    /// Karat is 24 parts by mass; marks are minimum values (ISO 9202, overview seen).
    ///
    /// ```
    /// use linkwright_calc::metal::Catalogue;
    /// let metals = Catalogue::built_in();
    /// assert_eq!(metals.find("sterling").unwrap().fine_share(), Some(0.925));
    /// // 14/20 gold filled: 14/24 of one twentieth.
    /// let filled = metals.find("gold filled").unwrap().fine_share().unwrap();
    /// assert!((filled - 0.02917).abs() < 0.000005);
    /// ```
    pub fn fine_share(&self) -> Option<f64> {
        self.fine_metal?;
        let stamped = self.stamp_permille.map(|permille| permille / 1000.0);
        let by_karat = self.karat.map(|karat| karat / 24.0);
        let share = match (stamped, by_karat) {
            (Some(stamped), Some(by_karat)) => stamped.min(by_karat),
            (stamped, by_karat) => stamped.or(by_karat)?,
        };
        Some(share * self.clad_mass_share.unwrap_or(1.0))
    }

    /// Whether it holds nickel on purpose, to which skin may be allergic.
    pub const fn nickel_bearing(&self) -> bool {
        self.nickel_bearing
    }

    /// What to say of the metal on skin, if anything.
    ///
    /// # Units
    /// None.
    /// # Validity
    /// A reminder; whether a piece may be sold is for the local rule.
    /// # Source
    /// Common practice, no source.
    ///
    /// ```
    /// use linkwright_calc::metal::Catalogue;
    /// let metals = Catalogue::built_in();
    /// assert!(metals.find("nickel silver").unwrap().skin_caution().unwrap().starts_with("Holds nickel"));
    /// assert_eq!(metals.find("fine silver").unwrap().skin_caution(), None);
    /// ```
    pub const fn skin_caution(&self) -> Option<&'static str> {
        if self.nickel_bearing {
            return Some(
                "Holds nickel: skin may be allergic; ask before it is worn, and check your local rule on nickel.",
            );
        }
        match self.family {
            Family::Copper | Family::Brass | Family::Bronze => {
                Some("May mark skin and cloth green or dark.")
            }
            _ => None,
        }
    }

    /// Whether a torch in air may soften it at all; otherwise buy it annealed.
    pub const fn may_torch(&self) -> bool {
        self.torch
    }

    /// The metal whose strength is borrowed, if this one has none of its own on record.
    pub const fn strength_borrowed_from(&self) -> Option<&Name> {
        self.strength_from.as_ref()
    }

    /// The density to reckon with and what it rests on: a weighed one if there is one.
    ///
    /// # Units
    /// Grams per cubic centimetre.
    /// # Validity
    /// Of the table, the typical value; its ends are in [`Metal::density_band`].
    /// # Source
    /// `data/densities.csv`, each with its own source.
    ///
    /// ```
    /// use linkwright_calc::metal::Catalogue;
    /// let metals = Catalogue::built_in();
    /// let density = metals.find("sterling").unwrap().density();
    /// assert_eq!(density.value.g_cm3(), 10.36);
    /// assert_eq!(density.basis.word(), "assumed");
    /// ```
    pub fn density(&self) -> Answer<Density> {
        let basis = self.density_tried.clone();
        Answer {
            value: self.density.typical(),
            basis: basis.unwrap_or_else(|| self.density.basis()),
            cautions: Vec::new(),
        }
    }

    /// The density with its ends and source.
    pub const fn density_band(&self) -> &Band<Density> {
        &self.density
    }

    /// Young's modulus `E`.
    ///
    /// # Units
    /// A stress, MPa.
    /// # Validity
    /// Drawn wire may differ by its texture; the band holds that.
    /// # Errors
    /// [`MetalError::NoValue`] if none is on record.
    /// # Source
    /// `data/metals.csv`, each with its own source.
    ///
    /// ```
    /// use linkwright_calc::metal::Catalogue;
    /// let metals = Catalogue::built_in();
    /// assert_eq!(metals.find("brass").unwrap().youngs_modulus().unwrap().typical().mpa(), 110_000.0);
    /// ```
    pub fn youngs_modulus(&self) -> Result<&Band<Stress>, MetalError> {
        self.youngs_modulus.as_ref().ok_or_else(|| self.no_value("youngs_modulus_mpa"))
    }

    /// Poisson's ratio.
    ///
    /// # Units
    /// A plain number.
    /// # Validity
    /// Isotropic metal.
    /// # Errors
    /// [`MetalError::NoValue`] if none is on record.
    /// # Source
    /// `data/metals.csv`, each with its own source.
    ///
    /// ```
    /// use linkwright_calc::metal::Catalogue;
    /// let metals = Catalogue::built_in();
    /// assert_eq!(metals.find("brass").unwrap().poisson_ratio().unwrap().typical(), 0.33);
    /// ```
    pub fn poisson_ratio(&self) -> Result<&Band<f64>, MetalError> {
        self.poisson_ratio.as_ref().ok_or_else(|| self.no_value("poisson_ratio"))
    }

    /// Thickness of the clad layer as a share of the wire diameter, for gold filled.
    pub const fn clad_thickness_share(&self) -> Option<&Band<f64>> {
        self.clad_thickness_share.as_ref()
    }

    /// How to soften it, if anything is on record.
    pub const fn anneal(&self) -> Option<&Anneal> {
        self.anneal.as_ref()
    }

    /// All tempers on record, softest first, wire before strip.
    pub fn tempers(&self) -> &[Temper] {
        &self.tempers
    }

    /// The temper it has once it is annealed or soldered.
    ///
    /// # Units
    /// None.
    /// # Validity
    /// The first of several soft records.
    /// # Errors
    /// [`MetalError::NoValue`] if no soft temper is on record.
    /// # Source
    /// Own rule: the record whose hardness is [`Hardness::Annealed`].
    ///
    /// ```
    /// use linkwright_calc::metal::Catalogue;
    /// let metals = Catalogue::built_in();
    /// assert_eq!(metals.find("brass").unwrap().soft_temper().unwrap().name().as_str(), "annealed");
    /// assert!(metals.find("music_wire").unwrap().soft_temper().is_err());
    /// ```
    pub fn soft_temper(&self) -> Result<&Temper, MetalError> {
        let mut tempers = self.tempers.iter();
        tempers
            .find(|temper| temper.hardness() == Hardness::Annealed)
            .ok_or_else(|| self.no_value("flow_stress_mpa of the soft temper"))
    }

    /// The temper of this name: the source's own words, or one of the common names.
    ///
    /// A common name picks the record of wire before that of strip.
    ///
    /// # Units
    /// None.
    /// # Validity
    /// Where a temper is on record for several wire sizes use [`Metal::temper_for_wire`].
    /// # Errors
    /// [`MetalError::UnknownTemper`], [`MetalError::TemperNeedsSize`], or [`MetalError::NoValue`] if
    /// nothing is known of any temper.
    /// # Source
    /// Own rule.
    ///
    /// ```
    /// use linkwright_calc::metal::Catalogue;
    /// let metals = Catalogue::built_in();
    /// let brass = metals.find("brass").unwrap();
    /// assert_eq!(brass.temper("half hard").unwrap().name().as_str(), "half hard wire H02");
    /// assert!(brass.temper("number 3 hard").is_err());
    /// ```
    pub fn temper(&self, words: &str) -> Result<&Temper, MetalError> {
        match self.temper_candidates(words)?.as_slice() {
            [only] => Ok(only),
            several => Err(MetalError::TemperNeedsSize {
                metal: self.key.clone(),
                asked: Name::typed(words),
                candidates: several.iter().map(|temper| temper.name.clone()).collect(),
            }),
        }
    }

    /// As [`Metal::temper`]; of several records by wire size the nearest to this wire, with a
    /// caution if the wire lies outside the sizes it was measured on.
    ///
    /// # Units
    /// None.
    /// # Validity
    /// A record without sizes is taken for every wire.
    /// # Errors
    /// [`MetalError::UnknownTemper`] or [`MetalError::NoValue`].
    /// # Source
    /// Own rule: nearest by the ratio of diameters.
    ///
    /// ```
    /// use linkwright_calc::{metal::Catalogue, quantity::Length, wire::Wire};
    /// let metals = Catalogue::built_in();
    /// let wire = Wire::new(Length::from_mm(1.29)).unwrap();
    /// let found = metals.find("304").unwrap().temper_for_wire("spring hard", wire).unwrap();
    /// assert_eq!(found.value.name().as_str(), "spring wire 1.47-1.60 mm");
    /// assert_eq!(found.cautions.len(), 1);
    /// ```
    pub fn temper_for_wire(&self, words: &str, wire: Wire) -> Result<Answer<&Temper>, MetalError> {
        let candidates = self.temper_candidates(words)?;
        let nearest = candidates
            .into_iter()
            .min_by(|a, b| a.off_size(wire).total_cmp(&b.off_size(wire)))
            .ok_or_else(|| self.no_value("temper"))?;
        let mut cautions = Vec::new();
        if let Some((low, high)) = nearest.wire_sizes
            && nearest.off_size(wire) > 0.0
        {
            cautions.push(Caution::OutsideTriedRange {
                quantity: "wire diameter",
                given: wire.diameter().mm(),
                low: low.mm(),
                high: high.mm(),
                unit: "mm",
            });
        }
        Ok(Answer {
            basis: Basis::assumed(format!("table of tempers, {}", nearest.name)),
            value: nearest,
            cautions,
        })
    }

    /// The records a name fits: one by its own words, else all of the best product by hardness.
    fn temper_candidates(&self, words: &str) -> Result<Vec<&Temper>, MetalError> {
        if self.tempers.is_empty() {
            return Err(self.no_value("flow_stress_mpa"));
        }
        let plain = Name::plain(words);
        let mut own_words = self.tempers.iter();
        if let Some(temper) = own_words.find(|t| Name::plain(t.name.as_str()) == plain)
            && Hardness::from_words(words).is_none()
        {
            return Ok(vec![temper]);
        }
        let of_hardness =
            self.tempers.iter().filter(|t| Some(t.hardness) == Hardness::from_words(words));
        let best = of_hardness.clone().map(|t| t.product).min();
        let found: Vec<&Temper> = of_hardness.filter(|t| Some(t.product) == best).collect();
        if found.is_empty() {
            return Err(MetalError::UnknownTemper {
                metal: self.key.clone(),
                asked: Name::typed(words),
                known: self.tempers.iter().map(|t| t.name.clone()).collect::<Names>(),
            });
        }
        Ok(found)
    }

    pub(super) fn no_value(&self, property: &'static str) -> MetalError {
        MetalError::NoValue { metal: self.key.clone(), property }
    }
}
