//! Labels for batches of rings, each with a code that opens its page.

use qrcode::render::svg;
use qrcode::{EcLevel, QrCode};
use serde::Serialize;

use crate::paper::Paper;
use crate::press::{Pdf, SheetError, Template, print};

const TEMPLATE: Template = Template { text: include_str!("../templates/labels.typ") };

/// A label.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// The batch's code, large.
    pub code: String,
    /// What the code for cameras says: the address of the batch's page. "" for a label without.
    pub address: String,
    /// What stands under it, most important first: metal, wire, ring, count, day.
    pub lines: Vec<String>,
}

/// Labels on sheets of two by seven, with lines to cut along.
#[derive(Clone, Debug, PartialEq)]
pub struct LabelSheet {
    /// The labels.
    pub labels: Vec<Label>,
}

#[derive(Serialize)]
struct Data {
    labels: Vec<Drawn>,
}

#[derive(Serialize)]
pub(crate) struct Drawn {
    code: String,
    lines: Vec<String>,
    camera: Option<String>,
}

impl LabelSheet {
    /// Prints the labels.
    ///
    /// # Errors
    /// If an address is too long for its code, or the sheet cannot be set.
    pub fn pdf(&self, paper: Paper) -> Result<Pdf, SheetError> {
        let labels = self.labels.iter().map(Label::drawn).collect::<Result<_, _>>()?;
        let foot = "Cut along the lines";
        print(TEMPLATE, paper, "Batch labels", foot, &Data { labels })
    }
}

impl Label {
    fn drawn(&self) -> Result<Drawn, SheetError> {
        let camera = (!self.address.is_empty()).then(|| code_for_cameras(&self.address));
        Ok(Drawn {
            code: self.code.clone(),
            lines: self.lines.clone(),
            camera: camera.transpose()?,
        })
    }
}

/// The code as SVG, with its quiet zone; a sixth of it may be smudged.
fn code_for_cameras(address: &str) -> Result<String, SheetError> {
    let code = QrCode::with_error_correction_level(address, EcLevel::M)
        .map_err(|_| SheetError::AddressTooLong { characters: address.chars().count() })?;
    Ok(code.render::<svg::Color<'_>>().min_dimensions(200, 200).build())
}
