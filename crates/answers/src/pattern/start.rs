//! The start that was found for an order of linking, as one line of numbers to be kept.

use linkwright_linkage::circle::Circle;
use linkwright_linkage::pattern::find::Repeat;
use linkwright_linkage::pattern::{Cell, Pattern};
use linkwright_linkage::pose::{PlacedRing, Pose};
use linkwright_linkage::vector::Vec3;

/// Centre and normal of each ring, then what leads to the next repeat, as the pattern has them: every
/// number in the fewest digits that give it back to the last bit.
pub(super) fn start_as_text(pattern: &Pattern) -> String {
    let spec = pattern.spec();
    let rings = spec.rings.iter().flat_map(|ring| [ring.centre, ring.normal]);
    let mut numbers: Vec<f64> = rings.flat_map(|v| [v.x, v.y, v.z]).collect();
    numbers.extend(cell_as_numbers(spec.cell));
    in_words(&numbers)
}

/// A pose in place, in millimetres, as one line of numbers.
pub(super) fn pose_as_text(pose: &Pose) -> String {
    let rings = pose.rings.iter().flat_map(|ring| [ring.circle.centre, ring.circle.normal]);
    let mut numbers: Vec<f64> = rings.flat_map(|v| [v.x, v.y, v.z]).collect();
    numbers.extend(cell_as_numbers(pose.cell));
    in_words(&numbers)
}

/// The pose of so many rings read back, their radii and wires as given.
pub(super) fn pose_from_text(text: &str, rings: &[(f64, f64)], repeat: Repeat) -> Option<Pose> {
    let (places, cell) = places_and_cell(text, rings.len(), repeat)?;
    let placed = places.into_iter().zip(rings).map(|((centre, normal), &(radius, wire_share))| {
        let circle = Circle { centre, normal: normal.unit()?, radius };
        Some(PlacedRing { circle, wire_share, station: 0.0 })
    });
    Some(Pose { rings: placed.collect::<Option<_>>()?, cell })
}

fn cell_as_numbers(cell: Cell) -> Vec<f64> {
    match cell {
        Cell::Screw { period, twist_rad, .. } => vec![period, twist_rad],
        Cell::Lattice { along, shear, across } => vec![along, shear, across],
        _ => Vec::new(),
    }
}

fn in_words(numbers: &[f64]) -> String {
    numbers.iter().map(f64::to_string).collect::<Vec<_>>().join(" ")
}

/// The numbers read back; `None` if they are not those of so many rings that repeat so.
pub(super) fn places_and_cell(
    text: &str,
    rings: usize,
    repeat: Repeat,
) -> Option<(Vec<(Vec3, Vec3)>, Cell)> {
    let numbers: Vec<f64> =
        text.split_whitespace().map(str::parse).collect::<Result<_, _>>().ok()?;
    if !numbers.iter().all(|number| number.is_finite()) {
        return None;
    }
    let (of_rings, of_cell) = numbers.split_at_checked(6 * rings)?;
    let vector = |at: &[f64]| Vec3::new(at[0], at[1], at[2]);
    let places = of_rings.chunks_exact(6).map(|at| (vector(&at[..3]), vector(&at[3..]))).collect();
    let cell = match (repeat, of_cell) {
        (Repeat::Not, []) => Cell::Cluster,
        (Repeat::Chain { twist_free, .. }, &[period, twist_rad]) => {
            Cell::Screw { period, twist_rad, twist_free }
        }
        (Repeat::Sheet, &[along, shear, across]) => Cell::Lattice { along, shear, across },
        _ => return None,
    };
    Some((places, cell))
}
