//! What a published chart says, whichever form it takes.

use linkwright_calc::cautions::{Step, for_step};
use serde::{Deserialize, Serialize};

use crate::chart::{Outlook, tried_words};

/// What a chart says of a place where no blade pays.
pub const DO_NOT_CUT: &str = "do not cut this here";

/// The blade chart of one metal and temper, as it stood on a day.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PublishedChart {
    /// The metal, as the trade calls it.
    pub metal: String,
    /// Its key in the table of metals.
    pub metal_key: String,
    /// The temper.
    pub temper: String,
    /// The day, such as 2026-11-25.
    pub date: String,
    /// Which version, such as "Version 3" or "Draft".
    pub version: String,
    /// Trials of this workshop behind it, coils.
    pub trials: u32,
    /// What other workshops' trials are behind it, in words; "" for none.
    pub others: String,
    /// The rods, thin to thick, in both systems.
    pub rods: Vec<String>,
    /// The wires, thin to thick.
    pub rows: Vec<Row>,
}

/// One wire.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Row {
    /// Its diameter in millimetres.
    pub wire: String,
    /// The same in inches, and its gauge.
    pub also: String,
    /// One place a rod; nothing where something is not known.
    pub places: Vec<Option<Place>>,
}

/// One wire on one rod: the blade to use, or the best of those that should not.
///
/// # Units
/// Lengths in mm, the yield strength in MPa, shares and chances of one.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Place {
    /// Diameter of the wire.
    pub wire_mm: f64,
    /// Diameter of the rod.
    pub mandrel_mm: f64,
    /// The blade, as the workshop calls it.
    pub blade: String,
    /// Its diameter.
    pub blade_dia_mm: f64,
    /// Its kerf.
    pub blade_kerf_mm: f64,
    /// Its teeth, if counted.
    pub blade_teeth: Option<u32>,
    /// Height of the blade's axis over the top of the coil.
    pub axis_height_mm: f64,
    /// Nominal yield strength of the wire.
    pub yield_mpa: f64,
    /// Whether to cut here with that blade; otherwise "do not cut this here".
    pub cut: bool,
    /// Mean of the long-run share of good rings, end losses apart.
    pub good_share: f64,
    /// It lies in here with 80 %.
    pub good_share_80: [f64; 2],
    /// Chance that it is at least nine in ten.
    pub chance_of_90: f64,
    /// Coils of this very wire, rod and blade.
    pub trials_here: usize,
}

impl PublishedChart {
    /// "Blade chart: sterling 925, annealed".
    pub fn title(&self) -> String {
        format!("Blade chart: {}, {}", self.metal, self.temper)
    }

    /// "Version 3, 2026-11-25".
    pub fn edition(&self) -> String {
        format!("{}, {}", self.version, self.date)
    }

    /// What it rests on, as a sentence.
    pub fn rests_on(&self) -> String {
        let own = match self.trials {
            0 => "geometry alone, with no trial of this workshop".to_owned(),
            1 => "geometry and 1 trial of this workshop".to_owned(),
            trials => format!("geometry and {trials} trials of this workshop"),
        };
        let others =
            if self.others.is_empty() { String::new() } else { format!(", with {}", self.others) };
        format!("Worked out from {own}{others}; taped and lubricated. Another bench may differ.")
    }

    /// Every place that is known, wire by wire.
    pub fn places(&self) -> impl Iterator<Item = &Place> {
        self.rows.iter().flat_map(|row| row.places.iter().flatten())
    }

    /// What to watch, from first to last; every form of the chart carries all of it.
    pub fn cautions() -> Vec<&'static str> {
        let steps = [Step::BeforeAnything, Step::FittingBlade, Step::Slitting];
        let students = |step| for_step(step).iter().filter(|line| line.student);
        let first = "Local rules and the tool maker's instructions come before this chart.";
        std::iter::once(first)
            .chain(steps.into_iter().flat_map(students).map(|line| line.text))
            .collect()
    }

    /// How to read a place.
    pub const fn how_to_read() -> &'static str {
        "Share of good rings among those not lost at an end of the coil, with the band that holds \
         it four times of five."
    }
}

impl Place {
    /// What to expect.
    pub fn outlook(&self) -> Outlook {
        Outlook::of_chance(self.chance_of_90)
    }

    /// The blade, or that none should cut here.
    pub fn advice(&self) -> String {
        if self.cut { self.blade.clone() } else { DO_NOT_CUT.to_owned() }
    }

    /// "92 % good (88 to 95)", of the best blade where none should cut.
    pub fn share(&self) -> String {
        let bare = |share: f64| format!("{:.0}", 100.0 * share);
        let [low, high] = self.good_share_80.map(bare);
        let share = format!("{} % good ({low} to {high})", bare(self.good_share));
        if self.cut { share } else { format!("at best {share}, {}", self.blade) }
    }

    /// "3 coils tried", or "worked out, not tried".
    pub fn tried(&self) -> String {
        match self.trials_here {
            0 => "worked out, not tried".to_owned(),
            coils => tried_words(coils),
        }
    }
}
