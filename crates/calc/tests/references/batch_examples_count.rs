//! The worked examples of the batch interface for counting and odds.
//!
//! Source: the design's batch page, asks `count`, `exact_count_limit`, `odds_of_good_rings`,
//! `coils_needed`; ten printed digits, counts exact.

use linkwright_calc::count::{
    CoilsQuery, GoodRate, RateSharing, SampleQuery, Weighing, chance_of_at_least, coils_needed,
    count_by_weight, exact_count_limit,
};
use linkwright_calc::quantity::Mass;

/// Agreement wanted for closed forms, relative.
const CLOSED: f64 = 1e-6;

fn agrees(found: f64, printed: f64) {
    assert!((found / printed - 1.0).abs() <= CLOSED, "{found} is not {printed}");
}

fn weighing() -> Weighing {
    Weighing {
        net: Mass::from_g(103.2),
        net_uncertainty: Mass::from_g(0.006),
        sample_rings: 50,
        sample: Mass::from_g(6.07),
        sample_uncertainty: Mass::from_g(0.006),
        ring_mass_cv: 0.012,
    }
}

fn nineteen_in_twenty() -> GoodRate {
    GoodRate::new(95.0, 5.0).expect("within limits")
}

#[test]
fn a_lot_is_counted_by_weight_as_printed() {
    let counted = count_by_weight(&weighing()).unwrap();
    agrees(counted.rings, 850.0823723);
    agrees(counted.uncertainty, 1.706495485);
}

#[test]
fn a_lot_up_to_110_rings_is_counted_to_the_ring() {
    let query = SampleQuery { weighing: weighing(), k: 1.96, limit: 0.5 };
    assert_eq!(exact_count_limit(&query).unwrap(), Some(110));
}

#[test]
fn odds_of_fifty_of_fifty_five_are_as_printed() {
    agrees(chance_of_at_least(50, 55, nineteen_in_twenty()).unwrap(), 0.9038364985);
}

#[test]
fn five_hundred_good_rings_take_eleven_coils_at_one_rate_and_ten_at_a_rate_each() {
    let coils = |sharing| {
        coils_needed(&CoilsQuery {
            good_rings: 500,
            turns_per_coil: 60,
            lost_per_coil: 5,
            rate: nineteen_in_twenty(),
            confidence: 0.95,
            sharing,
        })
    };
    assert_eq!(coils(RateSharing::Shared), Ok(11));
    assert_eq!(coils(RateSharing::PerCoil), Ok(10)); // formula page of the design: 99.9 % with 10
}
