//! Orders of patterns of several ring sizes, from the form to the bench.

use axum::http::StatusCode;
use linkwright_store::records::{FurtherRing, OrderLine, RingOrder};
use linkwright_store::{Id, LineInFull, Saved, StoreError};

use crate::bench::{Answer, Bench};
use crate::examples;

/// The workshop of the examples' file.
fn bench() -> Bench {
    let bench = Bench::new();
    let now = bench.app.clock().now();
    let set_up = bench.app.store().act(now, "Set up", |act| {
        examples::add_workshop(act, "bench.toml");
        Ok::<_, StoreError>(())
    });
    set_up.expect("saved");
    bench
}

/// An anklet of a pattern of two sizes, as far as its own ring goes.
const ANKLET: [(&str, &str); 12] = [
    ("name", "Ferry Lane 20"),
    ("asked_on", "2026-11-20"),
    ("line-1-name", "anklet"),
    ("line-1-kind", "chain"),
    ("line-1-pattern", "large_and_small"),
    ("line-1-chain_length", "240 mm"),
    ("line-1-clasp_is", "out"),
    ("line-1-metal", "sterling"),
    ("line-1-temper", "soft"),
    ("line-1-wire", "1.02 mm"),
    ("line-1-by", "rod"),
    ("line-1-rod", "4.50 mm"),
];

/// Its small ring.
const SMALL: [(&str, &str); 3] =
    [("line-1-wire-2", "1.02 mm"), ("line-1-by-2", "rod"), ("line-1-rod-2", "3.50 mm")];

/// Fields with others in their place or beside them.
fn with<'a>(fields: &[(&'a str, &'a str)], more: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let stays = |field: &&(&str, &str)| more.iter().all(|(name, _)| *name != field.0);
    fields.iter().filter(stays).chain(more).copied().collect()
}

fn anklet() -> Vec<(&'static str, &'static str)> {
    with(&ANKLET, &SMALL)
}

async fn sent(bench: &Bench, fields: &[(&str, &str)]) -> Answer {
    bench.submit("/orders/new", "/orders/new", fields).await
}

/// The order kept; its address.
async fn kept(bench: &Bench, fields: &[(&str, &str)]) -> String {
    let answer = sent(bench, fields).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{:?}", answer.words(".complaint"));
    answer.location.expect("an address")
}

fn value(page: &Answer, name: &str) -> String {
    page.attribute(&format!("[name=\"{name}\"]"), "value")
}

fn complaint(page: &Answer, name: &str) -> String {
    page.words(&format!("#{name}-about .complaint")).concat()
}

fn lines(bench: &Bench, order: i64) -> Vec<LineInFull> {
    let lines: Result<_, StoreError> =
        bench.app.store().read(|view| view.lines_in_full(Id::new(order)));
    lines.expect("read")
}

/// Ring sizes as typed: size, wire, ring, tolerance, rod.
fn typed(further: &[FurtherRing]) -> Vec<(u32, &str, &str, &str, &str)> {
    fn word(typed: &Option<String>) -> &str {
        typed.as_deref().unwrap_or("")
    }
    further
        .iter()
        .map(|ring| {
            let FurtherRing { ring_typed, tolerance_typed, rod_typed, .. } = ring;
            (ring.size, &*ring.wire_typed, word(ring_typed), word(tolerance_typed), word(rod_typed))
        })
        .collect()
}

#[tokio::test]
async fn every_pattern_can_be_chosen_and_shows_its_ring_sizes_by_their_names() {
    let bench = bench();
    let blank = bench.get("/orders/new").await;
    let offered = blank.words("#line-1-pattern option").len();
    assert_eq!(offered, 1 + linkwright_linkage::pattern::craft::all().len());
    assert!(blank.words(".further").is_empty(), "no pattern, no further sizes");
    let shown = sent(&bench, &with(&ANKLET, &[("do", "show-sizes")])).await;
    assert_eq!(shown.status, StatusCode::OK);
    assert_eq!(shown.words(".further > legend"), ["Ring size 2: small ring"]);
    assert_eq!(shown.words(".ring-size .of-sizes"), ["Ring size 1: large ring"]);
    assert_eq!(value(&shown, "line-1-wire-2"), "1.02 mm", "most often the same wire");
    assert_eq!(value(&shown, "line-1-chain_length"), "240 mm");
    let by = shown.attribute("input[name=line-1-by-2][checked]", "value");
    assert_eq!(by, "rod");
    let four = with(&ANKLET, &[("line-1-pattern", "graduated_cable"), ("do", "show-sizes")]);
    let names = sent(&bench, &four).await.words(".further > legend");
    let wanted =
        ["Ring size 2: large ring", "Ring size 3: small ring", "Ring size 4: smallest ring"];
    assert_eq!(names, wanted);
    assert!(bench.all::<RingOrder>().is_empty(), "nothing is kept by looking");
}

