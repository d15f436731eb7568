//! The sums behind the figures of a sheet, told in words.
//!
//! Nothing is worked out here: the numbers are those of the plan, and the words say how it came by
//! them.

use linkwright_calc::basis::{Basis, Input};
use linkwright_calc::plan::{CoilOnSheet, CostOnSheet, Least, Odds, OddsTaught, RunSheet};
use linkwright_calc::quantity::Mass;

pub const TURNS_LEFT: &str = "turns wound x (rod + wire) / (inside of the open ring + wire)";

pub const WIRE_KEEPS_ITS_LENGTH: &str = "the wire keeps its length; docs/theory/coil.md, section 3";

pub const COIL_LENGTH_SOURCE: &str =
    "centre lines span turns times pitch, half a wire stands out at each end";

pub const CLOSED_INSIDE: &str = "(length of one turn - what the slot takes of it) / pi - wire";

pub const CLOSED_INSIDE_SOURCE: &str = "the wire keeps its length; docs/theory/ring.md, section 2";

/// What the order or the workshop file says.
fn given(by: &str) -> Basis {
    Basis::assumed(by)
}

fn worked_out() -> Basis {
    Basis::worked_out("", "", Vec::new())
}

fn count(name: &'static str, count: u32, basis: Basis) -> Input {
    Input::new(name, f64::from(count), "-", basis)
}

fn wire(sheet: &RunSheet) -> Input {
    Input::new("wire", sheet.wire.value.diameter().mm(), "mm", sheet.wire.basis.clone())
}

fn rod_size(sheet: &RunSheet) -> Input {
    Input::new("rod", sheet.rod.mandrel.diameter().mm(), "mm", rod())
}

fn inside(sheet: &RunSheet) -> Input {
    let open = &sheet.ring.open_inside;
    Input::new("inside of the open ring", open.value.mm(), "mm", open.basis.clone())
}

fn kerf(sheet: &RunSheet) -> Input {
    Input::new("kerf", sheet.blade().blade.kerf().width().mm(), "mm", blade())
}

fn pitch(sheet: &RunSheet) -> Input {
    Input::new("pitch", sheet.coils.pitch.advance().mm(), "mm", worked_out())
}

fn density(sheet: &RunSheet) -> Input {
    let density = &sheet.metal.density;
    Input::new("density", density.value.g_cm3(), "g/cm3", density.basis.clone())
}

fn projection(sheet: &RunSheet) -> Input {
    let projection = &sheet.blade().projection;
    Input::new("projection", projection.value.mm(), "mm", projection.basis.clone())
}

fn lost(sheet: &RunSheet) -> [Input; 2] {
    let losses = &sheet.coils.losses;
    [
        count("lost at the ends", losses.ends.value, losses.ends.basis.clone()),
        count("lost at the stop", losses.stop.value, losses.stop.basis.clone()),
    ]
}

pub fn rod() -> Basis {
    given("the size in the workshop's record")
}

pub fn blade() -> Basis {
    given("the size in the workshop's record")
}

pub fn set_back() -> Basis {
    given("the stop in the workshop's record")
}

pub fn good_rings(sheet: &RunSheet) -> Basis {
    let to_make = &sheet.to_make;
    let asked = match (&sheet.line.linked, to_make.chain) {
        (Some(linked), _) => linked.basis.clone(),
        (None, Some(_)) => worked_out(),
        (None, None) => given("the order"),
    };
    Basis::worked_out(
        "rings asked for + spare rings",
        "definition",
        vec![
            count("asked for", to_make.asked.get(), asked),
            count("spare", to_make.spare, given("the order")),
        ],
    )
}

pub fn straight(sheet: &RunSheet) -> Basis {
    let closed_mm = sheet.ring.ring.closed_inside().mm();
    Basis::worked_out(
        "rings x inside of the closed ring + 2 x wire + clasp",
        "docs/theory/ring.md, section 6",
        vec![Input::new("inside of the closed ring", closed_mm, "mm", worked_out()), wire(sheet)],
    )
}

pub fn closed_inside(sheet: &RunSheet) -> Basis {
    Basis::worked_out(
        CLOSED_INSIDE,
        CLOSED_INSIDE_SOURCE,
        vec![inside(sheet), wire(sheet), pitch(sheet), kerf(sheet)],
    )
}

