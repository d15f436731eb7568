//! The order of linking: which ring is added when, and through which earlier rings it passes.
//!
//! Every link is made once, when the later of its two rings is opened, passed and closed. Cells are
//! added one after another, those of a sheet row by row; within a cell every ring waits until it has
//! something to hang on, where that is possible.

use super::cell::Image;
use super::spec::{Kind, Link};
use super::words::{listed, ring_back, rings_told};
use super::{Pattern, PatternSpec};

/// One ring on its way in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AddRing {
    /// Index of the ring in the cell, from 0.
    pub ring: usize,
    /// Earlier rings that it passes through; none for a ring that is closed and laid ready.
    pub through: Vec<Through>,
    /// Whether it lies beside the ring added before it, as the rings of a pair do.
    pub beside_last: bool,
}

/// An earlier ring that a new one passes through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Through {
    /// Index of the earlier ring in its cell, from 0.
    pub ring: usize,
    /// How many cells and rows back its cell lies: `[0, 0]` is the same cell, `[1, 0]` the one before.
    pub back: Image,
    /// Linking number of the two rings, oriented by their normals.
    pub sign: i8,
    /// Whether the new ring passes through it in the same sense as through the first of the list;
    /// `None` where the two lie so that the question has no plain answer.
    pub like_first: Option<bool>,
}

/// A ring of a piece made from nothing, cells counted from 0.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlacedStep {
    /// Its cell: how many along, how many across.
    pub cell: Image,
    /// Index of the ring in the cell.
    pub ring: usize,
    /// Cell and index of every earlier ring that it passes through.
    pub through: Vec<(Image, usize)>,
}

/// The order of linking of a pattern.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Order {
    kind: Kind,
    steps: Vec<AddRing>,
    /// Words for the size of every ring, by its index; empty where all are alike.
    sizes: Vec<&'static str>,
}

/// Rings whose centres in the start pose are nearer than this share of the main radius lie together.
const BESIDE: f64 = 0.5;
/// Normals whose cosine is less than this point neither the same way nor opposite ways.
const PLAIN_COSINE: f64 = 0.5;

impl Order {
    /// Works out the order from the links.
    ///
    /// Of the rings still to add, the next is the one that passes through most rings already there;
    /// of equals the first in the description.
    ///
    /// # Units
    /// None.
    /// # Validity
    /// Any checked pattern.
    /// # Source
    /// Own rule.
    ///
    /// ```
    /// use linkwright_linkage::pattern::{craft, order::Order, Pattern};
    /// let doubled = Pattern::new(craft::named("double_2in2").unwrap()).unwrap();
    /// let order = Order::of(&doubled);
    /// assert_eq!(order.steps().len(), 2);
    /// assert_eq!(
    ///     order.sentence(0),
    ///     "Ring 1 passes through rings 1 and 2 of the repeat before, the same way through both."
    /// );
    /// assert_eq!(order.sentence(1), "Ring 2 follows the same path as ring 1.");
    /// ```
    pub fn of(pattern: &Pattern) -> Order {
        let spec = pattern.spec();
        let made: Vec<Link> = spec.links.iter().map(|link| link.ahead()).collect();
        let mut left: Vec<usize> = (0..spec.rings.len()).collect();
        let mut there: Vec<usize> = Vec::new();
        let mut steps = Vec::new();
        while !left.is_empty() {
            let holds = |ring: usize| {
                made.iter().filter(|link| earlier_end(link, ring, &there).is_some()).count()
            };
            // `max_by_key` would take the last of equals.
            let most = left.iter().map(|&ring| holds(ring)).max().unwrap_or(0);
            let at = left.iter().position(|&ring| holds(ring) == most).unwrap_or(0);
            let ring = left.remove(at);
            let mut through: Vec<Through> =
                made.iter().filter_map(|link| earlier_end(link, ring, &there)).collect();
            through.sort_by_key(|t| (t.back[1], t.back[0], t.ring));
            tell_senses(pattern, &mut through);
            let centre = |ring: usize| spec.rings[ring].centre;
            let off = |last: &usize| (centre(*last) - centre(ring)).norm();
            let beside_last = there.last().is_some_and(|last| off(last) < BESIDE);
            steps.push(AddRing { ring, through, beside_last });
            there.push(ring);
        }
        Order { kind: pattern.kind(), steps, sizes: size_words(spec) }
    }

    /// The rings of a cell in the order in which they are added.
    pub fn steps(&self) -> &[AddRing] {
        &self.steps
    }

    /// Number of a ring on the card, from 1: its place in the order.
    pub fn number(&self, ring: usize) -> usize {
        self.steps.iter().position(|step| step.ring == ring).map_or(0, |at| at + 1)
    }

