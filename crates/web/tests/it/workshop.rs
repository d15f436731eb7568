//! The workshop's pages.

use axum::http::StatusCode;
use linkwright_store::records::{Blade, Holder, Rod, WireLot};

use crate::bench::Bench;

const ROD: [(&str, &str); 4] =
    [("name", "4.0"), ("marked", "4.00 mm"), ("measured", "4.01 mm"), ("note", "")];

const LOT: [(&str, &str); 6] = [
    ("name", "silver reel 8"),
    ("metal", "sterling"),
    ("temper", "soft"),
    ("diameter", "18 awg"),
    ("amount", "250 g"),
    ("bought_on", "2026-11-20"),
];

const BLADE: [(&str, &str); 4] =
    [("name", "small, thin"), ("diameter", "1 1/4 in"), ("kerf", "0.25 mm"), ("teeth", "250")];

#[tokio::test]
async fn a_rod_is_kept_as_typed_and_shown_in_both_systems() {
    let bench = Bench::with_workshop();
    let answer = bench.submit("/workshop/rods/new", "/workshop/rods/new", &ROD).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text);
    let rods = bench.all::<Rod>();
    assert_eq!(rods[0].record.measured_typed.as_deref(), Some("4.01 mm"));
    let page = bench.get(&format!("/workshop/rods/{}", rods[0].id)).await;
    let facts = page.words("dl.rows dd");
    assert!(facts.iter().any(|fact| fact.contains("4.01 mm") && fact.contains("in")), "{facts:?}");
}

#[tokio::test]
async fn a_bare_number_is_asked_about_beside_its_field_and_everything_typed_stays() {
    let bench = Bench::with_workshop();
    let typed = [("name", "four"), ("marked", "4"), ("note", "a <drill> shank")];
    let answer = bench.submit("/workshop/rods/new", "/workshop/rods/new", &typed).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(bench.all::<Rod>().is_empty());
    let complaints = answer.words(".field.wrong .complaint");
    assert_eq!(complaints.len(), 1, "{complaints:?}");
    assert_eq!(answer.attribute("#marked", "aria-invalid"), "true");
    assert_eq!(answer.attribute("#marked", "value"), "4");
    assert_eq!(answer.attribute("#note", "value"), "a <drill> shank");
    assert!(
        answer.text.contains("a &#60;drill&#62; shank")
            || answer.text.contains("a &lt;drill&gt; shank")
    );
}

