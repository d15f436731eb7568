//! The linear program behind every step, handed to the interior-point solver of the `clarabel` crate.

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

/// Maximises `gain . x - price * s` subject to `f + J x >= share * (wire - s)`, `|x| <= box` and
/// `hold . x = 0`.
///
/// Returns `None` if the solver gives up, which a caller answers with a smaller box.
pub(crate) fn solve(program: &Program<'_>) -> Option<Solved> {
    let unknowns = program.gain.len();
    let rows = program.contacts.len();
    let scale = program.box_half_width;

    // Unknowns are counted in units of the box, so that the solver sees numbers near one; so is `s`.
    let mut columns: Vec<Vec<(usize, f64)>> = vec![Vec::with_capacity(rows); unknowns + 1];
    let mut right = Vec::with_capacity(rows + 2 * unknowns + 2);
    for (row, contact) in program.contacts.iter().enumerate() {
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
    let quadratic = CscMatrix::zeros((unknowns + 1, unknowns + 1));
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
    Some(Solved {
        step: solution.x[..unknowns].iter().map(|x| x * scale).collect(),
        shortfall: solution.x[unknowns] * scale,
        forces: solution.z[..rows].to_vec(),
    })
}
