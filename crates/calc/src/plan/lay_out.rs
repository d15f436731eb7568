//! The coils of a line under one blade: how many, and how many turns in each.

use crate::basis::Answer;
use crate::coil::{
    Coil, GoodRings, InsideDiameter, RelaxedTurns, WoundTurns, coil_length, wire_to_wind,
};
use crate::count::{GoodRate, chance_of_at_least, rings_to_slit};
use crate::quantity::Length;

use super::blades::{Held, Room, axis_height, whole};
use super::divide::{CoilGroup, divide};
use super::rod::Rod;
use super::sheet::slit_count;
use super::stock::LineWire;
use super::{
    CoilOnSheet, CoilsAsked, CoilsOnSheet, CoilsTaught, LossesOnSheet, Odds, PlanError, ToMake,
    Trials, Untaught, WhyOut, Workshop,
};

/// Everything a coil is laid out from.
pub(super) struct Layout<'a> {
    pub workshop: &'a Workshop,
    pub wire: &'a LineWire<'a>,
    pub rod: &'a Rod,
    pub to_make: &'a ToMake,
}

/// What either way of laying out comes to.
struct Laid {
    losses: LossesOnSheet,
    to_slit: u32,
    groups: Vec<CoilOnSheet>,
    /// A coil that is not a shorter last one.
    full: CoilOnSheet,
    odds: Odds,
    untaught: Option<String>,
}

impl Held {
    /// Lays out the coils for the rings to make; none if the blade is out.
    pub(super) fn lay_out(
        &mut self,
        of: &Layout<'_>,
        trials: Option<&dyn Trials>,
    ) -> Result<Option<CoilsOnSheet>, PlanError> {
        let Some(room) = &self.room else { return Ok(None) };
        let Some(trials) = trials else { return room.by_record(of, None) };
        let asked = room.asked(of, self.on_sheet.number)?;
        match trials.coils(&asked) {
            Ok(taught) => {
                let coils = room.by_trials(of, &taught)?;
                let lost = coils.losses.ends.value + coils.losses.stop.value;
                self.on_sheet.rings_per_full_coil = room.relaxed_turns_most.saturating_sub(lost);
                Ok(Some(coils))
            }
            Err(Untaught::Silent(why)) => room.by_record(of, why),
            Err(Untaught::OutOfReach { coils, turns }) => {
                self.on_sheet.out.push(WhyOut::TooFewGood { coils, turns });
                Ok(None)
            }
        }
    }
}

