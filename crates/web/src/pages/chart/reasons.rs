//! Why the model believes what it does, as sentences a jeweller reads.

use linkwright_trials::{Gate, GateStory};

/// Log odds below which a part is not worth a sentence.
const WORTH_SAYING: f64 = 0.15;

/// One gate's story: what the rings must pass, how many of a hundred do, and why.
pub(super) struct Reason {
    pub(super) heading: &'static str,
    /// "96 of 100 pass (91 to 98)".
    pub(super) passing: String,
    pub(super) sentences: Vec<String>,
}

/// `pooled`: whether other workshops taught before this one's first trial.
pub(super) fn reasons(stories: &[GateStory; 3], pooled: bool) -> Vec<Reason> {
    stories.iter().map(|story| reason(story, pooled)).collect()
}

fn reason(story: &GateStory, pooled: bool) -> Reason {
    let heading = match story.gate {
        Gate::Kept => "Held by the clamp, neither crushed nor flung",
        Gate::Severed => "Cut right through",
        Gate::Round => "Neither nicked nor bent",
    };
    let before = if pooled { "Geometry and other workshops say" } else { "Geometry alone says" };
    let mut sentences = vec![format!("{before} {}.", of_a_hundred(story.geometry))];
    let here = match story.trials_here {
        1 => "the one coil tried here".to_owned(),
        coils => format!("the {coils} coils tried here"),
    };
    if story.trials_here > 0 {
        sentences.push(moved(&here, story.own_trials));
    } else {
        sentences.push("Nobody has tried this wire, rod and blade together.".to_owned());
    }
    sentences.push(moved("your trials of other cells", story.elsewhere));
    let parts = [
        (story.of_slopes, "how much a margin counts on your bench"),
        (story.of_blade, "this blade"),
        (story.of_sizes, "sizes near this one"),
        (story.of_metal_and_operator, "this metal and whoever cuts"),
        (story.of_quirk, "this very cell"),
    ];
    let largest = parts.into_iter().max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()));
    if let Some((added, what)) = largest.filter(|(added, _)| added.abs() >= WORTH_SAYING) {
        let said = if pooled { "was said" } else { "geometry says" };
        let way = if added > 0.0 { "better" } else { "worse" };
        sentences.push(format!("Most of that is about {what}: {way} than {said}."));
    }
    Reason {
        heading,
        passing: format!(
            "{} ({} to {})",
            of_a_hundred(story.mean),
            bare(story.mean - 1.28 * story.sd),
            bare(story.mean + 1.28 * story.sd)
        ),
        sentences,
    }
}

/// What some trials do to the odds of passing.
fn moved(by: &str, added: f64) -> String {
    if added >= WORTH_SAYING {
        format!("From {by}: odds {} times better.", factor(added))
    } else if added <= -WORTH_SAYING {
        format!("From {by}: odds {} times worse.", factor(-added))
    } else {
        format!("From {by}: hardly a difference.")
    }
}

/// What log odds do to odds, such as "1.6".
fn factor(added: f64) -> String {
    format!("{:.1}", added.exp())
}

fn of_a_hundred(log_odds: f64) -> String {
    format!("{} of 100 pass", bare(log_odds))
}

/// A whole number of a hundred; nothing is ever quite certain.
fn bare(log_odds: f64) -> String {
    let percent = 100.0 / (1.0 + (-log_odds).exp());
    match percent {
        percent if percent > 99.0 => "over 99".to_owned(),
        percent if percent < 1.0 => "under 1".to_owned(),
        percent => format!("{percent:.0}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn story(own_trials: f64, trials_here: usize) -> GateStory {
        GateStory {
            gate: Gate::Severed,
            mean: 2.2 + own_trials,
            sd: 0.5,
            geometry: 2.2,
            elsewhere: 0.05,
            own_trials,
            of_slopes: 0.05,
            of_blade: 0.0,
            of_sizes: 0.0,
            of_metal_and_operator: 0.0,
            of_quirk: own_trials,
            trials_here,
        }
    }

    #[test]
    fn a_story_is_told_in_the_order_geometry_here_elsewhere() {
        let told = reason(&story(0.7, 4), false);
        assert_eq!(told.passing, "95 of 100 pass (91 to 97)");
        assert_eq!(
            told.sentences,
            [
                "Geometry alone says 90 of 100 pass.",
                "From the 4 coils tried here: odds 2.0 times better.",
                "From your trials of other cells: hardly a difference.",
                "Most of that is about this very cell: better than geometry says.",
            ]
        );
    }

    #[test]
    fn an_untried_cell_says_so() {
        let told = reason(&story(0.0, 0), true);
        assert_eq!(told.sentences[0], "Geometry and other workshops say 90 of 100 pass.");
        assert_eq!(told.sentences[1], "Nobody has tried this wire, rod and blade together.");
        assert_eq!(told.sentences.len(), 3, "{:?}", told.sentences);
    }
}
