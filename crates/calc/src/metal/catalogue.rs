//! The catalogue: the built-in metals and the owner's own.

use super::name::letters_apart;
use super::{Metal, MetalError, Name, table};

/// All metals that can be asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct Catalogue {
    pub(super) metals: Vec<Metal>,
}

impl Catalogue {
    /// The metals that come with the program.
    ///
    /// # Units
    /// None.
    /// # Validity
    /// Defaults: whatever was measured at the bench is better.
    /// # Source
    /// `data/alloys.csv`, `densities.csv`, `metals.csv`, `anneal.csv`; see `data/SOURCES.md`.
    ///
    /// ```
    /// use linkwright_calc::metal::Catalogue;
    /// assert_eq!(Catalogue::built_in().metals().len(), 29);
    /// ```
    pub fn built_in() -> Catalogue {
        let own: Vec<Metal> = table::METALS.iter().filter_map(|row| row.metal()).collect();
        let metals = own
            .iter()
            .map(|metal| match &metal.strength_from {
                Some(lender) => own
                    .iter()
                    .find(|other| other.key == *lender)
                    .map_or_else(|| metal.clone(), |lender| metal.with_strength_of(lender)),
                None => metal.clone(),
            })
            .collect();
        Catalogue { metals }
    }

    /// All metals, sorted by key, the owner's own last.
    pub fn metals(&self) -> &[Metal] {
        &self.metals
    }

    /// The metal of this key, trade name or alias; case, dashes and underscores do not matter.
    ///
    /// # Units
    /// None.
    /// # Validity
    /// The owner's own metals are found before built-in ones of the same alias.
    /// # Errors
    /// [`MetalError::UnknownMetal`] with the nearest names.
    /// # Source
    /// Own rule; nearness is the number of letters to change.
    ///
    /// ```
    /// use linkwright_calc::metal::Catalogue;
    /// let metals = Catalogue::built_in();
    /// assert_eq!(metals.find("Sterling").unwrap().key().as_str(), "sterling_925");
    /// let error = metals.find("stirling").unwrap_err();
    /// assert!(error.to_string().contains("nearest names: sterling"));
    /// ```
    pub fn find(&self, name: &str) -> Result<&Metal, MetalError> {
        let plain = Name::plain(name);
        let by_key =
            self.metals.iter().rev().find(|metal| Name::plain(metal.key.as_str()) == plain);
        let found = by_key.or_else(|| {
            self.metals
                .iter()
                .rev()
                .find(|metal| metal.names().any(|known| Name::plain(known.as_str()) == plain))
        });
        found.ok_or_else(|| MetalError::UnknownMetal {
            asked: Name::typed(name),
            nearest: self.nearest(&plain),
        })
    }

    /// The names nearest to what was typed, each of another metal: those that hold it as a whole,
    /// then by the number of letters to change.
    fn nearest(&self, plain: &str) -> super::Names {
        const SHOWN: usize = 4;
        let distance = |known: &Name| {
            let known = Name::plain(known.as_str());
            if !plain.is_empty() && known.contains(plain) {
                0
            } else {
                letters_apart(plain, &known)
            }
        };
        let mut best: Vec<(usize, &Name)> = self
            .metals
            .iter()
            .filter_map(|metal| {
                metal.names().map(|known| (distance(known), known)).min_by_key(|(far, _)| *far)
            })
            .collect();
        best.sort_by_key(|(far, _)| *far);
        best.into_iter().take(SHOWN).map(|(_, name)| name.clone()).collect()
    }
}

impl Metal {
    /// Key, trade name and aliases.
    fn names(&self) -> impl Iterator<Item = &Name> {
        [&self.key, &self.trade_name].into_iter().chain(&self.aliases)
    }

    /// This metal with the stiffness and the tempers of another, saying so.
    pub(super) fn with_strength_of(&self, lender: &Metal) -> Metal {
        Metal {
            youngs_modulus: self.youngs_modulus.clone().or_else(|| lender.youngs_modulus.clone()),
            poisson_ratio: self.poisson_ratio.clone().or_else(|| lender.poisson_ratio.clone()),
            clad_thickness_share: self
                .clad_thickness_share
                .clone()
                .or_else(|| lender.clad_thickness_share.clone()),
            tempers: lender.tempers.clone(),
            strength_from: Some(lender.key.clone()),
            ..self.clone()
        }
    }
}
