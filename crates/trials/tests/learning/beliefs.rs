//! Beliefs about cells before and after trials.

use linkwright_trials::{GATES, Gate, Learned, Prior};
use proptest::prelude::{ProptestConfig, prop_assert, proptest};

use crate::workshop::{cell, coil, some_trials};

#[test]
fn with_no_trial_the_chart_is_geometry_with_wide_bands() {
    let learned = Learned::fit(&[], &Prior::geometry());
    let cells: Vec<_> = [0.5, 0.8, 1.0, 1.3, 1.6]
        .into_iter()
        .flat_map(|wire_mm| [3.0, 5.0, 9.0].map(|mandrel_mm| cell(wire_mm, mandrel_mm, "small")))
        .collect();
    for (cell, belief) in cells.iter().zip(learned.beliefs(&cells, 7)) {
        assert_eq!(belief.trials_here, 0);
        // The reference never calls a cell sure on day 0, and its bands are 0.72 wide on average.
        assert!(belief.chance_of_90 < 0.9, "{:?}", cell.key());
        let deep_enough = cell.parts().wire.diameter().mm() < 1.4;
        let width = belief.good_share_80[1] - belief.good_share_80[0];
        assert!(!deep_enough || width > 0.4, "{:?}: {width}", cell.key());
    }
    let story = learned.explain(&cells[0]);
    for gate in story {
        assert!((gate.mean - gate.geometry).abs() < 1e-12); // nothing else has been added
    }
}

#[test]
fn a_blade_that_does_not_reach_is_believed_not_to_cut() {
    let learned = Learned::fit(&[], &Prior::geometry());
    let [reaches, does_not] = [cell(0.8, 5.0, "small"), cell(1.9, 5.0, "small")];
    let severed = |cell| learned.explain(cell)[Gate::Severed.index()].mean;
    assert!(severed(&reaches) > 2.0 && severed(&does_not) < -2.0);
}

#[test]
fn good_coils_raise_the_belief_most_where_they_were_cut() {
    let rows = some_trials();
    let here = cell(1.0, 6.0, "small");
    let near = cell(1.05, 6.5, "small");
    let cells = [here.clone(), near, cell(1.9, 13.0, "large")];
    let before = Learned::fit(&rows, &Prior::geometry()).beliefs(&cells, 7);
    let mut more = rows.clone();
    more.extend((0..8).map(|_| coil(&here, 0, 0, 0)));
    let learned = Learned::fit(&more, &Prior::geometry());
    let after = learned.beliefs(&cells, 7);
    let narrower = |i: usize| before[i].good_share_sd / after[i].good_share_sd;
    assert!(after[0].good_share_mean > before[0].good_share_mean);
    assert!(narrower(0) > narrower(1) && narrower(1) > narrower(2), "{before:?} {after:?}");
    assert_eq!(after[0].trials_here, 8);
    let story = learned.explain(&here)[Gate::Severed.index()];
    assert!(story.own_trials > 0.0, "{story:?}");
    assert_eq!(story.trials_here, 8);
}

#[test]
fn the_parts_of_a_story_add_up() {
    let learned = Learned::fit(&some_trials(), &Prior::geometry());
    for cell in [cell(1.0, 5.0, "small"), cell(1.7, 11.0, "large")] {
        for story in learned.explain(&cell) {
            let added = story.of_slopes
                + story.of_blade
                + story.of_sizes
                + story.of_metal_and_operator
                + story.of_quirk;
            // Sums of some sixty products of ordinary size.
            assert!((story.mean - story.geometry - added).abs() < 1e-10, "{story:?}");
            let parts = story.geometry + story.elsewhere + story.own_trials;
            assert!((story.mean - parts).abs() < 1e-10);
        }
    }
}

#[test]
fn a_warm_refit_agrees_with_a_fit_afresh() {
    let rows = some_trials();
    let (last, first) = rows.split_last().unwrap();
    let warm = Learned::fit(first, &Prior::geometry()).refit_with(&rows);
    let fresh = Learned::fit(&rows, &Prior::geometry());
    let cells = [last.cell().clone(), cell(0.9, 4.0, "small"), cell(1.6, 10.0, "large")];
    for cell in &cells {
        for (warm, fresh) in warm.explain(cell).iter().zip(fresh.explain(cell)) {
            // The nine settings stand elsewhere: a tenth of a standard deviation of the belief.
            let off = (warm.mean - fresh.mean) / fresh.sd;
            assert!(off.abs() < 0.1, "{off}");
            assert!((warm.sd / fresh.sd - 1.0).abs() < 0.1, "{} {}", warm.sd, fresh.sd);
        }
    }
    assert_eq!(warm.trials(), 12);
}

