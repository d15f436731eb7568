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
    linking: &'static str,
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
            linking: self.linking.to_owned(),
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

    /// Whether a description is this one, without writing this one out: a moving slider asks.
    fn is(&self, spec: &PatternSpec) -> bool {
        let same = |v: Vec3, [x, y, z]: [f64; 3]| v == Vec3::new(x, y, z);
        let rings = spec.rings.iter().zip(self.rings);
        let links = spec.links.iter().zip(self.links);
        spec.name == self.name
            && spec.cell == self.cell
            && spec.sizes == self.sizes
            && spec.rings.len() == self.rings.len()
            && spec.links.len() == self.links.len()
            && rings.into_iter().all(|(ring, &(size, centre, normal))| {
                ring.size == size && same(ring.centre, centre) && same(ring.normal, normal)
            })
            && links.into_iter().all(|(link, &(first, second, image, sign))| {
                *link == Link { first, second, image, sign }
            })
    }
}

fn recipes() -> impl Iterator<Item = &'static Recipe> {
    chains::RECIPES.iter().chain(sheets::RECIPES)
}

/// Every pattern that comes with the tool, in the order of a list on a page.
pub fn all() -> Vec<PatternSpec> {
    recipes().map(Recipe::spec).collect()
}

/// The pattern of a name, if there is one.
///
/// ```
/// use linkwright_linkage::pattern::craft;
/// assert_eq!(craft::named("double_2in2").unwrap().rings.len(), 2);
/// assert!(craft::named("double_3in2").is_none());
/// ```
pub fn named(name: &str) -> Option<PatternSpec> {
    recipes().find(|recipe| recipe.name == name).map(Recipe::spec)
}

/// Whether a description has the name, rings, links, sizes and cell of a pattern that comes with the
/// tool; its words may differ.
pub(crate) fn is_of_the_craft(spec: &PatternSpec) -> bool {
    recipes().find(|recipe| recipe.name == spec.name).is_some_and(|recipe| recipe.is(spec))
}
