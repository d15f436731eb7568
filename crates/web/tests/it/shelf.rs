//! What blades have cut, what wire is left, and the short forms of the workshop.

use axum::http::StatusCode;
use linkwright_store::Id;
use linkwright_store::records::{
    Blade, BladeEvent, Coil, FrozenSheet, MetalOverlay, Outcome, RingOrder, Rod, Run, Trial,
    TrialSource, WireLot,
};

use crate::bench::Bench;

fn blade(name: &str, cut_before_mm2: f64, retired: bool) -> Blade {
    Blade {
        name: name.to_owned(),
        diameter_typed: "1 1/4 in".to_owned(),
        diameter_mm: 31.75,
        kerf_typed: "0.25 mm".to_owned(),
        kerf_mm: 0.25,
        teeth: None,
        hub_typed: None,
        hub_mm: None,
        fitted_on: None,
        rings_before: 100,
        cut_before_mm2,
        retired_on: retired.then(|| "2026-10-01".to_owned()),
        retired_why: if retired { "worn out".to_owned() } else { String::new() },
        note: String::new(),
    }
}

/// A run of wire of 1 mm with one coil that the blade slit: 40 good, 3 uncut, 1 nicked, 1 crushed.
fn run_with(bench: &Bench, blade: Id<Blade>, lot: Option<(Id<WireLot>, f64)>) -> Id<Run> {
    let now = bench.app.clock().now();
    let order_id = bench.keep(&RingOrder {
        name: format!("order {}", bench.all::<RingOrder>().len()),
        asked_on: "2026-11-20".to_owned(),
        due_on: None,
        buyer: String::new(),
        note: String::new(),
        closed_on: None,
    });
    let frozen_sheet_id = bench.keep(&FrozenSheet {
        order_id,
        line_name: "rings".to_owned(),
        frozen_at: now,
        program_version: "0.1.0".to_owned(),
        inputs: "{}".to_owned(),
        answer: r#"{"sheet":{"wire_diameter_mm":1.0}}"#.to_owned(),
    });
    let run_id = bench.keep(&Run {
        frozen_sheet_id,
        name: "a run".to_owned(),
        started_at: now,
        finished_at: None,
        step: "wire".to_owned(),
        coil_number: 1,
        wire_lot_id: lot.map(|(id, _)| id),
        wire_in_g: lot.map(|(_, mass_g)| mass_g),
        annealed_at: None,
        anneal_skipped: false,
        set_aside_why: None,
        called_off_why: None,
        note: String::new(),
    });
    bench.keep(&Coil {
        run_id,
        number: 1,
        turns_target: 47,
        turns_wound: 47,
        wound_at: Some(now),
        turns_relaxed: None,
        off_at: None,
        pieces: None,
        blade_id: Some(blade),
        projection_typed: None,
        projection_mm: None,
        clamped_at: None,
        slit_at: Some(now),
        good: 40,
        uncut: 3,
        nicked: 1,
        crushed: 1,
        counted_at: Some(now),
        blade_event: BladeEvent::None,
        note: String::new(),
    });
    run_id
}

/// A trial of wire of 1.5 mm with ten good rings.
fn trial(blade: Id<Blade>, run_id: Option<Id<Run>>) -> Trial {
    Trial {
        tried_on: "2026-11-21".to_owned(),
        source: if run_id.is_some() { TrialSource::Run } else { TrialSource::Typed },
        metal: "sterling_925".to_owned(),
        temper: "soft".to_owned(),
        annealed: false,
        wire_typed: "1.5 mm".to_owned(),
        wire_mm: 1.5,
        rod_typed: "6 mm".to_owned(),
        rod_mm: 6.0,
        wire_lot_id: None,
        blade_id: Some(blade),
        blade_name: String::new(),
        blade_diameter_mm: None,
        projection_typed: None,
        projection_mm: None,
        inside_typed: None,
        inside_mean_mm: None,
        inside_readings: None,
        turns_wound: Some(12),
        turns_relaxed: None,
        good: Some(10),
        uncut: Some(2),
        nicked: None,
        crushed: None,
        blade_event: BladeEvent::None,
        outcome: Outcome::Good,
        run_id,
        coil_number: None,
        worker: String::new(),
        note: String::new(),
    }
}

#[tokio::test]
async fn a_blade_s_wear_is_its_severed_rings_each_with_the_section_of_its_wire() {
    let bench = Bench::with_workshop();
    let id = bench.keep(&blade("small, thin", 80.0, false));
    let run = run_with(&bench, id, None);
    bench.keep(&trial(id, None));
    // This one is the run's own coil and counts there.
    bench.keep(&trial(id, Some(run)));
    let page = bench.get(&format!("/workshop/blades/{id}")).await;
    // By hand: 100 + 42 + 10 rings; 80 + 42 x 0.7854 + 10 x 1.7671 = 130.66 mm2.
    let facts = page.words("dl.rows dd");
    let wear = facts.iter().find(|fact| fact.starts_with("152 rings, 131 mm2")).expect("the wear");
    assert!(wear.contains("2 coils") && wear.contains("uncut ones left out"), "{wear}");
    assert!(facts.iter().any(|fact| fact.starts_with("not known")), "{facts:?}");
}