#[tokio::test]
async fn what_is_typed_of_two_sizes_is_kept_and_comes_back_to_be_changed() {
    let bench = bench();
    let order = kept(&bench, &anklet()).await;
    let line = lines(&bench, 1).remove(0);
    assert_eq!(line.line.rod_typed.as_deref(), Some("4.50 mm"));
    assert_eq!(typed(&line.further), [(2, "1.02 mm", "", "", "3.50 mm")]);
    assert_eq!(line.further[0].wire_mm, Some(1.02));
    let form = bench.get(&format!("{order}/edit")).await;
    for (name, typed) in SMALL.into_iter().filter(|(name, _)| !name.contains("by")) {
        assert_eq!(value(&form, name), typed, "{name}");
    }
    assert_eq!(form.attribute("input[name=line-1-by-2][checked]", "value"), "rod");
    let by_size = with(
        &anklet(),
        &[
            ("line-1-id", "1"),
            ("line-1-by-2", "ring"),
            ("line-1-ring-2", "3.6 mm"),
            ("line-1-side-2", "inside"),
            ("line-1-state-2", "closed"),
            ("line-1-tolerance-2", "0.1 mm"),
        ],
    );
    let edit = format!("{order}/edit");
    assert_eq!(bench.submit(&edit, &edit, &by_size).await.status, StatusCode::SEE_OTHER);
    let line = lines(&bench, 1).remove(0);
    assert_eq!(typed(&line.further), [(2, "1.02 mm", "3.6 mm inside closed", "0.1 mm", "")]);
    let page = bench.get(&order).await;
    let told = page.words("main").concat();
    for words in ["ring size 2: 1.02 mm, ring 3.6 mm inside closed", "3.600 mm (0.1417 in)"] {
        assert!(told.contains(words), "{words}: {told}");
    }
    // What it was before stands in its history.
    let was = page.words("details.history").concat();
    assert!(was.contains("rod, as typed: 3.50 mm"), "{was}");
}

/// The fields of the form for an example's line, as a jeweller fills them in.
fn as_typed(line: &LineInFull) -> Vec<(String, String)> {
    let of = |kept: &Option<String>| kept.clone().unwrap_or_default();
    let record = &line.line;
    let mut fields: Vec<(String, String)> = [
        ("name", record.name.clone()),
        ("kind", record.kind.to_string()),
        ("pattern", of(&record.pattern)),
        ("chain_length", of(&record.chain_length_typed)),
        ("clasp_is", if record.clasp_typed.is_some() { "in" } else { "out" }.to_owned()),
        ("clasp", of(&record.clasp_typed)),
        ("end_rings", record.end_rings.map_or_else(String::new, |rings| rings.to_string())),
        ("metal", record.metal.clone()),
        ("temper", record.temper.clone()),
        ("wire", record.wire_typed.clone()),
        ("by", "rod".to_owned()),
        ("rod", of(&record.rod_typed)),
        ("spare", of(&record.spare_typed)),
    ]
    .map(|(name, typed)| (name.to_owned(), typed))
    .into();
    for ring in &line.further {
        let by = if ring.rod_typed.is_some() { "rod" } else { "ring" };
        for (name, typed) in [
            ("wire", ring.wire_typed.clone()),
            ("by", by.to_owned()),
            ("ring", of(&ring.ring_typed)),
            ("tolerance", of(&ring.tolerance_typed)),
            ("rod", of(&ring.rod_typed)),
        ] {
            fields.push((format!("{name}-{}", ring.size), typed));
        }
    }
    fields.into_iter().map(|(name, typed)| (format!("line-1-{name}"), typed)).collect()
}

