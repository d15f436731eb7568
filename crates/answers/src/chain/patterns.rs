//! The patterns there are, and the one a name means.

use linkwright_linkage::pattern::{Kind, Pattern, PatternSpec, craft};
use linkwright_linkage::table;
use thiserror::Error;

use super::known::{KnownPatterns, NoPattern};

/// One pattern as a list shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct PatternListed {
    /// Key, such as `cable_1in1`.
    pub name: String,
    /// One line a jeweller reads.
    pub title: String,
    /// Chain, sheet or cluster.
    pub kind: Kind,
    /// Ring sizes.
    pub sizes: usize,
    /// The word for each size where it has one, such as "small"; the main size first.
    pub size_words: Vec<Option<&'static str>>,
    /// Rings of all sizes in one cell.
    pub rings_per_cell: usize,
    /// Smallest possible aspect ratio of the main ring, all sizes in the pattern's own proportions.
    pub aspect_ratio_min: Option<f64>,
    /// Whether it is the workshop's own, and not of those that come with the program.
    pub is_own: bool,
}

impl PatternListed {
    /// A pattern of the program, with its limit.
    pub(super) fn of(pattern: &Pattern, aspect_ratio_min: Option<f64>) -> PatternListed {
        PatternListed {
            name: pattern.name().to_owned(),
            title: pattern.spec().title.clone(),
            kind: pattern.kind(),
            sizes: pattern.spec().sizes.len(),
            size_words: size_words(pattern.spec()),
            rings_per_cell: pattern.spec().rings.len(),
            aspect_ratio_min,
            is_own: false,
        }
    }
}

/// No pattern has that name, or several begin with it.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error(
    "there is no pattern \"{given}\"; {} (linkwright chain --list shows all)",
    did_you_mean(nearest)
)]
pub struct UnknownPattern {
    /// What was given.
    pub given: String,
    /// Names it may have meant, the nearest first.
    pub nearest: Vec<String>,
}

fn did_you_mean(nearest: &[String]) -> String {
    format!("did you mean {}?", nearest.join(" or "))
}

/// Every pattern that comes with the program, in the order of the list.
pub fn listed() -> Vec<PatternListed> {
    craft::all()
        .into_iter()
        .filter_map(|spec| {
            let pattern = Pattern::new(spec).ok()?;
            let least = table::entry(&pattern).map(|entry| entry.aspect_ratio_min);
            Some(PatternListed::of(&pattern, least))
        })
        .collect()
}

fn size_words(spec: &PatternSpec) -> Vec<Option<&'static str>> {
    (0..spec.sizes.len()).map(|size| spec.size_word(size)).collect()
}

/// The pattern that comes with the program by a name; see [`KnownPatterns::find`].
///
/// # Errors
/// [`NoPattern`] with the names it may have meant.
pub fn find(given: &str) -> Result<Pattern, NoPattern> {
    KnownPatterns::built_in().find(given)
}

/// Letters and digits alone, in small letters: `European 4-in-1` is `european4in1`.
pub(crate) fn bare(name: &str) -> String {
    name.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// Names suggested at most.
const SUGGESTED: usize = 3;

pub(super) fn nearest(wanted: &str, names: &[&str]) -> Vec<String> {
    let mut ranked: Vec<(usize, &str)> = names
        .iter()
        .map(|&name| {
            let key = bare(name);
            let begins = !wanted.is_empty() && key.starts_with(wanted);
            // A key is also near if its beginning is: "bizantine" stands for longer keys too.
            let beginning: String = key.chars().take(wanted.chars().count()).collect();
            let apart = edits(wanted, &key).min(1 + edits(wanted, &beginning));
            (if begins { 0 } else { apart }, name)
        })
        .collect();
    ranked.sort_by_key(|&(apart, _)| apart);
    let least = ranked.first().map_or(0, |&(apart, _)| apart);
    let near = ranked.iter().take_while(|&&(apart, _)| apart <= least + 1);
    near.take(SUGGESTED).map(|&(_, name)| name.to_owned()).collect()
}

/// Letters to put in, take out or change to get from one word to the other.
fn edits(from: &str, to: &str) -> usize {
    let to: Vec<char> = to.chars().collect();
    let mut row: Vec<usize> = (0..=to.len()).collect();
    for (i, a) in from.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, &b) in to.iter().enumerate() {
            let changed = diagonal + usize::from(a != b);
            diagonal = row[j + 1];
            row[j + 1] = changed.min(diagonal + 1).min(row[j] + 1);
        }
    }
    row[to.len()]
}

#[cfg(test)]
mod tests {
    use super::{NoPattern, edits, find, listed};

    #[test]
    fn a_name_is_found_however_it_is_spaced() {
        for given in ["byzantine", "Byzantine Chain", "BYZANTINE", "byz"] {
            assert_eq!(find(given).unwrap().name(), "byzantine", "{given}");
        }
        assert_eq!(find("european 4-in-1 sheet").unwrap().name(), "european_4in1_sheet");
    }

    #[test]
    fn a_key_that_others_begin_with_means_itself() {
        assert_eq!(find("large_and_small").unwrap().name(), "large_and_small");
    }

    #[test]
    fn a_misspelt_name_suggests_the_nearest() {
        let error = find("bizantine").unwrap_err();
        assert!(error.to_string().contains("did you mean byzantine?"), "{error}");
    }

    #[test]
    fn the_beginning_of_several_keys_suggests_them() {
        let suggested = |given: &str| match find(given).unwrap_err() {
            NoPattern::Unknown(unknown) => unknown.nearest,
            other => panic!("{other}"),
        };
        assert_eq!(suggested("half"), ["half_persian_3in1", "half_persian_4in1"]);
        assert!(!suggested("").is_empty());
    }

    #[test]
    fn every_pattern_is_listed_with_its_limit() {
        let all = listed();
        assert!(all.len() >= 20);
        let doubled = all.iter().find(|pattern| pattern.name == "double_2in2").unwrap();
        assert_eq!((doubled.rings_per_cell, doubled.sizes), (2, 1));
        // Closed form, docs/theory/chain.md section 6.
        assert!((doubled.aspect_ratio_min.unwrap() - 2.621278).abs() < 1e-5);
    }

    #[test]
    fn edits_count_letters() {
        assert_eq!((edits("", "abc"), edits("box", "fox"), edits("boxx", "box")), (3, 1, 1));
    }
}
