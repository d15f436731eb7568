//! Odds of enough good rings, and coils to wind, against the beta-binomial distribution of scipy.
//!
//! Source: `data/scipy_odds.csv` and `data/scipy_coils.csv`, written by `cargo xtask references`
//! from `scipy.stats.betabinom`; each names the version.

use linkwright_calc::count::{CoilsQuery, GoodRate, RateSharing, chance_of_at_least, coils_needed};

use crate::table::{Row, rows};

fn rate(row: &Row) -> GoodRate {
    GoodRate::new(row.number("beta_a"), row.number("beta_b")).expect("within limits")
}

#[test]
fn odds_agree_with_the_sum_of_the_masses() {
    let all = rows(include_str!("data/scipy_odds.csv"));
    assert_eq!(all.len(), 270);
    for row in all {
        let ours = chance_of_at_least(row.count("good_rings"), row.count("turns"), rate(&row));
        let off = ours.expect("no more rings than turns") - row.number("probability");
        // Log-gamma of a million loses ten digits to cancellation on both sides.
        assert!(off.abs() <= 2e-9, "{}: off by {off:e}", row.line());
    }
}

#[test]
fn small_odds_keep_their_digits() {
    let mut compared = 0;
    for row in rows(include_str!("data/scipy_odds.csv")) {
        let theirs = row.number("probability");
        if theirs < 1e-6 && theirs > 1e-290 {
            let ours = chance_of_at_least(row.count("good_rings"), row.count("turns"), rate(&row));
            let off = ours.expect("no more rings than turns") / theirs - 1.0;
            // The logarithm of such odds is a difference of log-gammas of up to a million.
            assert!(off.abs() <= 1e-7, "{}: off by {off:e}", row.line());
            compared += 1;
        }
    }
    assert!(compared > 20, "{compared} rows");
}

#[test]
fn as_many_coils_are_wanted_and_not_one_less() {
    for row in rows(include_str!("data/scipy_coils.csv")) {
        let query = CoilsQuery {
            good_rings: row.count("good_rings"),
            turns_per_coil: row.count("usable_turns_per_coil") + 5,
            lost_per_coil: 5,
            rate: rate(&row),
            confidence: row.number("confidence"),
            sharing: match row.text("rate") {
                "shared" => RateSharing::Shared,
                "per_coil" => RateSharing::PerCoil,
                other => panic!("unknown {other}"),
            },
        };
        assert_eq!(coils_needed(&query), Ok(row.count("coils")), "{}", row.line());
        // The table itself: enough with that many, too few with one less.
        assert!(row.number("probability") >= query.confidence);
        assert!(row.number("probability_one_less") < query.confidence);
    }
}
