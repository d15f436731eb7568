//! Physical quantities as small types, and how people type them.
//!
//! One consistent set of units is used inside: mm, N, MPa (N/mm2), rad, g, g/cm3, N mm. Each type
//! keeps one number in its unit of that set; constructors and readers carry the unit in their name.

mod units;

pub use units::{Area, Curvature, Density, Force, Length, Mass, Stress, Torque};
pub use units::{
    G_PER_AVOIRDUPOIS_OUNCE, G_PER_GRAIN, G_PER_KILOGRAM, G_PER_PENNYWEIGHT, G_PER_POUND,
    G_PER_TROY_OUNCE, MM_PER_INCH,
};
