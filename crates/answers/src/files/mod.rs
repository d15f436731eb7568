//! The files a workshop keeps, read into the types of `calc`.

pub mod document;

pub mod order_toml;

mod linked_entry;

mod measured_entry;

pub mod workshop_toml;

pub mod wire_entry;

pub mod metals_toml;

pub mod from_json;

pub mod load;
