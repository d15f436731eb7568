//! How one cell of rings repeats: by a screw, a lattice, a bend, or not at all.

use std::f64::consts::PI;

use crate::vector::{Rotation, Vec3};

/// Which copy of the cell: how many steps along the first and the second way of repeating.
///
/// A chain uses the first number only.
pub type Image = [i32; 2];

const EX: Vec3 = Vec3::new(1.0, 0.0, 0.0);
const EY: Vec3 = Vec3::new(0.0, 1.0, 0.0);
const EZ: Vec3 = Vec3::new(0.0, 0.0, 1.0);

/// The repeating motion with the present values of its parameters, which the solver may change.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Cell {
    /// A few rings on their own.
    Cluster,
    /// A chain along z: every copy is turned about z and moved on.
    Screw {
        /// Advance per cell.
        period: f64,
        /// Turn per cell.
        twist_rad: f64,
        /// Whether the solver may change the turn.
        twist_free: bool,
    },
    /// A sheet in the x-y plane, repeated by `(along, 0)` and `(shear, across)`.
    Lattice {
        /// Advance along a row.
        along: f64,
        /// Sideways step from row to row.
        shear: f64,
        /// Advance from row to row.
        across: f64,
    },
    /// A chain bent in the x-z plane: every copy is turned about y, then moved.
    Bend {
        /// Turn per cell.
        turn_rad: f64,
        /// Shift across, along x.
        shift_x: f64,
        /// Shift along, along z.
        shift_z: f64,
    },
}

/// The rigid motion that takes the cell to one of its copies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Motion {
    /// Turned first,
    pub rotation: Rotation,
    /// then moved.
    pub shift: Vec3,
}

impl Motion {
    /// Where a point goes.
    pub fn place(self, point: Vec3) -> Vec3 {
        self.rotation.turn(point) + self.shift
    }
}

impl Cell {
    /// How many parameters the solver may change.
    pub const fn unknowns(self) -> usize {
        match self {
            Cell::Cluster => 0,
            Cell::Screw { twist_free, .. } => 1 + twist_free as usize,
            Cell::Lattice { .. } | Cell::Bend { .. } => 3,
        }
    }

    /// Motion to copy `image`; a bend is asked for copies ahead only (every pair has one such view).
    pub fn motion(self, image: Image) -> Motion {
        let [q, r] = image.map(f64::from);
        match self {
            Cell::Cluster => Motion { rotation: Rotation::NONE, shift: Vec3::ZERO },
            Cell::Screw { period, twist_rad, .. } => {
                Motion { rotation: Rotation::about(EZ, q * twist_rad), shift: EZ * (q * period) }
            }
            Cell::Lattice { along, shear, across } => Motion {
                rotation: Rotation::NONE,
                shift: EX * (q * along + r * shear) + EY * (r * across),
            },
            Cell::Bend { turn_rad, shift_x, shift_z } => {
                let one = Vec3::new(shift_x, 0.0, shift_z);
                let steps = (0..image[0].abs())
                    .map(|j| Rotation::about(EY, f64::from(j) * turn_rad).turn(one));
                let ahead = steps.fold(Vec3::ZERO, |sum, step| sum + step);
                let rotation = Rotation::about(EY, q * turn_rad);
                // The inverse of `x -> R x + s` is `x -> R' x - R' s`.
                let shift = if image[0] < 0 { -rotation.turn(ahead) } else { ahead };
                Motion { rotation, shift }
            }
        }
    }

