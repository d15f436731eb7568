//! What a workshop lacks before rings can be told, and where to write it down.

use linkwright_store::{StoreError, View};

/// Something to write down first.
pub(super) struct Missing {
    pub(super) what: String,
    pub(super) address: &'static str,
    pub(super) words: &'static str,
}

/// What stands in the way, in the order of the bench; if every kind of thing is there, the reason given.
pub(super) fn missing(view: &View<'_>, why: Option<&String>) -> Result<Vec<Missing>, StoreError> {
    let bench = view.bench(None)?;
    let lacks = [
        (
            bench.wire.is_empty(),
            "no wire is on the shelf",
            "/workshop/lots/new",
            "Add a lot of wire",
        ),
        (bench.rods.is_empty(), "no rod is on record", "/workshop/rods/new", "Add your rods"),
        (
            bench.blades.is_empty(),
            "no blade is on record, and its kerf decides the closed ring",
            "/workshop/blades/new",
            "Add a blade",
        ),
        (
            bench.holder.is_none(),
            "no holder is in use, and not every blade slits every ring in it",
            "/workshop/holders/new",
            "Add your holder",
        ),
        (
            bench.workshop.is_none(),
            "what a coil loses is not written down",
            "/workshop/habits",
            "Write down your habits",
        ),
    ];
    let mut found: Vec<Missing> = lacks
        .into_iter()
        .filter(|(lacks, ..)| *lacks)
        .map(|(_, what, address, words)| Missing { what: what.to_owned(), address, words })
        .collect();
    if found.is_empty() {
        let what = why.cloned().unwrap_or_else(|| {
            "no wire on the shelf gives a ring on any rod that a blade could slit".to_owned()
        });
        found.push(Missing { what, address: "/workshop", words: "Look through the workshop" });
    }
    Ok(found)
}