// That such records are planned as the file is says a test of planning.
#[tokio::test]
async fn the_form_keeps_patterns_of_two_and_four_sizes_as_their_order_files_have_them() {
    for (file, line) in [("linked-pieces.toml", "anklet"), ("graduated-cable.toml", "necklace")] {
        let bench = bench();
        let now = bench.app.clock().now();
        let of_file = bench
            .app
            .store()
            .act(now, "From the file", |act| act.lines_in_full(examples::add_order(act, file)))
            .expect("saved");
        let of_file = of_file.into_iter().find(|one| one.line.name == line).expect("the line");
        let mut fields: Vec<(String, String)> = [("name", "As typed"), ("asked_on", "2026-11-24")]
            .map(|(name, typed)| (name.to_owned(), typed.to_owned()))
            .into();
        fields.extend(as_typed(&of_file));
        let fields: Vec<(&str, &str)> =
            fields.iter().map(|(name, typed)| (name.as_str(), typed.as_str())).collect();
        kept(&bench, &fields).await;
        let of_form = lines(&bench, 2).remove(0);
        let here = OrderLine { order_id: Id::new(2), position: 1, ..of_file.line.clone() };
        assert_eq!(of_form.line, here, "{file}");
        assert!(of_form.further.len() == 1 || of_form.further.len() == 3);
        assert_eq!(typed(&of_form.further), typed(&of_file.further), "{file}");
    }
}

#[tokio::test]
async fn missing_sizes_come_back_as_fields_with_a_complaint_beside_them() {
    let bench = bench();
    let refused = sent(&bench, &ANKLET).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(refused.words(".further > legend"), ["Ring size 2: small ring"]);
    assert!(!complaint(&refused, "line-1-rod-2").is_empty(), "{:?}", refused.words(".complaint"));
    assert!(complaint(&refused, "line-1-rod").is_empty());
    assert_eq!(value(&refused, "line-1-rod"), "4.50 mm");
    let third = with(&anklet(), &[("line-1-pattern", "graduated_cable")]);
    let refused = sent(&bench, &third).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    for (name, is_wrong) in [("rod-2", false), ("rod-3", true), ("rod-4", true)] {
        let said = complaint(&refused, &format!("line-1-{name}"));
        assert_eq!(said.is_empty(), !is_wrong, "{name}: {said}");
    }
    assert!(bench.all::<RingOrder>().is_empty());
}

#[tokio::test]
async fn a_wrong_further_size_is_named_by_its_own_field() {
    let bench = bench();
    for (wrong, field, words) in [
        (&[("line-1-wire-2", "18")][..], "line-1-wire-2", "AWG"),
        (&[("line-1-wire-2", "90 mm")], "line-1-wire-2", "wire"),
        (&[("line-1-rod-2", "4")], "line-1-rod-2", "4"),
        (&[("line-1-rod-2", "4 m")], "line-1-rod-2", "mandrel"),
        (&[("line-1-by-2", "")], "line-1-by-2", "choose"),
        (&[("line-1-by-2", "ring"), ("line-1-ring-2", "3 mm")], "line-1-ring-2", "inside"),
        (&[("line-1-by-2", "ring"), ("line-1-ring-2", "3 mm inside")], "line-1-ring-2", "open"),
        (
            &[("line-1-by-2", "ring"), ("line-1-ring-2", "3 mm inside open")],
            "line-1-tolerance-2",
            "off",
        ),
        (
            &[
                ("line-1-by-2", "ring"),
                ("line-1-ring-2", "9 m inside open"),
                ("line-1-tolerance-2", "0.1 mm"),
            ],
            "line-1-ring-2",
            "inside",
        ),
    ] {
        let refused = sent(&bench, &with(&anklet(), wrong)).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{wrong:?}");
        let said = complaint(&refused, field);
        assert!(said.contains(words), "{wrong:?}: {:?}", refused.words(".complaint"));
        let own = complaint(&refused, "line-1-wire") + &complaint(&refused, "line-1-ring");
        assert!(own.is_empty(), "the line's own ring is right: {own}");
        for (name, typed) in with(&anklet(), wrong) {
            if !["kind", "pattern", "clasp_is", "by", "by-2"].iter().any(|end| name.ends_with(end))
            {
                assert_eq!(value(&refused, name), typed, "{name} is kept as typed");
            }
        }
    }
}

#[tokio::test]
async fn nothing_typed_of_a_size_is_lost_when_lines_come_and_go_or_the_pattern_changes() {
    let bench = bench();
    let more = sent(&bench, &with(&anklet(), &[("do", "add-line")])).await;
    assert_eq!(value(&more, "line-1-rod-2"), "3.50 mm");
    assert!(more.words("#line-2 .further").is_empty(), "the next line has its own pattern");
    let mut second: Vec<(&str, &str)> = vec![
        ("line-2-name", "second"),
        ("line-2-kind", "chain"),
        ("line-2-pattern", "large_and_small"),
        ("line-2-wire-2", "0.8 mm"),
        ("line-2-rod-2", "3 mm"),
    ];
    second.push(("do", "remove-line-1"));
    let fewer = sent(&bench, &with(&anklet(), &second)).await;
    assert_eq!(value(&fewer, "line-1-wire-2"), "0.8 mm");
    assert_eq!(value(&fewer, "line-1-rod-2"), "3 mm");
    let one_size = with(&anklet(), &[("line-1-pattern", "byzantine"), ("do", "show-sizes")]);
    let one_size = sent(&bench, &one_size).await;
    assert!(one_size.words(".further").is_empty());
    assert_eq!(one_size.attribute("[name=line-1-rod-2]", "type"), "hidden");
    assert_eq!(value(&one_size, "line-1-rod-2"), "3.50 mm");
}

