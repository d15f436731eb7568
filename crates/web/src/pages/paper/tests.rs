//! Sheets of the sample workshop, asked for as a browser asks and read as a reader reads.

use std::process::Command;

use axum::body::Body;
use axum::http::{Request, StatusCode};
use http_body_util::BodyExt;
use linkwright_store::records::{Batch, FrozenSheet, LineKind, OrderLine, RingOrder, Trial};
use linkwright_store::{Moment, Record, Saved, Store};
use tower::ServiceExt;

use crate::error::PageError;
use crate::{App, Clock, app};

struct Sample {
    app: App,
    folder: tempfile::TempDir,
}

struct Answer {
    status: StatusCode,
    kind: String,
    file: String,
    body: Vec<u8>,
}

impl Sample {
    fn new() -> Sample {
        let folder = tempfile::tempdir().expect("a folder");
        let store = Store::open(&folder.path().join("bench.linkwright")).expect("opens");
        let now = Moment::parse("2026-11-25T08:30:00Z").expect("a moment");
        store
            .act(now, "Filled the sample workshop", |act| crate::sample::fill(act, now.date()))
            .unwrap_or_else(|error: PageError| panic!("{error}"));
        Sample { app: App::new(store, Clock::standing_at(now)).expect("an app"), folder }
    }

    fn all<T: Record>(&self) -> Vec<Saved<T>> {
        self.app.store().read(|view| view.all::<T>()).expect("read")
    }

    fn line(&self, kind: LineKind) -> Saved<OrderLine> {
        let lines = self.all::<OrderLine>();
        lines.into_iter().rfind(|line| line.record.kind == kind).expect("such a line")
    }

    async fn get(&self, path: &str) -> Answer {
        let request = Request::get(path).header("host", "127.0.0.1:8040").body(Body::empty());
        let answer = app(self.app.clone()).oneshot(request.expect("a request")).await;
        let answer = answer.expect("answered");
        let header = |name: &str| {
            let value = answer.headers().get(name).and_then(|value| value.to_str().ok());
            value.unwrap_or_default().to_owned()
        };
        let (kind, file) = (header("content-type"), header("content-disposition"));
        let status = answer.status();
        let body = answer.into_body().collect().await.expect("a whole answer").to_bytes();
        Answer { status, kind, file, body: body.to_vec() }
    }

    /// The words of a sheet.
    async fn sheet(&self, path: &str) -> String {
        let answer = self.get(path).await;
        assert_eq!(answer.status, StatusCode::OK, "{}", String::from_utf8_lossy(&answer.body));
        assert_eq!(answer.kind, "application/pdf");
        let file = self.folder.path().join("sheet.pdf");
        std::fs::write(&file, &answer.body).expect("written");
        let read = Command::new("pdftotext").arg(&file).arg("-").output();
        let text = String::from_utf8(read.expect("pdftotext (of poppler)").stdout).expect("UTF-8");
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    }
}

#[tokio::test]
async fn a_line_has_its_run_sheet_under_a_plain_name() {
    let sample = Sample::new();
    let line = sample.line(LineKind::Chain);
    let path = format!("/paper/run-sheet/line/{}?paper=letter", line.id);
    let answer = sample.get(&path).await;
    assert!(answer.file.starts_with("inline; filename=\"run-sheet-"), "{}", answer.file);
    assert!(answer.file.ends_with(".pdf\""), "{}", answer.file);
    let words = sample.sheet(&path).await;
    assert!(words.contains("teeth lubricated") && words.contains(&line.record.name), "{words}");
    let whole = sample.sheet(&format!("/paper/run-sheet/order/{}", line.record.order_id)).await;
    assert!(whole.contains(&line.record.name));
}

#[tokio::test]
async fn costs_are_left_out_of_a_run_sheet_on_request() {
    let sample = Sample::new();
    let path = format!("/paper/run-sheet/line/{}", sample.line(LineKind::Chain).id);
    assert!(sample.sheet(&path).await.contains("EUR"));
    assert!(!sample.sheet(&format!("{path}?costs=without")).await.contains("EUR"));
}

