//! The sum behind every number of bench mode.

use linkwright_store::Id;
use scraper::Selector;

use crate::blade_used::started;
use crate::runs::Window;

/// Every sum on the screen: what is tapped, and what opens.
fn sums(window: &Window<'_>) -> Vec<String> {
    let selector = Selector::parse("#bench details.basis").expect("a selector");
    let words = |element: scraper::ElementRef<'_>| {
        element
            .text()
            .collect::<Vec<_>>()
            .join(" ")
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
    };
    window.page.select(&selector).map(words).collect()
}

#[tokio::test]
async fn every_number_at_the_bench_opens_its_sum() {
    let bench = started().await;
    let mut window = Window::on(&bench, Id::new(1)).await;
    let mut seen = Vec::new();
    for (step, least) in [
        ("wire", 2),
        ("wind:1", 3),
        ("off:1", 2),
        ("divide:1", 2),
        ("blade:1", 1),
        ("clamp:1", 1),
        ("slit:1", 4),
        ("counts:1", 2),
        ("label", 1),
        ("finish", 1),
    ] {
        window.tap(&format!("go:{step}")).await;
        let here = sums(&window);
        assert!(here.len() >= least, "{step} has {} sums: {here:?}", here.len());
        assert_eq!(window.shows("#bench .rests"), "", "{step} has a basis without its sum");
        seen.extend(here);
    }
    for said in [
        "density x cross-section of the wire x length",
        "turns needed x (inside of the open ring + wire) / (rod + wire), rounded up",
        "blade halts short of the coil's end by",
        "rings asked for + spare rings",
        "inside of the open ring 4.1400 mm (tried",
    ] {
        assert!(seen.iter().any(|sum| sum.contains(said)), "{said} is in no sum: {seen:#?}");
    }
}

#[tokio::test]
async fn what_was_counted_and_measured_stands_in_the_sums() {
    let bench = started().await;
    let mut window = Window::on(&bench, Id::new(1)).await;
    window.tap("go:wind:1").await;
    window.tap("wound:all").await;
    assert!(
        sums(&window).join(" ").contains("turns wound 47.000 (tried once)"),
        "{:?}",
        sums(&window)
    );
    window.tap_with("off", &[("typed", "45.7")]).await;
    window.tap("go:off:1").await;
    assert!(
        sums(&window).join(" ").contains("turns left 45.700 (tried once)"),
        "{:?}",
        sums(&window)
    );
    window.tap("go:measure").await;
    for read in ["4.12", "4.16"] {
        window.tap_with("reading", &[("typed", read)]).await;
    }
    let measured = sums(&window).join(" ");
    assert!(measured.contains("mean inside 4.1400 mm (tried 2 times)"), "{measured}");
    window.tap("go:label").await;
    let closed = sums(&window).join(" ");
    assert!(closed.contains("inside of the open ring 4.1400 mm (tried 2 times)"), "{closed}");
    assert!(closed.contains("kerf 0.25000 mm"), "{closed}");
}
