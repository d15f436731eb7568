//! What following the chart still loses after so many tests, by how the tests were chosen.

use anyhow::Result;
use linkwright_trials::{Figure, Sales, Testing, learning_curve};
use serde_json::{Value, json};

/// Tests done when the loss is looked at.
const TESTS: [usize; 5] = [0, 10, 20, 40, 60];
const SALES: [(&str, Sales); 2] =
    [("all sizes sold alike", Sales::Even), ("popular sizes sold more", Sales::Popular)];
const TESTINGS: [(&str, Testing); 3] = [
    ("random cells", Testing::Random),
    ("widest band", Testing::WidestBand),
    ("try-next", Testing::Worth),
];

/// The table, printed as it comes, or its numbers.
pub fn run(seeds: &[u64], as_json: bool) -> Result<Option<Value>> {
    let mut all = Vec::new();
    if !as_json {
        let columns = TESTS.map(|tests| format!(" {tests} |")).concat();
        println!(
            "| sold | tests chosen by |{columns}\n| --- | --- |{}",
            " ---: |".repeat(TESTS.len())
        );
    }
    for (sold, sales) in SALES {
        for (chosen, testing) in TESTINGS {
            let curve = learning_curve(seeds, testing, sales, &TESTS)?;
            if !as_json {
                println!("| {sold} | {chosen} |{}", curve.iter().map(cell).collect::<String>());
            }
            let means: Vec<f64> = curve.iter().map(|figure| figure.mean).collect();
            let errors: Vec<f64> = curve.iter().map(|figure| figure.standard_error).collect();
            all.push(json!({ "sold": sold, "chosen_by": chosen, "tests": TESTS, "lost": means, "se": errors }));
        }
    }
    if as_json {
        return Ok(Some(json!(all)));
    }
    println!("\n{LEGEND}");
    Ok(None)
}

const LEGEND: &str = "\
Good rings lost per turn, in thousandths, by following the chart instead of the truth, weighed by what
is sold; eight trials of the workshop first, then so many test coils of twenty turns.";

fn cell(figure: &Figure) -> String {
    format!(" {:.1} ({:.1}) |", figure.mean * 1e3, figure.standard_error * 1e3)
}
