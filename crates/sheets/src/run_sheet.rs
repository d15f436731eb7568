//! The run sheets of an order: one page a line, with the order of work before them.

use linkwright_answers::printout::significant;
use linkwright_answers::run_sheet::Money;
use linkwright_answers::run_sheet::figures::{EndView, SideView, ratio};
use linkwright_answers::run_sheet::keys::keys;
use linkwright_answers::run_sheet::rows::{
    BLADE_HEADINGS, Row, blade_cells, sections, wire_to_cut,
};
use linkwright_answers::run_sheet::ticks::SET_UP_TICKS;
use linkwright_calc::cautions;
use linkwright_calc::plan::{Plan, RunSheet};
use serde::Serialize;

use crate::paper::Paper;
use crate::press::{Pdf, SheetError, Template, print};

const TEMPLATE: Template = Template { text: include_str!("../templates/run_sheet.typ") };

/// Cautions of a step that are printed even if fewer are for students; all of those are.
const PRINTED_AT_LEAST: usize = 1;

/// The run sheets of an order.
pub struct RunSheets {
    order: String,
    foot: String,
    data: Data,
}

#[derive(Serialize)]
struct Data {
    order: String,
    /// Workshop and date.
    whose: String,
    /// Present when there is more than one line.
    work: Option<Work>,
    sheets: Vec<OneSheet>,
    wires: Vec<Part>,
}

