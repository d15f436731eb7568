//! What a record is called that another one points to by its number.

use linkwright_store::records::{
    Batch, Blade, FrozenSheet, MeasuredPiece, OrderLine, RingOrder, Run, Trial, WireLot,
};
use linkwright_store::{Id, Record, View};

/// The name of the record that stands in a column by its number; nothing if it is gone or the
/// column points to no record with a name.
pub(super) fn name_of(view: &View<'_>, column: &str, number: i64) -> Option<String> {
    match column {
        "blade_id" | "projection_blade_id" => named(view, number, |blade: Blade| blade.name),
        "wire_lot_id" => named(view, number, |lot: WireLot| lot.name),
        "order_id" => named(view, number, |order: RingOrder| order.name),
        "order_line_id" => named(view, number, |line: OrderLine| line.name),
        "measured_piece_id" => named(view, number, |piece: MeasuredPiece| {
            format!("{} rings of {}", piece.rings, piece.pattern)
        }),
        "run_id" => named(view, number, |run: Run| run.name),
        "frozen_sheet_id" => named(view, number, |sheet: FrozenSheet| sheet.line_name),
        "batch_id" => named(view, number, |batch: Batch| batch.code),
        "trial_id" => named(view, number, |trial: Trial| trial.title()),
        _ => None,
    }
}

fn named<T: Record>(
    view: &View<'_>,
    number: i64,
    name: impl FnOnce(T) -> String,
) -> Option<String> {
    let record = view.get(Id::<T>::new(number)).ok()?;
    Some(format!("{} (number {number})", name(record)))
}
