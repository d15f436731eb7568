//! Starting afresh: an invented workshop goes, with a backup of the file as it was.

use std::path::PathBuf;

use rusqlite::TransactionBehavior;

use crate::backup;
use crate::error::{Conflict, StoreError};
use crate::moment::Moment;
use crate::schema::RECORD_TABLES;
use crate::store::{Store, locked};

/// Tables that serve the records and go with them; the referring ones first.
const SERVING_TABLES: [&str; 3] = ["image", "change", "action"];

impl Store {
    /// Removes every record and its history if the workshop is the sample, and says which backup
    /// holds the file as it was.
    ///
    /// # Errors
    /// [`StoreError::Conflict`] if the workshop is not the sample; if the backup or the removal
    /// fails, nothing is removed.
    pub fn remove_sample(&self, now: Moment) -> Result<PathBuf, StoreError> {
        let copy = backup::by_hand(self.path(), now);
        let mut writer = locked(self.writer());
        let holds_sample = "select exists (select 1 from workshop where sample = 1)";
        if !writer.query_row(holds_sample, [], |row| row.get::<_, bool>(0))? {
            return Err(StoreError::Conflict(Conflict::NoSample));
        }
        backup::write(&writer, &copy)?;
        let transaction = writer.transaction_with_behavior(TransactionBehavior::Immediate)?;
        transaction.pragma_update(None, "defer_foreign_keys", true)?;
        // The triggers that keep former values need an action to belong to; it goes with the rest.
        transaction.execute(
            "insert into action (at_utc, what) values (?1, 'Removed the sample workshop')",
            [now],
        )?;
        for table in RECORD_TABLES.iter().rev().chain(&SERVING_TABLES) {
            transaction.execute(&format!("delete from {table}"), [])?;
        }
        transaction.commit()?;
        Ok(copy)
    }
}
