//! The figures of a sheet, step by step as the hands take them.

use linkwright_calc::cautions::Step;
use linkwright_calc::metal::anneal::Verdict;
use linkwright_calc::plan::{CoilOnSheet, Item, Odds, OddsTaught, RunSheet};
use linkwright_calc::ring::ChainLength;

use super::figure::{BasisView, Figure};
use super::numbers::{Shown, fine, pulled, ruled, setting, weighed};
use super::sums;
use crate::run_sheet::rows::behind;

/// A step at the bench: its heading, its figures, and the steps whose cautions ride with it.
pub struct BenchStep {
    pub heading: &'static str,
    pub figures: Vec<Figure>,
    pub cautions_of: &'static [Step],
    /// Whether the ticks before power stand here.
    pub ticked: bool,
}

/// The steps of a sheet; `cuts` says which reel its wire comes from.
pub fn steps(sheet: &RunSheet, cuts: Vec<Figure>) -> [BenchStep; 7] {
    let step =
        |heading, figures, cautions_of| BenchStep { heading, figures, cautions_of, ticked: false };
    [
        step("Ring wanted", wanted(sheet), &[Step::BeforeAnything]),
        step("Wire", wire(sheet, cuts), &[Step::WireIn, Step::Heating, Step::QuenchAndPickle]),
        step("Rod and winding", rod_and_winding(sheet), &[Step::Winding]),
        step("Coil off the rod", coil_off(sheet), &[]),
        BenchStep { ticked: true, ..step("Blade and set-up", blade(sheet), &[Step::FittingBlade]) },
        step("Slit", slit(sheet), &[Step::Slitting]),
        step("Count", count(sheet), &[Step::Finishing, Step::Selling, Step::Scrap, Step::Teaching]),
    ]
}

fn wanted(sheet: &RunSheet) -> Vec<Figure> {
    let to_make = &sheet.to_make;
    let ring = &sheet.ring;
    let mut figures: Vec<Figure> =
        what_for(sheet).map(|words| Figure::words("For", words)).into_iter().collect();
    if let Some(chain) = to_make.chain {
        let one = |chain: ChainLength| {
            Figure::of(&format!("{} rings", chain.rings), ruled(chain.length))
                .resting_on(&sums::straight(sheet))
        };
        figures.extend(chain.around.below.map(one));
        figures.push(one(chain.around.above));
    }
    if let Some(linked) = &sheet.line.linked {
        let asked = Figure::number("Asked for", format!("{} rings", to_make.asked.get()));
        figures.push(asked.resting_on(&linked.basis).on_screen_only());
    }
    let good =
        format!("{} rings = {} + {} spare", to_make.good.get(), to_make.asked.get(), to_make.spare);
    figures.push(
        Figure::number("To make", good).resting_on(&sums::good_rings(sheet)).on_screen_only(),
    );
    figures.push(
        Figure::of("Inside, open", fine(ring.open_inside.value))
            .resting_on(&ring.open_inside.basis),
    );
    figures.push(next_coil(sheet));
    if let Some(wanted) = &sheet.rod.wanted {
        let size = format!("{:.3} \u{b1} {:.3} mm", wanted.open_inside.mm(), wanted.tolerance.mm());
        figures.push(Figure::number("Wanted, open", size));
        let chance = format!("{:.0} % of the rings", 100.0 * wanted.chance);
        figures.push(
            Figure::number("Within that", chance).resting_on(&sums::chance_in_tolerance(sheet)),
        );
    }
    figures.push(
        Figure::of("Inside, closed", fine(ring.ring.closed_inside()))
            .resting_on(&sums::closed_inside(sheet)),
    );
    let ratio = format!(
        "{:.2} : 1, open {:.2} : 1",
        ring.ring.aspect_ratio(),
        ring.ring.aspect_ratio_as_wound()
    );
    figures.push(Figure::number("Ratio, closed", ratio).resting_on(&sums::aspect_ratio(sheet)));
    figures
}

