//! Batches of rings: added, found, counted by weight, taken from, labelled.

use axum::http::StatusCode;
use linkwright_store::Saved;
use linkwright_store::records::Batch;
use scraper::{Html, Selector};

use crate::bench::{Answer, Bench};

const FORM: &str = "application/x-www-form-urlencoded";
const NEW: &str = "code=B001&made_on=2026-11-20&metal=Sterling&temper=soft&wire=18+awg&rod=4+mm\
    &inside=4.12+4.15+4.14+4.16+4.13+mm&kerf=0.25+mm&rings=120&place=drawer+3";

fn texts(page: &str, pick: &str) -> Vec<String> {
    let selector = Selector::parse(pick).expect("a selector");
    let page = Html::parse_document(page);
    let text = |element: scraper::ElementRef<'_>| element.text().collect::<String>();
    page.select(&selector).map(|element| text(element).trim().to_owned()).collect()
}

fn attribute(page: &str, pick: &str, name: &str) -> Option<String> {
    let selector = Selector::parse(pick).expect("a selector");
    let page = Html::parse_document(page);
    page.select(&selector).next().and_then(|it| it.value().attr(name)).map(str::to_owned)
}

/// Fills in a form of the page at `from` and sends it to `to`.
async fn send(bench: &Bench, from: &str, to: &str, fields: &str) -> Answer {
    let page = bench.get(from).await;
    assert_eq!(page.status, StatusCode::OK, "{from}: {}", page.text);
    let token = attribute(&page.text, "main input[name=token]", "value").expect("a token");
    bench.post_as(to, FORM, format!("token={token}&{fields}")).await
}

fn batches(bench: &Bench) -> Vec<Saved<Batch>> {
    bench.app.store().read(|view| view.all::<Batch>()).expect("read")
}

async fn with_batch() -> Bench {
    let bench = Bench::new();
    let answer = send(&bench, "/rings/new", "/rings", NEW).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text);
    assert_eq!(answer.location.as_deref(), Some("/rings/1"));
    bench
}

#[tokio::test]
async fn a_batch_entered_by_hand_is_found_by_any_clue_and_knows_its_closed_size() {
    let bench = with_batch().await;
    let batch = &batches(&bench)[0].record;
    assert_eq!((batch.metal.as_str(), batch.inside_readings), ("sterling_925", Some(5)));
    assert!((batch.inside_mm.expect("measured") - 4.14).abs() < 1e-9);
    // Worked task T1 of the needs closes 4.140 with a kerf of 0.25 to 4.071 (there d is 1.02).
    assert!((batch.closed_inside_mm.expect("worked out") - 4.071).abs() < 0.0015);
    assert_eq!(batch.closed_how, "worked out from a kerf of 0.25 mm");
    for q in ["sterling", "18+awg", "4.14", "drawer", "B001", "1.02+mm+on+4"] {
        let page = bench.get(&format!("/rings?q={q}")).await;
        assert_eq!(texts(&page.text, "tbody th"), ["B001"], "{q}");
    }
    let page = bench.get("/rings?q=copper").await;
    assert!(texts(&page.text, "tbody th").is_empty());
    let page = bench.get("/rings?q=18+gauge").await;
    assert!(texts(&page.text, ".complaint")[0].contains("does not say which gauge"));
}

#[tokio::test]
async fn a_wrong_entry_is_refused_beside_its_field_and_kept() {
    let bench = Bench::new();
    let wrong = NEW.replace("18+awg", "18+gauge").replace("code=B001", "code=B%2F1");
    let answer = send(&bench, "/rings/new", "/rings", &wrong).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(attribute(&answer.text, "#wire", "value").as_deref(), Some("18 gauge"));
    assert!(texts(&answer.text, "#wire-about")[0].contains("which gauge"));
    assert!(texts(&answer.text, "#code-about")[0].contains("letters, digits"));
    assert!(batches(&bench).is_empty());
    let answer = send(&bench, "/rings/new", "/rings", &NEW.replace("=120", "=many")).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(!texts(&answer.text, "#rings-about .complaint").is_empty());
}

