//! Invented workshops whose truth lies outside the model, to try the model on and to show it with.
//!
//! Every number in here was chosen to be believable at a bench, before any score was looked at;
//! `docs/theory/trials.md`, section 11, lists them. No real trial stands behind any of them.

mod chance;

mod wander;

mod bench;

mod truth;

mod coil;

mod habits;

mod error;

pub use bench::Bench;
pub use error::SimulatedError;

use truth::Truth;

/// An invented workshop: what stands on its bench, and what is true of it that nobody there knows.
///
/// The same seed gives the same workshop and the same trials, on every machine.
///
/// ```
/// use linkwright_trials::Workshop;
/// let workshop = Workshop::new(3)?;
/// let rows = workshop.trials(20)?;
/// assert_eq!(rows.len(), 20);
/// assert_eq!(rows, workshop.trials(60)?[..20]);
/// # Ok::<(), linkwright_trials::SimulatedError>(())
/// ```
#[derive(Clone, Debug)]
pub struct Workshop {
    seed: u64,
    bench: Bench,
    truth: Truth,
}

impl Workshop {
    /// The workshop of a seed.
    ///
    /// # Errors
    /// [`SimulatedError`] if a number of the tables leaves the limits of the model.
    pub fn new(seed: u64) -> Result<Workshop, SimulatedError> {
        Ok(Workshop { seed, bench: Bench::new(seed)?, truth: Truth::new(seed) })
    }

    /// What stands on its bench: blades, holder, metals, people.
    pub const fn bench(&self) -> &Bench {
        &self.bench
    }
}
