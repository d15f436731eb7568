//! A trial as typed, field by field, read into a record.

use std::fmt::Display;

use linkwright_calc::limits::{BLADE_DIAMETER, PROJECTION};
use linkwright_calc::metal::{Catalogue, Hardness};
use linkwright_calc::quantity::{parse_count, parse_length, parse_readings};
use linkwright_calc::wind::{Mandrel, RingTrial};
use linkwright_calc::wire::Wire;
use serde::{Deserialize, Serialize};

use super::dates::{DateOrder, read_date};
use crate::record::Saved;
use crate::records::{Blade, BladeEvent, Outcome, Trial, TrialSource, WireLot};

macro_rules! entry {
    ($($(#[$about:meta])* $field:ident,)*) => {
        /// A trial as typed; "" where nothing is noted. The order is that of the pencil card.
        #[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
        #[serde(default)]
        pub struct TrialEntry {
            $($(#[$about])* pub $field: String,)*
        }

        impl TrialEntry {
            /// Names of the fields, in order.
            pub const FIELDS: &'static [&'static str] = &[$(stringify!($field)),*];

            /// What was typed into a field.
            #[must_use]
            pub fn field(&self, name: &str) -> &str {
                match name { $(stringify!($field) => &self.$field,)* _ => "" }
            }

            /// Types into a field; `false` if there is none of that name.
            pub fn type_into(&mut self, name: &str, text: String) -> bool {
                match name { $(stringify!($field) => self.$field = text,)* _ => return false }
                true
            }
        }
    };
}

entry! {
    /// Day.
    tried_on,
    /// Who did it.
    worker,
    /// Metal.
    metal,
    /// Temper as bought.
    temper,
    /// Annealed at the bench: yes or no.
    annealed,
    /// Wire with its unit.
    wire,
    /// Rod with its unit.
    rod,
    /// Name of the lot of wire.
    lot,
    /// Blade.
    blade,
    /// Diameter of the blade with its unit.
    blade_diameter,
    /// Projection with its unit.
    projection,
    /// Turns wound.
    turns_wound,
    /// Turns left when the coil had sprung open.
    turns_relaxed,
    /// What befell the blade.
    blade_event,
    /// Inside diameters read, with a unit after the last.
    inside,
    /// Good rings.
    good,
    /// Rings not severed.
    uncut,
    /// Rings nicked or bent.
    nicked,
    /// Rings crushed.
    crushed,
    /// How it went.
    outcome,
    /// Anything else.
    note,
}

/// What is wrong with one field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FieldWrong {
    /// Name of the field.
    pub field: &'static str,
    /// What was typed.
    pub typed: String,
    /// What is wrong, and what would do.
    pub why: String,
}

/// What a reader of trials has to know.
#[derive(Clone, Copy, Debug)]
pub struct TrialReader<'a> {
    /// The metals there are.
    pub metals: &'a Catalogue,
    /// The workshop's blades.
    pub blades: &'a [Saved<Blade>],
    /// The workshop's wire.
    pub lots: &'a [Saved<WireLot>],
    /// Where the trials come from.
    pub source: TrialSource,
    /// Order of day and month where they stand with strokes.
    pub dates: DateOrder,
}

/// Complaints while an entry is read.
struct Reading<'a> {
    entry: &'a TrialEntry,
    wrong: Vec<FieldWrong>,
}

impl<'a> Reading<'a> {
    fn blame(&mut self, field: &'static str, why: impl Display) {
        if !self.wrong.iter().any(|wrong| wrong.field == field) {
            let typed = self.entry.field(field).to_owned();
            self.wrong.push(FieldWrong { field, typed, why: why.to_string() });
        }
    }

    fn take<T, E: Display>(&mut self, field: &'static str, read: Result<T, E>) -> Option<T> {
        read.map_err(|why| self.blame(field, why)).ok()
    }

    fn given(&self, field: &str) -> Option<&'a str> {
        Some(self.entry.field(field).trim()).filter(|typed| !typed.is_empty())
    }

    /// A field that may be left blank; `None` outside if it was typed and cannot be read.
    fn maybe<T, E: Display>(
        &mut self,
        field: &'static str,
        read: impl FnOnce(&str) -> Result<T, E>,
    ) -> Option<T> {
        let typed = self.given(field)?;
        let read = read(typed);
        self.take(field, read)
    }

    fn count(&mut self, field: &'static str) -> Option<u32> {
        self.maybe(field, |typed| parse_count(typed).map(|count| count.value()))
    }
}

