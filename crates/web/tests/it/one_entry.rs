//! What is entered once at the bench: the blade chart, the next plans, the coils still to make and
//! the springback of the lot all follow.

use linkwright_store::records::{RingOrder, Run, Trial};
use linkwright_store::{Id, StoreError};

use crate::bench::Bench;
use crate::examples;
use crate::runs::{Window, check_blade, to_winding};

/// The blade of the examples, over their wire and rod.
const CELL: &str = "/chart/cell?wire=1.0200&rod=4.0000&metal=sterling_925&temper=annealed";

/// The examples' workshop with two orders for the same necklace; a run of the first is started.
async fn two_orders() -> (Bench, Id<Run>) {
    let bench = Bench::new();
    let now = bench.app.clock().now();
    let added = bench.app.store().act::<_, StoreError>(now, "Set up", |act| {
        examples::add_workshop(act, "bench.toml");
        let first = examples::add_order(act, "necklace.toml");
        let named = RingOrder { name: "The first".to_owned(), ..act.get(first)? };
        act.change(first, &named)?;
        examples::add_order(act, "necklace.toml");
        Ok(first)
    });
    let first = added.expect("saved");
    let from = format!("/orders/{first}/sheet");
    let started = bench.submit(&from, &from, &[("line", "1")]).await;
    assert!(started.status.is_redirection());
    (bench, Id::new(1))
}

/// From winding a coil to its counts: `good` of its 45 turns, two lost at the ends, three at the
/// stop, the rest nicked.
async fn made(window: &mut Window<'_>, good: u32) {
    window.tap("wound:all").await;
    window.tap("off").await;
    if window.heading() == "Fit and check the blade" {
        check_blade(window).await;
    }
    window.tap("clamped").await;
    window.tap("slit").await;
    window.tap("count:uncut+1").await;
    window.tap("count:uncut+1").await;
    window.tap("count:uncut+1").await;
    for (count, rings) in [("good", good), ("nicked", 40 - good)] {
        for _ in 0..rings / 10 {
            window.tap(&format!("count:{count}+10")).await;
        }
        for _ in 0..rings % 10 {
            window.tap(&format!("count:{count}+1")).await;
        }
    }
    window.tap("counted").await;
}

/// Words of the second order's sheet between two others.
async fn of_other_sheet(bench: &Bench, from: &str, to: &str) -> String {
    let words = bench.get("/orders/2/sheet").await.words("main").join(" ");
    let start = words.find(from).unwrap_or_else(|| panic!("no {from}"));
    let end = words[start..].find(to).unwrap_or_else(|| panic!("no {to} after {from}"));
    words[start..start + end].to_owned()
}

#[tokio::test]
async fn a_coil_counted_and_ten_rings_read_once_change_chart_plan_and_springback() {
    let (bench, run) = two_orders().await;
    let lot = "/workshop/lots/1";
    let chart = bench.get(CELL).await;
    assert!(chart.words(".chip").iter().all(|chip| chip == "not tried here"), "{CELL}");
    let odds = of_other_sheet(&bench, "Odds of enough", "Opens").await;
    assert!(odds.contains("not known, no rings counted yet"), "{odds}");
    let rings_before = bench.get(lot).await.words("table").join(" ");

    let mut window = Window::on(&bench, run).await;
    to_winding(&mut window).await;
    made(&mut window, 40).await;
    window.tap("go:measure").await;
    for hundredths in [31, 30, 32, 29, 31, 30, 30, 32, 31, 30] {
        window.tap_with("reading", &[("typed", &format!("4.{hundredths}"))]).await;
    }

    // The blade chart: one coil tried under the one blade, none under the other.
    let chart = bench.get(CELL).await;
    let chips = chart.words(".chip");
    assert!(chips.iter().any(|chip| chip.starts_with("1 coil tried")), "{chips:?}");
    assert!(chips.iter().any(|chip| chip == "not tried here"), "{chips:?}");
    // Another order's run sheet: coils and odds are those of what was tried.
    let odds = of_other_sheet(&bench, "Odds of enough", "Opens").await;
    assert!(odds.contains("tried here 1 coil") && odds.contains("95 % sure of"), "{odds}");
    let lost = of_other_sheet(&bench, "Lost on each coil", "Clamp").await;
    assert!(lost.contains("tried once"), "{lost}");
    // The springback of the lot, and with it the ring of the other order.
    let rings = bench.get(lot).await.words("table").join(" ");
    assert_ne!(rings, rings_before);
    assert!(rings_before.contains("mm") && rings.contains("mm"), "{rings}");
    let open = of_other_sheet(&bench, "Inside, open", "4 rings of 5").await;
    assert!(open.contains("4.223 mm") && open.contains("tried 2 times"), "{open}");
    // Entered once: one trial of one coil.
    let own = |trial: &&linkwright_store::Saved<Trial>| trial.record.run_id == Some(run);
    assert_eq!(bench.all::<Trial>().iter().filter(own).count(), 1);
}

