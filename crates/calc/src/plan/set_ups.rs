//! The order in which to work the lines so that mandrel, blade and wire are changed least.

/// What a line needs set up, as the workshop's own numbers of its mandrel, blade and wire.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SetUp {
    /// Index of the mandrel in the workshop.
    pub mandrel: usize,
    /// Index of the blade in the workshop.
    pub blade: usize,
    /// Index of the kind of wire: same metal, temper and diameter.
    pub wire: usize,
}

/// One way to work a line, with what it costs beside the line's best way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Way {
    /// What has to be set up.
    pub set_up: SetUp,
    /// How much worse than the best way, in changes: 1 is worth one change of a blade.
    pub penalty: f64,
}

/// The order of work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sequence {
    /// Lines in the order to work them, each with the way chosen: (line, way).
    pub steps: Vec<(usize, usize)>,
    /// Mandrels, blades and wires that have to be put on, the first of each included.
    pub changes: u32,
}

/// Most lines that are ordered by trying everything; more are ordered line by line.
pub const LINES_ORDERED_EXACTLY: usize = 11;

/// Orders the lines, and picks a way for each, so that the changes plus the penalties are fewest.
///
/// Between two lines one change is counted for each of mandrel, blade and wire that differs. Up to
/// [`LINES_ORDERED_EXACTLY`] lines the answer is the best there is (dynamic programme over sets of
/// lines); beyond that each next line is the nearest one left. Ties go to the line written first.
///
/// # Units
/// Indices and counts; a penalty is in changes.
/// # Validity
/// Every line has at least one way; a line without one is left out.
/// # Source
/// M. Held and R. M. Karp, "A dynamic programming approach to sequencing problems", J. SIAM 10
/// (1962); from memory.
///
/// ```
/// use linkwright_calc::plan::{sequence, SetUp, Way};
/// let way = |mandrel, blade| vec![Way { set_up: SetUp { mandrel, blade, wire: 0 }, penalty: 0.0 }];
/// // Lines 0 and 2 share mandrel and blade, so line 1 is not worked between them.
/// let order = sequence(&[way(0, 0), way(1, 1), way(0, 0)]);
/// assert_eq!(order.changes, 3 + 2);
/// assert_eq!(order.steps, [(0, 0), (2, 0), (1, 0)]);
/// ```
#[must_use]
pub fn sequence(lines: &[Vec<Way>]) -> Sequence {
    // Every (line, way) pair is a node; a path visits one node of each line.
    let nodes: Vec<(usize, usize)> = lines
        .iter()
        .enumerate()
        .flat_map(|(line, ways)| (0..ways.len()).map(move |way| (line, way)))
        .collect();
    let steps = if lines.len() <= LINES_ORDERED_EXACTLY {
        best_order(lines, &nodes)
    } else {
        nearest_order(lines, &nodes)
    };
    let changes = steps.iter().enumerate().map(|(at, &node)| {
        let before = at.checked_sub(1).map(|at| set_up(lines, steps[at]));
        changes_between(before, set_up(lines, node))
    });
    Sequence { changes: changes.sum(), steps }
}

fn set_up(lines: &[Vec<Way>], (line, way): (usize, usize)) -> SetUp {
    lines[line][way].set_up
}

/// Things to put on when going from one set-up to the next, or from an empty bench.
fn changes_between(before: Option<SetUp>, after: SetUp) -> u32 {
    before.map_or(3, |before| {
        u32::from(before.mandrel != after.mandrel)
            + u32::from(before.blade != after.blade)
            + u32::from(before.wire != after.wire)
    })
}

fn step_cost(lines: &[Vec<Way>], before: Option<(usize, usize)>, node: (usize, usize)) -> f64 {
    let before = before.map(|before| set_up(lines, before));
    f64::from(changes_between(before, set_up(lines, node))) + lines[node.0][node.1].penalty
}

