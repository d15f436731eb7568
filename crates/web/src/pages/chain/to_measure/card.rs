//! One answer as the page shows it.

use linkwright_answers::chain::design::{
    Aim, Design, Given, GivesNothing, Miss, NextRod, OwnRing, PartRing,
};
use linkwright_answers::printout::{
    SIZE_PLACES, Unit, both_lengths, inches_and_gauge, short_mm, significant,
};
use linkwright_answers::run_sheet::view::{BasisView, Figure};
use linkwright_calc::money::{Currency, Money};
use linkwright_calc::quantity::Length;
use linkwright_linkage::pattern::Kind;

use super::form::ToMeasure;
use crate::pages::chain::asked::{FURTHER, address};
use crate::pages::chain::list::capital;
use crate::pages::chain::show::called;
use crate::pages::orders::sized;

/// One answer.
pub(super) struct CardView {
    pub(super) place: usize,
    pub(super) pattern: String,
    pub(super) title: String,
    /// Its pattern page with these rings filled in.
    pub(super) address: String,
    /// Wires and rods, in few words.
    pub(super) short: String,
    /// The wish that is missed by most.
    pub(super) worst: Option<MissView>,
    /// What was wanted beside what it gives.
    pub(super) misses: Vec<MissView>,
    pub(super) rings: Vec<RingView>,
    pub(super) numbers: Vec<Figure>,
    /// The next rods, each in words.
    pub(super) next: Vec<(&'static str, String)>,
    /// The address that begins an order of it.
    pub(super) make: String,
    pub(super) tight: bool,
    pub(super) loose: bool,
}

pub(super) struct MissView {
    pub(super) what: &'static str,
    pub(super) wanted: String,
    pub(super) given: String,
    pub(super) off: String,
    /// Within a twentieth.
    pub(super) near: bool,
}

/// A ring as it is made.
pub(super) struct RingView {
    /// "Ring", or which of several sizes.
    pub(super) which: String,
    pub(super) wire: String,
    pub(super) lot: String,
    pub(super) rod: String,
    pub(super) closed: String,
    pub(super) basis: BasisView,
}

/// An answer this near is marked as near. Own choice: a tenth is what widths are soft by.
const NEAR: f64 = 0.05;
/// Off by less than this is told as just what was wanted.
const JUST_SO: f64 = 0.0005;
/// Places of a wire in an address: a tenth of a micrometre, so that the page of the pattern tells the same.
const ADDRESS_PLACES: usize = 4;

impl CardView {
    pub(super) fn of(
        design: &Design,
        place: usize,
        asked: &ToMeasure,
        piece: Option<f64>,
    ) -> CardView {
        let sizes = design.rings.len();
        CardView {
            place,
            pattern: design.pattern.clone(),
            title: capital(&design.title),
            address: pattern_address(design, asked),
            short: short(design),
            worst: design
                .misses
                .iter()
                .max_by(|one, other| one.off().abs().total_cmp(&other.off().abs()))
                .map(|miss| miss_view(*miss, design, piece)),
            misses: design.misses.iter().map(|miss| miss_view(*miss, design, piece)).collect(),
            rings: design
                .rings
                .iter()
                .zip(1..)
                .map(|(part, size)| ring_view(capital(&which(size, sizes)), &part.ring))
                .collect(),
            numbers: numbers(design, piece),
            next: ["Next rod up", "Next rod down"]
                .into_iter()
                .zip(&design.next)
                .map(|(label, next)| (label, next_in_words(next.as_ref(), design)))
                .collect(),
            make: make(design, asked),
            tight: design.tight,
            loose: design.loose,
        }
    }
}

/// What a ring is called, by its size and how many sizes there are.
fn which(size: usize, sizes: usize) -> String {
    match (size, sizes) {
        (_, 1) => "ring".to_owned(),
        (1, _) => "main ring".to_owned(),
        (2, 2) => "smaller ring".to_owned(),
        (size, _) => format!("ring {size}"),
    }
}

/// "sterling silver 925, 1.02 mm on rod 4.0 mm", of every size.
fn short(design: &Design) -> String {
    let of = |part: &PartRing| {
        let wire = short_mm(part.ring.ring.wire().diameter().mm(), SIZE_PLACES);
        format!("{wire} on rod {}", rod_called(&part.ring))
    };
    let sizes: Vec<String> = design.rings.iter().map(of).collect();
    format!("{}, {}", design.main().metal_name, sizes.join(" and "))
}

/// A rod as the workshop calls it, with its size where the name does not say it.
fn rod_called(ring: &OwnRing) -> String {
    called(&ring.rod, ring.rod_diameter)
}

fn miss_view(miss: Miss, design: &Design, piece: Option<f64>) -> MissView {
    let of_piece = piece.unwrap_or(1.0);
    let (what, show): (_, &dyn Fn(f64) -> String) = match miss.aim {
        Aim::Width => ("Width", &about),
        Aim::Thickness => ("Thickness", &about),
        Aim::Mass => ("Mass", &|g| Unit::Mass.show(g * of_piece)),
        Aim::Cost => ("Metal", &|minor| match design.gives.cost {
            Some((_, currency)) => money(minor * of_piece, currency),
            None => String::new(),
        }),
    };
    let off = miss.off();
    let percent = significant(100.0 * off.abs(), 2);
    let off_said = match off {
        off if off.abs() < JUST_SO => "just so".to_owned(),
        off if off > 0.0 => format!("{percent} % more"),
        _ => format!("{percent} % less"),
    };
    MissView {
        what,
        wanted: show(miss.wanted),
        given: show(miss.given),
        off: off_said,
        near: off.abs() <= NEAR,
    }
}

/// A size that is soft by a tenth.
fn about(mm: f64) -> String {
    format!("{mm:.2} mm ({:.3} in)", Length::from_mm(mm).inches())
}

fn money(minor: f64, currency: Currency) -> String {
    Money::rounded(minor, currency)
        .map_or_else(|_| "more than can be counted".to_owned(), |money| money.to_string())
}

fn ring_view(which: String, ring: &OwnRing) -> RingView {
    RingView {
        which,
        wire: format!(
            "{} ({})",
            short_mm(ring.ring.wire().diameter().mm(), SIZE_PLACES),
            inches_and_gauge(ring.ring.wire().diameter())
        ),
        lot: format!("lot \"{}\", {}, {}", ring.lot, ring.metal_name, ring.temper),
        rod: format!(
            "{}; the open ring off it {}, {}{}",
            rod_called(ring),
            both_lengths(ring.open_inside.value.mm()),
            BasisView::of(&ring.open_inside.basis).word,
            if ring.anneal_first { "; anneal the wire first" } else { "" }
        ),
        closed: both_lengths(ring.ring.closed_inside().mm()),
        basis: BasisView::of(&ring.closed_basis()),
    }
}

fn numbers(design: &Design, piece: Option<f64>) -> Vec<Figure> {
    let given = &design.gives;
    let area = given.across.is_some();
    let (per, per_inch, inches) =
        if area { ("cm\u{b2}", "square inch", 2.54 * 2.54) } else { ("cm", "inch", 2.54) };
    let figure = |label: &str, value: String, other: Option<String>, basis: BasisView| Figure {
        other,
        basis: Some(basis),
        ..Figure::number(label, value)
    };
    let ratio = format!("{:.2}", design.main().ring.as_closed().aspect_ratio());
    let least = design.least.map(|least| format!("possible from {least:.2} on"));
    let mut numbers = vec![Figure { other: least, ..Figure::number("Aspect ratio", ratio) }];
    let across = BasisView::of(&design.across_basis());
    let mut size = |label: &str, length: Length| {
        let (mm, inch) =
            (format!("about {:.2} mm", length.mm()), format!("{:.3} in", length.inches()));
        numbers.push(figure(label, mm, Some(inch), across.clone()));
    };
    if let Some(width) = given.width {
        size("Width", width);
    }
    size("Thickness", given.thickness);
    let rings = format!("{} per {per}", significant(given.rings, 4));
    let other = format!("{} per {per_inch}", significant(given.rings * inches, 4));
    numbers.push(figure("Rings", rings, Some(other), BasisView::of(&design.count_basis())));
    let mass = format!("{} g per {per}", significant(given.mass.g(), 3));
    let other = piece.map_or_else(
        || format!("{} g per {per_inch}", significant(given.mass.g() * inches, 3)),
        |piece| format!("{} for the piece", Unit::Mass.show(given.mass.g() * piece)),
    );
    numbers.push(figure("Mass", mass, Some(other), BasisView::of(&design.mass_basis())));
    match (given.cost, design.cost_basis()) {
        (Some((minor, currency)), Some(basis)) => {
            let each = format!("{} per {per}", money_finely(minor, currency));
            let of_piece =
                piece.map(|piece| format!("{} for the piece; ", money(minor * piece, currency)));
            let other = format!("{}{}", of_piece.unwrap_or_default(), prices(&design.rings));
            numbers.push(figure("Metal", each, Some(other), BasisView::of(&basis)).of_money());
        }
        _ => numbers.push(Figure::words("Metal", "no price of this wire is on record")),
    }
    numbers
}

/// A small amount, to a tenth of the least coin.
fn money_finely(minor: f64, currency: Currency) -> String {
    let decimals = usize::from(currency.decimals());
    let major = minor / f64::from(currency.minor_per_major());
    format!("{major:.places$} {currency}", places = decimals + 1)
}

/// The prices of the wires, each once, with their dates.
fn prices(rings: &[PartRing]) -> String {
    let mut said: Vec<String> = rings
        .iter()
        .filter_map(|part| part.ring.price.as_ref())
        .map(|price| match &price.date {
            Some(date) => format!("{}, of {date}", price.price),
            None => format!("{}, undated", price.price),
        })
        .collect();
    said.dedup();
    said.join("; ")
}

fn next_in_words(next: Option<&NextRod>, design: &Design) -> String {
    let Some(next) = next else { return "none owned".to_owned() };
    let ring = format!(
        "{}: ring closes to {:.2} mm",
        rod_called(&next.ring),
        next.ring.ring.closed_inside().mm()
    );
    match &next.gives {
        Ok(given) => format!("{ring}; {}", in_short(given, design.kind)),
        Err(GivesNothing::TooSmall) => format!("{ring}; too small for this pattern"),
        Err(GivesNothing::BeyondTable) => format!("{ring}; beyond the solved table, very loose"),
    }
}

fn in_short(given: &Given, kind: Kind) -> String {
    let mass = significant(given.mass.g(), 3);
    match (kind, given.width) {
        (Kind::Sheet, _) | (_, None) => {
            format!("{:.2} mm thick, {mass} g per cm\u{b2}", given.thickness.mm())
        }
        (_, Some(width)) => format!("{:.2} mm wide, {mass} g per cm", width.mm()),
    }
}

/// Size of a closed ring as a page takes it.
fn inside(ring: &OwnRing) -> String {
    short_mm(ring.ring.closed_inside().mm(), ADDRESS_PLACES)
}

fn wire(ring: &OwnRing) -> String {
    short_mm(ring.ring.wire().diameter().mm(), ADDRESS_PLACES)
}

/// The page of the pattern with these rings.
fn pattern_address(design: &Design, asked: &ToMeasure) -> String {
    let main = design.main();
    let sizes: Vec<(String, String)> =
        design.rings.iter().map(|part| (wire(&part.ring), inside(&part.ring))).collect();
    let mut pairs = vec![
        ("pattern", design.pattern.as_str()),
        ("metal", &main.metal),
        ("temper", &main.temper),
        ("wire", &sizes[0].0),
        ("inside", &sizes[0].1),
        ("state", "closed"),
    ];
    for ((wire_field, inside_field), (wire, inside)) in FURTHER.into_iter().zip(&sizes[1..]) {
        pairs.extend([(wire_field, wire.as_str()), (inside_field, inside.as_str())]);
    }
    for (field, typed) in [("length", &asked.length), ("across", &asked.across)] {
        if !typed.is_empty() {
            pairs.push((field, typed));
        }
    }
    address("/chain/pattern", pairs.into_iter())
}

/// The order form begun with this chain and all its ring sizes.
fn make(design: &Design, asked: &ToMeasure) -> String {
    let main = design.main();
    let mut pairs: Vec<(String, &str)> = [
        ("kind", "chain"),
        ("pattern", design.pattern.as_str()),
        ("metal", &main.metal),
        ("temper", &main.temper),
    ]
    .map(|(field, typed)| (field.to_owned(), typed))
    .into();
    let sizes: Vec<(String, String)> = design
        .rings
        .iter()
        .map(|part| (wire(&part.ring), format!("{} inside closed", inside(&part.ring))))
        .collect();
    for (size, (wire, ring)) in (1..).zip(&sizes) {
        pairs.push((sized("wire", size), wire));
        pairs.push((sized("ring", size), ring));
        pairs.push((sized("tolerance", size), "0.05 mm"));
    }
    for (field, typed) in [("length", &asked.length), ("across", &asked.across)] {
        if !typed.is_empty() {
            pairs.push((field.to_owned(), typed));
        }
    }
    address("/orders/new", pairs.iter().map(|(field, typed)| (field.as_str(), *typed)))
}