    /// What to do with the ring that is added as number `step`, counted from 0, once there are cells
    /// before it; empty if there is no such ring.
    pub fn sentence(&self, step: usize) -> String {
        let Some(this) = self.steps.get(step) else {
            return String::new();
        };
        let mut new = format!("Ring {}", step + 1);
        if let Some(size) = self.sizes.get(this.ring) {
            new.push_str(&format!(" ({size})"));
        }
        if this.through.is_empty() {
            return format!("{new} is closed and laid ready.");
        }
        let before = step.checked_sub(1).and_then(|before| self.steps.get(before));
        if before.is_some_and(|before| before.through == this.through && this.beside_last) {
            return format!("{new} follows the same path as ring {step}.");
        }
        let alone = self.steps.len() == 1 && self.kind == Kind::Chain;
        if alone {
            new = "The new ring".to_owned();
        }
        let other_cells = this.through.iter().any(|one| one.back != [0, 0]);
        let words = |chosen: &[Through]| {
            if alone {
                let told = chosen.iter().map(|one| ring_back(one.back[0]));
                return listed(&told.collect::<Vec<_>>());
            }
            let numbered = chosen.iter().map(|one| (one.back, self.number(one.ring)));
            rings_told(self.kind, &numbered.collect::<Vec<_>>(), other_cells)
        };
        let all = || format!("{new} passes through {}", words(&this.through));
        if before.is_some_and(|before| before.through == this.through) {
            return format!("{} too, apart from ring {step}.", all());
        }
        let senses: Option<Vec<bool>> = this.through.iter().map(|one| one.like_first).collect();
        match senses {
            Some(senses) if senses.len() > 1 && senses.iter().all(|&like| like) => {
                let both = if senses.len() == 2 { "both" } else { "all" };
                format!("{}, the same way through {both}.", all())
            }
            Some(senses) if senses.len() > 1 => {
                let side = |wanted: bool| -> Vec<Through> {
                    let kept =
                        this.through.iter().zip(&senses).filter(|(_, like)| **like == wanted);
                    kept.map(|(one, _)| *one).collect()
                };
                format!(
                    "{new} passes one way through {} and the other way through {}.",
                    words(&side(true)),
                    words(&side(false))
                )
            }
            _ => format!("{}.", all()),
        }
    }

    /// A piece of `along` by `across` cells from nothing (1 across for a chain): each ring in turn, and
    /// through which of the rings already there it passes.
    ///
    /// # Units
    /// Counts.
    /// # Validity
    /// Rings that would pass through cells outside the piece leave those links out.
    /// # Source
    /// The order, cell after cell.
    ///
    /// ```
    /// use linkwright_linkage::pattern::{craft, order::Order, Pattern};
    /// let cable = Pattern::new(craft::named("cable_1in1").unwrap()).unwrap();
    /// let piece = Order::of(&cable).piece(3, 1);
    /// assert_eq!(piece[0].through, []);
    /// assert_eq!(piece[2].through, [([1, 0], 0)]);
    /// ```
    pub fn piece(&self, along: u32, across: u32) -> Vec<PlacedStep> {
        let size = [along, across].map(|cells| i32::try_from(cells).unwrap_or(i32::MAX));
        let inside = |cell: &Image| (0..2).all(|i| (0..size[i]).contains(&cell[i]));
        let cells = (0..size[1]).flat_map(|row| (0..size[0]).map(move |column| [column, row]));
        let mut placed = Vec::new();
        for cell in cells {
            placed.extend(self.steps.iter().map(|step| {
                let through = step.through.iter().map(|one| {
                    (
                        [cell[0].saturating_sub(one.back[0]), cell[1].saturating_sub(one.back[1])],
                        one.ring,
                    )
                });
                PlacedStep {
                    cell,
                    ring: step.ring,
                    through: through.filter(|(earlier, _)| inside(earlier)).collect(),
                }
            }));
        }
        placed
    }
}

/// The earlier ring of a link, if `ring` is the later one while `there` are the rings of its cell
/// that were added before.
fn earlier_end(link: &Link, ring: usize, there: &[usize]) -> Option<Through> {
    let earlier = if link.image != [0, 0] {
        (link.second == ring).then_some(link.first)
    } else if link.second == ring {
        there.contains(&link.first).then_some(link.first)
    } else {
        (link.first == ring && there.contains(&link.second)).then_some(link.second)
    };
    let through =
        |earlier| Through { ring: earlier, back: link.image, sign: link.sign, like_first: None };
    earlier.map(through)
}

