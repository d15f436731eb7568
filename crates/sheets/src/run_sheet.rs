//! The run sheets of an order: one page a line, the order of work before them, the cautions behind.

use linkwright_answers::run_sheet::Money;
use linkwright_answers::run_sheet::view::PlanView;
use linkwright_calc::plan::{Plan, RunSheet};
use serde::Serialize;

use crate::paper::Paper;
use crate::press::{Pdf, SheetError, Template, print};

const TEMPLATE: Template = Template { text: include_str!("../templates/run_sheet.typ") };

/// The run sheets of an order.
pub struct RunSheets {
    remark: String,
    data: Data,
}

#[derive(Serialize)]
struct Data {
    plan: PlanView,
    /// For every sheet its coils of different lengths.
    coils: Vec<Vec<Coil>>,
}

/// How long a coil is, to be printed as a scale to lay it on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilLength {
    /// Outside over outside of the turns that are needed.
    pub length_mm: f64,
    /// Turns it has once sprung open.
    pub relaxed_turns: u32,
    /// Turns wound for it.
    pub wound_turns: u32,
}

#[derive(Serialize, PartialEq)]
struct Coil {
    length_mm: f64,
    words: String,
}

impl RunSheets {
    /// All sheets of a plan.
    #[must_use]
    pub fn of(plan: &Plan, date: Option<&str>, money: Money) -> RunSheets {
        let coils = plan.sheets.iter().map(coils).collect();
        RunSheets::with(PlanView::of(plan, date, money), coils)
    }

    /// The sheet of one line of a plan; nothing if there is no such line.
    #[must_use]
    pub fn of_line(plan: &Plan, line: &str, date: Option<&str>, money: Money) -> Option<RunSheets> {
        let sheet = plan.sheets.iter().find(|sheet| sheet.line.name == line)?;
        Some(RunSheets::with(PlanView::of_line(plan, line, date, money)?, vec![coils(sheet)]))
    }

    /// One sheet as it was shown when it was frozen.
    #[must_use]
    pub fn as_shown(view: PlanView, coils: &[CoilLength]) -> RunSheets {
        RunSheets::with(view, vec![coils_apart(coils)])
    }

    fn with(plan: PlanView, coils: Vec<Vec<Coil>>) -> RunSheets {
        RunSheets { remark: String::new(), data: Data { plan, coils } }
    }

    /// Adds words to the foot of every page.
    #[must_use]
    pub fn remarked(self, words: &str) -> RunSheets {
        RunSheets { remark: format!(", {words}"), ..self }
    }

    /// Prints them.
    ///
    /// # Errors
    /// If the sheet cannot be set.
    pub fn pdf(&self, paper: Paper) -> Result<Pdf, SheetError> {
        let plan = &self.data.plan;
        let title = format!("Run sheet: order {}", plan.order);
        let dated = plan.date.as_ref().map_or_else(String::new, |date| format!(", {date}"));
        let foot = format!("Order {}{dated}; {}{}", plan.order, plan.workshop, self.remark);
        print(TEMPLATE, paper, &title, &foot, &self.data)
    }
}

fn coils(sheet: &RunSheet) -> Vec<Coil> {
    let lengths: Vec<CoilLength> = sheet
        .coils
        .groups
        .iter()
        .map(|group| CoilLength {
            length_mm: group.length.mm(),
            relaxed_turns: group.relaxed_needed,
            wound_turns: group.wound.get(),
        })
        .collect();
    coils_apart(&lengths)
}

/// Coils of different lengths, each once.
fn coils_apart(lengths: &[CoilLength]) -> Vec<Coil> {
    let mut coils: Vec<Coil> = lengths
        .iter()
        .map(|coil| Coil {
            length_mm: coil.length_mm,
            words: format!(
                "{:.1} mm: {} turns of a coil of {} wound",
                coil.length_mm, coil.relaxed_turns, coil.wound_turns
            ),
        })
        .collect();
    coils.dedup();
    coils
}