#[tokio::test]
async fn a_blade_far_past_the_middle_of_those_retired_wants_attention() {
    let bench = Bench::with_workshop();
    for (at, cut_mm2) in (0..).zip([300.0, 900.0, 500.0, 100.0]) {
        bench.keep(&blade(&format!("old {at}"), cut_mm2, true));
    }
    // The middle is half way between 300 and 500 mm2; far past it is above 600 mm2.
    let worn = bench.keep(&blade("worn", 601.0, false));
    bench.keep(&blade("fresh", 599.0, false));
    let page = bench.get(&format!("/workshop/blades/{worn}")).await;
    let usual = "400 mm2 - tried: the middle of 4 retired blades";
    assert!(page.words("dl.rows dd").iter().any(|fact| fact == usual), "{}", page.text);
    assert_eq!(page.words(".caution").len(), 1);
    let wants = bench.get("/workshop").await.words(".card li");
    assert!(wants.iter().any(|want| want.starts_with("worn is far past")), "{wants:?}");
    assert!(!wants.iter().any(|want| want.contains("fresh")), "{wants:?}");
}

#[tokio::test]
async fn wire_of_which_less_than_a_tenth_is_left_is_running_low() {
    let bench = Bench::with_workshop();
    let holder = [("name", "plates"), ("length", "60 mm"), ("squash", "0 mm"), ("margin", "0 mm")];
    let holder = [&holder[..], &[("in_use", "yes")]].concat();
    bench.submit("/workshop/holders/new", "/workshop/holders/new", &holder).await;
    let lot = |name| {
        [
            ("name", name),
            ("metal", "sterling"),
            ("temper", "soft"),
            ("diameter", "16 swg"),
            ("amount", "100 g"),
        ]
    };
    let blade = bench.keep(&blade("small", 0.0, false));
    for (name, taken_g) in [("nearly out", 91.0), ("plenty", 50.0)] {
        bench.submit("/workshop/lots/new", "/workshop/lots/new", &lot(name)).await;
        let id = bench.all::<WireLot>().last().expect("kept").id;
        run_with(&bench, blade, Some((id, taken_g)));
    }
    let wants = bench.get("/workshop").await.words(".card li");
    let low: Vec<_> = wants.iter().filter(|want| want.contains("running low")).collect();
    assert_eq!(low.len(), 1, "{wants:?}");
    assert!(low[0].starts_with("nearly out is running low: 9.000 g"), "{low:?}");
    let left = bench.get("/workshop/lots").await.words("td[data-label=left]");
    assert!(
        left.iter().any(|left| left.starts_with("50.00 g (1.608 ozt) - worked out")),
        "{left:?}"
    );
    let page = bench.get(&format!("/workshop/lots/{}", bench.all::<WireLot>()[0].id)).await;
    let cautions = page.words(".caution");
    assert!(cautions.iter().any(|line| line.contains("American steel wire gauge")), "{cautions:?}");
}

#[tokio::test]
async fn a_rod_is_measured_in_one_line_and_a_bare_number_is_asked_about() {
    let bench = Bench::with_workshop();
    let rod = [("name", "4.0"), ("marked", "4.00 mm"), ("note", "a drill shank")];
    bench.submit("/workshop/rods/new", "/workshop/rods/new", &rod).await;
    let page = format!("/workshop/rods/{}", bench.all::<Rod>()[0].id);
    let measure = format!("{page}/measure");
    let bare = bench.submit(&page, &measure, &[("measured", "4.02")]).await;
    assert_eq!(bare.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(bare.attribute("#measured", "value"), "4.02");
    assert_eq!(bare.attribute("#note", "value"), "a drill shank");
    assert!(bare.words("#measured-about .complaint")[0].contains("4.02 mm"));
    bench.submit(&page, &measure, &[("measured", "4.02 mm")]).await;
    let kept = &bench.all::<Rod>()[0].record;
    assert_eq!(kept.measured_mm.map(f64::to_bits), Some(4.02_f64.to_bits()));
    assert_eq!(kept.note, "a drill shank");
}

#[tokio::test]
async fn rods_are_listed_by_size() {
    let bench = Bench::with_workshop();
    for (name, marked) in [("five", "5 mm"), ("eighth", "1/8 in"), ("four", "4 mm")] {
        let rod = [("name", name), ("marked", marked)];
        bench.submit("/workshop/rods/new", "/workshop/rods/new", &rod).await;
    }
    let listed = bench.get("/workshop/rods").await.words("tbody td a");
    assert_eq!(listed, ["eighth", "four", "five"]);
}

#[tokio::test]
async fn an_alloy_like_a_known_one_needs_no_entry_of_a_file() {
    let bench = Bench::with_workshop();
    let path = "/workshop/metals/new";
    let alloy = [
        ("name", "Pale \"silver\" 940"),
        ("like", "sterling"),
        ("density", "10.4"),
        ("fineness", "940 permille"),
    ];
    let answer = bench.submit(path, path, &alloy).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text);
    let kept = &bench.all::<MetalOverlay>()[0].record;
    assert!(kept.entry.contains("density_g_cm3 = 10.4"), "{}", kept.entry);
    assert!(kept.entry.contains("stamp_permille = 940"), "{}", kept.entry);
    let again = bench.submit(path, path, &alloy).await;
    assert!(again.words("#name-about .complaint")[0].contains("another metal"));
    for (field, typed) in [("density", "heavy"), ("fineness", "940 sheep"), ("like", "stirling")] {
        let fields: Vec<(&str, &str)> = alloy
            .iter()
            .map(|(name, text)| (*name, if *name == field { typed } else { *text }))
            .collect();
        let answer = bench.submit(path, path, &fields).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert_eq!(answer.words(&format!("#{field}-about .complaint")).len(), 1, "{field}");
    }
}
