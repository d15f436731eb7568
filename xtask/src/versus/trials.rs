//! Our learning beside other ways to learn from the same trials of the same invented workshops:
//! scores as well as times.

use std::path::PathBuf;

use anyhow::{Context, Result, bail};
use linkwright_trials::{Cell, Learned, Prior, Scores, TrialRow, Workshop, score};
use serde_json::{Value, json};

use super::columns::{self, Names};
use super::peers::PEERS;
use super::stopwatch;
use crate::process::target;

const SIZES: [usize; 3] = [20, 200, 2000];
const FIRST_SEED: u64 = 501;
const WORKSHOPS: u64 = 3;
const HELD_OUT: usize = 200;
/// Times ours is repeated for its time; the best is told.
const REPEATS: usize = 3;

/// One learner's means over the workshops; nothing where it does not give such a score.
#[derive(Default)]
struct Line {
    seconds: Vec<f64>,
    scores: [Vec<f64>; 4],
}

/// What is asked of a score, in the order of the table.
const SCORES: [(&str, &str); 4] =
    [("covered_80", "covers 80"), ("rmse", "RMSE"), ("brier", "Brier"), ("log_score", "log score")];

/// Prints a table per size; `--slow` runs the slow peers at every size, `--workshops N` more of
/// them, `--sizes N,N` others.
pub fn run(arguments: &[String]) -> Result<()> {
    let (mut slow, mut workshops, mut sizes) = (false, WORKSHOPS, SIZES.to_vec());
    let mut words = arguments.iter();
    while let Some(word) = words.next() {
        let mut value = || words.next().with_context(|| format!("{word} takes a value"));
        match word.as_str() {
            "--slow" => slow = true,
            "--workshops" => workshops = value()?.parse()?,
            "--sizes" => {
                sizes = value()?.split(',').map(str::parse).collect::<Result<_, _>>()?;
            }
            _ => bail!("`{word}` is not known; there are --slow, --workshops N and --sizes N,N"),
        }
    }
    println!(
        "{workshops} invented workshops, seeds from {FIRST_SEED}; 720 cells, {HELD_OUT} coils held out"
    );
    for trials in sizes {
        println!("\n{trials} trials\n{:<28} {:>9} {}", "", "seconds", heading());
        let mut ours = Line::default();
        let mut questions = Vec::new();
        for seed in (FIRST_SEED..).take(usize::try_from(workshops)?) {
            let workshop = Workshop::new(seed)?;
            ours.take_ours(&workshop, trials)?;
            questions.push(written(&workshop, seed, trials)?);
        }
        println!("{:<28} {ours}", "ours");
        for peer in &PEERS {
            if trials > peer.trials_most && !slow {
                println!("{:<28} not run", peer.name);
                continue;
            }
            let mut line = Line::default();
            for question in &questions {
                match peer.answer(question) {
                    Ok(answer) => line.take(&answer),
                    Err(error) => eprintln!("{}: {error:#}", peer.name),
                }
            }
            println!("{:<28} {line}", peer.name);
        }
    }
    println!("\n{LEGEND}");
    Ok(())
}

const LEGEND: &str = "\
seconds: wall clock of learning and of answering for every cell, the mean of the workshops (ours: best
of three each); the start of Python is not counted, compiling within NUTS is. Covers 80: share of cells
whose true good share lies in the 80 % band. Brier: of \"at least 90 % good\". Log score: nats a coil.
The GP classifier learns \"this coil gave 90 %\" and has no good share. statsmodels has no beta-binomial
regression: that line is its likelihood maximised by scipy, with a ridge of sd 2.5, else it does not end.";

fn heading() -> String {
    SCORES.iter().map(|(_, name)| format!("{name:>10}")).collect()
}

impl Line {
    fn take(&mut self, answer: &Value) {
        self.seconds.extend(answer["seconds"].as_f64());
        for (values, (key, _)) in self.scores.iter_mut().zip(SCORES) {
            values.extend(answer[key].as_f64());
        }
    }

    fn take_ours(&mut self, workshop: &Workshop, trials: usize) -> Result<()> {
        let (rows, cells) = (workshop.trials(trials)?, workshop.chart()?);
        let seconds = (0..REPEATS)
            .map(|_| {
                let (took, _) =
                    stopwatch(|| Learned::fit(&rows, &Prior::geometry()).beliefs(&cells, 1));
                took.as_secs_f64()
            })
            .fold(f64::INFINITY, f64::min);
        self.seconds.push(seconds);
        let Scores { covered_80, rmse, brier, log_score, .. } =
            score(workshop, trials, 1, HELD_OUT)?;
        for (values, value) in self.scores.iter_mut().zip([covered_80, rmse, brier, log_score]) {
            values.push(value);
        }
        Ok(())
    }
}

impl std::fmt::Display for Line {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let mean = |values: &[f64]| {
            let count = u32::try_from(values.len()).map_or(f64::NAN, f64::from);
            values.iter().sum::<f64>() / count
        };
        if self.seconds.is_empty() {
            return write!(f, "failed");
        }
        write!(f, "{:>9.3} ", mean(&self.seconds))?;
        for values in &self.scores {
            match values.as_slice() {
                [] => write!(f, "{:>10}", "-")?,
                values => write!(f, "{:>10.3}", mean(values))?,
            }
        }
        Ok(())
    }
}

/// The question as the peers take it, in a file of its own.
fn written(workshop: &Workshop, seed: u64, trials: usize) -> Result<PathBuf> {
    let (rows, held_out) = (workshop.trials(trials)?, workshop.held_out(HELD_OUT)?);
    let chart = workshop.chart()?;
    let mut asked = chart.clone();
    asked.extend(held_out.iter().map(|row| row.cell().clone()));
    let names = Names::of(&rows, &asked);
    let plain = |cell: &Cell| columns::plain(cell, &names);
    let question = json!({
        "gates": columns::gates(&rows, &asked),
        "cell_of_row": columns::cells(&rows, rows.iter().map(TrialRow::cell)),
        "cell_of_asked": columns::cells(&rows, asked.iter()),
        "plain_rows": rows.iter().map(|row| plain(row.cell())).collect::<Vec<_>>(),
        "plain_asked": asked.iter().map(plain).collect::<Vec<_>>(),
        "good": rows.iter().map(|row| row.counts().good).collect::<Vec<_>>(),
        "rings": rows.iter().map(rings).collect::<Vec<_>>(),
        "truth": chart.iter().map(|cell| workshop.true_good_share(cell)).collect::<Vec<_>>(),
        "held_out_good": held_out.iter().map(|row| row.counts().good).collect::<Vec<_>>(),
        "held_out_rings": held_out.iter().map(rings).collect::<Vec<_>>(),
    });
    let folder = target().join("versus-trials");
    std::fs::create_dir_all(&folder)?;
    let path = folder.join(format!("{seed}-{trials}.json"));
    std::fs::write(&path, serde_json::to_string(&question)?)?;
    Ok(path.canonicalize()?)
}

/// Rings of a coil that no end took.
fn rings(row: &TrialRow) -> u32 {
    let counts = row.counts();
    row.turns() - counts.entry_lost - counts.stop_lost
}
