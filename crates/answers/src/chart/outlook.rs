//! What to expect of a place of the chart, in words that stand beside every sign.

use linkwright_trials::Belief;
use serde::{Deserialize, Serialize};

/// Coils of a cell below which it is marked as hardly tried.
const FEW_COILS: usize = 3;

/// What to expect of a cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Outlook {
    /// At least nine of ten good, with a chance of nine in ten.
    Good,
    /// Neither the one nor the other.
    Doubtful,
    /// Fewer than nine of ten good, with a chance of nine in ten.
    Poor,
}

impl Outlook {
    /// What a belief comes to.
    ///
    /// ```
    /// use linkwright_answers::chart::Outlook;
    /// assert_eq!(Outlook::of_chance(0.9).words(), "good cut likely");
    /// ```
    pub fn of(belief: &Belief) -> Outlook {
        Outlook::of_chance(belief.chance_of_90)
    }

    /// What a chance of nine good rings in ten comes to.
    pub fn of_chance(chance_of_90: f64) -> Outlook {
        if chance_of_90 >= 0.9 {
            Outlook::Good
        } else if chance_of_90 <= 0.1 {
            Outlook::Poor
        } else {
            Outlook::Doubtful
        }
    }

    /// In words, since neither shape nor colour may say it alone.
    pub const fn words(self) -> &'static str {
        match self {
            Outlook::Good => "good cut likely",
            Outlook::Doubtful => "doubtful",
            Outlook::Poor => "losses likely",
        }
    }

    /// Whether a good cut is likely.
    pub const fn is_good(self) -> bool {
        matches!(self, Outlook::Good)
    }

    /// Whether losses are likely.
    pub const fn is_poor(self) -> bool {
        matches!(self, Outlook::Poor)
    }
}

/// How often a cell was tried, and that it hardly was.
pub fn tried_words(coils: usize) -> String {
    match coils {
        0 => "not tried here".to_owned(),
        1 => "1 coil tried".to_owned(),
        coils if coils < FEW_COILS => format!("{coils} coils tried, few"),
        coils => format!("{coils} coils tried"),
    }
}

#[cfg(test)]
mod tests {
    use super::Outlook;

    #[test]
    fn the_outlook_turns_at_nine_in_ten() {
        assert_eq!(
            [0.9, 0.89, 0.11, 0.1].map(|chance| Outlook::of_chance(chance).words()),
            ["good cut likely", "doubtful", "doubtful", "losses likely"]
        );
    }
}
