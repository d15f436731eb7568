//! A frozen sheet read back: what the bench and the paper need, from the answer as it was kept.
#![allow(
    dead_code,
    reason = "the whole of a kept answer is read, so that a damaged one is noticed though no page shows every number"
)]

use linkwright_answers::run_sheet::view::PlanView;
use linkwright_answers::run_sheet::view::at_bench::BenchSums;
use linkwright_store::StoreError;
use linkwright_store::records::FrozenSheet;
use serde::Deserialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

/// The numbers of one frozen run sheet; the names are those of `docs/run-sheet.md`.
#[derive(Clone, Debug, Deserialize)]
pub(crate) struct Frozen {
    pub(crate) line: String,
    /// Trade name of the metal.
    pub(crate) metal: String,
    /// Its key in the catalogue.
    pub(crate) metal_key: String,
    pub(crate) temper: String,
    pub(crate) wire_typed: String,
    pub(crate) wire_diameter_mm: f64,
    /// The lot it was planned from; not in stock if absent.
    pub(crate) lot: Option<String>,
    pub(crate) to_make: FrozenRings,
    pub(crate) rod: FrozenRod,
    pub(crate) anneal: FrozenAnneal,
    pub(crate) ring: FrozenRing,
    pub(crate) coils: FrozenCoils,
    /// Best first; the first is the one the sheet is worked out for.
    pub(crate) blades: Vec<FrozenBlade>,
    pub(crate) hold: Option<FrozenHold>,
    pub(crate) speed: Option<FrozenSpeed>,
    pub(crate) metal_use: FrozenMetalUse,
    pub(crate) minutes: f64,
    pub(crate) labels: u32,
    pub(crate) set_up_ticks: Vec<String>,
    /// By step, in the order of work.
    pub(crate) cautions: Vec<FrozenStep>,
    pub(crate) doubts: Vec<String>,
}

#[derive(Clone, Debug, Deserialize)]
pub(crate) struct FrozenRings {
    pub(crate) asked_rings: u32,
    pub(crate) spare_rings: u32,
    pub(crate) good_rings: u32,
    pub(crate) kits: Option<FrozenKits>,
}

#[derive(Clone, Debug, Deserialize)]
pub(crate) struct FrozenKits {
    pub(crate) kits: u32,
    pub(crate) rings_each: u32,
    pub(crate) mass_g: f64,
    pub(crate) one_ring_share: f64,
    pub(crate) scale_step_g_max: Option<f64>,
}

#[derive(Clone, Debug, Deserialize)]
pub(crate) struct FrozenRod {
    pub(crate) name: String,
    pub(crate) mandrel_diameter_mm: f64,
    /// "as bought" or "annealed".
    pub(crate) wire_state: String,
    pub(crate) predicted_inside_diameter_mm: f64,
    pub(crate) predicted_low_mm: f64,
    pub(crate) predicted_high_mm: Option<f64>,
    /// How the prediction stands to what was tried, in words.
    pub(crate) stands: String,
    pub(crate) wanted: Option<FrozenWanted>,
}

#[derive(Clone, Debug, Deserialize)]
pub(crate) struct FrozenWanted {
    pub(crate) coil_inside_diameter_mm: f64,
    pub(crate) tolerance_mm: f64,
}

#[derive(Clone, Debug, Deserialize)]
pub(crate) struct FrozenAnneal {
    pub(crate) advice: String,
    pub(crate) reason: String,
    pub(crate) cautions: Vec<String>,
}

#[derive(Clone, Debug, Deserialize)]
pub(crate) struct FrozenRing {
    /// Open, as planned with.
    pub(crate) coil_inside_diameter_mm: f64,
    pub(crate) closed_inside_diameter_mm: f64,
    pub(crate) aspect_ratio: f64,
    pub(crate) mass_g: f64,
}

#[derive(Clone, Debug, Deserialize)]
pub(crate) struct FrozenCoils {
    pub(crate) coils: u32,
    pub(crate) pitch_mm: f64,
    pub(crate) head_start_mm: f64,
    pub(crate) relaxed_turns_most: u32,
    pub(crate) lost_at_ends: u32,
    pub(crate) lost_at_stop: u32,
    pub(crate) groups: Vec<FrozenGroup>,
}

