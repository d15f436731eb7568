//! The data file, opened.

use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use rusqlite::{Connection, OpenFlags, OptionalExtension, TransactionBehavior, params};
use time::Date;

use crate::act::Act;
use crate::backup;
use crate::error::{OpenError, StoreError};
use crate::for_good::ForGood;
use crate::history::NOTHING_TO_UNDO;
use crate::lock::Lock;
use crate::moment::Moment;
use crate::opening::{self, STATEMENTS_KEPT};
use crate::view::View;
use crate::worked_out::WorkedOut;

/// The data file of one workshop: one writer at a time, readers beside it.
#[derive(Debug)]
pub struct Store {
    path: PathBuf,
    // Let go of in this order: the last connection to close empties the log into the file, which
    // one that only reads cannot, and only then may another program come in.
    readers: Mutex<Vec<Connection>>,
    writer: Mutex<Connection>,
    worked_out: WorkedOut,
    for_good: ForGood,
    _lock: Lock,
}

impl Store {
    /// Opens the data file, making it if there is none, and brings it to today's form.
    ///
    /// # Errors
    /// [`OpenError`] says what is wrong; the file is then as it was.
    pub fn open(path: &Path) -> Result<Store, OpenError> {
        let (writer, lock) = opening::open(path)?;
        Ok(Store {
            path: path.to_owned(),
            readers: Mutex::new(Vec::new()),
            writer: Mutex::new(writer),
            worked_out: WorkedOut::default(),
            for_good: ForGood::default(),
            _lock: lock,
        })
    }

    /// Where the data file is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The connection that writes.
    pub(crate) fn writer(&self) -> &Mutex<Connection> {
        &self.writer
    }

