//! Ways to carry the rings of a cell onto each other so that links fall on links.

use super::draw::chosen;
use super::wanted::Wanted;
use crate::pattern::Image;
use crate::solve::Dice;

/// What becomes of the way to another cell: two columns of whole numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Across([Image; 2]);

impl Across {
    pub(super) const SAME: Across = Across([[1, 0], [0, 1]]);

    /// Of a chain, turned end for end or not.
    pub(super) fn along(sign: i8) -> Across {
        if sign > 0 { Across::SAME } else { Across([[-1, 0], [0, 1]]) }
    }

    /// Of a sheet by its signs along x and y, whose rows are shifted by so many halves of a step.
    pub(super) fn sheet(x: i8, y: i8, half_shears: i32) -> Across {
        match (x > 0, y > 0) {
            (true, true) => Across::SAME,
            (false, false) => Across([[-1, 0], [0, -1]]),
            (true, false) => Across([[1, 0], [half_shears, -1]]),
            (false, true) => Across([[-1, 0], [-half_shears, 1]]),
        }
    }

    /// Whether it turns one of the two ways round and not the other.
    pub(super) const fn is_skew(self) -> bool {
        self.0[0][0] != self.0[1][1]
    }

    pub(super) fn apply(self, image: Image) -> Image {
        [0, 1].map(|n| self.0[0][n] * image[0] + self.0[1][n] * image[1])
    }

    pub(super) fn after(self, first: Across) -> Across {
        Across(first.0.map(|column| self.apply(column)))
    }
}

/// Where a ring goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Place {
    pub ring: usize,
    pub cell: Image,
    /// Whether its normal comes turned round, beyond what the motion does.
    pub flip: i8,
}

/// Where all rings of a cell go. Twice over, every ring is back, whole cells further on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Relabelling {
    pub places: Vec<Place>,
    /// Cells by which twice over moves on.
    pub twice: Image,
}

impl Relabelling {
    /// First the other, then this one, which does `across` to cells.
    pub(super) fn after(&self, across: Across, first: &Relabelling) -> Relabelling {
        let places = first.places.iter().map(|place| {
            let next = self.places[place.ring];
            let cell = across.apply(place.cell);
            Place {
                ring: next.ring,
                cell: [0, 1].map(|n| cell[n] + next.cell[n]),
                flip: place.flip * next.flip,
            }
        });
        Relabelling { places: places.collect(), twice: [0, 0] }
    }

    /// Whether every ring goes where the other takes it, `by` cells further.
    pub(super) fn is_moved(&self, other: &Relabelling, by: Image) -> bool {
        self.places.iter().zip(&other.places).all(|(a, b)| {
            (a.ring, a.flip) == (b.ring, b.flip) && (0..2).all(|n| a.cell[n] - b.cell[n] == by[n])
        })
    }

    /// Whether every ring stays, but for whole cells.
    pub(super) fn is_no_change(&self) -> bool {
        let by = self.places.first().map_or([0, 0], |place| place.cell);
        let stays = |(ring, place): (usize, &Place)| {
            place.ring == ring && place.cell == by && place.flip == 1
        };
        self.places.iter().enumerate().all(stays)
    }
}

/// Places looked at before the dice are taken to have found nothing.
const MOST_LOOKED_AT: u32 = 400;

/// A random relabelling that does `across` to cells and, twice over, brings every ring back.
///
/// `sense` is -1 for mirrors, which change the sign of every link.
pub(super) fn relabelling(
    wanted: &Wanted,
    across: Across,
    sense: i8,
    dice: &mut Dice,
) -> Option<Relabelling> {
    let rings = wanted.rings.len();
    let mut looking = Looking {
        wanted,
        across,
        sense,
        order: walk(wanted),
        places: vec![None; rings],
        left: MOST_LOOKED_AT,
    };
    if !looking.place(0, dice) {
        return None;
    }
    let places: Vec<Place> = looking.places.iter().copied().collect::<Option<_>>()?;
    let first = places.first()?;
    let back = places[first.ring];
    let carried = across.apply(first.cell);
    let twice = [0, 1].map(|n| back.cell[n] + carried[n]);
    Some(Relabelling { places, twice })
}

/// Rings in an order in which each but the first is linked with an earlier one: ring, that ring, and
/// the cell from that one to it.
fn walk(wanted: &Wanted) -> Vec<(usize, usize, Image)> {
    let mut order = vec![(0, 0, [0, 0])];
    let mut next = 0;
    while let Some(&(from, _, _)) = order.get(next) {
        for &(to, image, _) in &wanted.beside[from] {
            if order.iter().all(|(ring, _, _)| *ring != to) {
                order.push((to, from, image));
            }
        }
        next += 1;
    }
    order
}

struct Looking<'a> {
    wanted: &'a Wanted,
    across: Across,
    sense: i8,
    order: Vec<(usize, usize, Image)>,
    places: Vec<Option<Place>>,
    left: u32,
}

