//! The figures of a run sheet as rows of words, for a terminal.

use linkwright_calc::basis::{Answer, Basis};
use linkwright_calc::metal::anneal::Verdict;
use linkwright_calc::plan::{
    BladeOnSheet, CoilOnSheet, CostOnSheet, Item, Odds, OddsTaught, RunSheet, WireToCut,
};
use linkwright_calc::quantity::{Length, Mass};
use linkwright_calc::ring::ChainLength;
use linkwright_calc::slit::TeethAcross;

use super::Money;
use crate::printout::{Unit, both_lengths, significant};

/// One figure of a sheet.
pub struct Row {
    /// What it is.
    pub label: String,
    /// The number with its unit, or words.
    pub value: String,
}

type Rows = Vec<Row>;

fn row(label: &str, value: impl Into<String>) -> Row {
    Row { label: label.to_owned(), value: value.into() }
}

/// The figures of a sheet under their headings, in the order of the bench.
pub fn sections(sheet: &RunSheet, money: Money) -> [(&'static str, Vec<Row>); 6] {
    [
        ("RING WANTED", wanted(sheet)),
        ("WIRE", wire(sheet)),
        ("WIND", wind(sheet)),
        ("SLIT", slit(sheet)),
        ("RING", ring(sheet)),
        ("METAL AND TIME", metal_and_time(sheet, money)),
    ]
}

/// A value with the one word it rests on.
fn based<T>(shown: String, answer: &Answer<T>) -> String {
    match &answer.basis {
        tried @ Basis::Tried { .. } => format!("{shown}, {tried}"),
        other => format!("{shown}, {}", other.word()),
    }
}

fn length(length: Length) -> String {
    both_lengths(length.mm())
}

fn mass(mass: Mass) -> String {
    Unit::Mass.show(mass.g())
}

fn wanted(sheet: &RunSheet) -> Rows {
    let to_make = &sheet.to_make;
    let mut figures = Vec::new();
    figures.extend(sheet.line.linked.as_ref().map(|linked| row("for", &*linked.piece)));
    match &sheet.line.item {
        Item::Rings { .. } if sheet.line.linked.is_some() => {}
        Item::Rings { .. } => figures.push(row("for", "rings by count")),
        Item::Chain { clasp, .. } => {
            if let Some(chain) = to_make.chain {
                figures.push(row(
                    "for",
                    format!(
                        "one-in-one chain, {} over all, clasp {}",
                        length(chain.ordered),
                        length(*clasp)
                    ),
                ));
                let one = |chain: ChainLength| {
                    format!("{} rings pull straight to {:.1} mm", chain.rings, chain.length.mm())
                };
                let either = chain
                    .around
                    .below
                    .map_or_else(String::new, |below| format!("{}; ", one(below)));
                figures.push(row("either", format!("{either}{}", one(chain.around.above))));
            }
        }
        Item::Kits { .. } => {
            if let Some(kits) = to_make.kits {
                let step = kits.scale_step_max.map_or_else(
                    || "no scale shows a missing ring".to_owned(),
                    |step| format!("a scale step up to {:.2} g shows a missing ring", step.g()),
                );
                figures.push(row(
                    "for",
                    format!(
                        "{} kits of {} rings, {} each; one ring is {:.2} %; {step}",
                        kits.kits,
                        kits.rings_each,
                        mass(kits.mass),
                        100.0 * kits.one_ring_share
                    ),
                ));
            }
        }
        _ => {}
    }
    figures.push(row(
        "good rings",
        format!(
            "{} ({} asked for + {} spare)",
            to_make.good.get(),
            to_make.asked.get(),
            to_make.spare
        ),
    ));
    if let Some(wanted) = &sheet.rod.wanted {
        figures.push(row(
            "open ring",
            format!(
                "{:.3} +/- {:.3} mm inside; chance of a ring within that {:.0} %",
                wanted.open_inside.mm(),
                wanted.tolerance.mm(),
                100.0 * wanted.chance
            ),
        ));
    }
    figures
}

fn wire(sheet: &RunSheet) -> Rows {
    let wire = &sheet.wire;
    vec![
        row("metal", format!("{}, {}", sheet.metal.name, sheet.metal.temper)),
        row("wire", based(length(wire.value.diameter()), wire)),
        row("from", sheet.lot.clone().unwrap_or_else(|| "not in stock".to_owned())),
        row("anneal", anneal(sheet)),
    ]
}

fn anneal(sheet: &RunSheet) -> String {
    match sheet.anneal.verdict {
        // The reason says it all.
        Verdict::NoRuleHeld => sheet.anneal.reason.to_string(),
        verdict => format!("{verdict}: {}", sheet.anneal.reason),
    }
}

fn wind(sheet: &RunSheet) -> Rows {
    let coils = &sheet.coils;
    let mut figures = vec![row(
        "rod",
        format!(
            "{}: {}, wire {}",
            sheet.rod.name,
            length(sheet.rod.mandrel.diameter()),
            sheet.rod.state.word()
        ),
    )];
    for group in &coils.groups {
        figures.push(row("WIND", wound(group)));
    }
    figures.push(row("most a coil holds", format!("{} relaxed turns", coils.relaxed_turns_most)));
    figures.push(row(
        "lost a coil",
        format!(
            "{} at the ends + {} at the stop ({})",
            coils.losses.ends.value, coils.losses.stop.value, coils.losses.stop.basis
        ),
    ));
    figures.push(row("odds", odds(coils.odds)));
    figures
}

fn wound(group: &CoilOnSheet) -> String {
    let coils =
        if group.coils == 1 { "1 coil".to_owned() } else { format!("{} coils", group.coils) };
    format!(
        "{coils} of {} wound turns: {:.1} left once sprung open, {:.1} mm long over {} turns, {} rings \
         from each, {} of wire each",
        group.wound.get(),
        group.relaxed.get(),
        group.length.mm(),
        group.relaxed_needed,
        group.slit.get(),
        length(group.wire)
    )
}

fn odds(odds: Odds) -> String {
    match odds {
        Odds::Taught(taught) => format!(
            "{:.1} % of enough good rings ({:.0} % wanted), {:.1} good to expect, {:.0} % sure of {} or more; {}",
            100.0 * taught.chance,
            100.0 * taught.confidence,
            taught.expected,
            100.0 * taught.confidence,
            taught.promised.get(),
            behind(&taught)
        ),
        Odds::Known { confidence, chance, expected, counted } => format!(
            "{:.1} % of enough good rings ({:.0} % wanted), {expected:.1} good to expect; tried, {counted} \
             rings counted",
            100.0 * chance,
            100.0 * confidence
        ),
        Odds::Unknown { bears, bears_without_spares } => format!(
            "not known, no rings counted yet; it bears {bears} spoiled, or {bears_without_spares} if the \
             spares go too"
        ),
        _ => "not known".to_owned(),
    }
}

/// What stands behind odds that the trials taught.
pub fn behind(odds: &OddsTaught) -> String {
    let coils = |count: u32| if count == 1 { "coil" } else { "coils" };
    let OddsTaught { tried_here: here, tried_elsewhere: others, other_workshops, .. } = *odds;
    match (here, other_workshops) {
        (0, 0) if others == 0 => "from geometry alone".to_owned(),
        (0, 0) => format!("from geometry and {others} other {}", coils(others)),
        (0, 1) => format!("from geometry, {others} other {} and another workshop", coils(others)),
        (0, _) => format!(
            "from geometry, {others} other {} and {other_workshops} other workshops",
            coils(others)
        ),
        _ => format!("tried here {here} {}", coils(here)),
    }
}

fn slit(sheet: &RunSheet) -> Rows {
    let blade = sheet.blade();
    let verdict = &blade.verdict;
    let mut figures = vec![
        row(
            "BLADE",
            format!(
                "{}: {} across, kerf {}",
                blade.name,
                length(blade.blade.diameter()),
                length(blade.blade.kerf().width())
            ),
        ),
        row("projection", based(length(blade.projection.value), &blade.projection)),
        row(
            "window",
            format!(
                "clean from {:.3} mm, far wall at {:.3} mm, deepest {:.3} mm",
                verdict.window.clean.mm(),
                verdict.window.far_wall.mm(),
                verdict.window.most.mm()
            ),
        ),
        row(
            "margins",
            format!(
                "{:.2} mm beyond a clean cut, {:.2} mm before the far wall",
                verdict.margins.beyond_clean.mm(),
                verdict.margins.before_far_wall.mm()
            ),
        ),
        row("head start", based(length(sheet.coils.head_start.value), &sheet.coils.head_start)),
    ];
    if let Some(turns) = verdict.not_severed_at_stop {
        figures.push(row("uncut at the stop", format!("{turns} turns, worked out")));
    }
    if let Some(speed) = &sheet.speed {
        let custom = speed.by_custom.map_or_else(String::new, |custom| {
            format!(
                "; flexible shafts are run at {:.0} to {:.0} rpm (common practice, no source)",
                custom.low.per_min(),
                custom.high.per_min()
            )
        });
        figures.push(row(
            "speed",
            format!(
                "{:.0} to {:.0} rpm by the handbook{custom}; not above what blade and handpiece are made for",
                speed.by_handbook.low.per_min(),
                speed.by_handbook.high.per_min(),
            ),
        ));
    }
    if let Some(held) = &sheet.hold {
        figures.push(row(
            "clamp",
            format!(
                "no mark up to {} on each turn, collapse at {}, worked out",
                Unit::Force.show(held.value.no_mark.force_per_turn.n()),
                Unit::Force.show(held.value.collapse.force_per_turn.n())
            ),
        ));
    }
    figures
}

fn ring(sheet: &RunSheet) -> Rows {
    let on_sheet = &sheet.ring;
    let ring = &on_sheet.ring;
    let predicted = &sheet.rod.predicted.value;
    let high = predicted
        .high
        .map_or_else(|| "no upper end".to_owned(), |high| format!("{:.3}", high.mm()));
    let mut figures = vec![
        row("open, inside", based(length(on_sheet.open_inside.value), &on_sheet.open_inside)),
        row(
            "next coil",
            format!("{:.3} to {high} mm in four of five, {}", predicted.low.mm(), predicted.reach),
        ),
        row("closed, inside", format!("{}, worked out", length(ring.closed_inside()))),
        row(
            "aspect ratio",
            format!(
                "{:.2} as wound, {:.2} closed",
                ring.aspect_ratio_as_wound(),
                ring.aspect_ratio()
            ),
        ),
        row("seam", format!("a V of {:.3} mm stays open inside", ring.seam_v().mm())),
        row("one ring", format!("{}, worked out", mass(on_sheet.mass))),
    ];
    if let Some(chain) = sheet.to_make.chain {
        figures.push(row("chain", format!("{} before clasp and solder", mass(chain.mass))));
    }
    if let Some(pull) = &on_sheet.opens_at {
        figures.push(row(
            "opens at",
            format!("a pull of {} if not soldered, worked out", Unit::Force.show(pull.value.n())),
        ));
    }
    figures
}

fn metal_and_time(sheet: &RunSheet, money: Money) -> Rows {
    let used = &sheet.metal_use;
    let alike = sheet.coils.wire_if_all_alike;
    let mut figures =
        vec![row("wire", format!("{}, {}", length(used.wire_length), mass(used.wire)))];
    if sheet.coils.groups.len() > 1 {
        let d = sheet.wire.value;
        let alike_mass = d.mass(alike, sheet.metal.density.value);
        figures
            .push(row("if all coils are full", format!("{}, {}", length(alike), mass(alike_mass))));
    }
    figures.extend([
        row("rings", mass(used.rings)),
        row("kerf dust", mass(used.kerf_dust)),
        row("ends and tails", mass(used.ends_and_tails)),
        row("time", format!("{} min, set-up included", significant(sheet.minutes, 4))),
        row("labels", sheet.labels.to_string()),
    ]);
    if let Some(cost) = sheet.cost.as_ref().filter(|_| money == Money::Shown) {
        figures.push(row("cost of wire", cost_of_wire(cost)));
    }
    figures
}

fn cost_of_wire(cost: &CostOnSheet) -> String {
    let currency = cost.wire.currency();
    let dated = cost.price_date.as_ref().map_or_else(String::new, |date| format!(" of {date}"));
    let each = cost.per_good_ring_minor / f64::from(currency.minor_per_major());
    format!(
        "{} at {}{dated}; {} {currency} a good ring",
        cost.wire,
        cost.price,
        significant(each, 3)
    )
}

/// What the columns of the table of blades are called.
pub const BLADE_HEADINGS: [&str; 6] =
    ["blade", "projection", "uncut at stop", "teeth in wire", "coils", "why"];

/// The row of one blade in the table of blades.
pub fn blade_cells(blade: &BladeOnSheet) -> Vec<String> {
    let teeth = match blade.teeth_across {
        TeethAcross::Few(teeth) => format!("{teeth:.1} few"),
        TeethAcross::Wanted(teeth) => format!("{teeth:.1}"),
        TeethAcross::Many(teeth) => format!("{teeth:.1} many"),
        _ => "not counted".to_owned(),
    };
    let why = if blade.out.is_empty() {
        "in".to_owned()
    } else {
        let reasons: Vec<String> = blade.out.iter().map(ToString::to_string).collect();
        format!("out: {}", reasons.join("; "))
    };
    let or_dash =
        |count: Option<u32>| count.map_or_else(|| "-".to_owned(), |count| count.to_string());
    vec![
        blade.name.clone(),
        format!("{:.2} mm", blade.projection.value.mm()),
        or_dash(blade.verdict.not_severed_at_stop),
        teeth,
        or_dash(blade.coils),
        why,
    ]
}

/// Where the pieces of one kind of wire come from.
pub fn wire_to_cut(wire: &WireToCut) -> (String, Vec<Row>) {
    let mut figures = Vec::new();
    for (kind, (sheet, pieces)) in wire.pieces.iter().enumerate() {
        let mut from: Vec<String> = wire
            .reels
            .iter()
            .zip(&wire.cuts.from_reel)
            .filter(|(_, cut)| cut[kind] > 0)
            .map(|(reel, cut)| format!("{} from {reel}", cut[kind]))
            .collect();
        if wire.cuts.to_buy[kind] > 0 {
            from.push(format!("{} to buy", wire.cuts.to_buy[kind]));
        }
        figures.push(row(
            &format!("sheet {}", sheet + 1),
            format!("{} x {}: {}", pieces.count, length(pieces.length), from.join(", ")),
        ));
    }
    for (reel, left) in wire.reels.iter().zip(&wire.cuts.left) {
        figures.push(row("left on", format!("{reel}: {}", length(*left))));
    }
    if wire.to_buy.mm() > 0.0 {
        figures.push(row("to buy", format!("{}, {}", length(wire.to_buy), mass(wire.to_buy_mass))));
    }
    (format!("{} {}, {}", wire.metal, wire.temper, length(wire.diameter)), figures)
}
