//! What the blade chart believes, held against the truth of invented workshops.

mod curves;

use anyhow::{Context, Result, bail, ensure};
use linkwright_trials::{CalibrationRow, Called, Figure, calibrate};
use serde_json::{Value, json};

use crate::process::{cargo, run as start};

/// Workshops of every size of record, unless said otherwise.
const WORKSHOPS: u64 = 24;
/// Trials of each workshop, unless said otherwise.
const SIZES: [usize; 5] = [20, 60, 200, 600, 2000];
/// First seed, unless said otherwise. No number of the model was chosen on this one or any above it,
/// but on [`LOOKED_AT`].
const FIRST_SEED: u64 = 501;
/// Seeds that were looked at while the model was shaped.
const LOOKED_AT: std::ops::RangeInclusive<u64> = 101..=116;
/// Coils of each workshop that are cut for the log score and not learned from.
const HELD_OUT: usize = 200;

/// What was asked for.
#[derive(Debug, PartialEq)]
struct Asked {
    workshops: u64,
    sizes: Vec<usize>,
    first_seed: u64,
    json: bool,
    curves: bool,
}

/// Prints the table of beliefs, or with `--curves` that of choosing tests; JSON with `--json`. Debug builds are slow: one starts itself again as a
/// release build.
pub fn run(arguments: &[String]) -> Result<()> {
    let asked = Asked::of(arguments)?;
    if cfg!(debug_assertions) {
        let mut again = cargo();
        again.args(["run", "--quiet", "--release", "--package", "xtask", "--", "calibrate"]);
        return start(again.args(arguments));
    }
    let seeds: Vec<u64> = (asked.first_seed..).take(usize::try_from(asked.workshops)?).collect();
    if seeds.iter().any(|seed| LOOKED_AT.contains(seed)) {
        eprintln!(
            "seeds {LOOKED_AT:?} were looked at while the model was shaped; they prove nothing"
        );
    }
    if asked.curves {
        if let Some(found) = curves::run(&seeds, asked.json)? {
            println!("{}", serde_json::to_string_pretty(&found)?);
        }
        return Ok(());
    }
    if !asked.json {
        println!(
            "{} invented workshops, seeds from {}; every cell of a chart of 180 sizes under 4 \
             blades;\n{HELD_OUT} coils held out of each; standard errors over workshops in brackets\n",
            asked.workshops, asked.first_seed
        );
        println!("{HEADING}\n{RULE}");
    }
    let mut rows = Vec::new();
    for trials in &asked.sizes {
        let row = calibrate(&seeds, *trials, 1, HELD_OUT)?;
        if !asked.json {
            println!("{}", line(&row));
        }
        rows.push(as_json(&row));
    }
    if asked.json {
        let report = json!({ "first_seed": asked.first_seed, "sizes": rows });
        println!("{}", serde_json::to_string_pretty(&report)?);
        return Ok(());
    }
    println!("\n{LEGEND}");
    Ok(())
}

impl Asked {
    /// `--workshops N`, `--sizes 20,60`, `--first-seed N`, `--curves`, `--json`.
    fn of(arguments: &[String]) -> Result<Asked> {
        let mut asked = Asked {
            workshops: WORKSHOPS,
            sizes: SIZES.to_vec(),
            first_seed: FIRST_SEED,
            json: false,
            curves: false,
        };
        let mut words = arguments.iter();
        while let Some(word) = words.next() {
            let mut value = || words.next().with_context(|| format!("{word} takes a value"));
            match word.as_str() {
                "--workshops" => asked.workshops = value()?.parse()?,
                "--sizes" => {
                    let sizes = value()?.split(',').map(str::parse::<usize>);
                    asked.sizes = sizes.collect::<Result<_, _>>()?;
                }
                "--first-seed" => asked.first_seed = value()?.parse()?,
                "--json" => asked.json = true,
                "--curves" => asked.curves = true,
                _ => bail!(
                    "`{word}` is not known; there are --workshops N, --sizes N,N, --first-seed N, \
                     --curves, --json"
                ),
            }
        }
        ensure!(asked.workshops >= 2, "two workshops at least: one has no standard error");
        Ok(asked)
    }
}

const HEADING: &str = "| trials | 80 % band covers | in whole % | 95 % band covers | width 80 % | \
    RMSE | Brier | log score | called good: are | called poor: are | untried |";
const RULE: &str = "| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |";
const LEGEND: &str = "\
covers: share of cells whose true long-run good share lies in the band; in whole %: the same with
truth and band as a chart prints them. RMSE of the believed mean of the good share. Brier score of
\"at least 90 % good\". Log score: less the log chance of a held-out coil's good rings, nats a coil.
Called good: at least 90 % good rings believed with 90 %; poor: less than 90 % believed with 90 %.";

fn line(row: &CalibrationRow) -> String {
    let Figure { mean: untried, .. } = row.untried;
    [
        row.trials.to_string(),
        figure(row.covered_80),
        figure(row.covered_80_printed),
        figure(row.covered_95),
        figure(row.width_80),
        figure(row.rmse),
        figure(row.brier),
        figure(row.log_score),
        called(row.good),
        called(row.poor),
        format!("{untried:.2}"),
    ]
    .into_iter()
    .fold("|".to_owned(), |line, cell| format!("{line} {cell} |"))
}

/// Three decimals, and the error in the last of them.
fn figure(figure: Figure) -> String {
    format!("{:.3} ({:.0})", figure.mean, figure.standard_error * 1e3)
}

fn called(called: Called) -> String {
    if called.called == 0 {
        return "none".to_owned();
    }
    let share = f64::from(called.right) / f64::from(called.called);
    format!("{:.1} % of {}", 100.0 * share, called.called)
}

fn as_json(row: &CalibrationRow) -> Value {
    let figure = |figure: Figure| json!({ "mean": figure.mean, "se": figure.standard_error });
    let called = |called: Called| json!({ "called": called.called, "right": called.right });
    json!({
        "trials": row.trials,
        "workshops": row.workshops,
        "covered_80": figure(row.covered_80),
        "covered_80_printed": figure(row.covered_80_printed),
        "covered_95": figure(row.covered_95),
        "width_80": figure(row.width_80),
        "rmse": figure(row.rmse),
        "brier_90": figure(row.brier),
        "log_score_nats_per_coil": figure(row.log_score),
        "called_good": called(row.good),
        "called_poor": called(row.poor),
        "untried": figure(row.untried),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(words: &[&str]) -> Result<Asked> {
        Asked::of(&words.iter().map(ToString::to_string).collect::<Vec<_>>())
    }

    #[test]
    fn words_are_read_and_others_refused() {
        let all = asked(&["--sizes", "20,60", "--workshops", "8", "--first-seed", "7", "--json"]);
        let wanted =
            Asked { workshops: 8, sizes: vec![20, 60], first_seed: 7, json: true, curves: false };
        assert_eq!(all.unwrap(), wanted);
        for wrong in [&["--size"] as &[&str], &["--sizes", "x"], &["--json", "--workshops"]] {
            assert!(asked(wrong).is_err(), "{wrong:?}");
        }
        assert!(asked(&["--workshops", "1"]).is_err());
    }

    #[test]
    fn a_figure_has_its_error_in_the_last_digit() {
        assert_eq!(figure(Figure { mean: 0.8123, standard_error: 0.0121 }), "0.812 (12)");
        assert_eq!(called(Called { called: 0, right: 0 }), "none");
        assert_eq!(called(Called { called: 200, right: 197 }), "98.5 % of 200");
    }
}
