//! What other workshops' trials change on the chart, in words.

use linkwright_trials::Belief;

use super::super::believed::Outlook;
use super::super::bench::ChartBench;
use super::super::decided::{Decided, all_sizes, decided};
use crate::learning::Taught;

/// How one belief about the chart differs from another.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Changes {
    /// Places of the chart: a wire on a rod.
    places: usize,
    /// Places whose sign turned for the better, and for the worse.
    better: usize,
    worse: usize,
    /// Places where another blade is to be used, or none any more, or one at last.
    blades: usize,
    /// Sum of the widths of that blade's bands, in shares of one, before and after.
    width_before: f64,
    width_after: f64,
}

impl Changes {
    /// From one belief to another, over every place of the chart; nothing if it has none.
    pub(super) fn between(bench: &ChartBench, before: &Taught, after: &Taught) -> Option<Changes> {
        let sizes = all_sizes(bench);
        let (before, after) = (decided(bench, before, &sizes), decided(bench, after, &sizes));
        let mut changes = Changes::default();
        for (before, after) in before.iter().flatten().zip(after.iter().flatten()) {
            changes.add(spoken_of(before), spoken_of(after));
        }
        (changes.places > 0).then_some(changes)
    }

    fn add(&mut self, before: (Option<usize>, &Belief), after: (Option<usize>, &Belief)) {
        self.places += 1;
        self.blades += usize::from(before.0 != after.0);
        let [was, is] = [before, after].map(|(_, belief)| rank(Outlook::of(belief)));
        self.better += usize::from(is > was);
        self.worse += usize::from(is < was);
        let width = |(_, belief): (Option<usize>, &Belief)| {
            belief.good_share_80[1] - belief.good_share_80[0]
        };
        self.width_before += width(before);
        self.width_after += width(after);
    }

    /// As sentences.
    pub(super) fn in_words(self) -> Vec<String> {
        let places = f64::from(u32::try_from(self.places).unwrap_or(u32::MAX));
        let points = |sum: f64| format!("{:.0}", 100.0 * sum / places);
        let of = format!("of {}", counted(self.places, "place"));
        let signs = match (self.better, self.worse) {
            (0, 0) => "No place gets another sign.".to_owned(),
            (better, worse) => format!(
                "{} {of} {} another sign: {better} a better one, {worse} a worse one.",
                better + worse,
                get(better + worse)
            ),
        };
        let blades = match self.blades {
            0 => "The blade to use stays the same everywhere.".to_owned(),
            blades => format!("{blades} {of} {} another blade to use, or none.", get(blades)),
        };
        vec![
            format!(
                "The band of the blade to use is {} points wide on average; it was {}.",
                points(self.width_after),
                points(self.width_before)
            ),
            signs,
            blades,
        ]
    }
}

/// The blade to use, if any, and what is believed of the one the chart speaks of.
fn spoken_of(place: &Decided) -> (Option<usize>, &Belief) {
    (place.decision.choice, &place.beliefs[place.spoken_of()])
}

fn rank(outlook: Outlook) -> u8 {
    match outlook {
        Outlook::Poor => 0,
        Outlook::Doubtful => 1,
        Outlook::Good => 2,
    }
}

/// "1 of 5 places gets", "2 of 5 places get".
const fn get(count: usize) -> &'static str {
    if count == 1 { "gets" } else { "get" }
}

/// "1 place", "5 places".
pub(super) fn counted(count: usize, of: &str) -> String {
    if count == 1 { format!("1 {of}") } else { format!("{count} {of}s") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn belief(chance_of_90: f64, width: f64) -> Belief {
        Belief {
            good_share_mean: 0.9,
            good_share_sd: 0.03,
            good_share_80: [0.9 - width, 0.9],
            good_share_95: [0.5, 0.97],
            chance_of_90,
            trials_here: 0,
        }
    }

    #[test]
    fn changes_are_counted_place_by_place() {
        let mut changes = Changes::default();
        changes.add((Some(0), &belief(0.5, 0.30)), (Some(1), &belief(0.95, 0.10)));
        changes.add((Some(0), &belief(0.5, 0.20)), (None, &belief(0.05, 0.20)));
        changes.add((Some(0), &belief(0.5, 0.10)), (Some(0), &belief(0.5, 0.06)));
        assert_eq!(
            changes.in_words(),
            [
                "The band of the blade to use is 12 points wide on average; it was 20.",
                "2 of 3 places get another sign: 1 a better one, 1 a worse one.",
                "2 of 3 places get another blade to use, or none.",
            ]
        );
    }

    #[test]
    fn a_single_place_gets_and_several_get() {
        let mut changes = Changes::default();
        changes.add((Some(0), &belief(0.5, 0.30)), (Some(1), &belief(0.95, 0.10)));
        changes.add((Some(0), &belief(0.5, 0.10)), (Some(0), &belief(0.5, 0.06)));
        assert_eq!(
            changes.in_words()[1..],
            [
                "1 of 2 places gets another sign: 1 a better one, 0 a worse one.",
                "1 of 2 places gets another blade to use, or none.",
            ]
        );
    }

    #[test]
    fn nothing_changed_is_said_too() {
        let mut changes = Changes::default();
        changes.add((Some(0), &belief(0.5, 0.30)), (Some(0), &belief(0.5, 0.30)));
        assert_eq!(changes.in_words()[1], "No place gets another sign.");
        assert_eq!(changes.in_words()[2], "The blade to use stays the same everywhere.");
    }
}