/// Held and Karp: the cheapest way to work what is left, for each set of lines done and each node
/// done last; then the path is read off forwards, the line written first winning ties.
fn best_order(lines: &[Vec<Way>], nodes: &[(usize, usize)]) -> Vec<(usize, usize)> {
    let sets = 1_usize << lines.len();
    // rest[done][last]: cost of the lines not in `done`; one entry per node that may be last.
    let mut rest = vec![vec![0.0; nodes.len()]; sets];
    let next_step = |rest: &[Vec<f64>], done: usize, last: Option<usize>| {
        let cost = |&next: &usize| {
            let before = last.map(|last| nodes[last]);
            step_cost(lines, before, nodes[next]) + rest[done | 1 << nodes[next].0][next]
        };
        // `min_by` keeps the first of equals.
        (0..nodes.len())
            .filter(|&next| done & (1 << nodes[next].0) == 0)
            .map(|next| (next, cost(&next)))
            .min_by(|a, b| a.1.total_cmp(&b.1))
    };
    for done in (1..sets).rev() {
        for last in 0..nodes.len() {
            rest[done][last] = next_step(&rest, done, Some(last)).map_or(0.0, |(_, cost)| cost);
        }
    }
    let mut steps = Vec::new();
    let (mut done, mut last) = (0, None);
    while let Some((next, _)) = next_step(&rest, done, last) {
        steps.push(nodes[next]);
        done |= 1 << nodes[next].0;
        last = Some(next);
    }
    steps
}

/// Always the nearest line left.
fn nearest_order(lines: &[Vec<Way>], nodes: &[(usize, usize)]) -> Vec<(usize, usize)> {
    let mut steps: Vec<(usize, usize)> = Vec::new();
    loop {
        let last = steps.last().copied();
        let left = nodes.iter().filter(|node| steps.iter().all(|done| done.0 != node.0));
        let nearest =
            left.min_by(|a, b| step_cost(lines, last, **a).total_cmp(&step_cost(lines, last, **b)));
        match nearest {
            Some(&node) => steps.push(node),
            None => return steps,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn way(mandrel: usize, blade: usize, wire: usize, penalty: f64) -> Way {
        Way { set_up: SetUp { mandrel, blade, wire }, penalty }
    }

    #[test]
    fn a_slightly_worse_blade_is_taken_when_it_spares_a_change() {
        let lines = [vec![way(0, 0, 0, 0.0)], vec![way(0, 1, 0, 0.0), way(0, 0, 0, 0.3)]];
        assert_eq!(sequence(&lines).steps, [(0, 0), (1, 1)]);
        let lines = [vec![way(0, 0, 0, 0.0)], vec![way(0, 1, 0, 0.0), way(0, 0, 0, 1.2)]];
        assert_eq!(sequence(&lines).steps, [(0, 0), (1, 0)]);
    }

    #[test]
    fn a_line_that_cannot_be_worked_is_left_out() {
        let lines = [vec![way(0, 0, 0, 0.0)], vec![], vec![way(0, 0, 0, 0.0)]];
        assert_eq!(sequence(&lines).steps, [(0, 0), (2, 0)]);
        assert_eq!(sequence(&[]).steps, []);
    }

    #[test]
    fn twenty_lines_of_two_kinds_need_two_set_ups() {
        let lines: Vec<_> = (0..20).map(|line| vec![way(line % 2, line % 2, 0, 0.0)]).collect();
        assert_eq!(sequence(&lines).changes, 3 + 2);
    }

    proptest! {
        #[test]
        fn no_order_by_hand_beats_the_sequence(
            kinds in prop::collection::vec((0_usize..3, 0_usize..2, 0_usize..2), 1..6),
            shuffle in any::<prop::sample::Index>(),
        ) {
            let lines: Vec<_> = kinds.iter().map(|&(m, b, w)| vec![way(m, b, w, 0.0)]).collect();
            let found = sequence(&lines);
            let mut order: Vec<usize> = (0..lines.len()).collect();
            order.rotate_left(shuffle.index(lines.len()));
            let by_hand: u32 = order
                .iter()
                .enumerate()
                .map(|(at, &line)| {
                    let before = at.checked_sub(1).map(|at| lines[order[at]][0].set_up);
                    changes_between(before, lines[line][0].set_up)
                })
                .sum();
            prop_assert!(found.changes <= by_hand);
            prop_assert_eq!(found.steps.len(), lines.len());
        }
    }
}
