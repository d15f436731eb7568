//! What one trial changed: the chart with it and as if it had never been.

use askama::Template;
use axum::extract::{Path, State};
use axum::response::Html;
use linkwright_answers::printout::both_lengths;
use linkwright_answers::published::DO_NOT_CUT;
use linkwright_store::records::Trial;
use linkwright_store::{Id, StoreError, View};
use linkwright_trials::{Belief, Gate, GateStory, Learned, TrialRow};

use super::asked::Asked;
use super::believed::percent;
use super::bench::ChartBench;
use super::decided::{all_sizes, decided, whole_chart};
use crate::error::PageError;
use crate::frame::Frame;
use crate::learning::{SEED, Taught};
use crate::state::App;

/// Places whose change is told one by one.
const TOLD_MOST: usize = 12;
/// Rings of a hundred below which nothing worth a sentence moved.
const WORTH_SAYING: f64 = 0.3;

#[derive(Template)]
#[template(path = "pages/chart/moved.html")]
struct MovedPage {
    frame: Frame,
    trial: Id<Trial>,
    title: String,
    told: Vec<String>,
    changes: Vec<Change>,
    more: usize,
    cell: Option<String>,
}

/// One place where the blade to use is another one now.
struct Change {
    address: String,
    place: String,
    before: String,
    now: String,
}

pub(super) async fn show(
    State(app): State<App>,
    Path(id): Path<i64>,
) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            let id = Id::<Trial>::new(id);
            let trial: Trial = view.get(id)?;
            let frame = Frame::of(&at, view, "chart")?;
            let taught = at.taught(view)?;
            let coil = taught.lessons.trials.iter().position(|known| *known == id);
            let mut page = MovedPage {
                frame,
                trial: id,
                title: trial.title(),
                told: Vec::new(),
                changes: Vec::new(),
                more: 0,
                cell: None,
            };
            match coil {
                Some(coil) => page.fill(view, &taught, coil)?,
                None => page.told.push(
                    "The chart does not learn from this trial: it lacks a blade of the workshop, a \
                     projection or its counts, lies outside the chart, or newer ones stand for it."
                        .to_owned(),
                ),
            }
            Ok::<_, PageError>(page)
        })
        .await?;
    Ok(Html(page.render()?))
}

impl MovedPage {
    fn fill(&mut self, view: &View<'_>, taught: &Taught, coil: usize) -> Result<(), StoreError> {
        let lessons = &taught.lessons;
        let row = &lessons.coils[coil];
        let mut others = lessons.coils.clone();
        others.remove(coil);
        let without = taught.learned.refit_with(&others);
        self.told = told(row, &without, &taught.learned);

        let parts = row.cell().parts();
        let asked = Asked {
            metal: parts.metal.to_string(),
            temper: lessons.tempers[coil].to_string(),
            ..Asked::default()
        };
        self.cell = Some(asked.cell(parts.wire.diameter().mm(), parts.mandrel.diameter().mm()));
        let bench = ChartBench::of(view, taught, &asked)?;
        let before = decided(&bench, &taught.believing(without), &all_sizes(&bench));
        let now = whole_chart(view, &bench, taught)?;
        let blade = |choice: Option<usize>| {
            choice.map_or_else(|| DO_NOT_CUT.to_owned(), |kind| bench.kinds[kind].called.clone())
        };
        for (before, now) in before.iter().zip(now.iter()) {
            let (Some(before), Some(now)) = (before, now) else { continue };
            let choices = [before.decision.choice, now.decision.choice];
            if choices[0] != choices[1] {
                let [was, is] = choices.map(blade);
                self.changes.push(Change {
                    address: asked.cell(now.wire_mm, now.rod_mm),
                    place: format!("{} on {}", both_lengths(now.wire_mm), both_lengths(now.rod_mm)),
                    before: was,
                    now: is,
                });
            }
        }
        self.more = self.changes.len().saturating_sub(TOLD_MOST);
        self.changes.truncate(TOLD_MOST);
        Ok(())
    }
}

/// What one coil said, and what it did to the belief about its own cell, in sentences.
fn told(row: &TrialRow, without: &Learned, with: &Learned) -> Vec<String> {
    let cell = std::slice::from_ref(row.cell());
    let of = |learned: &Learned| learned.beliefs(cell, SEED)[0];
    let (before, now) = (of(without), of(with));
    let counts = row.counts();
    let kept = row.turns() - counts.entry_lost - counts.stop_lost;
    let expected = f64::from(kept) * before.good_share_mean;
    let mut told = vec![format!(
        "Of {kept} turns that were not lost at the ends, {expected:.0} good rings were to be expected \
         before it; it gave {}.",
        counts.good
    )];
    told.push(format!(
        "For this wire, rod and blade the chart believed {} before and believes {} with it{}.",
        share(&before),
        share(&now),
        narrower(&before, &now)
    ));
    told.extend(most_moved(without.explain(row.cell()), with.explain(row.cell())));
    told
}

fn share(belief: &Belief) -> String {
    let [low, high] = belief.good_share_80.map(percent);
    format!("{} good ({low} to {high})", percent(belief.good_share_mean))
}

fn narrower(before: &Belief, now: &Belief) -> String {
    let width = |belief: &Belief| belief.good_share_80[1] - belief.good_share_80[0];
    let points = 100.0 * (width(before) - width(now));
    match points {
        points if points >= 0.5 => format!("; the band is {points:.0} points narrower"),
        points if points <= -0.5 => format!("; the band is {:.0} points wider", -points),
        _ => String::new(),
    }
}

/// The gate that moved most, if any did.
fn most_moved(before: [GateStory; 3], now: [GateStory; 3]) -> Option<String> {
    let hundreds_moved = |pair: &(GateStory, GateStory)| {
        let passing = |story: &GateStory| 100.0 / (1.0 + (-story.mean).exp());
        passing(&pair.1) - passing(&pair.0)
    };
    let pairs = before.into_iter().zip(now);
    let most = pairs.max_by(|a, b| hundreds_moved(a).abs().total_cmp(&hundreds_moved(b).abs()))?;
    let moved = hundreds_moved(&most);
    if moved.abs() < WORTH_SAYING {
        return Some("It was much as expected, so little moved.".to_owned());
    }
    let (better, worse) = match most.1.gate {
        Gate::Kept => ("fewer rings were crushed or flung", "more rings were crushed or flung"),
        Gate::Severed => ("fewer rings stayed uncut", "more rings stayed uncut"),
        Gate::Round => ("fewer rings were nicked or bent", "more rings were nicked or bent"),
    };
    let why = if moved > 0.0 { better } else { worse };
    Some(format!("What moved most: {why} than geometry and the other trials had led to expect."))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn belief(mean: f64, band: [f64; 2]) -> Belief {
        Belief {
            good_share_mean: mean,
            good_share_sd: 0.05,
            good_share_80: band,
            good_share_95: band,
            chance_of_90: 0.5,
            trials_here: 1,
        }
    }

    #[test]
    fn a_band_says_whether_it_became_narrower_or_wider() {
        let (wide, narrow) = (belief(0.9, [0.8, 0.97]), belief(0.92, [0.86, 0.96]));
        assert_eq!(narrower(&wide, &narrow), "; the band is 7 points narrower");
        assert_eq!(narrower(&narrow, &wide), "; the band is 7 points wider");
        assert_eq!(narrower(&wide, &wide), "");
        assert_eq!(share(&wide), "90 % good (80 % to 97 %)");
    }
}
