//! What a pattern gives, number by number, each with what it rests on.

use linkwright_answers::chain::{ChainAnswer, Counts, counts};
use linkwright_answers::printout::significant;
use linkwright_answers::run_sheet::view::{BasisView, Figure};
use linkwright_calc::quantity::{Force, Length};
use linkwright_linkage::answer::{Fits, LastRing, TightestBend, UnderLoad};
use linkwright_linkage::solve::Way;

use super::answers::Handling;
use super::list::capital;

/// A number of the page; the script that moves with the slider knows it by its key.
pub(super) struct Number {
    pub(super) key: &'static str,
    pub(super) figure: Figure,
}

/// Where lengths of linked rings come from.
const SOURCE: &str = "contact geometry, docs/theory/chain.md";

/// Every number, in the order of the page.
pub(super) fn numbers(answer: &ChainAnswer) -> Vec<Number> {
    let mut numbers = vec![aspect_ratio(answer)];
    if answer.possible() {
        numbers.extend(lengths(answer));
        numbers.extend(across(answer));
        numbers.extend(piece(answer));
    }
    numbers
}

/// What a person reads as the answer of the whole page.
pub(super) fn verdict(answer: &ChainAnswer) -> String {
    let spare_mm = answer.linked.inside_to_spare.mm();
    let size = both(spare_mm.abs());
    if answer.possible() {
        format!("yes, with {size} of inside diameter to spare")
    } else {
        format!("no: {size} of inside diameter is missing")
    }
}

fn both(mm: f64) -> String {
    format!("{mm:.2} mm ({:.3} in)", Length::from_mm(mm).inches())
}

fn aspect_ratio(answer: &ChainAnswer) -> Number {
    let linked = &answer.linked;
    let basis = worked_out(
        answer,
        "smallest aspect ratio: the wire is grown until the rings lock; to spare: inside diameter of the \
         closed ring - smallest aspect ratio x wire",
    );
    let figure = two(
        "Aspect ratio",
        format!("{:.2}", linked.aspect_ratio),
        format!("possible from {:.2} on", linked.aspect_ratio_min),
    );
    number("ratio", figure, Some(basis))
}

fn number(key: &'static str, figure: Figure, basis: Option<BasisView>) -> Number {
    Number { key, figure: Figure { basis, ..figure } }
}

fn two(label: &str, value: String, other: String) -> Figure {
    Figure { other: Some(other), ..Figure::number(label, value) }
}

fn lengths(answer: &ChainAnswer) -> Vec<Number> {
    let linked = &answer.linked;
    let density = answer.metal.as_ref().map(|metal| metal.density);
    let mut numbers = Vec::new();
    if let (Some(per_cm), Some(per_inch)) = (linked.rings_per_cm(), linked.rings_per_inch()) {
        let figure = two(
            "Rings per length",
            format!("{} per cm", significant(per_cm, 4)),
            format!("{} per inch", significant(per_inch, 4)),
        );
        let basis = worked_out(
            answer,
            "rings per cell / greatest advance per cell of touching rigid rings",
        );
        numbers.push(number("per-length", figure, Some(basis)));
    }
    if let Some(per_cm2) = linked.rings_per_cm2() {
        let figure = two(
            "Rings per area",
            format!("{} per cm\u{b2}", significant(per_cm2, 4)),
            format!("{} per square inch", significant(per_cm2 * CM2_PER_INCH2, 4)),
        );
        let basis = worked_out(answer, "rings per cell / area of the cell, pulled along the rows");
        numbers.push(number("per-area", figure, Some(basis)));
    }
    if let Some(mass) = density.and_then(|density| linked.mass_per_cm(density)) {
        let figure = two(
            "Mass per length",
            format!("{} g per cm", significant(mass.g(), 4)),
            format!("{} g per inch", significant(mass.g() * 2.54, 4)),
        );
        numbers.push(number("mass", figure, Some(mass_basis(answer))));
    }
    if let Some(mass) = density.and_then(|density| linked.mass_per_cm2(density)) {
        let figure = two(
            "Mass per area",
            format!("{} g per cm\u{b2}", significant(mass.g(), 4)),
            format!("{} g per square inch", significant(mass.g() * CM2_PER_INCH2, 4)),
        );
        numbers.push(number("mass-area", figure, Some(mass_basis(answer))));
    }
    numbers
}

