//! A pose: where every ring of the cell lies and how the cell repeats, and a straight move of it.

use std::f64::consts::PI;

use crate::circle::Circle;
use crate::pattern::{Cell, Image};
use crate::vector::{Rotation, Vec3};

/// One ring in place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlacedRing {
    /// Its centreline.
    pub circle: Circle,
    /// Its wire diameter as a share of the main wire.
    pub wire_share: f64,
    /// Where along the chain it belongs, in cells; of account only once the chain is bent, see
    /// `within_half_a_round`.
    pub station: f64,
}

/// The rings of one cell in place, and how the cell repeats.
#[derive(Clone, Debug, PartialEq)]
pub struct Pose {
    /// One entry per ring, in the order of the pattern.
    pub rings: Vec<PlacedRing>,
    /// The repeating motion.
    pub cell: Cell,
}

/// Unknowns per ring: three of the centre, two of the normal. Spin about the normal moves nothing.
pub(crate) const PER_RING: usize = 5;

/// A straight move in the unknowns of a pose, all of them lengths.
///
/// Per ring: displacement of the centre (3) and arcs of its two rotations (2), that is angle times
/// radius, about the frame of its normal; then the parameters of the cell.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Step(pub(crate) Vec<f64>);

impl Step {
    pub(crate) fn centre(&self, ring: usize) -> Vec3 {
        let at = PER_RING * ring;
        Vec3::new(self.0[at], self.0[at + 1], self.0[at + 2])
    }

    /// Rotation vector of a ring, of which the length is the angle.
    pub(crate) fn rotation(&self, ring: usize, circle: Circle) -> Vec3 {
        let [first, second] = circle.normal.frame();
        let at = PER_RING * ring + 3;
        (first * self.0[at] + second * self.0[at + 1]) * (1.0 / circle.radius)
    }

    /// How far a point of a ring moves by the turning alone, at most: its rotation as an arc.
    pub(crate) fn tip(&self, ring: usize) -> f64 {
        let at = PER_RING * ring + 3;
        self.0[at].hypot(self.0[at + 1])
    }

    pub(crate) fn cell(&self, rings: usize) -> &[f64] {
        &self.0[PER_RING * rings..]
    }
}

impl Pose {
    /// How many unknowns the solver may change.
    pub(crate) fn unknowns(&self) -> usize {
        PER_RING * self.rings.len() + self.cell.unknowns()
    }

    /// Radius that turns the angles of the cell into arcs: that of the largest ring.
    pub(crate) fn arm(&self) -> f64 {
        self.rings.iter().map(|ring| ring.circle.radius).fold(0.0, f64::max)
    }

    /// Extent of the ring centres along the three axes.
    pub(crate) fn spread(&self) -> Vec3 {
        let centres = || self.rings.iter().map(|ring| ring.circle.centre);
        let along = |axis: fn(Vec3) -> f64| {
            let high = centres().map(axis).fold(f64::NEG_INFINITY, f64::max);
            let low = centres().map(axis).fold(f64::INFINITY, f64::min);
            high - low
        };
        Vec3::new(along(|c| c.x), along(|c| c.y), along(|c| c.z))
    }

    /// Ring `ring` of copy `image`.
    pub fn placed(&self, ring: usize, image: Image) -> Circle {
        let motion = self.cell.motion(image);
        let circle = self.rings[ring].circle;
        Circle {
            centre: motion.place(circle.centre),
            normal: motion.rotation.turn(circle.normal),
            radius: circle.radius,
        }
    }

    /// Wire share that the centrelines of two rings keep apart: the mean of theirs.
    pub(crate) fn share(&self, first: usize, second: usize) -> f64 {
        0.5 * (self.rings[first].wire_share + self.rings[second].wire_share)
    }

    /// The pose after `fraction` of a straight move; normals turn at an even rate.
    pub(crate) fn moved(&self, step: &Step, fraction: f64) -> Pose {
        let mut rings = self.rings.clone();
        for (index, ring) in rings.iter_mut().enumerate() {
            let circle = &mut ring.circle;
            let rotation = step.rotation(index, *circle) * fraction;
            circle.centre += step.centre(index) * fraction;
            if let Some(axis) = rotation.unit() {
                let turned = Rotation::about(axis, rotation.norm()).turn(circle.normal);
                // Renormalised so that rounding does not pile up over thousands of moves.
                circle.normal = turned.unit().unwrap_or(circle.normal);
            }
        }
        let cell = self.cell.moved(step.cell(self.rings.len()), self.arm(), fraction);
        Pose { rings, cell }
    }

