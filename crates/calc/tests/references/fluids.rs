//! Wire gauges against the schedules of the Python library `fluids`.
//!
//! Source: `data/fluids_*.csv`, written by `cargo xtask references`; each names the version. The
//! library cites Machinery's Handbook (2012).

use linkwright_calc::gauge::{Gauge, GaugeSystem, american_steel_diameter};

use crate::table::{Row, rows};

const AWG: &str = include_str!("data/fluids_awg.csv");
const BRITISH: &str = include_str!("data/fluids_bswg.csv");
const AMERICAN_STEEL: &str = include_str!("data/fluids_swg.csv");

/// Room for the rounding of the comparison itself, far below any printed digit.
const ARITHMETIC_IN: f64 = 1e-12;
/// The one size where we and the library differ: the table labelled BS 3737 and two tables in mm
/// have 0.0148 in (0.376 mm), which is the even step; the library has 0.0149 in.
const BRITISH_ODD_ONE_OUT: i64 = 28;

/// Our number of a gauge as people write it: 0 is 0, 00 is -1, 000 is -2.
fn number(row: &Row) -> i64 {
    let written = row.text("gauge");
    if written.bytes().all(|digit| digit == b'0') {
        return 1 - i64::try_from(written.len()).expect("a few zeros");
    }
    written.parse().expect("a whole number")
}

fn ours_in(gauge: Gauge) -> f64 {
    gauge.diameter().expect("in the series").inches()
}

/// The last digit the library keeps: a tenth of a thou down to 30, a hundredth below.
fn last_digit_in(number: i64) -> f64 {
    if number <= 30 { 0.000_1 } else { 0.000_01 }
}

#[test]
fn awg_agrees_with_the_schedule_to_its_digits() {
    let mut compared = 0;
    for row in rows(AWG) {
        let number = number(&row);
        // The library also has 6/0 and 5/0, which our series leaves out.
        let Ok(gauge) = GaugeSystem::Awg.gauge(number) else {
            assert!(number < -3, "{}", row.line());
            continue;
        };
        let off_in = (ours_in(gauge) - row.number("diameter_in")).abs();
        // Half a last digit where the library rounds; a whole one below 30, where it sometimes cuts.
        let most_in = if number <= 30 { 0.5 } else { 1.0 } * last_digit_in(number);
        assert!(off_in <= most_in + ARITHMETIC_IN, "AWG {number}: off by {off_in} in");
        compared += 1;
    }
    assert_eq!(compared, 54); // 4/0 to 50
}

#[test]
fn british_sizes_are_those_of_the_schedule_but_for_the_odd_one_out() {
    let mut compared = 0;
    for row in rows(BRITISH) {
        let number = number(&row);
        let gauge = GaugeSystem::BritishStandard.gauge(number).expect("7/0 to 50");
        let off_in = ours_in(gauge) - row.number("diameter_in");
        let known_in = if number == BRITISH_ODD_ONE_OUT { -0.000_1 } else { 0.0 };
        assert!((off_in - known_in).abs() <= ARITHMETIC_IN, "SWG {number}: off by {off_in} in");
        compared += 1;
    }
    assert_eq!(compared, 57);
}

#[test]
fn the_schedule_called_swg_is_the_american_steel_one_and_never_our_british() {
    let (mut compared, mut unlike) = (0, 0);
    for row in rows(AMERICAN_STEEL) {
        let (number, theirs_in) = (number(&row), row.number("diameter_in"));
        let small = i8::try_from(number).expect("a small number");
        if let Some(ours) = american_steel_diameter(small) {
            assert!((ours.inches() - theirs_in).abs() <= ARITHMETIC_IN, "steel {number}");
            compared += 1;
        }
        let british_in = ours_in(Gauge::BritishStandard(small));
        unlike += u32::from((british_in - theirs_in).abs() > ARITHMETIC_IN);
    }
    assert!(compared >= 31, "{compared} sizes compared");
    // Beyond 30 the two series meet at a size now and then; 16 is 0.0625 in against 0.064 in.
    assert!(unlike >= 45, "{unlike} sizes differ");
}
