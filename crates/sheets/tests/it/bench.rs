//! Sheets of the example orders and of an invented chart.

use std::path::{Path, PathBuf};

use linkwright_answers::chain::{find, linking_steps};
use linkwright_answers::files::load::load;
use linkwright_answers::published::{Place, PublishedChart, Row};
use linkwright_answers::run_sheet::Money;
use linkwright_calc::plan::Plan;
use linkwright_sheets::{
    BladeChart, CautionSheet, ChartCell, ChartRow, Edition, KitSheet, Label, LabelSheet,
    LinkingCard, Paper, Pdf, RunSheets, SheetError, TrialCard, WallChart,
};

fn examples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples")
}

pub fn planned(order: &str) -> Plan {
    let loaded = load(&examples().join(order), None).expect("the example loads");
    loaded.plan(None).expect("the example can be planned")
}

pub fn run_sheets(order: &str, money: Money) -> RunSheets {
    RunSheets::of(&planned(order), Some("2026-11-25"), money)
}

pub fn edition() -> Edition {
    Edition { date: "2026-11-25".into(), version: "Version 3".into(), trials: 61 }
}

/// A chart of so many wires by so many rods, with an untried cell wherever a third falls.
pub fn chart(wires: usize, rods: usize) -> WallChart {
    let cell = |wire: usize, rod: usize| match (wire + 2 * rod) % 3 {
        0 => ChartCell::Untried,
        left => ChartCell::Tried {
            blade: ["fine, 1 1/4 in", "thick, 1 1/2 in"][left - 1].to_owned(),
            counted: format!("{} good of {}", 2 * wire + 1, 2 * wire + rod + 1),
            last: "2026-10-05".to_owned(),
            few: wire + rod < 4,
        },
    };
    let row = |wire: usize| ChartRow {
        wire: format!("{:.2} mm", 0.8 + 0.15 * wire as f64),
        also: format!("0.0{}42 in, {} AWG", 3 + wire, 20 - wire),
        cells: (0..rods).map(|rod| cell(wire, rod)).collect(),
    };
    WallChart {
        title: "Best-tried blades".to_owned(),
        edition: edition(),
        few_means: "few trials: fewer than 5".to_owned(),
        rods: (0..rods).map(|rod| format!("{:.1} mm", 2.5 + 0.5 * rod as f64)).collect(),
        rows: (0..wires).map(row).collect(),
    }
}

/// A learned chart of so many wires by so many rods, with places of every kind.
pub fn blade_chart(wires: usize, rods: usize, student: bool) -> BladeChart {
    let place = |wire: usize, rod: usize| {
        let kind = (wire + 2 * rod) % 4;
        (kind != 3).then(|| Place {
            wire_mm: 0.6 + 0.1 * wire as f64,
            mandrel_mm: 2.5 + 0.5 * rod as f64,
            blade: ["small, fine teeth", "large", "small, coarse"][kind].to_owned(),
            blade_dia_mm: 31.75,
            blade_kerf_mm: 0.2,
            blade_teeth: Some(160),
            axis_height_mm: 14.35,
            yield_mpa: 70.0,
            cut: kind != 2,
            good_share: [0.97, 0.9, 0.31][kind],
            good_share_80: [[0.95, 0.99], [0.8, 0.96], [0.05, 0.6]][kind],
            chance_of_90: [0.99, 0.6, 0.01][kind],
            trials_here: [0, 2, 14][(wire + rod) % 3],
        })
    };
    let row = |wire: usize| Row {
        wire: format!("{:.2} mm", 0.6 + 0.1 * wire as f64),
        also: format!("0.0{}36 in, near {} AWG", 2 + wire, 23 - wire),
        places: (0..rods).map(|rod| place(wire, rod)).collect(),
    };
    let chart = PublishedChart {
        metal: "sterling silver".to_owned(),
        metal_key: "sterling_925".to_owned(),
        temper: "half hard".to_owned(),
        date: "2026-11-25".to_owned(),
        version: "Version 3".to_owned(),
        trials: 61,
        others: String::new(),
        rods: (0..rods)
            .map(|rod| format!("{:.1} mm (0.{}84 in)", 2.5 + 0.5 * rod as f64, rod))
            .collect(),
        rows: (0..wires).map(row).collect(),
    };
    BladeChart { chart, student }
}

