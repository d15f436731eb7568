//! What a tap does: each is saved whole before it is answered.

use linkwright_calc::limits::MASS;
use linkwright_calc::quantity::{Length, parse_length, parse_mass};
use linkwright_store::records::{Blade, BladeEvent, Coil, Reading, Run, WireLot};
use linkwright_store::{Act, Id, Moment, RingCount, Saved};
use serde::Deserialize;

use super::at_bench::AtBench;
use super::blade_used::verdict_at;
use super::checks::{CHECKS, DRIVE, PROJECTION, TAPE, check};
use super::label::{Written, write, write_trial};
use super::springback::trial_of;
use super::steps::{Place, Step, after};
use crate::error::PageError;
use crate::form::given;
use crate::planning::coil_to_wind;

/// Turns of the longest coil anybody winds.
const TURNS_MOST: u32 = 1000;

/// One tap: where the screen was that it was made on, what it does, and what was typed there.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Tap {
    /// The step of the screen.
    pub(crate) at: String,
    /// The coil of the screen.
    pub(crate) coil: String,
    /// What the tap does, such as `turns:+10`.
    #[serde(rename = "do")]
    pub(crate) doing: String,
    /// Name of the tap, where a page sends many.
    pub(crate) tap: String,
    pub(crate) typed: String,
    pub(crate) lot: String,
    pub(crate) why: String,
    pub(crate) code: String,
    pub(crate) place: String,
    pub(crate) note: String,
}

/// When it is.
#[derive(Clone)]
pub(crate) struct Now {
    pub(crate) moment: Moment,
    /// The day where the workshop is, as 2026-11-25.
    pub(crate) day: String,
}

fn will_not_do(field: &'static str, said: impl ToString) -> PageError {
    PageError::WillNotDo { field, said: said.to_string() }
}

/// A tap being done.
struct Bench<'a, 'b> {
    act: &'a Act<'b>,
    id: Id<Run>,
    at: AtBench,
    /// The screen that was tapped.
    screen: Place,
    now: Now,
}

/// Does what a tap asks.
pub(crate) fn tap(act: &Act<'_>, id: Id<Run>, tap: &Tap, now: Now) -> Result<(), PageError> {
    let at = AtBench::of(act, id)?;
    let here = at.place();
    let screen = Place {
        step: Step::from_word(&tap.at).unwrap_or(here.step),
        coil: tap.coil.parse().unwrap_or(here.coil),
    };
    let bench = Bench { act, id, at, screen, now };
    let (verb, with) = tap.doing.split_once(':').unwrap_or((&tap.doing, ""));
    if bench.at.run().finished_at.is_some() && verb != "take-up" {
        return Err(will_not_do("", "this run is closed; take it up again to change it"));
    }
    match verb {
        "go" => bench.go(with),
        "aside" => bench.change(|run| run.set_aside_why = Some(why(&tap.why, "no reason given"))),
        "resume" => bench.change(|run| run.set_aside_why = None),
        "call-off" => bench.call_off(&tap.why),
        "take-up" => bench.change(|run| {
            run.finished_at = None;
            run.called_off_why = None;
        }),
        "take" => bench.take_wire(tap),
        "annealed" => bench.anneal(true),
        "passed" => bench.anneal(false),
        "turns" => bench.turns(with),
        "wound" => bench.wound(with == "all"),
        "off" => bench.off(&tap.typed),
        "pieces" => bench.pieces(with),
        "divided" => bench.next(),
        "fit" => bench.fit(with, &tap.why),
        "tick" => bench.tick(with),
        "untick" => Ok(act.untick(id, screen.coil, with)?),
        "projection" => bench.projection(&tap.typed, with == "anyway"),
        "checked" => bench.checked(with == "without"),
        "clamped" => {
            let now = bench.now.moment;
            bench.change_coil(|coil| coil.clamped_at = Some(now))?;
            bench.next()
        }
        "slit" => {
            let now = bench.now.moment;
            bench.change_coil(|coil| coil.slit_at = Some(now))?;
            bench.next()
        }
        "count" => bench.count(with).and_then(|()| bench.trial_follows()),
        "rest" => bench.rest().and_then(|()| bench.trial_follows()),
        "planned" => bench.as_planned().and_then(|()| bench.trial_follows()),
        "event" => bench.event(with).and_then(|()| bench.trial_follows()),
        "another" => bench.another(with),
        "counted" => {
            let now = bench.now.moment;
            bench.change_coil(|coil| coil.counted_at = Some(now))?;
            bench.trial_follows()?;
            bench.next()
        }
        "reading" => bench.reading(&tap.typed),
        "drop" => Ok(act.remove(Id::<Reading>::new(with.parse().unwrap_or_default()))?),
        "measured" => bench.next(),
        "label" => bench.label(tap),
        "finish" => {
            let now = bench.now.moment;
            bench.change(|run| run.finished_at = Some(now))
        }
        _ => Err(PageError::Unreadable(format!("nothing is done by \"{}\"", tap.doing))),
    }
}