#[tokio::test]
async fn each_size_has_its_own_run_sheet_and_run() {
    let bench = bench();
    let order = kept(&bench, &anklet()).await;
    let page = bench.get(&order).await;
    let links = page.words(".actions a.primary");
    assert_eq!(links, ["Run sheet of ring size 1 of anklet", "Run sheet of ring size 2 of anklet"]);
    let sheets = format!("{order}/sheet?line=1");
    let (large, small) = (bench.get(&sheets).await, bench.get(&format!("{sheets}&size=2")).await);
    assert_eq!(large.words("nav.tabs a"), ["anklet", "anklet, ring size 2"]);
    assert_eq!(small.words("nav.tabs a[aria-current]"), ["anklet, ring size 2"]);
    let keys = [large.words(".keys .number"), small.words(".keys .number")];
    assert_eq!((keys[0][0].as_str(), keys[1][0].as_str()), ("4.50 mm", "3.50 mm"));
    assert_eq!(bench.get(&format!("{sheets}&size=3")).await.status, StatusCode::NOT_FOUND);
    let paper = small.attribute("a[href^='/paper/']", "href");
    assert_eq!(paper, "/paper/run-sheet/line/1?size=2");

    let state = async || bench.get("/orders").await.words("td .chip").concat();
    let start = async |fields: &[(&str, &str)]| {
        bench.submit(&sheets, &format!("{order}/sheet"), fields).await
    };
    assert_eq!(start(&[("line", "1")]).await.location.expect("a run"), "/runs/1");
    assert!(state().await.contains("of more than"), "{}", state().await);
    assert_eq!(start(&[("line", "1"), ("size", "2")]).await.location.expect("a run"), "/runs/2");
    let runs = bench.get(&order).await.words("table td:first-child a");
    assert_eq!(runs, ["anklet, run 1", "anklet, ring size 2, run 2"]);
    assert!(!state().await.contains("more than"), "{}", state().await);
    assert_eq!(
        start(&[("line", "1"), ("size", "4")]).await.status,
        StatusCode::NOT_FOUND,
        "there is no fourth size"
    );

    // A frozen sheet tells what has changed of a size since.
    let edit = format!("{order}/edit");
    let changed = with(&anklet(), &[("line-1-id", "1"), ("line-1-rod-2", "4.00 mm")]);
    assert!(bench.submit(&edit, &edit, &changed).await.status.is_redirection());
    let frozen = bench.get(&format!("{order}/frozen/2")).await.words("main").concat();
    let told = "line ring size 2 rod: was 3.50 mm, is now 4.00 mm";
    assert!(frozen.contains(told), "{frozen}");
}

#[tokio::test]
async fn an_order_of_several_sizes_is_repeated_changed_removed_and_undone_with_all_of_them() {
    let bench = bench();
    let order = kept(&bench, &anklet()).await;
    let again = bench.submit(&order, &format!("{order}/repeat"), &[]).await;
    let form = bench.get(&again.location.expect("the new one")).await;
    assert_eq!(value(&form, "line-1-rod-2"), "3.50 mm");
    assert_eq!(typed(&lines(&bench, 2)[0].further), typed(&lines(&bench, 1)[0].further));

    let edit = format!("{order}/edit");
    let one_size = with(&anklet(), &[("line-1-id", "1"), ("line-1-pattern", "byzantine")]);
    assert!(bench.submit(&edit, &edit, &one_size).await.status.is_redirection());
    assert!(lines(&bench, 1)[0].further.is_empty());
    assert!(bench.submit(&order, "/undo", &[]).await.status.is_redirection());
    assert_eq!(typed(&lines(&bench, 1)[0].further), [(2, "1.02 mm", "", "", "3.50 mm")]);

    let gone = bench.submit(&order, &format!("{order}/remove"), &[]).await;
    assert!(gone.status.is_redirection());
    let left: Vec<Saved<FurtherRing>> = bench.all();
    assert_eq!(left.len(), 1, "those of the repeated order");
    assert!(bench.submit("/orders", "/undo", &[]).await.status.is_redirection());
    assert_eq!(typed(&lines(&bench, 1)[0].further), [(2, "1.02 mm", "", "", "3.50 mm")]);
}

