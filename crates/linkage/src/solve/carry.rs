//! Which contacts carry: the forces that hold a taut pose in balance.

use clarabel::algebra::CscMatrix;
use clarabel::solver::{
    DefaultSettingsBuilder, DefaultSolver, IPSolver, SolverStatus, SupportedConeT,
};

use super::climb::Goal;
use super::contact::{Contact, contacts};
use crate::pose::Pose;

/// Rings nearer than this share of the wire beyond touching may carry.
const TOUCHING: f64 = 1e-3;
/// Weight of the forces themselves against the balance: small enough not to spoil it, large enough to
/// choose between equal ways of sharing a load.
const EVENLY: f64 = 1e-6;

/// Contacts of the pose with the force each carries per unit of pull along the goal.
///
/// At the best pose the pull is balanced by contacts that only push: `gain + sum of force times
/// gradient = 0` with forces of at least nought (the conditions of Karush, Kuhn and Tucker). Several
/// contacts may share a load in many ways; the least sum of squares is taken, so that equal contacts
/// get equal shares. What is not balanced, since the pose is a little short of the best, is made as
/// small as can be. Of growing wire the forces are those that lock the rings.
pub(crate) fn carrying(pose: &Pose, wire: f64, goal: Goal) -> Vec<(Contact, f64)> {
    let near = contacts(pose, wire, TOUCHING * wire);
    let mut gain = goal.gain(pose);
    let mut gradients: Vec<Vec<(usize, f64)>> = near
        .iter()
        .map(|contact| {
            let mut gradient = contact.gradient.clone();
            gradient.sort_by_key(|entry| entry.0);
            gradient
        })
        .collect();
    if matches!(goal, Goal::Wire) {
        // The wire is one more unknown, the only one that earns; it takes room from every contact.
        for (gradient, contact) in gradients.iter_mut().zip(&near) {
            gradient.push((gain.len(), -contact.share));
        }
        gain.push(1.0);
    }
    let forces = balanced(gradients, &gain).unwrap_or_else(|| vec![0.0; near.len()]);
    near.into_iter().zip(forces).collect()
}

/// Minimises `|gain + J' f|^2/2 + EVENLY |f|^2/2` over `f >= 0`.
fn balanced(gradients: Vec<Vec<(usize, f64)>>, gain: &[f64]) -> Option<Vec<f64>> {
    let (forces, unknowns) = (gradients.len(), gain.len());
    // Variables: forces, then what is left unbalanced along each unknown.
    let mut columns = gradients;
    for (index, column) in columns.iter_mut().enumerate() {
        column.push((unknowns + index, -1.0));
    }
    columns.extend((0..unknowns).map(|row| vec![(row, -1.0)]));
    let matrix = sparse(&columns, unknowns + forces);
    let mut right: Vec<f64> = gain.iter().map(|gain| -gain).collect();
    right.resize(unknowns + forces, 0.0);
    let weights: Vec<Vec<(usize, f64)>> = (0..forces + unknowns)
        .map(|index| vec![(index, if index < forces { EVENLY } else { 1.0 })])
        .collect();
    let quadratic = sparse(&weights, forces + unknowns);
    let cones = [SupportedConeT::ZeroConeT(unknowns), SupportedConeT::NonnegativeConeT(forces)];
    let settings = DefaultSettingsBuilder::default()
        .verbose(false)
        .presolve_enable(false)
        .max_iter(100)
        .build()
        .ok()?;
    let linear = vec![0.0; forces + unknowns];
    let mut solver =
        DefaultSolver::new(&quadratic, &linear, &matrix, &right, &cones, settings).ok()?;
    solver.solve();
    let solution = &solver.solution;
    matches!(solution.status, SolverStatus::Solved | SolverStatus::AlmostSolved)
        .then(|| solution.x[..forces].to_vec())
}

fn sparse(columns: &[Vec<(usize, f64)>], rows: usize) -> CscMatrix<f64> {
    let mut starts = vec![0];
    let (mut row_of, mut values) = (Vec::new(), Vec::new());
    for column in columns {
        for &(row, value) in column {
            row_of.push(row);
            values.push(value);
        }
        starts.push(row_of.len());
    }
    CscMatrix::new(rows, columns.len(), starts, row_of, values)
}

#[cfg(test)]
mod tests {
    use super::{carrying, contacts};
    use crate::pattern::{Pattern, craft};
    use crate::solve::climb::Goal;
    use crate::solve::{Patient, Pull, Search, taut, thickest_wire};

    fn pattern(name: &str) -> Pattern {
        Pattern::new(craft::named(name).expect("known")).expect("valid")
    }

    #[test]
    fn what_carries_balances_the_pull_on_every_ring() {
        for name in ["double_2in2", "box", "half_persian_3in1", "european_4in1_sheet"] {
            let pattern = pattern(name);
            let wire = 0.8 * pattern_room(&pattern);
            let search = Search { starts: 2, seed: 1 };
            let found = taut(&pattern, wire, Pull::Along, search, &[], &mut Patient);
            let found = found.expect("not stopped").expect("possible");
            let mut left = Goal::Advance.gain(&found.pose);
            for (contact, force) in carrying(&found.pose, wire, Goal::Advance) {
                assert!(force > -1e-9, "{name}: contacts only push");
                for (unknown, slope) in contact.gradient {
                    left[unknown] += force * slope;
                }
            }
            // What is left comes of the pose being a little short of the best.
            let worst = left.iter().fold(0.0_f64, |worst, x| worst.max(x.abs()));
            assert!(worst < 2e-3, "{name}: {worst}");
        }
    }

    #[test]
    fn a_slack_pose_cannot_carry() {
        let cable = pattern("cable_1in1");
        let wire = 0.9 * cable.start_wire();
        assert!(contacts(cable.start(), wire, 1e-3 * wire).is_empty());
        assert!(carrying(cable.start(), wire, Goal::Advance).is_empty());
    }

    #[test]
    fn at_the_limit_the_forces_lock_the_rings_and_add_up_to_one_wire() {
        let search = Search { starts: 1, seed: 1 };
        let found = thickest_wire(&pattern("double_2in2"), search, &mut Patient);
        let found = found.expect("not stopped");
        let sum: f64 = found.carrying.iter().map(|contact| contact.force).sum();
        // Force times share is the price of a wire; all shares are one here.
        assert!((sum - 1.0).abs() < 1e-3, "{sum}");
    }

    fn pattern_room(pattern: &Pattern) -> f64 {
        let search = Search { starts: 1, seed: 1 };
        thickest_wire(pattern, search, &mut Patient).expect("not stopped").room
    }
}
