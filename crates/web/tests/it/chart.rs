//! The blade chart that learns: cells, reasons, and what one more trial does.

use std::time::Duration;

use axum::http::StatusCode;
use linkwright_store::records::{Holder, Trial, Workshop};
use linkwright_store::{Act, StoreError};
use linkwright_web::sample::{Large, enlarge};

use crate::bench::{Answer, Bench};
use crate::necklace::in_hand;

/// The small blade of the necklace's workshop.
const BLADE: &str = "small, thin";

/// The necklace's workshop; its one trial counted no rings.
pub fn bench() -> Bench {
    let bench = Bench::new();
    in_hand(&bench);
    bench
}

/// A trial typed in: every turn of the coil counted.
pub async fn tried(bench: &Bench, good: &str, nicked: &str) {
    let fields = [
        ("tried_on", "2026-11-20"),
        ("metal", "sterling"),
        ("temper", "soft"),
        ("annealed", "no"),
        ("wire", "1.02 mm"),
        ("rod", "4.00 mm"),
        ("blade", BLADE),
        ("projection", "1.50 mm"),
        ("turns_relaxed", "60"),
        ("blade_event", "none"),
        ("good", good),
        ("uncut", "2"),
        ("nicked", nicked),
        ("crushed", "0"),
        ("outcome", "good"),
    ];
    let answer = bench.submit("/trials/new", "/trials/new", &fields).await;
    assert!(answer.status.is_redirection(), "{:?}", answer.words(".complaint"));
}

#[tokio::test]
async fn without_trials_the_chart_is_geometry_and_says_so() {
    let bench = bench();
    let page = bench.get("/chart").await;
    assert!(page.words(".lead")[0].contains("geometry alone"), "{:?}", page.words(".lead"));
    let cells = page.words("a.cell");
    assert!(!cells.is_empty() && cells.iter().all(|cell| cell.contains("not tried here")));
    assert!(cells.iter().any(|cell| cell.contains(BLADE)), "{cells:?}");
}

#[tokio::test]
async fn without_a_measured_projection_the_chart_says_what_to_measure() {
    let bench = bench();
    let holder = bench.all::<Holder>().remove(0);
    let unmeasured = Holder { projection_blade_id: None, projection_typed: None, ..holder.record };
    let now = bench.app.clock().now();
    let change = |act: &Act<'_>| act.change(holder.id, &unmeasured);
    bench.app.store().act::<_, StoreError>(now, "Holder for a test", change).expect("saved");
    let page = bench.get("/chart").await;
    assert!(page.words("a.cell").is_empty());
    assert!(
        page.words(".empty")[0].contains("Measure the projection"),
        "{:?}",
        page.words(".empty")
    );
}

#[tokio::test]
async fn a_trial_moves_its_cell_and_the_reasons_tell_it() {
    let bench = bench();
    let cell = "/chart/cell?wire=1.0200&rod=4.0000&metal=sterling_925&temper=soft";
    let before = bench.get(cell).await;
    assert!(before.text.contains("not tried here"));
    for _ in 0..3 {
        tried(&bench, "20", "36").await;
    }
    assert_eq!(bench.all::<Trial>().len(), 4);
    let after = bench.get(cell).await;
    let share = |page: &Answer| -> f64 {
        let words = page.words("section p b");
        words[0].split(' ').next().expect("a share").parse().expect("a number")
    };
    assert!(share(&after) + 10.0 < share(&before), "{} {}", share(&after), share(&before));
    let told = after.words("details li").join(" ");
    assert!(told.contains("From the 3 coils tried here: odds"), "{told}");
    assert!(
        after.words(".chip").iter().any(|chip| chip == "3 coils tried"),
        "{:?}",
        after.words(".chip")
    );
    let chart = bench.get("/chart?view=tried").await;
    assert!(chart.words("a.cell").iter().any(|cell| cell.contains("3 coils")));
}

#[tokio::test]
async fn a_cell_without_a_size_is_refused_by_name() {
    let bench = bench();
    let answer = bench.get("/chart/cell?wire=thick&rod=4").await;
    assert!(answer.status.is_client_error());
    assert!(answer.text.contains("wire is"), "{}", answer.text);
}

/// The workshop says what work costs and a ring is worth.
fn priced(bench: &Bench) {
    let habits = bench.all::<Workshop>().remove(0);
    let said = Workshop {
        hour_cost_typed: Some("38 EUR".to_owned()),
        ring_worth_typed: Some("0.20 EUR".to_owned()),
        scrap_paid_typed: Some("80 %".to_owned()),
        ..habits.record
    };
    let now = bench.app.clock().now();
    let change = |act: &Act<'_>| act.change(habits.id, &said);
    bench.app.store().act::<_, StoreError>(now, "Money for a test", change).expect("saved");
}

#[tokio::test]
async fn without_amounts_a_decision_says_what_it_assumes_and_with_them_what_a_ring_costs() {
    let bench = bench();
    let cell = "/chart/cell?wire=1.0200&rod=4.0000&metal=sterling_925&temper=soft";
    let unsaid = bench.get(cell).await;
    assert!(unsaid.text.contains("a coil pays from half its turns on"));
    assert!(!unsaid.text.contains("a good ring costs"));
    priced(&bench);
    let said = bench.get(cell).await;
    assert!(said.text.contains("a good ring costs 0."), "{:?}", said.words("li"));
    assert!(said.text.contains("38 EUR an hour"), "{:?}", said.words(".soft"));
    let chart = bench.get("/chart").await;
    assert!(chart.words("a.cell").iter().any(|cell| cell.contains("EUR a ring")));
}

