//! The sheet of a class kit: what is in it, what it weighs, how its rings were made; then its labels.

use linkwright_answers::printout::both_lengths;
use linkwright_calc::cautions::{self, Step};
use linkwright_calc::plan::RunSheet;
use serde::Serialize;

use crate::edition::Edition;
use crate::paper::Paper;
use crate::press::{Pdf, SheetError, Template, print};

const TEMPLATE: Template = Template { text: include_str!("../templates/kit.typ") };

/// The sheet of a line of kits; public, so without costs or names.
pub struct KitSheet {
    edition: Edition,
    title: String,
    data: Data,
}

#[derive(Serialize)]
struct Data {
    name: String,
    keys: [[String; 3]; 3],
    ring: Vec<[String; 2]>,
    made: Vec<[String; 2]>,
    weighing: String,
    kits: u32,
    labels: Vec<Label>,
    cautions: Vec<&'static str>,
}

#[derive(Serialize)]
struct Label {
    code: String,
    lines: Vec<String>,
    camera: Option<String>,
}

impl KitSheet {
    /// The sheet of a line; nothing if the line asks for something else than kits.
    #[must_use]
    pub fn of(sheet: &RunSheet, edition: Edition) -> Option<KitSheet> {
        let kits = sheet.to_make.kits?;
        let metal = format!("{}, {}", sheet.metal.name, sheet.metal.temper);
        let wire = both_lengths(sheet.wire.value.diameter().mm());
        let open = both_lengths(sheet.ring.open_inside.value.mm());
        let closed = both_lengths(sheet.ring.ring.closed_inside().mm());
        let mass = format!("{:.2} g", kits.mass.g());
        let one_ring = format!("{:.4} g", sheet.ring.mass.g());
        let label = |number: u32| Label {
            code: format!("Kit {number} of {}", kits.kits),
            lines: vec![
                sheet.line.name.clone(),
                format!("{} rings, {mass} without the bag", kits.rings_each),
                metal.clone(),
                format!("wire {wire}"),
                format!("inside, closed: {closed}"),
            ],
            camera: None,
        };
        let weighing = match kits.scale_step_max {
            Some(step) => format!(
                "A kit of {} rings weighs {mass}. One ring is {one_ring}, {:.2} % of a kit: a scale with \
                 steps up to {:.2} g shows a missing ring.",
                kits.rings_each,
                100.0 * kits.one_ring_share,
                step.g()
            ),
            None => format!(
                "A kit of {} rings weighs {mass}, but the rings differ so much that no scale shows a \
                 missing one: count them.",
                kits.rings_each
            ),
        };
        let pair = |label: &str, value: String| [label.to_owned(), value];
        Some(KitSheet {
            title: format!("Class kit: {}", sheet.line.name),
            edition,
            data: Data {
                name: sheet.line.name.clone(),
                keys: [
                    ["Kits".to_owned(), kits.kits.to_string(), "one for each bag".to_owned()],
                    [
                        "Rings in each".to_owned(),
                        kits.rings_each.to_string(),
                        "spare rings included".to_owned(),
                    ],
                    ["One kit weighs".to_owned(), mass.clone(), "worked out".to_owned()],
                ],
                ring: vec![
                    pair("metal", metal.clone()),
                    pair("wire", wire.clone()),
                    pair("inside, open", open),
                    pair("inside, closed", closed.clone()),
                    pair("aspect ratio", format!("{:.2} closed", sheet.ring.ring.aspect_ratio())),
                    pair("one ring", one_ring.clone()),
                ],
                made: made(sheet),
                weighing,
                kits: kits.kits,
                labels: (1..=kits.kits).map(label).collect(),
                cautions: cautions::for_step(Step::Finishing)
                    .iter()
                    .map(|line| line.text)
                    .collect(),
            },
        })
    }

    /// Prints the sheet and the labels.
    ///
    /// # Errors
    /// If the sheet cannot be set.
    pub fn pdf(&self, paper: Paper) -> Result<Pdf, SheetError> {
        print(TEMPLATE, paper, &self.title, &self.edition.line(), &self.data)
    }
}

/// How the rings were made, for a student who wants to make some more.
fn made(sheet: &RunSheet) -> Vec<[String; 2]> {
    let blade = sheet.blade();
    let mut made = vec![
        [
            "rod".to_owned(),
            format!(
                "{}, wire {}",
                both_lengths(sheet.rod.mandrel.diameter().mm()),
                sheet.rod.state.word()
            ),
        ],
        [
            "blade".to_owned(),
            format!(
                "{} across, kerf {}",
                both_lengths(blade.blade.diameter().mm()),
                both_lengths(blade.blade.kerf().width().mm())
            ),
        ],
        ["projection".to_owned(), both_lengths(blade.projection.value.mm())],
    ];
    for group in &sheet.coils.groups {
        made.push([
            "coil".to_owned(),
            format!("{} turns wound, {} rings from each", group.wound.get(), group.slit.get()),
        ]);
    }
    made
}
