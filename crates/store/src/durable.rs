//! Files that are there whole, or not at all.

use std::fs::{self, File};
use std::io;
use std::path::Path;

use crate::header::folder_of;

/// Gives a finished file its name, once every byte of it is on the disk.
pub(crate) fn put_in_place(finished: &Path, name: &Path) -> io::Result<()> {
    sync(finished)?;
    fs::rename(finished, name)?;
    sync_folder(&folder_of(name))
}

/// Waits until the disk has every byte of a file.
pub(crate) fn sync(path: &Path) -> io::Result<()> {
    File::options().write(true).open(path)?.sync_all()
}

/// Waits until the disk has the names in a folder; where folders cannot be opened as files, the
/// system sees to that itself.
pub(crate) fn sync_folder(folder: &Path) -> io::Result<()> {
    if cfg!(unix) { File::open(folder)?.sync_all() } else { Ok(()) }
}

/// Takes a file away if it is there.
pub(crate) fn remove_if_there(path: &Path) -> io::Result<()> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
        _ => Ok(()),
    }
}