#[derive(Serialize)]
struct Work {
    words: String,
    headings: [&'static str; 5],
    lines: Vec<[String; 5]>,
}

#[derive(Serialize)]
struct OneSheet {
    name: String,
    number: String,
    keys: Vec<[String; 3]>,
    figures: [Figure; 2],
    coils: Vec<Coil>,
    parts: Vec<Part>,
    blade_headings: [&'static str; 6],
    blades: Vec<Vec<String>>,
    ticks: [&'static str; 8],
    doubts: Vec<String>,
    steps: Vec<Step>,
}

/// A drawing in which a unit is a millimetre of paper.
#[derive(Serialize)]
struct Figure {
    svg: String,
    told: String,
    caption: String,
}

/// A coil as a printed length to lay it on.
#[derive(Serialize)]
struct Coil {
    length_mm: f64,
    words: String,
}

/// Rows under a heading.
#[derive(Serialize)]
struct Part {
    heading: String,
    rows: Vec<[String; 2]>,
}

#[derive(Serialize)]
struct Step {
    heading: &'static str,
    lines: Vec<CautionLine>,
}

#[derive(Serialize)]
struct CautionLine {
    student: bool,
    text: &'static str,
}

impl RunSheets {
    /// All sheets of a plan.
    #[must_use]
    pub fn of(plan: &Plan, date: Option<&str>, money: Money) -> RunSheets {
        let of = plan.sheets.len();
        let sheets = (1..).zip(&plan.sheets).map(|(at, one)| OneSheet::of(one, at, of, money));
        RunSheets::with(plan, date, sheets.collect(), (of > 1).then(|| Work::of(plan)))
    }

    /// The sheet of one line of a plan, counted from nought; nothing if there is no such line.
    #[must_use]
    pub fn of_line(
        plan: &Plan,
        line: usize,
        date: Option<&str>,
        money: Money,
    ) -> Option<RunSheets> {
        let sheet = OneSheet::of(plan.sheets.get(line)?, line + 1, plan.sheets.len(), money);
        Some(RunSheets::with(plan, date, vec![sheet], None))
    }

    fn with(
        plan: &Plan,
        date: Option<&str>,
        sheets: Vec<OneSheet>,
        work: Option<Work>,
    ) -> RunSheets {
        let dated = date.map_or_else(String::new, |date| format!(", {date}"));
        // Wire to cut is shared out over the whole order, so it stands on a single line's sheet
        // only if that is the whole order.
        let whole = sheets.len() == plan.sheets.len();
        let wires = plan.wires.iter().filter(|_| whole).map(wire_to_cut);
        RunSheets {
            order: plan.order.clone(),
            foot: format!("Order {}{dated}", plan.order),
            data: Data {
                order: plan.order.clone(),
                whose: format!("{}{dated}", plan.workshop),
                work,
                sheets,
                wires: wires.map(|(kind, rows)| Part::of(&kind, rows)).collect(),
            },
        }
    }

    /// Adds words to the foot of every page.
    pub fn remark(&mut self, words: &str) {
        self.foot.push_str(", ");
        self.foot.push_str(words);
    }

    /// Prints them.
    ///
    /// # Errors
    /// If the sheet cannot be set.
    pub fn pdf(&self, paper: Paper) -> Result<Pdf, SheetError> {
        let title = format!("Run sheet: order {}", self.order);
        print(TEMPLATE, paper, &title, &self.foot, &self.data)
    }
}

impl Work {
    fn of(plan: &Plan) -> Work {
        let line = |(at, sheet): (u32, &RunSheet)| {
            [
                at.to_string(),
                sheet.line.name.clone(),
                sheet.rod.name.clone(),
                sheet.blade().name.clone(),
                format!("{} {}", sheet.metal.name, sheet.line.wire_typed),
            ]
        };
        Work {
            words: format!(
                "{} rods, blades and wires to put on; {} min in all.",
                plan.changes,
                significant(plan.minutes, 4)
            ),
            headings: ["sheet", "line", "rod", "blade", "wire"],
            lines: (1..).zip(&plan.sheets).map(line).collect(),
        }
    }
}

impl OneSheet {
    fn of(sheet: &RunSheet, number: usize, of: usize, money: Money) -> OneSheet {
        OneSheet {
            name: sheet.line.name.clone(),
            number: format!("run sheet {number} of {of}"),
            keys: keys(sheet)
                .map(|key| [key.label.to_owned(), key.value, key.note])
                .into_iter()
                .collect(),
            figures: figures(sheet),
            coils: coils(sheet),
            parts: sections(sheet, money)
                .into_iter()
                .map(|(heading, rows)| Part::of(heading, rows))
                .collect(),
            blade_headings: BLADE_HEADINGS,
            blades: sheet.blades.iter().map(blade_cells).collect(),
            ticks: SET_UP_TICKS,
            doubts: sheet.doubts.iter().map(ToString::to_string).collect(),
            steps: sheet.steps.iter().map(|step| Step::of(*step)).collect(),
        }
    }
}

fn figures(sheet: &RunSheet) -> [Figure; 2] {
    let (side, end) = (SideView::of(sheet), EndView::of(sheet));
    let (side_scale, end_scale) = (ratio(side.scale()), ratio(end.scale()));
    [
        Figure::of(side.svg(), format!("Side view, scale {side_scale}; dimensions in mm")),
        Figure::of(end.svg(), format!("End view, scale {end_scale}; dimensions in mm")),
    ]
}

impl Figure {
    fn of(svg: String, caption: String) -> Figure {
        let told = between(&svg, "<desc>", "</desc>").unwrap_or(&caption).to_owned();
        // On paper the drawing has our font and its ink is black.
        let svg = svg.replacen("<svg ", "<svg font-family=\"Noto Sans\" color=\"black\" ", 1);
        Figure { svg, told, caption }
    }
}

fn between<'text>(text: &'text str, before: &str, after: &str) -> Option<&'text str> {
    let (_, rest) = text.split_once(before)?;
    Some(rest.split_once(after)?.0)
}

/// Coils of different lengths, each once.
fn coils(sheet: &RunSheet) -> Vec<Coil> {
    let coil = |group: &linkwright_calc::plan::CoilOnSheet| Coil {
        length_mm: group.length.mm(),
        words: format!(
            "{:.1} mm: {} turns of a coil of {} wound",
            group.length.mm(),
            group.relaxed_needed,
            group.wound.get()
        ),
    };
    let mut coils: Vec<Coil> = sheet.coils.groups.iter().map(coil).collect();
    coils.dedup_by(|one, other| one.words == other.words);
    coils
}

impl Part {
    fn of(heading: &str, rows: Vec<Row>) -> Part {
        let rows = rows.into_iter().map(|row| [row.label, row.value]).collect();
        Part { heading: heading.to_owned(), rows }
    }
}

impl Step {
    fn of(step: cautions::Step) -> Step {
        let lines = cautions::for_step(step)
            .iter()
            .enumerate()
            .filter(|(at, line)| line.student || *at < PRINTED_AT_LEAST)
            .map(|(_, line)| CautionLine { student: line.student, text: line.text });
        Step { heading: step.heading(), lines: lines.collect() }
    }
}
