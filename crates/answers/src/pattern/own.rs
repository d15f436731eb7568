//! A pattern of one's own, tried: its start pose stands, or one was found for its links.

use std::path::Path;

use linkwright_calc::quantity::Length;
use linkwright_linkage::answer::ClosedRing;
use linkwright_linkage::pattern::find::{Effort, FindError, Repeat, find, found_before};
use linkwright_linkage::pattern::{Cell, Pattern, measured_links, signs_as_they_lie};
use linkwright_linkage::pose::Pose;
use linkwright_linkage::solve::{Patient, Watch};

use super::described::{Described, Lay};
use super::start::{places_and_cell, pose_as_text, pose_from_text, start_as_text};
use crate::files::document::{Document, FileError};

/// A pattern that stands, with the rings its file names.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnPattern {
    /// The pattern.
    pub pattern: Pattern,
    /// Names of its rings, in the order of the file.
    pub ring_names: Vec<String>,
    /// The closed ring of each size, main one first.
    pub rings: Vec<ClosedRing>,
    /// What the search found, if the file gives the order of linking only.
    pub search: Option<OrderSearch>,
}

/// What a search by the order of linking found.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderSearch {
    /// Every chain of these links that was looked at closely, the one that needs the loosest rings first.
    pub chains: Vec<ChainFound>,
    /// Which of them was taken, from 0.
    pub taken: usize,
    /// Whether the file says which is meant.
    pub is_said: bool,
    /// Random poses begun from.
    pub tries: u32,
    /// Of these, how many came to have the links.
    pub met: u32,
}

impl OrderSearch {
    /// How it went, in words: beginnings, those that came to have the links, and what is left out.
    pub fn told(&self) -> String {
        let (tries, met) = (self.tries, self.met);
        let told: u32 = self.chains.iter().map(|chain| chain.times).sum();
        let left_out = match met.saturating_sub(told) {
            0 => String::new(),
            left_out => format!(", {left_out} of them less regular and left out"),
        };
        format!("{tries} random beginnings, {met} came to have these links{left_out}")
    }
}

/// One chain that a search found.
#[derive(Clone, Debug, PartialEq)]
pub struct ChainFound {
    /// The chain, its wire grown as far as it went.
    pub pattern: Pattern,
    /// Smallest aspect ratio its wire grew to.
    pub aspect_ratio_min: f64,
    /// How many of the poses grew into it.
    pub times: u32,
}

impl OwnPattern {
    /// Reads a pattern file and tries the pattern.
    ///
    /// # Errors
    /// [`FileError`] says what is wrong: line, field, value, and what would do.
    pub fn load(path: &Path) -> Result<OwnPattern, FileError> {
        OwnPattern::of(&Described::read(&Document::read(path)?)?, Effort::default(), &mut Patient)
    }

    /// Tries a described pattern.
    ///
    /// # Errors
    /// [`FileError`] if the rough places do not have the links, or no places were found that have.
    pub fn of(
        described: &Described,
        effort: Effort,
        watch: &mut dyn Watch,
    ) -> Result<OwnPattern, FileError> {
        let Lay::Order(list) = &described.lay else { return OwnPattern::as_placed(described) };
        let finding = find(list, effort, watch).map_err(|error| match error {
            FindError::Pattern(error) => described.placed(&error),
            FindError::NotFound { tries, nearest } => described.not_found(tries, &nearest),
            other => described.whole(&other.to_string()),
        })?;
        let chains: Vec<ChainFound> = finding
            .classes
            .into_iter()
            .map(|class| ChainFound {
                pattern: class.pattern,
                aspect_ratio_min: class.aspect_ratio_min,
                times: class.times,
            })
            .collect();
        let taken = described.which.map_or(0, |which| which - 1);
        let Some(chain) = chains.get(taken) else {
            return Err(described.no_such_chain(chains.len()));
        };
        let pattern = chain.pattern.clone();
        let search = OrderSearch {
            chains,
            taken,
            is_said: described.which.is_some(),
            tries: finding.tries,
            met: finding.met,
        };
        Ok(OwnPattern { search: Some(search), ..OwnPattern::with(described, pattern) })
    }

    /// A described pattern that was tried before, with the start that was found then
    /// ([`OwnPattern::start_found`]): nothing is searched for again, and the start is checked to have
    /// the links.
    ///
    /// # Errors
    /// [`FileError`] if the places do not have the links, or if there is no start for an order of
    /// linking.
    pub fn tried_before(
        described: &Described,
        start: Option<&str>,
    ) -> Result<OwnPattern, FileError> {
        let Lay::Order(list) = &described.lay else { return OwnPattern::as_placed(described) };
        let repeat = list.repeat;
        let read = start.and_then(|start| places_and_cell(start, list.rings.len(), repeat));
        let (places, cell) = read.ok_or_else(|| {
            described.whole("the places found for its rings are not kept; check it again")
        })?;
        match found_before(list, &places, cell) {
            Ok(pattern) => Ok(OwnPattern::with(described, pattern)),
            Err(FindError::Pattern(error)) => Err(described.placed(&error)),
            Err(other) => Err(described.whole(&other.to_string())),
        }
    }

    /// The start that a search found, to be kept beside the file; nothing for rough places, which say
    /// it themselves.
    pub fn start_found(&self) -> Option<String> {
        self.search.as_ref().map(|_| start_as_text(&self.pattern))
    }

    /// Where the rings lie pulled taut, in millimetres, to be kept beside the file.
    pub fn shown_as_text(pose: &Pose) -> String {
        pose_as_text(pose)
    }

    /// What [`OwnPattern::shown_as_text`] kept of the file's own rings, with the main wire; `None` if
    /// those numbers do not have the pattern's links.
    pub fn placed_as_shown(&self, text: &str) -> Option<(Pose, Length)> {
        let spec = self.pattern.spec();
        let main = self.rings.first()?;
        let radius_mm = 0.5 * (main.inside() + main.wire().diameter()).mm();
        let rings: Vec<(f64, f64)> = spec
            .rings
            .iter()
            .map(|ring| {
                let size = spec.sizes[ring.size];
                (size.radius * radius_mm, size.wire)
            })
            .collect();
        let repeat = match spec.cell {
            Cell::Screw { twist_rad, twist_free, .. } => Repeat::Chain { twist_rad, twist_free },
            Cell::Lattice { .. } => Repeat::Sheet,
            _ => Repeat::Not,
        };
        let pose = pose_from_text(text, &rings, repeat)?;
        let has_links = measured_links(&pose) == measured_links(self.pattern.start());
        has_links.then(|| (pose, main.wire().diameter()))
    }

    /// As the rough places of the file have it.
    fn as_placed(described: &Described) -> Result<OwnPattern, FileError> {
        let Lay::Places(spec) = &described.lay else {
            return Err(described.whole("it has no rough places"));
        };
        let pattern = Pattern::new(signs_as_they_lie(spec));
        pattern
            .map(|pattern| OwnPattern::with(described, pattern))
            .map_err(|error| described.placed(&error))
    }

    fn with(described: &Described, pattern: Pattern) -> OwnPattern {
        OwnPattern {
            pattern,
            ring_names: described.ring_names().into_iter().map(str::to_owned).collect(),
            rings: described.rings.clone(),
            search: None,
        }
    }
}
