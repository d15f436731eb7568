//! One figure of a sheet as it is read: the number, and the sum behind it.

use linkwright_calc::basis::{Basis, Input};
use serde::{Deserialize, Serialize};

use super::numbers::Shown;
use crate::printout::significant;

/// One figure of a sheet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Figure {
    /// What it is.
    pub label: String,
    /// The number with its unit, or words.
    pub value: String,
    /// The number in the other system.
    pub other: Option<String>,
    /// What it rests on; nothing where it is words.
    pub basis: Option<BasisView>,
    /// Whether it is a phrase and not a number.
    pub in_words: bool,
    /// Whether the paper has no room for it.
    pub screen_only: bool,
    /// Whether it tells what something costs.
    pub money: bool,
}

/// What a number rests on, in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct BasisView {
    /// Beside the number: "tried 3 times", "worked out", "assumed".
    pub word: String,
    /// The formula in words, or where the number was taken from.
    pub formula: String,
    /// What went in, each with its own basis.
    pub inputs: Vec<String>,
    /// Where the formula comes from; nothing where the number is this bench's own.
    pub source: Option<String>,
}

impl Figure {
    /// Something said in words.
    pub fn words(label: &str, words: impl Into<String>) -> Figure {
        let (label, value) = (label.to_owned(), words.into());
        Figure {
            label,
            value,
            other: None,
            basis: None,
            in_words: true,
            screen_only: false,
            money: false,
        }
    }

    /// A number with its unit, where no other system has another.
    pub fn number(label: &str, number: impl Into<String>) -> Figure {
        Figure { in_words: false, ..Figure::words(label, number) }
    }

    /// A number in both systems.
    pub fn of(label: &str, shown: Shown) -> Figure {
        Figure { other: Some(shown.other), ..Figure::number(label, shown.first) }
    }

    /// The number rests on this.
    pub fn resting_on(self, basis: &Basis) -> Figure {
        Figure { basis: Some(BasisView::of(basis)), ..self }
    }

    /// It tells what something costs.
    pub fn of_money(self) -> Figure {
        Figure { money: true, ..self }
    }

    /// Left off the paper.
    pub fn on_screen_only(self) -> Figure {
        Figure { screen_only: true, ..self }
    }
}

impl Default for BasisView {
    /// Worked out, the sum not kept: what sheets of earlier versions know.
    fn default() -> BasisView {
        BasisView {
            word: Basis::worked_out("", "", Vec::new()).word().to_owned(),
            formula: String::new(),
            inputs: Vec::new(),
            source: None,
        }
    }
}

impl BasisView {
    /// A basis in words.
    pub fn of(basis: &Basis) -> BasisView {
        match basis {
            Basis::WorkedOut(sum) => BasisView {
                word: basis.word().to_owned(),
                formula: sum.formula.to_owned(),
                inputs: sum.inputs.iter().map(input).collect(),
                source: Some(sum.source.to_owned()),
            },
            Basis::Tried { trials, .. } => BasisView {
                word: Basis::tried(*trials).to_string(),
                formula: format!("measured at this bench: {basis}"),
                inputs: Vec::new(),
                source: None,
            },
            Basis::Assumed { from } => BasisView {
                word: basis.word().to_owned(),
                formula: format!("not measured here; taken from: {from}"),
                inputs: Vec::new(),
                source: None,
            },
            other => BasisView {
                word: other.word().to_owned(),
                formula: other.to_string(),
                inputs: Vec::new(),
                source: None,
            },
        }
    }
}

/// An input with its own basis; that of a sum within a sum is one word.
fn input(input: &Input) -> String {
    let value = significant(input.value, 5);
    let unit = if input.unit == "-" { String::new() } else { format!(" {}", input.unit) };
    let rests_on = match &input.basis {
        sum @ Basis::WorkedOut(_) => sum.word().to_owned(),
        other => other.to_string(),
    };
    format!("{} {value}{unit} ({rests_on})", input.name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sum_shows_its_inputs_with_their_own_basis() {
        let inputs = vec![
            Input::new("wire", 1.02, "mm", Basis::tried(3)),
            Input::new("ratio", 4.0, "-", Basis::assumed("a habit")),
        ];
        let shown = BasisView::of(&Basis::worked_out("ratio x wire", "definition", inputs));
        assert_eq!(shown.word, "worked out");
        let expected = ["wire 1.0200 mm (tried 3 times)", "ratio 4.0000 (assumed: a habit)"];
        assert_eq!(shown.inputs, expected);
        assert_eq!(shown.source.as_deref(), Some("definition"));
    }

    #[test]
    fn the_date_of_a_trial_stands_in_the_sum_and_not_beside_the_number() {
        let basis = Basis::Tried { trials: 2, last: Some("2026-10-28".to_owned()) };
        let shown = BasisView::of(&basis);
        assert_eq!(shown.word, "tried 2 times");
        assert!(shown.formula.ends_with("tried 2 times, last 2026-10-28"), "{}", shown.formula);
    }
}