#[tokio::test]
async fn after_each_coil_the_bench_says_how_many_more_it_takes() {
    let (bench, run) = two_orders().await;
    let mut window = Window::on(&bench, run).await;
    to_winding(&mut window).await;
    assert_eq!(window.shows(".more"), "", "nothing is counted yet");
    made(&mut window, 39).await;
    let more = window.shows(".more");
    assert!(more.starts_with("39 good so far, of 118."), "{more}");
    assert!(more.contains("more coils of 47 turns wound") && more.contains("sure of all 118"));
    assert!(more.contains("The sheet has 2 left to wind.") && more.contains("tried here 1 coil"));
    window.tap("turns:+1").await;
    assert_eq!(window.shows(".more"), "", "the coil is being wound");
    window.tap("turns:-1").await;
    // A bad coil: more are needed than after a good one, and than the sheet has.
    made(&mut window, 15).await;
    let after_bad = window.shows(".more");
    assert!(after_bad.starts_with("54 good so far, of 118."), "{after_bad}");
    assert!(coils(&after_bad) >= coils(&more), "{more} {after_bad}");
    made(&mut window, 30).await;
    // All of the sheet's coils are made; one more is offered and wound.
    assert_eq!(window.heading(), "Measure ten rings");
    let more = window.shows(".more");
    assert!(more.contains("84 good so far") && more.contains("none left to wind"), "{more}");
    let offered = window.shows(".hand");
    assert!(offered.contains("Wind one more coil of 47 turns"), "{offered}");
    window.tap("another:47").await;
    assert!(window.shows(".where").ends_with("coil 4 of 4"), "{}", window.shows(".where"));
    made(&mut window, 40).await;
    assert!(
        window.shows(".more").starts_with("124 good so far, of 118. No more coils are needed.")
    );
    assert_eq!(window.heading(), "Measure ten rings");
}

/// The number of more coils in words such as "39 good so far, of 118. 4 more coils of 47 ...".
fn coils(more: &str) -> u32 {
    let after = more.split(". ").nth(1).expect("a second sentence");
    after.split(' ').next().expect("a word").parse().expect("a number")
}

#[tokio::test]
async fn a_count_put_right_afterwards_puts_its_trial_right() {
    let (bench, run) = two_orders().await;
    let mut window = Window::on(&bench, run).await;
    to_winding(&mut window).await;
    made(&mut window, 38).await;
    window.tap("go:counts:1").await;
    window.tap("count:nicked-1").await;
    window.tap("count:good+1").await;
    let trials = bench.all::<Trial>();
    let trial = &trials.iter().find(|trial| trial.record.run_id == Some(run)).expect("one").record;
    assert_eq!((trial.good, trial.uncut, trial.nicked), (Some(39), Some(3), Some(1)));
}