pub fn labels(count: usize) -> LabelSheet {
    let label = |number: usize| Label {
        code: format!("S-{number:03}"),
        address: address(number),
        lines: vec![
            "sterling silver, half hard".to_owned(),
            "wire 1.02 mm (0.0402 in)".to_owned(),
            "inside 4.14 mm open, 4.07 mm closed".to_owned(),
            "1,240 rings, give or take 9".to_owned(),
            "2026-11-20, drawer 3".to_owned(),
        ],
    };
    LabelSheet { labels: (1..=count).map(label).collect() }
}

pub fn address(number: usize) -> String {
    format!("http://127.0.0.1:8040/rings/{number}")
}

/// The card of the pattern with most steps that still goes on one page.
pub fn linking_card() -> LinkingCard {
    let pattern = find("byzantine").expect("a pattern of the craft");
    let (pose, wire_mm) = (pattern.start().scaled(3.0), 3.0 * pattern.start_wire());
    let steps = linking_steps(&pattern, &pose, wire_mm);
    let three = |words: [&str; 3]| words.map(str::to_owned);
    LinkingCard {
        edition: edition(),
        title: "Byzantine chain".to_owned(),
        keys: vec![
            three(["Rings", "138", "6 rings a repeat"]),
            three(["Finished length", "181 mm", "7.14 in, pulled taut"]),
            three(["Ring", "4.40 mm", "inside, closed; wire 1.020 mm (0.0402 in)"]),
        ],
        facts: vec![["Aspect ratio".to_owned(), "4.31; the pattern goes from 3.27 on".to_owned()]],
        picture: steps[0].picture.clone(),
        scale: "scale 1:1; a piece of 12 rings".to_owned(),
        steps,
        then: "Repeat from step 2 until the piece is long enough.",
    }
}

pub fn kit() -> KitSheet {
    let plan = planned("class-kits.toml");
    KitSheet::of(&plan.sheets[0], edition()).expect("a line of kits")
}

/// A kind of sheet: its name, whether it is public, how many pages it has, and how to print it.
pub struct Kind {
    pub name: &'static str,
    pub public: bool,
    pub sideways: bool,
    pub pages: usize,
    pub print: fn(Paper) -> Result<Pdf, SheetError>,
}

const fn upright(
    name: &'static str,
    public: bool,
    pages: usize,
    print: fn(Paper) -> Result<Pdf, SheetError>,
) -> Kind {
    Kind { name, public, sideways: false, pages, print }
}

pub fn kind(name: &str) -> Kind {
    KINDS.into_iter().find(|kind| kind.name == name).expect("a kind of sheet")
}

const KINDS: [Kind; 11] = [
    upright("necklace", false, 2, |paper| run_sheets("necklace.toml", Money::Shown).pdf(paper)),
    upright("class-kits", false, 2, |paper| run_sheets("class-kits.toml", Money::Shown).pdf(paper)),
    upright("three-lines", false, 5, |paper| {
        run_sheets("three-lines.toml", Money::Shown).pdf(paper)
    }),
    Kind {
        name: "wall-chart",
        public: true,
        sideways: true,
        pages: 4,
        print: |paper| chart(12, 10).pdf(paper),
    },
    Kind {
        name: "blade-chart",
        public: true,
        sideways: true,
        pages: 5,
        print: |paper| blade_chart(12, 10, false).pdf(paper),
    },
    Kind {
        name: "blade-chart-student",
        public: true,
        sideways: true,
        pages: 7,
        print: |paper| blade_chart(12, 10, true).pdf(paper),
    },
    upright("labels", false, 2, |paper| labels(17).pdf(paper)),
    upright("kit", true, 2, |paper| kit().pdf(paper)),
    upright("linking-card", true, 1, |paper| linking_card().pdf(paper)),
    upright("trial-card", false, 1, |paper| TrialCard.pdf(paper)),
    upright("cautions", true, 2, |paper| CautionSheet { edition: edition() }.pdf(paper)),
];
