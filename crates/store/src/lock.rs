//! One program at a time writes to a data file.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{self, ErrorKind};
use std::path::Path;
use std::thread;
use std::time::Duration;

use crate::error::OpenError;
use crate::header::{beside, folder_of};

/// How often the lock is asked for: a program that is just closing, or just starting another, may
/// hold it a moment longer.
const TRIES: u32 = 25;
const BETWEEN_TRIES: Duration = Duration::from_millis(20);

/// Held as long as the data file is open; the system lets go of it when the program ends, however
/// it ends. The empty file it rests on stays where it is: taking it away could let two programs in.
#[derive(Debug)]
pub(crate) struct Lock {
    _file: File,
}

impl Lock {
    /// Keeps every other program from writing.
    ///
    /// # Errors
    /// [`OpenError::InUse`] if another has the file open.
    pub(crate) fn to_write(path: &Path) -> Result<Lock, OpenError> {
        let file = lock_file(path).map_err(|source| match source.kind() {
            ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => {
                OpenError::ReadOnly { path: path.to_owned() }
            }
            _ => OpenError::Folder { path: folder_of(path), source },
        })?;
        for _ in 0..TRIES {
            match file.try_lock() {
                Ok(()) => return Ok(Lock { _file: file }),
                Err(TryLockError::WouldBlock) => thread::sleep(BETWEEN_TRIES),
                Err(TryLockError::Error(source)) => {
                    return Err(OpenError::Folder { path: folder_of(path), source });
                }
            }
        }
        Err(OpenError::InUse { path: path.to_owned() })
    }

    /// Keeps writers out while somebody reads; `None` if one is at work, which does not disturb a
    /// reader, or if the folder takes no lock.
    pub(crate) fn to_look(path: &Path) -> Option<Lock> {
        let file = lock_file(path).ok()?;
        file.try_lock_shared().ok()?;
        Some(Lock { _file: file })
    }
}

fn lock_file(path: &Path) -> io::Result<File> {
    OpenOptions::new().create(true).truncate(false).write(true).open(beside(path, ".lock"))
}
