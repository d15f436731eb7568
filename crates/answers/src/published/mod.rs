//! The blade chart as others may see it: no costs, no names of people, with its date and version.

mod chart;

mod table;

mod html;

mod json;

pub use chart::{DO_NOT_CUT, Place, PublishedChart, Row};
