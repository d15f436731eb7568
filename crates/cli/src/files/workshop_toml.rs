//! The workshop file: rods, blades, holder, wire, habits and records, as a jeweller types them.

use linkwright_calc::coil::GoodRings;
use linkwright_calc::metal::{Catalogue, WireLot};
use linkwright_calc::money;
use linkwright_calc::plan::{
    Counts, Holder, Losses, MeasuredProjection, Minutes, OwnedBlade, Rod, StockedWire, Workshop,
};
use linkwright_calc::quantity::{self, Length};
use linkwright_calc::slit::{Blade, BladeSize, Kerf, Projection};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wind::lot::CoilReading;
use linkwright_calc::wire::Wire;
use serde::Deserialize;
use toml::Spanned;

use super::document::{Document, FileError};

/// A workshop file as written; `docs/files.md` describes each key.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WorkshopFile {
    workshop: String,
    confidence: Option<Spanned<String>>,
    /// File with the workshop's own alloys, relative to this file.
    pub metals: Option<String>,
    holder: HolderEntry,
    losses: LossesEntry,
    minutes: Spanned<MinutesEntry>,
    #[serde(default)]
    rod: Vec<RodEntry>,
    #[serde(default)]
    blade: Vec<BladeEntry>,
    #[serde(default)]
    wire: Vec<WireEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct HolderEntry {
    length: Spanned<String>,
    head_start: Option<Spanned<String>>,
    stop_setback: Option<Spanned<String>>,
    projection: Option<ProjectionEntry>,
    squash: Option<Spanned<String>>,
    margin: Option<Spanned<String>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ProjectionEntry {
    blade: Spanned<String>,
    measured: Spanned<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LossesEntry {
    end_turns: u32,
    stop_turns: Option<u32>,
    tails: Spanned<String>,
    packing: Spanned<f64>,
    counted: Option<CountsEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CountsEntry {
    good: u32,
    rejected: u32,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MinutesEntry {
    set_up: f64,
    per_coil: f64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RodEntry {
    name: Option<String>,
    diameter: Spanned<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct BladeEntry {
    name: String,
    diameter: Spanned<String>,
    kerf: Spanned<String>,
    teeth: Option<Spanned<u32>>,
    hub: Option<Spanned<String>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WireEntry {
    name: String,
    metal: Spanned<String>,
    temper: Spanned<String>,
    diameter: Spanned<String>,
    measured_diameter: Option<Spanned<String>>,
    length: Option<Spanned<String>>,
    mass: Option<Spanned<String>>,
    price: Option<Spanned<String>>,
    price_date: Option<String>,
    #[serde(default)]
    tried: Vec<TriedEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct TriedEntry {
    rod: Spanned<String>,
    inside: Spanned<String>,
    #[serde(default)]
    annealed: bool,
    date: Option<String>,
}
