//! The workshop file: rods, blades, holder, wire, habits and records, as a jeweller types them.

use linkwright_calc::coil::GoodRings;
use linkwright_calc::metal::Catalogue;
use linkwright_calc::plan::{
    Counts, Holder, Losses, MeasuredProjection, Minutes, OwnedBlade, Rod, Workshop,
};
use linkwright_calc::quantity::{self, Length};
use linkwright_calc::slit::{Blade, BladeParts, Kerf, Projection};
use linkwright_calc::wind::Mandrel;
use serde::Deserialize;
use toml::Spanned;

use super::document::{Document, FileError};
use super::wire_entry::WireEntry;

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

/// Chance of enough good rings that is planned for unless the workshop says otherwise.
const CONFIDENCE_USUAL: f64 = 0.95;

impl WorkshopFile {
    /// Turns what was typed into a workshop, or says what is wrong where.
    pub fn workshop(&self, document: &Document, metals: &Catalogue) -> Result<Workshop, FileError> {
        let blades = self
            .blade
            .iter()
            .map(|entry| entry.blade(&document.within(&format!("blade \"{}\"", entry.name))))
            .collect::<Result<Vec<_>, _>>()?;
        let rods = self
            .rod
            .iter()
            .map(|entry| entry.rod(&document.within("rod")))
            .collect::<Result<_, _>>()?;
        let wire = self
            .wire
            .iter()
            .map(|entry| entry.wire(&document.within(&format!("wire \"{}\"", entry.name)), metals))
            .collect::<Result<_, _>>()?;
        let confidence = match &self.confidence {
            None => CONFIDENCE_USUAL,
            Some(typed) => {
                let share = quantity::parse_share(typed.get_ref());
                document.parsed("confidence", typed, share)?.value()
            }
        };
        let minutes = self.minutes.get_ref();
        let workshop = Workshop {
            name: self.workshop.clone(),
            rods,
            holder: self.holder.holder(&document.within("holder"), &blades)?,
            blades,
            wire,
            losses: self.losses.losses(&document.within("losses"))?,
            minutes: Minutes { set_up: minutes.set_up, per_coil: minutes.per_coil },
            confidence,
        };
        workshop.check().map_err(|error| document.missing("workshop", &error.to_string()))?;
        Ok(workshop)
    }
}

impl HolderEntry {
    fn holder(&self, document: &Document, blades: &[OwnedBlade]) -> Result<Holder, FileError> {
        let optional = |field: &str, typed: &Option<Spanned<String>>| {
            document.optional_length(field, typed.as_ref())
        };
        let measured = self
            .projection
            .as_ref()
            .map(|entry| {
                let named = entry.blade.get_ref();
                let Some(blade) = blades.iter().position(|blade| blade.name == *named) else {
                    return Err(document.wrong(
                        "projection.blade",
                        &entry.blade,
                        &format!("no such blade; there are {}", list_names(blades)),
                    ));
                };
                let depth = document.length("projection.measured", &entry.measured)?;
                let projection = Projection::new(depth);
                let projection =
                    document.parsed("projection.measured", &entry.measured, projection)?;
                Ok(MeasuredProjection { blade, projection })
            })
            .transpose()?;
        Ok(Holder {
            length: document.length("length", &self.length)?,
            head_start: optional("head_start", &self.head_start)?,
            stop_setback: optional("stop_setback", &self.stop_setback)?,
            measured,
            squash: optional("squash", &self.squash)?.unwrap_or(Length::from_mm(0.0)),
            margin: optional("margin", &self.margin)?.unwrap_or(Length::from_mm(0.0)),
        })
    }
}

fn list_names(blades: &[OwnedBlade]) -> String {
    if blades.is_empty() {
        return "none in the file".to_owned();
    }
    blades.iter().map(|blade| format!("\"{}\"", blade.name)).collect::<Vec<_>>().join(", ")
}

impl LossesEntry {
    fn losses(&self, document: &Document) -> Result<Losses, FileError> {
        Ok(Losses {
            end_turns: self.end_turns,
            stop_turns: self.stop_turns,
            tails: document.length("tails", &self.tails)?,
            packing: *self.packing.get_ref(),
            counts: self.counted.as_ref().map(|counted| Counts {
                good: GoodRings::new(counted.good),
                rejected: counted.rejected,
            }),
        })
    }
}

impl RodEntry {
    fn rod(&self, document: &Document) -> Result<Rod, FileError> {
        let diameter = document.length("diameter", &self.diameter)?;
        let mandrel = document.parsed("diameter", &self.diameter, Mandrel::new(diameter))?;
        let name = self.name.clone().unwrap_or_else(|| self.diameter.get_ref().clone());
        Ok(Rod { name, mandrel })
    }
}

impl BladeEntry {
    fn blade(&self, document: &Document) -> Result<OwnedBlade, FileError> {
        let kerf = Kerf::new(document.length("kerf", &self.kerf)?);
        let parts = BladeParts {
            diameter: document.length("diameter", &self.diameter)?,
            kerf: document.parsed("kerf", &self.kerf, kerf)?,
            teeth: self.teeth.as_ref().map(|teeth| *teeth.get_ref()),
            hub_diameter: document.optional_length("hub", self.hub.as_ref())?,
        };
        let blade = document.parsed("diameter", &self.diameter, Blade::new(parts))?;
        Ok(OwnedBlade { name: self.name.clone(), blade })
    }
}