    /// The same pose enlarged `factor` times.
    pub fn scaled(&self, factor: f64) -> Pose {
        let rings = self.rings.iter().map(|ring| PlacedRing {
            circle: Circle {
                centre: ring.circle.centre * factor,
                normal: ring.circle.normal,
                radius: ring.circle.radius * factor,
            },
            ..*ring
        });
        Pose { rings: rings.collect(), cell: self.cell.scaled(factor) }
    }

    /// The same chain or sheet told with `cells` cells along as one.
    pub(crate) fn repeated(&self, cells: u32) -> Pose {
        let count = i32::try_from(cells).unwrap_or(1).max(1);
        let copies = (0..count).flat_map(|copy| {
            self.rings.iter().enumerate().map(move |(index, ring)| PlacedRing {
                circle: self.placed(index, [copy, 0]),
                ..*ring
            })
        });
        let mut cell = self.cell;
        match &mut cell {
            Cell::Screw { period, twist_rad, .. } => {
                *period *= f64::from(count);
                *twist_rad *= f64::from(count);
            }
            Cell::Lattice { along, .. } => *along *= f64::from(count),
            Cell::Cluster | Cell::Bend { .. } => return self.clone(),
        }
        Pose { rings: copies.collect(), cell }
    }

    /// The copies of the cell that rings within `reach` of each other's wire can belong to.
    pub(crate) fn copies_within(&self, reach: f64) -> Vec<Image> {
        self.cell.copies_within(2.0 * self.arm() + reach, self.spread())
    }

    /// Whether two rings of a bent chain are at most half a round apart along it.
    ///
    /// Others are not kept apart: a bend stands for a piece of chain, and two turns of a coil that lie
    /// in one place are no piece. Of a chain that is not bent, all rings count.
    pub(crate) fn within_half_a_round(&self, first: usize, second: usize, image: Image) -> bool {
        let Cell::Bend { turn_rad, .. } = self.cell else {
            return true;
        };
        let apart = f64::from(image[0]) + self.rings[second].station - self.rings[first].station;
        apart.abs() * turn_rad.abs() <= PI
    }

    /// Net turn of the cell about the way it runs, as a slope by each unknown: its angular momentum if
    /// rings were hoops of equal mass. `None` for a cell that is not bent, which may turn as it likes.
    ///
    /// A strip that is bent over its edge would rather roll over onto its face; a move with no net turn
    /// keeps it on edge.
    pub(crate) fn roll(&self) -> Option<Vec<f64>> {
        if !matches!(self.cell, Cell::Bend { .. }) {
            return None;
        }
        let mut slope = vec![0.0; self.unknowns()];
        let count = self.rings.len() as f64;
        let sum = self.rings.iter().fold(Vec3::ZERO, |sum, ring| sum + ring.circle.centre);
        let middle = sum * (1.0 / count);
        for (ring, by) in self.rings.iter().zip(slope.chunks_exact_mut(PER_RING)) {
            let Circle { centre, normal, radius } = ring.circle;
            let arm = centre - middle;
            let [first, second] = normal.frame();
            // A hoop turned about a diameter has half the inertia of all its mass at the radius.
            let turns = [-arm.y, arm.x, 0.0, 0.5 * radius * first.z, 0.5 * radius * second.z];
            by.copy_from_slice(&turns);
        }
        Some(slope)
    }

    /// Visits every pair of rings that may be within `reach`, each once: ring, ring, copy of the second.
    pub(crate) fn visit_pairs(
        &self,
        reach: f64,
        mut visit: impl FnMut(usize, usize, Image, Circle),
    ) {
        for image in self.copies_within(reach) {
            let motion = self.cell.motion(image);
            let home = image == [0, 0];
            for (j, second) in self.rings.iter().enumerate() {
                let circle = second.circle;
                let centre = motion.place(circle.centre);
                let placed = Circle {
                    centre,
                    normal: motion.rotation.turn(circle.normal),
                    radius: circle.radius,
                };
                let until = if home { j } else { self.rings.len() };
                for (i, first) in self.rings[..until].iter().enumerate() {
                    let apart = (centre - first.circle.centre).norm();
                    let near = apart - circle.radius - first.circle.radius < reach;
                    if near && self.within_half_a_round(i, j, image) {
                        visit(i, j, image, placed);
                    }
                }
            }
        }
    }
}
