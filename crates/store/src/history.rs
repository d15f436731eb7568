//! What was done, what things were before, and taking the last action back.

use rusqlite::types::Value as SqlValue;
use rusqlite::{OptionalExtension, params, params_from_iter};
use serde_json::{Map, Value};

use crate::act::Act;
use crate::error::{Conflict, StoreError};
use crate::id::Id;
use crate::moment::Moment;
use crate::record::{Record, words};
use crate::schema::RECORD_TABLES;
use crate::view::View;

words! {
    /// What an action did to one record.
    ChangeKind {
        /// It was not there before.
        Added = "added",
        /// It was something else before.
        Changed = "changed",
        /// It is no longer there.
        Removed = "removed",
    }
}

/// One action, as the list of what was done shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct ActionDone {
    /// Its number.
    pub number: i64,
    /// When.
    pub at: Moment,
    /// In words.
    pub what: String,
    /// Whether it took another one back.
    pub is_undo: bool,
    /// Whether it was taken back.
    pub is_undone: bool,
}

/// What a record was before one action.
#[derive(Clone, Debug, PartialEq)]
pub struct FormerValue {
    /// The action.
    pub action: ActionDone,
    /// What it did to the record.
    pub kind: ChangeKind,
    /// The record as it was, column by column; absent where it was added.
    pub former: Option<Map<String, Value>>,
}

const ACTION_COLUMNS: &str = "action.id, at_utc, what, undoes is not null,
    exists (select 1 from action as later where later.undoes = action.id)";

fn action_from(row: &rusqlite::Row<'_>) -> rusqlite::Result<ActionDone> {
    Ok(ActionDone {
        number: row.get(0)?,
        at: row.get(1)?,
        what: row.get(2)?,
        is_undo: row.get(3)?,
        is_undone: row.get(4)?,
    })
}

fn former_from(table: &str, row: &rusqlite::Row<'_>) -> Result<FormerValue, StoreError> {
    let former: Option<String> = row.get(6)?;
    let former = former.map(|text| object(table, &text)).transpose()?;
    Ok(FormerValue { action: action_from(row)?, kind: row.get(5)?, former })
}

impl View<'_> {
    /// The last actions, newest first.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn last_actions(&self, count: u32) -> Result<Vec<ActionDone>, StoreError> {
        self.actions(None, count)
    }

    /// Up to `count` actions before the one with a number, newest first; the last ones without.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn actions(&self, before: Option<i64>, count: u32) -> Result<Vec<ActionDone>, StoreError> {
        let query =
            format!("select {ACTION_COLUMNS} from action where id < ?1 order by id desc limit ?2");
        let mut statement = self.connection.prepare_cached(&query)?;
        let given = params![before.unwrap_or(i64::MAX), count];
        let actions = statement.query_map(given, action_from)?.collect::<Result<_, _>>()?;
        Ok(actions)
    }

    /// The records of a kind that were removed and are not back, as they last were, the last
    /// removed first.
    ///
    /// # Errors
    /// If the file cannot be read or a former value is no JSON object.
    pub fn removed<T: Record>(&self) -> Result<Vec<(Id<T>, FormerValue)>, StoreError> {
        let query = format!(
            "select {ACTION_COLUMNS}, change.kind, change.former, change.record_id
             from change join action on action.id = change.action_id
             where change.record = ?1 and change.kind = 'removed'
               and change.id = (select max(last.id) from change as last
                                where last.record = ?1 and last.record_id = change.record_id)
             order by change.id desc"
        );
        let mut statement = self.connection.prepare_cached(&query)?;
        let mut rows = statement.query([T::TABLE])?;
        let mut found = Vec::new();
        while let Some(row) = rows.next()? {
            let id = row.get(7)?;
            let former = former_from(T::TABLE, row)?;
            // A record whose adding was undone never was: nobody looks for it.
            if !former.action.is_undo {
                found.push((id, former));
            }
        }
        Ok(found)
    }

    /// The action that `undo_last` would take back.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn undoable(&self) -> Result<Option<ActionDone>, StoreError> {
        let query = format!(
            "select {ACTION_COLUMNS} from action
             where undoes is null
               and not exists (select 1 from action as later where later.undoes = action.id)
               and exists (select 1 from change where change.action_id = action.id)
             order by id desc limit 1"
        );
        Ok(self.connection.prepare_cached(&query)?.query_row([], action_from).optional()?)
    }

    /// Everything a record ever was, newest first; also of one that was removed.
    ///
    /// # Errors
    /// If the file cannot be read or a former value is no JSON object.
    pub fn former_values<T: Record>(&self, id: Id<T>) -> Result<Vec<FormerValue>, StoreError> {
        self.former_rows(T::TABLE, id.number())
    }

    /// The same for a table by its name; nothing if there is no such table or record.
    ///
    /// # Errors
    /// If the file cannot be read or a former value is no JSON object.
    pub fn former_rows(&self, table: &str, number: i64) -> Result<Vec<FormerValue>, StoreError> {
        let query = format!(
            "select {ACTION_COLUMNS}, change.kind, change.former
             from change join action on action.id = change.action_id
             where change.record = ?1 and change.record_id = ?2 order by change.id desc"
        );
        let mut statement = self.connection.prepare_cached(&query)?;
        let mut rows = statement.query(params![table, number])?;
        let mut found = Vec::new();
        while let Some(row) = rows.next()? {
            found.push(former_from(table, row)?);
        }
        Ok(found)
    }

    /// How many changes the file has seen; it grows with every one.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn change_count(&self) -> Result<i64, StoreError> {
        let query = "select coalesce(max(id), 0) from change";
        Ok(self.connection.prepare_cached(query)?.query_row([], |row| row.get(0))?)
    }
}

