//! The files a workshop keeps, read into the types of `calc`.

pub mod metals_toml;
