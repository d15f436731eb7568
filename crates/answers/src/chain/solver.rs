//! Solving on the spot for whoever asks again and again: within so many steps, and once for each question.

use std::collections::VecDeque;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use linkwright_linkage::answer::{ClosedRing, Linked, QuestionError, answer};
use linkwright_linkage::pattern::{Pattern, PatternSpec};
use linkwright_linkage::solve::{Halt, Patient, Search, Watch};

/// Answers remembered at most, the last asked for first.
const REMEMBERED_MOST: usize = 256;
/// Patterns of up to so many rings a repeat are given all steps.
const RINGS_OF_FULL_STEPS: u32 = 6;

/// Solves patterns, gives up after so many steps if it is told to, and remembers what came of it.
///
/// What it says depends on the question alone: steps are counted, not timed. Copies share the memory.
#[derive(Clone, Debug)]
pub struct Solver {
    steps_most: Option<u32>,
    remembered: Arc<Mutex<VecDeque<Remembered>>>,
    /// Whether something would have had to be solved; of one that takes no step.
    missed: Option<Arc<AtomicBool>>,
}

#[derive(Debug)]
struct Remembered {
    spec: PatternSpec,
    rings: Vec<ClosedRing>,
    outcome: Result<Linked, QuestionError>,
}

impl Solver {
    /// Never gives up.
    pub fn patient() -> Solver {
        Solver { steps_most: None, remembered: Arc::default(), missed: None }
    }

    /// Gives up a question after so many steps; of more than six rings a repeat, whose steps take the
    /// longer, after fewer in proportion.
    pub fn giving_up_after(steps: u32) -> Solver {
        Solver { steps_most: Some(steps), ..Solver::patient() }
    }

    /// The same that takes no step: it says what it remembers and what needs no solving, and whether it was
    /// asked for more. What it could not say is not remembered.
    #[must_use]
    pub fn without_a_step(&self) -> Solver {
        Solver { steps_most: Some(0), missed: Some(Arc::default()), ..self.clone() }
    }

    /// Whether one that takes no step was asked for what has to be solved.
    pub fn has_missed(&self) -> bool {
        self.missed.as_ref().is_some_and(|missed| missed.load(Ordering::Relaxed))
    }

    /// Steps after which it gives up a pattern of so many rings a repeat, if it does.
    pub fn steps_most(&self, rings: usize) -> Option<u32> {
        let rings = u32::try_from(rings).unwrap_or(u32::MAX).max(RINGS_OF_FULL_STEPS);
        let scaled =
            |most: u32| u64::from(most) * u64::from(RINGS_OF_FULL_STEPS) / u64::from(rings);
        self.steps_most.map(|most| u32::try_from(scaled(most)).unwrap_or(most))
    }

    /// What a pattern does with these rings.
    ///
    /// # Errors
    /// Those of [`answer`]; [`Halt::Cancelled`] if it gave up.
    pub fn linked(&self, pattern: &Pattern, rings: &[ClosedRing]) -> Result<Linked, QuestionError> {
        self.linked_until(pattern, rings, &mut Patient)
    }

    /// The same for a caller who may stop it; what was stopped is not remembered.
    ///
    /// # Errors
    /// As [`linked`](Solver::linked); also if the watch stops it.
    pub fn linked_until(
        &self,
        pattern: &Pattern,
        rings: &[ClosedRing],
        watch: &mut dyn Watch,
    ) -> Result<Linked, QuestionError> {
        let remembered = || self.remembered.lock().unwrap_or_else(PoisonError::into_inner);
        let asked = |one: &&Remembered| one.rings == rings && one.spec == *pattern.spec();
        if let Some(one) = remembered().iter().find(asked) {
            return one.outcome.clone();
        }
        let steps = Steps { left: self.steps_most(pattern.spec().rings.len()) };
        let mut both = Watched { steps, watch, stopped: false };
        let outcome = answer(pattern, rings, Search::default(), &mut both);
        if both.stopped {
            return outcome;
        }
        if let (Some(missed), Err(QuestionError::Halt(_))) = (&self.missed, &outcome) {
            missed.store(true, Ordering::Relaxed);
            return outcome;
        }
        let mut all = remembered();
        all.push_front(Remembered {
            spec: pattern.spec().clone(),
            rings: rings.to_vec(),
            outcome: outcome.clone(),
        });
        all.truncate(REMEMBERED_MOST);
        outcome
    }
}

/// Counts steps, and stops when none is left.
#[derive(Clone, Copy, Debug)]
pub struct Steps {
    left: Option<u32>,
}

impl Steps {
    /// So many.
    pub const fn of(steps: u32) -> Steps {
        Steps { left: Some(steps) }
    }
}

impl Watch for Steps {
    fn tick(&mut self) -> Result<(), Halt> {
        if let Some(left) = &mut self.left {
            *left = left.checked_sub(1).ok_or(Halt::Cancelled)?;
        }
        Ok(())
    }
}

/// Counts steps for somebody who may stop them.
struct Watched<'a> {
    steps: Steps,
    watch: &'a mut dyn Watch,
    stopped: bool,
}

impl Watch for Watched<'_> {
    fn tick(&mut self) -> Result<(), Halt> {
        self.steps.tick()?;
        self.watch.tick().inspect_err(|_| self.stopped = true)
    }

    fn started(&mut self, index: u32, of: u32) {
        self.watch.started(index, of);
    }
}

