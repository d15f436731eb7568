//! Work of a whole order: which line first, what to change, which reel to cut.

use linkwright_calc::plan::{Plan, RunSheet, WireToCut};
use serde::{Deserialize, Serialize};

use super::figure::Figure;
use super::numbers::{fine, ruled, weighed};
use crate::printout::significant;

/// Headings of the order of work.
pub const WORK_HEADINGS: [&str; 7] =
    ["Sheet", "Line", "Wire", "Rod", "Blade", "Coils", "Change before it"];

/// The order of work, where there is more than one line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct WorkView {
    /// How often something is changed.
    pub changes: String,
    /// Time of all lines.
    pub time: String,
    /// What the columns are called.
    pub headings: Vec<String>,
    /// One row a line.
    pub lines: Vec<Vec<String>>,
    /// One a kind of wire.
    pub wires: Vec<WireView>,
}

/// One kind of wire, where it is cut from and what is bought.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct WireView {
    /// Metal, temper and size.
    pub kind: String,
    /// What is cut for which sheet from which reel.
    pub pieces: Vec<[String; 3]>,
    /// What is left, and what to buy.
    pub left: Vec<Figure>,
}

impl WorkView {
    /// The order of work of a plan.
    pub fn of(plan: &Plan) -> WorkView {
        let changes = if plan.changes == 1 { "change" } else { "changes" };
        let before = std::iter::once(None).chain(plan.sheets.iter().map(Some));
        WorkView {
            changes: format!("{} {changes} of rod, blade or wire", plan.changes),
            time: format!("{} min in all", significant(plan.minutes, 4)),
            headings: WORK_HEADINGS.map(str::to_owned).to_vec(),
            lines: (1..)
                .zip(plan.sheets.iter().zip(before))
                .map(|(number, (sheet, before))| line(number, sheet, before))
                .collect(),
            wires: plan.wires.iter().map(WireView::of).collect(),
        }
    }
}

fn line(number: usize, sheet: &RunSheet, before: Option<&RunSheet>) -> Vec<String> {
    let rod = |sheet: &RunSheet| format!("{:.2} mm", sheet.rod.mandrel.diameter().mm());
    let wire = |sheet: &RunSheet| {
        let size = fine(sheet.wire.value.diameter()).first;
        format!("{}, {size}", sheet.metal.name)
    };
    let blade = |sheet: &RunSheet| sheet.blade().name.clone();
    let change = match before {
        None => "set up all three".to_owned(),
        Some(before) => {
            let changes: Vec<&str> = [
                (wire(before) != wire(sheet), "wire"),
                (rod(before) != rod(sheet), "rod"),
                (blade(before) != blade(sheet), "blade"),
            ]
            .into_iter()
            .filter_map(|(differs, what)| differs.then_some(what))
            .collect();
            if changes.is_empty() { "nothing".to_owned() } else { changes.join(", ") }
        }
    };
    vec![
        number.to_string(),
        sheet.line.name.clone(),
        wire(sheet),
        rod(sheet),
        blade(sheet),
        wound(sheet).join(" + "),
        change,
    ]
}

/// Coils by turns: "3 x 47 turns".
pub fn wound(sheet: &RunSheet) -> Vec<String> {
    let group = |group: &linkwright_calc::plan::CoilOnSheet| {
        format!("{} \u{d7} {} turns", group.coils, group.wound.get())
    };
    sheet.coils.groups.iter().map(group).collect()
}

impl WireView {
    fn of(wire: &WireToCut) -> WireView {
        let pieces = wire.pieces.iter().enumerate().map(|(kind, (sheet, pieces))| {
            let size = ruled(pieces.length).both();
            [
                format!("sheet {}", sheet + 1),
                format!("{} of {size}", counted(pieces.count)),
                from(wire, kind),
            ]
        });
        let size = fine(wire.diameter).both();
        WireView {
            kind: format!("{}, {}, {size}", wire.metal, wire.temper),
            pieces: pieces.collect(),
            left: left(wire),
        }
    }
}

fn counted(pieces: u32) -> String {
    if pieces == 1 { "1 piece".to_owned() } else { format!("{pieces} pieces") }
}

/// Where the pieces of one kind come from.
fn from(wire: &WireToCut, kind: usize) -> String {
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
    from.join(", ")
}

fn left(wire: &WireToCut) -> Vec<Figure> {
    let mut figures: Vec<Figure> = wire
        .reels
        .iter()
        .zip(&wire.cuts.left)
        .map(|(reel, left)| Figure::words("Left", format!("{} on {reel}", ruled(*left).both())))
        .collect();
    if wire.to_buy.mm() > 0.0 {
        let (length, mass) = (ruled(wire.to_buy).both(), weighed(wire.to_buy_mass).both());
        figures.push(Figure::words("To buy", format!("{length}, {mass}")));
    }
    figures
}

/// What one sheet takes from which reel, and with a single sheet what is left and bought.
pub fn cuts_of(plan: &Plan, at: usize) -> Vec<Figure> {
    let mut figures = Vec::new();
    for wire in &plan.wires {
        let mut takes = false;
        for (kind, (sheet, pieces)) in wire.pieces.iter().enumerate() {
            if *sheet == at {
                takes = true;
                let size = ruled(pieces.length).first;
                let cut = format!("{} of {size}: {}", counted(pieces.count), from(wire, kind));
                figures.push(Figure::words("Cut", cut));
            }
        }
        if takes && plan.sheets.len() == 1 {
            figures.extend(left(wire));
        }
    }
    figures
}
