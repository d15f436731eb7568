//! The blank card on which a trial is noted with a pencil.

use serde::Serialize;

use crate::paper::Paper;
use crate::press::{Pdf, SheetError, Template, print};

const TEMPLATE: Template = Template { text: include_str!("../templates/trial_card.typ") };

/// A blank trial card, two a page, with the fields of the trial form in its order.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct TrialCard;

#[derive(Serialize)]
struct Blank {}

impl TrialCard {
    /// Prints two cards on one page.
    ///
    /// # Errors
    /// If the sheet cannot be set.
    pub fn pdf(self, paper: Paper) -> Result<Pdf, SheetError> {
        let foot = "Cut in half along the line; type it in later under Trials";
        print(TEMPLATE, paper, "Trial card", foot, &Blank {})
    }
}
