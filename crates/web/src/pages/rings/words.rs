//! A batch in the words of its page and its label.

use linkwright_answers::printout::both_lengths;
use linkwright_calc::coil::InsideDiameter;
use linkwright_calc::gauge::in_both_systems;
use linkwright_calc::metal::Catalogue;
use linkwright_calc::quantity::Length;
use linkwright_calc::wire::Wire;
use linkwright_store::View;
use linkwright_store::records::{Batch, MetalOverlay};

use crate::error::PageError;
use crate::planning::catalogue;
pub(super) use crate::planning::metal_name;

/// One line of what is known of a batch: the value and what it rests on.
pub(super) struct Fact {
    pub(super) name: &'static str,
    pub(super) value: String,
    /// "tried", "worked out", "assumed"; "" for a name.
    pub(super) basis: &'static str,
    /// What the basis is in full.
    pub(super) rests_on: String,
}

/// The metals of this workshop.
pub(super) fn metals(view: &View<'_>) -> Result<Catalogue, PageError> {
    Ok(catalogue(&view.all::<MetalOverlay>()?)?)
}

/// The wire of a batch in both systems.
pub(super) fn wire(batch: &Batch) -> String {
    in_both_systems(Length::from_mm(batch.wire_mm)).to_string()
}

/// The count with its doubt, such as "3050 +/- 9".
pub(super) fn count(batch: &Batch) -> String {
    match batch.rings_uncertainty {
        Some(two_sigma) => format!("{} \u{b1} {two_sigma:.0}", batch.rings),
        None => batch.rings.to_string(),
    }
}

/// Inside over wire diameter, to two places; `None` if a size is out of all bounds.
pub(super) fn ratio(batch: &Batch, inside_mm: Option<f64>) -> Option<String> {
    let wire = Wire::new(Length::from_mm(batch.wire_mm)).ok()?;
    let inside = InsideDiameter::new(Length::from_mm(inside_mm?)).ok()?;
    Some(format!("{:.2}", inside.aspect_ratio(wire)))
}

/// All that is known of the rings of a batch.
pub(super) fn facts(batch: &Batch, metals: &Catalogue) -> Vec<Fact> {
    let mut facts = Vec::new();
    let mut add = |name, value: String, basis, rests_on: String| {
        facts.push(Fact { name, value, basis, rests_on });
    };
    add("Metal", metal_name(metals, &batch.metal), "", String::new());
    add("Temper", batch.temper.clone(), "", String::new());
    add("Wire", wire(batch), "assumed", format!("entered as \u{201c}{}\u{201d}", batch.wire_typed));
    if let (Some(rod_mm), Some(typed)) = (batch.rod_mm, &batch.rod_typed) {
        let rests_on = format!("entered as \u{201c}{typed}\u{201d}");
        add("Rod", both_lengths(rod_mm), "assumed", rests_on);
    }
    if let Some(inside_mm) = batch.inside_mm {
        let (basis, rests_on) = match batch.inside_readings {
            Some(1) => ("tried", "one ring measured: measure ten to be sure of it".to_owned()),
            Some(rings) => ("tried", format!("the mean of {rings} rings measured")),
            None => ("assumed", "entered without saying how many rings were measured".to_owned()),
        };
        add("Inside, open", both_lengths(inside_mm), basis, rests_on);
    }
    if let Some(closed_mm) = batch.closed_inside_mm {
        let basis = if batch.closed_how.starts_with("worked out") { "worked out" } else { "tried" };
        add("Inside, closed", both_lengths(closed_mm), basis, batch.closed_how.clone());
    }
    let formula = "inside diameter over wire diameter, both as above".to_owned();
    if let Some(ratio) = ratio(batch, batch.inside_mm) {
        add("Aspect ratio as wound", ratio, "worked out", formula.clone());
    }
    if let Some(ratio) = ratio(batch, batch.closed_inside_mm) {
        add("Aspect ratio closed", ratio, "worked out", formula);
    }
    facts
}

/// The inside diameter as a list shows it: closed if it is known, else open.
pub(super) fn inside(batch: &Batch) -> String {
    match (batch.closed_inside_mm, batch.inside_mm) {
        (Some(closed_mm), _) => format!("{} closed", both_lengths(closed_mm)),
        (None, Some(open_mm)) => format!("{} open", both_lengths(open_mm)),
        (None, None) => "not measured".to_owned(),
    }
}

/// What stands on a printed label under the code, most important first.
pub(crate) fn label_lines(batch: &Batch, lot: Option<&str>, metals: &Catalogue) -> Vec<String> {
    let metal = metal_name(metals, &batch.metal);
    let lot = lot.map(|lot| format!(", lot {lot}")).unwrap_or_default();
    let wound = ratio(batch, batch.inside_mm).map(|ratio| format!("{ratio} wound"));
    let closed = ratio(batch, batch.closed_inside_mm).map(|ratio| format!("{ratio} closed"));
    let ratios: Vec<String> = [wound, closed].into_iter().flatten().collect();
    let mut lines = vec![
        format!("{metal}, {}{lot}", batch.temper),
        format!("wire {}", wire(batch)),
        format!("inside {}", inside(batch)),
    ];
    if !ratios.is_empty() {
        lines.push(format!("ratio {}", ratios.join(", ")));
    }
    let kept = if batch.place.is_empty() { String::new() } else { format!(", {}", batch.place) };
    lines.push(format!("{} rings, {}{kept}", count(batch), batch.made_on));
    lines
}

/// A text as it stands in an address: all but letters, digits and hyphens by number.
pub(crate) fn in_address(text: &str) -> String {
    use std::fmt::Write as _;
    text.bytes().fold(String::new(), |mut written, byte| {
        if byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_' | b'.') {
            written.push(char::from(byte));
        } else {
            let _ = write!(written, "%{byte:02X}");
        }
        written
    })
}
