//! Patterns: which ring is linked with which, told by a rough pose in thin wire.
//!
//! A table of links does not determine a chain: doubled 2-in-2, box and Byzantine share one. What
//! does is the class of all poses that can be reached from one pose without wires passing through
//! each other. A pattern therefore keeps a start pose, and the table serves as a second check.

mod cell;
mod check;
pub mod craft;
pub mod find;
pub mod order;
mod resize;
mod spec;
mod words;

pub use cell::{Cell, Image, Motion};
pub use check::{PatternError, measured_links, signs_as_they_lie};
pub use spec::{Kind, Link, PatternSpec, RingSpec, SizeSpec};

use crate::pose::{PlacedRing, Pose};

/// A pattern that has been checked: its start pose has the links it claims, with room for wire.
#[derive(Clone, Debug, PartialEq)]
pub struct Pattern {
    spec: PatternSpec,
    start: Pose,
    start_wire: f64,
}

impl Pattern {
    /// Checks a description and keeps it.
    ///
    /// # Units
    /// Lengths of the description are shares of the main ring's centreline radius.
    /// # Validity
    /// Every ring of the start pose apart from every other, links as listed and no others.
    /// # Errors
    /// [`PatternError`] says what is wrong, with the numbers of the rings.
    /// # Source
    /// Own rules; `docs/theory/chain.md`, section 4.
    ///
    /// ```
    /// use linkwright_linkage::pattern::{craft, Pattern};
    /// let mut spec = craft::named("cable_1in1").unwrap();
    /// assert!(Pattern::new(spec.clone()).is_ok());
    /// spec.links[0].sign = 1;
    /// assert_eq!(
    ///     Pattern::new(spec).unwrap_err().to_string(),
    ///     "link 1: ring 1 and ring 1 of copy 1 are said to be linked with sign +1, but the start \
    ///      pose has -1; turn a normal round or correct the sign"
    /// );
    /// ```
    pub fn new(spec: PatternSpec) -> Result<Pattern, PatternError> {
        let (start, start_wire) = check::start_pose(&spec)?;
        Ok(Pattern { spec, start, start_wire })
    }

    /// The description.
    pub const fn spec(&self) -> &PatternSpec {
        &self.spec
    }

    /// Key of the pattern, as in commands and files.
    pub fn name(&self) -> &str {
        &self.spec.name
    }

    /// Chain, sheet or cluster.
    pub const fn kind(&self) -> Kind {
        match self.spec.cell {
            Cell::Cluster => Kind::Cluster,
            Cell::Lattice { .. } => Kind::Sheet,
            Cell::Screw { .. } | Cell::Bend { .. } => Kind::Chain,
        }
    }

    /// The start pose, main ring of radius one.
    pub const fn start(&self) -> &Pose {
        &self.start
    }

    /// Main wire diameter for which the start pose leaves room, main ring of radius one.
    pub const fn start_wire(&self) -> f64 {
        self.start_wire
    }

    /// The pattern with other rings in it: radii and wires as shares of the main ring's.
    ///
    /// One entry per size of the pattern, the main size first and 1 by definition. Sizes that the
    /// rough places take are put there; others are reached by steps, in which rings swell or shrink by
    /// less than the room between them and then make room again, so that none passes through another.
    ///
    /// # Errors
    /// [`PatternError`] if a size is no size, or if the rings block each other on the way.
    ///
    /// ```
    /// use linkwright_linkage::pattern::{craft, Pattern, SizeSpec};
    /// let chain = Pattern::new(craft::named("large_and_small").unwrap()).unwrap();
    /// let tiny = SizeSpec { radius: 0.15, wire: 1.0 };
    /// assert_eq!(chain.with_sizes(&[SizeSpec::MAIN, tiny]).unwrap().spec().sizes[1], tiny);
    /// ```
    pub fn with_sizes(&self, sizes: &[SizeSpec]) -> Result<Pattern, PatternError> {
        let mut spec = self.spec.clone();
        spec.sizes = sizes.to_vec();
        check::check_sizes(&spec)?;
        let in_place = Pattern::new(spec);
        if in_place.is_ok() && resize::fits_in_place(&self.spec, &self.start, sizes) {
            return in_place;
        }
        match resize::resized(&self.spec, &self.start, sizes) {
            Some(resized) => Pattern::new(resized),
            None => in_place,
        }
    }

    /// The same chain described with a cell of `cells` cells; used to bend it and to look for longer
    /// repeats.
    pub fn repeated(&self, cells: u32) -> PatternSpec {
        let count = i32::try_from(cells).unwrap_or(1).max(1);
        let per_cell = self.spec.rings.len();
        let mut spec = self.spec.clone();
        spec.rings.clear();
        spec.links.clear();
        for copy in 0..count {
            for (index, ring) in self.spec.rings.iter().enumerate() {
                let placed = self.start.placed(index, [copy, 0]);
                spec.rings.push(RingSpec {
                    size: ring.size,
                    centre: placed.centre,
                    normal: placed.normal,
                });
            }
        }
        for copy in 0..count {
            let at = |ring: usize, cell: i32| {
                per_cell * usize::try_from(cell.rem_euclid(count)).unwrap_or(0) + ring
            };
            for link in &self.spec.links {
                let target = copy + link.image[0];
                spec.links.push(Link {
                    first: at(link.first, copy),
                    second: at(link.second, target),
                    image: [target.div_euclid(count), link.image[1]],
                    sign: link.sign,
                });
            }
        }
        if let Cell::Screw { period, twist_rad, .. } = &mut spec.cell {
            *period *= f64::from(count);
            *twist_rad *= f64::from(count);
        }
        spec
    }
}

/// Rings of a specification in place.
fn place(spec: &PatternSpec, normals: &[crate::vector::Vec3]) -> Pose {
    let rings = spec.rings.iter().zip(normals).map(|(ring, &normal)| {
        let size = spec.sizes[ring.size];
        PlacedRing {
            circle: crate::circle::Circle { centre: ring.centre, normal, radius: size.radius },
            wire_share: size.wire,
            station: 0.0,
        }
    });
    Pose { rings: rings.collect(), cell: spec.cell }
}
