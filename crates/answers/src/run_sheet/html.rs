//! A planned order as one self-contained page: for a phone, a desk, and one sheet of paper a line.

use askama::Template;
use linkwright_calc::plan::Plan;

use super::Money;
use super::view::PlanView;

/// The page of a plan.
pub fn plan(plan: &Plan, date: Option<&str>, money: Money) -> String {
    let page = Page { plan: PlanView::of(plan, date, money) };
    // The template is checked when the program is built; writing to a string cannot fail.
    page.render().unwrap_or_else(|error| format!("<!doctype html><title>{error}</title>"))
}

/// How a sheet looks on the screen and on paper; whoever shows one gives the colours.
pub const STYLE: &str = include_str!("../../templates/run_sheet.css");

/// A plan as a part of another page, which links [`STYLE`].
///
/// # Errors
/// Those of writing, which a string does not have.
pub fn part(plan: PlanView) -> Result<String, askama::Error> {
    Part { plan: plan.framed() }.render()
}

/// A part of another page.
#[derive(Template)]
#[template(path = "run_sheet_body.html")]
struct Part {
    plan: PlanView,
}

/// The page; the template reads the view and nothing else.
#[derive(Template)]
#[template(path = "run_sheet.html")]
struct Page {
    plan: PlanView,
}
