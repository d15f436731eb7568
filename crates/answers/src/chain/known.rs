//! The patterns known in one place: those that come with the program, and the workshop's own.

use linkwright_linkage::pattern::{Pattern, craft};
use linkwright_linkage::table;
use thiserror::Error;

use super::patterns::{PatternListed, UnknownPattern, bare, nearest};
use super::solver::Solver;

/// The patterns known in one place, to be handed to whatever looks one up.
#[derive(Clone, Debug)]
pub struct KnownPatterns {
    own: Vec<OwnKnown>,
    gone: Vec<(String, String)>,
    solver: Solver,
}

/// A pattern of one's own as a place knows it.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnKnown {
    /// What it is called where it is looked up: its key, or the file that holds it.
    pub called: String,
    /// The pattern with the smallest possible aspect ratio of its own proportions, where that is
    /// known; or why it cannot be used.
    pub found: Result<(Pattern, Option<f64>), String>,
}

/// A name that no pattern can be taken for.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum NoPattern {
    /// Nothing has that name.
    #[error(transparent)]
    Unknown(#[from] UnknownPattern),
    /// One's own pattern of that name cannot be used.
    #[error("your own pattern \"{name}\" cannot be used: {why}")]
    Unusable {
        /// Its key.
        name: String,
        /// What is wrong with it.
        why: String,
    },
    /// There was such a pattern of one's own.
    #[error("your own pattern \"{name}\" {gone}")]
    Gone {
        /// Its key.
        name: String,
        /// What became of it, and what can be done.
        gone: String,
    },
}

impl Default for KnownPatterns {
    fn default() -> KnownPatterns {
        KnownPatterns::built_in()
    }
}

impl KnownPatterns {
    /// Those that come with the program, solved as long as it takes.
    pub fn built_in() -> KnownPatterns {
        KnownPatterns { own: Vec::new(), gone: Vec::new(), solver: Solver::patient() }
    }

    /// The same with that solver.
    #[must_use]
    pub fn solved_by(self, solver: Solver) -> KnownPatterns {
        KnownPatterns { solver, ..self }
    }

    /// Adds one of one's own.
    pub fn add(&mut self, own: OwnKnown) {
        self.own.push(own);
    }

    /// Tells what became of one that is not there any more, as what follows its name in a sentence.
    pub fn tell_gone(&mut self, name: String, gone: String) {
        self.gone.push((name, gone));
    }

    /// What solves them where no table does.
    pub const fn solver(&self) -> &Solver {
        &self.solver
    }

    /// One's own, in the order in which they were added.
    pub fn own(&self) -> &[OwnKnown] {
        &self.own
    }

    /// Smallest possible aspect ratio of a pattern in its own proportions, where it is known without
    /// solving.
    pub fn aspect_ratio_min(&self, pattern: &Pattern) -> Option<f64> {
        let own = self.own.iter().find_map(|own| match &own.found {
            Ok((known, least)) if known == pattern => *least,
            _ => None,
        });
        own.or_else(|| table::entry(pattern).map(|entry| entry.aspect_ratio_min))
    }

    /// Every pattern that can be used, those of the program first.
    pub fn listed(&self) -> Vec<PatternListed> {
        let mut all = super::patterns::listed();
        all.extend(self.own.iter().filter_map(|own| {
            let (pattern, least) = own.found.as_ref().ok()?;
            Some(PatternListed { is_own: true, ..PatternListed::of(pattern, *least) })
        }));
        all
    }

