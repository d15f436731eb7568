//! The app through its door: requests without a socket, pages read by element.

mod api;

mod bench;

mod chain;

mod to_measure;

mod chart;

mod chart_others;

mod chart_published;

#[allow(dead_code, reason = "the tests of planning share this file and use the rest")]
mod examples;

mod looks;

mod necklace;

mod orders;

mod own_patterns;

mod ring_sizes;

mod measured_orders;

mod faults;

mod handouts;

mod rings;

mod trials;

mod workshop;

mod runs;

mod bench_sums;

mod one_entry;

mod promise;

mod blade_used;

mod photos;

mod shelf;

mod help;

mod security;

mod start;

mod today;
