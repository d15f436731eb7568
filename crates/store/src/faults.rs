//! Causes found at the bench, counted.

use crate::error::StoreError;
use crate::record::Saved;
use crate::records::Fault;
use crate::view::View;

impl View<'_> {
    /// The causes found for a symptom, newest first.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn faults_of(&self, symptom: &str) -> Result<Vec<Saved<Fault>>, StoreError> {
        self.some("where symptom = ?1 order by found_on desc, id desc", [symptom])
    }

    /// How often each symptom was recorded, by its code.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn fault_counts(&self) -> Result<Vec<(String, u32)>, StoreError> {
        let query = "select symptom, count(*) from fault group by symptom order by symptom";
        let mut statement = self.connection.prepare_cached(query)?;
        let counts = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok(counts.collect::<Result<_, _>>()?)
    }
}
