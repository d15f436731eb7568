//! What would do where the rings asked for do not go together.

use linkwright_answers::chain::ChainAnswer;
use linkwright_answers::printout::both_lengths;

use super::asked::Asked;
use super::question::size_typed;
use super::rods::RodRing;
use super::show::called;

/// Makers leave this much above the smallest aspect ratio. Common practice, no source.
const LEFT_BY_MAKERS: [f64; 2] = [0.1, 0.3];

/// The ways out: a larger ring, a rod that gives one, a thinner wire.
pub(super) struct WaysOut {
    /// The smallest ring, and what makers leave beyond it.
    pub(super) ring: [String; 2],
    /// Name, address and ring of the first rod whose ring goes.
    pub(super) rod: Option<[String; 3]>,
    /// Whether any rod's ring is known, so that it can be said that none goes.
    pub(super) has_rods: bool,
    /// The thickest wire for the same ring.
    pub(super) wire: String,
    /// Whether there are other ring sizes, which grow along.
    pub(super) has_sizes: bool,
}

impl WaysOut {
    /// `None` where the rings go together.
    pub(super) fn of(answer: &ChainAnswer, rods: &[RodRing], asked: &Asked) -> Option<WaysOut> {
        if answer.possible() {
            return None;
        }
        let main = answer.rings[0].ring;
        let (wire_mm, inside_mm) = (main.wire().diameter().mm(), main.closed_inside().mm());
        let least = answer.linked.aspect_ratio_min;
        let rod = first_that_goes(rods, least * wire_mm, wire_mm).map(|at| {
            let rod = &rods[at];
            [
                called(&rod.name, rod.rod),
                asked_of(asked, rod),
                format!("{}, {}", both_lengths(rod.closed.mm()), rod.open.basis.word()),
            ]
        });
        let [low, high] = LEFT_BY_MAKERS.map(|more| (least + more) * wire_mm);
        Some(WaysOut {
            ring: [rounded_up(least * wire_mm), format!("{low:.2} to {high:.2} mm")],
            rod,
            has_rods: !rods.is_empty(),
            wire: both_lengths((1000.0 * inside_mm / least).floor() / 1000.0),
            has_sizes: answer.rings.len() > 1,
        })
    }
}

/// The least size, never below it once it is rounded for show.
fn rounded_up(mm: f64) -> String {
    both_lengths((1000.0 * mm).ceil() / 1000.0)
}

/// The first rod whose ring goes without being stiff, or else the first whose ring goes at all; rods stand
/// by the size of their rings.
pub(super) fn first_that_goes(rods: &[RodRing], least_mm: f64, wire_mm: f64) -> Option<usize> {
    let from = |mm: f64| rods.iter().position(|rod| rod.closed.mm() >= mm);
    from(least_mm + LEFT_BY_MAKERS[0] * wire_mm).or_else(|| from(least_mm))
}

/// The page with the ring off a rod.
pub(super) fn asked_of(asked: &Asked, rod: &RodRing) -> String {
    asked
        .clone()
        .with("inside", &size_typed(rod.closed.mm()))
        .with("state", "closed")
        .address("/chain/pattern")
}

#[cfg(test)]
mod tests {
    use linkwright_calc::basis::{Answer, Basis};
    use linkwright_calc::quantity::Length;

    use super::{RodRing, first_that_goes};

    #[test]
    fn a_rod_whose_ring_is_stiff_is_named_only_where_no_other_goes() {
        let rod = |mm: f64| {
            let closed = Length::from_mm(mm);
            let open = Answer { value: closed, basis: Basis::tried(1), cautions: Vec::new() };
            RodRing { name: mm.to_string(), rod: closed, open, closed }
        };
        let rods = [rod(3.0), rod(3.35), rod(3.6)];
        assert_eq!(first_that_goes(&rods, 3.3, 1.0), Some(2));
        assert_eq!(first_that_goes(&rods[..2], 3.3, 1.0), Some(1));
        assert_eq!(first_that_goes(&rods[..1], 3.3, 1.0), None);
    }
}
