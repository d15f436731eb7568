//! Outside truth: values from books, standards, tables and other programs, one file per source.

mod batch_examples_gauge;
mod batch_examples_wind;
mod wire_gauges;
