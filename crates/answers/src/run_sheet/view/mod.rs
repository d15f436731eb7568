//! A plan as plain strings, exactly as they are shown.

mod numbers;

mod figure;

mod sums;

mod bench;

pub mod at_bench;

mod accounts;

mod work;

mod paper;

use linkwright_calc::cautions::{Step, for_step};
use linkwright_calc::plan::{Plan, RunSheet};
use serde::{Deserialize, Serialize};

pub use figure::{BasisView, Figure};
pub use work::WorkView;

use self::bench::BenchStep;
use self::numbers::setting;
use self::paper::Title;
use super::Money;
use super::figures::{EndView, SideView, ratio};
use super::rows::blade_cells;
use super::ticks::SET_UP_TICKS;

/// Cautions shown beside a step; all of them stand on the list of cautions.
const BESIDE_A_STEP: usize = 2;

/// Heading of the accounts where money is left out.
const METAL_AND_TIME: &str = "Metal and time";

/// Headings of the table of blades; the units of the counts stand here.
const BLADE_HEADINGS: [&str; 6] =
    ["Blade", "Projection", "Turns uncut", "Teeth in wire", "Coils", "In or out, and why"];

/// A plan as it is shown.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PlanView {
    /// Name of the order.
    pub order: String,
    /// Name of the workshop.
    pub workshop: String,
    /// Its date, if it has one.
    pub date: Option<String>,
    /// Present when there is more than one line.
    pub work: Option<WorkView>,
    /// One a line, in the order of work.
    pub sheets: Vec<SheetView>,
    /// Every caution of every step the order takes.
    pub cautions: Vec<StepCautions>,
    /// Whether it stands inside another page, which names the order itself.
    pub framed: bool,
}

/// One sheet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SheetView {
    /// Its place in the order of work, from 1.
    pub number: usize,
    /// How many there are.
    pub of: usize,
    /// Name of the line.
    pub name: String,
    /// The numbers read at arm's length.
    pub keys: Vec<Key>,
    /// Seen from the side.
    pub side: Drawing,
    /// Seen along the coil.
    pub end: Drawing,
    /// Steps in the order of the bench.
    pub steps: Vec<StepView>,
    /// Metal, time and cost.
    pub accounts: Vec<Figure>,
    /// What stands above those.
    pub accounts_heading: String,
    /// What the columns of the blades are called.
    pub blade_headings: Vec<String>,
    /// One row a blade, best first.
    pub blades: Vec<Vec<String>>,
    /// Doubts about this very plan.
    pub doubts: Vec<String>,
    /// How tightly the front is set on paper.
    pub setting: String,
    /// What the owner noted, such as why a refused blade is used.
    pub notes: Vec<Note>,
}

/// Something the owner noted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Note {
    /// What it is called.
    pub heading: String,
    /// What is said.
    pub text: String,
}

/// One of the numbers read at arm's length.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Key {
    /// What it is.
    pub label: String,
    /// The number with its unit.
    pub value: String,
    /// What belongs to it.
    pub note: String,
}

/// A drawing and its scale.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Drawing {
    /// The drawing.
    pub svg: String,
    /// Its scale on paper.
    pub scale: String,
}

/// A step at the bench.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct StepView {
    /// What it is called.
    pub heading: String,
    /// Its figures.
    pub figures: Vec<Figure>,
    /// What to tick.
    pub ticks: Vec<String>,
    /// Its cautions.
    pub cautions: Vec<CautionView>,
}

/// The cautions of one step.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct StepCautions {
    /// What it is called.
    pub heading: String,
    /// Its lines.
    pub lines: Vec<CautionView>,
}

/// A caution, and whether every student's sheet carries it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct CautionView {
    /// What is said.
    pub text: String,
    /// Whether it stands on every student's sheet.
    pub student: bool,
    /// Whether it is the first of its step.
    pub first: bool,
}

impl PlanView {
    /// The plan in words.
    pub fn of(plan: &Plan, date: Option<&str>, money: Money) -> PlanView {
        let sheets = plan.sheets.iter().enumerate();
        PlanView {
            order: plan.order.clone(),
            workshop: plan.workshop.clone(),
            date: date.map(str::to_owned),
            work: (plan.sheets.len() > 1).then(|| WorkView::of(plan)),
            sheets: sheets.map(|(at, sheet)| SheetView::of(plan, at, sheet, money)).collect(),
            cautions: all_cautions(&plan.sheets),
            framed: false,
        }
    }

    /// One sheet of the plan by the name of its line, without the order of work; nothing if there
    /// is no such line.
    pub fn of_line(plan: &Plan, line: &str, date: Option<&str>, money: Money) -> Option<PlanView> {
        let at = plan.sheets.iter().position(|sheet| sheet.line.name == line)?;
        let sheet = &plan.sheets[at];
        Some(PlanView {
            order: plan.order.clone(),
            workshop: plan.workshop.clone(),
            date: date.map(str::to_owned),
            work: None,
            sheets: vec![SheetView::of(plan, at, sheet, money)],
            cautions: all_cautions(std::slice::from_ref(sheet)),
            framed: false,
        })
    }

