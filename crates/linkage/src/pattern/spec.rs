//! The plain description of a pattern, as a file or a page would give it.

use super::cell::{Cell, Image};
use crate::vector::Vec3;

/// Chain, sheet or cluster.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Repeats one way.
    Chain,
    /// Repeats two ways.
    Sheet,
    /// Does not repeat.
    Cluster,
}

/// A pattern as described; [`Pattern::new`](super::Pattern::new) checks it.
///
/// Lengths are shares of the centreline radius of the main ring, which is the first size.
#[derive(Clone, Debug, PartialEq)]
pub struct PatternSpec {
    /// Key, such as `cable_1in1`: the craft's traditional name, or the structure in words.
    pub name: String,
    /// One line a jeweller reads.
    pub title: String,
    /// One sentence on how it is linked; may be empty.
    pub linking: String,
    /// Ring sizes; the first is the main one.
    pub sizes: Vec<SizeSpec>,
    /// Rings of one cell, in thin wire.
    pub rings: Vec<RingSpec>,
    /// Which rings are linked, each link once.
    pub links: Vec<Link>,
    /// How the cell repeats.
    pub cell: Cell,
}

impl PatternSpec {
    /// The word for a ring size, counted from 0, in a pattern of two, three or four sizes: by rank from
    /// the largest ring down. `None` where there are fewer or more, or no such size.
    ///
    /// ```
    /// use linkwright_linkage::pattern::craft;
    /// let chain = craft::named("large_and_small").unwrap();
    /// assert_eq!((chain.size_word(0), chain.size_word(1)), (Some("large"), Some("small")));
    /// ```
    pub fn size_word(&self, size: usize) -> Option<&'static str> {
        let words: &[_] = match self.sizes.len() {
            2 => &["large", "small"],
            3 => &["large", "middle", "small"],
            4 => &["largest", "large", "small", "smallest"],
            _ => return None,
        };
        let radius = self.sizes.get(size)?.radius;
        let larger = self.sizes.iter().filter(|other| other.radius > radius);
        words.get(larger.count()).copied()
    }
}

/// One ring size of a pattern, as shares of the main one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SizeSpec {
    /// Centreline radius; 1 for the main size.
    pub radius: f64,
    /// Wire diameter; 1 for the main size.
    pub wire: f64,
}

impl SizeSpec {
    /// The main size.
    pub const MAIN: SizeSpec = SizeSpec { radius: 1.0, wire: 1.0 };
}

/// One ring of the start pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RingSpec {
    /// Index of its size, from 0.
    pub size: usize,
    /// Centre.
    pub centre: Vec3,
    /// Normal of its plane; need not be of unit length.
    pub normal: Vec3,
}

/// A link: ring `first` of the cell passes through ring `second` of copy `image`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Link {
    /// Index of the ring of the cell, from 0.
    pub first: usize,
    /// Index of the ring of the copy, from 0.
    pub second: usize,
    /// Which copy.
    pub image: Image,
    /// Linking number of the two circles, oriented by their normals: -1 or +1.
    pub sign: i8,
}

impl Link {
    /// The same link, told so that the copy lies ahead, or in the same cell with the lower ring first.
    pub fn ahead(self) -> Link {
        let [q, r] = self.image;
        let behind = r < 0 || (r == 0 && q < 0);
        if behind || (self.image == [0, 0] && self.first > self.second) {
            Link { first: self.second, second: self.first, image: [-q, -r], sign: self.sign }
        } else {
            self
        }
    }
}
