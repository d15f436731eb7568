//! Orders through their pages: the ask, the run sheet, the start at the bench.

use axum::http::StatusCode;
use linkwright_store::records::{Coil, OrderLine, RingOrder, Rod, Run};
use linkwright_store::{Moment, StoreError};
use scraper::{Html, Selector};

use crate::bench::{Answer, Bench};
use crate::examples;

fn now() -> Moment {
    Moment::parse("2026-11-25T08:30:00Z").expect("a moment")
}

/// An app whose workshop is that of an example file.
fn bench_of(workshop: &str) -> Bench {
    let bench = Bench::new();
    bench
        .app
        .store()
        .act(now(), "Set up", |act| {
            examples::add_workshop(act, workshop);
            Ok::<_, StoreError>(())
        })
        .expect("saved");
    bench
}

fn all(page: &str, selector: &str) -> Vec<String> {
    let page = Html::parse_document(page);
    let selector = Selector::parse(selector).expect("a selector");
    page.select(&selector)
        .map(|found| {
            found.text().collect::<String>().split_whitespace().collect::<Vec<_>>().join(" ")
        })
        .collect()
}

fn value_of(page: &str, name: &str) -> String {
    let page = Html::parse_document(page);
    let selector = Selector::parse(&format!("[name=\"{name}\"]")).expect("a selector");
    let field = page.select(&selector).next().unwrap_or_else(|| panic!("no field {name}"));
    field.value().attr("value").unwrap_or_default().to_owned()
}

fn complaint_about(page: &str, name: &str) -> String {
    all(page, &format!("#{name}-about .complaint")).join(" ")
}

/// Sends a form of the page at `from`, as its button would.
async fn send(bench: &Bench, from: &str, to: &str, fields: &[(&str, &str)]) -> Answer {
    let token = value_of(&bench.get(from).await.text, "token");
    let mut body = format!("token={token}");
    for (name, value) in fields {
        let value: String = value
            .bytes()
            .map(|byte| match byte {
                b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' => char::from(byte).to_string(),
                other => format!("%{other:02X}"),
            })
            .collect();
        body.push_str(&format!("&{name}={value}"));
    }
    bench.post_as(to, "application/x-www-form-urlencoded", body).await
}

const NECKLACE: [(&str, &str); 14] = [
    ("name", "Ferry Lane 14"),
    ("asked_on", "2026-11-20"),
    ("due_on", "2026-12-01"),
    ("buyer", "a neighbour"),
    ("line-1-name", "necklace"),
    ("line-1-kind", "chain"),
    ("line-1-chain_length", "450 mm"),
    ("line-1-clasp_is", "in"),
    ("line-1-clasp", "12 mm"),
    ("line-1-metal", "sterling"),
    ("line-1-temper", "soft"),
    ("line-1-wire", "1.02 mm"),
    ("line-1-by", "rod"),
    ("line-1-rod", "4.00 mm"),
];

