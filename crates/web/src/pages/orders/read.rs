//! What was typed into the order's form, read into records or refused beside its field.

use linkwright_answers::chain::{KnownPatterns, name_of_size};
use linkwright_answers::files::from_json;
use linkwright_calc::metal::{Catalogue, Metal};
use linkwright_calc::quantity::{parse_count, parse_length, parse_ring_size};
use linkwright_calc::wire::Wire;
use linkwright_linkage::pattern::{Kind, Pattern};
use linkwright_store::records::{FurtherRing, LineKind, OrderLine, RingOrder};
use linkwright_store::{Conflict, Id, StoreError};
use time::Date;
use time::macros::format_description;

use super::form::{LETTERS_MOST, LineForm, OrderForm, key};
use super::ring_sizes::sized;
use crate::form::{Complaints, given};
use crate::planning::{Obstacle, order_as_json};

/// An order with its lines, ready to be kept.
#[derive(Debug)]
pub(super) struct Read {
    pub(super) order: RingOrder,
    pub(super) lines: Vec<LineRead>,
}

/// A line with its further ring sizes; one with a number replaces the one kept.
#[derive(Debug)]
pub(super) struct LineRead {
    pub(super) id: Option<Id<OrderLine>>,
    pub(super) line: OrderLine,
    pub(super) further: Vec<FurtherRing>,
}

/// Reads the whole form; every complaint is found at once.
pub(super) fn read(
    form: &OrderForm,
    metals: &Catalogue,
    patterns: &KnownPatterns,
) -> Result<Read, Complaints> {
    let mut complaints = Complaints::default();
    let name =
        needed(&mut complaints, "name", form.at("name"), "give the order a name or a number");
    let asked_on =
        needed(&mut complaints, "asked_on", form.at("asked_on"), "say when it was asked for");
    for field in ["asked_on", "due_on"] {
        day(&mut complaints, field, form.at(field));
    }
    let order = RingOrder {
        name,
        asked_on,
        due_on: given(form.at("due_on")),
        buyer: form.at("buyer").to_owned(),
        note: form.at("note").to_owned(),
        closed_on: None,
    };
    for field in ["name", "buyer", "note"] {
        not_too_long(&mut complaints, field, form.at(field));
    }
    let lines: Vec<_> = (1..)
        .zip(&form.lines)
        .filter_map(|(number, line)| {
            read_line(&mut complaints, number, line, &order, (metals, patterns))
        })
        .collect();
    for (at, (number, line)) in (1..).zip(&form.lines).enumerate() {
        let twice = form.lines[..at].iter().any(|other| other.at("name") == line.at("name"));
        if twice && !line.at("name").is_empty() {
            complaints.add(&key(number, "name"), "another line has this name; choose another");
        }
    }
    for read in &lines {
        let clash = |other: &LineRead| {
            let further = 2..2 + other.further.len();
            further.into_iter().any(|size| name_of_size(&other.line.name, size) == read.line.name)
        };
        if let Some(other) = lines.iter().find(|other| clash(other)) {
            complaints.add(
                &key(read.line.position as usize, "name"),
                format!(
                    "a ring size of line \"{}\" goes by this name; choose another",
                    other.line.name
                ),
            );
        }
    }
    if form.lines.is_empty() {
        complaints.add("", "an order has at least one line");
    }
    if complaints.is_empty() { Ok(Read { order, lines }) } else { Err(complaints) }
}

/// A complaint beside the field whose value another order already has; other troubles as they are.
pub(super) fn taken(error: StoreError) -> Result<Complaints, StoreError> {
    match error {
        StoreError::Conflict(Conflict::Taken { column }) if column == "ring_order.name" => {
            let mut complaints = Complaints::default();
            complaints.add("name", "another order has this name; choose another");
            Ok(complaints)
        }
        other => Err(other),
    }
}

fn needed(complaints: &mut Complaints, field: &str, typed: &str, ask: &str) -> String {
    if typed.is_empty() {
        complaints.add(field, ask);
    }
    typed.to_owned()
}

fn not_too_long(complaints: &mut Complaints, field: &str, typed: &str) {
    if typed.chars().count() > LETTERS_MOST {
        complaints.add(field, format!("at most {LETTERS_MOST} letters are kept here"));
    }
}

fn day(complaints: &mut Complaints, field: &str, typed: &str) {
    let form = format_description!("[year]-[month]-[day]");
    if !typed.is_empty() && Date::parse(typed, form).is_err() {
        complaints.add(field, "write the day as year-month-day, such as 2026-11-25");
    }
}