fn what_for(sheet: &RunSheet) -> Option<String> {
    let kits = &sheet.to_make.kits;
    match (&sheet.line.item, kits) {
        _ if sheet.line.linked.is_some() => {
            let linked = sheet.line.linked.as_ref().map(|linked| linked.piece.clone());
            let kits =
                kits.map(|kits| format!("{} kits of {} rings: ", kits.kits, kits.rings_each));
            linked.map(|piece| format!("{}{piece}", kits.unwrap_or_default()))
        }
        (Item::Chain { length, clasp, .. }, _) => {
            let (length, clasp) = (ruled(*length).both(), ruled(*clasp).first);
            Some(format!("one-in-one chain, {length} over all with a clasp of {clasp}"))
        }
        (_, Some(kits)) => Some(format!("{} kits of {} rings", kits.kits, kits.rings_each)),
        // Rings by count: the number is large at the top.
        _ => None,
    }
}

/// The range of the next coil rests on the lot's fit, and says how far that reaches.
fn next_coil(sheet: &RunSheet) -> Figure {
    let predicted = &sheet.rod.predicted;
    let low = predicted.value.low;
    let range = match predicted.value.high {
        Some(high) => format!("{:.3} to {:.3} mm", low.mm(), high.mm()),
        None => format!("{:.3} mm, no upper end", low.mm()),
    };
    let mut figure = Figure::number("4 rings of 5", range).resting_on(&predicted.basis);
    if let Some(basis) = &mut figure.basis {
        basis.word = predicted.value.reach.to_string();
    }
    figure
}

fn wire(sheet: &RunSheet, cuts: Vec<Figure>) -> Vec<Figure> {
    let wire = &sheet.wire;
    let metal = format!("{}, {}", sheet.metal.name, sheet.metal.temper);
    let mut figures = vec![
        Figure::words("Metal", metal),
        Figure::of("Wire", fine(wire.value.diameter())).resting_on(&wire.basis),
    ];
    figures.extend(cuts);
    figures.push(Figure::words("Anneal", anneal(sheet)));
    figures
}

fn anneal(sheet: &RunSheet) -> String {
    match sheet.anneal.verdict {
        // The reason says it all.
        Verdict::NoRuleHeld => sheet.anneal.reason.to_string(),
        verdict => format!("{verdict}: {}", sheet.anneal.reason),
    }
}

fn rod_and_winding(sheet: &RunSheet) -> Vec<Figure> {
    let rod = &sheet.rod;
    let label = format!("Rod \u{201c}{}\u{201d}", rod.name);
    let mut figures = vec![
        Figure::of(&label, setting(rod.mandrel.diameter())).resting_on(&sums::rod()),
        Figure::words("Wound with", format!("wire {}", rod.state.word())).on_screen_only(),
    ];
    for group in &sheet.coils.groups {
        let turns = format!("{} turns on each", group.wound.get());
        figures.push(
            Figure::number(&coils(group), turns).resting_on(&sums::turns_to_wind(sheet, group)),
        );
        figures.push(
            Figure::of("Wire for each", ruled(group.wire))
                .resting_on(&sums::wire_each(sheet, group))
                .on_screen_only(),
        );
    }
    figures.push(
        Figure::number("Coils", coils_in_all(sheet.coils.coil_count()))
            .resting_on(&sums::coils(sheet))
            .on_screen_only(),
    );
    figures
}

fn coils_in_all(count: u32) -> String {
    if count == 1 { "1 coil in all".to_owned() } else { format!("{count} coils in all") }
}

fn coils(group: &CoilOnSheet) -> String {
    let coils = if group.coils == 1 { "coil" } else { "coils" };
    format!("{} {coils}", group.coils)
}

/// What the coils say one after another; the last one is named where it is shorter.
fn each_coil(sheet: &RunSheet, one: impl Fn(&CoilOnSheet) -> String) -> String {
    let each: Vec<String> = sheet.coils.groups.iter().map(one).collect();
    each.join(", last ")
}

