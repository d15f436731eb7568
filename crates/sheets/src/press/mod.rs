//! The press: a template and its data go in, a PDF comes out.

mod desk;

use serde::Serialize;
use thiserror::Error;
use typst::diag::SourceDiagnostic;
use typst::foundations::Smart;
use typst_layout::PagedDocument;
use typst_pdf::PdfOptions;

use crate::paper::Paper;
use desk::Desk;

/// A printed sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pdf {
    bytes: Vec<u8>,
    warnings: Vec<String>,
}

impl Pdf {
    /// The file.
    #[must_use]
    pub fn bytes(&self) -> &[u8] {
        &self.bytes
    }

    /// The file, given away.
    #[must_use]
    pub fn into_bytes(self) -> Vec<u8> {
        self.bytes
    }

    /// What the typesetter had doubts about; for a log, not for a reader.
    #[must_use]
    pub fn warnings(&self) -> &[String] {
        &self.warnings
    }
}

/// A sheet that cannot be printed.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum SheetError {
    /// The typesetter refuses the template with this data.
    #[error("the sheet cannot be set: {messages}")]
    NotSet {
        /// What it says.
        messages: String,
    },
    /// The data cannot be handed to the typesetter.
    #[error("the sheet's data cannot be written down: {0}")]
    Data(#[from] serde_json::Error),
    /// An address is too long for a code that a camera reads.
    #[error("an address of {characters} characters is too long for a code")]
    AddressTooLong {
        /// Characters of the address.
        characters: usize,
    },
}

/// A template, by the name of its file.
#[derive(Clone, Copy)]
pub(crate) struct Template {
    pub(crate) text: &'static str,
}

/// What every template is given.
#[derive(Serialize)]
struct Given<'a, T> {
    paper: &'static str,
    title: &'a str,
    /// What the foot of every page says.
    foot: &'a str,
    sheet: &'a T,
}

/// Generations that results of the typesetter live in its cache after a sheet: none, since sheets
/// have little in common, and a long wall chart would hold its memory until others are printed.
const GENERATIONS_KEPT: usize = 0;

/// Sets a template with its data.
pub(crate) fn print<T: Serialize>(
    template: Template,
    paper: Paper,
    title: &str,
    foot: &str,
    sheet: &T,
) -> Result<Pdf, SheetError> {
    let given = Given { paper: paper.set_as(), title, foot, sheet };
    let desk = Desk::with(template.text, serde_json::to_vec(&given)?);
    let outcome = set(&desk);
    // Also after a failure, or the typesetter's cache grows for ever; through its own re-export,
    // since another version of the cache would be another cache.
    typst::comemo::evict(GENERATIONS_KEPT);
    outcome
}

fn set(desk: &Desk) -> Result<Pdf, SheetError> {
    let compiled = typst::compile::<PagedDocument>(desk);
    let document = compiled.output.map_err(|errors| not_set(&errors))?;
    let options = PdfOptions {
        creator: Smart::Custom(Some("Linkwright".to_owned())),
        ..PdfOptions::default()
    };
    let bytes = typst_pdf::pdf(&document, &options).map_err(|errors| not_set(&errors))?;
    Ok(Pdf { bytes, warnings: compiled.warnings.iter().map(told).collect() })
}

fn not_set(errors: &[SourceDiagnostic]) -> SheetError {
    let messages: Vec<String> = errors.iter().map(told).collect();
    SheetError::NotSet { messages: messages.join("; ") }
}

fn told(diagnostic: &SourceDiagnostic) -> String {
    let hints: String =
        diagnostic.hints.iter().map(|hint| format!(" (hint: {})", hint.v)).collect();
    format!("{}{hints}", diagnostic.message)
}
