//! The app through its door: requests without a socket, pages read by element.

mod api;

mod bench;

mod looks;

mod necklace;
mod trials;
mod workshop;

mod runs;
