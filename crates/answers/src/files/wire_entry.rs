//! A lot of wire in the workshop file, with the rings measured on it.

use linkwright_calc::limits::DENSITY;
use linkwright_calc::metal::{Catalogue, Measured, OnHand, WireLot};
use linkwright_calc::money::parse_price;
use linkwright_calc::plan::StockedWire;
use linkwright_calc::quantity::{Density, parse_readings};
use linkwright_calc::wind::{Mandrel, RingTrial, WireState};
use linkwright_calc::wire::Wire;
use serde::Deserialize;
use toml::Spanned;

use super::document::{Document, FileError};

/// A lot of wire as written.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WireEntry {
    /// Name of the lot.
    pub name: String,
    metal: Spanned<String>,
    temper: Spanned<String>,
    diameter: Spanned<String>,
    measured_diameter: Option<Spanned<String>>,
    measured_density_g_cm3: Option<Spanned<f64>>,
    length: Option<Spanned<String>>,
    mass: Option<Spanned<String>>,
    price: Option<Spanned<String>>,
    price_date: Option<String>,
    #[serde(default)]
    annealed: bool,
    #[serde(default)]
    tried: Vec<TriedEntry>,
}

/// Rings measured from one coil, as written.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct TriedEntry {
    rod: Spanned<String>,
    inside: Spanned<String>,
    #[serde(default)]
    annealed: bool,
    date: Option<String>,
}

impl WireEntry {
    /// Turns what was typed into a lot, or says what is wrong where.
    pub fn wire(&self, document: &Document, metals: &Catalogue) -> Result<StockedWire, FileError> {
        let wire_of = |field: &str, typed: &Spanned<String>| {
            let length = document.length(field, typed)?;
            document.parsed(field, typed, Wire::new(length))
        };
        let marked = wire_of("diameter", &self.diameter)?;
        let measured = self
            .measured_diameter
            .as_ref()
            .map(|typed| wire_of("measured_diameter", typed).map(Measured::once))
            .transpose()?;
        let wire = measured.as_ref().map_or(marked, |measured| measured.value);
        let metal = document.parsed("metal", &self.metal, metals.find(self.metal.get_ref()))?;
        let temper = metal.temper_for_wire(self.temper.get_ref(), wire);
        let temper = document.parsed("temper", &self.temper, temper)?.value;
        let measured_density = self
            .measured_density_g_cm3
            .as_ref()
            .map(|typed| {
                let field = "measured_density_g_cm3";
                let g_cm3 = document.parsed(field, typed, DENSITY.check(*typed.get_ref()))?;
                Ok(Measured::once(Density::from_g_cm3(g_cm3)))
            })
            .transpose()?;
        let on_hand = self.on_hand(document)?;
        let price = self
            .price
            .as_ref()
            .map(|typed| document.parsed("price", typed, parse_price(typed.get_ref())))
            .transpose()?;
        let trials =
            self.tried.iter().map(|tried| tried.trial(document, wire)).collect::<Result<_, _>>()?;
        Ok(StockedWire {
            name: self.name.clone(),
            lot: WireLot {
                metal: metal.clone(),
                temper: temper.clone(),
                marked,
                measured,
                measured_density,
                on_hand,
                price: price.map(|price| price.value()),
                annealed: self.annealed,
                note: String::new(),
            },
            price_date: self.price_date.clone(),
            trials,
        })
    }

    fn on_hand(&self, document: &Document) -> Result<OnHand, FileError> {
        match (&self.length, &self.mass) {
            (Some(typed), None) => {
                let length = document.length("length", typed)?;
                document.parsed("length", typed, OnHand::by_length(length))
            }
            (None, Some(typed)) => {
                let mass = document.mass("mass", typed)?;
                document.parsed("mass", typed, OnHand::by_mass(mass))
            }
            _ => Err(document.missing(
                "length",
                "say what is on the reel in exactly one way: length = \"6 m\", or mass = \"50 g\"",
            )),
        }
    }
}

impl TriedEntry {
    fn trial(&self, document: &Document, wire: Wire) -> Result<(WireState, RingTrial), FileError> {
        let rod = document.length("tried.rod", &self.rod)?;
        let mandrel = document.parsed("tried.rod", &self.rod, Mandrel::new(rod))?;
        let typed = parse_readings(self.inside.get_ref());
        let read = document.parsed("tried.inside", &self.inside, typed)?;
        let trial = RingTrial::new(wire, mandrel, read.lengths(), read.resolution());
        let trial = document.parsed("tried.inside", &self.inside, trial)?;
        let state = if self.annealed { WireState::Annealed } else { WireState::AsBought };
        let trial = match &self.date {
            Some(date) => trial.on(date.clone()),
            None => trial,
        };
        Ok((state, trial))
    }
}
