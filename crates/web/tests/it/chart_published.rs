//! The learned chart as a version for a wall or a class, and its files.

use axum::body::Body;
use axum::http::{Request, StatusCode};
use http_body_util::BodyExt;
use linkwright_answers::chart::{read_cells, read_trials, trial_columns};
use linkwright_calc::metal::Catalogue;
use linkwright_store::records::{Handout, Holder};
use linkwright_store::spreadsheet::read;
use linkwright_store::trials::import::guess;
use linkwright_store::{Act, StoreError};
use tower::ServiceExt;

use crate::bench::Bench;
use crate::chart_others::count_a_coil;
use crate::necklace::in_hand;

/// The necklace's bench with one coil counted, and version 1 of its chart.
async fn published() -> Bench {
    let bench = Bench::new();
    in_hand(&bench);
    count_a_coil(&bench);
    make(&bench, 1).await;
    bench
}

async fn make(bench: &Bench, version: u32) {
    let chart = bench.get("/chart").await;
    let field =
        |name: &str| chart.attribute(&format!("form[method=post] input[name={name}]"), "value");
    let (metal, temper) = (field("metal"), field("temper"));
    let fields = [("kind", "blade-chart"), ("metal", metal.as_str()), ("temper", temper.as_str())];
    let answer = bench.submit("/chart", "/handouts", &fields).await;
    let wanted = format!("/handouts/{version}");
    assert_eq!(answer.location.as_deref(), Some(wanted.as_str()), "{}", answer.text);
}

/// A file of version 1: its kind and its bytes.
async fn file(bench: &Bench, name: &str) -> (String, Vec<u8>) {
    let request = Request::get(format!("/handouts/1/file/{name}"));
    let request = request.header("host", "127.0.0.1:8040").body(Body::empty()).expect("a request");
    let router = linkwright_web::app(bench.app.clone());
    let got = router.oneshot(request).await.expect("answered");
    assert_eq!(got.status(), StatusCode::OK, "{name}");
    let media = got.headers()["content-type"].to_str().expect("text").to_owned();
    (media, got.into_body().collect().await.expect("whole").to_bytes().to_vec())
}

async fn text(bench: &Bench, name: &str) -> String {
    String::from_utf8(file(bench, name).await.1).expect("text")
}

#[tokio::test]
async fn a_version_says_its_date_its_trials_and_what_is_worked_out_and_names_nobody() {
    let bench = published().await;
    let page = bench.get("/handouts/1").await;
    assert_eq!(page.words(".edition"), ["Version 1, 2026-11-25, 1 trial"]);
    let sheet = page.words(".handout").join(" ");
    assert!(sheet.contains("geometry and 1 trial of this workshop"), "{sheet}");
    assert!(sheet.contains("worked out, not tried") && sheet.contains("1 coil tried"), "{sheet}");
    assert!(sheet.contains("Handpiece separated from the drive"), "{sheet}");
    for form in ["chart.html", "chart.csv", "chart.json"] {
        let text = text(&bench, form).await;
        assert!(text.contains("Version 1") && text.contains("2026-11-25"), "{form}: {text}");
        for hidden in ["Rosalind", "EUR", "GBP", "USD"] {
            assert!(!text.contains(hidden), "{form} shows {hidden}");
        }
    }
    let kept = &bench.all::<Handout>()[0].record;
    assert!(!kept.content.contains("Rosalind"), "{}", kept.content);
}

#[tokio::test]
async fn an_old_version_stays_as_it_was_in_every_file() {
    let bench = published().await;
    let before = text(&bench, "chart.csv").await;
    count_a_coil(&bench);
    make(&bench, 2).await;
    assert_eq!(text(&bench, "chart.csv").await, before);
    let second = bench.get("/handouts/2").await;
    assert_eq!(second.words(".edition"), ["Version 2, 2026-11-25, 2 trials"]);
    let list = bench.get("/handouts").await.words("tbody").join(" ");
    assert!(list.contains("version 1") && list.contains("version 2"), "{list}");
}

#[tokio::test]
async fn the_tables_are_read_back_by_our_own_readers() {
    let bench = published().await;
    let metals = Catalogue::built_in();
    let csv = text(&bench, "chart.csv").await;
    let cells = read_cells("chart.csv", &csv, &metals).expect("cells");
    assert_eq!(cells.len(), csv.lines().count() - 1);
    let (media, xlsx) = file(&bench, "chart.xlsx").await;
    assert!(media.contains("spreadsheetml"), "{media}");
    let book = read(&xlsx).expect("a spreadsheet");
    let names: Vec<&str> = book.sheets.iter().map(|sheet| sheet.name.as_str()).collect();
    assert_eq!(names, ["Chart", "About"]);
    let wires: Vec<&str> = book.sheets[0].rows.iter().map(|row| row[0].as_str()).collect();
    let lines: Vec<&str> =
        csv.lines().map(|line| line.split(',').next().expect("a cell")).collect();
    assert_eq!(wires, lines);
    assert!(book.sheets[1].rows.iter().any(|row| row[0].contains("Version 1")));
}

#[tokio::test]
async fn a_student_gets_an_empty_sheet_of_trials_that_comes_back_in() {
    let bench = published().await;
    let headings: Vec<&str> = trial_columns().collect();
    let csv = text(&bench, "trials.csv").await;
    assert_eq!(csv.trim(), headings.join(","));
    assert_eq!(read_trials("trials.csv", &csv, &Catalogue::built_in()), Ok(Vec::new()));
    let book = read(&file(&bench, "student.xlsx").await.1).expect("a spreadsheet");
    assert_eq!(book.sheets[0].name, "Trials");
    assert_eq!(
        book.sheets[0].rows,
        [headings.iter().map(|name| (*name).to_owned()).collect::<Vec<_>>()]
    );
    // The app's own import knows the columns it keeps.
    let known: Vec<&str> = headings.iter().filter_map(|heading| guess(heading).field).collect();
    for field in [
        "wire",
        "rod",
        "blade",
        "metal",
        "temper",
        "turns_wound",
        "good",
        "uncut",
        "nicked",
        "crushed",
    ] {
        assert!(known.contains(&field), "{field}: {known:?}");
    }
}

#[tokio::test]
async fn the_sheets_are_printed_on_both_papers() {
    let bench = published().await;
    for name in ["a4.pdf", "student-letter.pdf"] {
        let (media, bytes) = file(&bench, name).await;
        assert_eq!(media, "application/pdf", "{name}");
        assert!(bytes.starts_with(b"%PDF"), "{name}");
    }
    assert_eq!(bench.get("/handouts/1/file/chart.doc").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn without_a_chart_there_is_nothing_to_publish_and_it_says_why() {
    let bench = Bench::new();
    in_hand(&bench);
    let holder = bench.all::<Holder>().remove(0);
    let unmeasured = Holder { projection_blade_id: None, projection_typed: None, ..holder.record };
    let now = bench.app.clock().now();
    let change = |act: &Act<'_>| act.change(holder.id, &unmeasured);
    bench.app.store().act::<_, StoreError>(now, "Holder for a test", change).expect("saved");
    let answer = bench.submit("/handouts", "/handouts", &[("kind", "blade-chart")]).await;
    assert!(answer.status.is_client_error());
    assert!(answer.text.contains("projection measured with a holder"), "{}", answer.text);
    assert!(bench.all::<Handout>().is_empty());
}
