//! What each step shows, in words and numbers ready to print.

use linkwright_answers::printout::{Unit, both_lengths, significant};
use linkwright_calc::coil::{RelaxedTurns, WoundTurns};
use linkwright_calc::metal::Catalogue;
use linkwright_store::records::{Blade, BladeEvent, Coil, MetalOverlay};
use linkwright_store::{RingCount, Saved, View};

use super::at_bench::AtBench;
use super::checks::{CHECKS, DRIVE, PROJECTION, TAPE};
use super::label::{closed_inside, code_suggested, open_inside};
use super::springback::measured;
use super::steps::Step;
use super::taps::rings;
use crate::error::PageError;
use crate::planning::catalogue;

/// The screen of a step.
pub(crate) enum Screen {
    Wire(Wire),
    Anneal(Anneal),
    Wind(Wind),
    Off(Off),
    Divide(Divide),
    Blade(Fitting),
    Clamp(Clamp),
    Slit(Slit),
    Counts(Counts),
    Measure(Measure),
    Label(Label),
    Finish(Finish),
}

pub(crate) struct Wire {
    pub(crate) needed_length: String,
    pub(crate) needed_mass: String,
    pub(crate) wire: String,
    pub(crate) metal: String,
    pub(crate) lots: Vec<LotToTake>,
    pub(crate) any_fits: bool,
    pub(crate) grams: String,
}

pub(crate) struct LotToTake {
    pub(crate) number: i64,
    pub(crate) name: String,
    pub(crate) about: String,
    pub(crate) fits: bool,
    pub(crate) chosen: bool,
}

pub(crate) struct Anneal {
    pub(crate) advice: String,
    pub(crate) reason: String,
    pub(crate) cautions: Vec<String>,
    pub(crate) planned_for: String,
    pub(crate) annealed: bool,
    pub(crate) passed_over: bool,
    pub(crate) is_advised: bool,
}

pub(crate) struct Wind {
    pub(crate) wound: u32,
    pub(crate) target: u32,
    /// How far from the target, in words.
    pub(crate) off_by: String,
    pub(crate) rod: String,
    pub(crate) wire_each: String,
}

pub(crate) struct Off {
    pub(crate) turns_expected: String,
    pub(crate) whole_turns: u32,
    pub(crate) length: String,
    pub(crate) counted: Option<String>,
    /// The ring that the count of turns says, in words.
    pub(crate) says: Option<String>,
}

pub(crate) struct Divide {
    pub(crate) turns: u32,
    pub(crate) most: u32,
    pub(crate) pieces: u32,
}

pub(crate) struct Fitting {
    pub(crate) blades: Vec<BladeToFit>,
    pub(crate) fitted: String,
    pub(crate) checks: Vec<CheckShown>,
    pub(crate) drive_off: bool,
    pub(crate) missing: usize,
    pub(crate) projection: String,
    pub(crate) window: String,
    pub(crate) window_known: bool,
}

pub(crate) struct BladeToFit {
    pub(crate) number: i64,
    pub(crate) name: String,
    pub(crate) about: String,
    pub(crate) fitted: bool,
}

pub(crate) struct CheckShown {
    pub(crate) word: &'static str,
    pub(crate) text: &'static str,
    pub(crate) ticked: bool,
    pub(crate) open: bool,
    pub(crate) by_measuring: bool,
}

pub(crate) struct Clamp {
    pub(crate) no_mark: Option<String>,
    pub(crate) collapse: Option<String>,
    pub(crate) taped: bool,
}

pub(crate) struct Slit {
    pub(crate) head_start: String,
    pub(crate) uncut: String,
    pub(crate) speed: String,
    pub(crate) projection: String,
    pub(crate) projection_basis: &'static str,
    pub(crate) blade: String,
}

pub(crate) struct Counts {
    pub(crate) four: Vec<CountShown>,
    pub(crate) sum: u32,
    pub(crate) there: u32,
    pub(crate) turns_counted: bool,
    pub(crate) ends: u32,
    pub(crate) rest: u32,
    pub(crate) planned_good: u32,
    pub(crate) planned_uncut: u32,
    pub(crate) events: Vec<(&'static str, &'static str, bool)>,
    pub(crate) last: bool,
}

