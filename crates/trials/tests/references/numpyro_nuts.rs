//! Our bell curves against an outside sampler: the same model, columns and priors, the same trials.
//! Source: numpyro 0.22.0, NUTS, four chains of 1500 draws after 1000 to warm up, on the first 20 and
//! on all 60 trials of the example; `cargo xtask versus nuts-table` writes the table. The columns are
//! written out anew there, not by the code under test. Bounds are the differences the project's
//! reference measured between its own Laplace and NUTS (`trials.md`, section 11): mean difference
//! over standard deviation of the good share .17 at 20 trials and .15 at 60, median ratio of standard
//! deviations 1.00 and 1.06, mean difference of the chance of 90 % .031 and .012.

use linkwright_trials::{Cell, Learned, Prior};

use crate::example::{asked, rows};

const TABLE: &str = include_str!("data/numpyro_nuts.csv");

/// Lines of one part of the table: kept, severed, round mean and sd in turn, then the good share.
fn part(trials: usize) -> Vec<[f64; 9]> {
    let of_part = |line: &&str| line.starts_with(&format!("{trials},"));
    TABLE
        .lines()
        .filter(of_part)
        .map(|line| {
            let mut numbers = line.split(',').skip(2).map(|number| number.parse().unwrap());
            std::array::from_fn(|_| numbers.next().unwrap())
        })
        .collect()
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / f64::from(u32::try_from(values.len()).unwrap())
}

fn median(values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

/// Plays of this many seeds together: 400 plays alone would be off by as much as is compared.
const SEEDS: u64 = 10;

/// Mean, standard deviation and chance of 90 % of the good share of each cell.
fn ours(learned: &Learned, cells: &[Cell]) -> Vec<[f64; 3]> {
    let mut shares = vec![Vec::new(); cells.len()];
    for seed in 0..SEEDS {
        for (all, some) in shares.iter_mut().zip(learned.good_shares(cells, seed)) {
            all.extend(some);
        }
    }
    shares
        .iter()
        .map(|shares| {
            let middle = mean(shares);
            let squares: Vec<f64> = shares.iter().map(|share| (share - middle).powi(2)).collect();
            let good: Vec<f64> =
                shares.iter().map(|share| if *share >= 0.9 { 1.0 } else { 0.0 }).collect();
            [middle, mean(&squares).sqrt(), mean(&good)]
        })
        .collect()
}

/// Means over all cells of how far ours are from theirs.
#[derive(Debug)]
struct Differences {
    /// Of means of log odds, in standard deviations, and the median ratio of those.
    log_odds: [f64; 2],
    /// The same of the good share.
    share: [f64; 2],
    /// Of the chance of 90 %.
    chance_of_90: f64,
}

fn differences(trials: usize) -> Differences {
    let cells = asked();
    let learned = Learned::fit(&rows()[..trials], &Prior::geometry());
    let theirs = part(trials);
    assert_eq!(theirs.len(), cells.len());
    let (mut odds, mut odds_ratio) = (Vec::new(), Vec::new());
    let (mut share, mut share_ratio, mut chance) = (Vec::new(), Vec::new(), Vec::new());
    for ((cell, ours), line) in cells.iter().zip(ours(&learned, &cells)).zip(&theirs) {
        for (story, [mean, sd]) in learned.explain(cell).iter().zip(line.as_chunks::<2>().0) {
            odds.push((story.mean - mean).abs() / sd);
            odds_ratio.push(story.sd / sd);
        }
        let [.., mean, sd, chance_of_90] = *line;
        share.push((ours[0] - mean).abs() / sd);
        share_ratio.push(ours[1] / sd);
        chance.push((ours[2] - chance_of_90).abs());
    }
    Differences {
        log_odds: [mean(&odds), median(&mut odds_ratio)],
        share: [mean(&share), median(&mut share_ratio)],
        chance_of_90: mean(&chance),
    }
}

fn agrees(of: &Differences, share_most: f64) {
    let [share, share_ratio] = of.share;
    assert!(share <= share_most && (share_ratio - 1.0).abs() < 0.1, "{of:?}");
    // A bell curve against the slanted truth of a gate where hardly a ring failed.
    let [log_odds, log_odds_ratio] = of.log_odds;
    assert!(log_odds <= 0.2 && (log_odds_ratio - 1.0).abs() < 0.1, "{of:?}");
    // The reference's .031 and .012 are over a whole chart, most of it far from 90 %; these cells are
    // of sizes that a workshop makes, so the chance matters: .044 and .033 here.
    assert!(of.chance_of_90 <= 0.05, "{of:?}");
}

#[test]
fn twenty_trials_teach_what_an_outside_sampler_says() {
    agrees(&differences(20), 0.17);
}

#[test]
fn sixty_trials_teach_what_an_outside_sampler_says() {
    agrees(&differences(60), 0.15);
}
