//! A planned order as text of 80 columns, in the order of the bench.

use linkwright_calc::cautions;
use linkwright_calc::plan::{Plan, RunSheet};

use super::Money;
use super::rows::{BLADE_HEADINGS, Row, blade_cells, sections, wire_to_cut};
use super::ticks::SET_UP_TICKS;
use crate::printout::layout::{rows, table, wrapped};
use crate::printout::{Table, significant};

/// The whole plan.
pub fn plan(plan: &Plan, date: Option<&str>, money: Money) -> String {
    let dated = date.map_or_else(String::new, |date| format!(", {date}"));
    let mut text = wrapped(&format!("ORDER {}{dated} - {}", plan.order, plan.workshop), "");
    if plan.sheets.len() > 1 {
        text.push_str(&order_of_work(plan));
    }
    for (number, sheet) in (1..).zip(&plan.sheets) {
        text.push('\n');
        text.push_str(&one_sheet(sheet, number, plan.sheets.len(), money));
    }
    text.push('\n');
    text.push_str(&heading("WIRE TO CUT"));
    for wire in &plan.wires {
        let (kind, figures) = wire_to_cut(wire);
        text.push_str(&wrapped(&kind, ""));
        text.push_str(&lines(&figures));
    }
    text
}

fn order_of_work(plan: &Plan) -> String {
    let cells = |(number, sheet): (u32, &RunSheet)| {
        vec![
            number.to_string(),
            sheet.line.name.clone(),
            sheet.rod.name.clone(),
            sheet.blade().name.clone(),
            format!("{} {}", sheet.metal.name, sheet.line.wire_typed),
        ]
    };
    let work = Table {
        title: format!(
            "Order of work: {} rods, blades and wires to put on, {} min in all",
            plan.changes,
            significant(plan.minutes, 4)
        ),
        headings: ["", "line", "rod", "blade", "wire"].map(str::to_owned).to_vec(),
        rows: (1..).zip(&plan.sheets).map(cells).collect(),
    };
    format!("\n{}", table(&work))
}

fn lines(figures: &[Row]) -> String {
    let pairs: Vec<(String, String)> =
        figures.iter().map(|row| (row.label.clone(), row.value.clone())).collect();
    rows(&pairs)
}

fn heading(words: &str) -> String {
    format!("{words}\n")
}

fn one_sheet(sheet: &RunSheet, number: usize, of: usize, money: Money) -> String {
    let mut text = heading(&format!("RUN SHEET {number} of {of}: {}", sheet.line.name));
    for (words, figures) in sections(sheet, money) {
        text.push_str(&heading(words));
        text.push_str(&lines(&figures));
    }
    text.push_str(&blades(sheet));
    text.push_str(&heading("BEFORE POWER"));
    for tick in SET_UP_TICKS {
        text.push_str(&wrapped(&format!("  [ ] {tick}"), "      "));
    }
    if !sheet.doubts.is_empty() {
        text.push_str(&heading("DOUBTS"));
        for doubt in &sheet.doubts {
            text.push_str(&wrapped(&format!("  ! {doubt}"), "    "));
        }
    }
    text.push_str(&heading("CAUTIONS (S: on every student's sheet too; local rules come first)"));
    for step in &sheet.steps {
        text.push_str(&wrapped(&format!("  {}", step.heading()), "  "));
        for line in cautions::for_step(*step) {
            let student = if line.student { "S" } else { "-" };
            text.push_str(&wrapped(&format!("  {student} {line}"), "    "));
        }
    }
    text
}

fn blades(sheet: &RunSheet) -> String {
    table(&Table {
        title: "BLADES, best first".to_owned(),
        headings: BLADE_HEADINGS.map(str::to_owned).to_vec(),
        rows: sheet.blades.iter().map(blade_cells).collect(),
    })
}