#[tokio::test]
async fn two_rods_of_one_name_are_refused_beside_the_name() {
    let bench = Bench::with_workshop();
    bench.submit("/workshop/rods/new", "/workshop/rods/new", &ROD).await;
    let again = bench.submit("/workshop/rods/new", "/workshop/rods/new", &ROD).await;
    assert_eq!(again.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(again.words(".field.wrong label"), ["Name"]);
    assert_eq!(bench.all::<Rod>().len(), 1);
}

#[tokio::test]
async fn a_rod_is_put_away_with_a_reason_taken_back_and_the_last_step_undone() {
    let bench = Bench::with_workshop();
    bench.submit("/workshop/rods/new", "/workshop/rods/new", &ROD).await;
    let page = format!("/workshop/rods/{}", bench.all::<Rod>()[0].id);
    let nameless = bench.submit(&page, &format!("{page}/put-away"), &[("why", " ")]).await;
    assert_eq!(nameless.status, StatusCode::UNPROCESSABLE_ENTITY);
    bench.submit(&page, &format!("{page}/put-away"), &[("why", "bent")]).await;
    let away = &bench.all::<Rod>()[0].record;
    assert_eq!(
        (away.retired_on.as_deref(), away.retired_why.as_str()),
        (Some("2026-11-25"), "bent")
    );
    bench.submit(&page, "/undo", &[]).await;
    assert_eq!(bench.all::<Rod>()[0].record.retired_on, None);
}

#[tokio::test]
async fn wire_of_a_known_metal_shows_the_ring_to_expect_on_every_rod() {
    let bench = Bench::with_workshop();
    for (kind, fields) in [("rods", &ROD[..]), ("lots", &LOT[..]), ("blades", &BLADE[..])] {
        let path = format!("/workshop/{kind}/new");
        let answer = bench.submit(&path, &path, fields).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{kind}: {}", answer.text);
    }
    let holder = [
        ("name", "plates"),
        ("length", "60 mm"),
        ("squash", "0.05 mm"),
        ("margin", "0.3 mm"),
        ("in_use", "yes"),
    ];
    bench.submit("/workshop/holders/new", "/workshop/holders/new", &holder).await;
    let lot = &bench.all::<WireLot>()[0];
    assert_eq!(lot.record.metal, "sterling_925", "kept by its key");
    let page = bench.get(&format!("/workshop/lots/{}", lot.id)).await;
    let tables = page.words("table");
    assert_eq!(tables.len(), 2, "as bought and annealed: {tables:?}");
    assert!(tables[0].contains("not tried") && tables[0].contains("4.0"), "{tables:?}");
}

#[tokio::test]
async fn wire_is_refused_with_a_metal_a_temper_or_an_amount_that_is_none() {
    let bench = Bench::with_workshop();
    for (field, typed) in
        [("metal", "unobtainium"), ("temper", "chewy"), ("amount", "6 oz"), ("diameter", "18")]
    {
        let fields: Vec<(&str, &str)> = LOT
            .iter()
            .map(|(name, text)| (*name, if *name == field { typed } else { *text }))
            .collect();
        let answer = bench.submit("/workshop/lots/new", "/workshop/lots/new", &fields).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{field}");
        assert_eq!(answer.attribute(&format!("#{field}"), "aria-invalid"), "true", "{field}");
        assert_eq!(
            answer.words(".complaint").len(),
            1,
            "{field}: {:?}",
            answer.words(".complaint")
        );
    }
    assert!(bench.all::<WireLot>().is_empty());
}

#[tokio::test]
async fn exactly_one_holder_is_in_use_and_a_measured_projection_tells_of_other_blades() {
    let bench = Bench::with_workshop();
    bench.submit("/workshop/blades/new", "/workshop/blades/new", &BLADE).await;
    let large = [("name", "large"), ("diameter", "1 1/2 in"), ("kerf", "0.30 mm")];
    bench.submit("/workshop/blades/new", "/workshop/blades/new", &large).await;
    let small = bench.all::<Blade>()[0].id.to_string();
    for name in ["plates", "other plates"] {
        let holder = [
            ("name", name),
            ("length", "60 mm"),
            ("squash", "0.05 mm"),
            ("margin", "0.3 mm"),
            ("projection_blade", small.as_str()),
            ("projection", "2.2 mm"),
            ("in_use", "yes"),
        ];
        let answer = bench.submit("/workshop/holders/new", "/workshop/holders/new", &holder).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text);
    }
    let holders = bench.all::<Holder>();
    let in_use: Vec<bool> = holders.iter().map(|holder| holder.record.in_use).collect();
    assert_eq!(in_use, [false, true]);
    let page = bench.get(&format!("/workshop/holders/{}", holders[1].id)).await;
    // Half of the quarter inch between the diameters: 2.2 + 3.175 mm.
    assert!(
        page.words("td").iter().any(|cell| cell.starts_with("5.375 mm")),
        "{:?}",
        page.words("td")
    );
}

#[tokio::test]
async fn a_blade_that_a_holder_names_is_put_away_and_not_removed() {
    let bench = Bench::with_workshop();
    bench.submit("/workshop/blades/new", "/workshop/blades/new", &BLADE).await;
    let blade = bench.all::<Blade>()[0].id.to_string();
    let holder = [
        ("name", "plates"),
        ("length", "60 mm"),
        ("squash", "0 mm"),
        ("margin", "0.3 mm"),
        ("projection_blade", blade.as_str()),
        ("projection", "1.5 mm"),
    ];
    bench.submit("/workshop/holders/new", "/workshop/holders/new", &holder).await;
    let page = format!("/workshop/blades/{blade}");
    let answer = bench.submit(&page, &format!("{page}/remove"), &[]).await;
    assert_eq!(answer.status, StatusCode::CONFLICT);
    assert!(answer.words("[role=alert]")[0].contains("put it away instead"));
    assert_eq!(bench.all::<Blade>().len(), 1);
}

