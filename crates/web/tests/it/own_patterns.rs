//! Patterns of one's own: checked, kept, replaced, removed and taken back, and ordered like any other.

use std::path::PathBuf;

use axum::http::StatusCode;
use linkwright_answers::files::load::load;
use linkwright_answers::run_sheet::Money;
use linkwright_answers::run_sheet::json::plan_as_json;
use linkwright_store::records::{FrozenSheet, KeptPattern, LineKind, OrderLine, RingOrder};
use linkwright_store::{Id, StoreError};
use serde_json::{Value, json};

use crate::bench::{Answer, Bench};
use crate::examples;
use crate::necklace::in_hand;

/// A cable chain under another name: one ring in the next, solved in no time.
const PLAIN: &str = r#"
pattern = "plain_mine"
title = "one ring in the next, as we say it"

[[ring_size]]
name = "main"
wire = "1.0 mm"
ring = "4.0 mm inside closed"

[repeat]
as = "chain"
twist_free = true

[[ring]]
name = "A"
through = [{ ring = "A", back = 1, from = "front" }]
"#;

/// Two rings a repeat of which it is not said from which side they are passed: several chains.
const SEVERAL: &str = r#"
pattern = "either_way"
title = "two stacks, sides not said"

[[ring_size]]
name = "main"
wire = "1.0 mm"
ring = "6.0 mm inside closed"

[repeat]
as = "chain"

[[ring]]
name = "A"
through = [{ ring = "B", back = 1 }]

[[ring]]
name = "B"
through = [{ ring = "A" }, { ring = "A", back = 1 }]
"#;

fn example(name: &str) -> String {
    std::fs::read_to_string(examples::path(name)).expect("an example")
}

fn bench() -> Bench {
    let bench = Bench::new();
    in_hand(&bench);
    bench
}

/// Sends the form as a browser does, its fields in parts; a field "file" is a file.
async fn send(bench: &Bench, to: &str, fields: &[(&str, &str)]) -> Answer {
    let token = bench.get(to).await.attribute("form.own-pattern input[name=token]", "value");
    let mut body =
        format!("--x\r\ncontent-disposition: form-data; name=\"token\"\r\n\r\n{token}\r\n");
    for (name, text) in fields {
        let file = if *name == "file" { "; filename=\"mine.toml\"" } else { "" };
        body.push_str(&format!(
            "--x\r\ncontent-disposition: form-data; name=\"{name}\"{file}\r\n\r\n{text}\r\n"
        ));
    }
    body.push_str("--x--\r\n");
    bench.post_as(to, "multipart/form-data; boundary=x", body).await
}

async fn check(bench: &Bench, text: &str) -> Answer {
    send(bench, "/chain/own", &[("text", text), ("do", "check")]).await
}

async fn keep(bench: &Bench, text: &str) -> Answer {
    let answer = send(bench, "/chain/own", &[("text", text), ("do", "keep")]).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{:?}", answer.words("#wrong"));
    answer
}

fn only(bench: &Bench) -> (Id<KeptPattern>, KeptPattern) {
    let all = bench.all::<KeptPattern>();
    assert_eq!(all.len(), 1);
    all.into_iter().next().map(|saved| (saved.id, saved.record)).expect("one")
}