pub fn aspect_ratio(sheet: &RunSheet) -> Basis {
    let closed_mm = sheet.ring.ring.closed_inside().mm();
    Basis::worked_out(
        "inside of the closed ring / wire",
        "definition",
        vec![Input::new("inside of the closed ring", closed_mm, "mm", worked_out()), wire(sheet)],
    )
}

pub fn seam(sheet: &RunSheet) -> Basis {
    Basis::worked_out(
        "wire x kerf / mean radius of the ring",
        "docs/theory/ring.md, section 3",
        vec![wire(sheet), kerf(sheet), inside(sheet)],
    )
}

pub fn coils(sheet: &RunSheet) -> Basis {
    if let Odds::Taught(odds) = &sheet.coils.odds {
        return coils_taught(sheet, odds);
    }
    Basis::worked_out(
        "rings to slit / rings from a full coil, rounded up; a shorter last coil where that saves wire",
        "docs/theory/counting.md, section 4",
        vec![
            count("rings to slit", sheet.coils.to_slit, worked_out()),
            count("rings from a full coil", sheet.blade().rings_per_full_coil, worked_out()),
        ],
    )
}

fn coils_taught(sheet: &RunSheet, odds: &OddsTaught) -> Basis {
    let mut inputs = vec![
        count("good rings wanted", sheet.to_make.good.get(), worked_out()),
        Input::new("as sure as", 100.0 * odds.confidence, "%", given("the workshop's record")),
        good_share(odds),
        count("turns the holder takes", sheet.coils.relaxed_turns_most, worked_out()),
    ];
    inputs.extend(lost(sheet));
    let formula = match sheet.coils.least {
        Some(Least::Money) => {
            "the length of coil that costs least in work and wire, less what scrap brings, and as \
             many coils as make the rings that sure"
        }
        _ => {
            "the length of coil that takes the least wire, and as many coils as make the rings \
             that sure; work or wire has no price here, so time is not weighed"
        }
    };
    Basis::worked_out(formula, "docs/theory/promise.md, section 4", inputs)
}

fn good_share(odds: &OddsTaught) -> Input {
    Input::new("good, of turns not lost at an end", 100.0 * odds.good_share, "%", odds.basis())
}

pub fn turns_needed(sheet: &RunSheet, group: &CoilOnSheet) -> Basis {
    let mut inputs = vec![count("rings from each coil", group.slit.get(), worked_out())];
    inputs.extend(lost(sheet));
    Basis::worked_out(
        "rings from a coil + lost at the ends + lost at the stop",
        "definition",
        inputs,
    )
}

pub fn turns_to_wind(sheet: &RunSheet, group: &CoilOnSheet) -> Basis {
    Basis::worked_out(
        "turns needed x (inside of the open ring + wire) / (rod + wire), rounded up",
        WIRE_KEEPS_ITS_LENGTH,
        vec![
            count("turns needed", group.relaxed_needed, worked_out()),
            inside(sheet),
            wire(sheet),
            rod_size(sheet),
        ],
    )
}

pub fn turns_left(sheet: &RunSheet, group: &CoilOnSheet) -> Basis {
    Basis::worked_out(
        TURNS_LEFT,
        WIRE_KEEPS_ITS_LENGTH,
        vec![
            count("turns wound", group.wound.get(), worked_out()),
            rod_size(sheet),
            wire(sheet),
            inside(sheet),
        ],
    )
}

pub fn wire_each(sheet: &RunSheet, group: &CoilOnSheet) -> Basis {
    let tails_mm = sheet.coils.tails.mm();
    Basis::worked_out(
        "turns wound x length of one turn on the rod + tails",
        "docs/theory/coil.md, section 2",
        vec![
            count("turns wound", group.wound.get(), worked_out()),
            rod_size(sheet),
            wire(sheet),
            pitch(sheet),
            Input::new("tails", tails_mm, "mm", given("the workshop's record")),
        ],
    )
}

