//! Physical quantities as small types, and how people type them.
//!
//! One consistent set of units is used inside: mm, N, MPa (N/mm2), rad, g, g/cm3, N mm. Each type
//! keeps one number in its unit of that set; constructors and readers carry the unit in their name.
//!
//! What people type is read by the `parse_` functions: the text is kept beside the value, and what
//! could mean two things is asked about, never guessed.

mod units;

mod typed;

mod length;

mod length_unit;

mod length_asked;

mod readings;

mod gauge_words;

mod ring_size;

mod mass;

mod fineness;

mod share;

mod count;

mod question;

mod error;

pub(crate) mod number;

pub(crate) mod text;

pub use count::parse_count;
pub use error::{QuantityError, Wanted};
pub use fineness::{Fineness, parse_fineness};
pub use length::parse_length;
pub use mass::parse_mass;
pub use question::{Ask, Question, Reading};
pub use readings::{Readings, parse_readings};
pub use ring_size::{RingSide, RingState, parse_ring_size};
pub use share::parse_share;
pub use typed::{Remark, Typed};
pub use units::{Area, Curvature, Density, Force, Length, Mass, Stress, Torque};
pub use units::{
    G_PER_AVOIRDUPOIS_OUNCE, G_PER_CARAT, G_PER_GRAIN, G_PER_KILOGRAM, G_PER_PENNYWEIGHT,
    G_PER_POUND, G_PER_TOLA, G_PER_TROY_OUNCE, G_PER_TROY_POUND, MM_PER_INCH, MM_PER_SURVEY_FOOT,
};

pub(crate) use mass::{MassWord, mass_word};
