//! The whole table of a pattern against aspect ratio.

use linkwright_linkage::pattern::Pattern;
use linkwright_linkage::table::{self, Row};

/// One solved aspect ratio; lengths in wire diameters of the main ring.
#[derive(Clone, Debug, PartialEq)]
pub struct TableRow {
    /// Inside diameter over wire diameter of the main ring.
    pub aspect_ratio: f64,
    /// Advance per cell.
    pub advance: f64,
    /// For a sheet, advance across.
    pub across: Option<f64>,
    /// Rings per centimetre of a chain in wire of 1 mm; for a wire of `d` mm divide by `d`.
    pub rings_per_cm_times_wire_mm: Option<f64>,
    /// Side-on width of a chain.
    pub width: Option<f64>,
    /// Thickness.
    pub thickness: f64,
    /// Searches made from different poses.
    pub searches: u32,
    /// Of these, how many met the best.
    pub agree: u32,
    /// Relative tolerance between the rows.
    pub within: f64,
}

/// Rows shown lie this share of the aspect ratio apart: near the limit and at kinks the table has many
/// more, which are there to be read between.
const APART: f64 = 0.01;

/// The rows of a pattern that comes with the program, as close together as anyone cares to read; none
/// for any other. Both sides of a change of state are shown.
pub fn table(pattern: &Pattern) -> Vec<TableRow> {
    let Some(entry) = table::entry(pattern) else {
        return Vec::new();
    };
    let per_cell = pattern.spec().rings.len() as f64;
    let given = |length: f64| (length > 0.0).then_some(length);
    let mut shown = 0.0;
    let mut is_shown = move |row: &Row, ends_a_state: bool| {
        let show = row.aspect_ratio >= shown * (1.0 + APART) || ends_a_state;
        if show {
            shown = row.aspect_ratio;
        }
        show
    };
    entry
        .states()
        .flat_map(|rows| (0..rows.len()).map(move |at| (rows, at)))
        .filter(|&(rows, at)| is_shown(&rows[at], at == 0 || at + 1 == rows.len()))
        .map(|(rows, at)| &rows[at])
        .map(|row| TableRow {
            aspect_ratio: row.aspect_ratio,
            advance: row.advance,
            across: given(row.across),
            rings_per_cm_times_wire_mm: given(row.across)
                .is_none()
                .then(|| 10.0 * per_cell / row.advance),
            width: given(row.width),
            thickness: row.thickness,
            searches: row.starts,
            agree: row.hits,
            within: entry.within,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::table;
    use crate::chain::find;

    #[test]
    fn rows_are_read_apart_and_a_change_of_state_is_seen_from_both_sides() {
        // Box stands square from aspect ratio 4.41 and is 3 % longer at once.
        let rows = table(&find("box").unwrap());
        assert!(rows.len() < 40, "{}", rows.len());
        let close: Vec<_> = rows
            .windows(2)
            .filter(|pair| pair[1].aspect_ratio < 1.005 * pair[0].aspect_ratio)
            .filter(|pair| pair[1].advance > 1.02 * pair[0].advance)
            .collect();
        assert_eq!(close.len(), 1, "{close:?}");
        assert!(rows.last().unwrap().aspect_ratio > 11.9);
    }

    #[test]
    fn the_table_of_the_cable_chain_is_its_closed_form() {
        let rows = table(&find("cable").unwrap());
        assert!(rows.len() > 10);
        for row in rows {
            // Pitch of a cable chain: its inside diameter; docs/theory/chain.md, section 6.
            assert!((row.advance - row.aspect_ratio).abs() < 1e-4, "{row:?}");
        }
    }
}
