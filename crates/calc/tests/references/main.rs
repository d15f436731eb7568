//! Outside truth: values from books, standards, tables and other programs, one file per source.

mod batch_examples_gauge;
mod batch_examples_wind;
mod element_densities;
mod fluids;
mod metals_density;
mod metals_fineness;
mod metals_growth;
mod metals_strength;
mod needs_t3;
mod pint;
mod scipy_odds;
mod scipy_ring;
mod scipy_slit;
mod scipy_winding;
mod springback;
mod table;
mod wire_gauges;
