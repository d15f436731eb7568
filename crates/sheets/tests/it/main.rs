//! Printed sheets, read back as a reader sees them.

mod bench;

mod reader;

mod run_sheet;

mod every_sheet;

mod labels;