impl Act<'_> {
    /// Takes back what `action` did, newest change first.
    pub(crate) fn take_back(&self, action: i64) -> Result<(), StoreError> {
        let mut statement = self.connection.prepare_cached(
            "select record, record_id, kind, former from change where action_id = ?1 order by id desc",
        )?;
        let changes: Vec<(String, i64, ChangeKind, Option<String>)> = statement
            .query_map([action], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?, row.get(3)?)))?
            .collect::<Result<_, _>>()?;
        for (table, id, kind, former) in changes {
            self.restore(&table, id, kind, former.as_deref())?;
        }
        Ok(())
    }

    fn restore(
        &self,
        table: &str,
        id: i64,
        kind: ChangeKind,
        former: Option<&str>,
    ) -> Result<(), StoreError> {
        let corrupt =
            |what: &str| StoreError::Corrupt { record: table.to_owned(), what: what.to_owned() };
        if !RECORD_TABLES.contains(&table) {
            return Err(corrupt("its history names no table of records"));
        }
        if kind == ChangeKind::Added {
            self.connection.execute(&format!("delete from {table} where id = ?1"), [id])?;
            return Ok(());
        }
        let former = object(table, former.ok_or_else(|| corrupt("its former value is missing"))?)?;
        let columns: Vec<&str> = former.keys().map(String::as_str).collect();
        let values: Vec<SqlValue> = former.values().map(to_sql).collect();
        let statement = if kind == ChangeKind::Removed {
            let marks = vec!["?"; columns.len()].join(", ");
            format!("insert into {table} ({}) values ({marks})", columns.join(", "))
        } else {
            let settings: Vec<String> = columns.iter().map(|name| format!("{name} = ?")).collect();
            format!("update {table} set {} where id = {id}", settings.join(", "))
        };
        self.connection.execute(&statement, params_from_iter(values))?;
        Ok(())
    }
}

fn object(table: &str, text: &str) -> Result<Map<String, Value>, StoreError> {
    serde_json::from_str(text)
        .map_err(|error| StoreError::Corrupt { record: table.to_owned(), what: error.to_string() })
}

fn to_sql(value: &Value) -> SqlValue {
    match value {
        Value::Null => SqlValue::Null,
        Value::Bool(truth) => SqlValue::Integer(i64::from(*truth)),
        Value::Number(number) => match (number.as_i64(), number.as_f64()) {
            (Some(whole), _) => SqlValue::Integer(whole),
            (None, Some(real)) => SqlValue::Real(real),
            (None, None) => SqlValue::Text(number.to_string()),
        },
        Value::String(text) => SqlValue::Text(text.clone()),
        other => SqlValue::Text(other.to_string()),
    }
}

/// No action is left to take back.
pub(crate) const NOTHING_TO_UNDO: StoreError = StoreError::Conflict(Conflict::NothingToUndo);