/// The necklace with its spare rings, kept; its address.
async fn necklace(bench: &Bench) -> String {
    let mut fields = NECKLACE.to_vec();
    fields.push(("line-1-spare", "10 %"));
    let kept = send(bench, "/orders/new", "/orders/new", &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{:?}", all(&kept.text, ".complaint"));
    kept.location.expect("an address")
}

fn told(page: &str, wanted: &[&str]) {
    let text = all(page, "main").join(" ");
    for words in wanted {
        assert!(text.contains(words), "{words} is not in: {text}");
    }
}

// Needs.md, T1: the printed digits of a chain to length.
#[tokio::test]
async fn a_chain_to_length_is_asked_for_and_its_sheet_shows_the_worked_digits() {
    let bench = bench_of("bench.toml");
    let order = necklace(&bench).await;
    let sheet = bench.get(&format!("{order}/sheet")).await;
    assert_eq!(sheet.status, StatusCode::OK);
    let keys = all(&sheet.text, ".keys .number");
    assert_eq!(keys, ["4.00 mm", "3 \u{d7} 47 turns", "1.50 mm", "118 rings"]);
    let digits = [
        "107", "449.6 mm", "453.7 mm", "4.071", "45.7", "47.4", "782.8", "2.348 m", "19.88 g",
        "14.49 g",
    ];
    told(&sheet.text, &digits);
    let shown = all(&sheet.text, ".keys").join(" ");
    assert!(!shown.contains("105") && !shown.contains("109"), "{shown}");
}

// Needs.md, T2: class kits.
#[tokio::test]
async fn class_kits_are_asked_for_and_their_sheet_shows_the_worked_digits() {
    let bench = bench_of("class-bench.toml");
    let fields = [
        ("name", "Evening class, spring"),
        ("asked_on", "2026-11-20"),
        ("line-1-name", "first chain"),
        ("line-1-kind", "kits"),
        ("line-1-kits", "13"),
        ("line-1-rings_each", "96"),
        ("line-1-spare_each", "6"),
        ("line-1-metal", "copper"),
        ("line-1-temper", "soft"),
        ("line-1-wire", "1.29 mm"),
        ("line-1-by", "rod"),
        ("line-1-rod", "5.00 mm"),
    ];
    let kept = send(&bench, "/orders/new", "/orders/new", &fields).await;
    let order = kept.location.expect("kept");
    let sheet = bench.get(&format!("{order}/sheet")).await;
    let digits = ["1326", "30", "52", "5.098", "23.92 g", "0.98 %", "275", "13 labels"];
    told(&sheet.text, &digits);
}

// Needs.md, T3: hit a size; no rod does, and the page says what would.
#[tokio::test]
async fn a_size_no_rod_gives_is_answered_with_what_would() {
    let bench = bench_of("brass-bench.toml");
    let fields = [
        ("name", "Repair"),
        ("asked_on", "2026-11-20"),
        ("line-1-name", "repair rings"),
        ("line-1-kind", "rings"),
        ("line-1-rings", "60"),
        ("line-1-metal", "brass"),
        ("line-1-temper", "half hard"),
        ("line-1-wire", "0.81 mm"),
        ("line-1-by", "ring"),
        ("line-1-ring", "3.50 mm"),
        ("line-1-side", "inside"),
        ("line-1-state", "open"),
        ("line-1-tolerance", "0.05 mm"),
        ("line-1-spare", "6"),
    ];
    let kept = send(&bench, "/orders/new", "/orders/new", &fields).await;
    let order = kept.location.expect("kept");
    for page in [order.clone(), format!("{order}/sheet")] {
        let page = bench.get(&page).await;
        assert_eq!(page.status, StatusCode::OK);
        told(&page.text, &["3.30 mm", "3.3 mm drill shank", "3.50"]);
    }
}

#[tokio::test]
async fn a_size_that_could_mean_two_things_is_asked_about_beside_its_field() {
    let bench = bench_of("bench.toml");
    let mut fields: Vec<(&str, &str)> =
        NECKLACE.into_iter().filter(|(name, _)| *name != "line-1-wire").collect();
    fields.extend([("line-1-wire", "18"), ("line-1-spare", "10 %")]);
    for field in &mut fields {
        match field.0 {
            "line-1-by" => field.1 = "ring",
            "line-1-clasp_is" => field.1 = "",
            _ => {}
        }
    }
    fields.push(("line-1-ring", "5 mm"));
    let refused = send(&bench, "/orders/new", "/orders/new", &fields).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    let page = &refused.text;
    assert!(
        complaint_about(page, "line-1-wire").contains("AWG"),
        "{}",
        complaint_about(page, "line-1-wire")
    );
    assert!(
        complaint_about(page, "line-1-ring").contains("inside"),
        "{}",
        complaint_about(page, "line-1-ring")
    );
    assert!(complaint_about(page, "line-1-clasp_is").contains("clasp"));
    assert!(complaint_about(page, "line-1-tolerance").contains("off"));
    for (name, typed) in fields
        .iter()
        .filter(|(name, _)| !["line-1-kind", "line-1-by", "line-1-clasp_is"].contains(name))
    {
        assert_eq!(value_of(page, name), *typed, "{name} is kept as typed");
    }
    let orders = bench.app.store().read(|view| view.count::<RingOrder>()).expect("read");
    assert_eq!(orders, 0, "nothing is kept of a refused form");
}

#[tokio::test]
async fn a_line_is_added_and_removed_without_losing_what_was_typed() {
    let bench = bench_of("bench.toml");
    let mut fields = NECKLACE.to_vec();
    fields.push(("do", "add-line"));
    let more = send(&bench, "/orders/new", "/orders/new", &fields).await;
    assert_eq!(more.status, StatusCode::OK);
    assert_eq!(all(&more.text, "fieldset.line").len(), 2);
    assert_eq!(value_of(&more.text, "line-2-wire"), "1.02 mm", "most often the same wire again");
    assert_eq!(value_of(&more.text, "line-1-chain_length"), "450 mm");
    let echo = all(&more.text, "#line-1-wire-about").join(" ");
    assert!(echo.contains("0.0402 in") && echo.contains("18 AWG"), "{echo}");
    fields.pop();
    fields.extend([("line-2-name", "second"), ("do", "remove-line-1")]);
    let fewer = send(&bench, "/orders/new", "/orders/new", &fields).await;
    assert_eq!(all(&fewer.text, "fieldset.line").len(), 1);
    assert_eq!(value_of(&fewer.text, "line-1-name"), "second");
}

#[tokio::test]
async fn a_taken_name_is_refused_beside_it() {
    let bench = bench_of("bench.toml");
    necklace(&bench).await;
    let again = send(&bench, "/orders/new", "/orders/new", &NECKLACE).await;
    assert_eq!(again.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(complaint_about(&again.text, "name").contains("another order"));
}

#[tokio::test]
async fn an_order_and_all_its_lines_are_undone_in_one_step() {
    let bench = bench_of("bench.toml");
    let order = necklace(&bench).await;
    let undone = send(&bench, &order, "/undo", &[]).await;
    assert_eq!(undone.status, StatusCode::SEE_OTHER);
    let left = bench
        .app
        .store()
        .read(|view| Ok::<_, StoreError>((view.count::<RingOrder>()?, view.count::<OrderLine>()?)));
    assert_eq!(left.expect("read"), (0, 0));
}

#[tokio::test]
async fn an_old_order_is_repeated_in_one_tap_with_its_lines() {
    let bench = bench_of("bench.toml");
    let order = necklace(&bench).await;
    let again = send(&bench, &order, &format!("{order}/repeat"), &[]).await;
    let form = bench.get(&again.location.expect("the new one")).await;
    assert_eq!(value_of(&form.text, "name"), "1");
    assert_eq!(value_of(&form.text, "asked_on"), "2026-11-25");
    assert_eq!(value_of(&form.text, "line-1-rod"), "4.00 mm");
    assert_eq!(value_of(&form.text, "line-1-spare"), "10 %");
}

#[tokio::test]
async fn an_order_is_found_by_any_clue_and_its_wire_however_it_is_typed() {
    let bench = bench_of("bench.toml");
    let order = necklace(&bench).await;
    for clue in ["ferry", "neighbour", "sterling+4.00", "18+awg", ".0402+in", "2026-12"] {
        let list = bench.get(&format!("/orders?q={clue}")).await;
        assert!(list.text.contains(&format!("href=\"{order}\"")), "{clue}");
    }
    for clue in ["brass", "20+awg", "ferry+brass", "%25"] {
        let list = bench.get(&format!("/orders?q={clue}")).await;
        assert!(!list.text.contains(&format!("href=\"{order}\"")), "{clue}");
    }
    let list = bench.get("/orders").await;
    assert_eq!(all(&list.text, "td .chip"), ["nothing started"]);
}

async fn started(bench: &Bench, order: &str) -> String {
    let from = format!("{order}/sheet");
    let start = send(bench, &from, &from, &[("line", "1")]).await;
    assert_eq!(start.status, StatusCode::SEE_OTHER);
    start.location.expect("the run")
}

#[tokio::test]
async fn starting_freezes_the_sheet_and_makes_the_coils_of_a_run() {
    let bench = bench_of("bench.toml");
    let order = necklace(&bench).await;
    assert_eq!(started(&bench, &order).await, "/runs/1");
    let store = bench.app.store();
    let run = store.read(|view| view.all::<Run>()).expect("read").remove(0).record;
    assert_eq!((run.step.as_str(), run.coil_number), ("wire", 1));
    let coils = store.read(|view| view.all::<Coil>()).expect("read");
    let targets: Vec<u32> = coils.iter().map(|coil| coil.record.turns_target).collect();
    assert_eq!(targets, [47, 47, 47]);
    let list = bench.get("/orders").await;
    assert_eq!(all(&list.text, "td .chip"), ["run in hand, made 0 of 107 rings"]);
}

#[tokio::test]
async fn a_frozen_sheet_keeps_its_numbers_and_tells_what_changed_since() {
    let bench = bench_of("bench.toml");
    let order = necklace(&bench).await;
    started(&bench, &order).await;
    let frozen = format!("{order}/frozen/1");
    let before = bench.get(&frozen).await.text;
    assert!(!before.contains("would not be the same"), "nothing has changed yet");
    let store = bench.app.store();
    store
        .act(now(), "Measured rod 4.0", |act| {
            let rods = act.all::<Rod>()?;
            let rod = rods.iter().find(|rod| rod.record.name == "4.0").expect("the rod");
            let measured = Some("4.10 mm".to_owned());
            let measured_mm = Some(4.10);
            act.change(rod.id, &Rod { measured_typed: measured, measured_mm, ..rod.record.clone() })
        })
        .expect("saved");
    let after = bench.get(&frozen).await.text;
    assert_eq!(all(&after, ".keys .number"), all(&before, ".keys .number"));
    told(&after, &["rod \"4.0\" diameter: was 4.00 mm, is now 4.10 mm"]);
    let today = bench.get(&format!("{order}/sheet")).await.text;
    assert_eq!(all(&today, ".keys .number")[0], "4.10 mm");
}

#[tokio::test]
async fn costs_are_hidden_in_one_tap() {
    let bench = bench_of("bench.toml");
    let order = necklace(&bench).await;
    let open = bench.get(&format!("{order}/sheet")).await.text;
    told(&open, &["21.87 EUR", "Hide costs"]);
    let hidden = bench.get(&format!("{order}/sheet?money=hidden")).await.text;
    assert!(!all(&hidden, "main").join(" ").contains("EUR"));
    started(&bench, &order).await;
    let frozen = bench.get(&format!("{order}/frozen/1?money=hidden")).await.text;
    assert!(!all(&frozen, "main").join(" ").contains("EUR"));
}

#[tokio::test]
async fn a_refused_blade_is_used_only_with_a_reason_that_is_kept_and_printed() {
    let bench = bench_of("bench.toml");
    let order = necklace(&bench).await;
    let store = bench.app.store();
    let blade = store
        .act(now(), "Added a small blade", |act| {
            let large = act.all::<linkwright_store::records::Blade>()?.remove(1).record;
            act.add(&linkwright_store::records::Blade {
                name: "worn small".to_owned(),
                diameter_typed: "29 mm".to_owned(),
                diameter_mm: 29.0,
                ..large
            })
        })
        .expect("saved");
    assert_eq!(blade.number(), 3);
    let from = format!("{order}/sheet");
    let page = bench.get(&from).await.text;
    assert!(page.contains("Use a refused blade anyway"));
    let fields = [("line", "1"), ("blade", "worn small"), ("because", "")];
    let refused = send(&bench, &from, &from, &fields).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(complaint_about(&refused.text, "because").contains("why"));
    let fields = [("line", "1"), ("blade", "worn small"), ("because", "a shim under the holder")];
    let start = send(&bench, &from, &from, &fields).await;
    assert_eq!(start.status, StatusCode::SEE_OTHER);
    let frozen = bench.get(&format!("{order}/frozen/1")).await.text;
    told(
        &frozen,
        &[
            "Blade \"worn small\" is used although the sheet refuses it",
            "because: a shim under the holder",
        ],
    );
}

#[tokio::test]
async fn a_changed_order_keeps_what_it_was_in_sight() {
    let bench = bench_of("bench.toml");
    let order = necklace(&bench).await;
    let from = format!("{order}/edit");
    let mut fields = NECKLACE.to_vec();
    fields.extend([("line-1-id", "1"), ("line-1-spare", "12 %")]);
    let kept = send(&bench, &from, &from, &fields).await;
    assert_eq!(
        kept.location.as_deref(),
        Some(order.as_str()),
        "{:?}",
        all(&kept.text, ".complaint")
    );
    let page = bench.get(&order).await.text;
    let history = all(&page, ".history li").join(" ");
    assert!(history.contains("spare, as typed: 10 %"), "{history}");
}

#[tokio::test]
async fn an_order_without_a_workshop_says_where_to_begin() {
    let bench = Bench::new();
    let order = necklace(&bench).await;
    for page in [order.clone(), format!("{order}/sheet")] {
        let page = bench.get(&page).await;
        assert_eq!(page.status, StatusCode::OK);
        told(&page.text, &["The workshop is not set up yet"]);
        assert!(page.text.contains("href=\"/workshop\""));
    }
}

/// The necklace's form with a pattern, and whatever else differs.
fn linked<'a>(changed: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let kept = NECKLACE.into_iter().filter(|(name, _)| !changed.iter().any(|(new, _)| new == name));
    kept.chain(changed.iter().copied()).collect()
}

#[tokio::test]
async fn a_pattern_is_ordered_round_a_wrist_and_its_rings_are_counted() {
    let bench = bench_of("bench.toml");
    let fields = linked(&[
        ("line-1-pattern", "byzantine"),
        ("line-1-chain_length", ""),
        ("line-1-girth", "165 mm"),
        ("line-1-ease", "12 mm"),
        ("line-1-end_rings", "2"),
    ]);
    let saved = send(&bench, "/orders/new", "/orders/new", &fields).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    let line = bench.all::<OrderLine>().remove(0).record;
    assert_eq!(line.pattern.as_deref(), Some("byzantine"));
    assert_eq!((line.girth_typed.as_deref(), line.end_rings), (Some("165 mm"), Some(2)));
    let order = bench.all::<RingOrder>().remove(0).id;
    let page = bench.get(&format!("/orders/{order}")).await.text;
    assert!(page.contains("byzantine round 165 mm"), "{page}");
    let sheet = bench.get(&format!("/orders/{order}/sheet")).await;
    assert!(sheet.text.contains("Byzantine chain round 165.000 mm"), "{}", sheet.text);
}

#[tokio::test]
async fn kits_of_a_pattern_and_a_sheet_are_ordered_and_what_does_not_fit_is_said_beside_its_field()
{
    let bench = bench_of("bench.toml");
    let kits = linked(&[
        ("line-1-kind", "kits"),
        ("line-1-pattern", "double_2in2"),
        ("line-1-chain_length", "180 mm"),
        ("line-1-clasp_is", "out"),
        ("line-1-clasp", ""),
        ("line-1-kits", "6"),
        ("line-1-spare_each", "4"),
    ]);
    let saved = send(&bench, "/orders/new", "/orders/new", &kits).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    let line = bench.all::<OrderLine>().remove(0).record;
    assert_eq!((line.kits, line.rings_each), (Some(6), None));
    let sheet = linked(&[
        ("name", "Ferry Lane 15"),
        ("line-1-pattern", "european_4in1_sheet"),
        ("line-1-chain_length", "60 mm"),
        ("line-1-across", "40 mm"),
        ("line-1-clasp_is", ""),
        ("line-1-clasp", ""),
    ]);
    let saved = send(&bench, "/orders/new", "/orders/new", &sheet).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    let narrow = linked(&[
        ("name", "Ferry Lane 16"),
        ("line-1-pattern", "european_4in1_sheet"),
        ("line-1-chain_length", "60 mm"),
    ]);
    let refused = send(&bench, "/orders/new", "/orders/new", &narrow).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(!complaint_about(&refused.text, "line-1-across").is_empty(), "{}", refused.text);
}

#[tokio::test]
async fn the_chain_page_begins_an_order_of_its_pattern() {
    let bench = bench_of("bench.toml");
    let address = "/orders/new?kind=chain&pattern=byzantine&metal=sterling&temper=soft\
        &wire=1.02%20mm&ring=4%20mm%20inside%20closed&tolerance=0.05%20mm&length=180%20mm";
    let page = bench.get(address).await.text;
    assert_eq!(value_of(&page, "line-1-chain_length"), "180 mm");
    assert_eq!(all(&page, "#line-1-pattern option[selected]"), ["Byzantine chain"]);
    assert_eq!(all(&page, "#line-1-clasp_is option[selected]").len(), 1);
}
