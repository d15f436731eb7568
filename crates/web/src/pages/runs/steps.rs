//! The way through a run as data: its steps in order, and which one comes next.

use linkwright_calc::cautions;

/// One step at the bench; one screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Step {
    /// Choose the lot, weigh the wire in.
    Wire,
    /// Soften it, or pass that over.
    Anneal,
    /// Wind a coil.
    Wind,
    /// Take it off the rod.
    Off,
    /// Cut a long coil up for the holder.
    Divide,
    /// Fit the blade and tick the list.
    Blade,
    /// Clamp the coil.
    Clamp,
    /// Slit it.
    Slit,
    /// Count what came of it.
    Counts,
    /// Measure ten rings.
    Measure,
    /// Write the label.
    Label,
    /// Look at what was made, and finish.
    Finish,
}

/// A step, and the coil the bench is at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Place {
    pub(crate) step: Step,
    pub(crate) coil: u32,
}

/// What decides whether a step is passed by.
pub(crate) trait Way {
    /// Coils of the run.
    fn coils(&self) -> u32;
    /// Whether this coil is longer than the holder takes.
    fn needs_dividing(&self, coil: u32) -> bool;
    /// Whether the blade must be checked before this coil.
    fn needs_blade_check(&self, coil: u32) -> bool;
}

impl Step {
    /// All steps, in the order of the wire.
    pub(crate) const ALL: [Step; 12] = [
        Step::Wire,
        Step::Anneal,
        Step::Wind,
        Step::Off,
        Step::Divide,
        Step::Blade,
        Step::Clamp,
        Step::Slit,
        Step::Counts,
        Step::Measure,
        Step::Label,
        Step::Finish,
    ];

    /// The word it is kept as.
    pub(crate) const fn word(self) -> &'static str {
        match self {
            Step::Wire => "wire",
            Step::Anneal => "anneal",
            Step::Wind => "wind",
            Step::Off => "off",
            Step::Divide => "divide",
            Step::Blade => "blade",
            Step::Clamp => "clamp",
            Step::Slit => "slit",
            Step::Counts => "counts",
            Step::Measure => "measure",
            Step::Label => "label",
            Step::Finish => "finish",
        }
    }

    /// The step kept as this word.
    pub(crate) fn from_word(word: &str) -> Option<Step> {
        Step::ALL.into_iter().find(|step| step.word() == word)
    }

    /// What stands above its screen.
    pub(crate) const fn heading(self) -> &'static str {
        match self {
            Step::Wire => "Take the wire",
            Step::Anneal => "Anneal or not",
            Step::Wind => "Wind the coil",
            Step::Off => "Coil off the rod",
            Step::Divide => "Divide the coil",
            Step::Blade => "Fit and check the blade",
            Step::Clamp => "Clamp the coil",
            Step::Slit => "Slit",
            Step::Counts => "Count the rings",
            Step::Measure => "Measure ten rings",
            Step::Label => "Label the batch",
            Step::Finish => "Finish",
        }
    }

    /// Whether it comes again for every coil.
    pub(crate) const fn is_of_a_coil(self) -> bool {
        matches!(
            self,
            Step::Wind
                | Step::Off
                | Step::Divide
                | Step::Blade
                | Step::Clamp
                | Step::Slit
                | Step::Counts
        )
    }

    /// The steps of the work whose cautions ride with its screen.
    pub(crate) const fn cautions(self) -> &'static [cautions::Step] {
        use cautions::Step as Work;
        match self {
            Step::Wire | Step::Divide => &[Work::WireIn, Work::BeforeAnything],
            Step::Anneal => &[Work::Heating, Work::QuenchAndPickle, Work::BeforeAnything],
            Step::Wind | Step::Off => &[Work::Winding, Work::BeforeAnything],
            Step::Blade => &[Work::FittingBlade, Work::BeforeAnything],
            Step::Clamp | Step::Slit => &[Work::Slitting, Work::BeforeAnything],
            Step::Counts => &[Work::Slitting, Work::Finishing, Work::BeforeAnything],
            Step::Measure | Step::Label => &[Work::Finishing, Work::BeforeAnything],
            Step::Finish => &[Work::Scrap, Work::Finishing, Work::BeforeAnything],
        }
    }

    /// How the cautions begin that belong to this screen most, where they are not the first anyway.
    pub(crate) const fn cautions_first(self) -> &'static [&'static str] {
        match self {
            Step::Off => &["Stop before the tail", "Hard or thick wire"],
            Step::Clamp => &["Coil held by the holder", "Do not cut on a steel rod"],
            Step::Slit => &["Start clear of the coil", "Coil held by the holder"],
            Step::Counts => &["Chips are splinters", "Rings are choking"],
            Step::Measure | Step::Label => &["Rings are choking", "No food or drink"],
            Step::Finish => &["Keep metals apart", "No food or drink"],
            Step::Wire | Step::Anneal | Step::Wind | Step::Divide | Step::Blade => &[],
        }
    }
}

