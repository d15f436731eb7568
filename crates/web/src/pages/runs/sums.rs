//! The sums that open behind the numbers of a step.

use linkwright_answers::run_sheet::view::BasisView;
use linkwright_answers::run_sheet::view::at_bench::{
    self, BenchSums, GroupSums, TurnsWound, coil_length, inside_by_turns, springback, turns_left,
};
use linkwright_calc::quantity::Length;
use linkwright_store::View;

use super::at_bench::AtBench;
use super::label::{closed_inside, open_inside};
use super::springback::trial_of;
use super::steps::Step;
use crate::error::PageError;
use crate::planning::sums;

/// The sums of one step; a page shows those of its own numbers.
pub(crate) struct StepSums {
    /// As the sheet has them.
    pub(crate) sheet: BenchSums,
    /// Those of the coils wound like this one.
    pub(crate) group: GroupSums,
    /// Turns left on the coil.
    pub(crate) turns_left: BasisView,
    /// Length of the coil.
    pub(crate) length: BasisView,
    /// Inside by the turns counted.
    pub(crate) inside_by_turns: BasisView,
    /// Mean of the rings measured.
    pub(crate) mean: BasisView,
    /// Their spread.
    pub(crate) spread: BasisView,
    /// Their springback.
    pub(crate) springback: BasisView,
    /// Inside of the rings once closed.
    pub(crate) closed: BasisView,
}

impl StepSums {
    /// Those of the step a run is at.
    pub(crate) fn of(view: &View<'_>, at: &AtBench) -> Result<StepSums, PageError> {
        let sheet = sums(&at.work.sheet)?;
        let place = at.place();
        let group = at.group_number(place.coil).and_then(|number| sheet.groups.get(number));
        let group = group.cloned().unwrap_or_default();
        let coil = at.coil(place.coil).map(|saved| &saved.record);
        let (rod, wire) = (at.rod.diameter(), at.wire.diameter());
        let wound = coil.map_or(TurnsWound { turns: 0, counted: false }, |coil| TurnsWound {
            turns: if coil.turns_wound > 0 { coil.turns_wound } else { coil.turns_target },
            counted: coil.turns_wound > 0,
        });
        let left = coil.and_then(|coil| coil.turns_relaxed);
        let planned_inside = Length::from_mm(at.sheet.ring.coil_inside_diameter_mm);
        let trial = trial_of(at).filter(|_| matches!(place.step, Step::Measure | Step::Label));
        let rings = u32::try_from(at.work.readings.len()).unwrap_or(u32::MAX);
        let closed = match place.step {
            Step::Label => closed_inside(view, at)?.map(|(_, kerf_mm)| {
                let kerf = Length::from_mm(kerf_mm);
                at_bench::closed_inside(open_inside(at).0, rings, kerf, wire)
            }),
            _ => None,
        };
        Ok(StepSums {
            group,
            turns_left: turns_left(wound, rod, wire, planned_inside),
            length: coil_length(
                coil.map_or(0, |coil| at.turns_there(coil)),
                at.pitch.advance(),
                wire,
            ),
            inside_by_turns: left
                .map_or_else(BasisView::default, |left| inside_by_turns(wound, left, rod, wire)),
            mean: at_bench::mean(rings),
            spread: at_bench::spread(rings),
            springback: trial
                .map_or_else(BasisView::default, |trial| springback(trial.mean(), rings, rod)),
            closed: closed.unwrap_or_default(),
            sheet,
        })
    }
}