impl TrialReader<'_> {
    /// Reads a trial.
    ///
    /// # Errors
    /// Everything that is wrong, field by field.
    pub fn read(&self, entry: &TrialEntry) -> Result<Trial, Vec<FieldWrong>> {
        let mut at = Reading { entry, wrong: Vec::new() };
        let tried_on = at.take("tried_on", read_date(&entry.tried_on, self.dates));
        let metal = match at.given("metal") {
            Some(typed) => at.take("metal", self.metals.find(typed)),
            None => at.take("metal", Err("say which metal, such as sterling or copper")),
        };
        let wire = at.take("wire", parse_length(&entry.wire));
        let wire = wire.and_then(|typed| at.take("wire", Wire::new(typed.value())));
        let rod = at.take("rod", parse_length(&entry.rod));
        let rod = rod.and_then(|typed| at.take("rod", Mandrel::new(typed.value())));
        let temper = self.temper(&mut at, wire, metal);
        let annealed = at.maybe("annealed", yes_or_no).unwrap_or(false);
        let lot = at.maybe("lot", |name| {
            self.lots
                .iter()
                .find(|lot| lot.record.name.eq_ignore_ascii_case(name))
                .ok_or("no lot of wire has this name; leave it blank or choose one of the list")
        });
        let blade_name = at.given("blade").unwrap_or("").to_owned();
        let blade = (!blade_name.is_empty())
            .then(|| {
                self.blades.iter().find(|blade| blade.record.name.eq_ignore_ascii_case(&blade_name))
            })
            .flatten();
        let blade_diameter_mm = at
            .maybe("blade_diameter", |typed| parse_length(typed).map(|length| length.value().mm()))
            .and_then(|mm| at.take("blade_diameter", BLADE_DIAMETER.check(mm)))
            .or_else(|| blade.map(|blade| blade.record.diameter_mm));
        let projection_mm = at
            .maybe("projection", |typed| parse_length(typed).map(|length| length.value().mm()))
            .and_then(|mm| at.take("projection", PROJECTION.check(mm)))
            .and_then(|mm| match mm > 0.0 {
                true => Some(mm),
                false => {
                    at.take("projection", Err("a blade that ends at the coil's top cuts nothing"))
                }
            });
        let inside = at.maybe("inside", parse_readings);
        if let (Some(wire), Some(rod), Some(read)) = (wire, rod, &inside) {
            at.take("inside", RingTrial::new(wire, rod, read.lengths(), read.resolution()));
        }
        let turns_wound = at.count("turns_wound");
        if turns_wound == Some(0) {
            at.blame("turns_wound", "a coil has at least one turn");
        }
        let turns_relaxed = at.maybe("turns_relaxed", turns);
        let [good, uncut, nicked, crushed] =
            ["good", "uncut", "nicked", "crushed"].map(|field| at.count(field));
        let counted: u64 =
            [good, uncut, nicked, crushed].into_iter().flatten().map(u64::from).sum();
        if let Some(wound) = turns_wound.filter(|wound| u64::from(*wound) < counted) {
            at.blame(
                "turns_wound",
                format!(
                    "{counted} rings are counted below, and {wound} turns make no more than {wound}"
                ),
            );
        }
        let blade_event = at.maybe("blade_event", event).unwrap_or(BladeEvent::None);
        let outcome = match at.given("outcome") {
            Some(typed) => at.take(
                "outcome",
                Outcome::from_word(&typed.to_lowercase()).ok_or("type good, poor or failed"),
            ),
            None => at.take("outcome", Err("say how it went: good, poor or failed")),
        };
        let (Some(tried_on), Some(metal), Some(wire), Some(rod), Some(temper), Some(outcome)) =
            (tried_on, metal, wire, rod, temper, outcome)
        else {
            return Err(at.wrong);
        };
        if !at.wrong.is_empty() {
            return Err(at.wrong);
        }
        let typed = |field: &str| at.given(field).map(str::to_owned);
        Ok(Trial {
            tried_on: tried_on.to_string(),
            source: self.source,
            metal: metal.key().as_str().to_owned(),
            temper,
            annealed,
            wire_typed: entry.wire.trim().to_owned(),
            wire_mm: wire.diameter().mm(),
            rod_typed: entry.rod.trim().to_owned(),
            rod_mm: rod.diameter().mm(),
            wire_lot_id: lot.map(|lot| lot.id),
            blade_id: blade.map(|blade| blade.id),
            blade_name: blade.map_or(blade_name, |blade| blade.record.name.clone()),
            blade_diameter_mm,
            projection_typed: typed("projection"),
            projection_mm,
            inside_typed: typed("inside"),
            inside_mean_mm: inside.as_ref().map(|read| read.mean().mm()),
            inside_readings: inside
                .as_ref()
                .and_then(|read| u32::try_from(read.lengths().len()).ok()),
            turns_wound,
            turns_relaxed,
            good,
            uncut,
            nicked,
            crushed,
            blade_event,
            outcome,
            run_id: None,
            coil_number: None,
            worker: at.given("worker").unwrap_or("").to_owned(),
            note: at.given("note").unwrap_or("").to_owned(),
        })
    }

    /// The temper in the one set of names, or as the metal's own table words it.
    fn temper(
        &self,
        at: &mut Reading<'_>,
        wire: Option<Wire>,
        metal: Option<&linkwright_calc::metal::Metal>,
    ) -> Option<String> {
        let Some(typed) = at.given("temper") else {
            return at.take("temper", Err("say the temper as bought, such as soft or half hard"));
        };
        if let Some(hardness) = Hardness::from_words(typed) {
            return Some(hardness.word().to_owned());
        }
        let (wire, metal) = (wire?, metal?);
        let found = metal.temper_for_wire(typed, wire).map(|_| typed.to_owned());
        at.take("temper", found)
    }
}

