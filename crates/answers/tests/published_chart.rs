//! A published blade chart in every form, and its tables read back by our own readers.

use linkwright_answers::chart::{read_cells, read_trials};
use linkwright_answers::published::{Place, PublishedChart, Row};
use linkwright_calc::metal::Catalogue;

fn place(rod: f64, blade: &str, chance_of_90: f64, trials_here: usize) -> Place {
    Place {
        wire_mm: 1.024,
        mandrel_mm: rod,
        blade: blade.to_owned(),
        blade_dia_mm: 31.75,
        blade_kerf_mm: 0.2,
        blade_teeth: Some(160),
        axis_height_mm: 14.35,
        yield_mpa: 70.0,
        cut: chance_of_90 > 0.1,
        good_share: 0.914,
        good_share_80: [0.871, 0.9562],
        chance_of_90,
        trials_here,
    }
}

fn chart() -> PublishedChart {
    PublishedChart {
        metal: "copper".to_owned(),
        metal_key: "copper_c110".to_owned(),
        temper: "annealed".to_owned(),
        date: "2026-11-25".to_owned(),
        version: "Version 3".to_owned(),
        trials: 61,
        others: "the trials of 2 other workshops (60 coils)".to_owned(),
        rods: ["4 mm (0.1575 in)", "5 mm (0.1969 in)", "6 mm (0.2362 in)"]
            .map(str::to_owned)
            .to_vec(),
        rows: vec![Row {
            wire: "1.024 mm".to_owned(),
            also: "0.0403 in, near 18 AWG".to_owned(),
            places: vec![
                Some(place(4.0, "thin <fine>", 0.95, 3)),
                None,
                Some(place(6.0, "large, \"coarse\"", 0.05, 0)),
            ],
        }],
    }
}

fn csv(rows: &[Vec<String>]) -> String {
    let quoted = |cell: &String| format!("\"{}\"", cell.replace('"', "\"\""));
    let line = |row: &Vec<String>| row.iter().map(quoted).collect::<Vec<_>>().join(",");
    rows.iter().map(line).collect::<Vec<_>>().join("\n") + "\n"
}

#[test]
fn the_table_of_a_chart_is_read_back_as_its_cells() {
    let cells =
        read_cells("chart.csv", &csv(&chart().rows()), &Catalogue::built_in()).expect("cells");
    let chart = chart();
    let places: Vec<&Place> = chart.places().collect();
    assert_eq!(cells.len(), places.len());
    for (cell, place) in cells.iter().zip(places) {
        let parts = cell.parts();
        assert!((parts.wire.diameter().mm() - place.wire_mm).abs() < 1e-9);
        assert!((parts.mandrel.diameter().mm() - place.mandrel_mm).abs() < 1e-9);
        assert_eq!(&*parts.blade.name, place.blade);
        assert!((parts.axis.height().mm() - place.axis_height_mm).abs() < 1e-9);
        assert!((parts.yield_strength.mpa() - place.yield_mpa).abs() < 1e-9);
        assert_eq!(&*parts.metal, "copper_c110");
    }
}

#[test]
fn the_table_says_tried_or_worked_out_with_date_and_version() {
    let rows = chart().rows();
    let column = |name: &str| rows[0].iter().position(|heading| heading == name).expect(name);
    let of = |row: usize, name: &str| rows[row][column(name)].as_str();
    assert_eq!([of(1, "rests_on"), of(2, "rests_on")], ["tried", "worked out"]);
    assert_eq!([of(1, "trials_here"), of(2, "trials_here")], ["3", "0"]);
    assert_eq!([of(1, "advice"), of(2, "advice")], ["use this blade", "do not cut this here"]);
    assert_eq!([of(1, "good_share"), of(1, "good_share_80_high")], ["0.914", "0.956"]);
    assert_eq!([of(1, "date"), of(2, "version")], ["2026-11-25", "Version 3"]);
    assert_eq!(of(1, "operator"), "", "who cuts stands on no public table");
}

#[test]
fn a_coil_typed_under_the_empty_table_is_read_back() {
    let mut rows = PublishedChart::empty_trials();
    let metals = Catalogue::built_in();
    assert_eq!(read_trials("trials.csv", &csv(&rows), &metals), Ok(Vec::new()));
    let chart_rows = chart().rows();
    let of = |name: &str| {
        let place = chart_rows[0].iter().position(|heading| heading == name);
        place.map(|place| chart_rows[1][place].clone())
    };
    // The student copies the place from the chart and counts a coil.
    let counts = [("turns", "60"), ("entry_lost", "1"), ("stop_lost", "1"), ("good", "58")];
    let counted = |name: &str| {
        let count = counts.iter().find(|(known, _)| *known == name);
        count.map_or_else(|| "0".to_owned(), |(_, count)| (*count).to_owned())
    };
    let coil = rows[0].iter().map(|name| of(name).unwrap_or_else(|| counted(name))).collect();
    rows.push(coil);
    let trials = read_trials("trials.csv", &csv(&rows), &metals).expect("a trial");
    assert_eq!((trials.len(), trials[0].counts().good), (1, 58));
}

#[test]
fn the_page_stands_alone_and_says_everything_in_words() {
    let page = chart().html().expect("written");
    for outside in ["http", "src=", "href=", "<script", "<link", "@import", "url("] {
        assert!(!page.contains(outside), "{outside}");
    }
    for said in [
        "Version 3, 2026-11-25",
        "geometry and 61 trials of this workshop, with the trials of 2 other workshops (60 coils)",
        "good cut likely",
        "losses likely",
        "91 % good (87 to 96)",
        "do not cut this here",
        "3 coils tried",
        "worked out, not tried",
        "not known",
        "data-rod=\"rod 5 mm (0.1969 in)\"",
    ] {
        assert!(page.contains(said), "{said}: {page}");
    }
    assert!(!page.contains("<fine>"), "names are told as text");
    for caution in PublishedChart::cautions() {
        assert!(page.contains(&caution.replace('\'', "&#39;")), "{caution}");
    }
}

#[test]
fn the_json_is_unrounded_and_carries_date_version_and_cautions() {
    let json = chart().as_json();
    assert_eq!((&json["date"], &json["version"]), (&"2026-11-25".into(), &"Version 3".into()));
    assert_eq!(json["places"][0]["good_share_80"][1].as_f64(), Some(0.9562));
    assert_eq!(json["places"][1]["rests_on"], "worked out");
    assert_eq!(json["cautions"].as_array().map(Vec::len), Some(PublishedChart::cautions().len()));
}