pub(crate) struct CountShown {
    pub(crate) word: &'static str,
    pub(crate) words: &'static str,
    pub(crate) count: u32,
}

pub(crate) struct Measure {
    pub(crate) readings: Vec<(i64, String)>,
    pub(crate) rod: String,
    pub(crate) sum: Option<MeasureSum>,
}

pub(crate) struct MeasureSum {
    pub(crate) mean: String,
    pub(crate) spread: String,
    pub(crate) springback: String,
    pub(crate) behind: String,
    pub(crate) rods: Vec<RodShown>,
}

pub(crate) struct RodShown {
    pub(crate) name: String,
    pub(crate) inside: String,
    pub(crate) range: String,
    pub(crate) stands: String,
    pub(crate) is_here: bool,
}

pub(crate) struct Label {
    pub(crate) code: String,
    pub(crate) rings: u32,
    pub(crate) inside: String,
    pub(crate) inside_basis: String,
    pub(crate) inside_is_measured: bool,
    pub(crate) closed: String,
    pub(crate) closed_basis: String,
    pub(crate) place: String,
    pub(crate) note: String,
    pub(crate) day: String,
    pub(crate) wire: String,
    pub(crate) written: bool,
}

pub(crate) struct Finish {
    pub(crate) good: u32,
    pub(crate) wanted: u32,
    pub(crate) stands: String,
    pub(crate) spoiled: Vec<(&'static str, u32)>,
    pub(crate) batch: Option<(i64, String)>,
    pub(crate) coils_counted: usize,
}

impl Screen {
    /// The screen of the step a run is at.
    pub(crate) fn of(view: &View<'_>, at: &AtBench, day: &str) -> Result<Screen, PageError> {
        let place = at.place();
        let coil = at
            .coil(place.coil)
            .or(at.work.coils.first())
            .ok_or(PageError::NotFound { what: "coil" })?;
        let coil = &coil.record;
        Ok(match place.step {
            Step::Wire => Screen::Wire(wire(view, at)?),
            Step::Anneal => Screen::Anneal(anneal(at)),
            Step::Wind => Screen::Wind(wind(at, coil)),
            Step::Off => Screen::Off(off(at, coil)),
            Step::Divide => Screen::Divide(Divide {
                turns: at.turns_there(coil),
                most: at.sheet.coils.relaxed_turns_most,
                pieces: coil.pieces.unwrap_or(2),
            }),
            Step::Blade => Screen::Blade(blade(view, at, coil)?),
            Step::Clamp => Screen::Clamp(clamp(at, coil.number)),
            Step::Slit => Screen::Slit(slit(view, at, coil)?),
            Step::Counts => Screen::Counts(counts(at, coil)),
            Step::Measure => Screen::Measure(measure(view, at)?),
            Step::Label => Screen::Label(label(view, at, day)?),
            Step::Finish => Screen::Finish(finish(at)),
        })
    }
}

fn wire(view: &View<'_>, at: &AtBench) -> Result<Wire, PageError> {
    let taken = at.run().wire_lot_id;
    let own: Vec<Saved<MetalOverlay>> = view.all()?;
    let metals = catalogue(&own).unwrap_or_else(|_| Catalogue::built_in());
    let lots: Vec<LotToTake> = view
        .lots_in_use()?
        .into_iter()
        .map(|lot| {
            let planned = at.sheet.lot.as_deref() == Some(lot.record.name.as_str());
            let metal = metals.find(&lot.record.metal).ok();
            LotToTake {
                number: lot.id.number(),
                about: format!(
                    "{} {}, {:.2} mm",
                    metal.map_or(lot.record.metal.as_str(), |metal| metal.trade_name().as_str()),
                    lot.record.temper,
                    lot.record.wire_mm()
                ),
                fits: metal.is_some_and(|metal| metal.key().as_str() == at.sheet.metal_key)
                    && (lot.record.wire_mm() / at.sheet.wire_diameter_mm - 1.0).abs() < SAME_WIRE,
                chosen: taken.map_or(planned, |taken| taken == lot.id),
                name: lot.record.name,
            }
        })
        .collect();
    Ok(Wire {
        needed_length: both_lengths(at.sheet.metal_use.wire_length_mm),
        needed_mass: Unit::Mass.show(at.sheet.metal_use.wire_mass_g),
        wire: both_lengths(at.sheet.wire_diameter_mm),
        metal: format!("{}, {}", at.sheet.metal, at.sheet.temper),
        any_fits: lots.iter().any(|lot| lot.fits),
        lots,
        grams: at.run().wire_in_g.map_or_else(String::new, |g| significant(g, 5)),
    })
}

/// Wire within this share of the diameter counts as the same for choosing a lot. Own choice.
const SAME_WIRE: f64 = 0.03;

fn anneal(at: &AtBench) -> Anneal {
    let advice = &at.sheet.anneal;
    Anneal {
        is_advised: at.sheet.rod.wire_state == "annealed" || advice.advice == "anneal",
        advice: advice.advice.clone(),
        reason: advice.reason.clone(),
        cautions: advice.cautions.clone(),
        planned_for: at.sheet.rod.wire_state.clone(),
        annealed: at.run().annealed_at.is_some(),
        passed_over: at.run().anneal_skipped,
    }
}

fn wind(at: &AtBench, coil: &Coil) -> Wind {
    let (wound, target) = (coil.turns_wound, coil.turns_target);
    Wind {
        wound,
        target,
        off_by: match wound.cmp(&target) {
            std::cmp::Ordering::Less => format!("{} to go", target - wound),
            std::cmp::Ordering::Equal => "all wound".to_owned(),
            std::cmp::Ordering::Greater => format!("{} more than planned", wound - target),
        },
        rod: format!("{}: {}", at.sheet.rod.name, both_lengths(at.sheet.rod.mandrel_diameter_mm)),
        wire_each: at
            .group(coil.number)
            .map_or_else(String::new, |group| format!("{:.0} mm", group.wire_length_mm)),
    }
}

fn off(at: &AtBench, coil: &Coil) -> Off {
    let says = coil.turns_relaxed.map(|turns| {
        let wound = WoundTurns::new(coil.turns_wound);
        let inside = RelaxedTurns::new(turns).sprung_to(wound, at.wire, at.rod);
        format!(
            "{} wound and {turns} left: the coil has sprung to {} inside, worked out from the turns",
            coil.turns_wound,
            both_lengths(inside.mm())
        )
    });
    Off {
        turns_expected: format!("{:.1}", at.turns_expected(coil)),
        whole_turns: at.turns_there(coil),
        length: at.length(coil).map_or_else(String::new, |length| format!("{:.1}", length.mm())),
        counted: coil.turns_relaxed.map(|turns| turns.to_string()),
        says: says.filter(|_| coil.turns_wound > 0),
    }
}

/// The projection in use, and where it is from.
fn projection(at: &AtBench, coil: &Coil, blade: Option<&Blade>) -> (String, &'static str) {
    let of_sheet = blade.and_then(|blade| at.blade_on_sheet(&blade.name));
    match (coil.projection_mm, of_sheet) {
        (Some(mm), _) => (format!("{mm:.2} mm"), "measured"),
        (None, Some(window)) => (format!("{:.2} mm", window.projection_mm), "as the sheet has it"),
        (None, None) => ("not known".to_owned(), "not on the sheet"),
    }
}

fn blade(view: &View<'_>, at: &AtBench, coil: &Coil) -> Result<Fitting, PageError> {
    let fitted: Option<Blade> = coil.blade_id.map(|id| view.get(id)).transpose()?;
    let blades: Vec<Saved<Blade>> = view.blades_in_use()?;
    let drive_off = at.is_ticked(coil.number, DRIVE);
    let checks: Vec<CheckShown> = CHECKS
        .into_iter()
        .map(|check| CheckShown {
            word: check.word,
            text: check.text,
            ticked: at.is_ticked(coil.number, check.word),
            open: drive_off || check.word == DRIVE,
            by_measuring: check.word == PROJECTION,
        })
        .collect();
    let of_sheet = fitted.as_ref().and_then(|blade| at.blade_on_sheet(&blade.name));
    let window = of_sheet.map_or_else(
        || "this blade is not on the sheet: no window is worked out for it".to_owned(),
        |window| format!("{:.2} to {:.2} mm will do", window.clean_mm, window.most_mm),
    );
    let (projection, basis) = projection(at, coil, fitted.as_ref());
    Ok(Fitting {
        blades: blades
            .into_iter()
            .map(|blade| BladeToFit {
                number: blade.id.number(),
                about: match at.blade_on_sheet(&blade.record.name) {
                    None => "not on the sheet".to_owned(),
                    Some(window) if !window.usable => {
                        format!("out: {}", window.why_out.join("; "))
                    }
                    Some(window) => format!(
                        "{:.1} mm across, kerf {:.2} mm",
                        window.blade_diameter_mm, window.kerf_mm
                    ),
                },
                fitted: coil.blade_id == Some(blade.id),
                name: blade.record.name,
            })
            .collect(),
        projection: [&projection, ", ", basis].concat(),
        fitted: fitted.map_or_else(|| "no blade chosen".to_owned(), |blade| blade.name),
        window_known: of_sheet.is_some(),
        missing: checks.iter().filter(|check| !check.ticked).count(),
        drive_off,
        checks,
        window,
    })
}

fn clamp(at: &AtBench, coil: u32) -> Clamp {
    let force = |n: f64| Unit::Force.show(n);
    let hold = at.sheet.hold.as_ref();
    Clamp {
        no_mark: hold.map(|hold| force(hold.no_mark_force_per_turn_n)),
        collapse: hold.map(|hold| force(hold.collapse_force_per_turn_n)),
        taped: at.is_ticked(coil, TAPE),
    }
}

fn slit(view: &View<'_>, at: &AtBench, coil: &Coil) -> Result<Slit, PageError> {
    let blade: Option<Blade> = coil.blade_id.map(|id| view.get(id)).transpose()?;
    let of_sheet = blade.as_ref().and_then(|blade| at.blade_on_sheet(&blade.name));
    let rpm = |[low, high]: [f64; 2]| format!("{low:.0} to {high:.0} rpm");
    let speed = at.sheet.speed.as_ref().map_or_else(
        || "no handbook speed for this metal".to_owned(),
        |speed| {
            let custom = speed.customary_rpm.map_or_else(String::new, |range| {
                format!("; flexible shafts are run at {} (common practice, no source)", rpm(range))
            });
            format!("{} by the handbook{custom}", rpm(speed.handbook_rpm))
        },
    );
    let own = at.sheet.coils.lost_at_stop;
    let (projection, projection_basis) = projection(at, coil, blade.as_ref());
    Ok(Slit {
        head_start: both_lengths(at.sheet.coils.head_start_mm),
        uncut: of_sheet.and_then(|blade| blade.not_severed_at_stop).map_or_else(
            || format!("{own} turns planned as lost"),
            |turns| format!("{turns} turns worked out, {own} planned as lost"),
        ),
        speed,
        projection,
        projection_basis,
        blade: blade.map_or_else(|| "not chosen".to_owned(), |blade| blade.name),
    })
}

fn counts(at: &AtBench, coil: &Coil) -> Counts {
    let spoiled = coil.uncut + coil.nicked + coil.crushed;
    let four = RingCount::ALL.map(|count| CountShown {
        word: count.word(),
        words: match count {
            RingCount::Good => "good",
            RingCount::Uncut => "uncut",
            RingCount::Nicked => "nicked or bent",
            RingCount::Crushed => "crushed",
        },
        count: match count {
            RingCount::Good => coil.good,
            RingCount::Uncut => coil.uncut,
            RingCount::Nicked => coil.nicked,
            RingCount::Crushed => coil.crushed,
        },
    });
    Counts {
        four: four.into(),
        sum: rings(coil),
        there: at.turns_there(coil),
        turns_counted: coil.turns_relaxed.is_some(),
        ends: at.sheet.coils.lost_at_ends,
        rest: at.turns_to_slit(coil).saturating_sub(spoiled),
        planned_good: at.group(coil.number).map_or(0, |group| group.rings),
        planned_uncut: at.sheet.coils.lost_at_stop,
        events: BladeEvent::ALL
            .iter()
            .map(|event| {
                let words = match event {
                    BladeEvent::None => "nothing",
                    BladeEvent::Broke => "it broke",
                    BladeEvent::Dulled => "it went dull",
                    BladeEvent::Jammed => "it jammed",
                };
                (event.word(), words, *event == coil.blade_event)
            })
            .collect(),
        last: usize::try_from(coil.number).is_ok_and(|number| number >= at.work.coils.len()),
    }
}

fn measure(view: &View<'_>, at: &AtBench) -> Result<Measure, PageError> {
    let sum = measured(view, at)?.map(|measured| MeasureSum {
        mean: format!("{:.3} mm", measured.mean_mm),
        spread: measured.spread_mm.map_or_else(
            || "one ring has none".to_owned(),
            |spread_mm| format!("{spread_mm:.3} mm"),
        ),
        springback: format!("{:.1} %", 100.0 * measured.springback_share),
        behind: if measured.coils_behind == 1 {
            "these rings alone".to_owned()
        } else {
            format!("{} coils of this lot, these rings among them", measured.coils_behind)
        },
        rods: measured
            .rods
            .into_iter()
            .map(|rod| RodShown {
                name: rod.name,
                inside: format!("{:.2} mm", rod.inside_mm),
                range: rod.high_mm.map_or_else(
                    || format!("from {:.2} mm", rod.low_mm),
                    |high_mm| format!("{:.2} to {high_mm:.2} mm", rod.low_mm),
                ),
                stands: rod.stands,
                is_here: rod.is_here,
            })
            .collect(),
    });
    let readings = at.work.readings.iter();
    Ok(Measure {
        readings: readings
            .map(|reading| (reading.id.number(), reading.record.typed.clone()))
            .collect(),
        rod: format!("{}: {}", at.sheet.rod.name, both_lengths(at.rod.diameter().mm())),
        sum,
    })
}

fn label(view: &View<'_>, at: &AtBench, day: &str) -> Result<Label, PageError> {
    let (inside, is_measured) = open_inside(at);
    let closed = closed_inside(view, at)?;
    let batch = at.work.batch.as_ref().map(|batch| &batch.record);
    Ok(Label {
        code: code_suggested(view, at, day)?,
        rings: at.good(),
        inside: both_lengths(inside.mm()),
        inside_basis: if is_measured {
            format!("mean of {} rings measured", at.work.readings.len())
        } else {
            "as planned, not measured".to_owned()
        },
        inside_is_measured: is_measured,
        closed: closed.map_or_else(|| "not known".to_owned(), |(mm, _)| both_lengths(mm.mm())),
        closed_basis: closed.map_or_else(
            || "no kerf is known".to_owned(),
            |(_, kerf_mm)| format!("worked out from a kerf of {kerf_mm:.2} mm"),
        ),
        place: batch.map_or_else(String::new, |batch| batch.place.clone()),
        note: batch.map_or_else(String::new, |batch| batch.note.clone()),
        day: batch.map_or_else(|| day.to_owned(), |batch| batch.made_on.clone()),
        wire: format!("{}, {}", at.sheet.metal, both_lengths(at.sheet.wire_diameter_mm)),
        written: batch.is_some(),
    })
}

fn finish(at: &AtBench) -> Finish {
    let (good, wanted) = (at.good(), at.sheet.to_make.good_rings);
    let asked = at.sheet.to_make.asked_rings;
    let sum = |count: fn(&Coil) -> u32| at.work.coils.iter().map(|coil| count(&coil.record)).sum();
    Finish {
        good,
        wanted,
        stands: if good >= wanted {
            format!("enough: {} over what was planned", good - wanted)
        } else if good >= asked {
            format!("enough for the order, {} of the spare rings missing", wanted - good)
        } else {
            format!("{} short of the order", asked - good)
        },
        spoiled: vec![
            ("uncut", sum(|coil| coil.uncut)),
            ("nicked or bent", sum(|coil| coil.nicked)),
            ("crushed", sum(|coil| coil.crushed)),
        ],
        batch: at.work.batch.as_ref().map(|batch| (batch.id.number(), batch.record.code.clone())),
        coils_counted: at.work.coils.iter().filter(|coil| coil.record.counted_at.is_some()).count(),
    }
}