pub fn coil_length(sheet: &RunSheet, group: &CoilOnSheet) -> Basis {
    Basis::worked_out(
        "turns needed x pitch + wire",
        COIL_LENGTH_SOURCE,
        vec![count("turns needed", group.relaxed_needed, worked_out()), pitch(sheet), wire(sheet)],
    )
}

pub fn turns_most(sheet: &RunSheet) -> Basis {
    let coils = &sheet.coils;
    let head_start = &coils.head_start;
    Basis::worked_out(
        "(holder - head start - wire) / pitch, whole turns",
        "the coil's length turned round",
        vec![
            Input::new("holder", coils.holder.mm(), "mm", given("the workshop's record")),
            Input::new("head start", head_start.value.mm(), "mm", head_start.basis.clone()),
            wire(sheet),
            pitch(sheet),
        ],
    )
}

pub fn lost_on_each(sheet: &RunSheet) -> Basis {
    Basis::worked_out("lost at the ends + lost at the stop", "definition", lost(sheet).to_vec())
}

pub fn beyond_clean(sheet: &RunSheet) -> Basis {
    let clean_mm = sheet.blade().verdict.window.clean_with_offset.mm();
    Basis::worked_out(
        "projection - least projection of a clean cut",
        "docs/theory/slitting.md, section 1",
        vec![
            projection(sheet),
            Input::new("least projection of a clean cut", clean_mm, "mm", worked_out()),
            wire(sheet),
            kerf(sheet),
        ],
    )
}

pub fn before_far_wall(sheet: &RunSheet) -> Basis {
    let far_mm = sheet.blade().verdict.window.far_wall.mm();
    Basis::worked_out(
        "depth of the far wall - squash of the coil in the holder - projection",
        "docs/theory/slitting.md, section 1",
        vec![Input::new("depth of the far wall", far_mm, "mm", worked_out()), projection(sheet)],
    )
}

pub fn window(sheet: &RunSheet) -> Basis {
    Basis::worked_out(
        "from just past the near wall to the far wall less squash and margin, or to the hub",
        "docs/theory/slitting.md, section 1",
        vec![wire(sheet), inside(sheet), kerf(sheet)],
    )
}

pub fn uncut(sheet: &RunSheet) -> Basis {
    let mut inputs = vec![projection(sheet), wire(sheet), pitch(sheet)];
    if let Some(setback) = sheet.coils.stop_setback {
        inputs.push(Input::new(
            "blade halts short of the coil's end by",
            setback.mm(),
            "mm",
            given("the workshop's record"),
        ));
    }
    if let Some(reach) = sheet.blade().verdict.severed_reach {
        inputs.push(Input::new("severed within", reach.mm(), "mm", worked_out()));
    }
    Basis::worked_out(
        "turns further from the blade's axis than it severs, when it halts",
        "docs/theory/slitting.md, sections 3 and 4",
        inputs,
    )
}

pub fn speed(sheet: &RunSheet) -> Basis {
    let mut inputs = Vec::new();
    let mut source = "docs/theory/slitting.md, section 6";
    if let Some(speed) = &sheet.speed {
        let table = speed.handbook;
        source = table.source;
        let by_table = || Basis::assumed(table.metal);
        inputs.push(Input::new("tooth speed from", table.m_per_min_low, "m/min", by_table()));
        inputs.push(Input::new("tooth speed to", table.m_per_min_high, "m/min", by_table()));
    }
    let across_mm = sheet.blade().blade.diameter().mm();
    inputs.push(Input::new("blade", across_mm, "mm", blade()));
    Basis::worked_out("speed of the teeth / (pi x blade diameter)", source, inputs)
}

pub fn ring_mass(sheet: &RunSheet) -> Basis {
    Basis::worked_out(
        "density x cross-section of the wire x length left of one turn",
        "docs/theory/ring.md, section 1",
        vec![density(sheet), wire(sheet), inside(sheet), pitch(sheet), kerf(sheet)],
    )
}

fn mass_of(name: &'static str, mass: Mass) -> Input {
    Input::new(name, mass.g(), "g", worked_out())
}