#[tokio::test]
async fn an_own_metal_is_checked_as_a_metals_file_is() {
    let bench = Bench::with_workshop();
    let good =
        [("entry", "key = \"pale_silver\"\nlike = \"sterling_925\"\ndensity_g_cm3 = 10.3\n")];
    let answer = bench.submit("/workshop/metals/new", "/workshop/metals/new", &good).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text);
    let bad = [("entry", "key = \"feather\"\nlike = \"sterling_925\"\ndensity_g_cm3 = 0.01\n")];
    let answer = bench.submit("/workshop/metals/new", "/workshop/metals/new", &bad).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.words(".complaint")[0].contains("density"), "{:?}", answer.words(".complaint"));
    let page = bench.get("/workshop/lots/new").await;
    assert!(page.text.contains("pale_silver"), "own metals are offered for wire");
}

#[tokio::test]
async fn habits_are_changed_within_their_limits() {
    let bench = Bench::with_workshop();
    let habits = [
        ("name", "Test bench"),
        ("end_turns", "2"),
        ("stop_turns", ""),
        ("tails", "35 mm"),
        ("packing", "0.5"),
        ("set_up_minutes", "20"),
        ("per_coil_minutes", "8.5"),
        ("confidence", "95 %"),
    ];
    let answer = bench.submit("/workshop/habits", "/workshop/habits", &habits).await;
    assert_eq!(answer.words(".field.wrong label"), ["Pitch over wire diameter"]);
    let mended: Vec<_> =
        habits.map(|(name, text)| (name, if name == "packing" { "1.02" } else { text })).to_vec();
    let answer = bench.submit("/workshop/habits", "/workshop/habits", &mended).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER);
    let page = bench.get("/workshop").await;
    let facts = page.words("dd");
    assert!(facts.iter().any(|fact| fact == "35 mm - as you noted"), "{facts:?}");
    assert!(facts.iter().any(|fact| fact == "2 turns - assumed"), "never changed: {facts:?}");
}

#[tokio::test]
async fn what_work_costs_is_kept_as_typed_and_in_one_currency() {
    let bench = Bench::with_workshop();
    let habits = |hour: &'static str, ring: &'static str| {
        [
            ("name", "Test bench"),
            ("end_turns", "2"),
            ("stop_turns", ""),
            ("tails", "35 mm"),
            ("packing", "1.01"),
            ("set_up_minutes", "20"),
            ("per_coil_minutes", "8.5"),
            ("confidence", "95 %"),
            ("hour_cost", hour),
            ("ring_worth", ring),
            ("scrap_paid", "80 %"),
        ]
    };
    let wrong =
        bench.submit("/workshop/habits", "/workshop/habits", &habits("38 EUR", "0.20 GBP")).await;
    assert_eq!(wrong.words(".complaint"), ["this is in GBP, an hour's work in EUR"]);
    let bare = bench.submit("/workshop/habits", "/workshop/habits", &habits("38", "")).await;
    assert_eq!(bare.status, StatusCode::UNPROCESSABLE_ENTITY, "an amount without a currency");
    let kept =
        bench.submit("/workshop/habits", "/workshop/habits", &habits("38 EUR", "0.20 EUR")).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{:?}", kept.words(".complaint"));
    let page = bench.get("/workshop").await;
    assert!(
        page.text.contains("an hour's work costs 38 EUR")
            || page.text.contains("an hour&#39;s work costs 38 EUR"),
        "{}",
        page.text
    );
}
