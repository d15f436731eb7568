//! What is printed is read back as the same value.

use linkwright_calc::gauge::GaugeSystem;
use linkwright_calc::limits::{LENGTH, MASS};
use linkwright_calc::money::{
    Currency, Money, Price, PricePer, PricedMetal, parse_money, parse_price,
};
use linkwright_calc::quantity::{
    Fineness, Length, Mass, parse_count, parse_fineness, parse_length, parse_mass, parse_share,
};
use proptest::prelude::{ProptestConfig, Strategy, prop_assert_eq, prop_oneof, proptest};
use proptest::{num, sample};

/// Every finite number from nothing to `high`, the smallest doubles too.
fn from_nothing_to(high: f64) -> impl Strategy<Value = f64> {
    let any_size = num::f64::POSITIVE | num::f64::ZERO | num::f64::SUBNORMAL;
    prop_oneof![
        any_size.prop_map(f64::abs).prop_filter("in range", move |x| *x <= high),
        0.0..=high
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(10_000))]

    #[test]
    fn a_printed_length_is_the_same_length(mm in from_nothing_to(LENGTH.high)) {
        let length = Length::from_mm(mm);
        let read = parse_length(&length.to_string()).expect("printed").value();
        prop_assert_eq!(read.mm().to_bits(), mm.to_bits());
    }

    #[test]
    fn a_printed_mass_is_the_same_mass(g in from_nothing_to(MASS.high)) {
        let mass = Mass::from_g(g);
        let read = parse_mass(&mass.to_string()).expect("printed").value();
        prop_assert_eq!(read.g().to_bits(), g.to_bits());
    }

    #[test]
    fn a_printed_fineness_is_the_same_fineness(permille in 0.0..=1000.0_f64) {
        let fineness = Fineness::from_permille(permille).expect("in range");
        let read = parse_fineness(&fineness.to_string()).expect("printed").value();
        prop_assert_eq!(read.permille().to_bits(), f64::to_bits(permille));
    }

    #[test]
    fn a_printed_count_is_the_same_count(count in 0_u32..=1_000_000_000) {
        prop_assert_eq!(parse_count(&count.to_string()).expect("printed").value(), count);
    }

    #[test]
    fn a_share_below_one_is_the_same_share(share in 0.0..1.0_f64) {
        let read = parse_share(&share.to_string()).expect("printed").value();
        prop_assert_eq!(read.to_bits(), f64::to_bits(share));
    }

    #[test]
    fn printed_money_is_the_same_money(
        minor in -1_000_000_000_000_i64..=1_000_000_000_000,
        code in sample::select(vec!["EUR", "GBP", "USD", "JPY", "KRW", "KWD", "TND"]),
    ) {
        let money = Money::new(minor, Currency::from_code(code).expect("known"));
        prop_assert_eq!(parse_money(&money.to_string()).expect("printed").value(), money);
    }

    #[test]
    fn a_printed_price_is_the_same_price(
        major in 0.0..=1_000_000_000.0,
        per in sample::select(PricePer::ALL.to_vec()),
        metal in sample::select(vec![PricedMetal::AsWeighed, PricedMetal::Fine]),
    ) {
        let price = Price::new(major, Currency::EUR, per, metal).expect("in range");
        prop_assert_eq!(parse_price(&price.to_string()).expect("printed").value(), price);
    }

    /// Inches typed to a tenth of a thou: the double nearest to the exact product with 25.4.
    #[test]
    fn decimal_inches_are_exact(tenth_thou in 0_u32..1_000_000) {
        let text = format!("{}.{:04} in", tenth_thou / 10_000, tenth_thou % 10_000);
        // 254 hundred-thousandths of a millimetre each: whole up to the one division.
        let exact_mm = f64::from(tenth_thou * 254) / 100_000.0;
        prop_assert_eq!(parse_length(&text).expect("inches").value().mm().to_bits(), exact_mm.to_bits());
    }

    /// Fractions of an inch: the double nearest to the exact product with 25.4.
    #[test]
    fn fractions_of_an_inch_are_exact(whole in 0_u32..100, over in 0_u32..128, under in 1_u32..129) {
        let text = format!("{whole} {over}/{under} in");
        let exact_mm = f64::from((whole * under + over) * 127) / f64::from(under * 5);
        prop_assert_eq!(parse_length(&text).expect("inches").value().mm().to_bits(), exact_mm.to_bits());
    }

    /// A decimal comma and a decimal point are one number, unless three digits follow.
    #[test]
    fn a_decimal_comma_reads_as_a_point(whole in 0_u32..100_000, part in "[0-9]{1,2}|[0-9]{4,9}") {
        let read = |text: &str| parse_length(text).expect("a length").value().mm().to_bits();
        prop_assert_eq!(read(&format!("{whole},{part} mm")), read(&format!("{whole}.{part} mm")));
    }
}

#[test]
fn every_printed_gauge_is_the_same_gauge() {
    for system in [GaugeSystem::Awg, GaugeSystem::BritishStandard] {
        for number in -6..=56 {
            let Ok(gauge) = system.gauge(number) else { continue };
            let read = parse_length(&gauge.to_string()).expect("printed").value();
            assert_eq!(read, gauge.diameter().expect("in the series"), "{gauge}");
        }
    }
}
