//! The ring: closed size, seam, roundness, strength, and how many make a length.

mod error;

mod cut;

mod dust;

mod open_for_closed;

mod straight_chain;

mod closing;

mod curved_beam;

mod strength;

mod soldered;

mod pulled;

mod bracket;

pub use closing::{BendingLocalisation, Closing, ClosingInput};
pub use curved_beam::CurvedBeam;
pub use cut::{Ring, RingInput};
pub use dust::kerf_dust;
pub use error::RingError;
pub use open_for_closed::{OpenForClosed, coil_inside_for_closed};
pub use pulled::{Joint, RingMetal, RingPulls};
pub use straight_chain::{ChainLength, RingsForLength, StraightChain};
pub use strength::{Residual, Strength, StrengthInput};
