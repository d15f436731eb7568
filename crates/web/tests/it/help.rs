//! Help, the glossary, sizes, and the choices of a device.

use axum::body::Body;
use axum::http::{Request, StatusCode};

use crate::bench::Bench;

#[tokio::test]
async fn a_size_is_said_in_every_system() {
    let page = Bench::with_workshop().get("/help?size=18+awg").await;
    let facts = page.words("dl.rows dd");
    // 0.0403 in is printed for AWG 18. Source: fluids 1.3.1, wire_schedules["AWG"].
    assert!(facts[0].contains("1.02") && facts[0].contains("0.0403 in"), "{facts:?}");
    assert!(facts[1].starts_with("18 AWG"), "{facts:?}");
    assert!(facts[2].starts_with("19 SWG"), "{facts:?}");
}

#[tokio::test]
async fn a_bare_gauge_is_asked_about_with_every_reading_to_choose() {
    let page = Bench::with_workshop().get("/help?size=18+ga").await;
    let readings = page.words("[role=status] li a");
    assert!(readings.contains(&"18 awg".to_owned()), "{readings:?}");
    assert!(readings.contains(&"18 swg".to_owned()), "{readings:?}");
    assert_eq!(page.attribute("#size", "value"), "18 ga");
}

#[tokio::test]
async fn nonsense_is_refused_in_words_and_stays_in_the_field() {
    let page = Bench::with_workshop().get("/help?size=%3Cb%3E").await;
    assert_eq!(page.status, StatusCode::OK);
    assert_eq!(page.words(".complaint").len(), 1);
    assert_eq!(page.attribute("#size", "value"), "<b>");
}

#[tokio::test]
async fn every_page_of_the_help_is_there_and_the_glossary_has_anchors() {
    let bench = Bench::with_workshop();
    let index = bench.get("/help").await;
    let cards = index.words("a.card");
    assert!(cards.len() >= 7, "{cards:?}");
    for topic in ["first-order", "chains", "turns", "standing", "data-file", "keyboard", "choices"]
    {
        let page = bench.get(&format!("/help/{topic}")).await;
        assert_eq!(page.status, StatusCode::OK, "{topic}");
        assert_eq!(page.words("h1").len(), 1, "{topic}");
    }
    assert_eq!(bench.get("/help/first-order").await.words("ol > li").len(), 10);
    assert_eq!(bench.get("/help/glossary").await.words("dt#kerf"), ["kerf"]);
    assert_eq!(bench.get("/help/nothing").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn the_choices_of_a_device_stand_on_every_page_it_is_shown() {
    let bench = Bench::with_workshop();
    for path in ["/", "/help", "/no-such-page"] {
        let asked = Request::get(path).header("cookie", "looks=contrast.left");
        let page = bench.send(asked.body(Body::empty()).expect("a request")).await;
        let classes = page.attribute("body", "class");
        assert_eq!(classes.split_whitespace().collect::<Vec<_>>(), ["contrast", "left"], "{path}");
    }
}
