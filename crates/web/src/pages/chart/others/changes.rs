//! What other workshops' trials change on the chart, in words.

use linkwright_trials::{Belief, Cell, Learned};

use super::super::believed::Outlook;
use super::super::bench::ChartBench;
use crate::learning::SEED;

/// How one belief about the chart differs from another.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Changes {
    /// Places of the chart: a wire on a rod.
    places: usize,
    /// Places whose sign turned for the better, and for the worse.
    better: usize,
    worse: usize,
    /// Places where another blade is best.
    blades: usize,
    /// Mean width of the best blade's band, in shares of one, before and after.
    width_before: f64,
    width_after: f64,
}

impl Changes {
    /// From one belief to another, over every place of the chart; nothing if it has none.
    pub(super) fn between(
        bench: &ChartBench,
        before: &Learned,
        after: &Learned,
    ) -> Option<Changes> {
        let mut cells: Vec<Cell> = Vec::new();
        for wire_mm in &bench.wires_mm {
            for rod_mm in &bench.rods_mm {
                let of_kinds = bench.kinds.iter().map(|kind| bench.cell(*wire_mm, *rod_mm, kind));
                let here: Option<Vec<Cell>> = of_kinds.collect();
                cells.extend(here.into_iter().flatten());
            }
        }
        let blades = bench.kinds.len().max(1);
        let (before, after) = (before.beliefs(&cells, SEED), after.beliefs(&cells, SEED));
        let places = before.chunks(blades).zip(after.chunks(blades));
        let mut changes = Changes::default();
        for (before, after) in places {
            changes.add(best(before)?, best(after)?);
        }
        (changes.places > 0).then_some(changes)
    }

    fn add(
        &mut self,
        (blade_before, before): (usize, &Belief),
        (blade_after, after): (usize, &Belief),
    ) {
        self.places += 1;
        self.blades += usize::from(blade_before != blade_after);
        let [was, is] = [before, after].map(|belief| rank(Outlook::of(belief)));
        self.better += usize::from(is > was);
        self.worse += usize::from(is < was);
        let width = |belief: &Belief| belief.good_share_80[1] - belief.good_share_80[0];
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
                "{} {of} get another sign: {better} a better one, {worse} a worse one.",
                better + worse
            ),
        };
        let blades = match self.blades {
            0 => "The best blade stays the same everywhere.".to_owned(),
            blades => format!("{blades} {of} get another best blade."),
        };
        vec![
            format!(
                "The band of the best blade is {} points wide on average; it was {}.",
                points(self.width_after),
                points(self.width_before)
            ),
            signs,
            blades,
        ]
    }
}

/// The blade with the best mean share, by its place.
fn best(beliefs: &[Belief]) -> Option<(usize, &Belief)> {
    let by_share = |a: &(usize, &Belief), b: &(usize, &Belief)| {
        a.1.good_share_mean.total_cmp(&b.1.good_share_mean)
    };
    beliefs.iter().enumerate().max_by(by_share)
}

fn rank(outlook: Outlook) -> u8 {
    match outlook {
        Outlook::Poor => 0,
        Outlook::Doubtful => 1,
        Outlook::Good => 2,
    }
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
        changes.add((0, &belief(0.5, 0.30)), (1, &belief(0.95, 0.10)));
        changes.add((0, &belief(0.5, 0.20)), (0, &belief(0.05, 0.20)));
        changes.add((0, &belief(0.5, 0.10)), (0, &belief(0.5, 0.06)));
        assert_eq!(
            changes.in_words(),
            [
                "The band of the best blade is 12 points wide on average; it was 20.",
                "2 of 3 places get another sign: 1 a better one, 1 a worse one.",
                "1 of 3 places get another best blade.",
            ]
        );
    }

    #[test]
    fn nothing_changed_is_said_too() {
        let mut changes = Changes::default();
        changes.add((0, &belief(0.5, 0.30)), (0, &belief(0.5, 0.30)));
        assert_eq!(changes.in_words()[1], "No place gets another sign.");
        assert_eq!(changes.in_words()[2], "The best blade stays the same everywhere.");
    }
}