fn coil_off(sheet: &RunSheet) -> Vec<Figure> {
    let first = &sheet.coils.groups[0];
    let left = each_coil(sheet, |group| format!("{:.1}", group.relaxed.get()));
    let needed = each_coil(sheet, |group| group.relaxed_needed.to_string());
    let long = Shown {
        first: each_coil(sheet, |group| ruled(group.length).first),
        other: each_coil(sheet, |group| ruled(group.length).other),
    };
    vec![
        Figure::number("Turns left", format!("{left} turns"))
            .resting_on(&sums::turns_left(sheet, first)),
        Figure::number("Turns needed", format!("{needed} turns"))
            .resting_on(&sums::turns_needed(sheet, first)),
        Figure::of("Their length", long).resting_on(&sums::coil_length(sheet, first)),
        Figure::number("Holder takes", format!("{} turns", sheet.coils.relaxed_turns_most))
            .resting_on(&sums::turns_most(sheet))
            .on_screen_only(),
    ]
}

fn blade(sheet: &RunSheet) -> Vec<Figure> {
    let blade = sheet.blade();
    let verdict = &blade.verdict;
    let label = format!("Blade \u{201c}{}\u{201d}", blade.name);
    let mut figures = vec![
        Figure::of(&label, setting(blade.blade.diameter())).resting_on(&sums::blade()),
        Figure::of("Kerf", setting(blade.blade.kerf().width())).resting_on(&sums::blade()),
        Figure::of("Projection", setting(blade.projection.value))
            .resting_on(&blade.projection.basis),
        Figure::of("Past a clean cut", setting(verdict.margins.beyond_clean))
            .resting_on(&sums::beyond_clean(sheet)),
        Figure::of("Far wall clear by", setting(verdict.margins.before_far_wall))
            .resting_on(&sums::before_far_wall(sheet)),
    ];
    figures.push(
        Figure::number(
            "Window",
            format!(
                "{:.3} to {:.3} mm, far wall at {:.3} mm",
                verdict.window.clean_with_offset.mm(),
                verdict.window.most_with_offset.mm(),
                verdict.window.far_wall.mm()
            ),
        )
        .resting_on(&sums::window(sheet))
        .on_screen_only(),
    );
    figures.extend(speeds(sheet));
    figures
}

/// Both ranges, each with where it comes from.
fn speeds(sheet: &RunSheet) -> Vec<Figure> {
    let Some(speed) = &sheet.speed else {
        return vec![Figure::words("Speed", "no handbook row for this metal; slower is kinder")];
    };
    let handbook = format!(
        "{:.0} to {:.0} rpm",
        speed.by_handbook.low.per_min(),
        speed.by_handbook.high.per_min()
    );
    let mut figures =
        vec![Figure::number("Handbook speed", handbook).resting_on(&sums::speed(sheet))];
    if let Some(custom) = speed.by_custom {
        let usual = format!("{:.0} to {:.0} rpm", custom.low.per_min(), custom.high.per_min());
        let mut figure = Figure::number("Flexible shafts", usual);
        figure.basis = Some(BasisView {
            word: "common practice".to_owned(),
            formula: "how flexible shafts are run in silver and copper alloys; common practice, no source"
                .to_owned(),
            inputs: Vec::new(),
            source: None,
        });
        figures.push(figure);
    }
    figures
}

fn slit(sheet: &RunSheet) -> Vec<Figure> {
    let coils = &sheet.coils;
    let verdict = &sheet.blade().verdict;
    let mut figures = vec![
        Figure::of("Head start", setting(coils.head_start.value))
            .resting_on(&coils.head_start.basis),
    ];
    if let Some(setback) = coils.stop_setback {
        figures.push(Figure::of("Halts short by", setting(setback)).resting_on(&sums::set_back()));
    }
    if let Some(turns) = verdict.not_severed_at_stop {
        let turns = if turns == 1 { "1 turn".to_owned() } else { format!("{turns} turns") };
        figures.push(Figure::number("Uncut at the stop", turns).resting_on(&sums::uncut(sheet)));
    }
    let losses = &coils.losses;
    let lost = format!("{} ends + {} stop turns", losses.ends.value, losses.stop.value);
    figures.push(Figure::number("Lost on each coil", lost).resting_on(&sums::lost_on_each(sheet)));
    if let Some(held) = &sheet.hold {
        figures.push(
            Figure::of("Clamp, each turn", pulled(held.value.no_mark.force_per_turn))
                .resting_on(&held.basis),
        );
        figures.push(
            Figure::of("Coil folds at", pulled(held.value.collapse.force_per_turn))
                .resting_on(&held.basis)
                .on_screen_only(),
        );
    }
    figures
}

