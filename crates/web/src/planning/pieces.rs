//! The measured pieces of a pattern go into an order as its lines have them in a file: they correct the
//! count, and stand with what a frozen sheet was worked out from.

use linkwright_store::{StoreError, View};
use serde_json::Value;

use crate::measured::pieces_of;
use crate::patterns::known_patterns;

/// Gives each line of a pattern the pieces of it that were measured and say something.
pub(super) fn with_measured(view: &View<'_>, mut order: Value) -> Result<Value, StoreError> {
    let patterns = known_patterns(view)?;
    for line in order["line"].as_array_mut().into_iter().flatten() {
        let Some(pattern) = line["pattern"].as_str().and_then(|name| patterns.find(name).ok())
        else {
            continue;
        };
        let pieces = pieces_of(view, &pattern)?;
        let read: Vec<Value> = pieces
            .iter()
            .filter(|piece| piece.reading.is_ok())
            .map(|piece| piece.as_json())
            .collect();
        if !read.is_empty() {
            line["measured"] = Value::from(read);
        }
    }
    Ok(order)
}
