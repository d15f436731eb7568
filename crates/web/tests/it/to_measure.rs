//! A chain to measure, by element: asked for, answered from the shelf, and what an empty workshop is told.

use axum::http::StatusCode;
use linkwright_store::records::Rod;

use crate::bench::{Answer, Bench};
use crate::necklace::in_hand;

/// The necklace's workshop: sterling of 1.02 mm, rods of 3.5, 4.0 and 4.5 mm, a kerf of 0.25 mm.
fn bench() -> Bench {
    let bench = Bench::new();
    in_hand(&bench);
    bench
}

fn value(page: &Answer, card: usize, label: &str) -> String {
    let labels = page.words(&format!("#answer-{card} dl.numbers dt"));
    let at = labels.iter().position(|words| words == label).expect(label);
    page.words(&format!("#answer-{card} dl.numbers dd .value"))[at].clone()
}

fn first_number(words: &str) -> f64 {
    let digits = words.trim_start_matches("about ").split(' ').next().expect("a word");
    digits.parse().expect("a number")
}

#[tokio::test]
async fn the_list_of_patterns_leads_here_and_the_blank_form_asks_nothing() {
    let bench = bench();
    let list = bench.get("/chain").await;
    assert_eq!(list.attribute("a[href=\"/chain/to-measure\"]", "href"), "/chain/to-measure");
    let page = bench.get("/chain/to-measure").await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.words(".complaint").is_empty() && page.words("ol.nearest > li").is_empty());
    let metals = page.words("#metal option");
    assert_eq!(metals.len(), 2, "any, and the one on the shelf: {metals:?}");
}

#[tokio::test]
async fn a_cable_chain_as_wide_as_its_rings_are_outside_is_just_so() {
    let bench = bench();
    // The ring tried on the rod of 4.0 mm closes to 4.071 mm (calc's ring module); with two wires of
    // 1.02 mm it is 6.111 mm outside, and a cable chain is as wide as that.
    let page = bench
        .get("/chain/to-measure?made=chain&width=6.111+mm&length=450+mm&pattern=cable_1in1")
        .await;
    assert_eq!(page.status, StatusCode::OK);
    let first = page.words("#answer-1").concat();
    assert!(first.contains("just so"), "{first}");
    assert_eq!(value(&page, 1, "Width"), "about 6.11 mm");
    // Pitch = inside diameter: 10/4.071 rings a centimetre.
    let rings = first_number(&value(&page, 1, "Rings"));
    assert!((rings - 10.0 / 4.071).abs() < 0.001, "{rings}");
    // Tori of 10.36 g/cm3: pi^2/4 d^2 (ID + d).
    let torus_g = 10.36e-3 * std::f64::consts::PI.powi(2) / 4.0 * 1.02 * 1.02 * (4.071 + 1.02);
    let mass = first_number(&value(&page, 1, "Mass"));
    assert!((mass - torus_g * 10.0 / 4.071).abs() < 0.01 * mass, "{mass}");
    // The ring was tried five times on that rod; the closed ring's sum says so.
    assert!(first.contains("tried") && first.contains("blade"), "{first}");
    // Rods next to it, with what they give.
    let next = page.words("#answer-1 dl.made dd").concat();
    assert!(
        next.contains("4.5 mm: ring closes to") && next.contains("3.5 mm: ring closes to"),
        "{next}"
    );
}

#[tokio::test]
async fn each_answer_leads_to_its_pattern_with_these_rings_and_to_an_order_of_it() {
    let bench = bench();
    let page = bench.get("/chain/to-measure?made=chain&mass=30+g&length=450+mm").await;
    assert_eq!(page.status, StatusCode::OK);
    let cards = page.words("ol.nearest > li").len();
    assert_eq!(cards, 8);
    let pattern = bench.get(&page.attribute("#answer-1 h3 a", "href")).await;
    assert_eq!(pattern.status, StatusCode::OK);
    let told = pattern.words("#answer dd[data-n=\"mass\"] .value").concat();
    let (here, there) = (first_number(&value(&page, 1, "Mass")), first_number(&told));
    // Shown to three digits here.
    assert!((here - there).abs() < 0.005 * there, "{here} {there}");
    assert_eq!(pattern.attribute("#length", "value"), "450 mm");
    let order = bench.get(&page.attribute("#answer-1 .actions a", "href")).await;
    assert_eq!(order.status, StatusCode::OK);
    assert!(order.text.contains("value=\"450 mm\""), "the order form is begun");
}

#[tokio::test]
async fn a_sheet_is_asked_for_by_the_mass_of_a_piece_and_answered_with_sheets() {
    let bench = bench();
    let page = bench.get("/chain/to-measure?made=sheet&mass=40+g&length=100+mm&across=60+mm").await;
    assert_eq!(page.status, StatusCode::OK);
    let links = page.text.matches("/chain/pattern?").count();
    assert!(links > 0 && !page.text.contains("pattern=cable_1in1&amp;"), "sheets alone");
    assert!(value(&page, 1, "Mass").ends_with("g per cm\u{b2}"));
    let told = page.words("#nearest + p").concat();
    assert!(told.contains("in a piece of 100.000 mm") && told.contains("by 60.000 mm"), "{told}");
}

