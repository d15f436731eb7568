//! A planned order as one self-contained page: for a phone, a desk, and one sheet of paper a line.

use askama::Template;
use linkwright_calc::basis::Basis;
use linkwright_calc::cautions;
use linkwright_calc::plan::{Plan, RunSheet};

use super::Money;
use super::figures::{EndView, SideView, ratio};
use super::keys::{Key, keys};
use super::rows::{BLADE_HEADINGS, Row, blade_cells, sections, wire_to_cut};
use super::ticks::SET_UP_TICKS;
use crate::printout::significant;

/// The page of a plan.
pub fn plan(plan: &Plan, date: Option<&str>, money: Money) -> String {
    let page = Page::of(plan, date, money);
    // The template is checked when the program is built; writing to a string cannot fail.
    page.render().unwrap_or_else(|error| format!("<!doctype html><title>{error}</title>"))
}

/// What the page shows, as words.
#[derive(Template)]
#[template(path = "run_sheet.html")]
struct Page {
    order: String,
    date: Option<String>,
    workshop: String,
    /// Present when there is more than one line.
    work: Option<OrderOfWork>,
    sheets: Vec<SheetView>,
    wires: Vec<(String, Vec<RowView>)>,
}

struct OrderOfWork {
    changes: u32,
    minutes: String,
    lines: Vec<[String; 4]>,
}

struct SheetView {
    id: usize,
    name: String,
    number: String,
    keys: [Key; 4],
    sections: Vec<(&'static str, Vec<RowView>)>,
    side_view: String,
    side_scale: String,
    end_view: String,
    end_scale: String,
    blade_headings: [&'static str; 6],
    blades: Vec<Vec<String>>,
    ticks: [&'static str; 8],
    doubts: Vec<String>,
    steps: Vec<(&'static str, Vec<CautionView>)>,
}

struct RowView {
    label: String,
    value: String,
    sum: Option<SumView>,
}

/// The sum behind a number.
struct SumView {
    formula: String,
    source: String,
    inputs: Vec<String>,
}

struct CautionView {
    text: &'static str,
    student: bool,
    /// On the screen, but left off the one printed page.
    more: bool,
}

/// Cautions of a step that are printed even if fewer are for students; all of those are.
const PRINTED_AT_LEAST: usize = 1;

impl Page {
    fn of(plan: &Plan, date: Option<&str>, money: Money) -> Page {
        let of = plan.sheets.len();
        Page {
            order: plan.order.clone(),
            date: date.map(str::to_owned),
            workshop: plan.workshop.clone(),
            work: (of > 1).then(|| OrderOfWork::of(plan)),
            sheets: (1..)
                .zip(&plan.sheets)
                .map(|(at, one)| SheetView::of(one, at, of, money))
                .collect(),
            wires: plan
                .wires
                .iter()
                .map(wire_to_cut)
                .map(|(kind, rows)| (kind, rows.into_iter().map(RowView::of).collect()))
                .collect(),
        }
    }
}

impl OrderOfWork {
    fn of(plan: &Plan) -> OrderOfWork {
        let line = |sheet: &RunSheet| {
            [
                sheet.line.name.clone(),
                sheet.rod.name.clone(),
                sheet.blade().name.clone(),
                format!("{} {}", sheet.metal.name, sheet.line.wire_typed),
            ]
        };
        OrderOfWork {
            changes: plan.changes,
            minutes: significant(plan.minutes, 4),
            lines: plan.sheets.iter().map(line).collect(),
        }
    }
}

impl SheetView {
    fn of(sheet: &RunSheet, number: usize, of: usize, money: Money) -> SheetView {
        let (side_view, end_view) = (SideView::of(sheet), EndView::of(sheet));
        SheetView {
            id: number,
            name: sheet.line.name.clone(),
            number: format!("{number} of {of}"),
            keys: keys(sheet),
            sections: sections(sheet, money)
                .into_iter()
                .map(|(heading, rows)| (heading, rows.into_iter().map(RowView::of).collect()))
                .collect(),
            side_view: side_view.svg(),
            side_scale: ratio(side_view.scale()),
            end_view: end_view.svg(),
            end_scale: ratio(end_view.scale()),
            blade_headings: BLADE_HEADINGS,
            blades: sheet.blades.iter().map(blade_cells).collect(),
            ticks: SET_UP_TICKS,
            doubts: sheet.doubts.iter().map(ToString::to_string).collect(),
            steps: sheet
                .steps
                .iter()
                .map(|step| {
                    let lines = cautions::for_step(*step).iter().enumerate();
                    let views = lines.map(|(at, line)| CautionView {
                        text: line.text,
                        student: line.student,
                        more: !line.student && at >= PRINTED_AT_LEAST,
                    });
                    (step.heading(), views.collect())
                })
                .collect(),
        }
    }
}

impl RowView {
    fn of(row: Row) -> RowView {
        RowView { label: row.label, value: row.value, sum: row.basis.as_ref().map(SumView::of) }
    }
}

impl SumView {
    fn of(basis: &Basis) -> SumView {
        match basis {
            Basis::WorkedOut(sum) => SumView {
                formula: sum.formula.to_owned(),
                source: sum.source.to_owned(),
                inputs: sum
                    .inputs
                    .iter()
                    .map(|input| {
                        let value = significant(input.value, 5);
                        format!("{} {value} {}, {}", input.name, input.unit, input.basis)
                    })
                    .collect(),
            },
            other => SumView {
                formula: other.to_string(),
                source: "this workshop".to_owned(),
                inputs: Vec::new(),
            },
        }
    }
}
