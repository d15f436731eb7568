//! One blade on one line: whether it can be used, and what the coils then are.

use crate::basis::{Answer, Basis, Input};
use crate::coil::{InsideDiameter, Pitch, RelaxedTurns, turns_in_length};
use crate::quantity::Length;
use crate::slit::{
    AllowanceParts, Allowances, AxisHeight, Blade, DepthSetting, LastTurn, SlitError, Verdict,
    VerdictQuery, teeth_across, verdict,
};
use crate::wire::Wire;

use super::rod::Rod;
use super::stock::LineWire;
use super::{BladeOnSheet, Holder, LossesOnSheet, PlanError, WhyOut, Workshop};

/// Clear length beyond what the blade needs, where the workshop has not said what it keeps: a
/// steady start by hand. Common practice, no source.
const START_CLEARANCE_MM: f64 = 1.0;
/// Turns taken as lost at the stop where nothing is known: the low end of "three to five,
/// sometimes". Common practice, no source.
const STOP_TURNS_ASSUMED: u32 = 3;

/// A blade as it stands over a coil.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BladeAsSet {
    /// The wire.
    pub wire: Wire,
    /// Inside of the open coil.
    pub inside: InsideDiameter,
    /// Pitch of the coil.
    pub pitch: Pitch,
    /// The blade.
    pub blade: Blade,
    /// How its depth is known.
    pub depth: DepthSetting,
}

impl Holder {
    /// Judges a blade over a coil in this holder: the verdict that run sheets rest on.
    ///
    /// [`verdict`] with the holder's squash, margin and stop; the blade in the middle of the slot,
    /// no clearance kept under its hub.
    ///
    /// # Units
    /// Lengths.
    /// # Validity
    /// As [`verdict`].
    /// # Errors
    /// [`SlitError`] as [`verdict`], or if the holder's lengths are outside their limits.
    /// # Source
    /// Mechanics D1-D9.
    ///
    /// ```
    /// use linkwright_calc::coil::{InsideDiameter, Pitch};
    /// use linkwright_calc::plan::{BladeAsSet, Holder};
    /// use linkwright_calc::quantity::Length;
    /// use linkwright_calc::slit::{Blade, BladeParts, DepthSetting, Kerf, Projection};
    /// use linkwright_calc::wire::Wire;
    /// let mm = Length::from_mm;
    /// let holder = Holder {
    ///     length: mm(60.0), head_start: None, stop_setback: Some(mm(6.0)), measured: None,
    ///     squash: mm(0.0), margin: mm(0.0),
    /// };
    /// // needs.md, T4: bronze 14 AWG, far side clear by 5.67, one ring not severed at the stop.
    /// let judged = holder.judge(BladeAsSet {
    ///     wire: Wire::new(mm(1.63)).unwrap(),
    ///     inside: InsideDiameter::new(mm(6.24)).unwrap(),
    ///     pitch: Pitch::new(mm(1.63)).unwrap(),
    ///     blade: Blade::new(BladeParts {
    ///         diameter: mm(31.75), kerf: Kerf::new(mm(0.25)).unwrap(), teeth: None, hub_diameter: None,
    ///     }).unwrap(),
    ///     depth: DepthSetting::Projection(Projection::new(mm(2.2)).unwrap()),
    /// }).unwrap();
    /// assert!(judged.clears());
    /// assert!((judged.margins.before_far_wall.mm() - 5.67).abs() < 0.02); // of the middle of the slot
    /// assert_eq!(judged.not_severed_at_stop, Some(1));
    /// ```
    pub fn judge(&self, set: BladeAsSet) -> Result<Verdict, SlitError> {
        let last_turn = self
            .stop_setback
            .map(|setback| LastTurn::from_coil_end(setback, set.wire))
            .transpose()?;
        verdict(&VerdictQuery {
            wire: set.wire,
            inside: set.inside,
            pitch: set.pitch,
            blade: set.blade,
            depth: set.depth,
            allowances: Allowances::new(AllowanceParts {
                blade_offset: Length::from_mm(0.0),
                squash: self.squash,
                margin: self.margin,
                hub_clearance: Length::from_mm(0.0),
            })?,
            last_turn,
        })
    }
}

/// A blade held against a line.
pub(super) struct Held {
    pub on_sheet: BladeOnSheet,
    /// Needed to lay out coils with it; nothing if its depth rules it out.
    pub room: Option<Room>,
}

/// What a full coil has room for.
pub(super) struct Room {
    pub pitch: Pitch,
    pub head_start: Answer<Length>,
    pub relaxed_turns_most: u32,
    pub losses: LossesOnSheet,
    /// Turns of a full coil that become rings.
    pub usable: u32,
}

/// Holds a blade against the coil of a line.
pub(super) fn hold(
    number: usize,
    workshop: &Workshop,
    wire: &LineWire<'_>,
    rod: &Rod,
    pitch: Pitch,
) -> Result<Held, PlanError> {
    let owned = &workshop.blades[number];
    let d = wire.wire.value;
    let judged = workshop.holder.judge(BladeAsSet {
        wire: d,
        inside: InsideDiameter::new(rod.open_inside.value)?,
        pitch,
        blade: owned.blade,
        depth: depth(number, workshop)?,
    })?;
    let mut out: Vec<WhyOut> =
        judged.findings.iter().filter(|f| f.rules_out()).map(|f| WhyOut::Depth(*f)).collect();
    let room = if out.is_empty() { room(workshop, wire, &judged, pitch, &mut out)? } else { None };
    Ok(Held {
        on_sheet: BladeOnSheet {
            number,
            name: owned.name.clone(),
            blade: owned.blade,
            projection: projection(number, workshop, &judged),
            teeth_across: teeth_across(owned.blade, d),
            rings_per_full_coil: room.as_ref().map_or(0, |room| room.usable),
            verdict: judged,
            coils: None,
            wire: None,
            out,
        },
        room,
    })
}

