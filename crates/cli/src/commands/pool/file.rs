//! Files that workshops share, read and written.

use std::fs::{File, remove_file};
use std::io::{Read, Write};
use std::path::Path;

use linkwright_answers::pool::{FILE_BYTES_MOST, PoolFileError, PortablePrior, read_prior};
use linkwright_answers::refusal::Refusal;
use serde_json::Value;

use crate::commands::export::new_file;
use crate::failure::Failure;

/// The prior of a file; geometry alone if none is named.
///
/// # Errors
/// If the file cannot be read, or is no prior.
pub fn given_prior(path: Option<&Path>) -> Result<PortablePrior, Failure> {
    let Some(path) = path else { return Ok(PortablePrior::geometry()) };
    read_prior(&bytes(path)?).map_err(|error| refused(path, &error))
}

/// What is in a file, cut off one byte past what is read of any.
pub(super) fn bytes(path: &Path) -> Result<Vec<u8>, Failure> {
    let most = u64::try_from(FILE_BYTES_MOST).unwrap_or(u64::MAX);
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(Failure::at(path))?;
    file.take(most.saturating_add(1)).read_to_end(&mut bytes).map_err(Failure::at(path))?;
    Ok(bytes)
}

/// The complaint about a file.
pub(super) fn refused(path: &Path, error: &PoolFileError) -> Failure {
    let file = path.display().to_string();
    Refusal::bench(&error.field(), Value::from(file.as_str()), format!("{file}: {error}")).into()
}

/// Writes a new file; none is written over, and no half of one is left.
pub fn write_new(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let mut file = new_file(path).map_err(Failure::at(path))?;
    let written = file.write_all(bytes).and_then(|()| file.sync_all());
    written.map_err(|error| {
        // If it will not go, the first trouble is the news.
        drop(remove_file(path));
        Failure::at(path)(error)
    })
}
