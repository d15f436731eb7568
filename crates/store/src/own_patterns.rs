//! What orders and the history say of patterns of one's own.

use rusqlite::{OptionalExtension, params};

use crate::error::StoreError;
use crate::id::Id;
use crate::moment::Moment;
use crate::records::OrderLine;
use crate::view::View;

impl View<'_> {
    /// How many open orders have a line in a pattern of this key.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn open_orders_in_pattern(&self, name: &str) -> Result<u32, StoreError> {
        let query = "select count(distinct ring_order.id) from order_line
                     join ring_order on ring_order.id = order_line.order_id
                     where order_line.pattern = ?1 and ring_order.closed_on is null";
        Ok(self.connection.prepare_cached(query)?.query_row([name], |row| row.get(0))?)
    }

    /// Keys that patterns of one's own once had and none has now, with when the last of that key was
    /// removed or renamed.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn own_patterns_gone(&self) -> Result<Vec<(String, Moment)>, StoreError> {
        let query = "select json_extract(change.former, '$.name') as name, max(action.at_utc)
                     from change join action on action.id = change.action_id
                     where change.record = 'own_pattern' and change.former is not null
                     group by name having name not in (select name from own_pattern)";
        let mut statement = self.connection.prepare_cached(query)?;
        let found = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok(found.collect::<Result<_, _>>()?)
    }

    /// The text that the pattern of one's own with this key had when an order's line was last changed, if
    /// something was done to that pattern since.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn own_pattern_as_ordered(
        &self,
        line: Id<OrderLine>,
        name: &str,
    ) -> Result<Option<String>, StoreError> {
        let query = "select json_extract(former, '$.text') from change
                     where record = 'own_pattern' and former is not null
                       and json_extract(former, '$.name') = ?2
                       and action_id > (select max(action_id) from change
                                        where record = 'order_line' and record_id = ?1)
                     order by id limit 1";
        let mut statement = self.connection.prepare_cached(query)?;
        Ok(statement.query_row(params![line, name], |row| row.get(0)).optional()?)
    }
}

#[cfg(test)]
mod tests {
    use crate::records::{KeptPattern, LineKind, OrderLine, RingOrder};
    use crate::{Id, Moment, Store, StoreError};

    fn at(minute: u32) -> Moment {
        Moment::parse(&format!("2026-11-25T08:{minute:02}:00Z")).expect("a moment")
    }

    fn pattern(name: &str, text: &str) -> KeptPattern {
        KeptPattern {
            name: name.to_owned(),
            title: name.to_owned(),
            text: text.to_owned(),
            start: None,
            shown: None,
            aspect_ratio_min: 3.0,
            added_on: "2026-11-25".to_owned(),
        }
    }

    fn line_in(order_id: Id<RingOrder>, pattern: &str) -> OrderLine {
        OrderLine {
            order_id,
            position: 1,
            name: "rope".to_owned(),
            kind: LineKind::Chain,
            metal: "copper".to_owned(),
            temper: "soft".to_owned(),
            wire_typed: "1 mm".to_owned(),
            wire_mm: 1.0,
            rings: None,
            pattern: Some(pattern.to_owned()),
            girth_typed: None,
            ease_typed: None,
            across_typed: None,
            end_rings: None,
            chain_length_typed: Some("200 mm".to_owned()),
            clasp_typed: None,
            kits: None,
            rings_each: None,
            spare_each: None,
            ring_typed: None,
            tolerance_typed: None,
            rod_typed: Some("4 mm".to_owned()),
            spare_typed: None,
        }
    }

    #[test]
    fn what_became_of_a_pattern_is_known_by_its_key_and_a_removal_taken_back_never_was() {
        let folder = tempfile::tempdir().expect("a folder");
        let store = Store::open(&folder.path().join("bench.linkwright")).expect("opens");
        let rope =
            store.act(at(1), "Added", |act| act.add(&pattern("rope", "one"))).expect("saved");
        let line = store
            .act(at(2), "Ordered", |act| {
                let order = act.add(&RingOrder {
                    name: "1".to_owned(),
                    asked_on: "2026-11-25".to_owned(),
                    due_on: None,
                    buyer: String::new(),
                    note: String::new(),
                    closed_on: None,
                })?;
                act.add(&line_in(order, "rope"))
            })
            .expect("saved");
        let told = || {
            store.read(|view| {
                let as_ordered = view.own_pattern_as_ordered(line, "rope")?;
                Ok::<_, StoreError>((view.own_patterns_gone()?, as_ordered))
            })
        };
        assert_eq!(told().expect("read"), (vec![], None));
        store
            .act(at(3), "Changed", |act| act.change(rope, &pattern("rope", "two")))
            .expect("saved");
        assert_eq!(told().expect("read"), (vec![], Some("one".to_owned())));
        store
            .act(at(4), "Renamed", |act| act.change(rope, &pattern("cord", "two")))
            .expect("saved");
        let gone = vec![("rope".to_owned(), at(4))];
        assert_eq!(told().expect("read"), (gone, Some("one".to_owned())));
        store.undo_last(at(5)).expect("undone");
        store.act(at(6), "Removed", |act| act.remove(rope)).expect("saved");
        let (gone, _) = told().expect("read");
        assert_eq!(gone, [("cord".to_owned(), at(5)), ("rope".to_owned(), at(6))]);
        store.undo_last(at(7)).expect("undone");
        store.undo_last(at(8)).expect("undone");
        // As it was when it was ordered; the page compares the two.
        assert_eq!(told().expect("read").1, Some("one".to_owned()));
        let open = || store.read(|view| view.open_orders_in_pattern("rope")).expect("read");
        assert_eq!(
            (open(), store.read(|view| view.open_orders_in_pattern("x")).expect("read")),
            (1, 0)
        );
        assert!(store.act(at(9), "Twice", |act| act.add(&pattern("rope", "x"))).is_err());
    }
}
