//! Orders and their lines.

use crate::id::Id;
use crate::record::{record, words};

record! {
    /// What somebody asked for.
    RingOrder in "ring_order", a "order" {
        /// Its name or number.
        name: String,
        /// Day it was asked for.
        asked_on: String,
        /// Day it is due.
        due_on: Option<String>,
        /// Who asked; never printed on public paper.
        buyer: String,
        /// Anything else.
        note: String,
        /// Day it was closed; open if absent.
        closed_on: Option<String>,
    }
}

words! {
    /// What a line asks for.
    LineKind {
        /// A count of rings.
        Rings = "rings",
        /// A length of one-in-one chain.
        Chain = "chain",
        /// Kits for a class.
        Kits = "kits",
    }
}

record! {
    /// One line of an order; sizes as typed.
    OrderLine in "order_line", a "order line" {
        /// Its order.
        order_id: Id<RingOrder>,
        /// Its place in the order, from 1.
        position: u32,
        /// What it is called.
        name: String,
        /// What it asks for.
        kind: LineKind,
        /// Rings, for rings.
        rings: Option<u32>,
        /// Length over all, for a chain.
        chain_length_typed: Option<String>,
        /// Length of the clasp set, for a chain.
        clasp_typed: Option<String>,
        /// Kits, for kits.
        kits: Option<u32>,
        /// Rings in each kit.
        rings_each: Option<u32>,
        /// Spare rings in each kit.
        spare_each: Option<u32>,
        /// Metal as typed.
        metal: String,
        /// Temper as typed.
        temper: String,
        /// Wire as typed.
        wire_typed: String,
        /// Wire diameter, mm.
        wire_mm: f64,
        /// Ring as typed, with inside or outside and open or closed; this or the rod.
        ring_typed: Option<String>,
        /// How far the inside diameter may be off, as typed.
        tolerance_typed: Option<String>,
        /// The rod whose ring is wanted, as typed.
        rod_typed: Option<String>,
        /// Spare rings as a count or a share, as typed.
        spare_typed: Option<String>,
        /// Pattern the rings are linked to; without one a chain is one ring in the next.
        pattern: Option<String>,
        /// What the chain goes round, as typed, in place of its length.
        girth_typed: Option<String>,
        /// How much longer than that it is to be, as typed.
        ease_typed: Option<String>,
        /// Width of a sheet, as typed.
        across_typed: Option<String>,
        /// End rings beyond the pattern's own.
        end_rings: Option<u32>,
    }
}

impl OrderLine {
    /// A line of an order at its place: so far it asks for no rings of no wire.
    #[must_use]
    pub fn begun(order_id: Id<RingOrder>, position: u32, name: impl Into<String>) -> OrderLine {
        OrderLine {
            order_id,
            position,
            name: name.into(),
            kind: LineKind::Rings,
            rings: None,
            chain_length_typed: None,
            clasp_typed: None,
            kits: None,
            rings_each: None,
            spare_each: None,
            metal: String::new(),
            temper: String::new(),
            wire_typed: String::new(),
            wire_mm: 0.0,
            ring_typed: None,
            tolerance_typed: None,
            rod_typed: None,
            spare_typed: None,
            pattern: None,
            girth_typed: None,
            ease_typed: None,
            across_typed: None,
            end_rings: None,
        }
    }
}

record! {
    /// A ring size of a line beyond its first, for patterns of several; sizes as typed.
    FurtherRing in "further_ring", a "further ring size" {
        /// The line.
        order_line_id: Id<OrderLine>,
        /// Its place among the sizes of the pattern, from 2.
        size: u32,
        /// Wire as typed.
        wire_typed: String,
        /// Wire diameter, mm; absent where an earlier program kept the words alone.
        wire_mm: Option<f64>,
        /// Ring as typed, with inside or outside and open or closed; this or the rod.
        ring_typed: Option<String>,
        /// How far the inside diameter may be off, as typed.
        tolerance_typed: Option<String>,
        /// The rod whose ring is wanted, as typed.
        rod_typed: Option<String>,
    }
}
