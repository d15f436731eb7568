//! Winding: from mandrel to sprung coil, and back.

mod mandrel;

pub use mandrel::Mandrel;