async fn undo(bench: &Bench) {
    let undone = bench.submit("/chain/own", "/undo", &[]).await;
    assert_eq!(undone.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn a_good_text_is_shown_with_its_picture_and_kept_only_when_that_is_wanted() {
    let bench = bench();
    let checked = check(&bench, PLAIN).await;
    assert_eq!(checked.status, StatusCode::OK);
    let told = checked.words("#stands dd");
    // Closed form: a cable chain goes from aspect ratio 2 on, and hangs its inside diameter a ring.
    assert!(told.iter().any(|words| words.starts_with("2.000 ")), "{told:?}");
    assert!(told.iter().any(|words| words == "2.500"), "{told:?}");
    assert_eq!(checked.words("#stands svg").len(), 1);
    assert!(checked.words("#text").concat().contains("plain_mine"));
    assert!(bench.all::<KeptPattern>().is_empty());

    let kept = keep(&bench, PLAIN).await;
    let (_, record) = only(&bench);
    assert_eq!((record.name.as_str(), record.text.as_str()), ("plain_mine", PLAIN));
    let page = bench.get(&kept.location.expect("its page")).await;
    assert_eq!(page.words("h1"), ["One ring in the next, as we say it"]);
    assert_eq!(page.words("#answer dd[data-n=per-length] .value"), ["2.500 per cm"]);
    assert!(!page.words("#still svg.linked").is_empty());
    // Rods of 3.5 and 4.0 mm are marked on its bar; the ring off 4.5 mm lies beyond it.
    assert_eq!(page.words("svg.range path.rod").len(), 2);
    let list = bench.get("/chain").await;
    let told = list.words(".patterns .card .soft");
    let own: Vec<&String> = told.iter().filter(|told| told.starts_with("your own")).collect();
    assert_eq!(own, ["your own, from aspect ratio 2.00"]);
    let picture = bench.get("/chain/picture/plain_mine.svg").await;
    assert!(picture.text.matches("class=\"body\"").count() > 5);
    let scene = bench.get("/chain/scene?pattern=plain_mine").await.json();
    assert!(scene["rings"].as_array().is_some_and(|rings| rings.len() == 5), "{scene}");
    let card = bench.get("/chain/card?pattern=plain_mine").await;
    assert_eq!(card.words("ol.linking > li").len(), 2, "to begin with, and the one ring");
    let form = bench.get("/orders/new?kind=chain&pattern=plain_mine").await;
    assert!(form.text.contains("<option value=\"plain_mine\" selected"), "{}", form.text);
}

#[tokio::test]
async fn a_file_wins_over_the_text_and_is_given_back_as_it_came() {
    let bench = bench();
    let windows = format!("\u{feff}{}", PLAIN.replace('\n', "\r\n"));
    let fields = [("file", windows.as_str()), ("text", "nonsense"), ("do", "keep")];
    let kept = send(&bench, "/chain/own", &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.text);
    let (id, _) = only(&bench);
    let text = bench.get(&format!("/chain/own/{id}/pattern.toml")).await;
    assert_eq!((text.status, text.text.as_str()), (StatusCode::OK, PLAIN));
    for name in ["skipping-rope.toml", "large-and-steps.toml"] {
        assert_eq!(bench.get(&format!("/chain/own/example/{name}")).await.text, example(name));
    }
}

#[tokio::test]
async fn what_is_wrong_is_told_by_line_field_and_value_and_what_was_typed_is_kept() {
    let bench = bench();
    let cases = [
        (
            "ring = \"4.0 mm inside closed\"",
            "ring = \"4.0 mm\"",
            "Line 8: ring size \"main\" ring is \u{201c}4.0 mm\u{201d}",
        ),
        (
            "\"plain_mine\"",
            "\"Plain\"",
            "Line 2: pattern is \u{201c}Plain\u{201d}: a pattern's key has small letters",
        ),
        ("\"plain_mine\"", "\"cable_1in1\"", "that comes with the program has that key"),
        ("title =", "tittle =", "Line 3: unknown field `tittle`"),
        ("back = 1", "back = 0", "passes through rings that are there already"),
        ("ring = \"A\", back", "ring = \"B\", back", "no [[ring]] has that name"),
        ("[repeat]", "[repeat", "Line 10: unclosed table"),
        ("\"main\"", "main", "Line 6: "),
        ("as = \"chain\"\ntwist_free = true", "as = \"sheet\"", "nothing links"),
    ];
    for (good, bad, says) in cases {
        let spoiled = PLAIN.replacen(good, bad, 1);
        assert_ne!(spoiled, PLAIN, "{good}");
        for wanted in ["check", "keep"] {
            let answer = send(&bench, "/chain/own", &[("text", &spoiled), ("do", wanted)]).await;
            assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{bad}");
            let said = answer.words("#wrong").concat();
            assert!(said.contains(says), "{bad}: {said}");
            assert_eq!(
                answer.words("#text").concat(),
                spoiled.split_whitespace().collect::<Vec<_>>().join(" ")
            );
        }
    }
    // The line it stands in is shown, with those beside it.
    let spoiled = PLAIN.replacen("4.0 mm inside closed", "4.0 mm", 1);
    let lines = check(&bench, &spoiled).await.words("#wrong .line");
    assert_eq!(lines.len(), 3);
    assert!(lines[1].contains("8 ring = \"4.0 mm\""), "{lines:?}");
    assert!(bench.all::<KeptPattern>().is_empty());
}

#[tokio::test]
async fn nothing_a_text_too_long_and_a_file_that_is_no_text_are_refused() {
    let bench = bench();
    let said = async |fields: &[(&str, &str)]| {
        let answer = send(&bench, "/chain/own", fields).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
        answer.words("#wrong strong").concat()
    };
    assert!(said(&[("text", "  "), ("do", "check")]).await.contains("choose a file"));
    let long = format!("{PLAIN}#{}", "x".repeat(64 * 1024));
    let answer = check(&bench, &long).await;
    assert!(answer.words("#wrong strong").concat().contains("at most 65536 are taken"));
    assert!(answer.words("#text").concat().len() > 64 * 1024, "what was typed is kept");
    let huge = "x".repeat(2 * 1024 * 1024);
    assert_eq!(check(&bench, &huge).await.status, StatusCode::PAYLOAD_TOO_LARGE);
    // Nobody but a page of ours brings a pattern in.
    let stranger = "--x\r\ncontent-disposition: form-data; name=\"text\"\r\n\r\nx\r\n--x--\r\n";
    let answer = bench.post_as("/chain/own", "multipart/form-data; boundary=x", stranger).await;
    assert_eq!(answer.status, StatusCode::FORBIDDEN);
}

/// Sends a file chosen by mistake beside a text that was typed.
async fn choose(bench: &Bench, file: &[u8], typed: &str) -> Answer {
    let token =
        bench.get("/chain/own").await.attribute("form.own-pattern input[name=token]", "value");
    let part = |name: &str| format!("--x\r\ncontent-disposition: form-data; name=\"{name}\"");
    let mut body = format!("{}\r\n\r\n{token}\r\n", part("token")).into_bytes();
    body.extend(format!("{}; filename=\"a\"\r\n\r\n", part("file")).bytes());
    body.extend(file);
    body.extend(format!("\r\n{}\r\n\r\n{typed}\r\n", part("text")).bytes());
    body.extend(format!("{}\r\n\r\nkeep\r\n--x--\r\n", part("do")).bytes());
    bench.post_as("/chain/own", "multipart/form-data; boundary=x", body).await
}

#[tokio::test]
async fn a_file_that_is_no_pattern_says_why_and_what_was_typed_is_not_lost() {
    let bench = bench();
    let sixteen = |first: u8, text: &str| -> Vec<u8> {
        let units = text.encode_utf16();
        [first, if first == 0xff { 0xfe } else { 0xff }]
            .into_iter()
            .chain(units.flat_map(|unit| {
                let [high, low] = unit.to_be_bytes();
                if first == 0xff { [low, high] } else { [high, low] }
            }))
            .collect()
    };
    let without_mark = sixteen(0xff, PLAIN).split_off(2);
    let latin = PLAIN.replace("one ring", "Stra\u{df}e").chars().map(|c| c as u8).collect();
    let mut photo = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec();
    photo.resize(6 * 1024 * 1024, 7);
    let long = format!("{PLAIN}#{}", "x".repeat(64 * 1024));
    let bytes = long.len();
    for (file, says) in [
        (sixteen(0xff, PLAIN), "the file is text in UTF-16; save it anew".to_owned()),
        (sixteen(0xfe, PLAIN), "the file is text in UTF-16; save it anew".to_owned()),
        (
            without_mark,
            "no plain text but a picture, a table or a program, or text in UTF-16".to_owned(),
        ),
        (latin, "line 3 of the file has a letter that is not in UTF-8".to_owned()),
        (photo, "the file is no plain text but a picture".to_owned()),
        (long.into_bytes(), format!("the file has {bytes} bytes; at most 65536 are taken")),
    ] {
        let answer = choose(&bench, &file, "half = \"typed\"").await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{says}");
        let said = answer.words("#wrong strong").concat();
        assert!(said.contains(&says), "{said}");
        assert_eq!(answer.words("#text").concat(), "half = \"typed\"");
    }
    assert!(bench.all::<KeptPattern>().is_empty());
}

#[tokio::test]
async fn of_several_chains_one_is_chosen_and_the_text_says_which() {
    let bench = bench();
    let checked = check(&bench, SEVERAL).await;
    assert_eq!(checked.status, StatusCode::OK, "{:?}", checked.words("#wrong"));
    let shown = checked.words("label.chain");
    assert!(shown.len() > 1, "{shown:?}");
    assert!(shown[0].starts_with("1: from aspect ratio "), "{shown:?}");
    assert_eq!(checked.words("label.chain svg").len(), shown.len());
    // Not without saying which.
    let asked = send(&bench, "/chain/own", &[("text", SEVERAL), ("do", "keep")]).await;
    assert_eq!(asked.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(asked.words("#which-about").concat().contains("choose one of them"));
    assert!(bench.all::<KeptPattern>().is_empty());

    let beyond = SEVERAL.replacen("\"either_way\"\n", "\"either_way\"\nwhich = 99\n", 1);
    assert!(
        check(&bench, &beyond)
            .await
            .words("#wrong")
            .concat()
            .contains("which is \u{201c}99\u{201d}")
    );

    let fields = [("text", SEVERAL), ("which", "2"), ("do", "keep")];
    let kept = send(&bench, "/chain/own", &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{:?}", kept.words("#wrong"));
    let (id, record) = only(&bench);
    assert_eq!(record.text, SEVERAL.replacen("\"either_way\"\n", "\"either_way\"\nwhich = 2\n", 1));
    let least = format!("2: from aspect ratio {:.2}", record.aspect_ratio_min);
    assert!(shown[1].starts_with(&least), "{least}: {shown:?}");
    // Looked at again, the choice stands.
    let again =
        send(&bench, &format!("/chain/own/{id}"), &[("text", &record.text), ("do", "check")]).await;
    assert_eq!(again.attribute("input[name=which][checked]", "value"), "2");
}

#[tokio::test]
async fn a_key_is_taken_once_and_a_pattern_may_keep_its_own() {
    let bench = bench();
    keep(&bench, PLAIN).await;
    for key in ["plain_mine", "plainmine"] {
        let clash = check(&bench, &PLAIN.replacen("plain_mine", key, 1)).await;
        assert_eq!(clash.status, StatusCode::UNPROCESSABLE_ENTITY);
        let said = clash.words("#wrong").concat();
        assert!(said.contains("another of your own patterns has that key"), "{said}");
        assert!(said.contains("Line 2: pattern"), "{said}");
    }
    let (id, _) = only(&bench);
    let renamed = PLAIN.replacen("as we say it", "as we have it", 1);
    let to = format!("/chain/own/{id}");
    let replaced = send(&bench, &to, &[("text", &renamed), ("do", "keep")]).await;
    assert_eq!(replaced.status, StatusCode::SEE_OTHER);
    assert_eq!(only(&bench).1.title, "one ring in the next, as we have it");
    undo(&bench).await;
    assert_eq!(only(&bench).1.text, PLAIN);
    let removed = bench.submit("/chain/own", &format!("{to}/remove"), &[]).await;
    assert_eq!(removed.location.as_deref(), Some("/chain/own"));
    assert!(bench.all::<KeptPattern>().is_empty());
    let gone = bench.get("/chain/pattern?pattern=plain_mine").await;
    assert_eq!(gone.status, StatusCode::NOT_FOUND);
    assert!(gone.text.contains("is not there any more"), "{}", gone.text);
    undo(&bench).await;
    assert_eq!(bench.get("/chain/pattern?pattern=plain_mine").await.status, StatusCode::OK);
    assert_eq!(bench.get("/chain/own/99").await.status, StatusCode::NOT_FOUND);
    let nobody = send(&bench, "/chain/own", &[("text", PLAIN)]).await;
    assert_eq!(nobody.status, StatusCode::UNPROCESSABLE_ENTITY);
}

/// An order of one line in the necklace's wire, off its rod of 4.0 mm.
fn order_in(bench: &Bench, pattern: &str) -> Id<RingOrder> {
    let now = bench.app.clock().now();
    let saved = bench.app.store().act::<_, StoreError>(now, "Ordered", |act| {
        let order_id = act.add(&RingOrder {
            name: "77".to_owned(),
            asked_on: "2026-11-25".to_owned(),
            due_on: None,
            buyer: String::new(),
            note: String::new(),
            closed_on: None,
        })?;
        act.add(&OrderLine {
            order_id,
            position: 1,
            name: "bracelet".to_owned(),
            kind: LineKind::Chain,
            metal: "sterling".to_owned(),
            temper: "soft".to_owned(),
            wire_typed: "1.02 mm".to_owned(),
            wire_mm: 1.02,
            rings: None,
            pattern: Some(pattern.to_owned()),
            girth_typed: None,
            ease_typed: None,
            across_typed: None,
            end_rings: None,
            chain_length_typed: Some("180 mm".to_owned()),
            clasp_typed: Some("12 mm".to_owned()),
            kits: None,
            rings_each: None,
            spare_each: None,
            ring_typed: None,
            tolerance_typed: None,
            rod_typed: Some("4.00 mm".to_owned()),
            spare_typed: None,
        })?;
        Ok(order_id)
    });
    saved.expect("saved")
}

/// What the question `run_sheet` of the HTTP interface says of an order in that pattern.
async fn asked_over_http(bench: &Bench, pattern: &str) -> Answer {
    let toml = |name: &str| -> Value {
        let text = example(name);
        serde_json::to_value(toml::from_str::<toml::Value>(&text).expect("TOML")).expect("JSON")
    };
    let line = json!({
        "name": "bracelet", "metal": "sterling", "temper": "soft", "wire": "1.02 mm", "rod": "5.50 mm",
        "pattern": pattern, "chain": { "length": "180 mm", "clasp": "12 mm" },
    });
    let mut order = json!({ "order": "77", "line": [line] });
    order["date"] = json!("2026-11-25");
    let question = json!({ "order": order, "workshop": toml("bench.toml") });
    bench.post_as("/api/ask/run_sheet", "application/json", question.to_string()).await
}

#[tokio::test]
async fn an_order_in_a_pattern_of_ones_own_is_planned_as_the_file_is_on_the_command_line() {
    let bench = bench();
    keep(&bench, &example("skipping-rope.toml")).await;
    let folder = tempfile::tempdir().expect("a folder");
    let beside = |name: &str| -> PathBuf { folder.path().join(name) };
    for name in ["bench.toml", "skipping-rope.toml"] {
        std::fs::copy(examples::path(name), beside(name)).expect("copied");
    }
    let order = "order = \"77\"\ndate = \"2026-11-25\"\nworkshop = \"bench.toml\"\n[[line]]\nname = \"bracelet\"\n\
                 metal = \"sterling\"\ntemper = \"soft\"\nwire = \"1.02 mm\"\nrod = \"5.50 mm\"\n\
                 pattern = \"skipping-rope.toml\"\nchain = { length = \"180 mm\", clasp = \"12 mm\" }\n";
    std::fs::write(beside("order.toml"), order).expect("written");
    let loaded = load(&beside("order.toml"), None).expect("loaded");
    let of_file = plan_as_json(&loaded.plan(None).expect("planned"), Money::Shown);
    let in_app = asked_over_http(&bench, "skipping_rope").await;
    assert_eq!(in_app.status, StatusCode::OK, "{}", in_app.text);
    assert!(of_file["sheets"].as_array().is_some_and(|sheets| sheets.len() == 1), "{of_file}");
    assert_eq!(in_app.json()["answer"]["sheets"], of_file["sheets"]);
    // The file is named on the command line only.
    let named = asked_over_http(&bench, "skipping-rope.toml").await;
    assert_eq!(named.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn an_order_says_so_when_its_own_pattern_is_replaced_or_removed_and_started_sheets_stand() {
    let bench = bench();
    keep(&bench, PLAIN).await;
    let (id, _) = only(&bench);
    let order = order_in(&bench, "plain_mine");
    let at = format!("/orders/{order}");
    // Its rings are solved beside the pages, which are answered meanwhile.
    let first = bench.get(&at).await;
    assert_eq!(first.status, StatusCode::ACCEPTED, "{}", first.text);
    assert!(first.text.contains("How the rings of this order go together"), "{}", first.text);
    assert_eq!(first.refresh.as_deref(), Some("2"));
    assert_eq!(bench.get("/orders").await.status, StatusCode::OK);
    let (page, _) = bench.once_there(&at).await;
    assert!(page.words("p.caution").is_empty(), "{:?}", page.words("p.caution"));
    // Rings off the rod of 4.0 mm hang their inside diameter, once closed, each.
    let sheet = bench.get(&format!("{at}/sheet")).await;
    assert!(sheet.text.contains("one ring in the next, as we say it"), "{}", sheet.text);
    let line = bench.all::<OrderLine>().pop().expect("a line").id.to_string();
    let started = bench.submit(&at, &format!("{at}/sheet"), &[("line", &line)]).await;
    assert_eq!(started.status, StatusCode::SEE_OTHER, "{}", started.text);
    let frozen = bench.all::<FrozenSheet>().pop().expect("frozen");
    let frozen_at = format!("{at}/frozen/{}", frozen.id);
    let as_frozen = bench.get(&frozen_at).await;
    assert_eq!(as_frozen.status, StatusCode::OK, "{}", as_frozen.text);
    assert!(!as_frozen.text.contains("own pattern"), "{}", as_frozen.text);

    let other = PLAIN.replacen("as we say it", "as we say it now", 1);
    let replaced =
        send(&bench, &format!("/chain/own/{id}"), &[("text", &other), ("do", "keep")]).await;
    assert_eq!(replaced.status, StatusCode::SEE_OTHER, "{:?}", replaced.words("#wrong"));
    let said = bench.once_there(&at).await.0.words("p.caution").concat();
    assert!(said.contains("own pattern plain_mine was replaced after this line"), "{said}");
    let changed = bench.get(&frozen_at).await;
    let told = changed.words("main li").concat();
    assert!(
        told.contains("own pattern \"plain_mine\": was as on this sheet, is now replaced"),
        "{told}"
    );
    undo(&bench).await;
    assert!(bench.once_there(&at).await.0.words("p.caution").is_empty());

    let own = bench.get("/chain/own").await.words("ul.own").concat();
    assert!(own.contains("1 open order is linked in it"), "{own}");
    let removed = bench.submit("/chain/own", &format!("/chain/own/{id}/remove"), &[]).await;
    assert_eq!(removed.status, StatusCode::SEE_OTHER);
    let said = bench.once_there(&at).await.0.words("p.caution").concat();
    assert!(said.contains("your own pattern \"plain_mine\" is not there any more"), "{said}");
    assert!(said.contains("removed or renamed on 2026-11-25"), "{said}");
    let stands = bench.get(&frozen_at).await;
    assert_eq!(stands.status, StatusCode::OK);
    let told = stands.words("main li").concat();
    assert!(
        told.contains("own pattern \"plain_mine\": was as on this sheet, is now removed"),
        "{told}"
    );
    let refused = bench.submit(&at, &format!("{at}/sheet"), &[("line", &line)]).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    undo(&bench).await;
    assert!(bench.once_there(&at).await.0.words("p.caution").is_empty());
}

#[tokio::test]
async fn a_kept_pattern_whose_places_do_not_have_its_links_cannot_be_used_and_says_why() {
    let bench = bench();
    keep(&bench, PLAIN).await;
    let (id, record) = only(&bench);
    let now = bench.app.clock().now();
    let spoiled = KeptPattern { start: Some("0 0 0 0 1 0 9.5 1.5".to_owned()), ..record };
    bench
        .app
        .store()
        .act::<_, StoreError>(now, "Spoiled", |act| act.change(id, &spoiled))
        .expect("kept");
    let page = bench.get("/chain/own").await;
    assert!(page.words("ul.own .complaint").concat().contains("Cannot be used"), "{}", page.text);
    let own = bench.get("/chain/pattern?pattern=plain_mine").await;
    assert_eq!(own.status, StatusCode::NOT_FOUND);
    assert!(own.text.contains("cannot be used"), "{}", own.text);
    assert!(!bench.get("/chain").await.text.contains("plain_mine"));
}
