//! A pose: where every ring of the cell lies and how the cell repeats, and a straight move of it.

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
            wire_share: ring.wire_share,
        });
        Pose { rings: rings.collect(), cell: self.cell.scaled(factor) }
    }

    /// The copies of the cell that rings within `reach` of each other's wire can belong to.
    pub(crate) fn copies_within(&self, reach: f64) -> Vec<Image> {
        self.cell.copies_within(2.0 * self.arm() + reach, self.spread())
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
                    if apart - circle.radius - first.circle.radius < reach {
                        visit(i, j, image, placed);
                    }
                }
            }
        }
    }
}
