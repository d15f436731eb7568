//! The blade really used beside the planned one: what the planned numbers would be with it.

use linkwright_answers::printout::both_lengths;
use linkwright_calc::coil::InsideDiameter;
use linkwright_calc::plan::{BladeAsSet, WhyOut};
use linkwright_calc::quantity::Length;
use linkwright_calc::slit::{DepthSetting, Projection, Verdict};
use linkwright_store::records::{Blade, Coil};
use linkwright_store::{StoreError, View};

use super::at_bench::AtBench;
use crate::pages::workshop::holders::of_calc;
use crate::planning::workshop_of;

/// Projections nearer than this are the same: half the last digit that is shown, mm.
const SAME_PROJECTION_MM: f64 = 0.005;

/// A blade that is not the planned one, or not as deep, held against the plan.
pub(crate) struct BladeUsed {
    /// What is used: blade and projection.
    pub(crate) used: String,
    /// What was planned.
    pub(crate) planned: String,
    /// What each number is with the planned blade and with this one.
    pub(crate) rows: Vec<[String; 3]>,
    /// What is wrong with it, in sentences; empty if it clears.
    pub(crate) findings: Vec<String>,
    /// Whether it clears.
    pub(crate) clears: bool,
}

/// The projection of a coil's blade: measured, else as the sheet has it.
fn projection_mm(at: &AtBench, coil: &Coil, blade: &Blade) -> Option<f64> {
    coil.projection_mm
        .or_else(|| at.blade_on_sheet(&blade.name).map(|on_sheet| on_sheet.projection_mm))
}

/// The verdict on a blade at a projection, by the sheet's own workshop; none where the projection is
/// no number to work with or the sheet is of an earlier version.
pub(super) fn verdict_at(at: &AtBench, blade: &Blade, projection_mm: f64) -> Option<Verdict> {
    let workshop = workshop_of(&at.work.sheet)?;
    let inside = Length::from_mm(at.sheet.ring.coil_inside_diameter_mm);
    let projection = Projection::new(Length::from_mm(projection_mm)).ok()?;
    workshop
        .holder
        .judge(BladeAsSet {
            wire: at.wire,
            inside: InsideDiameter::new(inside).ok()?,
            pitch: at.pitch,
            blade: of_calc(blade)?,
            depth: DepthSetting::Projection(projection),
        })
        .ok()
}

/// A length in both systems with a word about it, such as "8.15 mm (0.321 in, given)".
fn remarked(mm: f64, word: &str) -> String {
    let both = both_lengths(mm);
    match both.strip_suffix(')') {
        Some(open) => format!("{open}, {word})"),
        None => format!("{both}, {word}"),
    }
}

/// The blade of a coil beside the planned one; none where they are the same or nothing is known.
pub(crate) fn blade_used(
    view: &View<'_>,
    at: &AtBench,
    coil: &Coil,
) -> Result<Option<BladeUsed>, StoreError> {
    let (Some(id), Some(planned)) = (coil.blade_id, at.sheet.blade()) else { return Ok(None) };
    let blade: Blade = view.get(id)?;
    let Some(projection_mm) = projection_mm(at, coil, &blade) else { return Ok(None) };
    let same = blade.name == planned.name
        && (projection_mm - planned.projection_mm).abs() < SAME_PROJECTION_MM;
    let Some(verdict) = verdict_at(at, &blade, projection_mm).filter(|_| !same) else {
        return Ok(None);
    };
    let turns = |turns: Option<u32>| {
        turns.map_or_else(|| "not known".to_owned(), |turns| format!("{turns} turns"))
    };
    let row = |what: &str, planned: String, used: String| [what.to_owned(), planned, used];
    let head_start = at.sheet.coils.head_start_mm;
    // The holder is measured to the coil's face, half a wire before the first turn's centre.
    let needed =
        verdict.head_start.map(|needed| (needed.mm() - at.sheet.wire_diameter_mm / 2.0).max(0.0));
    let mut findings: Vec<String> =
        verdict.findings.iter().map(|finding| WhyOut::Depth(*finding).to_string()).collect();
    let short = needed.filter(|needed_mm| *needed_mm > head_start);
    findings.extend(
        short.map(|needed_mm| {
            WhyOut::HeadStartShort { needed_mm, given_mm: head_start }.to_string()
        }),
    );
    Ok(Some(BladeUsed {
        used: format!("{} at {projection_mm:.2} mm", blade.name),
        planned: format!("{} at {:.2} mm", planned.name, planned.projection_mm),
        rows: vec![
            row(
                "Past a clean cut",
                both_lengths(planned.margin_beyond_clean_mm),
                both_lengths(verdict.margins.beyond_clean.mm()),
            ),
            row(
                "Far wall clear by",
                both_lengths(planned.margin_before_far_wall_mm),
                both_lengths(verdict.margins.before_far_wall.mm()),
            ),
            row(
                "Uncut at the stop",
                turns(planned.not_severed_at_stop),
                turns(verdict.not_severed_at_stop),
            ),
            row(
                "Head start",
                remarked(head_start, "given"),
                needed.map_or_else(
                    || "touches no turn".to_owned(),
                    |needed_mm| remarked(needed_mm, "needed"),
                ),
            ),
        ],
        clears: verdict.clears() && short.is_none(),
        findings,
    }))
}
