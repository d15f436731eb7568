//! Starting afresh: an invented workshop goes, with a copy kept beside the data file.

use std::path::PathBuf;

use rusqlite::TransactionBehavior;

use crate::error::{Conflict, StoreError};
use crate::moment::Moment;
use crate::schema::RECORD_TABLES;
use crate::store::{Store, locked};

/// Tables that serve the records and go with them; the referring ones first.
const SERVING_TABLES: [&str; 3] = ["image", "change", "action"];

impl Store {
    /// Removes every record and its history if the workshop is the sample, and says where the copy
    /// of the file as it was is kept.
    ///
    /// # Errors
    /// [`StoreError::Conflict`] if the workshop is not the sample; if the copy or the removal
    /// fails, nothing is removed.
    pub fn remove_sample(&self, now: Moment) -> Result<PathBuf, StoreError> {
        let copy = self.copy_before_removal(now);
        let mut writer = locked(self.writer());
        let holds_sample = "select exists (select 1 from workshop where sample = 1)";
        if !writer.query_row(holds_sample, [], |row| row.get::<_, bool>(0))? {
            return Err(StoreError::Conflict(Conflict::NoSample));
        }
        writer.execute("vacuum into ?1", [copy.display().to_string()])?;
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

    fn copy_before_removal(&self, now: Moment) -> PathBuf {
        let name = self.path().file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let moment = now.to_string().replace([':', '.'], "-");
        self.path().with_file_name(format!("{name} before removal {moment}.linkwright"))
    }
}
