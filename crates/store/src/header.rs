//! The first hundred bytes of a data file, read without opening it as a database.

use std::fs::{self, File};
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

use crate::error::OpenError;
use crate::schema;

/// What the beginning of every SQLite file is, as its file format describes.
const MAGIC: &[u8; 16] = b"SQLite format 3\0";
const LENGTH: usize = 100;
const STEP_AT: usize = 60;
const APPLICATION_AT: usize = 68;

/// Whether there is a data file of ours that this program may open; `false` if there is no file.
///
/// # Errors
/// [`OpenError`] says why it may not be opened. Nothing is written, neither here nor beside it.
pub(crate) fn is_ours(path: &Path) -> Result<bool, OpenError> {
    let damaged = |what: &str| OpenError::Damaged { path: path.to_owned(), what: what.to_owned() };
    let unreadable = |source| OpenError::Unreadable { path: path.to_owned(), source };
    let folder = folder_of(path);
    if let Err(source) = fs::read_dir(&folder) {
        return Err(OpenError::Folder { path: folder, source });
    }
    match fs::metadata(path) {
        Err(error) if error.kind() == ErrorKind::NotFound => {
            // Beside a new file, the log of a lost one would be taken for its own.
            return if has_log(path) {
                Err(damaged("the file itself is gone, but its log is still there"))
            } else {
                Ok(false)
            };
        }
        Err(error) => return Err(unreadable(error)),
        Ok(about) if about.is_dir() => return Err(damaged("it is a folder")),
        Ok(_) => {}
    }
    let mut begin = Vec::with_capacity(LENGTH);
    File::open(path)
        .and_then(|file| file.take(LENGTH as u64).read_to_end(&mut begin))
        .map_err(unreadable)?;
    if begin.is_empty() {
        return Err(damaged("it is empty"));
    }
    if begin.len() < LENGTH || !begin.starts_with(MAGIC) {
        return Err(damaged("it does not begin as a data file does"));
    }
    if number_at(&begin, APPLICATION_AT) != schema::APPLICATION_ID.cast_unsigned() {
        return Err(OpenError::Foreign { path: path.to_owned() });
    }
    may_be_opened(path, number_at(&begin, STEP_AT))?;
    Ok(true)
}

/// Refuses a file at a step this program does not know.
pub(crate) fn may_be_opened(path: &Path, found: u32) -> Result<(), OpenError> {
    let known = schema::known_step();
    if found > known {
        return Err(OpenError::Newer { path: path.to_owned(), found, known });
    }
    Ok(())
}

/// Whether changes stand in the log beside the file that are not in the file yet.
pub(crate) fn has_log(path: &Path) -> bool {
    fs::metadata(beside(path, "-wal")).is_ok_and(|about| about.len() > 0)
}

/// The path with something put behind it.
pub(crate) fn beside(path: &Path, behind: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(behind);
    PathBuf::from(name)
}

/// The folder a file is in.
pub(crate) fn folder_of(path: &Path) -> PathBuf {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder.to_owned(),
        _ => PathBuf::from("."),
    }
}

fn number_at(begin: &[u8], at: usize) -> u32 {
    begin[at..at + 4].iter().fold(0, |number, byte| number << 8 | u32::from(*byte))
}
