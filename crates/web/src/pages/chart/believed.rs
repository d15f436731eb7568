//! What is believed of one blade in one cell, as a page says it.

use std::cmp::Ordering;

pub(super) use linkwright_answers::chart::Outlook;
use linkwright_answers::chart::tried_words;
use linkwright_trials::Belief;

/// One blade in one cell.
#[derive(Clone, Debug)]
pub(super) struct Believed {
    pub(super) called: String,
    belief: Belief,
}

impl Believed {
    pub(super) fn of(called: &str, belief: &Belief) -> Believed {
        Believed { called: called.to_owned(), belief: *belief }
    }

    pub(super) fn outlook(&self) -> Outlook {
        Outlook::of(&self.belief)
    }

    /// Coils of this very cell.
    pub(super) fn tried(&self) -> usize {
        self.belief.trials_here
    }

    /// Chance of nine good rings of ten or more.
    pub(super) fn chance_of_90(&self) -> String {
        percent(self.belief.chance_of_90)
    }

    /// By the mean share of good rings.
    pub(super) fn by_share(&self, other: &Believed) -> Ordering {
        self.belief.good_share_mean.total_cmp(&other.belief.good_share_mean)
    }

    /// "92 % good (88 to 95)".
    pub(super) fn share(&self) -> String {
        let Belief { good_share_mean, good_share_80: [low, high], .. } = self.belief;
        format!("{} good ({} to {})", percent(good_share_mean), bare(low), percent(high))
    }

    /// How often it was tried, and that it hardly was.
    pub(super) fn tried_words(&self) -> String {
        tried_words(self.tried())
    }

    /// Width of the band in points of a hundred.
    pub(super) fn doubt(&self) -> String {
        let [low, high] = self.belief.good_share_80;
        format!("{:.0} points", 100.0 * (high - low))
    }
}

/// A share as a page says it.
pub(super) fn percent(share: f64) -> String {
    format!("{} %", bare(share))
}

fn bare(share: f64) -> String {
    format!("{:.0}", 100.0 * share)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn belief(chance_of_90: f64, trials_here: usize) -> Belief {
        Belief {
            good_share_mean: 0.92,
            good_share_sd: 0.03,
            good_share_80: [0.88, 0.954],
            good_share_95: [0.85, 0.97],
            chance_of_90,
            trials_here,
        }
    }

    #[test]
    fn a_cell_says_its_band_and_how_often_it_was_tried() {
        let few = Believed::of("thin", &belief(0.8, 2));
        assert_eq!(few.share(), "92 % good (88 to 95 %)");
        assert_eq!(few.tried_words(), "2 coils tried, few");
        assert_eq!(few.doubt(), "7 points");
    }
}
