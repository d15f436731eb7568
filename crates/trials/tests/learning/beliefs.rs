//! Beliefs about cells before and after trials.

use linkwright_trials::{Cell, GATES, Gate, Learned, Prior, features, share_passing};
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
    let tried_often = cell(1.0, 6.0, "small");
    let mut rows = some_trials();
    rows.extend((0..8).map(|i| coil(&tried_often, 9, 4 + i % 3, 0)));
    let learned = Learned::fit(&rows, &Prior::geometry());
    let mut by_another = cell(0.9, 4.0, "third").parts().clone();
    by_another.operator = Some("Bo".into());
    by_another.metal = "silver".into();
    let cells = [
        tried_often,
        Cell::new(by_another).unwrap(),
        cell(0.8, 3.0, "large"),
        cell(1.9, 13.0, "small"),
        cell(1.3, 8.0, "large"),
    ];
    let (mut clear, mut in_the_tail) = (0, 0);
    for (cell, plays) in cells.iter().zip(learned.plays(&cells, 5)) {
        for story in learned.explain(cell) {
            let gate = story.gate.index();
            let mean = plays.iter().map(|play| play.log_odds[gate]).sum::<f64>() / 400.0;
            let squares: f64 = plays.iter().map(|play| (play.log_odds[gate] - mean).powi(2)).sum();
            let off = (mean - story.mean) / story.sd;
            let ratio = (squares / 399.0).sqrt() / story.sd;
            // Where one ring in twenty or fewer would pass, plays fall steeper than the belief.
            if story.mean - 2.5 * story.sd < -3.0 {
                assert!(off < 0.175 && ratio > 1.025, "{:?} {gate}: {off} {ratio}", cell.key());
                in_the_tail += 1;
                continue;
            }
            clear += 1;
            // Of 400 plays the mean has a standard error of 0.058 (spread 1.15), the spread one of
            // 0.041; three of either.
            assert!(off.abs() < 0.175, "{:?} {gate}: {off}", cell.key());
            assert!((ratio - 1.15).abs() < 0.125, "{:?} {gate}: {ratio}", cell.key());
        }
    }
    assert!(clear >= 8 && in_the_tail >= 1, "{clear} {in_the_tail}");
}

#[test]
fn the_good_share_is_the_share_that_passes_all_three_gates() {
    let learned = Learned::fit(&some_trials(), &Prior::geometry());
    let cells = [cell(1.0, 5.0, "small"), cell(0.6, 9.0, "large")];
    let shares = learned.good_shares(&cells, 9);
    for (plays, shares) in learned.plays(&cells, 9).iter().zip(shares) {
        for (play, share) in plays.iter().zip(shares) {
            let [kept, severed, round] =
                [0, 1, 2].map(|gate| share_passing(play.log_odds[gate], play.coil_scatter[gate]));
            // One coil in a hundred is a write-off that keeps half its rings on average.
            let expected = (0.99 * kept + 0.01 * 0.5) * severed * round;
            assert!((share - expected).abs() < 1e-7, "{share} is not {expected}");
        }
    }
}

#[test]
fn with_no_trial_scatter_and_departure_are_as_believed_before() {
    let learned = Learned::fit(&[], &Prior::geometry());
    for gate in GATES {
        let [scatter, departure] = learned.settings(gate);
        // Means of log-normal laws: 0.5 exp(0.5^2/2) and 0.5 exp(0.6^2/2); three nodes are good to
        // half a percent there.
        assert!((scatter / 0.5666 - 1.0).abs() < 5e-3, "{scatter}");
        assert!((departure / 0.5986 - 1.0).abs() < 5e-3, "{departure}");
    }
}

#[test]
fn end_losses_before_any_trial_spread_as_believed() {
    let learned = Learned::fit(&[], &Prior::geometry());
    let (shallow, deep) = (cell(1.0, 5.0, "small"), cell(1.0, 5.0, "large"));
    let plays = learned.plays(&[shallow.clone(), deep.clone()], 3);
    let logs: Vec<f64> = plays[0].iter().map(|play| play.entry.mean.ln()).collect();
    let mean = logs.iter().sum::<f64>() / 400.0;
    let sd = (logs.iter().map(|ln| (ln - mean).powi(2)).sum::<f64>() / 399.0).sqrt();
    // 1 mm wire, taped: N(0, 0.7^2) and half of N(-0.3, 0.3^2); standard errors 0.036 and 0.025.
    assert!((mean + 0.15).abs() < 0.11 && (sd - 0.716).abs() < 0.08, "{mean} {sd}");
    let per_stop: f64 = plays[0]
        .iter()
        .zip(&plays[1])
        .map(|(shallow, deep)| (shallow.stop.mean / deep.stop.mean).ln())
        .sum::<f64>()
        / 400.0
        / (features(&shallow).stop - features(&deep).stop);
    assert!((per_stop - 1.0).abs() < 0.05, "{per_stop}"); // N(1, 0.3^2): standard error 0.015
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