#[tokio::test]
async fn a_line_with_too_few_sizes_on_record_says_so_and_a_name_of_a_size_is_not_taken_twice() {
    let bench = bench();
    let order = kept(&bench, &anklet()).await;
    let ring = bench.all::<FurtherRing>().remove(0).id;
    let now = bench.app.clock().now();
    let removed: Result<(), StoreError> =
        bench.app.store().act(now, "Took a size out", |act| act.remove(ring));
    removed.expect("removed");
    let told = bench.get(&order).await.words(".caution").concat();
    assert!(told.contains("large_and_small takes 2 ring sizes"), "{told}");

    let twice = with(
        &anklet(),
        &[
            ("name", "Ferry Lane 21"),
            ("line-2-name", "anklet, ring size 2"),
            ("line-2-kind", "rings"),
            ("line-2-rings", "40"),
            ("line-2-metal", "sterling"),
            ("line-2-temper", "soft"),
            ("line-2-wire", "1.02 mm"),
            ("line-2-by", "rod"),
            ("line-2-rod", "4.00 mm"),
        ],
    );
    let refused = sent(&bench, &twice).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(complaint(&refused, "line-2-name").contains("\"anklet\" goes by this name"));
}

#[tokio::test]
async fn an_order_is_found_by_the_wire_and_the_rod_of_a_further_size() {
    let bench = bench();
    let thin = with(&anklet(), &[("line-1-wire-2", "20 awg"), ("line-1-rod-2", "3.25 mm")]);
    let order = kept(&bench, &thin).await;
    for (clue, is_found) in
        [("0.81+mm", true), ("20+awg", true), ("3.25", true), ("0.7+mm", false), ("3.75", false)]
    {
        let list = bench.get(&format!("/orders?q={clue}")).await;
        assert_eq!(list.text.contains(&format!("href=\"{order}\"")), is_found, "{clue}");
    }
}

#[tokio::test]
async fn kits_of_two_sizes_have_a_sheet_of_each_and_one_handout_of_both() {
    let bench = bench();
    let kits = with(
        &anklet(),
        &[("line-1-kind", "kits"), ("line-1-kits", "3"), ("line-1-spare_each", "1")],
    );
    let order = kept(&bench, &kits).await;
    let page = bench.get(&order).await;
    assert_eq!(
        page.words("a[href^='/paper/kit/']"),
        ["Kit sheet of ring size 1 as PDF of anklet", "Kit sheet of ring size 2 as PDF of anklet"]
    );
    let made = bench.submit("/handouts", "/handouts", &[("kind", "kit"), ("line", "1")]).await;
    let handout = bench.get(&made.location.expect("a version")).await;
    let captions = handout.words("caption");
    assert_eq!(captions, ["The rings, ring size 1", "The rings, ring size 2"]);
    assert_eq!(handout.text.matches("Kit 3 of 3").count(), 2, "a label for each size");
}

#[tokio::test]
async fn make_this_begins_an_order_with_every_ring_size() {
    let bench = bench();
    let asked = "/chain/pattern?pattern=large_and_small&metal=sterling&temper=soft&state=closed";
    let given =
        format!("{asked}&wire=1.02+mm&inside=5+mm&wire2=0.81+mm&inside2=3+mm&length=200+mm");
    let page = bench.get(&given).await;
    let order = bench.get(&page.attribute("#make", "href")).await;
    assert_eq!(order.words(".further > legend"), ["Ring size 2: small ring"]);
    assert_eq!(value(&order, "line-1-wire"), "1.02 mm");
    assert_eq!(value(&order, "line-1-wire-2"), "0.81 mm");
    assert_eq!(value(&order, "line-1-ring-2"), "3 mm inside closed");
    assert_eq!(value(&order, "line-1-tolerance-2"), "0.05 mm");
    assert_eq!(order.attribute("input[name=line-1-by-2][checked]", "value"), "ring");
    // Left blank, the small ring follows the pattern: centre lines as 0.6 to 1, wires alike.
    let page = bench.get(&format!("{asked}&wire=1+mm&inside=5+mm")).await;
    let order = bench.get(&page.attribute("#make", "href")).await;
    assert_eq!(value(&order, "line-1-wire-2"), "1 mm");
    assert_eq!(value(&order, "line-1-ring-2"), "2.6 mm inside closed", "0.6 x (5 + 1) - 1");
}
