//! The answers of `chain` on paper and screen.

use std::io::{self, Write};
use std::path::Path;

use linkwright_answers::chain::{
    ChainAnswer, InFull, PatternListed, TableRow, cautions, picture, rows,
};
use linkwright_answers::refusal::Refusal;
use linkwright_calc::basis::Basis;
use linkwright_linkage::pattern::{Kind, Pattern};
use linkwright_linkage::solve::Patient;
use linkwright_linkage::table::PROVENANCE;
use serde_json::Value;

use crate::commands::Output;
use crate::failure::Failure;
use crate::printout::{Printout, Table, significant};

/// One JSON object, or the text.
pub fn either(
    output: Output,
    json: &Value,
    text: impl FnOnce() -> Printout,
) -> Result<(), Failure> {
    match output {
        Output::Json => Ok(writeln!(io::stdout(), "{json}")?),
        Output::Text => text().print(output),
    }
}

/// The answer in rows.
pub fn answer(answered: &ChainAnswer, in_full: Option<&InFull>) -> Printout {
    let mut printout = Printout::new("chain", "Chain of rigid closed rings, pulled taut");
    for (label, value) in rows(answered) {
        printout.text_only(&label, value);
    }
    for (label, value) in in_full.map(InFull::rows).unwrap_or_default() {
        printout.text_only(&label, value);
    }
    printout.basis("length", answered.linked.basis());
    if let Some(metal) = &answered.metal {
        printout.text_only("metal", metal.name.as_str());
        printout.basis("density", metal.basis.clone());
    }
    for caution in cautions(answered) {
        printout.caution(caution);
    }
    for caution in in_full.map(InFull::cautions).unwrap_or_default() {
        printout.caution(caution);
    }
    printout
}

/// Every pattern there is.
pub fn list(patterns: &[PatternListed]) -> Printout {
    let mut printout = Printout::new("chain", format!("{} patterns", patterns.len()));
    let row = |pattern: &PatternListed| {
        let least = pattern.aspect_ratio_min;
        vec![
            pattern.name.clone(),
            pattern.rings_per_cell.to_string(),
            pattern.sizes.to_string(),
            least.map_or_else(|| "not known".to_owned(), |least| format!("{least:.2}")),
            pattern.title.clone(),
        ]
    };
    printout.table(Table {
        title: "Name, rings of one repeat, ring sizes, smallest aspect ratio (inside diameter of \
                the closed ring over wire)"
            .to_owned(),
        headings: ["name", "rings", "sizes", "AR min", "what it is"].map(str::to_owned).to_vec(),
        rows: patterns.iter().map(row).collect(),
    });
    printout.note(format!("the smallest aspect ratios are {PROVENANCE}"));
    printout
}

/// The table of one pattern.
pub fn table(pattern: &Pattern, rows: &[TableRow]) -> Printout {
    let title = format!("{}, {}", pattern.name(), pattern.spec().title);
    let mut printout = Printout::new("chain", title);
    let sheet = pattern.kind() == Kind::Sheet;
    let shown = |length: Option<f64>| length.map_or_else(String::new, |it| format!("{it:.3}"));
    let cells = |row: &TableRow| {
        let (third, fourth) = if sheet {
            (shown(row.across), format!("{:.2}", row.thickness))
        } else {
            (
                row.rings_per_cm_times_wire_mm.map_or_else(String::new, |it| significant(it, 4)),
                row.width.map_or_else(String::new, |width| format!("{width:.2}")),
            )
        };
        let mut cells = vec![format!("{:.3}", row.aspect_ratio), format!("{:.3}", row.advance)];
        cells.extend([third, fourth]);
        if !sheet {
            cells.push(format!("{:.2}", row.thickness));
        }
        cells.push(format!("{} of {}", row.agree, row.searches));
        cells
    };
    let headings: &[&str] = if sheet {
        &["AR", "advance", "across", "thickness", "agree"]
    } else {
        &["AR", "advance", "rings/cm", "width", "thickness", "agree"]
    };
    let count = pattern.spec().rings.len();
    printout.table(Table {
        title: format!(
            "Against aspect ratio, in wire diameters: advance of one repeat of {count} ring{}",
            if count == 1 { "" } else { "s" }
        ),
        headings: headings.iter().map(|&heading| heading.to_owned()).collect(),
        rows: rows.iter().map(cells).collect(),
    });
    printout.note("agree: how many searches from different poses met the best length");
    if !sheet {
        printout.note("rings/cm is for wire of 1 mm; divide it by the wire in mm");
    }
    if let Some(row) = rows.first() {
        let percent = significant(100.0 * row.within, 2);
        printout.note(format!("lengths told between these rows hold to {percent} %"));
    }
    printout.basis(
        "table",
        Basis::worked_out("greatest advance of touching rigid rings", PROVENANCE, vec![]),
    );
    printout
}

/// Writes the picture; there is none of rings that do not go together.
pub fn write_picture(answered: &ChainAnswer, path: &Path) -> Result<(), Failure> {
    let drawn = picture(answered, &mut Patient).ok().flatten();
    let svg = drawn.ok_or_else(|| {
        let said = "these rings do not go together, so that there is nothing to draw";
        Refusal::bench("--svg", path.display().to_string(), said)
    })?;
    std::fs::write(path, svg).map_err(Failure::at(path))
}
