//! The answer as people read it: rows of label and value, and what to watch.

use super::answered::{ChainAnswer, RingUsed, ground_in_words};
use super::asked::PieceAsked;
use super::counted::counts;
use crate::printout::{Unit, both_lengths, significant};

/// The answer in rows of label and value, rounded, both unit systems.
pub fn rows(answer: &ChainAnswer) -> Vec<(String, String)> {
    let mut rows: Vec<(String, String)> = vec![("pattern".to_owned(), pattern(answer))];
    let many = answer.rings.len() > 1;
    for (index, used) in answer.rings.iter().enumerate() {
        let label = if many { format!("ring size {}", index + 1) } else { "ring".to_owned() };
        rows.push((label, ring(used)));
    }
    limit(answer, &mut rows);
    if answer.possible() {
        taut(answer, &mut rows);
        piece(answer, &mut rows);
    }
    rows
}

fn pattern(answer: &ChainAnswer) -> String {
    format!("{}, {}", answer.name, answer.title)
}

fn ring(used: &RingUsed) -> String {
    let wire = both_lengths(used.ring.wire().diameter().mm());
    let closed = both_lengths(used.ring.closed_inside().mm());
    let mut said = format!("wire {wire}, closed to {closed} inside");
    if let Some(open) = used.ring.opened() {
        said.push_str(&format!(
            ", open {} with a kerf of {}{}",
            both_lengths(open.inside.mm()),
            both_lengths(open.kerf.width().mm()),
            if open.kerf_assumed { " (assumed)" } else { "" }
        ));
    }
    if used.by_proportion {
        said.push_str(", in the pattern's own proportion (assumed)");
    }
    said
}

fn limit(answer: &ChainAnswer, rows: &mut Vec<(String, String)>) {
    let linked = &answer.linked;
    let mut row = |label: &str, value: String| rows.push((label.to_owned(), value));
    row("aspect ratio, closed", format!("{:.3}", linked.aspect_ratio));
    let ground = ground_in_words(linked.limit_ground);
    row("smallest possible", format!("{:.3} ({ground})", linked.aspect_ratio_min));
    let spare_mm = linked.inside_to_spare.mm();
    let said = if linked.possible() {
        format!("yes, with {} of inside diameter to spare", both_lengths(spare_mm))
    } else {
        format!("no, {} of inside diameter is missing", both_lengths(-spare_mm))
    };
    row("possible", said);
}

fn taut(answer: &ChainAnswer, rows: &mut Vec<(String, String)>) {
    let linked = &answer.linked;
    let Some(taut) = &linked.taut else { return };
    let density = answer.metal.as_ref().map(|metal| metal.density);
    let mut row = |label: &str, value: String| rows.push((label.to_owned(), value));
    if let (Some(per_cm), Some(per_inch)) = (linked.rings_per_cm(), linked.rings_per_inch()) {
        let (cm, inch) = (significant(per_cm, 4), significant(per_inch, 4));
        row("rings per length", format!("{cm} per cm ({inch} per inch)"));
    }
    if let Some(per_cm2) = linked.rings_per_cm2() {
        let per_inch2 = per_cm2 * 2.54 * 2.54;
        let (cm, inch) = (significant(per_cm2, 4), significant(per_inch2, 4));
        row("rings per area", format!("{cm} per cm2 ({inch} per square inch)"));
    }
    if let Some(mass) = density.and_then(|density| linked.mass_per_cm(density)) {
        row("mass per cm", Unit::Mass.show(mass.g()));
    }
    if let Some(mass) = density.and_then(|density| linked.mass_per_cm2(density)) {
        row("mass per cm2", Unit::Mass.show(mass.g()));
    }
    let rings = linked.rings_per_cell.iter().sum::<usize>();
    let of = if rings == 1 { "one ring".to_owned() } else { format!("{rings} rings") };
    row(&format!("advance of {of}"), both_lengths(taut.advance.mm()));
    if let Some(across) = taut.across {
        row("from row to row of cells", both_lengths(across.mm()));
    }
    if let Some(width) = taut.width {
        row("width", format!("about {}", both_lengths(width.mm())));
    }
    row("thickness", format!("about {}", both_lengths(taut.thickness.mm())));
    row("the length is", answer.basis_in_words());
    row("tolerance of the length", format!("{} %", significant(100.0 * taut.within, 2)));
}

fn piece(answer: &ChainAnswer, rows: &mut Vec<(String, String)>) {
    let Some(all) = answer.rings_in_all else { return };
    let mut row = |label: &str, value: String| rows.push((label.to_owned(), value));
    let what = match (answer.piece, answer.length) {
        (Some(PieceAsked::Sheet { along, across }), _) => {
            format!("for {} x {}", both_lengths(along.mm()), both_lengths(across.mm()))
        }
        (_, Some(length)) => format!("at least, to reach {}", both_lengths(length.mm())),
        _ => "in one piece".to_owned(),
    };
    let each: Vec<String> = answer
        .rings
        .iter()
        .enumerate()
        .filter_map(|(index, used)| Some(format!("{} of size {}", used.count?, index + 1)))
        .collect();
    let sizes = if each.len() > 1 { format!(": {}", each.join(", ")) } else { String::new() };
    row("rings", format!("{all} {what}{sizes}"));
    if let Some(around) = answer.around {
        row("length over all then", both_lengths(around.above.length.mm()));
        if let Some(below) = around.below.filter(|below| below.cells < around.above.cells) {
            let fewer = around.above.rings - below.rings;
            let length = both_lengths(below.length.mm());
            row(&format!("with {fewer} fewer"), length);
        }
    }
    if let (Some(order), Some(_)) = (counts(answer), answer.around) {
        let length = order.length.map_or_else(String::new, |it| both_lengths(it.mm()));
        row(
            "an order takes",
            format!("{}, the whole repeats nearest to it: {length}", order.rings()),
        );
    }
    if let Some(mass) = answer.mass {
        row("mass of the rings", Unit::Mass.show(mass.g()));
    }
}

/// What to watch, as sentences.
pub fn cautions(answer: &ChainAnswer) -> Vec<String> {
    let mut said: Vec<String> = answer.linked.cautions().iter().map(ToString::to_string).collect();
    match &answer.metal {
        None => said.push(
            "no metal was given, so that the mass is not known; name one of `linkwright metals`"
                .to_owned(),
        ),
        Some(metal) => said.extend(metal.cautions.iter().cloned()),
    }
    if answer.rings.iter().any(|used| used.ring.opened().is_some_and(|open| open.kerf_assumed)) {
        said.push(
            "the kerf is assumed; measure the slot the blade leaves, since it decides the closed \
             ring"
                .to_owned(),
        );
    }
    said
}