/// Which rings are passed in the same sense as the first of them.
///
/// Signs count with the normals, and these may point any way: of two rings the sense is the same if
/// the product of the signs is that of the normals' cosine in the start pose.
fn tell_senses(pattern: &Pattern, through: &mut [Through]) {
    let normal =
        |one: &Through| pattern.start().placed(one.ring, one.back.map(|cells| -cells)).normal;
    let Some((first, sign)) = through.first().map(|one| (normal(one), one.sign)) else {
        return;
    };
    for one in through {
        let cosine = first.dot(normal(one)) * f64::from(sign * one.sign);
        one.like_first = (cosine.abs() > PLAIN_COSINE).then_some(cosine > 0.0);
    }
}

/// Words for the size of every ring of a cell.
fn size_words(spec: &PatternSpec) -> Vec<&'static str> {
    spec.rings.iter().filter_map(|ring| spec.size_word(ring.size)).collect()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::Order;
    use crate::pattern::{Image, Kind, Pattern, craft};

    type End = (Image, usize);

    fn patterns() -> impl Iterator<Item = Pattern> {
        craft::all().into_iter().map(|spec| Pattern::new(spec).expect("a craft pattern"))
    }

    fn sentences(name: &str) -> Vec<String> {
        let pattern = patterns().find(|pattern| pattern.name() == name).expect("known");
        let order = Order::of(&pattern);
        (0..order.steps().len()).map(|step| order.sentence(step)).collect()
    }

    #[test]
    fn following_the_order_makes_every_link_exactly_once() {
        for pattern in patterns() {
            let size: [i32; 2] = match pattern.kind() {
                Kind::Chain => [7, 1],
                Kind::Sheet => [5, 4],
                Kind::Cluster => [1, 1],
            };
            let inside = |cell: &Image| (0..2).all(|i| (0..size[i]).contains(&cell[i]));
            let mut wanted: BTreeMap<[End; 2], u32> = BTreeMap::new();
            for row in 0..size[1] {
                for column in 0..size[0] {
                    for link in &pattern.spec().links {
                        let other = [column + link.image[0], row + link.image[1]];
                        if inside(&other) {
                            let mut ends = [([column, row], link.first), (other, link.second)];
                            ends.sort_unstable();
                            *wanted.entry(ends).or_default() += 1;
                        }
                    }
                }
            }
            let mut made: BTreeMap<[End; 2], u32> = BTreeMap::new();
            let mut there: Vec<End> = Vec::new();
            let [along, across] = size.map(|cells| u32::try_from(cells).expect("small"));
            for step in Order::of(&pattern).piece(along, across) {
                let new = (step.cell, step.ring);
                assert!(!there.contains(&new), "{}: {new:?} twice", pattern.name());
                for earlier in step.through {
                    assert!(there.contains(&earlier), "{}: {earlier:?} is later", pattern.name());
                    let mut ends = [earlier, new];
                    ends.sort_unstable();
                    *made.entry(ends).or_default() += 1;
                }
                there.push(new);
            }
            assert!(wanted.values().all(|&times| times == 1));
            assert_eq!(made, wanted, "{}", pattern.name());
        }
    }

    #[test]
    fn every_ring_of_every_pattern_has_its_sentence() {
        for pattern in patterns() {
            let order = Order::of(&pattern);
            assert_eq!(order.steps().len(), pattern.spec().rings.len());
            for step in 0..order.steps().len() {
                let sentence = order.sentence(step);
                assert!(sentence.ends_with('.') && sentence.len() > 20, "{sentence}");
            }
            assert_eq!(order.sentence(order.steps().len()), "");
        }
    }

    #[test]
    fn a_spiral_and_its_three_stack_sister_differ_in_the_side() {
        // Both pass through the two rings before; the linking numbers are ++ and +-.
        let plain = sentences("spiral_4in1");
        let locked = sentences("three_stack_spiral_4in1");
        assert_ne!(plain, locked);
        let both = "The new ring passes through the last ring and the last ring but one";
        assert!(plain[0].starts_with(both), "{plain:?}");
    }

    #[test]
    fn a_ring_of_a_european_sheet_goes_up_through_two_and_down_through_two() {
        assert_eq!(
            sentences("european_4in1_sheet")[0],
            "Ring 1 passes one way through ring 2 of the repeat before and the other way through \
             ring 2 straight back and ring 2 one to the left in the row before."
        );
    }

    #[test]
    fn pairs_are_told_as_pairs_and_rings_on_either_side_apart() {
        let told = sentences("box");
        assert_eq!(told[1], "Ring 2 follows the same path as ring 1.");
        assert_eq!(told[3], "Ring 4 passes through rings 1 and 2 too, apart from ring 3.");
    }

    #[test]
    fn small_and_large_rings_are_named() {
        let told = sentences("large_and_small");
        assert_eq!(told[0], "Ring 1 (large) passes through ring 2 of the repeat before.");
        assert_eq!(told[1], "Ring 2 (small) passes through ring 1.");
    }
}