fn why(typed: &str, otherwise: &str) -> String {
    given(typed).unwrap_or_else(|| otherwise.to_owned())
}

impl Bench<'_, '_> {
    fn change(&self, with: impl FnOnce(&mut Run)) -> Result<(), PageError> {
        let mut run: Run = self.act.get(self.id)?;
        with(&mut run);
        Ok(self.act.change(self.id, &run)?)
    }

    fn coil(&self) -> Result<&Saved<Coil>, PageError> {
        self.at.coil(self.screen.coil).ok_or(PageError::NotFound { what: "coil" })
    }

    fn change_coil(&self, with: impl FnOnce(&mut Coil)) -> Result<(), PageError> {
        let id = self.coil()?.id;
        let mut coil: Coil = self.act.get(id)?;
        with(&mut coil);
        Ok(self.act.change(id, &coil)?)
    }

    fn note_on_coil(&self, note: &str) -> Result<(), PageError> {
        self.change_coil(|coil| {
            if !coil.note.is_empty() {
                coil.note.push_str(" - ");
            }
            coil.note.push_str(note);
        })
    }

    /// On to the next step, unless another window has gone on already.
    fn next(&self) -> Result<(), PageError> {
        // Afresh: what this tap changed may decide which step is passed by.
        let at = AtBench::of(self.act, self.id)?;
        if at.place() != self.screen {
            return Ok(());
        }
        self.enter(&at, after(self.screen, &at))
    }

    fn enter(&self, at: &AtBench, place: Place) -> Result<(), PageError> {
        self.change(|run| {
            run.step = place.step.word().to_owned();
            run.coil_number = place.coil;
            run.set_aside_why = None;
        })?;
        if matches!(place.step, Step::Blade | Step::Clamp) {
            self.blade_stays(at, place.coil)?;
        }
        Ok(())
    }

    /// A coil for which no blade was chosen gets the one of the coil before, or of the sheet.
    fn blade_stays(&self, at: &AtBench, number: u32) -> Result<(), PageError> {
        let Some(coil) = at.coil(number).filter(|coil| coil.record.blade_id.is_none()) else {
            return Ok(());
        };
        let before = number.checked_sub(1).and_then(|before| at.coil(before));
        let mut record = coil.record.clone();
        if let Some(before) = before.filter(|before| before.record.blade_id.is_some()) {
            record.blade_id = before.record.blade_id;
            record.projection_typed.clone_from(&before.record.projection_typed);
            record.projection_mm = before.record.projection_mm;
        } else {
            let of_sheet = at.sheet.blade().map(|blade| blade.name.as_str());
            let blades: Vec<Saved<Blade>> = self.act.blades_in_use()?;
            record.blade_id = blades
                .iter()
                .find(|blade| Some(blade.record.name.as_str()) == of_sheet)
                .map(|blade| blade.id);
        }
        Ok(self.act.change(coil.id, &record)?)
    }

    fn go(&self, with: &str) -> Result<(), PageError> {
        let (step, coil) = with.split_once(':').unwrap_or((with, ""));
        let step = Step::from_word(step).ok_or(PageError::NotFound { what: "step" })?;
        let coil = coil.parse().unwrap_or(self.at.run().coil_number);
        if step.is_of_a_coil() && self.at.coil(coil).is_none() {
            return Err(PageError::NotFound { what: "coil" });
        }
        self.enter(&self.at, Place { step, coil })
    }

    fn call_off(&self, typed: &str) -> Result<(), PageError> {
        let why = given(typed)
            .ok_or_else(|| will_not_do("", "say why it is called off; the reason is kept"))?;
        let now = self.now.moment;
        self.change(|run| {
            run.called_off_why = Some(why);
            run.finished_at = Some(now);
        })
    }

