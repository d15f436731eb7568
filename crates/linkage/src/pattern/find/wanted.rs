//! The list of links, checked, and the pattern that a pose makes of it.

use super::{FindError, LinkList, MOST_RINGS, Repeat};
use crate::pattern::check::{check_holds, check_links, check_sizes};
use crate::pattern::{Cell, Link, PatternSpec, RingSpec, SizeSpec, measured_links};
use crate::pose::Pose;
use crate::vector::Vec3;

/// The list, checked, with its links told ahead.
pub(super) struct Wanted {
    pub sizes: Vec<SizeSpec>,
    pub rings: Vec<usize>,
    pub ahead: Vec<Link>,
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
        Ok(Wanted {
            sizes: list.sizes.clone(),
            rings: list.rings.clone(),
            ahead: list.links.iter().map(|link| link.ahead()).collect(),
            repeat: list.repeat,
        })
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

const NOWHERE: RingSpec =
    RingSpec { size: 0, centre: Vec3::ZERO, normal: Vec3::new(0.0, 0.0, 1.0) };
