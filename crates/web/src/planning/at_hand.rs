//! Whether an order can be worked out within a page's turn, or has rings that must be solved first.

use std::sync::Arc;

use linkwright_store::records::RingOrder;
use linkwright_store::{Id, StoreError, View};

use super::{Obstacle, Planned, inputs_of, name_of_plan, plan_order, read};
use crate::error::PageError;
use crate::learning::Taught;
use crate::measured::are_read_without_a_step;
use crate::patterns::{known_patterns, solver};
use crate::state::App;

/// Lets a page go on whose order can be worked out at once. Where rings of it must be solved, that is done
/// beside the pages, one order at a time.
///
/// # Errors
/// [`PageError::BeingWorkedOut`] until it is solved.
pub(crate) fn at_hand(
    app: &App,
    view: &View<'_>,
    taught: &Arc<Taught>,
    id: Id<RingOrder>,
) -> Result<(), PageError> {
    if is_at_hand(view, taught, id)? {
        return Ok(());
    }
    let taught = Arc::clone(taught);
    app.beside("orders", move |_, view| plan_order(view, &taught, id).map(|_| true));
    Err(PageError::BeingWorkedOut { what: RINGS, takes: "some seconds" })
}

/// What is worked out, as the page says it.
const RINGS: &str = "How the rings of this order go together";

/// Whether an order can be worked out without a step of the solver.
pub(crate) fn is_at_hand(
    view: &View<'_>,
    taught: &Taught,
    id: Id<RingOrder>,
) -> Result<bool, StoreError> {
    type Outcome = Result<Planned, Obstacle>;
    if view.already_worked_out::<Outcome>(&name_of_plan(id, taught))?.is_some() {
        return Ok(true);
    }
    let patterns = known_patterns(view)?;
    let mut linked = false;
    for line in view.lines_of(id)? {
        let Some(name) = &line.record.pattern else { continue };
        linked = true;
        if let Ok(pattern) = patterns.find(name)
            && !are_read_without_a_step(view, &pattern)?
        {
            return Ok(false);
        }
    }
    if !linked {
        return Ok(true);
    }
    let idle = solver(view).without_a_step();
    let patterns = (*patterns).clone().solved_by(idle.clone());
    if let Ok(inputs) = inputs_of(view, id, None)?
        && let Ok((order, workshop, metals)) = read(&inputs, &patterns)
    {
        // Without trials: they say nothing of how rings are linked.
        let _ = order.plan(&workshop, &metals, None);
    }
    Ok(!idle.has_missed())
}
