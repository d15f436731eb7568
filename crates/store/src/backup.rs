//! Copies of the data file: one a day, one before each schema step, and whenever somebody asks.

use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use rusqlite::Connection;
use time::{Date, Month};

use crate::durable::{put_in_place, remove_if_there};
use crate::error::{OpenError, StoreError};
use crate::header::{beside, folder_of};
use crate::look::Looking;
use crate::moment::Moment;

/// Daily backups that are kept; every other kind is kept until somebody removes it.
pub const DAILY_BACKUPS_KEPT: usize = 14;

/// Folder of the backups, beside the data file.
const FOLDER: &str = "backups";

/// Copies a data file to another name, also while a program has it open.
///
/// # Errors
/// If the file cannot be read or the copy cannot be made; a file that is there already is never
/// written over.
pub fn back_up<E: From<StoreError> + From<OpenError>>(path: &Path, to: &Path) -> Result<(), E> {
    let looking = Looking::at(path)?;
    Ok(write(&looking.connection, to)?)
}

/// Where a backup that was asked for goes if nobody says where.
#[must_use]
pub fn by_hand(path: &Path, now: Moment) -> PathBuf {
    free(&folder_of(path).join(FOLDER), path, &now.for_a_file_name())
}

/// The backups beside a data file, those of the newest day first; none if there is no such folder.
///
/// # Errors
/// If the folder cannot be read.
pub fn backups_of(path: &Path) -> Result<Vec<PathBuf>, StoreError> {
    let folder = folder_of(path).join(FOLDER);
    let entries = match fs::read_dir(&folder) {
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Vec::new()),
        entries => entries.map_err(at(&folder))?,
    };
    let mut found = Vec::new();
    for entry in entries {
        let backup = entry.map_err(at(&folder))?.path();
        if backup.extension() == path.extension() {
            found.push(backup);
        }
    }
    found.sort_by(|one, other| other.cmp(one));
    Ok(found)
}

/// Where the backup before a schema step goes; an older one from the same step is left there.
pub(crate) fn before_step(path: &Path, step: u32) -> PathBuf {
    free(&folder_of(path).join(FOLDER), path, &format!("before-step-{step:03}"))
}

/// The backup of a day: made unless it is there. Those beyond the number kept are forgotten.
pub(crate) fn daily(
    connection: &Connection,
    path: &Path,
    today: Date,
) -> Result<Option<PathBuf>, StoreError> {
    let to = named(path, &today.to_string());
    if to.exists() {
        return Ok(None);
    }
    write(connection, &to)?;
    let mut days = daily_backups(path).map_err(at(&folder_of(&to)))?;
    days.sort_unstable_by_key(|(day, _)| std::cmp::Reverse(*day));
    for (_, forgotten) in days.into_iter().skip(DAILY_BACKUPS_KEPT) {
        remove_if_there(&forgotten).map_err(at(&forgotten))?;
    }
    Ok(Some(to))
}

/// Writes a whole, compact copy of what a connection reads; it gets its name when it is on the
/// disk and was found sound.
pub(crate) fn write(connection: &Connection, to: &Path) -> Result<(), StoreError> {
    if to.exists() {
        return Err(at(to)(io::Error::from(ErrorKind::AlreadyExists)));
    }
    let folder = folder_of(to);
    fs::create_dir_all(&folder).map_err(at(&folder))?;
    let unfinished = beside(to, ".unfinished");
    let written = copy(connection, &unfinished, to);
    if written.is_err() {
        // The disk may be full because of it; if it will not go, the first trouble is the news.
        drop(remove_if_there(&unfinished));
    }
    written
}

fn copy(connection: &Connection, unfinished: &Path, to: &Path) -> Result<(), StoreError> {
    remove_if_there(unfinished).map_err(at(unfinished))?;
    let Some(target) = unfinished.to_str() else {
        return Err(at(to)(io::Error::from(ErrorKind::InvalidFilename)));
    };
    connection.execute("vacuum into ?1", [target])?;
    let unsound = |what: String| StoreError::Damaged { what: format!("the copy: {what}") };
    let looking = Looking::at_own(unfinished).map_err(|error| unsound(error.to_string()))?;
    if let Some(first) = looking.quick_check()?.into_iter().next() {
        return Err(unsound(first));
    }
    drop(looking);
    put_in_place(unfinished, to).map_err(at(to))
}

/// The daily backups of a data file, with their days.
fn daily_backups(path: &Path) -> io::Result<Vec<(Date, PathBuf)>> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder_of(path).join(FOLDER))? {
        let backup = entry?.path();
        if let Some(day) = day_of(path, &backup) {
            found.push((day, backup));
        }
    }
    Ok(found)
}

/// The day in the name of a daily backup of this data file; `None` for every other file.
fn day_of(path: &Path, backup: &Path) -> Option<Date> {
    let name = backup.file_stem()?.to_str()?;
    let mut parts = name.strip_prefix(path.file_stem()?.to_str()?)?.strip_prefix('-')?.split('-');
    let year = parts.next()?.parse().ok()?;
    let month = Month::try_from(parts.next()?.parse::<u8>().ok()?).ok()?;
    let day = Date::from_calendar_date(year, month, parts.next()?.parse().ok()?).ok()?;
    (parts.next().is_none() && backup == named(path, &day.to_string())).then_some(day)
}

/// A file in the backups folder, named after the data file.
fn named(path: &Path, which: &str) -> PathBuf {
    folder_of(path).join(FOLDER).join(beside_stem(path, which))
}

/// The file's name with something between it and its ending.
fn beside_stem(path: &Path, which: &str) -> PathBuf {
    let mut name = path.file_stem().unwrap_or_default().to_owned();
    name.push(format!("-{which}"));
    if let Some(ending) = path.extension() {
        name.push(".");
        name.push(ending);
    }
    PathBuf::from(name)
}

/// A name of that kind that no file has yet.
pub(crate) fn free(folder: &Path, path: &Path, which: &str) -> PathBuf {
    let plain = folder.join(beside_stem(path, which));
    let again = (2..).map(|time| folder.join(beside_stem(path, &format!("{which}-{time}"))));
    std::iter::once(plain)
        .chain(again)
        .find(|name| !name.exists())
        .unwrap_or_else(|| unreachable!("numbers do not run out"))
}

/// Joins the path to what the system said about it.
pub(crate) fn at(path: &Path) -> impl Fn(io::Error) -> StoreError {
    let path = path.to_owned();
    move |source| match source.kind() {
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => StoreError::NoRoom,
        _ => StoreError::File { path: path.clone(), source },
    }
}

#[cfg(test)]
mod tests {
    use std::path::{Path, PathBuf};

    use time::macros::date;

    use super::{day_of, named};

    #[test]
    fn only_daily_backups_of_the_same_file_are_ever_forgotten() {
        let file = Path::new("shop/bench.linkwright");
        let backup = |name: &str| PathBuf::from("shop/backups").join(name);
        let daily = named(file, "2026-11-25");
        assert_eq!(daily, backup("bench-2026-11-25.linkwright"));
        assert_eq!(day_of(file, &daily), Some(date!(2026 - 11 - 25)));
        for other in [
            "bench-before-step-002.linkwright",
            "bench-2026-11-25-083000.linkwright",
            "bench-2026-11-25.txt",
            "bench-2026-11-25.linkwright.unfinished",
            "bench-2026-13-25.linkwright",
            "class-bench-2026-11-25.linkwright",
            "bench.linkwright",
        ] {
            assert_eq!(day_of(file, &backup(other)), None, "{other}");
        }
    }
}
