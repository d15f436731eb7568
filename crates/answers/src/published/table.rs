//! A published chart as rows of a table, and the empty table of a student's own trials.

use super::{DO_NOT_CUT, Place, PublishedChart};
use crate::chart::trial_columns;

/// Columns after those of a cell.
const ANSWERS: [&str; 11] = [
    "yield_mpa",
    "advice",
    "good_share",
    "good_share_80_low",
    "good_share_80_high",
    "chance_of_90",
    "outlook",
    "trials_here",
    "rests_on",
    "date",
    "version",
];

impl PublishedChart {
    /// One line a place, under the columns of a cell of docs/trials-table.md, so that it is read
    /// back as cells, and what is believed of it.
    ///
    /// # Units
    /// As the headings say; shares and chances of one.
    pub fn rows(&self) -> Vec<Vec<String>> {
        let heading = cell_columns().chain(ANSWERS).map(str::to_owned).collect();
        let row = |place: &Place| {
            let of_cell = cell_columns().map(|column| self.cell_value(place, column));
            let rests_on = if place.trials_here > 0 { "tried" } else { "worked out" };
            let share = |share: f64| format!("{share:.3}");
            let [low, high] = place.good_share_80.map(share);
            let answers = [
                number(place.yield_mpa),
                if place.cut { "use this blade" } else { DO_NOT_CUT }.to_owned(),
                share(place.good_share),
                low,
                high,
                share(place.chance_of_90),
                place.outlook().words().to_owned(),
                place.trials_here.to_string(),
                rests_on.to_owned(),
                self.date.clone(),
                self.version.clone(),
            ];
            of_cell.chain(answers).collect()
        };
        std::iter::once(heading).chain(self.places().map(row)).collect()
    }

    /// What the chart is, rests on, and what to watch; one cell a line.
    pub fn about(&self) -> Vec<Vec<String>> {
        let lines = [self.title(), self.edition(), self.rests_on()];
        let lines = lines.into_iter().chain([PublishedChart::how_to_read().to_owned()]);
        lines
            .chain(PublishedChart::cautions().into_iter().map(str::to_owned))
            .map(|line| vec![line])
            .collect()
    }

    /// The headings of docs/trials-table.md, under which a student adds trials: one coil a line.
    pub fn empty_trials() -> Vec<Vec<String>> {
        vec![trial_columns().map(str::to_owned).collect()]
    }

    fn cell_value(&self, place: &Place, column: &str) -> String {
        match column {
            "wire_mm" => number(place.wire_mm),
            "mandrel_mm" => number(place.mandrel_mm),
            "blade" => place.blade.clone(),
            "blade_dia_mm" => number(place.blade_dia_mm),
            "blade_kerf_mm" => number(place.blade_kerf_mm),
            "blade_teeth" => place.blade_teeth.map_or_else(String::new, |teeth| teeth.to_string()),
            "metal" => self.metal_key.clone(),
            "temper" => self.temper.clone(),
            "taped" | "lube" => "1".to_owned(),
            "axis_height_mm" => number(place.axis_height_mm),
            // Who cuts is nobody's business on public paper.
            _ => String::new(),
        }
    }
}

fn cell_columns() -> impl Iterator<Item = &'static str> {
    crate::chart::cell_columns()
}

/// To a thousandth, without zeros at the end.
fn number(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
