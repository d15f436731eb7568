//! A backup put in the place of the data file, which is kept under another name.

use std::fs;
use std::path::{Path, PathBuf};

use thiserror::Error;

use crate::backup::{at, free, write};
use crate::durable::{put_in_place, remove_if_there, sync};
use crate::error::{OpenError, StoreError};
use crate::header::{self, beside, folder_of};
use crate::lock::Lock;
use crate::look::{Looking, refused};
use crate::moment::Moment;

/// Why no backup was put in place; the data file is then as it was.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum RestoreError {
    /// The backup is damaged.
    #[error("{}: the backup is damaged ({what}); nothing was changed: try another", path.display())]
    DamagedBackup {
        /// The backup.
        path: PathBuf,
        /// What was found.
        what: String,
    },
    /// The backup cannot be used for another reason.
    #[error("the backup cannot be used, nothing was changed: {0}")]
    Backup(#[source] OpenError),
    /// The data file may not be replaced.
    #[error(transparent)]
    DataFile(#[from] OpenError),
    /// A file could not be written.
    #[error(transparent)]
    Store(#[from] StoreError),
}

/// What a restore did.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Restored {
    /// Where the file that was there before is now; absent if there was none.
    pub replaced: Option<PathBuf>,
    /// The schema step of the backup.
    pub step: u32,
}

/// Checks a backup from end to end and puts it in the place of the data file.
///
/// # Errors
/// [`RestoreError`] says why it was not done; the data file is then as it was.
pub fn restore(path: &Path, from: &Path, now: Moment) -> Result<Restored, RestoreError> {
    if let Err(foreign @ OpenError::Foreign { .. }) = header::is_ours(path) {
        return Err(foreign.into());
    }
    let folder = folder_of(path);
    if let Err(source) = fs::read_dir(&folder) {
        return Err(OpenError::Folder { path: folder, source }.into());
    }
    let backup = sound_backup(from)?;
    let _lock = Lock::to_write(path)?;
    let copy = beside(path, ".restored");
    remove_if_there(&copy).map_err(at(&copy))?;
    write(&backup.connection, &copy)?;
    let replaced = keep(path, now)?;
    // From here on the data file lacks what its log held; all of it is in the kept file.
    for helper in ["-wal", "-shm"] {
        let helper = beside(path, helper);
        remove_if_there(&helper).map_err(at(&helper))?;
    }
    put_in_place(&copy, path).map_err(at(path))?;
    Ok(Restored { replaced, step: backup.step })
}

fn sound_backup(from: &Path) -> Result<Looking, RestoreError> {
    let unusable = |error| match error {
        OpenError::Damaged { path, what } => RestoreError::DamagedBackup { path, what },
        other => RestoreError::Backup(other),
    };
    let backup = Looking::at(from).map_err(unusable)?;
    let found = backup.integrity_check().map_err(|error| unusable(refused(from, error)))?;
    match found.into_iter().next() {
        Some(what) => Err(RestoreError::DamagedBackup { path: from.to_owned(), what }),
        None => Ok(backup),
    }
}

/// Copies the present file and its log to another name, damaged or not.
fn keep(path: &Path, now: Moment) -> Result<Option<PathBuf>, StoreError> {
    if !path.exists() && !header::has_log(path) {
        return Ok(None);
    }
    let which = format!("replaced-{}", now.for_a_file_name());
    let kept = free(&folder_of(path), path, &which);
    for helper in ["", "-wal"] {
        let (old, new) = (beside(path, helper), beside(&kept, helper));
        if old.exists() {
            fs::copy(&old, &new).and_then(|_| sync(&new)).map_err(at(&new))?;
        }
    }
    Ok(Some(kept))
}
