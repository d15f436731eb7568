//! The smaller rings that go with a main one in a pattern of several sizes, from what the workshop
//! can make.

use std::sync::Arc;

use linkwright_linkage::pattern::SizeSpec;

use super::given::Readable;
use super::{OwnRing, PartRing};

/// Smaller rings tried with each main ring in a pattern of two sizes: those nearest to the pattern's
/// own proportions that go together with it. Own choice: as many as a jeweller would lay side by side.
pub const NEAREST: usize = 3;

/// A smaller ring may differ from the pattern's own proportions by this factor, ring and wire taken
/// together. Own choice: beyond it the chain no longer looks like its picture.
pub const FAR: f64 = 1.3;

/// What can stand beside a main ring: rings of every size, the main one first.
///
/// In a pattern of two sizes the [`NEAREST`] that go together; in one of more sizes a single set, of
/// each size the nearest that is smaller than the size before.
pub(super) fn companions(
    readable: &Readable,
    main: &Arc<OwnRing>,
    of_the_metal: &[Arc<OwnRing>],
) -> Vec<Vec<PartRing>> {
    let sizes = &readable.pattern.spec().sizes;
    let part = |size: usize, ring: &Arc<OwnRing>| PartRing {
        ring: Arc::clone(ring),
        per_cell: readable.per_cell[size],
    };
    let by_nearness = |size: &SizeSpec| {
        let mut near: Vec<(f64, &Arc<OwnRing>)> = of_the_metal
            .iter()
            .map(|ring| (apart(size, main, ring), ring))
            .filter(|(apart, _)| *apart <= FAR.ln())
            .collect();
        near.sort_by(|a, b| a.0.total_cmp(&b.0));
        near
    };
    if let [_, second] = &sizes[..] {
        return by_nearness(second)
            .into_iter()
            .map(|(_, ring)| vec![part(0, main), part(1, ring)])
            .filter(|parts| readable.takes(parts))
            .take(NEAREST)
            .collect();
    }
    let mut parts = vec![part(0, main)];
    for (at, size) in sizes.iter().enumerate().skip(1) {
        let before_mm = parts.last().map_or(f64::INFINITY, |part| middle_mm(&part.ring));
        let next = by_nearness(size).into_iter().find(|(_, ring)| middle_mm(ring) < before_mm);
        match next {
            Some((_, ring)) => parts.push(part(at, ring)),
            None => return Vec::new(),
        }
    }
    if readable.takes(&parts) { vec![parts] } else { Vec::new() }
}

/// Diameter of the middle line of a closed ring's wire.
fn middle_mm(ring: &OwnRing) -> f64 {
    ring.ring.closed_inside().mm() + ring.ring.wire().diameter().mm()
}

/// How far a ring is from the size a pattern would have beside a main ring: both ratios, as logarithms.
fn apart(size: &SizeSpec, main: &OwnRing, ring: &OwnRing) -> f64 {
    let d_mm = |ring: &OwnRing| ring.ring.wire().diameter().mm();
    let radius = (middle_mm(ring) / middle_mm(main) / size.radius).ln().abs();
    let wire = (d_mm(ring) / d_mm(main) / size.wire).ln().abs();
    radius + wire
}
