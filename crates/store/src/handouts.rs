//! Handouts: versions of sheets, and which class had which.

use crate::error::StoreError;
use crate::id::Id;
use crate::record::Saved;
use crate::records::{Handout, HandoutGiven, LineKind, OrderLine};
use crate::view::View;

impl View<'_> {
    /// All versions of all sheets, newest first within a sheet.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn handouts(&self) -> Result<Vec<Saved<Handout>>, StoreError> {
        self.some("order by kind, title, version desc", [])
    }

    /// The last version of a sheet; 0 if there is none yet.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn last_version(&self, kind: &str, title: &str) -> Result<u32, StoreError> {
        let query = "select coalesce(max(version), 0) from handout where kind = ?1 and title = ?2";
        let mut statement = self.connection.prepare_cached(query)?;
        Ok(statement.query_row([kind, title], |row| row.get(0))?)
    }

    /// The classes that had a version, last one first.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn classes_with(
        &self,
        handout: Id<Handout>,
    ) -> Result<Vec<Saved<HandoutGiven>>, StoreError> {
        self.some("where handout_id = ?1 order by given_on desc, id desc", [handout])
    }

    /// Lines of orders that ask for class kits, newest first.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn kit_lines(&self) -> Result<Vec<Saved<OrderLine>>, StoreError> {
        self.some("where kind = ?1 order by id desc", [LineKind::Kits])
    }
}