    /// Velocity of a point already placed in copy `image`, for unit rate of each parameter in turn.
    ///
    /// Turning parameters are counted as arc at the radius `arm`, so that all unknowns are lengths.
    pub fn velocities(self, image: Image, placed: Vec3, arm: f64) -> [Vec3; 3] {
        let [q, r] = image.map(f64::from);
        match self {
            Cell::Cluster => [Vec3::ZERO; 3],
            Cell::Screw { .. } => [EZ * q, EZ.cross(placed) * (q / arm), Vec3::ZERO],
            Cell::Lattice { .. } => [EX * q, EX * r, EY * r],
            Cell::Bend { turn_rad, shift_x, shift_z } => {
                let one = Vec3::new(shift_x, 0.0, shift_z);
                let turned = placed - self.motion(image).shift;
                let mut by = [EY.cross(turned) * q, Vec3::ZERO, Vec3::ZERO];
                for j in 0..image[0] {
                    let so_far = Rotation::about(EY, f64::from(j) * turn_rad);
                    by[0] += EY.cross(so_far.turn(one)) * f64::from(j);
                    by[1] += so_far.turn(EX);
                    by[2] += so_far.turn(EZ);
                }
                by[0] = by[0] * (1.0 / arm);
                by
            }
        }
    }

    /// Bound on how fast copy `image` turns and on the acceleration of a point of the cell at most
    /// `reach` from the origin that itself moves at `speed`, while the parameters move at `rates`.
    pub fn bounds(
        self,
        image: Image,
        rates: &[f64],
        arm: f64,
        reach: f64,
        speed: f64,
    ) -> (f64, f64) {
        let q = f64::from(image[0].abs());
        match self {
            Cell::Cluster | Cell::Lattice { .. } => (0.0, 0.0),
            Cell::Screw { twist_free, .. } => {
                let turning = if twist_free { q * rates[1].abs() / arm } else { 0.0 };
                (turning, turning * (2.0 * speed + turning * reach))
            }
            Cell::Bend { shift_x, shift_z, .. } => {
                let turn = rates[0].abs() / arm;
                let shifting = rates[1].hypot(rates[2]);
                let one = shift_x.hypot(shift_z) + shifting;
                let turning = q * turn;
                let steps: f64 = (0..image[0].abs())
                    .map(f64::from)
                    .map(|j| j * turn * (2.0 * shifting + j * turn * one))
                    .sum();
                (turning, turning * (2.0 * speed + turning * reach) + steps)
            }
        }
    }

    /// The cell after its parameters moved by `rates` times `fraction`.
    pub fn moved(self, rates: &[f64], arm: f64, fraction: f64) -> Cell {
        let mut cell = self;
        match &mut cell {
            Cell::Cluster => {}
            Cell::Screw { period, twist_rad, twist_free } => {
                *period += rates[0] * fraction;
                if *twist_free {
                    *twist_rad += rates[1] * fraction / arm;
                }
            }
            Cell::Lattice { along, shear, across } => {
                *along += rates[0] * fraction;
                *shear += rates[1] * fraction;
                *across += rates[2] * fraction;
            }
            Cell::Bend { turn_rad, shift_x, shift_z } => {
                *turn_rad += rates[0] * fraction / arm;
                *shift_x += rates[1] * fraction;
                *shift_z += rates[2] * fraction;
            }
        }
        cell
    }

    /// Lengths multiplied by `factor`, angles kept.
    pub fn scaled(self, factor: f64) -> Cell {
        let mut cell = self;
        match &mut cell {
            Cell::Cluster => {}
            Cell::Screw { period, .. } => *period *= factor,
            Cell::Lattice { along, shear, across } => {
                *along *= factor;
                *shear *= factor;
                *across *= factor;
            }
            Cell::Bend { shift_x, shift_z, .. } => {
                *shift_x *= factor;
                *shift_z *= factor;
            }
        }
        cell
    }

