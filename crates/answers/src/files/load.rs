//! An order with the workshop and the metals it names.

use std::path::{Path, PathBuf};

use linkwright_calc::metal::Catalogue;
use linkwright_calc::plan::{LineRefused, Plan, Trials, Workshop};
use serde_json::Value;
use thiserror::Error;

use super::document::{Document, FileError};
use super::metals_toml::{MetalsFileError, catalogue_from};
use super::order_toml::OrderFile;
use super::workshop_toml::WorkshopFile;
use crate::chain::{KnownPatterns, OrderAsked, OwnKnown};
use crate::pattern::OwnPattern;
use crate::refusal::Refusal;

/// All that a plan needs.
pub struct Loaded {
    /// What is wanted.
    pub order: OrderAsked,
    /// What there is.
    pub workshop: Workshop,
    /// Built-in metals with the workshop's own over them.
    pub metals: Catalogue,
}

impl Loaded {
    /// The order planned, with what cutting trials taught where there is any.
    ///
    /// # Errors
    /// [`LineRefused`] naming the first line that cannot be planned.
    pub fn plan(&self, trials: Option<&dyn Trials>) -> Result<Plan, LineRefused> {
        self.order.plan(&self.workshop, &self.metals, trials)
    }

    /// The date of the order, as typed.
    pub fn date(&self) -> Option<&str> {
        self.order.order.date.as_deref()
    }
}

/// An order, a workshop or a metals file that cannot be used.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum LoadError {
    /// The order or the workshop file.
    #[error(transparent)]
    File(#[from] FileError),
    /// The metals file.
    #[error(transparent)]
    Metals(#[from] MetalsFileError),
}

impl LoadError {
    /// Whether the system would not give us the file, which is no fault of what was typed.
    pub fn is_trouble_with_a_file(&self) -> bool {
        matches!(
            self,
            LoadError::File(FileError::Unreadable { .. })
                | LoadError::Metals(MetalsFileError::Unreadable { .. })
        )
    }

    /// The same, with the field and the value apart.
    pub fn to_refusal(&self) -> Refusal {
        let (field, given) = match self {
            LoadError::File(FileError::Wrong { field, given, .. }) => {
                (field.as_str(), Value::from(given.as_str()))
            }
            LoadError::File(FileError::Missing { field, .. }) => (field.as_str(), Value::Null),
            _ => ("file", Value::Null),
        };
        Refusal::bench(field, given, self)
    }
}

/// Reads an order and what it names; `workshop` wins over the workshop named in the order.
pub fn load(order_path: &Path, workshop: Option<&Path>) -> Result<Loaded, LoadError> {
    let document = Document::read(order_path)?;
    let file: OrderFile = document.entries()?;
    let order = file.order(&document, &with_files(&file, &document, order_path)?)?;
    let workshop_path = match (workshop, &file.workshop) {
        (Some(path), _) => path.to_owned(),
        (None, Some(name)) => beside(order_path, name),
        (None, None) => {
            return Err(document
                .missing("workshop", "name a workshop file, as workshop = \"bench.toml\"")
                .into());
        }
    };
    let (workshop, metals) = load_workshop(&workshop_path)?;
    Ok(Loaded { order, workshop, metals })
}

/// The patterns of the program and those of the pattern files that an order names, which lie beside it.
fn with_files(
    file: &OrderFile,
    document: &Document,
    order_path: &Path,
) -> Result<KnownPatterns, FileError> {
    let mut patterns = KnownPatterns::built_in();
    for (document, typed) in file.pattern_files(document) {
        let called = typed.get_ref();
        if patterns.own().iter().any(|own| own.called == *called) {
            continue;
        }
        let own = OwnPattern::load(&beside(order_path, called));
        let own = document.parsed("pattern", typed, own)?;
        patterns.add(OwnKnown { called: called.clone(), found: Ok((own.pattern, None)) });
    }
    Ok(patterns)
}

/// Reads a workshop with the metals it names.
pub fn load_workshop(path: &Path) -> Result<(Workshop, Catalogue), LoadError> {
    let document = Document::read(path)?;
    let file: WorkshopFile = document.entries()?;
    let metals = match &file.metals {
        Some(name) => catalogue_from(&beside(path, name))?,
        None => Catalogue::built_in(),
    };
    let workshop = file.workshop(&document, &metals)?;
    Ok((workshop, metals))
}

/// A file named in another, relative to it.
fn beside(file: &Path, name: &str) -> PathBuf {
    file.parent().unwrap_or(Path::new("")).join(name)
}
