//! Outside truth: values from books, standards, tables and other programs, one file per source.

mod batch_examples_gauge;
mod batch_examples_wind;
mod metals_density;
mod metals_fineness;
mod metals_growth;
mod metals_strength;
mod wire_gauges;
