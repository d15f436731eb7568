//! The card from which a student links a pattern: step by step in pictures, ring counts, length.

use linkwright_answers::chain::LinkingStep;
use linkwright_calc::cautions::{self, Step};
use serde::Serialize;

use crate::edition::Edition;
use crate::paper::Paper;
use crate::press::{Pdf, SheetError, Template, print};

const TEMPLATE: Template = Template { text: include_str!("../templates/linking_card.typ") };

/// What the card of one pattern says; public, so without costs or names.
#[derive(Clone, Debug, PartialEq)]
pub struct LinkingCard {
    /// Which version it is.
    pub edition: Edition,
    /// The pattern.
    pub title: String,
    /// What stands large: rings, finished length, ring; each with a note.
    pub keys: Vec<[String; 3]>,
    /// Lesser facts.
    pub facts: Vec<[String; 2]>,
    /// The finished piece, to scale.
    pub picture: String,
    /// What its scale is, in words.
    pub scale: String,
    /// The order of linking.
    pub steps: Vec<LinkingStep>,
    /// What to do after the last step.
    pub then: &'static str,
}

#[derive(Serialize)]
struct Data<'a> {
    title: &'a str,
    keys: &'a [[String; 3]],
    facts: &'a [[String; 2]],
    picture: &'a str,
    scale: &'a str,
    steps: Vec<[&'a str; 2]>,
    then: &'static str,
    cautions: Vec<&'static str>,
}

/// What whoever links rings is told, besides the cautions of that step of the work. Common practice, no
/// source.
const FOR_LINKING: [&str; 4] = [
    "Wear eye protection: a ring that slips out of the pliers flies, and so does its end if it breaks.",
    "Hold each ring with two pliers and twist its ends past each other sideways; never pull them apart.",
    "Close each ring until its ends meet without a step, and feel for burrs before it is worn.",
    "Work in good light. The rules of your school or workshop come first.",
];

impl LinkingCard {
    /// Prints the card.
    ///
    /// # Errors
    /// If the sheet cannot be set.
    pub fn pdf(&self, paper: Paper) -> Result<Pdf, SheetError> {
        let data = Data {
            title: &self.title,
            keys: &self.keys,
            facts: &self.facts,
            picture: &self.picture,
            scale: &self.scale,
            steps: self.steps.iter().map(|step| [&*step.words, &*step.picture]).collect(),
            then: self.then,
            cautions: cautions_for_linking(),
        };
        let title = format!("Linking card: {}", self.title);
        print(TEMPLATE, paper, &title, &self.edition.line(), &data)
    }
}

/// The cautions of the card, those of linking first.
pub fn cautions_for_linking() -> Vec<&'static str> {
    let of_step = cautions::for_step(Step::Finishing).iter().map(|line| line.text);
    FOR_LINKING.into_iter().chain(of_step).collect()
}
