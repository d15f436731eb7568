//! The program behind every step, handed to the interior-point solver of the `clarabel` crate.

use clarabel::algebra::CscMatrix;
use clarabel::solver::{
    DefaultSettingsBuilder, DefaultSolver, IPSolver, SolverStatus, SupportedConeT,
};

use super::contact::Contact;

/// What one step is to achieve.
pub(crate) struct Program<'a> {
    /// Value per unit of each unknown; all zero for growing wire.
    pub gain: &'a [f64],
    /// Contacts to respect.
    pub contacts: &'a [Contact],
    /// Wire diameter at which the contacts are to be respected.
    pub wire: f64,
    /// Bound on every unknown.
    pub box_half_width: f64,
    /// Price of a unit of wire by which contacts fall short.
    pub price: f64,
    /// Whether room beyond the wire earns the same price: growing wire.
    pub reward_room: bool,
    /// Price of half a squared unit of every unknown: what is free to move stays where it is.
    pub caution: f64,
    /// A slope along which the step must not move.
    pub hold: Option<&'a [f64]>,
}

/// The best step of a [`Program`].
pub(crate) struct Solved {
    /// One value per unknown.
    pub step: Vec<f64>,
    /// Wire by which contacts still fall short, to first order; negative if there is room.
    pub shortfall: f64,
    /// Force each contact carries, per unit of the objective.
    pub forces: Vec<f64>,
}

/// Contacts further apart than so many boxes are asked only once a step comes near them.
const ASKED_AT_FIRST: f64 = 0.5;
/// A contact is broken if it falls short by more than so many boxes; then all that come as near as this
/// are asked too.
const BROKEN: f64 = 1e-7;
const NEARLY_BROKEN: f64 = 0.2;

/// Maximises `gain . x - price * s - caution/2 |x|^2` subject to `f + J x >= share * (wire - s)`,
/// `|x| <= box` and `hold . x = 0`.
///
/// Few of the contacts within reach of a large box stop the step. The program is solved with the nearest
/// and again with those it broke, until it breaks none: the same answer, sooner.
///
/// Returns `None` if the solver gives up, which a caller answers with a smaller box.
pub(crate) fn solve(program: &Program<'_>) -> Option<Solved> {
    let scale = program.box_half_width;
    let spare = |contact: &Contact| contact.closest.distance - contact.share * program.wire;
    let (mut asked, mut left): (Vec<usize>, Vec<usize>) = (0..program.contacts.len())
        .partition(|&at| spare(&program.contacts[at]) <= ASKED_AT_FIRST * scale);
    loop {
        let solved = solve_asked(program, &asked)?;
        let spare_after = |&at: &usize| {
            let contact = &program.contacts[at];
            let slopes = contact.gradient.iter();
            let moved: f64 = slopes.map(|&(unknown, slope)| slope * solved.step[unknown]).sum();
            spare(contact) + moved + contact.share * solved.shortfall
        };
        if left.iter().all(|at| spare_after(at) >= -BROKEN * scale) {
            return Some(solved);
        }
        let (near, far) = left.into_iter().partition(|at| spare_after(at) < NEARLY_BROKEN * scale);
        asked.extend::<Vec<usize>>(near);
        left = far;
    }
}