/// Coils wound alike.
#[derive(Clone, Debug, Deserialize)]
pub(crate) struct FrozenGroup {
    pub(crate) coils: u32,
    pub(crate) wound_turns: u32,
    pub(crate) relaxed_turns_needed: u32,
    pub(crate) relaxed_turns: f64,
    pub(crate) rings: u32,
    pub(crate) coil_length_mm: f64,
    pub(crate) wire_length_mm: f64,
}

#[derive(Clone, Debug, Deserialize)]
pub(crate) struct FrozenBlade {
    pub(crate) name: String,
    pub(crate) usable: bool,
    pub(crate) why_out: Vec<String>,
    pub(crate) blade_diameter_mm: f64,
    pub(crate) kerf_mm: f64,
    pub(crate) teeth: Option<u32>,
    pub(crate) projection_mm: f64,
    pub(crate) clean_mm: f64,
    pub(crate) far_wall_mm: f64,
    pub(crate) most_mm: f64,
    pub(crate) margin_beyond_clean_mm: f64,
    pub(crate) margin_before_far_wall_mm: f64,
    pub(crate) severed_reach_mm: Option<f64>,
    /// Turns that stay uncut at the stop, as the geometry has it.
    pub(crate) not_severed_at_stop: Option<u32>,
}

#[derive(Clone, Debug, Deserialize)]
pub(crate) struct FrozenHold {
    pub(crate) no_mark_force_per_turn_n: f64,
    pub(crate) collapse_force_per_turn_n: f64,
}

#[derive(Clone, Debug, Deserialize)]
pub(crate) struct FrozenSpeed {
    pub(crate) handbook_rpm: [f64; 2],
    pub(crate) customary_rpm: Option<[f64; 2]>,
}

#[derive(Clone, Debug, Deserialize)]
pub(crate) struct FrozenMetalUse {
    pub(crate) wire_length_mm: f64,
    pub(crate) wire_mass_g: f64,
    pub(crate) rings_mass_g: f64,
    pub(crate) kerf_dust_g: f64,
    pub(crate) ends_and_tails_g: f64,
}

/// The cautions of one step.
#[derive(Clone, Debug, Deserialize)]
pub(crate) struct FrozenStep {
    /// Heading of the step, as `cautions.md` has it.
    pub(crate) step: String,
    pub(crate) lines: Vec<FrozenCaution>,
}

#[derive(Clone, Debug, Deserialize)]
pub(crate) struct FrozenCaution {
    pub(crate) text: String,
    pub(crate) student: bool,
}

impl Frozen {
    /// Reads the answer kept in a frozen sheet.
    pub(crate) fn of(sheet: &FrozenSheet) -> Result<Frozen, StoreError> {
        part(sheet, "sheet")
    }

    /// The blade the sheet is worked out for; a sheet always has one.
    pub(crate) fn blade(&self) -> Option<&FrozenBlade> {
        self.blades.first()
    }
}

/// The sheet as it was shown when it was frozen.
pub(crate) fn shown(sheet: &FrozenSheet) -> Result<PlanView, StoreError> {
    part(sheet, "shown")
}

/// The sums behind the numbers at the bench; nothing but words for a sheet that was frozen before
/// they were kept.
pub(crate) fn sums(sheet: &FrozenSheet) -> Result<BenchSums, StoreError> {
    Ok(part::<Option<BenchSums>>(sheet, "bench")?.unwrap_or_default())
}

fn part<T: DeserializeOwned>(sheet: &FrozenSheet, key: &str) -> Result<T, StoreError> {
    let corrupt = |error: serde_json::Error| StoreError::Corrupt {
        record: "frozen_sheet".to_owned(),
        what: error.to_string(),
    };
    let mut answer: Value = serde_json::from_str(&sheet.answer).map_err(corrupt)?;
    serde_json::from_value(answer[key].take()).map_err(corrupt)
}
