//! Patterns of the craft that come with the tool.
//!
//! Names are the craft's traditional ones; where none is known, the structure in words.

mod chains;
mod sheets;

use super::{Cell, Image, Link, PatternSpec, RingSpec, SizeSpec};
use crate::vector::Vec3;

const DEGREE: f64 = std::f64::consts::PI / 180.0;

/// A description that fits in a constant.
struct Recipe {
    name: &'static str,
    title: &'static str,
    sizes: &'static [SizeSpec],
    /// Size, centre, normal.
    rings: &'static [(usize, [f64; 3], [f64; 3])],
    /// Ring, ring, copy of the second, sign.
    links: &'static [(usize, usize, Image, i8)],
    cell: Cell,
}

impl Recipe {
    fn spec(&self) -> PatternSpec {
        let vector = |[x, y, z]: [f64; 3]| Vec3::new(x, y, z);
        PatternSpec {
            name: self.name.to_owned(),
            title: self.title.to_owned(),
            sizes: self.sizes.to_vec(),
            rings: self
                .rings
                .iter()
                .map(|&(size, centre, normal)| RingSpec {
                    size,
                    centre: vector(centre),
                    normal: vector(normal),
                })
                .collect(),
            links: self
                .links
                .iter()
                .map(|&(first, second, image, sign)| Link { first, second, image, sign })
                .collect(),
            cell: self.cell,
        }
    }
}

/// Every pattern that comes with the tool, in the order of a list on a page.
pub fn all() -> Vec<PatternSpec> {
    let recipes = chains::RECIPES.iter().chain(sheets::RECIPES);
    recipes.map(Recipe::spec).collect()
}

/// The pattern of a name, if there is one.
///
/// ```
/// use linkwright_linkage::pattern::craft;
/// assert_eq!(craft::named("double_2in2").unwrap().rings.len(), 2);
/// assert!(craft::named("double_3in2").is_none());
/// ```
pub fn named(name: &str) -> Option<PatternSpec> {
    all().into_iter().find(|spec| spec.name == name)
}
