//! Handouts: made in versions, kept as they were, given to classes.

use axum::http::StatusCode;
use linkwright_store::records::Handout;
use linkwright_store::{Moment, Saved};
use scraper::{Html, Selector};

use crate::bench::{Answer, Bench};

fn texts(page: &str, pick: &str) -> Vec<String> {
    let selector = Selector::parse(pick).expect("a selector");
    let page = Html::parse_document(page);
    let text = |element: scraper::ElementRef<'_>| element.text().collect::<String>();
    page.select(&selector).map(|element| text(element).trim().to_owned()).collect()
}

async fn send(bench: &Bench, from: &str, to: &str, fields: &str) -> Answer {
    let page = bench.get(from).await.text;
    let page = Html::parse_document(&page);
    let selector = Selector::parse("main input[name=token]").expect("a selector");
    let token = page.select(&selector).next().and_then(|it| it.value().attr("value"));
    let body = format!("token={}&{fields}", token.expect("a token"));
    bench.post_as(to, "application/x-www-form-urlencoded", body).await
}

fn kept(bench: &Bench) -> Vec<Saved<Handout>> {
    bench.app.store().read(|view| view.all::<Handout>()).expect("read")
}

#[tokio::test]
async fn the_caution_sheet_puts_local_rules_first_and_carries_its_version_and_date() {
    let bench = Bench::new();
    let answer = send(&bench, "/handouts", "/handouts", "kind=cautions").await;
    assert_eq!(answer.location.as_deref(), Some("/handouts/1"), "{}", answer.text);
    let page = bench.get("/handouts/1").await;
    let sheet = texts(&page.text, ".handout").join(" ");
    assert!(texts(&page.text, ".handout > p")[1].starts_with("Local rules first"));
    assert!(sheet.contains("Version 1, 2026-11-25"), "{sheet}");
    assert!(sheet.contains("Handpiece separated from the drive"), "{sheet}");
}

#[tokio::test]
async fn an_old_version_stays_as_it_was() {
    let bench = Bench::new();
    send(&bench, "/handouts", "/handouts", "kind=wall-chart").await;
    let before = bench.get("/handouts/1").await;
    let trials = texts(&before.text, ".handout .edition");
    assert_eq!(trials, ["Version 1, 2026-11-25, 0 trials"]);
    let now = Moment::parse("2026-11-25T09:00:00Z").expect("a moment");
    bench.app.store().act(now, "Added a trial", |act| act.add(&trial())).expect("saved");
    send(&bench, "/handouts", "/handouts", "kind=wall-chart").await;
    assert_eq!(kept(&bench).len(), 2);
    assert_eq!(kept(&bench)[1].record.version, 2);
    let after = bench.get("/handouts/2").await;
    assert_eq!(texts(&after.text, ".handout .edition"), ["Version 2, 2026-11-25, 1 trial"]);
    assert!(texts(&after.text, ".handout td").join(" ").contains("thin one"));
    // No name of the worker on public paper.
    assert!(!after.text.contains("Rosalind"));
    let again = bench.get("/handouts/1").await;
    assert_eq!(texts(&again.text, ".handout"), texts(&before.text, ".handout"));
}

#[tokio::test]
async fn a_class_that_had_a_version_is_noted_and_a_class_without_a_name_is_refused() {
    let bench = Bench::new();
    send(&bench, "/handouts", "/handouts", "kind=trial-card").await;
    let page = bench.get("/handouts/1?paper=letter").await;
    assert_eq!(texts(&page.text, ".blank").len(), 2);
    assert!(page.text.contains("/assets/letter.css"));
    let wrong = send(&bench, "/handouts/1", "/handouts/1/given", "class_name=&given_on=soon").await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(texts(&wrong.text, "#class_name-about")[0].contains("say which class"));
    assert!(texts(&wrong.text, "#given_on-about")[0].contains("year-month-day"));
    let fields = "class_name=Tuesday+evening&given_on=2026-11-24";
    let answer = send(&bench, "/handouts/1", "/handouts/1/given", fields).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text);
    let list = bench.get("/handouts").await;
    assert!(texts(&list.text, "tbody").join(" ").contains("Tuesday evening (2026-11-24)"));
}

fn trial() -> linkwright_store::records::Trial {
    serde_json::from_value(serde_json::json!({
        "tried_on": "2026-11-01", "source": "typed", "metal": "copper_c110", "temper": "annealed",
        "annealed": false, "wire_typed": "1.29 mm", "wire_mm": 1.29, "rod_typed": "5 mm",
        "rod_mm": 5.0, "wire_lot_id": null, "blade_id": null, "blade_name": "thin one",
        "blade_diameter_mm": null, "projection_typed": null, "projection_mm": null,
        "inside_typed": null, "inside_mean_mm": null, "inside_readings": null,
        "turns_wound": null, "turns_relaxed": null, "good": 40, "uncut": 1, "nicked": 0,
        "crushed": 0, "blade_event": "none", "outcome": "good", "run_id": null,
        "coil_number": null, "worker": "Rosalind", "note": ""
    }))
    .expect("a trial")
}