#[test]
fn a_cell_is_played_the_same_whatever_else_is_asked() {
    let learned = Learned::fit(&some_trials(), &Prior::geometry());
    let (asked, other) = (cell(1.0, 5.0, "small"), cell(1.7, 11.0, "large"));
    let alone = learned.plays(std::slice::from_ref(&asked), 11);
    let among = learned.plays(&[other, asked.clone()], 11);
    for (alone, among) in alone[0].iter().zip(&among[1]) {
        for gate in GATES.map(Gate::index) {
            // The matrix product may add in another order.
            assert!((alone.log_odds[gate] - among.log_odds[gate]).abs() < 1e-9);
        }
        assert_eq!(alone.entry, among.entry);
        let scatters = [alone, among].map(|play| play.coil_scatter.map(f64::to_bits));
        assert_eq!(scatters[0], scatters[1]);
    }
    let other_seed = learned.plays(&[asked], 12);
    assert_ne!(alone[0][0], other_seed[0][0]);
}

#[test]
fn the_plays_have_the_mean_and_the_spread_of_the_belief() {
    let learned = Learned::fit(&some_trials(), &Prior::geometry());
    let cells: Vec<_> = (0..40)
        .map(|i| cell(0.5 + 0.03 * f64::from(i), 3.0 + 0.2 * f64::from(i), "large"))
        .chain(some_trials().iter().map(|row| row.cell().clone()))
        .collect();
    let plays = learned.plays(&cells, 5);
    for gate in GATES.map(Gate::index) {
        let (mut off, mut ratio) = (0.0, 0.0);
        for (cell, plays) in cells.iter().zip(&plays) {
            let story = learned.explain(cell)[gate];
            let mean = plays.iter().map(|play| play.log_odds[gate]).sum::<f64>() / 400.0;
            let squares: f64 = plays.iter().map(|play| (play.log_odds[gate] - mean).powi(2)).sum();
            off += (mean - story.mean) / story.sd / 52.0;
            ratio += (squares / 399.0).sqrt() / story.sd / 52.0;
        }
        // 400 plays that share their weights: standard error of the mean 0.05, of the spread 0.04;
        // the spread is widened by 1.15.
        assert!(off.abs() < 0.2, "gate {gate}: {off}");
        assert!((ratio - 1.15).abs() < 0.12, "gate {gate}: {ratio}");
    }
}

#[test]
fn end_losses_are_learned_from_what_was_lost() {
    let mean_loss = |learned: &Learned| {
        let plays = learned.plays(&[cell(1.0, 5.0, "small")], 3);
        plays[0].iter().map(|play| play.stop.mean).sum::<f64>() / 400.0
    };
    let none = mean_loss(&Learned::fit(&[], &Prior::geometry()));
    let rows: Vec<_> = (0..40).map(|_| coil(&cell(1.0, 5.0, "small"), 0, 0, 0)).collect();
    let two = mean_loss(&Learned::fit(&rows, &Prior::geometry()));
    // Forty coils that lost two turns each; the prior's pull and 400 plays leave a tenth or so.
    assert!((two - 2.0).abs() < 0.25 && (none - 2.0).abs() > (two - 2.0).abs(), "{none} {two}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn any_coils_at_all_give_a_belief_between_nought_and_one(
        coils in proptest::collection::vec((0.4..2.1, 2.0..14.0, 0_u32..10, 0_u32..10, 0_u32..8), 0..12),
        wire_mm in 0.4..2.1, mandrel_mm in 2.0..14.0,
    ) {
        let rows: Vec<_> = coils
            .into_iter()
            .map(|(wire_mm, mandrel_mm, crushed, uncut, deformed)| {
                coil(&cell(wire_mm, mandrel_mm, "small"), crushed, uncut, deformed)
            })
            .collect();
        let learned = Learned::fit(&rows, &Prior::geometry());
        let belief = learned.beliefs(&[cell(wire_mm, mandrel_mm, "large")], 1)[0];
        let [low, high] = belief.good_share_95;
        prop_assert!(0.0 <= low && low < high && high <= 1.0, "{belief:?}");
        prop_assert!(belief.good_share_sd.is_finite());
    }
}
