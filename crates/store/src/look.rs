//! Looking into a data file without taking it: for commands that work beside the running app.

use std::path::Path;

use rusqlite::{Connection, ErrorCode, OpenFlags};

use crate::error::{OpenError, StoreError};
use crate::header;
use crate::lock::Lock;
use crate::schema;
use crate::view::View;

/// Reads from one consistent look at a data file, also while another program writes to it; the
/// file is not changed.
///
/// # Errors
/// Those of `look`, and [`OpenError`] if the file cannot be read as it is.
pub fn look<T, E: From<StoreError> + From<OpenError>>(
    path: &Path,
    look: impl FnOnce(&View<'_>) -> Result<T, E>,
) -> Result<T, E> {
    let mut looking = Looking::at(path)?;
    let known = schema::known_step();
    if looking.step < known {
        let path = path.to_owned();
        return Err(E::from(OpenError::Older { path, found: looking.step, known }));
    }
    let transaction = looking.connection.transaction().map_err(StoreError::from)?;
    look(&View { connection: &transaction, worked_out: None, for_good: None })
}

/// A connection that only reads.
pub(crate) struct Looking {
    pub(crate) connection: Connection,
    pub(crate) step: u32,
    // After the connection, so that it is let go of last.
    _lock: Option<Lock>,
}

impl Looking {
    /// Opens a file of ours to read from, at any step this program knows.
    pub(crate) fn at(path: &Path) -> Result<Looking, OpenError> {
        if !header::is_ours(path)? {
            return Err(OpenError::Missing { path: path.to_owned() });
        }
        let lock = Lock::to_look(path);
        // With nobody writing and no log, the file is all there is, and reading it needs no
        // helper files beside it.
        let at_rest =
            (lock.is_some() || !header::beside(path, "-shm").exists()) && !header::has_log(path);
        Looking::connected(path, at_rest, lock)
    }

    /// The same for one who holds the lock already.
    pub(crate) fn at_own(path: &Path) -> Result<Looking, OpenError> {
        Looking::connected(path, !header::has_log(path), None)
    }

    fn connected(path: &Path, at_rest: bool, lock: Option<Lock>) -> Result<Looking, OpenError> {
        let connection = connect(path, at_rest).map_err(|error| refused(path, error))?;
        let step = schema::step_of(&connection).map_err(|error| refused(path, error))?;
        header::may_be_opened(path, step)?;
        Ok(Looking { connection, step, _lock: lock })
    }

    /// What the database's own quick check finds wrong, one sentence a line; nothing if it is sound.
    pub(crate) fn quick_check(&self) -> rusqlite::Result<Vec<String>> {
        findings(&self.connection, "quick_check")
    }

    /// The same, with every index compared with its table.
    pub(crate) fn integrity_check(&self) -> rusqlite::Result<Vec<String>> {
        findings(&self.connection, "integrity_check")
    }
}

/// A database error at opening, told apart by what can be done about it.
pub(crate) fn refused(path: &Path, error: rusqlite::Error) -> OpenError {
    let path = path.to_owned();
    match error.sqlite_error_code() {
        Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => {
            OpenError::Damaged { path, what: error.to_string() }
        }
        Some(ErrorCode::ReadOnly | ErrorCode::PermissionDenied) => OpenError::ReadOnly { path },
        _ => OpenError::Sqlite { path, source: error },
    }
}

fn connect(path: &Path, at_rest: bool) -> rusqlite::Result<Connection> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    if !at_rest {
        return Connection::open_with_flags(path, flags);
    }
    match immutable_uri(path) {
        Some(uri) => Connection::open_with_flags(uri, flags | OpenFlags::SQLITE_OPEN_URI),
        None => Connection::open_with_flags(path, flags),
    }
}

/// The address that tells SQLite that nobody changes the file; `None` if the path is no Unicode.
fn immutable_uri(path: &Path) -> Option<String> {
    let path = std::path::absolute(path).ok()?;
    let mut uri = String::from("file:");
    let text = path.to_str()?.replace('\\', if cfg!(windows) { "/" } else { "\\" });
    if !text.starts_with('/') {
        uri.push_str("///");
    }
    for letter in text.chars() {
        match letter {
            '%' => uri.push_str("%25"),
            '?' => uri.push_str("%3f"),
            '#' => uri.push_str("%23"),
            other => uri.push(other),
        }
    }
    uri.push_str("?immutable=1");
    Some(uri)
}

fn findings(connection: &Connection, check: &str) -> rusqlite::Result<Vec<String>> {
    let mut found: Vec<String> = connection
        .prepare(&format!("pragma {check}(20)"))?
        .query_map([], |row| row.get(0))?
        .collect::<Result<_, _>>()?;
    found.retain(|line| line != "ok");
    Ok(found)
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::immutable_uri;

    #[test]
    fn signs_that_mean_something_in_an_address_are_written_out() {
        let uri = immutable_uri(Path::new("/a b/50 %#1?.linkwright")).expect("an address");
        assert_eq!(uri, "file:/a b/50 %25%231%3f.linkwright?immutable=1");
    }
}