/// Where the bench goes from here; the last step leads nowhere else.
pub(crate) fn after(here: Place, way: &impl Way) -> Place {
    let coil = here.coil;
    let at = |step| Place { step, coil };
    match here.step {
        Step::Wire => at(Step::Anneal),
        Step::Anneal => Place { step: Step::Wind, coil: 1 },
        Step::Wind => at(Step::Off),
        Step::Off if way.needs_dividing(coil) => at(Step::Divide),
        Step::Off | Step::Divide if way.needs_blade_check(coil) => at(Step::Blade),
        Step::Off | Step::Divide | Step::Blade => at(Step::Clamp),
        Step::Clamp => at(Step::Slit),
        Step::Slit => at(Step::Counts),
        Step::Counts if coil < way.coils() => Place { step: Step::Wind, coil: coil + 1 },
        Step::Counts => at(Step::Measure),
        Step::Measure => at(Step::Label),
        Step::Label | Step::Finish => at(Step::Finish),
    }
}

#[cfg(test)]
mod tests {
    use linkwright_calc::cautions::for_step;

    use super::{Place, Step, Way, after};

    /// Three coils; the second is long, and the blade is checked before the first only.
    struct Plain;

    impl Way for Plain {
        fn coils(&self) -> u32 {
            3
        }
        fn needs_dividing(&self, coil: u32) -> bool {
            coil == 2
        }
        fn needs_blade_check(&self, coil: u32) -> bool {
            coil == 1
        }
    }

    #[test]
    fn a_run_goes_through_every_coil_and_ends() {
        let mut place = Place { step: Step::Wire, coil: 1 };
        let mut words = vec![(place.step.word(), place.coil)];
        while place.step != Step::Finish {
            place = after(place, &Plain);
            words.push((place.step.word(), place.coil));
        }
        let per_coil = |coil: u32| words.iter().filter(|(_, at)| *at == coil).count();
        // Wire, anneal, and seven steps less the dividing; then without the blade; then both, and
        // the three after the last.
        assert_eq!((per_coil(1), per_coil(2), per_coil(3)), (8, 6, 8));
        assert!(words.contains(&("divide", 2)) && !words.contains(&("divide", 1)));
        assert!(words.contains(&("blade", 1)) && !words.contains(&("blade", 2)));
        assert_eq!(after(place, &Plain), place);
    }

    #[test]
    fn the_cautions_named_first_are_cautions_of_their_step() {
        for step in Step::ALL {
            for opening in step.cautions_first() {
                let found = step
                    .cautions()
                    .iter()
                    .flat_map(|work| for_step(*work))
                    .any(|line| line.text.starts_with(opening));
                assert!(found, "{}: {opening}", step.word());
            }
        }
    }

    #[test]
    fn every_step_is_found_again_by_its_word() {
        for step in Step::ALL {
            assert_eq!(Step::from_word(step.word()), Some(step));
        }
    }
}