    /// Reads from one consistent look at the file.
    ///
    /// # Errors
    /// Those of `look`, and if the file cannot be read.
    pub fn read<T, E: From<StoreError>>(
        &self,
        look: impl FnOnce(&View<'_>) -> Result<T, E>,
    ) -> Result<T, E> {
        let mut reader = self.reader().map_err(E::from)?;
        let outcome = match reader.transaction() {
            Ok(transaction) => {
                let (worked_out, for_good) = (Some(&self.worked_out), Some(&self.for_good));
                look(&View { connection: &transaction, worked_out, for_good })
            }
            Err(error) => Err(E::from(StoreError::from(error))),
        };
        locked(&self.readers).push(reader);
        outcome
    }

    /// Does one action, described in `what` as a page would list it; all of it is on the disk when
    /// this returns, or nothing is.
    ///
    /// # Errors
    /// Those of `doing`; nothing is then saved.
    pub fn act<T, E: From<StoreError>>(
        &self,
        now: Moment,
        what: &str,
        doing: impl FnOnce(&Act<'_>) -> Result<T, E>,
    ) -> Result<T, E> {
        self.act_as(now, what, None, doing).map(|done| {
            // Without a token every action is a new one.
            done.unwrap_or_else(|| unreachable!("an action without a token is never a repeat"))
        })
    }

    /// The same for a form that carries a token: sent twice, it is done once, and `None` says that
    /// it had been done before.
    ///
    /// # Errors
    /// Those of `doing`; nothing is then saved.
    pub fn act_once<T, E: From<StoreError>>(
        &self,
        now: Moment,
        what: &str,
        token: &str,
        doing: impl FnOnce(&Act<'_>) -> Result<T, E>,
    ) -> Result<Option<T>, E> {
        self.act_as(now, what, Some(token), doing)
    }

    /// Takes the last action back and says what it was.
    ///
    /// # Errors
    /// [`StoreError::Conflict`] if there is none, or if later records stand on it.
    pub fn undo_last(&self, now: Moment) -> Result<String, StoreError> {
        // Without a token nothing is a repeat.
        Ok(self.undo_as(now, None)?.unwrap_or_default())
    }

    /// The same for a button that carries a token: sent twice, one action is taken back, and `None`
    /// says that it had been done before.
    ///
    /// # Errors
    /// As [`Store::undo_last`].
    pub fn undo_last_once(&self, now: Moment, token: &str) -> Result<Option<String>, StoreError> {
        self.undo_as(now, Some(&format!("undo {token}")))
    }

    fn undo_as(&self, now: Moment, token: Option<&str>) -> Result<Option<String>, StoreError> {
        let mut writer = locked(&self.writer);
        let transaction = writer.transaction_with_behavior(TransactionBehavior::Immediate)?;
        if let Some(token) = token
            && is_done(&transaction, token)?
        {
            return Ok(None);
        }
        let undoable =
            View { connection: &transaction, worked_out: None, for_good: None }.undoable()?;
        let Some(action) = undoable else { return Err(NOTHING_TO_UNDO) };
        transaction.execute(
            "insert into action (at_utc, what, tap, undoes) values (?1, ?2, ?3, ?4)",
            params![now, format!("Undone: {}", action.what), token, action.number],
        )?;
        // Rows come back in the reverse order; rules between them hold at the end.
        transaction.pragma_update(None, "defer_foreign_keys", true)?;
        Act::new(&transaction, &self.for_good).take_back(action.number)?;
        transaction.commit()?;
        Ok(Some(action.what))
    }

    /// Something the program itself remembers under a name, such as which theme is shown.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn setting(&self, name: &str) -> Result<Option<String>, StoreError> {
        self.read(|view| {
            let query = "select value from setting where name = ?1";
            let mut statement = view.connection.prepare_cached(query)?;
            Ok(statement.query_row([name], |row| row.get(0)).optional()?)
        })
    }

    /// Remembers something under a name; this is no record and has no history.
    ///
    /// # Errors
    /// If nothing could be saved.
    pub fn remember(&self, name: &str, value: &str) -> Result<(), StoreError> {
        let writer = locked(&self.writer);
        writer.execute(
            "insert into setting (name, value) values (?1, ?2)
             on conflict (name) do update set value = excluded.value",
            [name, value],
        )?;
        Ok(())
    }

    /// Writes what is no record, on the one connection that writes.
    pub(crate) fn beside_records<T>(
        &self,
        write: impl FnOnce(&Connection) -> rusqlite::Result<T>,
    ) -> Result<T, StoreError> {
        Ok(write(&locked(&self.writer))?)
    }

    /// Makes the backup of a day unless it is there, forgets the oldest but a fortnight's, and says
    /// where it is if it was made.
    ///
    /// # Errors
    /// If it could not be made; nothing is forgotten then.
    pub fn back_up_daily(&self, today: Date) -> Result<Option<PathBuf>, StoreError> {
        let reader = self.reader()?;
        let made = backup::daily(&reader, &self.path, today);
        locked(&self.readers).push(reader);
        made
    }

    fn act_as<T, E: From<StoreError>>(
        &self,
        now: Moment,
        what: &str,
        token: Option<&str>,
        doing: impl FnOnce(&Act<'_>) -> Result<T, E>,
    ) -> Result<Option<T>, E> {
        let database = |error| E::from(StoreError::from(error));
        let mut writer = locked(&self.writer);
        let transaction =
            writer.transaction_with_behavior(TransactionBehavior::Immediate).map_err(database)?;
        if let Some(token) = token
            && is_done(&transaction, token).map_err(database)?
        {
            return Ok(None);
        }
        transaction
            .execute(
                "insert into action (at_utc, what, tap) values (?1, ?2, ?3)",
                params![now, what, token],
            )
            .map_err(database)?;
        let done = doing(&Act::new(&transaction, &self.for_good))?;
        transaction.commit().map_err(database)?;
        Ok(Some(done))
    }

    fn reader(&self) -> Result<Connection, StoreError> {
        if let Some(reader) = locked(&self.readers).pop() {
            return Ok(reader);
        }
        let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let reader = Connection::open_with_flags(&self.path, flags)?;
        reader.set_prepared_statement_cache_capacity(STATEMENTS_KEPT);
        Ok(reader)
    }
}

/// A panic while a lock was held left no half-done work behind: transactions roll back when dropped.
pub(crate) fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Whether an action with this token was done before.
fn is_done(connection: &Connection, token: &str) -> rusqlite::Result<bool> {
    let query = "select exists (select 1 from action where tap = ?1)";
    connection.prepare_cached(query)?.query_row([token], |row| row.get(0))
}

#[cfg(test)]
mod tests {
    use super::{Store, locked};
    use crate::records::MetalOverlay;
    use crate::{Moment, StoreError};

    fn metal(number: usize) -> MetalOverlay {
        MetalOverlay { metal: format!("metal {number}"), entry: "x".repeat(3000) }
    }

    #[test]
    fn when_no_page_is_left_nothing_is_saved_and_work_goes_on_once_there_is_room() {
        let folder = tempfile::tempdir().expect("a folder");
        let store = Store::open(&folder.path().join("bench.linkwright")).expect("opens");
        let now = Moment::parse("2026-11-25T08:30:00Z").expect("a moment");
        let room = |pages: u32| {
            locked(&store.writer).pragma_update(None, "max_page_count", pages).expect("set");
        };
        let add = |number| store.act(now, "Added a metal", |act| act.add(&metal(number)));
        room(120);
        let saved = (0..200).take_while(|number| add(*number).is_ok()).count();
        assert!(matches!(add(saved), Err(StoreError::NoRoom)));
        let there = || store.read(|view| view.all::<MetalOverlay>()).expect("read").len();
        assert_eq!(there(), saved);
        room(10_000);
        add(saved).expect("there is room again");
        assert_eq!(there(), saved + 1);
    }
}