    fn take_wire(&self, tap: &Tap) -> Result<(), PageError> {
        let lot = match given(&tap.lot) {
            None => None,
            Some(number) => {
                let id = Id::<WireLot>::new(number.parse().unwrap_or_default());
                self.act.get(id)?;
                Some(id)
            }
        };
        let grams = match given(&tap.typed) {
            None => None,
            Some(typed) => {
                let typed = with_unit(&typed, "g");
                let mass = parse_mass(&typed).map_err(|error| will_not_do("typed", error))?;
                let g =
                    MASS.check(mass.value().g()).map_err(|error| will_not_do("typed", error))?;
                if g <= 0.0 {
                    return Err(will_not_do(
                        "typed",
                        "wire weighs something; leave it empty if it was not weighed",
                    ));
                }
                Some(g)
            }
        };
        self.change(|run| {
            run.wire_lot_id = lot;
            run.wire_in_g = grams;
        })?;
        self.next()
    }

    fn anneal(&self, done: bool) -> Result<(), PageError> {
        let now = self.now.moment;
        self.change(|run| {
            run.annealed_at = done.then_some(now);
            run.anneal_skipped = !done;
        })?;
        self.next()
    }

    fn turns(&self, by: &str) -> Result<(), PageError> {
        let by = step(by)?;
        Ok(self.act.wind_turns(self.coil()?.id, by)?)
    }

    fn wound(&self, all: bool) -> Result<(), PageError> {
        if !all && self.coil()?.record.turns_wound == 0 {
            return Err(will_not_do(
                "",
                "no turn is counted yet: count, or say that all are wound",
            ));
        }
        let now = self.now.moment;
        self.change_coil(|coil| {
            if all {
                coil.turns_wound = coil.turns_target;
            }
            coil.wound_at = Some(now);
        })?;
        self.next()
    }

    fn off(&self, typed: &str) -> Result<(), PageError> {
        let turns = match given(typed) {
            None => self.coil()?.record.turns_relaxed,
            Some(typed) => {
                let turns: f64 = typed.replace(',', ".").parse().map_err(|_| {
                    will_not_do("typed", "count the turns that are left, such as 45.5")
                })?;
                let coil = &self.coil()?.record;
                let wound = f64::from(coil.turns_wound.max(coil.turns_target));
                if !(turns > 0.0 && turns <= wound) {
                    return Err(will_not_do(
                        "typed",
                        format!(
                            "a coil springs open, so no more than the {wound} turns wound can be left"
                        ),
                    ));
                }
                Some(turns)
            }
        };
        let now = self.now.moment;
        self.change_coil(|coil| {
            coil.turns_relaxed = turns;
            coil.off_at = Some(now);
        })?;
        self.next()
    }

    fn pieces(&self, by: &str) -> Result<(), PageError> {
        let by = step(by)?;
        self.change_coil(|coil| {
            coil.pieces = Some(coil.pieces.unwrap_or(2).saturating_add_signed(by).max(1));
        })
    }

    fn fit(&self, number: &str, typed_why: &str) -> Result<(), PageError> {
        let blade = Id::<Blade>::new(number.parse().unwrap_or_default());
        let record: Blade = self.act.get(blade)?;
        if self.coil()?.record.blade_id == Some(blade) {
            return Ok(());
        }
        self.refused_with_a_reason(&record.name, typed_why)?;
        // Another blade is checked anew.
        for check in CHECKS {
            self.act.untick(self.id, self.screen.coil, check.word)?;
        }
        self.change_coil(|coil| {
            coil.blade_id = Some(blade);
            coil.projection_typed = None;
            coil.projection_mm = None;
        })
    }

    /// A blade the sheet has out is fitted only with a reason, given now or when the run was started.
    fn refused_with_a_reason(&self, name: &str, typed_why: &str) -> Result<(), PageError> {
        let refused = self.at.blade_on_sheet(name).filter(|blade| !blade.usable);
        let Some(refused) =
            refused.filter(|_| !self.at.run().note.contains(&format!("\"{name}\"")))
        else {
            return Ok(());
        };
        let out = refused.why_out.join("; ");
        let because = given(typed_why).ok_or_else(|| {
            will_not_do(
                "why",
                format!("the sheet has {name} out: {out}. Say why it is used all the same"),
            )
        })?;
        self.note_on_coil(&format!(
            "Blade \"{name}\" is fitted although the sheet refuses it ({out}), because: {because}"
        ))
    }

