//! The order in which causes are checked agrees with the list they were taken from.
//!
//! Source: the project's list of faults, a judgement of the trade: "rows are in the best order to
//! check: share divided by minutes (0.5, 3, 15, 60, 480)"; put in that order by whoever wrote it,
//! without this program. Rows of equal quotient may stand either way.

use linkwright_calc::fault::{expected_minutes, order_to_check, symptoms};

#[test]
fn all_22_symptoms_are_checked_in_the_order_of_the_list() {
    assert_eq!(symptoms().len(), 22);
    for symptom in symptoms() {
        let chances: Vec<f64> =
            symptom.causes.iter().map(|cause| cause.share_percent / 100.0).collect();
        let minutes: Vec<f64> = symptom.causes.iter().map(|cause| cause.effort.minutes()).collect();
        let as_listed: Vec<usize> = (0..symptom.causes.len()).collect();
        assert_eq!(order_to_check(&chances, &minutes), as_listed, "{}", symptom.code);
        let mut backwards = as_listed.clone();
        backwards.reverse();
        let (ours, theirs) = (
            expected_minutes(&chances, &minutes, &as_listed),
            expected_minutes(&chances, &minutes, &backwards),
        );
        assert!(ours < theirs, "{}", symptom.code);
    }
}
