//! The ring parts of the worked tasks T1 (chain to length) and T2 (class kits).
//!
//! Source: the design's list of needs; numbers invented there, worked by hand; printed digits.

use linkwright_calc::coil::Pitch;
use linkwright_calc::count::{KitQuery, kit_check};
use linkwright_calc::quantity::{Density, Length, Mass};
use linkwright_calc::ring::{Ring, RingInput, StraightChain};
use linkwright_calc::slit::Kerf;
use linkwright_calc::wire::Wire;

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

/// Pitch is 1.01 wires throughout the tasks.
fn ring(d_mm: f64, id_mm: f64, k_mm: f64) -> Ring {
    Ring::cut(RingInput {
        wire: Wire::new(mm(d_mm)).expect("within limits"),
        coil_inside: mm(id_mm),
        kerf: Kerf::new(mm(k_mm)).expect("within limits"),
        pitch: Pitch::new(mm(1.01 * d_mm)).expect("within limits"),
    })
    .expect("within limits")
}

#[test]
fn t1_ring_closes_to_4_071_and_weighs_0_1354() {
    let ring = ring(1.02, 4.14, 0.25);
    assert!((ring.closed_inside().mm() - 4.071).abs() <= 0.0005);
    assert!((ring.aspect_ratio_as_wound() - 4.06).abs() <= 0.005);
    assert!((ring.aspect_ratio() - 3.99).abs() <= 0.005);
    assert!((ring.mass(Density::from_g_cm3(10.36)).g() - 0.1354).abs() <= 0.00005);
    // 118 rings good and their cuts: 0.25 g of dust, chain of 107 rings 14.49 g.
    assert!((118.0 * ring.kerf_dust(Density::from_g_cm3(10.36)).g() - 0.25).abs() <= 0.005);
    assert!((107.0 * ring.mass(Density::from_g_cm3(10.36)).g() - 14.49).abs() <= 0.005);
}

#[test]
fn t1_chain_offers_107_and_108_and_never_the_naive_counts() {
    let closed = ring(1.02, 4.14, 0.25).closed_inside();
    let chain = StraightChain::new(Wire::new(mm(1.02)).unwrap(), closed, mm(12.0)).unwrap();
    let offer = chain.rings_for_length(mm(450.0)).unwrap();
    let below = offer.below.unwrap();
    assert_eq!((below.rings, offer.above.rings), (107, 108));
    assert!((below.length.mm() - 449.6).abs() <= 0.05);
    assert!((offer.above.length.mm() - 453.7).abs() <= 0.05);
    assert_eq!(offer.nearest(mm(450.0)).rings, 107);
    // The mistakes the task warns of: the unclosed ring gives 105, the mandrel 109.
    let naive = |inside_mm: f64| ((450.0 - 12.0 - 2.0 * 1.02) / inside_mm).round();
    assert!((naive(4.14) - 105.0).abs() < 0.5 && (naive(4.00) - 109.0).abs() < 0.5);
}

#[test]
fn t2_a_scale_of_a_tenth_sees_a_missing_ring_and_one_of_a_gram_does_not() {
    let ring = ring(1.29, 5.18, 0.30);
    assert!((ring.closed_inside().mm() - 5.098).abs() <= 0.0005);
    let mass = ring.mass(Density::from_g_cm3(8.94));
    assert!((mass.g() - 0.2345).abs() <= 0.00005);
    let check = |step_g| {
        kit_check(&KitQuery {
            rings: 102,
            ring: mass,
            ring_mass_cv: 0.01, // as the stock of T5; T2 itself gives none
            scale_step: Mass::from_g(step_g),
            k: 1.96,
        })
        .unwrap()
    };
    assert!((check(0.1).mass.g() - 23.92).abs() <= 0.005);
    assert!((100.0 * check(0.1).one_ring_share - 0.98).abs() <= 0.005);
    assert!(check(0.1).shows_a_missing_ring);
    assert!(!check(1.0).shows_a_missing_ring);
}