/// Square centimetres in a square inch, exact.
const CM2_PER_INCH2: f64 = 2.54 * 2.54;

fn across(answer: &ChainAnswer) -> Vec<Number> {
    let Some(taut) = &answer.linked.taut else { return Vec::new() };
    let soft = "extent of the solved pose across; rings that carry nothing are loose, so read it as within \
                about 10 %";
    let size = |label: &str, length: Length| {
        two(label, format!("about {:.2} mm", length.mm()), format!("{:.3} in", length.inches()))
    };
    let mut numbers = Vec::new();
    if let Some(width) = taut.width {
        numbers.push(number("width", size("Width", width), Some(plain(soft))));
    }
    numbers.push(number("thickness", size("Thickness", taut.thickness), Some(plain(soft))));
    numbers
}

fn piece(answer: &ChainAnswer) -> Vec<Number> {
    let Some(all) = answer.rings_in_all else { return Vec::new() };
    let each: Vec<String> = answer
        .rings
        .iter()
        .zip(1..)
        .filter_map(|(used, size)| Some(format!("{} of size {size}", used.count?)))
        .collect();
    let sizes = if each.len() > 1 { format!(" ({})", each.join(", ")) } else { String::new() };
    let basis = worked_out(
        answer,
        "fewest whole cells that reach the length wanted: (length - what the end rings reach out - clasp) / \
         advance per cell, rounded up, x rings per cell",
    );
    let words =
        |label: &str, value: String| Figure { in_words: true, ..Figure::number(label, value) };
    let mut numbers =
        vec![number("rings", words("Rings for the piece", format!("{all}{sizes}")), Some(basis))];
    if let Some(around) = answer.around {
        let figure = two(
            "Length then",
            format!("{:.1} mm", around.above.length.mm()),
            format!("{:.2} in", around.above.length.inches()),
        );
        numbers.push(number(
            "",
            figure,
            Some(plain("cells x advance per cell + what the end rings reach out + clasp")),
        ));
        if let Some(below) = around.below.filter(|below| below.cells < around.above.cells) {
            let fewer = around.above.rings - below.rings;
            let figure = two(
                &format!("With {fewer} fewer"),
                format!("{:.1} mm", below.length.mm()),
                format!("{:.2} in", below.length.inches()),
            );
            numbers.push(number("", figure, None));
        }
        numbers.extend(counts(answer).map(an_order_takes));
    }
    if let Some(mass) = answer.mass {
        let figure = two(
            "Mass of the rings",
            format!("{} g", significant(mass.g(), 4)),
            format!("{} troy oz", significant(mass.troy_ounces(), 3)),
        );
        numbers.push(number("", figure, Some(mass_basis(answer))));
    }
    numbers
}

/// What an order of the piece takes, which may fall short of the length by less than half a repeat.
fn an_order_takes(counts: Counts) -> Number {
    let length = counts.length.map_or_else(String::new, |it| format!(", {:.1} mm", it.mm()));
    let value = format!("{}{length}", counts.rings());
    let figure = Figure { in_words: true, ..Figure::number("An order takes", value) };
    number(
        "",
        figure,
        Some(plain("the whole repeats nearest to the length wanted, longer or shorter")),
    )
}

/// How tightly a chain bends, whether its last ring goes in, what a pull does to it.
pub(super) fn handling_numbers(handling: &Handling) -> Vec<Number> {
    let bend = |bend: &TightestBend| {
        let way = match bend.way {
            Way::OverFace => "Tightest bend over its face",
            Way::Edgewise => "Tightest bend edgewise",
        };
        let radius = bend.inside_radius;
        let figure = if bend.limp {
            Figure { in_words: true, ..Figure::number(way, "folds limp on itself".to_owned()) }
        } else {
            two(
                way,
                format!("about {:.1} mm inside radius", radius.mm()),
                format!("{:.2} in", radius.inches()),
            )
        };
        let own = BasisView::of(&bend.basis());
        let sure = format!(
            "{} of {} searches agree; a best found: at least this tight",
            bend.hits, bend.starts
        );
        number("", figure, Some(BasisView { inputs: vec![sure], ..own }))
    };
    let mut numbers: Vec<Number> = handling.bends.iter().map(bend).collect();
    numbers.extend(handling.last_ring.as_ref().map(last_ring));
    numbers.extend(handling.under_load.iter().flat_map(pulled));
    numbers
}

