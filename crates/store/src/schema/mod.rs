//! The numbered steps that bring a data file to today's form; a step is never changed, only followed.

use rusqlite::{Connection, Transaction};

/// `user_version` of a file is the count of steps taken.
const STEPS: &[&str] = &[
    include_str!("step_001.sql"),
    include_str!("step_002.sql"),
    include_str!("step_003.sql"),
    include_str!("step_004.sql"),
    include_str!("step_005.sql"),
    include_str!("step_006.sql"),
    include_str!("step_007.sql"),
    include_str!("step_008.sql"),
    include_str!("step_009.sql"),
];

/// Marks a file as ours, in `application_id`: "LkWr".
pub(crate) const APPLICATION_ID: i32 = 0x4c6b_5772;

/// Tables whose rows are records, with history and undo; the others serve them.
pub(crate) const RECORD_TABLES: &[&str] = &[
    "workshop",
    "metal_overlay",
    "wire_lot",
    "rod",
    "blade",
    "holder",
    "ring_order",
    "order_line",
    "further_ring",
    "frozen_sheet",
    "run",
    "coil",
    "tick",
    "reading",
    "trial",
    "batch",
    "handout",
    "handout_given",
    "photo",
    "fault",
    "other_workshop",
    "measured_piece",
    "ring_of_piece",
    "own_pattern",
];

/// The last step this program knows.
pub(crate) fn known_step() -> u32 {
    u32::try_from(STEPS.len()).unwrap_or(u32::MAX)
}

/// The step a file is at.
pub(crate) fn step_of(connection: &Connection) -> rusqlite::Result<u32> {
    connection.pragma_query_value(None, "user_version", |row| row.get(0))
}

/// Takes the step after `taken`, in the caller's transaction.
pub(crate) fn take_step(transaction: &Transaction<'_>, taken: u32) -> rusqlite::Result<()> {
    let step = STEPS[taken as usize];
    transaction.execute_batch(step)?;
    transaction.pragma_update(None, "user_version", taken + 1)?;
    transaction.pragma_update(None, "application_id", APPLICATION_ID)?;
    keep_former_values(transaction)
}

/// Lets the database itself write down every change, so that no code path can forget to.
fn keep_former_values(transaction: &Transaction<'_>) -> rusqlite::Result<()> {
    for table in RECORD_TABLES {
        if !transaction.table_exists(None, *table)? {
            continue;
        }
        let columns = columns_of(transaction, table)?;
        let old: Vec<String> =
            columns.iter().map(|column| format!("'{column}', old.{column}")).collect();
        let old = format!("json_object({})", old.join(", "));
        for (event, kind, id, former) in [
            ("insert", "added", "new.id", "null"),
            ("update", "changed", "old.id", old.as_str()),
            ("delete", "removed", "old.id", old.as_str()),
        ] {
            transaction.execute_batch(&format!(
                "drop trigger if exists {table}_{kind};
                 create trigger {table}_{kind} after {event} on {table} begin
                     insert into change (action_id, record, record_id, kind, former)
                     values ((select max(id) from action), '{table}', {id}, '{kind}', {former});
                 end;"
            ))?;
        }
    }
    Ok(())
}

/// The columns of a table, in its order.
pub(crate) fn columns_of(connection: &Connection, table: &str) -> rusqlite::Result<Vec<String>> {
    connection
        .prepare_cached("select name from pragma_table_info(?1) order by cid")?
        .query_map([table], |row| row.get(0))?
        .collect()
}

#[cfg(test)]
mod tests;