    /// Copies whose rings may come within `reach` of the rings of the cell, each pair once.
    ///
    /// `spread` is the extent of the cell's ring centres along x, y, z. The copy `[0, 0]` comes first;
    /// of two opposite copies only the one ahead is listed.
    pub fn copies_within(self, reach: f64, spread: Vec3) -> Vec<Image> {
        // A cell that has collapsed to nothing would need endless copies; 24 see past any real one.
        let count = |reach: f64, step: f64| {
            let copies = (reach / step.abs().max(1e-9)).ceil().clamp(0.0, 24.0);
            #[expect(clippy::cast_possible_truncation, reason = "clamped to a small number")]
            let copies = copies as i32;
            copies
        };
        let mut images = vec![[0, 0]];
        match self {
            Cell::Cluster => {}
            Cell::Screw { period, .. } => {
                images.extend((1..=count(reach + spread.z, period)).map(|q| [q, 0]));
            }
            Cell::Bend { turn_rad, shift_x, shift_z } => {
                // Half a round and a cell, which may itself reach ahead: further copies would close
                // the circle on itself. A chord spans at least 2/pi of its arc there.
                let half_round = count(PI, turn_rad) + 1;
                let spread = spread.norm();
                let near = count((reach + spread) * PI / 2.0, shift_x.hypot(shift_z));
                images.extend((1..=near.min(half_round)).map(|q| [q, 0]));
            }
            Cell::Lattice { along, shear, across } => {
                for r in 0..=count(reach + spread.y, across) {
                    let sideways = f64::from(r) * shear;
                    let most = count(reach + spread.x + sideways.abs(), along);
                    let first = if r == 0 { 1 } else { -most };
                    images.extend((first..=most).map(|q| [q, r]));
                }
            }
        }
        images
    }
}

#[cfg(test)]
mod tests {
    use super::{Cell, Vec3};

    const CELLS: [Cell; 3] = [
        Cell::Screw { period: 1.3, twist_rad: 0.7, twist_free: true },
        Cell::Lattice { along: 1.2, shear: 0.3, across: 2.0 },
        Cell::Bend { turn_rad: 0.4, shift_x: 0.2, shift_z: 1.1 },
    ];

    #[test]
    fn velocities_are_the_derivatives_of_the_motion() {
        let (point, arm, step) = (Vec3::new(0.3, -0.8, 0.5), 2.0, 1e-5);
        for cell in CELLS {
            for image in [[1, 0], [3, 0], [-2, 1], [2, 2]] {
                if image[0] < 0 && matches!(cell, Cell::Bend { .. }) {
                    continue;
                }
                let velocities = cell.velocities(image, cell.motion(image).place(point), arm);
                for unknown in 0..cell.unknowns() {
                    let mut rates = [0.0; 3];
                    rates[unknown] = 1.0;
                    let at = |s: f64| cell.moved(&rates, arm, s).motion(image).place(point);
                    let slope = (at(step) - at(-step)) * (0.5 / step);
                    // Second-order difference of a smooth motion: error of order step^2.
                    assert!(
                        (slope - velocities[unknown]).norm() < 1e-8,
                        "{cell:?} {image:?} {unknown}"
                    );
                }
            }
        }
    }

    #[test]
    fn a_copy_behind_undoes_a_copy_ahead() {
        let point = Vec3::new(0.3, -0.8, 0.5);
        for cell in CELLS {
            let there = cell.motion([2, 0]).place(point);
            let back = cell.motion([-2, 0]).place(there);
            assert!((back - point).norm() < 1e-14, "{cell:?}");
        }
    }

    #[test]
    fn acceleration_stays_within_its_bound() {
        let (point, velocity, arm, h) =
            (Vec3::new(0.3, -0.8, 0.5), Vec3::new(0.1, 0.2, -0.1), 2.0, 1e-3);
        for cell in CELLS {
            let rates = [0.3, -0.2, 0.25];
            for image in [[1, 0], [4, 0]] {
                let at =
                    |s: f64| cell.moved(&rates, arm, s).motion(image).place(point + velocity * s);
                let reach = point.norm() + velocity.norm();
                let (_, bound) = cell.bounds(image, &rates, arm, reach, velocity.norm());
                for s in [0.1, 0.5, 0.9] {
                    let acceleration = (at(s + h) + at(s - h) - at(s) * 2.0) * (1.0 / (h * h));
                    assert!(acceleration.norm() <= bound + 1e-6, "{cell:?} {image:?}");
                }
            }
        }
    }
}