fn read_line(
    complaints: &mut Complaints,
    number: usize,
    form: &LineForm,
    order: &RingOrder,
    (metals, patterns): (&Catalogue, &KnownPatterns),
) -> Option<LineRead> {
    let mut own = Complaints::default();
    let name = needed(&mut own, "name", form.at("name"), "give the line a name");
    not_too_long(&mut own, "name", &name);
    let kind = own.take(
        "kind",
        LineKind::from_word(form.at("kind")).ok_or("choose rings, a chain or class kits"),
    );
    let metal = own.take("metal", metals.find(form.at("metal")));
    let wire = wire(&mut own, form, 1);
    if let (Some(metal), Some(wire)) = (metal, wire) {
        own.take("temper", metal.temper_for_wire(form.at("temper"), wire).map(drop));
    }
    // The order is not known before it is kept.
    let begun = OrderLine::begun(Id::new(0), u32::try_from(number).unwrap_or(u32::MAX), name);
    let line = OrderLine {
        kind: kind.unwrap_or(LineKind::Rings),
        metal: form.at("metal").to_owned(),
        temper: form.at("temper").to_owned(),
        wire_typed: form.at("wire").to_owned(),
        wire_mm: wire.map_or(0.0, |wire| wire.diameter().mm()),
        spare_typed: given(form.at("spare")),
        ..begun
    };
    let pattern = match kind {
        Some(LineKind::Chain | LineKind::Kits) => pattern(&mut own, form, patterns),
        Some(LineKind::Rings) | None => None,
    };
    let ring = ring_or_rod(&mut own, form, 1);
    let line = OrderLine {
        ring_typed: ring.ring,
        tolerance_typed: ring.tolerance,
        rod_typed: ring.rod,
        ..line
    };
    let sizes = pattern.as_ref().map_or(1, |pattern| pattern.spec().sizes.len());
    let further: Vec<FurtherRing> =
        (2..=sizes).map(|size| further(&mut own, form, size, metal)).collect();
    let line = match kind {
        Some(LineKind::Rings) => rings(&mut own, form, line),
        Some(LineKind::Chain) => chain(&mut own, form, pattern, line),
        Some(LineKind::Kits) => kits(&mut own, form, pattern, line),
        None => line,
    };
    if own.is_empty() {
        as_the_file_is_read(&mut own, order, (&line, &further), patterns);
    }
    let id = form.at("id").parse().ok();
    let well = own.is_empty();
    complaints.add_all(own, |field| key(number, field));
    well.then_some(LineRead { id, line, further })
}

fn wire(own: &mut Complaints, form: &LineForm, size: usize) -> Option<Wire> {
    let field = sized("wire", size);
    let diameter = own.take(&field, parse_length(form.at(&field)))?;
    own.take(&field, Wire::new(diameter.value()))
}

/// A ring size of the pattern beyond the line's own.
fn further(
    own: &mut Complaints,
    form: &LineForm,
    size: usize,
    metal: Option<&Metal>,
) -> FurtherRing {
    let wire_field = sized("wire", size);
    let wire = wire(own, form, size);
    if let (Some(metal), Some(wire)) = (metal, wire) {
        own.take(&wire_field, metal.temper_for_wire(form.at("temper"), wire).map(drop));
    }
    let ring = ring_or_rod(own, form, size);
    FurtherRing {
        // The line is not known before it is kept.
        order_line_id: Id::new(0),
        size: u32::try_from(size).unwrap_or(u32::MAX),
        wire_typed: form.at(&wire_field).to_owned(),
        wire_mm: wire.map(|wire| wire.diameter().mm()),
        ring_typed: ring.ring,
        tolerance_typed: ring.tolerance,
        rod_typed: ring.rod,
    }
}

fn count(own: &mut Complaints, form: &LineForm, field: &'static str) -> Option<u32> {
    own.take(field, parse_count(form.at(field))).map(|count| count.value())
}

fn rings(own: &mut Complaints, form: &LineForm, line: OrderLine) -> OrderLine {
    OrderLine { rings: count(own, form, "rings"), ..line }
}

fn kits(
    own: &mut Complaints,
    form: &LineForm,
    pattern: Option<Pattern>,
    line: OrderLine,
) -> OrderLine {
    if let Some(pattern) = pattern {
        // The rings of a kit are those of one piece, and a cluster is a piece as it is.
        let line = match pattern.kind() {
            Kind::Cluster => OrderLine { pattern: Some(pattern.name().to_owned()), ..line },
            _ => chain(own, form, Some(pattern), line),
        };
        return OrderLine {
            kits: count(own, form, "kits"),
            spare_each: count(own, form, "spare_each"),
            ..line
        };
    }
    OrderLine {
        kits: count(own, form, "kits"),
        rings_each: count(own, form, "rings_each"),
        spare_each: count(own, form, "spare_each"),
        ..line
    }
}