impl Room {
    /// What the trials are asked about coils in this room.
    fn asked<'a>(&self, of: &Layout<'a>, blade: usize) -> Result<CoilsAsked<'a>, PlanError> {
        let Layout { workshop, wire, rod, to_make } = of;
        let on_rod = |turns, tails| {
            let d = wire.wire.value;
            wire_to_wind(d, rod.on_sheet.mandrel, self.pitch, WoundTurns::new(turns), tails)
        };
        let nothing = Length::from_mm(0.0);
        Ok(CoilsAsked {
            metal: wire.metal.key().as_str(),
            temper: wire.temper_in(rod.on_sheet.state).name().as_str(),
            wire: wire.wire.value,
            mandrel: rod.on_sheet.mandrel,
            blade: workshop.blades[blade].blade,
            axis: axis_height(workshop)?,
            good: to_make.good,
            turns_most: self.relaxed_turns_most,
            confidence: workshop.confidence,
            wire_each_turn: on_rod(1, nothing)?,
            wire_each_coil: workshop.losses.tails,
        })
    }

    /// The coils as the trials have them.
    fn by_trials(&self, of: &Layout<'_>, taught: &CoilsTaught) -> Result<CoilsOnSheet, PlanError> {
        let basis = || taught.odds.basis();
        let rounded = |turns: f64| Answer {
            value: whole(RelaxedTurns::new(turns.round())),
            basis: basis(),
            cautions: Vec::new(),
        };
        let losses = LossesOnSheet {
            ends: rounded(taught.lost_at_ends),
            stop: rounded(taught.lost_at_stop),
            stop_predicted: self.losses.stop_predicted,
        };
        let lost = losses.ends.value + losses.stop.value;
        let group = |coils: u32, turns: RelaxedTurns| {
            let good_each = whole(turns).saturating_sub(lost);
            self.coil(CoilGroup { coils, good_each }, lost, of)
        };
        let (all_full, last) = (group(taught.coils, taught.turns)?, taught.last_turns);
        let groups = if taught.coils > 1 && last < taught.turns {
            vec![CoilOnSheet { coils: taught.coils - 1, ..all_full }, group(1, last)?]
        } else {
            vec![group(taught.coils, last)?]
        };
        Ok(self.on_sheet(
            of,
            Laid {
                losses,
                to_slit: slit_count(&groups),
                groups,
                full: all_full,
                odds: Odds::Taught(taught.odds),
                untaught: None,
            },
        ))
    }

    /// The coils by the workshop's own record of losses and counts.
    fn by_record(
        &self,
        of: &Layout<'_>,
        untaught: Option<String>,
    ) -> Result<Option<CoilsOnSheet>, PlanError> {
        let Layout { workshop, to_make, .. } = of;
        let good = to_make.good.get();
        let rate = workshop
            .losses
            .counts
            .map(|counts| GoodRate::UNSEEN.after(counts.good.get(), counts.rejected));
        let to_slit = match rate {
            Some(rate) => rings_to_slit(good, rate, workshop.confidence)?,
            None => good,
        };
        // `to_slit` and `usable` are both at least one.
        let Some(division) = divide(to_slit, self.usable) else { return Ok(None) };
        let lost = self.lost();
        let alike = self.coil(division.alike, lost, of)?;
        let mut groups = vec![alike];
        if let Some((full, last)) = division.shorter_last {
            let last = self.coil(last, lost, of)?;
            let saved_mm = alike.wire.mm() - last.wire.mm();
            if saved_mm > self.lost_wire_mm(of)? {
                groups = vec![CoilOnSheet { coils: full.coils, ..alike }, last];
            }
        }
        let odds = odds(to_make, slit_count(&groups), rate, workshop)?;
        let losses = self.losses.clone();
        Ok(Some(self.on_sheet(of, Laid { losses, to_slit, groups, full: alike, odds, untaught })))
    }

    fn on_sheet(&self, of: &Layout<'_>, laid: Laid) -> CoilsOnSheet {
        let Laid { losses, to_slit, groups, full, odds, untaught } = laid;
        let coils: u32 = groups.iter().map(|group| group.coils).sum();
        CoilsOnSheet {
            pitch: self.pitch,
            holder: of.workshop.holder.length,
            stop_setback: of.workshop.holder.stop_setback,
            head_start: self.head_start.clone(),
            relaxed_turns_most: self.relaxed_turns_most,
            losses,
            tails: of.workshop.losses.tails,
            to_slit,
            wire_if_all_alike: Length::from_mm(f64::from(coils) * full.wire.mm()),
            groups,
            odds,
            untaught,
        }
    }

    fn coil(&self, group: CoilGroup, lost: u32, of: &Layout<'_>) -> Result<CoilOnSheet, PlanError> {
        let d = of.wire.wire.value;
        let (mandrel, inside) = (of.rod.on_sheet.mandrel, of.rod.open_inside.value);
        let relaxed_needed = group.good_each + lost;
        let needed = RelaxedTurns::new(f64::from(relaxed_needed));
        let wound = needed.to_wind(d, mandrel, inside);
        let tails = of.workshop.losses.tails;
        Ok(CoilOnSheet {
            coils: group.coils,
            wound,
            relaxed_needed,
            relaxed: wound.relaxed(d, mandrel, inside),
            slit: GoodRings::new(group.good_each),
            length: coil_length(d, self.pitch, needed)?,
            wire: wire_to_wind(d, mandrel, self.pitch, wound, tails)?,
        })
    }

    fn lost(&self) -> u32 {
        self.losses.ends.value + self.losses.stop.value
    }

    /// Wire one coil loses at its ends and tails: what one more number to count must be worth.
    fn lost_wire_mm(&self, of: &Layout<'_>) -> Result<f64, PlanError> {
        let inside = InsideDiameter::new(of.rod.open_inside.value)?;
        let turn = Coil::new(of.wire.wire.value, inside, self.pitch)?.turn_length();
        Ok(of.workshop.losses.tails.mm() + f64::from(self.lost()) * turn.mm())
    }
}

fn odds(
    to_make: &ToMake,
    slit: u32,
    rate: Option<GoodRate>,
    workshop: &Workshop,
) -> Result<Odds, PlanError> {
    let (good, asked) = (to_make.good.get(), to_make.asked.get());
    Ok(match (rate, workshop.losses.counts) {
        (Some(rate), Some(counts)) => Odds::Known {
            confidence: workshop.confidence,
            chance: chance_of_at_least(good, slit, rate)?,
            expected: rate.mean() * f64::from(slit),
            counted: counts.good.get().saturating_add(counts.rejected),
        },
        _ => Odds::Unknown {
            bears: slit.saturating_sub(good),
            bears_without_spares: slit.saturating_sub(asked),
        },
    })
}
