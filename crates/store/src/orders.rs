//! Orders found by any clue, and how far each has come.

use rusqlite::{ToSql, params_from_iter};

use crate::error::StoreError;
use crate::record::{Saved, columns};
use crate::records::RingOrder;
use crate::view::View;

/// What an order is looked for by.
#[derive(Clone, Debug, PartialEq)]
pub enum OrderClue {
    /// Words that stand in its name, buyer, note or days, or in one of its lines.
    Words(String),
    /// A size as typed, and in millimetres: the words, or a line whose wire is that thick.
    Size {
        /// As typed.
        words: String,
        /// Its length, mm.
        mm: f64,
    },
}

/// An order with what was made for it so far.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderOnList {
    /// The order.
    pub order: Saved<RingOrder>,
    /// Runs started.
    pub runs: u32,
    /// Runs not yet finished.
    pub in_hand: u32,
    /// Good rings counted in its runs.
    pub good: u32,
    /// Rings its lines ask for; for a chain that was started, those of its run sheet.
    pub asked: u32,
    /// Whether a ring size of a chain was not started, so that its rings are not in that count.
    pub asked_more: bool,
}

/// Two wires count as the same size if they are this close: half a hundredth of a millimetre.
const SAME_WIRE_MM: f64 = 0.005;

/// How many orders a page of the list shows at most.
const SHOWN_MOST: u32 = 200;

impl View<'_> {
    /// Orders that match every clue: open ones by due day, or closed ones, newest first.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn find_orders(
        &self,
        clues: &[OrderClue],
        open: bool,
    ) -> Result<Vec<OrderOnList>, StoreError> {
        let mut clauses = vec![format!("closed_on is {}null", if open { "" } else { "not " })];
        let mut given: Vec<Box<dyn ToSql>> = Vec::new();
        for clue in clues {
            let (OrderClue::Words(words) | OrderClue::Size { words, .. }) = clue;
            let pattern = format!("%{}%", escaped(words));
            given.push(Box::new(pattern));
            let at = given.len();
            let [by_size, by_further_size] = match clue {
                OrderClue::Words(_) => Default::default(),
                OrderClue::Size { mm, .. } => {
                    given.push(Box::new(*mm));
                    ["order_line", "further_ring"].map(|table| {
                        format!("or abs({table}.wire_mm - ?{}) <= {SAME_WIRE_MM}", given.len())
                    })
                }
            };
            clauses.push(format!(
                "(name || ' ' || buyer || ' ' || note || ' ' || asked_on || ' ' ||
                    ifnull(due_on, '') like ?{at} escape '\\'
                  or exists (select 1 from order_line where order_id = ring_order.id and (
                    order_line.name || ' ' || metal || ' ' || temper || ' ' || kind || ' ' ||
                    wire_typed || ' ' || ifnull(ring_typed, '') || ' ' || ifnull(rod_typed, '')
                      like ?{at} escape '\\' {by_size}))
                  or exists (select 1 from further_ring
                    join order_line on order_line.id = order_line_id
                    where order_id = ring_order.id and (
                    further_ring.wire_typed || ' ' || ifnull(further_ring.ring_typed, '') || ' ' ||
                    ifnull(further_ring.rod_typed, '')
                      like ?{at} escape '\\' {by_further_size})))"
            ));
        }
        let order = if open { "due_on is null, due_on, id" } else { "closed_on desc, id desc" };
        let query = format!(
            "select {}, {} from ring_order where {} order by {order} limit {SHOWN_MOST}",
            columns::<RingOrder>(),
            made(),
            clauses.join(" and ")
        );
        let mut statement = self.connection.prepare_cached(&query)?;
        let rows = statement.query_map(params_from_iter(given), |row| {
            Ok(OrderOnList {
                order: Saved::from_row(row)?,
                runs: row.get("runs")?,
                in_hand: row.get("in_hand")?,
                good: row.get("good")?,
                asked: row.get("asked")?,
                asked_more: row.get("asked_more")?,
            })
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// The number to offer for the next order: one more than the highest name that is a number.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn next_order_number(&self) -> Result<u64, StoreError> {
        let query = "select coalesce(max(cast(name as integer)), 0) + 1 from ring_order
             where name <> '' and name not glob '*[^0-9]*' and length(name) <= 9";
        let number: i64 = self.connection.prepare_cached(query)?.query_row([], |row| row.get(0))?;
        Ok(u64::try_from(number).unwrap_or(1))
    }
}

/// How far an order has come.
fn made() -> String {
    format!(
        "(select count(*) from run join frozen_sheet as sheet on sheet.id = run.frozen_sheet_id
          where sheet.order_id = ring_order.id) as runs,
        (select count(*) from run join frozen_sheet as sheet on sheet.id = run.frozen_sheet_id
          where sheet.order_id = ring_order.id and run.finished_at is null) as in_hand,
        (select coalesce(sum(coil.good), 0) from coil join run on run.id = coil.run_id
          join frozen_sheet as sheet on sheet.id = run.frozen_sheet_id
          where sheet.order_id = ring_order.id) as good,
        (select coalesce(sum(coalesce(rings, kits * rings_each,
            (select json_extract(answer, '$.sheet.to_make.asked_rings') from frozen_sheet as sheet
              where sheet.order_id = ring_order.id and sheet.line_name = sized.name
              order by sheet.id desc limit 1), 0)), 0)
          from ({SIZED}) as sized) as asked,
        exists (select 1 from ({SIZED}) as sized
          where (kind = 'chain' or (kind = 'kits' and rings_each is null))
          and not exists (select 1 from frozen_sheet as sheet where sheet.order_id = ring_order.id
            and sheet.line_name = sized.name)) as asked_more"
    )
}

/// The ring sizes of an order's lines, each under the name of its run sheet.
const SIZED: &str = "
    select name, kind, rings, kits, rings_each from order_line where order_id = ring_order.id
    union all
    select order_line.name || ', ring size ' || size, kind, rings, kits, rings_each
    from further_ring join order_line on order_line.id = order_line_id
    where order_id = ring_order.id";

/// Words that stand for themselves in a pattern.
fn escaped(words: &str) -> String {
    words.replace('\\', "\\\\").replace('%', "\\%").replace('_', "\\_")
}
