//! What the nearest pose has otherwise than the list, when none has its links.

use std::fmt;

use super::LinkList;
use crate::pattern::{Link, measured_links};
use crate::pose::Pose;

/// Where the pose that came nearest to a list of links differs from it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Nearest {
    /// Links of the list that it lacks, or has from the other side; numbers count from 1.
    pub lacking: Vec<usize>,
    /// Links that it has and the list has not.
    pub beyond: Vec<Link>,
}

impl Nearest {
    pub(super) fn of(list: &LinkList, pose: &Pose) -> Nearest {
        let there = measured_links(pose);
        let same =
            |a: &Link, b: &Link| (a.first, a.second, a.image) == (b.first, b.second, b.image);
        let has = |link: &Link| {
            let fits = |l: &Link| same(l, link) && (link.sign == 0 || l.sign == link.sign);
            there.iter().any(fits)
        };
        let wanted: Vec<Link> = list.links.iter().map(|link| link.ahead()).collect();
        let lacking = (1..).zip(&wanted).filter(|(_, link)| !has(link)).map(|(number, _)| number);
        let beyond = there.iter().filter(|l| !wanted.iter().any(|link| same(l, link)));
        Nearest { lacking: lacking.collect(), beyond: beyond.copied().collect() }
    }
}

impl fmt::Display for Nearest {
    /// To go on a sentence with; nothing if nothing is known.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(first) = self.lacking.first() {
            let numbers =
                self.lacking[1..].iter().fold(first.to_string(), |all, n| format!("{all}, {n}"));
            let word = if self.lacking.len() == 1 { "link" } else { "links" };
            return write!(f, " (the nearest lacks {word} {numbers})");
        }
        match self.beyond.first() {
            Some(Link { first, second, .. }) => write!(
                f,
                " (the nearest has all of them, but there ring {} passes through ring {} as well)",
                second + 1,
                first + 1
            ),
            None => Ok(()),
        }
    }
}
