//! The program as a person meets it: started, opened in a real browser, clicked through.
//!
//! Needs Chromium, its driver and axe-core; `cargo xtask test` sees to them. Pictures of every page
//! are kept in the folder that `LINKWRIGHT_PICTURES` names.

mod axe;

mod bench_steps;

mod chain;

mod chains_made;

mod class_kits;

mod driver;

mod every_page;

mod from_sample;

mod journey;

mod keyboard;

mod look;

mod program;

mod refused_forms;

mod ring_sizes;

mod window;