/// As [`solve`], with some of the contacts only; the others carry nothing.
fn solve_asked(program: &Program<'_>, asked: &[usize]) -> Option<Solved> {
    let unknowns = program.gain.len();
    let rows = asked.len();
    let scale = program.box_half_width;

    // Unknowns are counted in units of the box, so that the solver sees numbers near one; so is `s`.
    let mut columns: Vec<Vec<(usize, f64)>> = vec![Vec::with_capacity(rows); unknowns + 1];
    let mut right = Vec::with_capacity(rows + 2 * unknowns + 2);
    for (row, contact) in asked.iter().map(|&at| &program.contacts[at]).enumerate() {
        for &(unknown, value) in &contact.gradient {
            columns[unknown].push((row, -value));
        }
        columns[unknowns].push((row, -contact.share));
        right.push((contact.closest.distance - contact.share * program.wire) / scale);
    }
    for (unknown, column) in columns.iter_mut().enumerate().take(unknowns) {
        column.push((rows + 2 * unknown, 1.0));
        column.push((rows + 2 * unknown + 1, -1.0));
        right.extend([1.0, 1.0]);
    }
    // `s >= 0`, or only bounded far off when room is rewarded.
    let slack_low = if program.reward_room { 1e3 } else { 0.0 };
    columns[unknowns].push((rows + 2 * unknowns, -1.0));
    right.push(slack_low);
    let bounded = right.len();
    if let Some(hold) = program.hold {
        for (column, &slope) in columns.iter_mut().zip(hold) {
            column.push((bounded, slope));
        }
        right.push(0.0);
    }

    let mut starts = vec![0];
    let (mut row_of, mut values) = (Vec::new(), Vec::new());
    for column in &columns {
        for &(row, value) in column {
            row_of.push(row);
            values.push(value);
        }
        starts.push(row_of.len());
    }
    let matrix = CscMatrix::new(right.len(), unknowns + 1, starts, row_of, values);
    let quadratic = CscMatrix::new(
        unknowns + 1,
        unknowns + 1,
        (0..=unknowns).chain([unknowns]).collect(),
        (0..unknowns).collect(),
        vec![program.caution * scale; unknowns],
    );
    let mut linear: Vec<f64> = program.gain.iter().map(|gain| -gain).collect();
    linear.push(program.price);

    let settings = DefaultSettingsBuilder::default()
        .verbose(false)
        .presolve_enable(false)
        .max_iter(60)
        .iterative_refinement_enable(false)
        .equilibrate_enable(false)
        .tol_gap_abs(1e-7)
        .tol_gap_rel(1e-7)
        .tol_feas(1e-8)
        .build()
        .ok()?;
    let cones = [
        SupportedConeT::NonnegativeConeT(bounded),
        SupportedConeT::ZeroConeT(right.len() - bounded),
    ];
    let mut solver =
        DefaultSolver::new(&quadratic, &linear, &matrix, &right, &cones, settings).ok()?;
    solver.solve();
    let solution = &solver.solution;
    if !matches!(solution.status, SolverStatus::Solved | SolverStatus::AlmostSolved) {
        return None;
    }
    let mut forces = vec![0.0; program.contacts.len()];
    for (&at, &force) in asked.iter().zip(&solution.z) {
        forces[at] = force;
    }
    Some(Solved {
        step: solution.x[..unknowns].iter().map(|x| x * scale).collect(),
        shortfall: solution.x[unknowns] * scale,
        forces,
    })
}

#[cfg(test)]
mod tests {
    use super::{Program, solve, solve_asked};
    use crate::pattern::{Pattern, craft};
    use crate::solve::contact::{contacts, room};

    #[test]
    fn asking_the_nearest_contacts_first_earns_what_asking_all_earns() {
        let mut spared = 0;
        for spec in craft::all() {
            let pattern = Pattern::new(spec).expect("valid");
            let start = pattern.start();
            let wire = 0.9 * room(start);
            let gain: Vec<f64> = (0..start.unknowns()).map(|n| (n as f64).sin()).collect();
            for box_half_width in [0.02, 0.2] {
                let program = Program {
                    gain: &gain,
                    contacts: &contacts(start, wire, 4.0 * box_half_width),
                    wire,
                    box_half_width,
                    price: 100.0,
                    reward_room: false,
                    caution: 0.5,
                    hold: None,
                };
                let all: Vec<usize> = (0..program.contacts.len()).collect();
                let [few, all] = [solve(&program), solve_asked(&program, &all)]
                    .map(|solved| solved.expect("small programs are solved"));
                for (one, other) in few.step.iter().zip(&all.step) {
                    let off = (one - other).abs() / box_half_width;
                    assert!(off < 1e-3, "{}, box {box_half_width}: {off}", pattern.name());
                }
                spared += few.forces.iter().filter(|force| **force == 0.0).count();
            }
        }
        assert!(spared > 100, "{spared}");
    }
}