    /// The same to stand inside another page.
    #[must_use]
    pub fn framed(self) -> PlanView {
        PlanView { framed: true, ..self }
    }

    /// The same without anything that tells what it costs.
    #[must_use]
    pub fn without_money(mut self) -> PlanView {
        for sheet in &mut self.sheets {
            sheet.accounts.retain(|figure| !figure.money);
            sheet.accounts_heading = METAL_AND_TIME.to_owned();
        }
        self
    }
}

/// Every caution of every step the sheets take.
fn all_cautions(sheets: &[RunSheet]) -> Vec<StepCautions> {
    Step::ALL
        .into_iter()
        .filter(|step| sheets.iter().any(|sheet| sheet.steps.contains(step)))
        .map(|step| StepCautions {
            heading: step.heading().to_owned(),
            lines: cautions(step, usize::MAX),
        })
        .collect()
}

fn cautions(step: Step, most: usize) -> Vec<CautionView> {
    for_step(step)
        .iter()
        .take(most)
        .enumerate()
        .map(|(at, line)| CautionView {
            text: line.text.to_owned(),
            student: line.student,
            first: at == 0,
        })
        .collect()
}

impl SheetView {
    fn of(plan: &Plan, at: usize, sheet: &RunSheet, money: Money) -> SheetView {
        let (side, end) = (SideView::of(sheet), EndView::of(sheet));
        let steps: Vec<StepView> = bench::steps(sheet, work::cuts_of(plan, at))
            .into_iter()
            .map(|step| StepView::of(step, sheet))
            .collect();
        let doubts: Vec<String> = sheet.doubts.iter().map(ToString::to_string).collect();
        SheetView {
            number: at + 1,
            of: plan.sheets.len(),
            name: sheet.line.name.clone(),
            keys: keys(sheet),
            side: Drawing { svg: side.svg(), scale: ratio(side.scale()) },
            end: Drawing { svg: end.svg(), scale: ratio(end.scale()) },
            setting: paper::setting(
                Title { line: &sheet.line.name, order: &plan.order },
                &steps,
                &doubts,
            )
            .to_owned(),
            steps,
            accounts: accounts::metal_time_and_cost(sheet, money),
            accounts_heading: match money {
                Money::Shown => "Metal, time and cost".to_owned(),
                Money::LeftOut => METAL_AND_TIME.to_owned(),
            },
            blade_headings: BLADE_HEADINGS.map(str::to_owned).to_vec(),
            blades: sheet.blades.iter().map(blade_cells).collect(),
            doubts,
            notes: Vec::new(),
        }
    }
}

impl StepView {
    fn of(step: BenchStep, sheet: &RunSheet) -> StepView {
        let beside = step.cautions_of.iter().filter(|of| sheet.steps.contains(of));
        StepView {
            heading: step.heading.to_owned(),
            figures: step.figures,
            ticks: if step.ticked { SET_UP_TICKS.map(str::to_owned).to_vec() } else { Vec::new() },
            cautions: beside.flat_map(|of| cautions(*of, BESIDE_A_STEP)).collect(),
        }
    }
}

/// What the coils give; the last one's turns where it is shorter.
fn rings_from_each(sheet: &RunSheet) -> String {
    match sheet.coils.groups.as_slice() {
        [full, last] => format!(
            "last {} turns; {} and {} rings",
            last.wound.get(),
            full.slit.get(),
            last.slit.get()
        ),
        groups => format!("{} rings from each", groups[0].slit.get()),
    }
}

/// The four numbers that are looked up most, large.
fn keys(sheet: &RunSheet) -> Vec<Key> {
    let rod = setting(sheet.rod.mandrel.diameter());
    let blade = sheet.blade();
    let projection = setting(blade.projection.value);
    let to_make = &sheet.to_make;
    vec![
        Key {
            label: "Rod".to_owned(),
            value: rod.first,
            note: format!("{}, wire {}", rod.other, sheet.rod.state.word()),
        },
        Key {
            label: "Wind: coils \u{d7} turns".to_owned(),
            value: work::wound(sheet).swap_remove(0),
            note: rings_from_each(sheet),
        },
        Key {
            label: "Blade, projection".to_owned(),
            value: projection.first,
            note: format!("{}, blade: {}", projection.other, blade.name),
        },
        Key {
            label: "Good rings".to_owned(),
            value: format!("{} rings", to_make.good.get()),
            note: format!("{} asked + {} spare", to_make.asked.get(), to_make.spare),
        },
    ]
}
