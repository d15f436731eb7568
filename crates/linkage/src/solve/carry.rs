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
