//! The sums behind the numbers of bench mode: those of the sheet, kept with it, and those of what was
//! counted and measured on the way.

use linkwright_calc::basis::{Basis, Input};
use linkwright_calc::plan::{CoilOnSheet, OddsTaught, RunSheet};
use linkwright_calc::quantity::Length;
use serde::{Deserialize, Serialize};

use super::BasisView;
use super::sums;
use crate::run_sheet::rows::behind;

/// The sums of a sheet that bench mode shows.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct BenchSums {
    /// Wire for the whole run.
    pub wire_length: BasisView,
    /// What it weighs.
    pub wire_mass: BasisView,
    /// Size of the rod.
    pub rod: BasisView,
    /// One entry a group of coils, in the order of winding.
    pub groups: Vec<GroupSums>,
    /// Turns the holder takes.
    pub turns_most: BasisView,
    /// Turns lost on each coil.
    pub lost: BasisView,
    /// Projections that will do.
    pub window: BasisView,
    /// Projection of the planned blade.
    pub projection: BasisView,
    /// Forces of the clamp.
    pub clamp: BasisView,
    /// Clear length before the coil.
    pub head_start: BasisView,
    /// Turns uncut at the stop.
    pub uncut: BasisView,
    /// Turns planned as lost at the stop.
    pub lost_at_stop: BasisView,
    /// Speed of the blade.
    pub speed: BasisView,
    /// Rings to make.
    pub good_rings: BasisView,
}

/// The sums of coils wound alike.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct GroupSums {
    /// Turns to wind.
    pub turns_to_wind: BasisView,
    /// Wire for one coil.
    pub wire_each: BasisView,
    /// Turns that are to become rings, and those that are lost.
    pub turns_needed: BasisView,
}

impl BenchSums {
    /// Those of a sheet.
    pub fn of(sheet: &RunSheet) -> BenchSums {
        let coils = &sheet.coils;
        BenchSums {
            wire_length: BasisView::of(&sums::wire_length(sheet)),
            wire_mass: BasisView::of(&sums::wire_mass(sheet)),
            rod: BasisView::of(&sums::rod()),
            groups: coils.groups.iter().map(|group| GroupSums::of(sheet, group)).collect(),
            turns_most: BasisView::of(&sums::turns_most(sheet)),
            lost: BasisView::of(&sums::lost_on_each(sheet)),
            window: BasisView::of(&sums::window(sheet)),
            projection: BasisView::of(&sheet.blade().projection.basis),
            clamp: sheet
                .hold
                .as_ref()
                .map_or_else(BasisView::default, |held| BasisView::of(&held.basis)),
            head_start: BasisView::of(&coils.head_start.basis),
            uncut: BasisView::of(&sums::uncut(sheet)),
            lost_at_stop: BasisView::of(&coils.losses.stop.basis),
            speed: BasisView::of(&sums::speed(sheet)),
            good_rings: BasisView::of(&sums::good_rings(sheet)),
        }
    }
}

impl GroupSums {
    fn of(sheet: &RunSheet, group: &CoilOnSheet) -> GroupSums {
        GroupSums {
            turns_to_wind: BasisView::of(&sums::turns_to_wind(sheet, group)),
            wire_each: BasisView::of(&sums::wire_each(sheet, group)),
            turns_needed: BasisView::of(&sums::turns_needed(sheet, group)),
        }
    }
}

/// Turns wound on a coil, and whether they were counted at the bench.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TurnsWound {
    /// How many.
    pub turns: u32,
    /// Counted; as the sheet wants it otherwise.
    pub counted: bool,
}

impl TurnsWound {
    fn input(self) -> Input {
        let basis =
            if self.counted { Basis::tried(1) } else { Basis::assumed("wound as the sheet says") };
        Input::new("turns wound", f64::from(self.turns), "-", basis)
    }
}

fn of_sheet(name: &'static str, length: Length) -> Input {
    Input::new(name, length.mm(), "mm", Basis::assumed("the run sheet"))
}

/// Coils still to make for so many rings, by what was tried up to now.
pub fn more_coils(odds: &OddsTaught, rings_missing: u32) -> BasisView {
    let mut view = BasisView::of(&sums::more_coils(odds, rings_missing));
    view.word = behind(odds);
    view
}

