//! The short version of `cargo xtask calibrate`: beliefs must hold against workshops whose truth
//! lies outside the model. The long table is in `docs/theory/trials.md`, section 11.

use linkwright_trials::{CalibrationRow, Sales, Testing, calibrate, learning_curve};

/// Workshops on which no number of the model was chosen.
const SEEDS: std::ops::Range<u64> = 501..525;
/// Every seventh cell: all sizes and blades in turn, and few enough for every day.
const STEP: usize = 7;
/// Coils held out of each workshop.
const HELD_OUT: usize = 40;

fn after(trials: usize, workshops: usize) -> CalibrationRow {
    let seeds: Vec<u64> = SEEDS.take(workshops).collect();
    calibrate(&seeds, trials, STEP, HELD_OUT).unwrap()
}

/// Bounds are the long table's values and three to four of its standard errors; see there.
fn holds(trials: usize, rmse_most: f64, log_score_most: f64) {
    let row = after(trials, SEEDS.count());
    let (covered_80, covered_95) = (row.covered_80.mean, row.covered_95.mean);
    assert!((0.74..=0.86).contains(&covered_80), "80 % band covers {covered_80}");
    assert!((0.90..=0.98).contains(&covered_95), "95 % band covers {covered_95}");
    let printed = row.covered_80_printed.mean;
    assert!((0.82..=0.92).contains(&printed), "80 % band in whole per cents covers {printed}");
    let rmse = row.rmse.mean;
    assert!(rmse <= rmse_most, "the good share is off by {rmse}");
    let log_score = row.log_score.mean;
    assert!(log_score <= log_score_most, "log score {log_score} nats a coil");
    // A cell is called something when it is believed with 90 %.
    for (word, called) in [("good", row.good), ("poor", row.poor)] {
        let wrong = f64::from(called.called - called.right) / f64::from(called.called);
        assert!(called.called > 50 && wrong < 0.1, "called {word}: {called:?}");
    }
}

#[test]
fn after_twenty_trials_the_bands_hold_the_truth_as_often_as_they_say() {
    holds(20, 0.14, 2.65);
}

#[test]
fn after_sixty_trials_the_bands_hold_the_truth_as_often_as_they_say() {
    holds(60, 0.12, 2.58);
}

#[test]
fn more_trials_bring_narrower_bands_and_smaller_errors() {
    let rows = [0, 20, 100].map(|trials| after(trials, 8));
    for pair in rows.windows(2) {
        let better = |of: fn(&CalibrationRow) -> f64| of(&pair[1]) < of(&pair[0]);
        assert!(better(|row| row.width_80.mean) && better(|row| row.rmse.mean));
        assert!(better(|row| row.brier.mean) && better(|row| row.log_score.mean));
    }
}

#[test]
fn ten_tests_that_are_proposed_teach_more_than_ten_at_random() {
    let seeds: Vec<u64> = SEEDS.take(4).collect();
    let lost = |testing| {
        let curve = learning_curve(&seeds, testing, Sales::Popular, &[0, 10]).unwrap();
        curve.iter().map(|figure| figure.mean).collect::<Vec<_>>()
    };
    let (random, proposed) = (lost(Testing::Random), lost(Testing::Worth));
    assert!((random[0] - proposed[0]).abs() < 1e-12, "both start from the same trials");
    assert!(proposed[1] < 0.75 * proposed[0], "{proposed:?}");
    assert!(proposed[1] < 0.8 * random[1], "{proposed:?} {random:?}");
}