#[cfg(test)]
mod tests {
    use linkwright_calc::quantity::Length;
    use linkwright_calc::wire::Wire;
    use linkwright_linkage::answer::{ClosedRing, QuestionError};
    use linkwright_linkage::pattern::{Pattern, craft};
    use linkwright_linkage::solve::Halt;

    use super::{Solver, Steps};

    fn ring(inside_mm: f64) -> ClosedRing {
        let wire = Wire::new(Length::from_mm(1.0)).expect("a wire");
        ClosedRing::new(wire, Length::from_mm(inside_mm)).expect("a ring")
    }

    /// A cable chain that the table does not know.
    fn mine() -> Pattern {
        let mut spec = craft::named("cable_1in1").expect("known");
        "mine".clone_into(&mut spec.name);
        Pattern::new(spec).expect("valid")
    }

    #[test]
    fn it_gives_up_after_its_steps_and_says_the_same_when_asked_again() {
        let (short, long) = (Solver::giving_up_after(3), Solver::giving_up_after(100_000));
        for _ in 0..2 {
            let gave_up = short.linked(&mine(), &[ring(4.0)]).expect_err("too few steps");
            assert_eq!(gave_up, QuestionError::Halt(Halt::Cancelled));
        }
        let linked = long.linked(&mine(), &[ring(4.0)]).expect("answered");
        assert!((linked.rings_per_cm().expect("a chain") - 2.5).abs() < 1e-3);
        assert_eq!(long.linked(&mine(), &[ring(4.0)]).expect("answered"), linked);
    }

    #[test]
    fn single_rings_of_several_sizes_take_no_step_in_any_proportion() {
        let idle = Solver::giving_up_after(0);
        let pattern = |name| Pattern::new(craft::named(name).expect("known")).expect("valid");
        let rings = [8.0, 6.5, 5.0, 4.5].map(ring);
        let linked = idle.linked(&pattern("graduated_cable"), &rings).expect("no step");
        // Six rings a repeat, as long as all their insides together; chain.md, section 7.
        let advance_mm = linked.taut.as_ref().expect("possible").advance.mm();
        assert!((advance_mm - 35.5).abs() < 1e-9, "{advance_mm}");
        let sheet = idle.linked(&pattern("square_4in1_sheet"), &[ring(6.3), ring(3.1)]);
        assert!(sheet.expect("no step").possible());
        let too_small = idle.linked(&pattern("large_and_small"), &[ring(6.0), ring(1.9)]);
        assert!(!too_small.expect("no step").possible());
        // The limit of pairs is not written down.
        let pairs = idle.linked(&pattern("large_and_small_pairs"), &[ring(6.3), ring(3.1)]);
        assert_eq!(pairs, Err(QuestionError::Halt(Halt::Cancelled)));
    }

    #[test]
    fn what_was_stopped_is_not_remembered() {
        let solver = Solver::patient();
        let stopped = solver.linked_until(&mine(), &[ring(4.0)], &mut Steps::of(3));
        assert_eq!(stopped, Err(QuestionError::Halt(Halt::Cancelled)));
        assert!(solver.linked(&mine(), &[ring(4.0)]).is_ok());
    }

    #[test]
    fn without_a_step_it_says_what_it_remembers_and_tells_what_it_missed() {
        let solver = Solver::giving_up_after(100_000);
        let idle = solver.without_a_step();
        assert!(idle.linked(&mine(), &[ring(4.0)]).is_err() && idle.has_missed());
        // What it missed can be solved all the same, and is then at hand.
        let solved = solver.linked(&mine(), &[ring(4.0)]).expect("answered");
        let idle = solver.without_a_step();
        assert_eq!(idle.linked(&mine(), &[ring(4.0)]).expect("remembered"), solved);
        let cable = Pattern::new(craft::named("cable_1in1").expect("known")).expect("valid");
        assert!(idle.linked(&cable, &[ring(4.0)]).is_ok() && !idle.has_missed(), "read");
        assert!(!solver.has_missed());
    }

    #[test]
    fn patterns_of_many_rings_are_given_fewer_steps() {
        let solver = Solver::giving_up_after(12_000);
        let given = [1, 6, 12, 60].map(|rings| solver.steps_most(rings));
        assert_eq!(given, [12_000, 12_000, 6_000, 1_200].map(Some));
        assert_eq!(Solver::patient().steps_most(60), None);
    }

    #[test]
    fn other_rings_and_another_pattern_of_the_same_name_are_other_questions() {
        let solver = Solver::patient();
        let per_cm = |pattern: &Pattern, inside_mm: f64| {
            let linked = solver.linked(pattern, &[ring(inside_mm)]).expect("answered");
            linked.rings_per_cm().expect("a chain")
        };
        let mut doubled = craft::named("double_2in2").expect("known");
        "mine".clone_into(&mut doubled.name);
        let doubled = Pattern::new(doubled).expect("valid");
        assert!((per_cm(&mine(), 4.0) - 2.5).abs() < 1e-3);
        assert!((per_cm(&mine(), 5.0) - 2.0).abs() < 1e-3);
        // Pitch of a pair at aspect ratio 4: 3.8315 (closed form, docs/theory/chain.md, section 7).
        assert!((per_cm(&doubled, 4.0) - 20.0 / 3.8315).abs() < 1e-3);
    }
}
