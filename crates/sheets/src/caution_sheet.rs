//! The cautions for students, step by step, with those for whoever teaches on a further page.

use linkwright_calc::cautions::{self, Step};
use serde::Serialize;

use crate::edition::Edition;
use crate::paper::Paper;
use crate::press::{Pdf, SheetError, Template, print};

const TEMPLATE: Template = Template { text: include_str!("../templates/cautions.typ") };

/// All cautions, those of every student's sheet first and large.
#[derive(Clone, Debug, PartialEq)]
pub struct CautionSheet {
    /// Which version it is.
    pub edition: Edition,
}

#[derive(Serialize)]
struct Data {
    students: Vec<Lines>,
    others: Vec<Lines>,
}

#[derive(Serialize)]
struct Lines {
    heading: &'static str,
    lines: Vec<&'static str>,
}

impl CautionSheet {
    /// Prints the cautions.
    ///
    /// # Errors
    /// If the sheet cannot be set.
    pub fn pdf(&self, paper: Paper) -> Result<Pdf, SheetError> {
        let data = Data { students: lines(true), others: lines(false) };
        print(TEMPLATE, paper, "Cautions at the bench", &self.edition.line(), &data)
    }
}

fn lines(student: bool) -> Vec<Lines> {
    let of_step = |step: Step| Lines {
        heading: step.heading(),
        lines: cautions::for_step(step)
            .iter()
            .filter(|line| line.student == student)
            .map(|line| line.text)
            .collect(),
    };
    Step::ALL.into_iter().map(of_step).filter(|step| !step.lines.is_empty()).collect()
}
