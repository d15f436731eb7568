//! A pattern of one's own, tried: its start pose stands, or one was found for its links.

use std::path::Path;

use linkwright_linkage::answer::ClosedRing;
use linkwright_linkage::pattern::find::{Effort, FindError, find};
use linkwright_linkage::pattern::{Pattern, signs_as_they_lie};
use linkwright_linkage::solve::{Patient, Watch};

use super::described::{Described, Lay};
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
    /// Every chain of these links, the one that needs the loosest rings first.
    pub chains: Vec<ChainFound>,
    /// Which of them was taken, from 0.
    pub taken: usize,
    /// Random poses begun from.
    pub tries: u32,
    /// Of these, how many came to have the links.
    pub met: u32,
}

/// One chain that a search found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChainFound {
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
        let own = |pattern, search| OwnPattern {
            pattern,
            ring_names: described.ring_names().into_iter().map(str::to_owned).collect(),
            rings: described.rings.clone(),
            search,
        };
        match &described.lay {
            Lay::Places(spec) => {
                let pattern = Pattern::new(signs_as_they_lie(spec));
                pattern.map(|pattern| own(pattern, None)).map_err(|error| described.placed(&error))
            }
            Lay::Order(list) => {
                let mut finding = find(list, effort, watch).map_err(|error| match error {
                    FindError::Pattern(error) => described.placed(&error),
                    other => described.whole(&other.to_string()),
                })?;
                let chains: Vec<ChainFound> = finding
                    .classes
                    .iter()
                    .map(|class| ChainFound {
                        aspect_ratio_min: class.aspect_ratio_min,
                        times: class.times,
                    })
                    .collect();
                let taken = described.which.map_or(0, |which| which - 1);
                if taken >= chains.len() {
                    return Err(described.no_such_chain(chains.len()));
                }
                let class = finding.classes.swap_remove(taken);
                let (tries, met) = (finding.tries, finding.met);
                Ok(own(class.pattern, Some(OrderSearch { chains, taken, tries, met })))
            }
        }
    }
}
