//! How figures, tables and sentences are written, in both systems of units.

mod units;

pub mod layout;

pub use layout::{rows, wrapped};
pub use units::{SIZE_PLACES, both_lengths, inches_and_gauge, short_mm, significant};

/// A table with a heading a column; units stand in the headings.
#[derive(Debug, Default)]
pub struct Table {
    /// What the table shows, printed above it.
    pub title: String,
    /// One heading a column.
    pub headings: Vec<String>,
    /// One cell a heading in each row.
    pub rows: Vec<Vec<String>>,
}

/// A unit that both systems know, and how it is printed in each.
#[derive(Clone, Copy, Debug)]
pub enum Unit {
    /// Millimetres and inches, or metres and feet where long.
    Length,
    /// Grams and troy ounces.
    Mass,
    /// Newtons and pounds-force.
    Force,
    /// Newton millimetres and pound-force inches.
    Torque,
    /// Megapascals and thousand pounds-force per square inch.
    Stress,
    /// Grams per cubic centimetre and pounds per cubic inch.
    Density,
    /// Metres and feet per minute.
    Speed,
    /// A share of one, printed as percent.
    Share,
    /// A unit that is the same everywhere, such as turns; "" for a plain number.
    Only(&'static str),
}
