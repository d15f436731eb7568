//! Many workshops: what each one's trials say in a few hundred numbers, and the prior they make
//! together for the next one.

mod condensed;

mod population;

mod raw;

pub use condensed::{Condensed, CondensedGate, PoolError, pooled_term};
pub use raw::pooled_from_trials;

use crate::model::Prior;
use crate::play::GATES;

/// Workshops whose condensed trials make a prior together.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pool {
    workshops: Vec<Condensed>,
}

impl Pool {
    /// Adds a workshop. Its own trials must not be learned from with the pool's prior again: they
    /// would count twice.
    pub fn add(&mut self, workshop: Condensed) {
        self.workshops.push(workshop);
    }

    /// Takes the workshop at this place back out; the prior is then as if it had never been in.
    pub fn take_out(&mut self, place: usize) -> Option<Condensed> {
        (place < self.workshops.len()).then(|| self.workshops.remove(place))
    }

    /// The workshops, in the order they were added.
    pub fn workshops(&self) -> &[Condensed] {
        &self.workshops
    }

    /// What the workshops make of geometry's prior; geometry's prior itself if there are none.
    ///
    /// End losses keep geometry's prior: they are not pooled.
    pub fn prior(&self) -> Prior {
        let mut prior = Prior::geometry();
        if self.workshops.is_empty() {
            return prior;
        }
        for gate in GATES {
            let shops: Vec<&CondensedGate> =
                self.workshops.iter().map(|workshop| workshop.gate(gate)).collect();
            prior.gates[gate.index()] = population::portable(gate, &shops);
        }
        prior
    }
}
