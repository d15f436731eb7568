//! The list of links, checked, and the pattern that a pose makes of it.

use super::{FindError, LinkList, MOST_RINGS, Repeat};
use crate::pattern::check::{check_holds, check_links, check_sizes};
use crate::pattern::{Cell, Image, Link, PatternSpec, RingSpec, SizeSpec, measured_links};
use crate::pose::Pose;
use crate::vector::Vec3;

/// The list, checked, with its links told ahead.
pub(super) struct Wanted {
    pub sizes: Vec<SizeSpec>,
    pub rings: Vec<usize>,
    /// Links of every two rings, the lower first: copy of the second, and sign.
    pub between: Vec<Vec<(Image, i8)>>,
    /// Links of every ring, seen from it: ring, copy, sign.
    pub beside: Vec<Vec<(usize, Image, i8)>>,
    pub repeat: Repeat,
}

impl Wanted {
    pub(super) fn new(list: &LinkList) -> Result<Wanted, FindError> {
        let rings = list.rings.len();
        if rings == 0 || rings > MOST_RINGS {
            return Err(FindError::TooManyRings { rings, most: MOST_RINGS });
        }
        let cell = match list.repeat {
            Repeat::Not => Cell::Cluster,
            Repeat::Chain { twist_rad, twist_free } => {
                Cell::Screw { period: 1.0, twist_rad, twist_free }
            }
            Repeat::Sheet => Cell::Lattice { along: 1.0, shear: 0.0, across: 1.0 },
        };
        let signed =
            |link: &Link| Link { sign: if link.sign == 0 { 1 } else { link.sign }, ..*link };
        let spec = PatternSpec {
            name: list.name.clone(),
            title: list.title.clone(),
            linking: list.linking.clone(),
            sizes: list.sizes.clone(),
            rings: list.rings.iter().map(|&size| RingSpec { size, ..NOWHERE }).collect(),
            links: list.links.iter().map(signed).collect(),
            cell,
        };
        check_sizes(&spec)?;
        check_links(&spec)?;
        check_holds(&spec)?;
        let mut between = vec![Vec::new(); rings * rings];
        let mut beside = vec![Vec::new(); rings];
        for link in &list.links {
            let Link { first, second, image, sign } = *link;
            let back = image.map(|cells| -cells);
            beside[first].push((second, image, sign));
            beside[second].push((first, back, sign));
            if first == second {
                between[first * rings + first].push((link.ahead().image, sign));
            } else if first < second {
                between[first * rings + second].push((image, sign));
            } else {
                between[second * rings + first].push((back, sign));
            }
        }
        Ok(Wanted {
            sizes: list.sizes.clone(),
            rings: list.rings.clone(),
            between,
            beside,
            repeat: list.repeat,
        })
    }

    /// So many with few rings a cell, fewer with more: by the `power` of their number.
    pub(super) fn of_few(&self, count: u32, power: u32) -> u32 {
        let rings = u32::try_from(self.rings.len()).unwrap_or(u32::MAX).max(FEW_RINGS);
        let scaled =
            u64::from(count) * u64::from(FEW_RINGS).pow(power) / u64::from(rings).pow(power);
        // One at least, so that a search for which few tries are allowed begins.
        u32::try_from(scaled).unwrap_or(count).max(count.min(1))
    }

    /// The pattern with this pose; signs as they are there.
    pub(super) fn spec(&self, list: &LinkList, pose: &Pose) -> PatternSpec {
        let there = measured_links(pose);
        let signed = |link: &Link| {
            let ahead = link.ahead();
            let same = |l: &&Link| {
                (l.first, l.second, l.image) == (ahead.first, ahead.second, ahead.image)
            };
            Link { sign: there.iter().find(same).map_or(ahead.sign, |l| l.sign), ..ahead }
        };
        let placed = pose.rings.iter().zip(&self.rings).map(|(ring, &size)| RingSpec {
            size,
            centre: ring.circle.centre,
            normal: ring.circle.normal,
        });
        PatternSpec {
            name: list.name.clone(),
            title: list.title.clone(),
            linking: list.linking.clone(),
            sizes: list.sizes.clone(),
            rings: placed.collect(),
            // Signs that were given stay as given, so that the check compares them with the pose.
            links: list
                .links
                .iter()
                .map(|link| if link.sign == 0 { signed(link) } else { *link })
                .collect(),
            cell: pose.cell,
        }
    }
}

/// Rings a cell up to which nothing is cut down.
const FEW_RINGS: u32 = 6;

const NOWHERE: RingSpec =
    RingSpec { size: 0, centre: Vec3::ZERO, normal: Vec3::new(0.0, 0.0, 1.0) };
