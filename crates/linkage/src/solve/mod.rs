//! The solver: how large a wire, how long a chain, how tight a bend.

mod contact;

mod certify;

mod program;

mod climb;

mod carry;

mod shake;

mod tally;

mod search;

mod bend;

pub(crate) use bend::Bending;
pub use bend::{Bent, Way, bent};
pub use contact::room;
pub use search::{Pull, Search, fitted, taut, taut_again, taut_from, thickest_wire};
pub(crate) use search::{made_room, opened};
pub(crate) use shake::Dice;
pub use tally::{Carrying, Found};

use thiserror::Error;

/// Why a solve ended without an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum Halt {
    /// The caller asked to stop.
    #[error("stopped before the answer was found")]
    Cancelled,
}

/// Is told of progress and may stop a solve.
pub trait Watch {
    /// Called before every linear program.
    ///
    /// # Errors
    /// [`Halt::Cancelled`] stops the solve.
    fn tick(&mut self) -> Result<(), Halt>;

    /// Called when start `index` of `of`, counted from 0, begins.
    fn started(&mut self, index: u32, of: u32) {
        let _ = (index, of);
    }
}

/// Never stops anything.
#[derive(Clone, Copy, Debug, Default)]
pub struct Patient;

impl Watch for Patient {
    fn tick(&mut self) -> Result<(), Halt> {
        Ok(())
    }
}
