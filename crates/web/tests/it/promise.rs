//! How many coils for so many rings, asked under a cell of the chart.

use crate::bench::Answer;
use crate::chart::{bench, tried};

const CELL: &str = "/chart/cell?wire=1.0200&rod=4.0000&metal=sterling_925&temper=soft";

/// The answer of the small blade: its coils, chance, rings as good as sure, rings to expect, basis.
fn small_blade(page: &Answer) -> String {
    let rows = page.words("#coils tbody tr");
    rows.into_iter().find(|row| row.starts_with("small, thin")).expect("its row")
}

/// The number of coils in such an answer.
fn coils(row: &str) -> u32 {
    let after = row.trim_start_matches("small, thin").trim_start();
    let digits: String = after.chars().take_while(char::is_ascii_digit).collect();
    let full: u32 = digits.parse().expect("a number");
    if row.contains("turns and 1 of") { full + 1 } else { full }
}

#[tokio::test]
async fn coils_for_rings_follow_from_what_was_tried() {
    let bench = bench();
    let page = bench.get(CELL).await;
    assert!(page.words("#coils table").is_empty(), "nothing was asked");
    let turns: u32 = page.attribute("#coils input[name=turns]", "value").parse().expect("turns");
    assert!((40..60).contains(&turns), "60 mm of holder and wire of 1.02 mm: {turns}");

    let asked = format!("{CELL}&rings=118&turns=45");
    // Without a trial nobody knows whether the blade cuts at all: that takes a great many.
    let row = small_blade(&bench.get(&asked).await);
    assert!(row.ends_with("geometry alone") && coils(&row) > 20, "{row}");
    for _ in 0..3 {
        tried(&bench, "57", "1").await;
    }
    let known = bench.get(&asked).await;
    let row = small_blade(&known);
    // 45 turns are at most 45 rings; three coils that gave 57 of 60 leave little doubt.
    assert!(row.ends_with("tried here 3 coils") && (3..=5).contains(&coils(&row)), "{row}");
    for _ in 0..2 {
        tried(&bench, "30", "28").await;
    }
    let worse = small_blade(&bench.get(&asked).await);
    assert!(coils(&worse) > coils(&row), "two bad coils ask for more: {worse}");
    let headings = known.words("#coils thead").join(" ");
    assert!(headings.contains("Chance of 118") && headings.contains("95 % sure of"), "{headings}");
}

#[tokio::test]
async fn a_count_that_is_none_is_refused_beside_its_field() {
    let bench = bench();
    let page = bench.get(&format!("{CELL}&rings=many&turns=45")).await;
    let said = page.words("#rings-about .complaint").join(" ");
    assert_eq!(said, "rings is \"many\"; it must be a whole number from 1 to 100000");
    assert!(page.words("#coils table").is_empty());
    assert_eq!(page.attribute("#coils input[name=turns]", "value"), "45");
}