fn depth(number: usize, workshop: &Workshop) -> Result<DepthSetting, PlanError> {
    let measured = workshop.holder.measured.ok_or(PlanError::NoProjection)?;
    if measured.blade == number {
        return Ok(DepthSetting::Projection(measured.projection));
    }
    Ok(DepthSetting::AxisHeight(axis_height(workshop)?))
}

/// How high a blade's axis stands over the coil, by the one projection that was measured.
pub(super) fn axis_height(workshop: &Workshop) -> Result<AxisHeight, PlanError> {
    let measured = workshop.holder.measured.ok_or(PlanError::NoProjection)?;
    let with = workshop.blades[measured.blade].blade;
    Ok(AxisHeight::from_measured(with, measured.projection)?)
}

fn projection(number: usize, workshop: &Workshop, judged: &Verdict) -> Answer<Length> {
    let basis = match workshop.holder.measured {
        Some(measured) if measured.blade != number => {
            let with = &workshop.blades[measured.blade];
            let tried = || Basis::tried(1);
            let own_mm = workshop.blades[number].blade.diameter().mm();
            Basis::worked_out(
                "projection = projection measured + half the difference of the blades' diameters",
                "the blade's axis stays at its height",
                vec![
                    Input::new(
                        "projection measured",
                        measured.projection.depth().mm(),
                        "mm",
                        tried(),
                    ),
                    Input::new(
                        "blade it was measured with",
                        with.blade.diameter().mm(),
                        "mm",
                        tried(),
                    ),
                    Input::new("this blade", own_mm, "mm", tried()),
                ],
            )
        }
        _ => Basis::tried(1),
    };
    Answer { value: judged.projection, basis, cautions: Vec::new() }
}

/// Room on a full coil; adds to `out` what leaves none.
fn room(
    workshop: &Workshop,
    wire: &LineWire<'_>,
    judged: &Verdict,
    pitch: Pitch,
    out: &mut Vec<WhyOut>,
) -> Result<Option<Room>, PlanError> {
    let d = wire.wire.value;
    let holder = &workshop.holder;
    let to_first_centre_mm = judged.head_start.map_or(0.0, Length::mm);
    // The holder is measured to the coil's face, half a wire before the first turn's centre.
    let needed_mm = (to_first_centre_mm - d.diameter().mm() / 2.0).max(0.0);
    let head_start = match holder.head_start {
        Some(given) if given.mm() < needed_mm => {
            out.push(WhyOut::HeadStartShort { needed_mm, given_mm: given.mm() });
            return Ok(None);
        }
        Some(given) => Answer {
            value: given,
            basis: Basis::assumed("the workshop's own head start"),
            cautions: Vec::new(),
        },
        None => Answer {
            value: Length::from_mm(needed_mm + START_CLEARANCE_MM),
            basis: Basis::worked_out(
                "head start = touched reach - half a wire + 1 mm to start steadily",
                "mechanics D7, D9; the 1 mm is common practice, no source",
                vec![
                    Input::new("projection", judged.projection.mm(), "mm", Basis::tried(1)),
                    wire.wire_input(),
                ],
            ),
            cautions: Vec::new(),
        },
    };
    let for_coil = holder.length - head_start.value;
    let relaxed_turns_most = whole(turns_in_length(d, pitch, for_coil)?);
    let losses = losses(workshop, judged);
    let lost = losses.ends.value.saturating_add(losses.stop.value);
    let usable = relaxed_turns_most.saturating_sub(lost);
    if usable == 0 {
        out.push(WhyOut::NothingLeft { turns: relaxed_turns_most, lost });
        return Ok(None);
    }
    Ok(Some(Room { pitch, head_start, relaxed_turns_most, losses, usable }))
}

fn losses(workshop: &Workshop, judged: &Verdict) -> LossesOnSheet {
    let predicted = judged.not_severed_at_stop;
    let (value, basis) = match (workshop.losses.stop_turns, predicted) {
        (Some(own), _) => (own, Basis::assumed("the workshop's own record of the stop")),
        (None, Some(turns)) => (
            turns,
            Basis::worked_out(
                "turns beyond the severed reach when the blade halts",
                "mechanics D6, D8",
                vec![Input::new("projection", judged.projection.mm(), "mm", Basis::tried(1))],
            ),
        ),
        (None, None) => (
            STOP_TURNS_ASSUMED,
            Basis::assumed("three turns at the stop; common practice, no source"),
        ),
    };
    LossesOnSheet {
        ends: Answer {
            value: workshop.losses.end_turns,
            basis: Basis::assumed("the workshop's record"),
            cautions: Vec::new(),
        },
        stop: Answer { value, basis, cautions: Vec::new() },
        stop_predicted: predicted,
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole and small")]
pub(super) fn whole(turns: RelaxedTurns) -> u32 {
    turns.get() as u32
}
