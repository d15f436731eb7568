//! Trying a pattern file: read, looked for by its links, solved with its own rings, drawn. All of it off
//! the threads that serve, one file at a time, within a bound of steps.

use std::collections::VecDeque;
use std::path::Path;
use std::sync::{Arc, Mutex};

use linkwright_answers::chain::figure::{Drawing, Ink, Scene, View as Eye};
use linkwright_answers::chain::{Solver, Steps};
use linkwright_answers::files::document::{Document, FileError};
use linkwright_answers::pattern::{Described, OwnPattern};
use linkwright_linkage::answer::{Linked, QuestionError};
use linkwright_linkage::pattern::find::Effort;
use linkwright_linkage::pattern::{Kind, Pattern};
use linkwright_linkage::pose::Pose;
use linkwright_linkage::solve::{Halt, Watch};
use linkwright_store::View;

use super::{one_at_a_time, solver};
use crate::error::PageError;
use crate::state::{App, locked};

/// Outcomes remembered: a check and the keeping that follows ask the same.
const REMEMBERED_MOST: usize = 16;
/// Rings of a picture at most, of a chain or a cluster, and of a sheet.
const RINGS_MOST: [usize; 2] = [36, 48];

/// A pattern file that stands.
pub(crate) struct Tried {
    pub(crate) own: OwnPattern,
    /// With the file's own rings.
    pub(crate) linked: Linked,
    /// Where the rings lie pulled taut, to be kept; nothing where they do not go together.
    pub(crate) shown: Option<String>,
    pub(crate) picture: String,
    /// Every chain that a search found: its text, and its picture.
    pub(crate) chains: Vec<ChainTried>,
}

/// One of the chains that have the links of a file.
pub(crate) struct ChainTried {
    pub(crate) picture: String,
    /// The file saying that this one is meant.
    pub(crate) text: String,
}

/// What is wrong with a pattern file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Wrong {
    pub(crate) line: Option<usize>,
    pub(crate) field: String,
    pub(crate) given: String,
    pub(crate) said: String,
}

pub(crate) type Outcome = Result<Arc<Tried>, Wrong>;

impl Wrong {
    pub(crate) fn said(said: impl Into<String>) -> Wrong {
        Wrong { said: said.into(), ..Wrong::default() }
    }
}

impl From<FileError> for Wrong {
    fn from(error: FileError) -> Wrong {
        Wrong {
            line: error.line(),
            field: error.field().unwrap_or_default().to_owned(),
            given: error.given().unwrap_or_default().to_owned(),
            said: error.said(),
        }
    }
}

/// What was tried lately, by the text of the file.
#[derive(Default)]
struct Remembered(Mutex<VecDeque<(String, Outcome)>>);

impl Remembered {
    fn of(&self, text: &str) -> Option<Outcome> {
        locked(&self.0).iter().find(|(of, _)| of == text).map(|(_, outcome)| outcome.clone())
    }

    fn keep(&self, text: &str, outcome: &Outcome) {
        let mut all = locked(&self.0);
        all.push_front((text.to_owned(), outcome.clone()));
        all.truncate(REMEMBERED_MOST);
    }
}

fn remembered(view: &View<'_>) -> Arc<Remembered> {
    view.for_good("pattern files tried", Remembered::default)
}

/// Tries a pattern file; `others` are the keys of the other patterns of one's own.
pub(crate) async fn tried(
    app: &App,
    text: String,
    others: Vec<String>,
) -> Result<Outcome, PageError> {
    let (solver, remembered) = app.read(|view| Ok((solver(view), remembered(view)))).await?;
    one_at_a_time(move || {
        let document = Document::new(Path::new("pattern"), text.clone());
        let described = Described::read(&document)?;
        if others.iter().any(|other| described.has_key_of(other)) {
            let said =
                "another of your own patterns has that key; choose another, or replace that one";
            return Err(described.wrong_as_a_whole(said).into());
        }
        if let Some(outcome) = remembered.of(&text) {
            return outcome;
        }
        let outcome = try_out(&described, &solver).map(Arc::new);
        remembered.keep(&text, &outcome);
        outcome
    })
    .await
}

/// The file of a pattern that is kept, which stood when it was kept: nothing is looked for.
pub(crate) fn stands(name: &str, text: &str, start: Option<&str>) -> Result<OwnPattern, FileError> {
    let document = Document::new(Path::new(&format!("{name}.toml")), text.to_owned());
    OwnPattern::tried_before(&Described::read(&document)?, start)
}