impl TrialEntry {
    /// The entry that was, or would have been, typed for a record.
    #[must_use]
    pub fn of(trial: &Trial, lot: Option<&WireLot>) -> TrialEntry {
        let count = |count: Option<u32>| count.map(|count| count.to_string()).unwrap_or_default();
        TrialEntry {
            tried_on: trial.tried_on.clone(),
            worker: trial.worker.clone(),
            metal: trial.metal.clone(),
            temper: trial.temper.clone(),
            annealed: if trial.annealed { "yes" } else { "no" }.to_owned(),
            wire: trial.wire_typed.clone(),
            rod: trial.rod_typed.clone(),
            lot: lot.map(|lot| lot.name.clone()).unwrap_or_default(),
            blade: trial.blade_name.clone(),
            blade_diameter: trial
                .blade_diameter_mm
                .map(|mm| format!("{mm} mm"))
                .unwrap_or_default(),
            projection: trial.projection_typed.clone().unwrap_or_default(),
            turns_wound: count(trial.turns_wound),
            turns_relaxed: trial.turns_relaxed.map(|turns| turns.to_string()).unwrap_or_default(),
            blade_event: trial.blade_event.word().to_owned(),
            inside: trial.inside_typed.clone().unwrap_or_default(),
            good: count(trial.good),
            uncut: count(trial.uncut),
            nicked: count(trial.nicked),
            crushed: count(trial.crushed),
            outcome: trial.outcome.word().to_owned(),
            note: trial.note.clone(),
        }
    }
}

impl Trial {
    /// Whose number this is, for messages: "14 awg on 6 mm".
    #[must_use]
    pub fn title(&self) -> String {
        format!("{} on {}", self.wire_typed, self.rod_typed)
    }
}

fn yes_or_no(typed: &str) -> Result<bool, &'static str> {
    match typed.to_lowercase().as_str() {
        "yes" | "y" | "1" | "true" | "x" | "on" | "annealed" => Ok(true),
        "no" | "n" | "0" | "false" | "-" => Ok(false),
        _ => Err("type yes or no"),
    }
}

fn turns(typed: &str) -> Result<f64, &'static str> {
    let turns: Result<f64, _> = typed.replace(',', ".").parse();
    match turns {
        Ok(turns) if turns.is_finite() && turns > 0.0 && turns <= 1e6 => Ok(turns),
        _ => Err("type a number of turns, such as 45.7"),
    }
}

fn event(typed: &str) -> Result<BladeEvent, &'static str> {
    let word = typed.to_lowercase();
    if matches!(word.as_str(), "all right" | "ok" | "no" | "0" | "-") {
        return Ok(BladeEvent::None);
    }
    BladeEvent::from_word(&word).ok_or("type none, broke, dulled or jammed")
}
