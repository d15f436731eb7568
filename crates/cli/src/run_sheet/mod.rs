//! A planned order as the jeweller sees it: text, page, JSON.

pub mod json;

pub mod ticks;