#[tokio::test]
async fn a_frozen_sheet_says_when_it_was_frozen() {
    let sample = Sample::new();
    let frozen = sample.all::<FrozenSheet>().pop().expect("a frozen sheet");
    let words = sample.sheet(&format!("/paper/run-sheet/frozen/{}", frozen.id)).await;
    let day = frozen.record.frozen_at.date().to_string();
    assert!(words.contains(&format!("as frozen on {day}")), "{words}");
}

#[tokio::test]
async fn a_kit_sheet_is_public_and_only_kits_have_one() {
    let sample = Sample::new();
    let line = sample.line(LineKind::Kits);
    let words = sample.sheet(&format!("/paper/kit/{}", line.id)).await;
    assert!(words.contains(&format!("Kit 1 of {}", line.record.kits.expect("kits"))), "{words}");
    let order = sample.app.store().read(|view| view.get::<RingOrder>(line.record.order_id));
    for private in ["EUR", "cost", &order.expect("its order").name] {
        assert!(!words.contains(private), "{private} in {words}");
    }
    let chain = sample.get(&format!("/paper/kit/{}", sample.line(LineKind::Chain).id)).await;
    assert_eq!(chain.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn the_wall_chart_counts_its_trials_and_names_nobody() {
    let sample = Sample::new();
    let words = sample.sheet("/paper/wall-chart").await;
    let trials = sample.all::<Trial>();
    let best = sample.app.store().read(|view| view.best_tried(None)).expect("read");
    let counted = format!("Draft, 2026-11-25; rests on {} trials", best.trials);
    assert!(words.contains(&counted), "{counted} in {words}");
    assert!(words.contains(&best.cells[0].blades[0].counted()), "{words}");
    for trial in &trials {
        let worker = &trial.record.worker;
        assert!(worker.is_empty() || !words.split(' ').any(|word| word == worker), "{worker}");
    }
    assert!(!words.contains("EUR"));
}

#[tokio::test]
async fn labels_are_printed_for_the_batches_that_are_named() {
    let sample = Sample::new();
    let batches = sample.all::<Batch>();
    let path = format!("/paper/labels?ids={},{}", batches[0].id, batches[2].id);
    let words = sample.sheet(&path).await;
    assert!(words.contains(&batches[0].record.code) && words.contains(&batches[2].record.code));
    assert!(!words.contains(&format!("{} ", batches[1].record.code)), "{words}");
}

#[tokio::test]
async fn what_cannot_be_printed_is_refused_with_a_reason() {
    let sample = Sample::new();
    for (path, status) in [
        ("/paper/cautions?paper=a5", StatusCode::BAD_REQUEST),
        ("/paper/labels", StatusCode::BAD_REQUEST),
        ("/paper/labels?ids=1,x", StatusCode::BAD_REQUEST),
        ("/paper/labels?ids=999999", StatusCode::NOT_FOUND),
        ("/paper/run-sheet/line/999999", StatusCode::NOT_FOUND),
        ("/paper/run-sheet/frozen/999999", StatusCode::NOT_FOUND),
    ] {
        assert_eq!(sample.get(path).await.status, status, "{path}");
    }
}

#[tokio::test]
async fn the_trial_card_and_the_cautions_need_no_records() {
    let sample = Sample::new();
    assert!(sample.sheet("/paper/trial-card?paper=letter").await.contains("turns wound"));
    assert!(sample.sheet("/paper/cautions").await.contains("Handpiece separated"));
}

#[test]
fn a_file_is_named_with_letters_digits_and_hyphens() {
    let name = super::plain("Run sheet: J\u{f6}rg's \"4/5\"\r\n ring");
    assert_eq!(name, "run-sheet-j-rg-s-4-5-ring");
}
