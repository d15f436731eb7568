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
    CoilOnSheet, CoilsAsked, CoilsOnSheet, CoilsTaught, Least, LossesOnSheet, Odds, PlanError,
    ToMake, Trials, Untaught, WhyOut, Workshop,
};

/// Where nothing was tried here and the trials elsewhere ask for this many times the coils that the
/// workshop's own record does, one coil on trial tells more than all of them: own rule.
const FAR_MORE: u32 = 2;

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
    least: Option<Least>,
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
        let percent = 100.0 * of.workshop.confidence;
        match trials.coils(&asked) {
            Ok(taught) if taught.odds.tried_here == 0 => {
                let record = room.by_record(of, None)?;
                match record.filter(|record| record.coil_count() * FAR_MORE < taught.coils) {
                    None => room.by_trials(of, &taught).map(Some),
                    Some(record) => Ok(Some(CoilsOnSheet {
                        untaught: Some(format!(
                            "not tried here: to be {percent:.0} % sure would take {} coils; wind one, \
                             count it, and plan the rest anew",
                            taught.coils
                        )),
                        ..record
                    })),
                }
            }
            Ok(taught) => {
                let coils = room.by_trials(of, &taught)?;
                let lost = coils.losses.ends.value + coils.losses.stop.value;
                self.on_sheet.rings_per_full_coil = room.relaxed_turns_most.saturating_sub(lost);
                Ok(Some(coils))
            }
            Err(Untaught::Silent(why)) => {
                let said = |why| format!("losses are the workshop's own record: {why}");
                room.by_record(of, why.map(said))
            }
            Err(Untaught::OutOfReach { tried_here: 0, .. }) => {
                let said = format!(
                    "not tried here: no number of coils is {percent:.0} % sure; wind one, count it, \
                     and plan the rest anew"
                );
                room.by_record(of, Some(said))
            }
            Err(Untaught::OutOfReach { coils, turns, .. }) => {
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
            blade_name: &workshop.blades[blade].name,
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
                least: Some(taught.least),
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
        Ok(Some(self.on_sheet(
            of,
            Laid { losses, to_slit, groups, full: alike, odds, least: None, untaught },
        )))
    }

    fn on_sheet(&self, of: &Layout<'_>, laid: Laid) -> CoilsOnSheet {
        let Laid { losses, to_slit, groups, full, odds, least, untaught } = laid;
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
            least,
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

#[cfg(test)]
mod tests {
    use std::cell::RefCell;

    use crate::metal::Catalogue;
    use crate::plan::{
        Holder, Item, Losses, MeasuredProjection, Minutes, OddsTaught, Order, OrderLine,
        OwnedBlade, Plan, RingWanted, Spare, plan, plan_with,
    };
    use crate::slit::{Blade, BladeParts, Kerf, Projection};
    use crate::wire::Wire;

    use super::*;

    const MM: fn(f64) -> Length = Length::from_mm;

    /// Answers for the small blade as it is told; the large one takes a coil more.
    struct Told {
        answer: Result<CoilsTaught, Untaught>,
        large: Result<CoilsTaught, Untaught>,
        asked: RefCell<Vec<(f64, u32)>>,
    }

    impl Trials for Told {
        fn coils(&self, asked: &CoilsAsked<'_>) -> Result<CoilsTaught, Untaught> {
            self.asked.borrow_mut().push((asked.blade.diameter().mm(), asked.turns_most));
            let is_small = asked.blade.diameter().mm() < 22.0;
            if is_small { self.answer.clone() } else { self.large.clone() }
        }
    }

    fn told(answer: Result<CoilsTaught, Untaught>, large: Result<CoilsTaught, Untaught>) -> Told {
        Told { answer, large, asked: RefCell::default() }
    }

    fn taught() -> CoilsTaught {
        CoilsTaught {
            coils: 3,
            turns: RelaxedTurns::new(50.0),
            last_turns: RelaxedTurns::new(42.0),
            lost_at_ends: 2.6,
            lost_at_stop: 1.2,
            least: Least::Wire,
            odds: OddsTaught {
                confidence: 0.95,
                chance: 0.96,
                expected: 125.0,
                promised: GoodRings::new(113),
                good_share: 0.93,
                tried_here: 4,
                tried_elsewhere: 9,
                other_workshops: 0,
            },
        }
    }

    fn blade(name: &str, diameter_mm: f64) -> OwnedBlade {
        let kerf = Kerf::new(MM(0.2)).unwrap();
        let parts =
            BladeParts { diameter: MM(diameter_mm), kerf, teeth: Some(72), hub_diameter: None };
        OwnedBlade { name: name.to_owned(), blade: Blade::new(parts).unwrap() }
    }

    fn planned(trials: Option<&dyn Trials>) -> Plan {
        let workshop = Workshop {
            name: "bench".to_owned(),
            rods: Vec::new(),
            blades: vec![blade("small", 20.0), blade("large", 22.0)],
            holder: Holder {
                length: MM(80.0),
                head_start: Some(MM(10.0)),
                stop_setback: None,
                measured: Some(MeasuredProjection {
                    blade: 0,
                    projection: Projection::new(MM(1.6)).unwrap(),
                }),
                squash: MM(0.0),
                margin: MM(0.3),
            },
            wire: Vec::new(),
            losses: Losses {
                end_turns: 2,
                stop_turns: Some(3),
                tails: MM(40.0),
                packing: 1.0,
                counts: None,
            },
            minutes: Minutes { set_up: 10.0, per_coil: 6.0 },
            confidence: 0.95,
        };
        let line = OrderLine {
            name: "rings".to_owned(),
            item: Item::Rings { count: GoodRings::new(113) },
            metal: "sterling_925".to_owned(),
            temper: "annealed".to_owned(),
            wire_typed: "1 mm".to_owned(),
            wire: Wire::new(MM(1.0)).unwrap(),
            ring: RingWanted::OnRod { rod: MM(5.0) },
            spare: Spare::Rings(0),
            linked: None,
        };
        let order = Order { name: "order".to_owned(), date: None, lines: vec![line] };
        let metals = Catalogue::built_in();
        match trials {
            None => plan(&order, &workshop, &metals).unwrap(),
            Some(_) => plan_with(&order, &workshop, &metals, trials).unwrap(),
        }
    }

    #[test]
    fn coils_losses_and_odds_are_those_the_trials_taught() {
        let more = CoilsTaught { coils: 4, ..taught() };
        let told = told(Ok(taught()), Ok(more));
        let plan = planned(Some(&told));
        let sheet = &plan.sheets[0];
        assert_eq!(sheet.blade().name, "small");
        let coils = &sheet.coils;
        let of = |group: &CoilOnSheet| (group.coils, group.relaxed_needed, group.slit.get());
        // 2.6 and 1.2 turns are 3 and 1 as whole ones.
        assert_eq!(coils.groups.iter().map(of).collect::<Vec<_>>(), [(2, 50, 46), (1, 42, 38)]);
        assert_eq!((coils.losses.ends.value, coils.losses.stop.value), (3, 1));
        assert_eq!(coils.losses.ends.basis.to_string(), "tried 4 times");
        assert_eq!(coils.odds, Odds::Taught(taught().odds));
        assert_eq!((coils.to_slit, coils.coil_count()), (130, 3));
        assert!(coils.groups[0].wound.get() > 50, "the coil springs open");
        let most = coils.relaxed_turns_most;
        assert_eq!(told.asked.borrow().as_slice(), [(20.0, most), (22.0, most)]);
        assert_eq!(sheet.blade().rings_per_full_coil, most - 4);
    }

    #[test]
    fn what_the_trials_do_not_speak_about_stays_as_recorded_and_says_so() {
        let nothing = Err(Untaught::Silent(Some("nobody cut gold".to_owned())));
        let silent = told(nothing.clone(), nothing);
        let (with, without) = (planned(Some(&silent)), planned(None));
        let (with, without) = (&with.sheets[0], &without.sheets[0]);
        assert_eq!(with.coils.groups, without.coils.groups);
        assert_eq!(with.coils.odds, without.coils.odds);
        let doubts: Vec<String> = with.doubts.iter().map(ToString::to_string).collect();
        assert!(
            doubts.iter().any(|doubt| doubt.ends_with("own record: nobody cut gold")),
            "{doubts:?}"
        );
        assert_eq!(with.doubts.len(), without.doubts.len() + 1);
    }

    #[test]
    fn a_blade_that_never_gives_enough_is_out_and_says_why() {
        let never = Err(Untaught::OutOfReach { coils: 1000, turns: 69, tried_here: 2 });
        let hopeless = told(never, Ok(taught()));
        let plan = planned(Some(&hopeless));
        assert_eq!(plan.sheets[0].blade().name, "large");
        let out: Vec<String> =
            plan.sheets[0].blades[1].out.iter().map(ToString::to_string).collect();
        assert!(out[0].contains("even 1000 coils of 69 turns"), "{out:?}");
    }

    #[test]
    fn with_every_blade_hopeless_the_record_stands_and_says_what_was_tried() {
        let never = Err(Untaught::OutOfReach { coils: 1000, turns: 69, tried_here: 2 });
        let hopeless = told(never.clone(), never);
        let (with, without) = (planned(Some(&hopeless)), planned(None));
        assert_eq!(with.sheets[0].coils.groups, without.sheets[0].coils.groups);
        let doubts: Vec<String> = with.sheets[0].doubts.iter().map(ToString::to_string).collect();
        assert!(doubts.iter().any(|doubt| doubt.contains("every blade")), "{doubts:?}");
    }

    #[test]
    fn far_from_any_trial_one_coil_is_wound_before_many() {
        let untried = |coils| {
            let odds = OddsTaught { tried_here: 0, ..taught().odds };
            Ok(CoilsTaught { coils, odds, ..taught() })
        };
        let without = planned(None).sheets[0].coils.coil_count();
        assert_eq!(without, 2);
        // Twice as many are taken as they are; more are not.
        let twice = planned(Some(&told(untried(4), untried(4))));
        assert_eq!(twice.sheets[0].coils.coil_count(), 4);
        assert_eq!(twice.sheets[0].coils.losses.ends.basis.word(), "worked out");
        let never = Err(Untaught::OutOfReach { coils: 1000, turns: 69, tried_here: 0 });
        for far in [untried(5), never] {
            let plan = planned(Some(&told(far.clone(), far)));
            assert_eq!(plan.sheets[0].coils.coil_count(), 2);
            let doubts: Vec<String> =
                plan.sheets[0].doubts.iter().map(ToString::to_string).collect();
            assert!(doubts.iter().any(|doubt| doubt.contains("wind one")), "{doubts:?}");
        }
    }
}
