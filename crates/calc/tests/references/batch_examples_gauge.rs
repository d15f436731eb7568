//! The worked example of the ask `gauge` in the batch interface.
//!
//! Source: the design's description of the batch interface, formula A0 of its mechanics.

use linkwright_calc::gauge::GaugeSystem;

#[test]
fn awg_12_is_2_052525388_mm() {
    let gauge = GaugeSystem::Awg.gauge(12).expect("in the series");
    let ours_mm = gauge.diameter().expect("in the series").mm();
    // Closed form: relative agreement wanted is 1e-6; the example prints ten digits.
    assert!((ours_mm / 2.052_525_388 - 1.0).abs() <= 1e-6);
}