/// The pattern chosen; none for one ring in the next, or rings counted by oneself.
fn pattern(own: &mut Complaints, form: &LineForm, patterns: &KnownPatterns) -> Option<Pattern> {
    if form.at("pattern").is_empty() {
        return None;
    }
    own.take("pattern", patterns.find(form.at("pattern")))
}

fn chain(
    own: &mut Complaints,
    form: &LineForm,
    pattern: Option<Pattern>,
    line: OrderLine,
) -> OrderLine {
    let line =
        OrderLine { pattern: pattern.as_ref().map(|pattern| pattern.name().to_owned()), ..line };
    if pattern.as_ref().is_some_and(|pattern| pattern.kind() == Kind::Sheet) {
        for field in ["chain_length", "across"] {
            own.take(field, parse_length(form.at(field)));
        }
        return OrderLine {
            chain_length_typed: given(form.at("chain_length")),
            across_typed: given(form.at("across")),
            ..line
        };
    }
    let round = pattern.is_some() && !form.at("girth").is_empty();
    let line = if round {
        own.take("girth", parse_length(form.at("girth")));
        if !form.at("ease").is_empty() {
            own.take("ease", parse_length(form.at("ease")));
        }
        if !form.at("chain_length").is_empty() {
            own.add("chain_length", "leave the length out where the chain goes round something");
        }
        OrderLine {
            girth_typed: given(form.at("girth")),
            ease_typed: given(form.at("ease")),
            ..line
        }
    } else {
        own.take("chain_length", parse_length(form.at("chain_length")));
        line
    };
    let end_rings = if pattern.is_some() && !form.at("end_rings").is_empty() {
        count(own, form, "end_rings").filter(|count| *count > 0)
    } else {
        None
    };
    let line = OrderLine { end_rings, ..line };
    let clasp_typed = match form.at("clasp_is") {
        "in" => {
            own.take("clasp", parse_length(form.at("clasp")));
            given(form.at("clasp"))
        }
        "out" => None,
        _ => {
            own.add("clasp_is", "is the clasp in that length? Choose over all, or the chain alone");
            None
        }
    };
    OrderLine { chain_length_typed: given(form.at("chain_length")), clasp_typed, ..line }
}

/// A ring as it is kept.
#[derive(Default)]
struct RingTyped {
    ring: Option<String>,
    tolerance: Option<String>,
    rod: Option<String>,
}

fn ring_or_rod(own: &mut Complaints, form: &LineForm, size: usize) -> RingTyped {
    let [by, ring, tolerance, rod] = ["by", "ring", "tolerance", "rod"].map(|at| sized(at, size));
    match form.at(&by) {
        "rod" => {
            own.take(&rod, parse_length(form.at(&rod)));
            RingTyped { rod: given(form.at(&rod)), ..RingTyped::default() }
        }
        "ring" => {
            if let Some((_, _, None)) = own.take(&ring, parse_ring_size(&form.ring(size))) {
                own.add(
                    &ring,
                    "is that the open ring as it leaves the blade, or the closed one? Choose open or closed",
                );
            }
            if form.at(&tolerance).is_empty() {
                own.add(
                    &tolerance,
                    "how far may the inside diameter be off? Type it, such as 0.05 mm",
                );
            } else {
                own.take(&tolerance, parse_length(form.at(&tolerance)));
            }
            RingTyped {
                ring: given(&form.ring(size)),
                tolerance: given(form.at(&tolerance)),
                rod: None,
            }
        }
        _ => {
            own.add(&by, "choose a ring by its size, or by the rod it comes off");
            RingTyped::default()
        }
    }
}

/// The limits of the order file, which the plan will be held to.
fn as_the_file_is_read(
    own: &mut Complaints,
    order: &RingOrder,
    (line, further): (&OrderLine, &[FurtherRing]),
    patterns: &KnownPatterns,
) {
    let file = order_as_json(order, [(line, further)], &[]);
    let Err(error) = from_json::order(&file, patterns) else { return };
    let obstacle = Obstacle::in_order(error);
    let is_of = |size: &usize| obstacle.line() == Some(&name_of_size(&line.name, *size));
    let size = (2..2 + further.len()).find(is_of).unwrap_or(1);
    let field = match obstacle.field() {
        "chain" | "chain.length" | "sheet" | "sheet.length" => "chain_length",
        "chain.clasp" => "clasp",
        "chain.round" => "girth",
        "chain.ease" => "ease",
        "chain.end_rings" => "end_rings",
        "sheet.width" => "across",
        "kits.rings_each" => "rings_each",
        known @ ("wire" | "ring" | "tolerance" | "rod") => &sized(known, size),
        known @ ("pattern" | "rings" | "kits" | "spare" | "metal" | "temper") => known,
        _ => "name",
    };
    own.add(field, obstacle.said());
}