fn try_out(described: &Described, solver: &Solver) -> Result<Tried, Wrong> {
    let most = solver.steps_most(described.ring_names().len()).unwrap_or(u32::MAX);
    let mut steps = Counted { steps: Steps::of(most), are_spent: false };
    let own = OwnPattern::of(described, Effort::default(), &mut steps).map_err(|error| {
        let too_long = || described.wrong_as_a_whole(&search_too_long(most));
        Wrong::from(if steps.are_spent { too_long() } else { error })
    })?;
    let too_long = || Wrong::from(described.wrong_as_a_whole(&solve_too_long(most)));
    let linked = solver.linked(&own.pattern, &own.rings).map_err(|error| match error {
        QuestionError::Halt(_) => too_long(),
        other => described.wrong_as_a_whole(&other.to_string()).into(),
    })?;
    let mut steps = Steps::of(most);
    let drawn = linked.drawn(&mut steps).map_err(|_| too_long())?;
    let picture = match &drawn {
        Some(drawn) => picture_of(&drawn.pose, drawn.wire.mm(), own.pattern.kind()),
        None => start_picture(&own.pattern),
    };
    let chains = own.search.iter().flat_map(|search| (1..).zip(&search.chains));
    let chains = chains.map(|(which, chain)| ChainTried {
        picture: start_picture(&chain.pattern),
        text: described.text_saying_which(which),
    });
    Ok(Tried {
        chains: chains.collect(),
        shown: drawn.map(|drawn| OwnPattern::shown_as_text(&drawn.pose)),
        picture,
        linked,
        own,
    })
}

/// The picture of a pattern as it stands in its start.
pub(crate) fn start_picture(pattern: &Pattern) -> String {
    picture_of(pattern.start(), pattern.start_wire(), pattern.kind())
}

/// The small still picture of rings in place, all drawn in wire of 1 mm.
pub(crate) fn picture_of(pose: &Pose, wire: f64, kind: Kind) -> String {
    let most = if kind == Kind::Sheet { RINGS_MOST[1] } else { RINGS_MOST[0] };
    let scene = Scene::piece(pose, wire, 1.0, most);
    Drawing::of(&scene, Eye::of(pose), Ink::Black).svg(2.0, "")
}

fn search_too_long(steps: u32) -> String {
    format!(
        "no way to lay the rings was found within {steps} steps; give every ring a rough place, or ask the \
         command linkwright patterns check, which does not give up"
    )
}

fn solve_too_long(steps: u32) -> String {
    format!(
        "it was not solved within {steps} steps; describe it with fewer rings a repeat, or ask the command \
         linkwright patterns check, which does not give up"
    )
}

/// Steps, and whether there were too few.
struct Counted {
    steps: Steps,
    are_spent: bool,
}

impl Watch for Counted {
    fn tick(&mut self) -> Result<(), Halt> {
        let outcome = self.steps.tick();
        self.are_spent |= outcome.is_err();
        outcome
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use linkwright_answers::chain::Solver;
    use linkwright_answers::files::document::Document;
    use linkwright_answers::pattern::Described;

    use super::try_out;

    fn described(text: &str) -> Described {
        let document = Document::new(Path::new("pattern"), text.to_owned());
        Described::read(&document).expect("a pattern file")
    }

    #[test]
    fn a_search_and_a_solve_that_take_too_many_steps_are_given_up_with_a_way_on() {
        let rope = include_str!("../../../../examples/skipping-rope.toml");
        let steps = include_str!("../../../../examples/large-and-steps.toml");
        for (text, line, says) in [
            (
                rope,
                3,
                "no way to lay the rings was found within 40 steps; give every ring a rough place",
            ),
            (steps, 3, "it was not solved within 40 steps; describe it with fewer rings a repeat"),
        ] {
            let wrong = try_out(&described(text), &Solver::giving_up_after(40)).err();
            let wrong = wrong.expect("given up");
            assert!(wrong.said.starts_with(says), "{}", wrong.said);
            assert!(wrong.said.contains("linkwright patterns check"), "{}", wrong.said);
            assert_eq!((wrong.line, wrong.field.as_str()), (Some(line), "pattern"));
        }
    }
}
