//! The patterns known in this workshop: those that come with the program, and its own.

use std::sync::Arc;

use linkwright_answers::chain::{KnownPatterns, Solver};
use linkwright_store::{StoreError, View};

/// Steps after which a pattern that no table knows is given up. Patterns in rings of any proportion take
/// a few thousand.
pub(crate) const STEPS_MOST: u32 = 20_000;

/// The patterns that an order, a page or a question may name.
///
/// # Errors
/// If the file cannot be read.
pub fn known_patterns(view: &View<'_>) -> Result<Arc<KnownPatterns>, StoreError> {
    view.worked_out("patterns known here", || {
        Ok(KnownPatterns::built_in().solved_by((*solver(view)).clone()))
    })
}

/// What solves patterns on the spot, and remembers what it solved for as long as the program runs.
pub(crate) fn solver(view: &View<'_>) -> Arc<Solver> {
    view.for_good("solver of patterns", || Solver::giving_up_after(STEPS_MOST))
}