pub fn counted_mass(count_of: (&'static str, u32), sheet: &RunSheet) -> Basis {
    let inputs =
        vec![count(count_of.0, count_of.1, worked_out()), mass_of("one ring", sheet.ring.mass)];
    Basis::worked_out("rings x mass of one ring", "definition", inputs)
}

pub fn wire_length(sheet: &RunSheet) -> Basis {
    let inputs = vec![count("coils", sheet.coils.coil_count(), worked_out())];
    Basis::worked_out("wire of each coil, tails included, added up", "definition", inputs)
}

pub fn wire_mass(sheet: &RunSheet) -> Basis {
    let length_mm = sheet.metal_use.wire_length.mm();
    Basis::worked_out(
        "density x cross-section of the wire x length",
        "definition",
        vec![
            density(sheet),
            wire(sheet),
            Input::new("length of wire", length_mm, "mm", worked_out()),
        ],
    )
}

pub fn kerf_dust(sheet: &RunSheet) -> Basis {
    Basis::worked_out(
        "rings slit x density x cross-section of the wire x what the slot takes",
        "docs/theory/ring.md, section 1",
        vec![
            count("rings slit", sheet.coils.slit_count(), worked_out()),
            density(sheet),
            wire(sheet),
            kerf(sheet),
        ],
    )
}

pub fn ends_and_tails(sheet: &RunSheet) -> Basis {
    let used = &sheet.metal_use;
    Basis::worked_out(
        "wire - rings - kerf dust",
        "every gram has a place",
        vec![
            mass_of("wire", used.wire),
            mass_of("rings", used.rings),
            mass_of("kerf dust", used.kerf_dust),
        ],
    )
}

pub fn minutes(sheet: &RunSheet) -> Basis {
    let allowed = sheet.minutes_allowed;
    let by = || given("the workshop's record");
    Basis::worked_out(
        "set-up + coils x minutes a coil",
        "definition",
        vec![
            Input::new("set-up", allowed.set_up, "min", by()),
            count("coils", sheet.coils.coil_count(), worked_out()),
            Input::new("each coil", allowed.per_coil, "min", by()),
        ],
    )
}

pub fn cost(sheet: &RunSheet, cost: &CostOnSheet) -> Basis {
    let price = cost.price.to_string();
    let dated = cost.price_date.as_ref().map_or_else(String::new, |date| format!(" of {date}"));
    Basis::worked_out(
        "mass of the wire x price, times the share of fine metal where the price is for fine",
        "definition",
        vec![Input::new(
            "wire",
            sheet.metal_use.wire.g(),
            "g",
            Basis::assumed(format!("price of {price}{dated}")),
        )],
    )
}

pub fn chance_in_tolerance(sheet: &RunSheet) -> Basis {
    Basis::worked_out(
        "share of the rings of the next coil expected between the two limits",
        "docs/theory/springback-from-trials.md, section 5",
        vec![inside(sheet)],
    )
}

pub fn more_coils(odds: &OddsTaught, rings_missing: u32) -> Basis {
    Basis::worked_out(
        "coils as long as those of the sheet, as many as make the missing rings as sure as wanted, \
         by every coil counted so far",
        "docs/theory/promise.md",
        vec![
            count("good rings missing", rings_missing, Basis::tried(1)),
            Input::new("as sure as", 100.0 * odds.confidence, "%", given("the workshop's record")),
            good_share(odds),
            count("other coils tried", odds.tried_elsewhere, Basis::tried(odds.tried_elsewhere)),
        ],
    )
}

pub fn odds_taught(odds: &OddsTaught) -> Basis {
    Basis::worked_out(
        "share of 400 plays of what is believed of this wire, rod and blade, in each of which all \
         coils share one luck of the set-up and every coil has its own",
        "docs/theory/promise.md, sections 1 to 3",
        vec![
            good_share(odds),
            count("coils tried here", odds.tried_here, Basis::tried(odds.tried_here)),
            count("other coils tried", odds.tried_elsewhere, Basis::tried(odds.tried_elsewhere)),
        ],
    )
}

pub fn odds(counted: u32) -> Basis {
    Basis::worked_out(
        "chance that at least the rings wanted are good, of the rings slit, after the counts so far",
        "beta-binomial; docs/theory/counting.md, section 3",
        vec![count("rings counted", counted, Basis::assumed("the workshop's own counts"))],
    )
}
