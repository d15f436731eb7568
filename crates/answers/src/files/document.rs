//! A file being read: where in it we are, so that an error names file, line, field and value.

use std::fmt::Display;
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::rc::Rc;

use linkwright_calc::quantity::{self, Length, Mass};
use serde::de::DeserializeOwned;
use thiserror::Error;
use toml::Spanned;

/// Files larger than this are refused: an order fills a page, not a disk.
pub const BYTES_MAX: u64 = 4 * 1024 * 1024;

/// Something is wrong with a file.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum FileError {
    /// It cannot be read.
    #[error("{}: the file cannot be read: {source}", path.display())]
    Unreadable {
        /// Where it should be.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// It is too large.
    #[error("{}: the file has {bytes} bytes; at most {BYTES_MAX} are read", path.display())]
    TooLarge {
        /// Where it is.
        path: PathBuf,
        /// Its size.
        bytes: u64,
    },
    /// It is not in the form described in `docs/files.md`.
    #[error("{}: {message}", path.display())]
    Malformed {
        /// Where it is.
        path: PathBuf,
        /// The reader's message, with line and column.
        message: String,
        /// The line it stumbled over, from 1, where it is one line.
        line: Option<usize>,
        /// What it stumbled over, without where.
        said: String,
    },
    /// A value in it is wrong.
    #[error("{}{}: {field} is \"{given}\": {message}", path.display(), at_line(*line))]
    Wrong {
        /// Where the file is.
        path: PathBuf,
        /// Line of the value, from 1, if known.
        line: Option<usize>,
        /// Field, with the part of the file it stands in.
        field: String,
        /// What was typed.
        given: String,
        /// What is wrong with it and what would do.
        message: String,
    },
    /// Something is not in it.
    #[error("{}: {field} is missing: {message}", path.display())]
    Missing {
        /// Where the file is.
        path: PathBuf,
        /// Field, with the part of the file it should stand in.
        field: String,
        /// What to add.
        message: String,
    },
}

impl FileError {
    /// The field at fault, with the part of the file it stands in, where there is one.
    pub fn field(&self) -> Option<&str> {
        match self {
            FileError::Wrong { field, .. } | FileError::Missing { field, .. } => Some(field),
            _ => None,
        }
    }

    /// The line of the value at fault, from 1, where it is known.
    pub fn line(&self) -> Option<usize> {
        match self {
            FileError::Wrong { line, .. } | FileError::Malformed { line, .. } => *line,
            _ => None,
        }
    }

    /// The value at fault, as typed.
    pub fn given(&self) -> Option<&str> {
        match self {
            FileError::Wrong { given, .. } => Some(given),
            _ => None,
        }
    }

    /// What is wrong and what would do, without where it stands.
    pub fn said(&self) -> String {
        match self {
            FileError::Wrong { message, .. } | FileError::Missing { message, .. } => {
                message.clone()
            }
            FileError::Malformed { said, .. } => said.clone(),
            other => other.to_string(),
        }
    }
}

fn at_line(line: Option<usize>) -> String {
    line.map_or_else(String::new, |line| format!(" line {line}"))
}

/// A file's text and the part of it being read; all parts share the text.
#[derive(Clone)]
pub struct Document {
    path: PathBuf,
    text: Rc<str>,
    part: String,
    lines_known: bool,
}

/// Anything typed that can be shown again.
pub trait Typing {
    /// The text as it stands in the file, without its quotes.
    fn typed(&self, text: &str) -> String;
    /// Where it stands, in bytes from the start.
    fn start(&self) -> usize;
}

impl<T> Typing for Spanned<T> {
    fn typed(&self, text: &str) -> String {
        text.get(self.span()).unwrap_or_default().trim_matches(['"', '\'']).to_owned()
    }

    fn start(&self) -> usize {
        self.span().start
    }
}

impl Document {
    /// Reads a file whole.
    pub fn read(path: &Path) -> Result<Document, FileError> {
        let unreadable = |source| FileError::Unreadable { path: path.to_owned(), source };
        let bytes = std::fs::metadata(path).map_err(unreadable)?.len();
        if bytes > BYTES_MAX {
            return Err(FileError::TooLarge { path: path.to_owned(), bytes });
        }
        let text = std::fs::read_to_string(path).map_err(unreadable)?;
        Ok(Document::new(path, text))
    }

    /// A document from text already at hand.
    pub fn new(path: &Path, text: String) -> Document {
        Document {
            path: path.to_owned(),
            text: text.into(),
            part: String::new(),
            lines_known: true,
        }
    }

    /// A document that was never a file: its line numbers would say nothing.
    pub fn unwritten(name: &Path, text: String) -> Document {
        Document { lines_known: false, ..Document::new(name, text) }
    }

    /// The whole text.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The same document, inside a named part of it.
    pub fn within(&self, part: &str) -> Document {
        Document { part: part.to_owned(), ..self.clone() }
    }

    /// The file as its own structure, unknown keys refused.
    pub fn entries<T: DeserializeOwned>(&self) -> Result<T, FileError> {
        toml::from_str(&self.text).map_err(|error| FileError::Malformed {
            path: self.path.clone(),
            message: error.to_string().trim_end().to_owned(),
            line: error.span().and_then(|span| self.line_of(&span)),
            said: error.message().trim_end().to_owned(),
        })
    }

    /// A length as typed.
    pub fn length(&self, field: &str, typed: &Spanned<String>) -> Result<Length, FileError> {
        self.parsed(field, typed, quantity::parse_length(typed.get_ref())).map(|l| l.value())
    }

    /// A length as typed, if it is there.
    pub fn optional_length(
        &self,
        field: &str,
        typed: Option<&Spanned<String>>,
    ) -> Result<Option<Length>, FileError> {
        typed.map(|typed| self.length(field, typed)).transpose()
    }

    /// A mass as typed.
    pub fn mass(&self, field: &str, typed: &Spanned<String>) -> Result<Mass, FileError> {
        self.parsed(field, typed, quantity::parse_mass(typed.get_ref())).map(|m| m.value())
    }

    /// The result of reading typed text, its error placed in the file.
    pub fn parsed<T, E: Display>(
        &self,
        field: &str,
        typed: &impl Typing,
        result: Result<T, E>,
    ) -> Result<T, FileError> {
        result.map_err(|error| self.wrong(field, typed, &error.to_string()))
    }

    /// A value is wrong.
    pub fn wrong(&self, field: &str, typed: &impl Typing, message: &str) -> FileError {
        FileError::Wrong {
            path: self.path.clone(),
            line: self.lines_known.then(|| self.line_at(typed.start())),
            field: self.field(field),
            given: typed.typed(&self.text),
            message: message.to_owned(),
        }
    }

    /// A value is not there.
    pub fn missing(&self, field: &str, message: &str) -> FileError {
        FileError::Missing {
            path: self.path.clone(),
            field: self.field(field),
            message: message.to_owned(),
        }
    }

    /// The line a part of the text begins in; none for one that is the whole text, as where a key is missing
    /// outside of all tables.
    fn line_of(&self, span: &Range<usize>) -> Option<usize> {
        let is_all = span.start == 0 && span.end >= self.text.trim_end().len();
        (self.lines_known && !is_all).then(|| self.line_at(span.start))
    }

    fn line_at(&self, byte: usize) -> usize {
        self.text.get(..byte).unwrap_or_default().matches('\n').count() + 1
    }

    fn field(&self, field: &str) -> String {
        if self.part.is_empty() { field.to_owned() } else { format!("{} {field}", self.part) }
    }
}
