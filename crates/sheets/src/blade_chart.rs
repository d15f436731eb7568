//! The learned blade chart for a wall, and the copy a student adds trials to.

use linkwright_answers::chart::Outlook;
use linkwright_answers::published::{Place, PublishedChart};
use serde::Serialize;

use crate::edition::Edition;
use crate::paper::Paper;
use crate::press::{Pdf, SheetError, Template, print};

const TEMPLATE: Template = Template { text: include_str!("../templates/blade_chart.typ") };

/// A published blade chart on paper; public, so without costs or names.
#[derive(Clone, Debug, PartialEq)]
pub struct BladeChart {
    /// What it says.
    pub chart: PublishedChart,
    /// Whether every place has pencil boxes for a student's own coils.
    pub student: bool,
}

#[derive(Serialize)]
struct Data<'a> {
    title: String,
    student: bool,
    rests_on: String,
    how_to_read: &'static str,
    signs: [(Outlook, &'static str); 3],
    rods: &'a [String],
    rows: Vec<Line<'a>>,
    cautions: Vec<&'static str>,
}

#[derive(Serialize)]
struct Line<'a> {
    wire: &'a str,
    also: &'a str,
    places: Vec<Option<Shown>>,
}

#[derive(Serialize)]
struct Shown {
    outlook: Outlook,
    words: &'static str,
    advice: String,
    share: String,
    tried: String,
    untried: bool,
}

impl BladeChart {
    /// Prints the chart, on its side.
    ///
    /// # Errors
    /// If the sheet cannot be set.
    pub fn pdf(&self, paper: Paper) -> Result<Pdf, SheetError> {
        let chart = &self.chart;
        let title =
            if self.student { format!("{}: student copy", chart.title()) } else { chart.title() };
        let signs = [Outlook::Good, Outlook::Doubtful, Outlook::Poor];
        let data = Data {
            student: self.student,
            rests_on: chart.rests_on(),
            how_to_read: PublishedChart::how_to_read(),
            signs: signs.map(|outlook| (outlook, outlook.words())),
            rods: &chart.rods,
            rows: chart
                .rows
                .iter()
                .map(|row| Line {
                    wire: &row.wire,
                    also: &row.also,
                    places: row.places.iter().map(|place| place.as_ref().map(shown)).collect(),
                })
                .collect(),
            cautions: PublishedChart::cautions(),
            title: title.clone(),
        };
        let (date, version) = (chart.date.clone(), chart.version.clone());
        let edition = Edition { date, version, trials: chart.trials };
        print(TEMPLATE, paper, &title, &edition.line(), &data)
    }
}

fn shown(place: &Place) -> Shown {
    Shown {
        outlook: place.outlook(),
        words: place.outlook().words(),
        advice: place.advice(),
        share: place.share(),
        tried: place.tried(),
        untried: place.trials_here == 0,
    }
}