impl Looking<'_> {
    /// Places the rings from this one of the order on.
    fn place(&mut self, at: usize, dice: &mut Dice) -> bool {
        let Some(&(ring, from, image)) = self.order.get(at) else {
            return true;
        };
        let mut candidates: Vec<(usize, Image)> = if at == 0 {
            (0..self.wanted.rings.len()).map(|ring| (ring, [0, 0])).collect()
        } else {
            let Some(to) = self.places[from] else {
                return false;
            };
            let carried = self.across.apply(image);
            let beside = self.wanted.beside[to.ring].iter();
            beside
                .map(|&(ring, q, _)| (ring, [0, 1].map(|n| to.cell[n] + q[n] - carried[n])))
                .collect()
        };
        while !candidates.is_empty() && self.left > 0 {
            self.left -= 1;
            let (to, cell) = candidates.swap_remove(chosen(dice, candidates.len()));
            let taken = self.places.iter().flatten().any(|place| place.ring == to);
            if taken || self.wanted.rings[to] != self.wanted.rings[ring] {
                continue;
            }
            let thrown = if chosen(dice, 2) == 0 { 1 } else { -1 };
            for flip in [thrown, -thrown] {
                self.places[ring] = Some(Place { ring: to, cell, flip });
                if self.fits(ring) && self.place(at + 1, dice) {
                    return true;
                }
                self.places[ring] = None;
            }
        }
        false
    }

    /// Whether the newly placed ring goes with those placed before.
    fn fits(&self, ring: usize) -> bool {
        self.comes_back() && self.links_fall_on_links(ring)
    }

    /// Twice over, all rings move on by the same whole cells.
    fn comes_back(&self) -> bool {
        let mut twice: Option<Image> = None;
        for (ring, place) in self.places.iter().enumerate() {
            let Some(place) = place else { continue };
            let Some(next) = self.places[place.ring] else {
                // If another is carried onto this ring, it cannot come back.
                let from = self.places.iter().position(|p| p.is_some_and(|p| p.ring == ring));
                if from.is_some_and(|from| from != place.ring) {
                    return false;
                }
                continue;
            };
            let carried = self.across.apply(place.cell);
            let by = [0, 1].map(|n| next.cell[n] + carried[n]);
            if next.ring != ring || next.flip != place.flip || twice.is_some_and(|t| t != by) {
                return false;
            }
            if self.across.apply(by) != by {
                return false;
            }
            twice = Some(by);
        }
        true
    }

    fn links_fall_on_links(&self, ring: usize) -> bool {
        let Some(place) = self.places[ring] else {
            return false;
        };
        self.wanted.beside[ring].iter().all(|&(other, image, sign)| {
            let Some(to) = self.places[other] else {
                return true;
            };
            let carried = self.across.apply(image);
            let there = [0, 1].map(|n| carried[n] + to.cell[n] - place.cell[n]);
            let found = self.wanted.beside[place.ring]
                .iter()
                .find(|&&(ring, image, _)| ring == to.ring && image == there);
            found.is_some_and(|&(_, _, found)| {
                found == 0 || sign == 0 || found == self.sense * place.flip * to.flip * sign
            })
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::forgotten;
    use super::super::wanted::Wanted;
    use super::{Across, relabelling};
    use crate::pattern::{Link, craft};
    use crate::solve::Dice;

    #[test]
    fn links_fall_on_links_of_their_sign_and_twice_over_all_rings_are_back() {
        let mut dice = Dice::new(7);
        let mut found = 0;
        for spec in craft::all() {
            let wanted = Wanted::new(&forgotten(&spec.name)).expect("a pattern of the craft");
            for across in [Across::SAME, Across::along(-1), Across::sheet(-1, -1, 0)] {
                for sense in [1, -1] {
                    let Some(relabelled) = relabelling(&wanted, across, sense, &mut dice) else {
                        continue;
                    };
                    found += 1;
                    let at = |ring: usize| relabelled.places[ring];
                    let carried = spec.links.iter().map(|link| {
                        let (from, to) = (at(link.first), at(link.second));
                        let way = across.apply(link.image);
                        let image = [0, 1].map(|n| way[n] + to.cell[n] - from.cell[n]);
                        let sign = sense * from.flip * to.flip * link.sign;
                        Link { first: from.ring, second: to.ring, image, sign }.ahead()
                    });
                    let key = |link: &Link| (link.first, link.second, link.image, link.sign);
                    let mut carried: Vec<Link> = carried.collect();
                    let mut given: Vec<Link> = spec.links.iter().map(|link| link.ahead()).collect();
                    carried.sort_by_key(key);
                    given.sort_by_key(key);
                    assert_eq!(carried, given, "{}", spec.name);
                    let twice = relabelled.after(across, &relabelled);
                    assert!(twice.is_no_change(), "{}: {twice:?}", spec.name);
                    assert_eq!(twice.places[0].cell, relabelled.twice);
                }
            }
        }
        assert!(found > 80, "{found}");
    }
}