    /// The pattern of a name: its key or title, written with any spaces, hyphens and capitals; or the
    /// beginning of one key alone.
    ///
    /// # Errors
    /// [`NoPattern`] with the names it may have meant, or with what became of it.
    pub fn find(&self, given: &str) -> Result<Pattern, NoPattern> {
        if let Some(own) = self.own.iter().find(|own| own.called == given) {
            return own.usable();
        }
        let wanted = bare(given);
        let crafts = craft::all();
        // Name, and title where there is one, of all that can be meant.
        let owned = self.own.iter().map(|own| {
            let title = own.found.as_ref().map_or("", |(pattern, _)| &*pattern.spec().title);
            (&*own.called, title, Meant::Own(own))
        });
        let built_in = crafts.iter().map(|spec| (&*spec.name, &*spec.title, Meant::Craft(spec)));
        let all: Vec<_> = built_in.chain(owned).collect();
        let exact = all.iter().find(|(name, title, _)| {
            !wanted.is_empty() && (bare(name) == wanted || bare(title) == wanted)
        });
        let starts: Vec<_> =
            all.iter().filter(|(name, ..)| bare(name).starts_with(&wanted)).collect();
        let meant = match (exact, &starts[..]) {
            (Some((.., meant)), _) => Some(meant),
            (None, [(.., only)]) if !wanted.is_empty() => Some(only),
            _ => None,
        };
        match meant {
            Some(Meant::Own(own)) => return own.usable(),
            Some(Meant::Craft(spec)) => {
                if let Ok(pattern) = Pattern::new((*spec).clone()) {
                    return Ok(pattern);
                }
            }
            None => {}
        }
        if let Some((name, gone)) = self.gone.iter().find(|(name, _)| name == given) {
            return Err(NoPattern::Gone { name: name.clone(), gone: gone.clone() });
        }
        let names: Vec<&str> = all.iter().map(|(name, ..)| *name).collect();
        Err(UnknownPattern { given: given.to_owned(), nearest: nearest(&wanted, &names) }.into())
    }
}

/// What a name may mean.
enum Meant<'a> {
    Craft(&'a linkwright_linkage::pattern::PatternSpec),
    Own(&'a OwnKnown),
}

impl OwnKnown {
    fn usable(&self) -> Result<Pattern, NoPattern> {
        match &self.found {
            Ok((pattern, _)) => Ok(pattern.clone()),
            Err(why) => Err(NoPattern::Unusable { name: self.called.clone(), why: why.clone() }),
        }
    }
}

#[cfg(test)]
mod tests {
    use linkwright_linkage::pattern::{Pattern, craft};

    use super::{KnownPatterns, NoPattern, OwnKnown};

    fn own(called: &str) -> OwnKnown {
        let mut spec = craft::named("cable_1in1").expect("known");
        called.clone_into(&mut spec.name);
        "a chain of mine".clone_into(&mut spec.title);
        OwnKnown {
            called: called.to_owned(),
            found: Ok((Pattern::new(spec).expect("valid"), None)),
        }
    }

    fn known() -> KnownPatterns {
        let mut known = KnownPatterns::built_in();
        known.add(own("my_rope"));
        known.add(OwnKnown {
            called: "worn_out".to_owned(),
            found: Err("it is damaged".to_owned()),
        });
        known.tell_gone("old_rope".to_owned(), "was removed on 2026-11-30".to_owned());
        known
    }

    #[test]
    fn a_pattern_of_ones_own_is_found_as_any_other_and_listed_last() {
        let known = known();
        for given in ["my_rope", "My rope", "a chain of mine", "my"] {
            assert_eq!(known.find(given).expect("found").name(), "my_rope", "{given}");
        }
        assert_eq!(known.find("byz").expect("found").name(), "byzantine");
        let listed = known.listed();
        assert!(listed.last().is_some_and(|last| last.is_own && last.name == "my_rope"));
        assert_eq!(listed.iter().filter(|pattern| pattern.is_own).count(), 1);
        assert!(KnownPatterns::built_in().find("my_rope").is_err());
    }

    #[test]
    fn one_that_cannot_be_used_or_is_gone_says_so() {
        let known = known();
        let said = |given| known.find(given).expect_err("not to be had").to_string();
        assert_eq!(said("worn_out"), "your own pattern \"worn_out\" cannot be used: it is damaged");
        assert_eq!(said("old_rope"), "your own pattern \"old_rope\" was removed on 2026-11-30");
        let unknown = known.find("my_ropes").expect_err("no such");
        assert!(
            matches!(&unknown, NoPattern::Unknown(_)) && unknown.to_string().contains("my_rope?"),
            "{unknown}"
        );
    }
}