fn last_ring(last: &LastRing) -> Number {
    let verdict = match last.fits {
        Fits::GoesIn => "goes in at its place",
        Fits::Tight => "tight: the others pushed aside, or brought in half closed",
        Fits::DoesNot => "hardly opens at its place: larger rings",
    };
    let value = format!(
        "{verdict} (ends {:.1} mm apart, {:.1} mm needed)",
        last.ends_apart.mm(),
        last.needed.mm()
    );
    let figure = Figure { in_words: true, ..Figure::number("Last ring", value) };
    number("", figure, Some(BasisView::of(&last.basis())))
}

fn pulled(loaded: &UnderLoad) -> Vec<Number> {
    let force = |label: &str, force: Force| {
        let n = force.n();
        two(
            label,
            format!("{} N", significant(n, 3)),
            format!("{} lbf", significant(n / N_PER_LBF, 3)),
        )
    };
    let mut basis = BasisView::of(&loaded.basis());
    basis.inputs.extend(loaded.cautions.iter().map(ToString::to_string));
    // Elastic, so in proportion to the pull until the first ring takes a set.
    let at_set = loaded.stretch * loaded.first_set.n() / loaded.load.n();
    let stretch = Figure::number(
        "Stretches by then",
        format!("{} %, which comes back; rings not soldered", significant(100.0 * at_set, 2)),
    );
    vec![
        number("", force("Takes a set from", loaded.first_set), Some(basis.clone())),
        number("", stretch, Some(basis.clone())),
        number("", force("Gives way at", loaded.gives_way), Some(basis)),
    ]
}

/// Newtons in a pound-force, exact. NIST SP 811 (2008), appendix B.8.
const N_PER_LBF: f64 = 4.448_221_615_260_5;

/// How sure lengths are: the tolerance, and how often the best was met.
pub(super) fn how_sure(answer: &ChainAnswer) -> String {
    let ground = answer.basis_in_words();
    match answer.tolerance() {
        Some(within) => format!("within {} %; {ground}", significant(100.0 * within, 2)),
        None => ground,
    }
}

fn worked_out(answer: &ChainAnswer, formula: &str) -> BasisView {
    let own = BasisView::of(&answer.linked.basis());
    let mut inputs = own.inputs;
    inputs.push(capital(&how_sure(answer)));
    BasisView {
        word: own.word,
        formula: formula.to_owned(),
        inputs,
        source: Some(SOURCE.to_owned()),
    }
}

fn plain(formula: &str) -> BasisView {
    BasisView {
        word: "worked out".to_owned(),
        formula: formula.to_owned(),
        inputs: Vec::new(),
        source: Some(SOURCE.to_owned()),
    }
}

fn mass_basis(answer: &ChainAnswer) -> BasisView {
    let mut inputs = Vec::new();
    if let Some(metal) = &answer.metal {
        let density = significant(metal.density.g_cm3(), 4);
        inputs.push(format!("density of {} {density} g/cm3 ({})", metal.name, metal.basis));
    }
    for (used, size) in answer.rings.iter().zip(1..) {
        if let Some(each) = used.mass_each {
            inputs.push(format!("a ring of size {size}: {} g", significant(each.g(), 4)));
        }
    }
    inputs.push(capital(&how_sure(answer)));
    BasisView {
        word: "worked out".to_owned(),
        formula: "mass of the rings x rings; a ring is a torus: density x pi/4 x wire\u{b2} x pi x (inside + wire)".to_owned(),
        inputs,
        source: Some("Pappus's theorem; docs/theory/chain.md, section 7".to_owned()),
    }
}