#[tokio::test]
async fn where_every_blade_spoils_the_rings_the_chart_says_do_not_cut() {
    let bench = bench();
    let cell = "/chart/cell?wire=1.0200&rod=4.0000&metal=sterling_925&temper=soft";
    let used = bench.get(cell).await;
    assert!(used.words("p.decision")[0].starts_with("Use "), "{:?}", used.words("p.decision"));
    for _ in 0..6 {
        tried(&bench, "1", "56").await;
    }
    let given_up = bench.get(cell).await;
    let decision = &given_up.words("p.decision")[0];
    assert!(decision.starts_with("Do not cut this here"), "{decision}");
    let chart = bench.get("/chart?metal=sterling_925&temper=soft").await;
    let cells = chart.words("a.cell");
    assert!(cells.iter().any(|cell| cell.contains("do not cut this here")), "{cells:?}");
}

#[tokio::test]
async fn a_plan_of_test_coils_says_why_each_and_today_names_the_first() {
    let bench = bench();
    priced(&bench);
    let page = bench.get("/chart/next").await;
    let coils = page.words("table.to-try tbody tr");
    assert!((1..=10).contains(&coils.len()), "{:?}", page.words("p"));
    assert!(coils[0].contains("could change the blade"), "{}", coils[0]);
    assert!(coils[0].contains("EUR"), "{}", coils[0]);
    assert!(!page.words("details.caution li").is_empty(), "cautions ride with the step");
    let first = page.words("table.to-try tbody td a");
    // Today does not wait for it: it names it as soon as it is found, and never what is not worth it.
    let worth_it = !coils[0].contains("costs more than it tells");
    let mut today = bench.get("/").await;
    for _ in 0..100 {
        if today.text.contains(&first[0]) {
            break;
        }
        tokio::time::sleep(Duration::from_millis(if worth_it { 100 } else { 10 })).await;
        today = bench.get("/").await;
    }
    assert_eq!(today.text.contains(&first[0]), worth_it);
}

#[tokio::test]
async fn a_cell_off_the_chart_is_refused_with_its_size_and_the_limits() {
    let bench = bench();
    for (address, wanted) in [
        ("wire=3&rod=4", "wire is 3 mm; the chart goes from 0.400 mm (0.0157 in) to 2.100 mm"),
        ("wire=1&rod=15.5", "rod is 15.5 mm; the chart goes from 2.000 mm"),
    ] {
        let answer = bench.get(&format!("/chart/cell?{address}")).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND);
        assert!(answer.text.contains(wanted), "{}", answer.text);
    }
}

#[tokio::test]
async fn from_thousands_of_trials_it_learns_beside_the_pages_and_shows_what_it_knew_meanwhile() {
    let bench = bench();
    let now = bench.app.clock().now();
    let large = Large { trials: 3_000, batches: 0, today: bench.app.clock().today() };
    let add = |act: &Act<'_>| enlarge(act, large);
    bench.app.store().act(now, "Thousands", add).expect("saved");
    let first = bench.get("/chart").await;
    assert_eq!(first.status, StatusCode::ACCEPTED);
    assert_eq!(first.refresh.as_deref(), Some("2"));
    assert!(first.text.contains("Being worked out"));
    // Whatever needs no lessons is answered meanwhile.
    assert_eq!(bench.get("/trials").await.status, StatusCode::OK);
    let (chart, asked) = bench.once_there("/chart").await;
    assert_eq!(chart.status, StatusCode::OK);
    assert!(asked > 0 || !chart.words("a.cell").is_empty());
    let known = |page: &Answer| page.words(".lead")[0].clone();
    let before = known(&chart);
    assert!(!chart.text.contains("http-equiv=\"refresh\""));
    tried(&bench, "20", "36").await;
    // The next look begins to learn and shows what was known; it follows by itself.
    let meanwhile = bench.get("/chart").await;
    assert_eq!((meanwhile.status, known(&meanwhile)), (StatusCode::OK, before.clone()));
    assert!(meanwhile.text.contains("what was known before the last entry"));
    assert_eq!(meanwhile.attribute("meta[http-equiv=refresh]", "content"), "3");
    for _ in 0..600 {
        let page = bench.get("/chart").await;
        if !page.text.contains("before the last entry") {
            assert_ne!(known(&page), before);
            return;
        }
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    panic!("the last trial is never learned from");
}

#[tokio::test]
async fn a_trial_tells_what_it_changed_in_the_chart() {
    let bench = bench();
    for _ in 0..3 {
        tried(&bench, "50", "6").await;
    }
    let last = bench.all::<Trial>().pop().expect("a trial").id;
    let trial = bench.get(&format!("/trials/{last}")).await;
    assert!(trial.text.contains(&format!("/chart/moved/{last}")));
    let moved = bench.get(&format!("/chart/moved/{last}")).await;
    let told = moved.words("main p");
    assert!(told.iter().any(|line| line.contains("it gave 50")), "{told:?}");
    assert!(told.iter().any(|line| line.contains("believed")), "{told:?}");
    tried(&bench, "1", "56").await;
    let bad = bench.all::<Trial>().pop().expect("a trial").id;
    let told = bench.get(&format!("/chart/moved/{bad}")).await.words("main p");
    assert!(told.iter().any(|line| line.contains("more rings were nicked or bent")), "{told:?}");
    // The necklace's first trial counted no rings.
    let first = bench.all::<Trial>().remove(0).id;
    let told = bench.get(&format!("/chart/moved/{first}")).await.words("main p");
    assert!(told.iter().any(|line| line.contains("does not learn from this trial")), "{told:?}");
}
