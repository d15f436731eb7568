//! The blade chart that learns: cells, reasons, and what one more trial does.

use linkwright_store::records::{Holder, Trial};
use linkwright_store::{Act, StoreError};

use crate::bench::{Answer, Bench};
use crate::necklace::in_hand;

/// The small blade of the necklace's workshop.
const BLADE: &str = "small, thin";

/// The necklace's workshop; its one trial counted no rings.
fn bench() -> Bench {
    let bench = Bench::new();
    in_hand(&bench);
    bench
}

/// A trial typed in: every turn of the coil counted.
async fn tried(bench: &Bench, good: &str, nicked: &str) {
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