    fn tick(&self, item: &str) -> Result<(), PageError> {
        if item == TAPE {
            return Ok(self.act.tick(self.id, self.screen.coil, TAPE, self.now.moment)?);
        }
        let check = check(item).ok_or(PageError::NotFound { what: "item" })?;
        self.drive_is_separated(check.word)?;
        Ok(self.act.tick(self.id, self.screen.coil, check.word, self.now.moment)?)
    }

    /// Nothing is ticked, and nobody goes on, before the drive is off.
    fn drive_is_separated(&self, item: &str) -> Result<(), PageError> {
        if item == DRIVE || self.at.is_ticked(self.screen.coil, DRIVE) {
            return Ok(());
        }
        Err(will_not_do(
            "",
            "first separate the handpiece from the drive, or pull the plug, and tick that",
        ))
    }

    fn projection(&self, typed: &str, anyway: bool) -> Result<(), PageError> {
        self.drive_is_separated(PROJECTION)?;
        if let Some(typed) = given(typed) {
            let typed = with_unit(&typed, "mm");
            let length = parse_length(&typed).map_err(|error| will_not_do("typed", error))?;
            let mm = length.value().mm();
            if mm <= 0.0 {
                return Err(will_not_do("typed", "the blade must reach below the top of the coil"));
            }
            if let Some(trouble) = self.depth_trouble(mm)? {
                if !anyway {
                    return Err(will_not_do("depth", trouble));
                }
                self.note_on_coil(&format!("Projection {typed} kept although {trouble}"))?;
            }
            self.change_coil(|coil| {
                coil.projection_typed = Some(typed);
                coil.projection_mm = Some(mm);
            })?;
        }
        Ok(self.act.tick(self.id, self.screen.coil, PROJECTION, self.now.moment)?)
    }

    /// What is wrong with a projection by the window of the sheet; for a blade that is not on it, by
    /// the window worked out for it in the same holder.
    fn depth_trouble(&self, mm: f64) -> Result<Option<String>, PageError> {
        let Some(id) = self.coil()?.record.blade_id else { return Ok(None) };
        let blade: Blade = self.act.get(id)?;
        let of_sheet =
            self.at.blade_on_sheet(&blade.name).map(|window| (window.clean_mm, window.most_mm));
        let window = of_sheet.or_else(|| {
            let window = verdict_at(&self.at, &blade, mm)?.window;
            Some((window.clean_with_offset.mm(), window.most_with_offset.mm()))
        });
        Ok(window.and_then(|(clean_mm, most_mm)| {
            if mm < clean_mm {
                Some(format!(
                    "{mm:.2} mm does not cut through: the sheet wants at least {clean_mm:.2} mm"
                ))
            } else if mm > most_mm {
                Some(format!(
                    "{mm:.2} mm comes too near the far wall: the sheet allows {most_mm:.2} mm at most"
                ))
            } else {
                None
            }
        }))
    }

    fn checked(&self, without: bool) -> Result<(), PageError> {
        self.drive_is_separated("")?;
        let missing: Vec<&str> = CHECKS
            .iter()
            .filter(|check| !self.at.is_ticked(self.screen.coil, check.word))
            .map(|check| check.text)
            .collect();
        if !missing.is_empty() {
            if !without {
                return Err(will_not_do("", format!("not ticked: {}", missing.join("; "))));
            }
            self.note_on_coil(&format!("Went on without: {}", missing.join("; ")))?;
        }
        self.next()
    }

    fn count(&self, with: &str) -> Result<(), PageError> {
        let (count, by) = with.split_at(with.find(['+', '-']).unwrap_or(with.len()));
        let count = RingCount::from_word(count).ok_or(PageError::NotFound { what: "count" })?;
        self.act.count_rings(self.coil()?.id, count, step(by)?)?;
        self.counts_fit()
    }

    /// Rings cannot be more than the turns there were.
    fn counts_fit(&self) -> Result<(), PageError> {
        let coil: Coil = self.act.get(self.coil()?.id)?;
        let sum = rings(&coil);
        let there = self.at.turns_there(&coil);
        if sum > there {
            return Err(will_not_do(
                "",
                format!(
                    "that makes {sum} rings, and coil {} had {there} turns: take some off another \
                     count first, or correct the turns",
                    coil.number
                ),
            ));
        }
        Ok(())
    }