fn count(sheet: &RunSheet) -> Vec<Figure> {
    let ring = &sheet.ring;
    let mut figures = Vec::new();
    for group in &sheet.coils.groups {
        let rings = format!("{} rings from each", group.slit.get());
        figures.push(Figure::number(&coils(group), rings).resting_on(&sums::coils(sheet)));
    }
    figures.push(Figure::of("One ring", weighed(ring.mass)).resting_on(&sums::ring_mass(sheet)));
    if let Some(chain) = sheet.to_make.chain {
        let asked = ("rings", sheet.to_make.asked.get());
        figures.push(
            Figure::of("Chain, no clasp", weighed(chain.mass))
                .resting_on(&sums::counted_mass(asked, sheet)),
        );
    }
    if let Some(kits) = sheet.to_make.kits {
        let in_kit = ("rings in a kit", kits.rings_each);
        let label = format!("Kit of {}", kits.rings_each);
        figures.push(
            Figure::of(&label, weighed(kits.mass)).resting_on(&sums::counted_mass(in_kit, sheet)),
        );
        let share = format!("{:.2} % of the kit", 100.0 * kits.one_ring_share);
        let scale = match kits.scale_step_max {
            Some(step) => format!("{share}; a scale step of {:.2} g or finer shows it", step.g()),
            None => format!("{share}; no scale shows it"),
        };
        figures.push(Figure::words("A ring missing", scale));
    }
    figures.extend(odds(sheet));
    if let Some(pull) = &ring.opens_at {
        figures.push(
            Figure::of("Opens, unsoldered, at", pulled(pull.value))
                .resting_on(&pull.basis)
                .on_screen_only(),
        );
    }
    figures.push(
        Figure::of("V left in the seam", fine(ring.ring.seam_v()))
            .resting_on(&sums::seam(sheet))
            .on_screen_only(),
    );
    let labels = if sheet.labels == 1 { "label" } else { "labels" };
    figures.push(Figure::number("To print", format!("{} {labels}", sheet.labels)).on_screen_only());
    figures
}

/// The odds, with how often it was tried in place of the word.
fn odds_taught(odds: &OddsTaught) -> Vec<Figure> {
    let confidence = format!("{:.0} %", 100.0 * odds.confidence);
    let chance = format!("{:.1} %, {confidence} wanted", 100.0 * odds.chance);
    let rings = format!("{:.0} rings, {confidence} sure of {}", odds.expected, odds.promised.get());
    let basis = sums::odds_taught(odds);
    let mut enough = Figure::number("Odds of enough", chance).resting_on(&basis);
    if let Some(basis) = &mut enough.basis {
        basis.word = behind(odds);
    }
    vec![enough, Figure::number("Good, to expect", rings).resting_on(&basis)]
}

fn odds(sheet: &RunSheet) -> Vec<Figure> {
    match &sheet.coils.odds {
        Odds::Taught(taught) => odds_taught(taught),
        Odds::Known { confidence, chance, expected, counted } => {
            let basis = sums::odds(*counted);
            let chance = format!("{:.1} %, {:.0} % wanted", 100.0 * chance, 100.0 * confidence);
            vec![
                Figure::number("Odds of enough", chance).resting_on(&basis),
                Figure::number("Good, to expect", format!("{expected:.0} rings"))
                    .resting_on(&basis),
            ]
        }
        Odds::Unknown { bears, bears_without_spares } => vec![Figure::words(
            "Odds of enough",
            format!(
                "not known, no rings counted yet. {bears} rings may spoil, {bears_without_spares} if the spares go \
                 too"
            ),
        )],
        _ => vec![Figure::words("Odds of enough", "not known")],
    }
}
