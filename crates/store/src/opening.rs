//! Opening a data file to work in: refused if anything is wrong, made if absent, brought to today's step.

use std::path::Path;

use rusqlite::{Connection, TransactionBehavior};

use crate::backup;
use crate::durable::{put_in_place, remove_if_there};
use crate::error::{OpenError, StoreError};
use crate::header::{self, beside, folder_of};
use crate::lock::Lock;
use crate::look::{Looking, refused};
use crate::schema;

/// Statements kept ready on each connection.
pub(crate) const STATEMENTS_KEPT: usize = 128;

/// Opens the file and keeps others out. Whatever is refused is refused before a byte is written.
pub(crate) fn open(path: &Path) -> Result<(Connection, Lock), OpenError> {
    let is_there = header::is_ours(path)?;
    if is_there {
        can_be_written(path)?;
    }
    let lock = Lock::to_write(path)?;
    // Another program may have made or changed it before the lock was ours.
    if header::is_ours(path)? {
        sound(path)?;
    } else {
        make(path)?;
    }
    let mut writer = Connection::open(path).map_err(|error| refused(path, error))?;
    prepare(&writer).map_err(|error| refused(path, error))?;
    bring_to_today(path, &mut writer)?;
    Ok((writer, lock))
}

fn can_be_written(path: &Path) -> Result<(), OpenError> {
    let read_only = || OpenError::ReadOnly { path: path.to_owned() };
    let marked = std::fs::metadata(path).map_err(|_| read_only())?.permissions().readonly();
    if marked {
        return Err(read_only());
    }
    // An administrator may write where the marks say no, so the marks alone do not tell.
    std::fs::OpenOptions::new().write(true).open(path).map_err(|_| read_only())?;
    Ok(())
}

fn sound(path: &Path) -> Result<(), OpenError> {
    let looking = Looking::at_own(path)?;
    let found = looking.quick_check().map_err(|error| refused(path, error))?;
    match found.first() {
        None => Ok(()),
        Some(first) => Err(OpenError::Damaged { path: path.to_owned(), what: first.clone() }),
    }
}

/// Makes a new file under another name and gives it its own when it is whole, so that a program
/// killed meanwhile leaves no half-made data file.
fn make(path: &Path) -> Result<(), OpenError> {
    let new = beside(path, ".new");
    let folder = |source| OpenError::Folder { path: folder_of(path), source };
    for left_over in ["", "-journal", "-wal", "-shm"] {
        remove_if_there(&beside(&new, left_over)).map_err(folder)?;
    }
    make_all_steps(&new).map_err(|error| refused(path, error))?;
    put_in_place(&new, path).map_err(folder)
}

fn make_all_steps(path: &Path) -> rusqlite::Result<()> {
    let mut connection = Connection::open(path)?;
    let transaction = connection.transaction()?;
    for step in 0..schema::known_step() {
        schema::take_step(&transaction, step)?;
    }
    transaction.commit()
}

/// Settings of a connection that writes.
fn prepare(connection: &Connection) -> rusqlite::Result<()> {
    connection.set_prepared_statement_cache_capacity(STATEMENTS_KEPT);
    connection.pragma_update(None, "journal_mode", "wal")?;
    // Every commit reaches the disk before it is acknowledged.
    connection.pragma_update(None, "synchronous", "full")?;
    connection.pragma_update(None, "foreign_keys", true)?;
    Ok(())
}

/// Takes the steps the file lacks, with a backup before each.
fn bring_to_today(path: &Path, writer: &mut Connection) -> Result<(), OpenError> {
    let sqlite = |error| refused(path, error);
    let mut step = schema::step_of(writer).map_err(sqlite)?;
    while step < schema::known_step() {
        let to = backup::before_step(path, step + 1);
        backup::write(writer, &to).map_err(|source| match source {
            StoreError::ReadOnly => OpenError::ReadOnly { path: path.to_owned() },
            source => OpenError::Backup { path: to, source: Box::new(source) },
        })?;
        let transaction =
            writer.transaction_with_behavior(TransactionBehavior::Exclusive).map_err(sqlite)?;
        schema::take_step(&transaction, step).map_err(sqlite)?;
        transaction.commit().map_err(sqlite)?;
        step += 1;
    }
    Ok(())
}
