//! Outside truth: values from books, standards, tables and other programs, one file per source.

#![allow(clippy::unwrap_used, reason = "a test says what is wrong by panicking")]

mod batch_examples_coil;
mod batch_examples_count;
mod batch_examples_gauge;
mod batch_examples_hold;
mod batch_examples_ring;
mod batch_examples_slit;
mod batch_examples_wind;
mod cutting_tables;
mod element_densities;
mod facts_ring_mass;
mod fluids;
mod machinerys_handbook_31;
mod metals_density;
mod metals_fineness;
mod metals_growth;
mod metals_strength;
mod needs_ring;
mod needs_t3;
mod needs_t4;
mod needs_t5;
mod needs_turns;
mod pint;
mod ring_between_plates;
mod scipy_clamp;
mod scipy_odds;
mod scipy_ring;
mod scipy_slit;
mod scipy_winding;
mod springback;
mod table;
mod torus_less_slab;
mod units_nist;
mod wire_gauges;

mod faults_order;
