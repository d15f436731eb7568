//! An order and a workshop given as JSON objects with the keys of the two files.

use std::path::Path;

use linkwright_calc::metal::Catalogue;
use linkwright_calc::plan::Workshop;
use serde_json::Value;

use super::document::{Document, FileError};
use super::order_toml::OrderFile;
use super::workshop_toml::WorkshopFile;
use crate::chain::{KnownPatterns, OrderAsked};

/// Reads an order whose lines may be linked in any of these patterns. No file is read for it: a pattern
/// file named in a line is one of the patterns or unknown.
pub fn order(given: &Value, patterns: &KnownPatterns) -> Result<OrderAsked, FileError> {
    let document = document("order", given)?;
    document.entries::<OrderFile>()?.order(&document, patterns)
}

/// Reads a workshop whose wire is of these metals.
pub fn workshop(given: &Value, metals: &Catalogue) -> Result<Workshop, FileError> {
    let document = document("workshop", given)?;
    document.entries::<WorkshopFile>()?.workshop(&document, metals)
}

/// The object written as the file it stands for, so that both are read by the same code.
fn document(name: &str, given: &Value) -> Result<Document, FileError> {
    let text = toml::to_string(given).map_err(|error| FileError::Malformed {
        path: Path::new(name).to_owned(),
        message: error.to_string(),
        line: None,
        said: error.to_string(),
    })?;
    Ok(Document::unwritten(Path::new(name), text))
}
