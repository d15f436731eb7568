//! Which check comes first, so that the cause is found soonest.

/// The order in which to check causes of these chances and minutes: falling chance over minutes.
///
/// Of all orders this one has the least [`expected_minutes`]; ties keep their order.
///
/// # Units
/// Chances as shares of one or in proportion, minutes; places in the slices out.
/// # Validity
/// Exactly one cause is there, each check tells for certain, minutes do not depend on the order.
/// Minutes are more than nothing.
/// # Source
/// Exchange of neighbours; `docs/theory/faults.md`, section 3.
///
/// ```
/// use linkwright_calc::fault::order_to_check;
/// // A look that finds 15 in a hundred beats a measurement that finds 45.
/// assert_eq!(order_to_check(&[0.45, 0.15, 0.40], &[3.0, 0.5, 3.0]), [1, 0, 2]);
/// ```
pub fn order_to_check(chances: &[f64], minutes: &[f64]) -> Vec<usize> {
    let rate = |at: usize| chances[at] / minutes[at];
    let mut order: Vec<usize> = (0..chances.len().min(minutes.len())).collect();
    order.sort_by(|one, other| rate(*other).total_cmp(&rate(*one)));
    order
}

/// Minutes until the cause is found, on average, if it is looked for in this order.
///
/// `sum over the order of p_i (t_1 + ... + t_i)`.
///
/// # Units
/// Chances as shares of one, minutes in and out.
/// # Validity
/// As [`order_to_check`].
/// # Source
/// Definition of an expectation; `docs/theory/faults.md`, section 3.
///
/// ```
/// use linkwright_calc::fault::expected_minutes;
/// assert_eq!(expected_minutes(&[0.25, 0.75], &[2.0, 4.0], &[0, 1]), 5.0);
/// assert_eq!(expected_minutes(&[0.25, 0.75], &[2.0, 4.0], &[1, 0]), 4.5);
/// ```
pub fn expected_minutes(chances: &[f64], minutes: &[f64], order: &[usize]) -> f64 {
    let mut spent = 0.0;
    let mut expected = 0.0;
    for &at in order {
        spent += minutes[at];
        expected += chances[at] * spent;
    }
    expected
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{expected_minutes, order_to_check};

    /// Every order of `left`, after `so_far`.
    fn orders(so_far: &[usize], left: &[usize]) -> Vec<Vec<usize>> {
        if left.is_empty() {
            return vec![so_far.to_vec()];
        }
        left.iter()
            .flat_map(|&next| {
                let so_far: Vec<usize> = so_far.iter().copied().chain([next]).collect();
                let left: Vec<usize> = left.iter().copied().filter(|&at| at != next).collect();
                orders(&so_far, &left)
            })
            .collect()
    }

    proptest! {
        #[test]
        fn no_other_order_finds_the_cause_sooner(
            causes in prop::collection::vec((0.0..1.0_f64, 0.1..500.0_f64), 1..6)
        ) {
            let (chances, minutes): (Vec<f64>, Vec<f64>) = causes.into_iter().unzip();
            let all: Vec<usize> = (0..chances.len()).collect();
            let ours = expected_minutes(&chances, &minutes, &order_to_check(&chances, &minutes));
            for order in orders(&[], &all) {
                let theirs = expected_minutes(&chances, &minutes, &order);
                // Rounding of sums of at most a thousand minutes.
                prop_assert!(ours <= theirs + 1e-9, "{order:?}: {theirs} beats {ours}");
            }
        }
    }
}