#[tokio::test]
async fn two_ring_sizes_are_offered_from_smaller_rods_and_ordered_together() {
    let bench = bench();
    for (name, mm) in [("2.4", 2.4), ("6.0", 6.0)] {
        bench.keep(&Rod {
            name: name.to_owned(),
            marked_typed: format!("{mm} mm"),
            marked_mm: mm,
            measured_typed: None,
            measured_mm: None,
            note: String::new(),
            retired_on: None,
            retired_why: String::new(),
        });
    }
    let page = bench
        .get("/chain/to-measure?made=chain&width=8+mm&length=300+mm&pattern=large_and_small")
        .await;
    let told = page.words("#nearest + p").concat();
    assert!(told.contains("large and small rings alternating"), "by its title: {told}");
    // At a glance, with a way to each card.
    let glance = page.words(".glance li");
    assert_eq!(glance.len(), page.words("ol.nearest > li").len());
    assert!(glance[0].contains(" on rod ") && glance[0].contains(" and "), "{glance:?}");
    assert_eq!(page.attribute(".glance a", "href"), "#answer-1");
    let rings = page.words("#answer-1 dl.made dt");
    assert!(rings.iter().any(|words| words == "Smaller ring, closed"), "{rings:?}");
    let address = page.attribute("#answer-1 h3 a", "href");
    assert!(address.contains("wire2=") && address.contains("inside2="), "{address}");
    let order = bench.get(&page.attribute("#answer-1 .actions a", "href")).await;
    assert_eq!(order.words(".further > legend"), ["Ring size 2: small ring"]);
    let typed = |name: &str| order.attribute(&format!("[name={name}]"), "value");
    assert_eq!(typed("line-1-chain_length"), "300 mm");
    let mm = |name: &str| first_number(&typed(name));
    assert!(mm("line-1-ring") > mm("line-1-ring-2"), "{order}", order = order.text);
    assert!(typed("line-1-ring-2").ends_with("mm inside closed"));
}

#[tokio::test]
async fn measured_pieces_of_a_pattern_correct_what_is_told_here_too() {
    let bench = bench();
    let ask = "/chain/to-measure?made=chain&width=6.111+mm&pattern=cable_1in1";
    let before = first_number(&value(&bench.get(ask).await, 1, "Rings"));
    let page = "/chain/pattern?pattern=cable_1in1&metal=sterling&temper=soft&wire=1.02+mm&inside=4.07+mm&state=closed";
    for _ in 0..3 {
        let fields = [
            ("pattern", "cable_1in1"),
            ("metal", "sterling_925"),
            ("temper", "annealed"),
            ("wire", "1.02 mm"),
            ("inside", "4.07 mm"),
            ("state", "closed"),
            ("measured_rings", "50"),
            ("measured_length", "200 mm"),
        ];
        let kept = bench.submit(page, "/chain/measured", &fields).await;
        assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.text);
    }
    let page = bench.get(ask).await;
    let after = first_number(&value(&page, 1, "Rings"));
    // 50 rings should measure 205.5 mm and measured 200.0: a little more rings a centimetre.
    assert!(after > 1.01 * before, "{before} {after}");
    assert!(page.text.contains("corrected by 3 measured pieces"));
}

#[tokio::test]
async fn what_cannot_be_read_is_complained_of_beside_its_field_and_kept() {
    let bench = bench();
    let page = bench
        .get("/chain/to-measure?made=chain&width=0.01+mm&mass=20&metal=unobtainium&pattern=nothing")
        .await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    let complaints = page.words("form .complaint");
    let says = |word: &str| complaints.iter().any(|words| words.contains(word));
    assert!(says("the width is 0.01 mm") && says("0.1 and 200"), "{complaints:?}");
    assert!(
        says("unobtainium") && says("nothing") && says("how long is the piece"),
        "{complaints:?}"
    );
    assert_eq!(page.attribute("#width", "value"), "0.01 mm");
    // Nothing wanted, and a chain's pattern asked of a sheet.
    let page = bench.get("/chain/to-measure?made=sheet&pattern=box").await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    let complaints = page.words("form .complaint").concat();
    assert!(
        complaints.contains("box is no sheet") && complaints.contains("thickness"),
        "{complaints}"
    );
}

#[tokio::test]
async fn an_empty_workshop_is_told_what_is_missing_and_where_to_write_it_down() {
    let bench = Bench::with_workshop();
    let page = bench.get("/chain/to-measure?made=chain&width=6+mm").await;
    assert_eq!(page.status, StatusCode::OK);
    let links = ["/workshop/lots/new", "/workshop/rods/new", "/workshop/blades/new"];
    for link in links {
        assert_eq!(page.attribute(&format!(".empty a[href=\"{link}\"]"), "href"), link);
        assert_eq!(bench.get(link).await.status, StatusCode::OK, "{link}");
    }
    assert!(page.words("ol.nearest > li").is_empty());
}

#[tokio::test]
async fn what_was_left_out_is_told_with_counts() {
    let page = bench().get("/chain/to-measure?made=chain&width=6+mm").await;
    let told = page.words("section[aria-labelledby=left-out] li").concat();
    assert!(told.contains("too small for the pattern"), "{told}");
}