#[tokio::test]
async fn the_code_on_a_label_opens_its_batch_and_the_label_says_what_it_holds() {
    let bench = with_batch().await;
    let opened = bench.get("/b/b001").await;
    assert_eq!(opened.location.as_deref(), Some("/rings/1"));
    assert_eq!(bench.get("/b/B999").await.status, StatusCode::NOT_FOUND);
    let page = bench.get("/rings/labels?ids=1&paper=letter").await;
    let label = texts(&page.text, ".label").join(" ");
    for part in ["B001", "soft", "18 AWG", "closed", "120 rings", "2026-11-20"] {
        assert!(label.contains(part), "{part} is not on {label}");
    }
    let opens = attribute(&page.text, ".label svg", "aria-label");
    assert_eq!(opens.as_deref(), Some("opens http://127.0.0.1:8040/b/B001"));
}

#[tokio::test]
async fn rings_taken_out_change_the_count_and_never_below_nothing() {
    let bench = with_batch().await;
    let answer = send(&bench, "/rings/1", "/rings/1/take", "taken=121&what_for=x").await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(texts(&answer.text, "#taken-about")[0].contains("121 are more than the 120"));
    let answer = send(&bench, "/rings/1", "/rings/1/take", "taken=20&what_for=necklace").await;
    assert_eq!(answer.location.as_deref(), Some("/rings/1"));
    assert_eq!(batches(&bench)[0].record.rings, 100);
    let page = bench.get("/rings/1").await;
    assert!(page.text.contains("Took 20 rings out of B001 for necklace"), "undo names it");

    send(&bench, "/rings/1", "/rings/1/gone", "how=sold").await;
    assert!(texts(&bench.get("/rings").await.text, "tbody th").is_empty());
    assert_eq!(texts(&bench.get("/rings?show=gone").await.text, "tbody th"), ["B001"]);
    send(&bench, "/rings/1", "/rings/1/back", "").await;
    assert_eq!(texts(&bench.get("/rings").await.text, "tbody th"), ["B001"]);
}

#[tokio::test]
async fn a_jar_on_the_scale_is_counted_and_the_count_kept_with_its_doubt() {
    // Worked task T5 of the needs: 3,050 rings, give or take 9.
    let bench = with_batch().await;
    let weighed = "batch=1&sample_rings=50&sample=6.76+g&step=0.01+g&net=412.35+g&spread=1+%25";
    let page = bench.get(&format!("/rings/count?{weighed}")).await;
    assert!(texts(&page.text, ".big-number")[0].starts_with("3050 \u{b1} 9"), "{}", page.text);
    assert_eq!(batches(&bench)[0].record.rings, 120);
    let asked = format!("/rings/count?{weighed}");
    let answer = send(&bench, &asked, "/rings/count", weighed).await;
    assert_eq!(answer.location.as_deref(), Some("/rings/1"), "{}", answer.text);
    let batch = &batches(&bench)[0].record;
    assert_eq!(batch.rings, 3050);
    assert!((batch.rings_uncertainty.expect("two sigma") - 9.0).abs() < 0.5);
    assert!(batch.counted_how.contains("50 rings weigh 6.76 g, all weigh 412.35 g"));
    let bare = bench.get(&asked.replace("6.76+g", "0.2+oz")).await;
    assert_eq!(bare.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(texts(&bare.text, "#sample-about")[0].contains("troy or avoirdupois"));
}

#[tokio::test]
async fn a_kit_of_102_shows_a_missing_ring_on_a_tenth_but_not_on_a_gram() {
    // Worked task T2 of the needs: 102 rings of 0.2345 g weigh 23.92 g, one ring is 0.98 %.
    let bench = Bench::new();
    let asked = "/rings/count?sample_rings=100&sample=23.45+g&net=23.92+g&spread=1+%25&kit=102";
    let page = bench.get(&format!("{asked}&step=0.1+g")).await;
    assert!(page.text.contains("A kit of 102 weighs 23.92 g"), "{}", page.text);
    assert!(page.text.contains("one ring is 0.98 %"));
    assert!(page.text.contains("This scale shows a missing ring"));
    let page = bench.get(&format!("{asked}&step=1+g")).await;
    assert!(!page.text.contains("This scale shows a missing ring"));
}

#[tokio::test]
async fn the_same_as_last_time_begins_an_order_with_the_rings_of_the_batch() {
    let bench = with_batch().await;
    let page = bench.get("/rings/1").await;
    let again = attribute(&page.text, "a[href^='/orders/new']", "href").expect("a way to order");
    let form = bench.get(&again).await;
    let typed = |field: &str| attribute(&form.text, &format!("#line-1-{field}"), "value");
    assert_eq!(typed("metal").as_deref(), Some("sterling_925"));
    assert_eq!(typed("wire").as_deref(), Some("18 awg"));
    assert_eq!(typed("ring").as_deref(), Some("4.07 mm inside closed"));
}
