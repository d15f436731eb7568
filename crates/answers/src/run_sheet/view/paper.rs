//! How tightly the front of a sheet must be set so that it stays one page of A4 or Letter.
//!
//! A page without a script cannot measure itself, so lines are counted here, for the widest of the
//! usual faces. `cargo xtask pages` prints the examples and counts the pages.

use super::StepView;
use super::figure::Figure;

/// Letters of ten points to a line of a column, and of nine points for cautions.
const LETTERS: [usize; 2] = [50, 56];
/// Letters to the line of the title.
const TITLE_LINE: usize = 120;
/// Letters of the title beside the names of line and order.
const TITLE_LETTERS: usize = 37;
/// A line of cautions in lines of figures.
const CAUTION_LINE: f64 = 0.87;
/// A heading with its rule.
const HEADING: f64 = 1.45;
/// Lines of the ticks before power, two of which run over.
const TICKS: f64 = 10.0;
/// Lines of both columns that Letter, the shorter paper, has room for.
const ROOM: f64 = 82.0;

/// Names in the title of a sheet.
pub struct Title<'a> {
    pub line: &'a str,
    pub order: &'a str,
}

impl Title<'_> {
    /// In ordinary letters; those of the line's name are half as wide again.
    fn letters(&self) -> usize {
        self.line.len() * 3 / 2 + self.order.len() + TITLE_LETTERS
    }
}

/// The class of the sheet: `full`, `short` without the second cautions of the steps, which stand
/// on the back, or `small` in smaller letters as well.
pub fn setting(title: Title<'_>, steps: &[StepView], doubts: &[String]) -> &'static str {
    // A line across the page takes the place of two in the columns.
    let doubts: f64 = doubts.iter().map(|doubt| 2.0 * lines(doubt.len(), 2 * LETTERS[0])).sum();
    let across = doubts + 3.0 * (lines(title.letters(), TITLE_LINE) - 1.0);
    let all = |second: bool| -> f64 { steps.iter().map(|step| taken(step, second)).sum() };
    if all(true) + across <= ROOM {
        "full"
    } else if all(false) + across <= ROOM {
        "short"
    } else {
        "small"
    }
}

fn taken(step: &StepView, second_cautions: bool) -> f64 {
    let figures: f64 = step.figures.iter().filter(|figure| !figure.screen_only).map(figure).sum();
    if !step.ticks.is_empty() {
        return HEADING + figures + TICKS;
    }
    let cautions: f64 = step
        .cautions
        .iter()
        .filter(|caution| caution.student && (caution.first || second_cautions))
        .map(|caution| CAUTION_LINE * lines(caution.text.len(), LETTERS[1]))
        .sum();
    HEADING + figures + cautions
}

fn figure(figure: &Figure) -> f64 {
    if figure.in_words {
        lines(figure.label.len() + figure.value.len() + 2, LETTERS[0])
    } else {
        let other = figure.other.as_ref().map_or(0, String::len);
        lines(figure.value.len() + other, LETTERS[0] / 2)
    }
}

#[expect(clippy::cast_precision_loss, reason = "texts of a few hundred letters")]
fn lines(letters: usize, to_a_line: usize) -> f64 {
    letters.div_ceil(to_a_line) as f64
}