    /// A coil that is counted is a trial from then on, and stays one whatever is corrected.
    fn trial_follows(&self) -> Result<(), PageError> {
        let at = AtBench::of(self.act, self.id)?;
        let Some(coil) = at.coil(self.screen.coil) else { return Ok(()) };
        if coil.record.counted_at.is_none() {
            return Ok(());
        }
        let before = self.act.trial_of_coil(self.id, coil.record.number)?;
        let carries_readings = before.is_some_and(|trial| trial.record.inside_mean_mm.is_some());
        write_trial(self.act, &at, &coil.record, &self.now.day, carries_readings)
    }

    /// One coil more than the sheet has, since its coils gave too few rings.
    fn another(&self, turns: &str) -> Result<(), PageError> {
        let turns = turns.parse().ok().filter(|turns| (1..=TURNS_MOST).contains(turns));
        let turns = turns.ok_or_else(|| {
            will_not_do("", format!("a coil has between 1 and {TURNS_MOST} turns"))
        })?;
        let number = self.at.work.coils.iter().map(|coil| coil.record.number).max();
        let number = number.unwrap_or(0) + 1;
        self.act.add(&coil_to_wind(self.id, number, turns))?;
        self.enter(&AtBench::of(self.act, self.id)?, Place { step: Step::Wind, coil: number })
    }

    fn rest(&self) -> Result<(), PageError> {
        let turns = self.at.turns_to_slit(&self.coil()?.record);
        self.change_coil(|coil| {
            coil.good = turns.saturating_sub(coil.uncut + coil.nicked + coil.crushed);
        })
    }

    fn as_planned(&self) -> Result<(), PageError> {
        let number = self.screen.coil;
        let group = self.at.group(number).ok_or(PageError::NotFound { what: "coil" })?;
        let (good, uncut) = (group.rings, self.at.sheet.coils.lost_at_stop);
        self.change_coil(|coil| {
            (coil.good, coil.uncut, coil.nicked, coil.crushed) = (good, uncut, 0, 0);
        })?;
        self.counts_fit()
    }

    fn event(&self, word: &str) -> Result<(), PageError> {
        let event = BladeEvent::from_word(word).ok_or(PageError::NotFound { what: "event" })?;
        self.change_coil(|coil| coil.blade_event = event)
    }

    fn reading(&self, typed: &str) -> Result<(), PageError> {
        let typed = given(typed).ok_or_else(|| will_not_do("typed", "key in what you read"))?;
        let typed = with_unit(&typed, "mm");
        let length = parse_length(&typed).map_err(|error| will_not_do("typed", error))?;
        self.is_a_ring(length.value())?;
        Ok(self.act.add_reading(self.id, &typed, length.value().mm())?)
    }

    /// Refuses what cannot come off this rod before it is kept.
    fn is_a_ring(&self, inside: Length) -> Result<(), PageError> {
        let step = Length::from_mm(0.01);
        linkwright_calc::wind::RingTrial::new(self.at.wire, self.at.rod, &[inside], step)
            .map(|_| ())
            .map_err(|error| will_not_do("typed", error))
    }

    fn label(&self, tap: &Tap) -> Result<(), PageError> {
        let code = given(&tap.code).ok_or_else(|| will_not_do("code", "a batch has a code"))?;
        let own = self.at.work.batch.as_ref().map(|batch| batch.id);
        if self.act.code_is_taken(&code, own)? {
            return Err(will_not_do("code", "another batch has this code; choose another"));
        }
        if trial_of(&self.at).is_none() && self.at.good() == 0 {
            return Err(will_not_do("", "no ring is counted yet, so there is nothing to label"));
        }
        let written = Written {
            code,
            place: tap.place.trim().to_owned(),
            note: tap.note.trim().to_owned(),
            day: self.now.day.clone(),
        };
        write(self.act, &self.at, &written)?;
        self.next()
    }
}

/// Rings of all four counts.
pub(crate) fn rings(coil: &Coil) -> u32 {
    coil.good + coil.uncut + coil.nicked + coil.crushed
}

/// A step of a counter, such as `+10`.
fn step(text: &str) -> Result<i32, PageError> {
    text.parse::<i32>()
        .ok()
        .filter(|by| (-100..=100).contains(by))
        .ok_or_else(|| PageError::Unreadable(format!("no step of a counter: \"{text}\"")))
}

/// A bare number with the unit that stands beside its field; anything else as typed.
fn with_unit(typed: &str, unit: &str) -> String {
    let bare = typed.chars().all(|c| c.is_ascii_digit() || c == '.' || c == ',');
    if bare { format!("{typed} {unit}") } else { typed.to_owned() }
}