/// Turns left on a coil that has sprung open.
pub fn turns_left(wound: TurnsWound, rod: Length, wire: Length, inside: Length) -> BasisView {
    BasisView::of(&Basis::worked_out(
        sums::TURNS_LEFT,
        sums::WIRE_KEEPS_ITS_LENGTH,
        vec![
            wound.input(),
            of_sheet("rod", rod),
            of_sheet("wire", wire),
            of_sheet("inside of the open ring", inside),
        ],
    ))
}

/// Inside of a coil by its turns.
pub fn inside_by_turns(wound: TurnsWound, left: f64, rod: Length, wire: Length) -> BasisView {
    BasisView::of(&Basis::worked_out(
        "turns wound x (rod + wire) / turns left - wire",
        sums::WIRE_KEEPS_ITS_LENGTH,
        vec![
            wound.input(),
            of_sheet("rod", rod),
            of_sheet("wire", wire),
            Input::new("turns left", left, "-", Basis::tried(1)),
        ],
    ))
}

/// Length of a coil of whole turns.
pub fn coil_length(turns: u32, pitch: Length, wire: Length) -> BasisView {
    BasisView::of(&Basis::worked_out(
        "turns x pitch + wire",
        sums::COIL_LENGTH_SOURCE,
        vec![
            Input::new("turns", f64::from(turns), "-", Basis::worked_out("", "", Vec::new())),
            of_sheet("pitch", pitch),
            of_sheet("wire", wire),
        ],
    ))
}

/// Mean of the rings measured.
pub fn mean(rings: u32) -> BasisView {
    BasisView::of(&Basis::worked_out(
        "sum of the insides measured / rings measured",
        "definition",
        vec![Input::new("rings measured", f64::from(rings), "-", Basis::tried(rings))],
    ))
}

/// Their standard deviation.
pub fn spread(rings: u32) -> BasisView {
    BasisView::of(&Basis::worked_out(
        "root of (sum of the squared distances from the mean / (rings measured - 1))",
        "definition, of a sample",
        vec![Input::new("rings measured", f64::from(rings), "-", Basis::tried(rings))],
    ))
}

/// Springback of the rings measured.
pub fn springback(mean: Length, rings: u32, rod: Length) -> BasisView {
    BasisView::of(&Basis::worked_out(
        "(mean inside - rod) / rod",
        "definition",
        vec![Input::new("mean inside", mean.mm(), "mm", Basis::tried(rings)), of_sheet("rod", rod)],
    ))
}

/// Inside of the rings once closed; `rings` measured, none if the sheet's prediction stands in.
pub fn closed_inside(inside: Length, rings: u32, kerf: Length, wire: Length) -> BasisView {
    let open = if rings == 0 {
        of_sheet("inside of the open ring", inside)
    } else {
        Input::new("inside of the open ring", inside.mm(), "mm", Basis::tried(rings))
    };
    BasisView::of(&Basis::worked_out(
        sums::CLOSED_INSIDE,
        sums::CLOSED_INSIDE_SOURCE,
        vec![open, of_sheet("wire", wire), Input::new("kerf", kerf.mm(), "mm", sums::blade())],
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn turns_counted_at_the_bench_stand_in_the_sum_as_tried() {
        let mm = Length::from_mm;
        let counted = TurnsWound { turns: 47, counted: true };
        let sum = turns_left(counted, mm(4.0), mm(1.02), mm(4.14));
        assert_eq!(sum.word, "worked out");
        assert_eq!(sum.inputs[0], "turns wound 47.000 (tried once)");
        let planned = TurnsWound { turns: 47, counted: false };
        let sum = turns_left(planned, mm(4.0), mm(1.02), mm(4.14));
        assert_eq!(sum.inputs[0], "turns wound 47.000 (assumed: wound as the sheet says)");
    }

    #[test]
    fn a_sheet_kept_before_there_were_sums_has_the_word_alone() {
        let read: BenchSums = serde_json::from_str("{}").expect("nothing is needed");
        assert_eq!(read.wire_mass.word, "worked out");
        assert!(read.wire_mass.formula.is_empty());
    }
}
