//! Worked task T5: stock by weight, and a scrap lot that paid less than expected.
//!
//! Source: the design's list of needs; numbers invented there, worked by hand; printed digits.

use linkwright_calc::count::{Weighing, count_by_weight, reading_uncertainty};
use linkwright_calc::money::{
    Currency, GapCause, Lot, LotFees, MetalBooked, Money, PaidMetal, Price, PricePer, PricedMetal,
    settlement_gap,
};
use linkwright_calc::quantity::{Density, G_PER_PENNYWEIGHT, G_PER_TROY_OUNCE, Length, Mass};
use linkwright_calc::ring::kerf_dust;
use linkwright_calc::slit::Kerf;
use linkwright_calc::wire::Wire;

fn g(g: f64) -> Mass {
    Mass::from_g(g)
}

/// The jar of 412.35 g by a sample of 50 rings; jar and sample each read once.
fn jar(sample_g: f64, sample_step_g: f64) -> Weighing {
    Weighing {
        net: g(412.35),
        net_uncertainty: reading_uncertainty(g(0.01)),
        sample_rings: 50,
        sample: g(sample_g),
        sample_uncertainty: reading_uncertainty(g(sample_step_g)),
        ring_mass_cv: 0.01,
    }
}

#[test]
fn the_jar_holds_3050_rings_give_or_take_9() {
    let counted = count_by_weight(&jar(6.76, 0.01)).unwrap();
    assert!((counted.rings - 3050.0).abs() <= 0.5);
    // The task leaves out the spread of the 3,050 themselves, a fifteenth of a ring here.
    assert!((counted.two_sigma() - 9.0).abs() <= 0.5, "{}", counted.two_sigma());
}

#[test]
fn the_same_sample_on_a_coarser_scale_is_three_times_less_sure() {
    let counted = count_by_weight(&jar(6.8, 0.1)).unwrap();
    assert!((counted.two_sigma() - 27.0).abs() <= 0.5, "{}", counted.two_sigma());
}

#[test]
fn the_quarter_leaves_17_3_grams_unaccounted() {
    let balance = MetalBooked {
        issued: g(1240.0),
        work: g(1148.6),
        scrap: g(46.2),
        lemel_swept: g(29.7),
        lemel_clean: g(27.9),
    }
    .balance()
    .unwrap();
    assert!((balance.unaccounted.g() - 17.3).abs() <= 0.05);
    assert!((100.0 * balance.unaccounted_share - 1.40).abs() <= 0.005);
}

#[test]
fn twelve_thousand_cuts_make_25_4_grams_of_dust() {
    let wire = Wire::new(Length::from_mm(1.02)).unwrap();
    let kerf = Kerf::new(Length::from_mm(0.25)).unwrap();
    // No inside diameter is given, so the straight cut; a coil of 4.14 would make it 25.46.
    let dust_g = 12_000.0 * kerf_dust(wire, kerf, Density::from_g_cm3(10.36)).g();
    assert!((dust_g - 25.4).abs() <= 0.05);
}

/// Sterling, 95 % of 0.80 per gram fine, fee 35.00; the price in whatever unit.
fn lot(melt_g: f64, assay: f64, per: PricePer) -> Lot {
    let per_unit = 0.80 * per.mass().g();
    let price = Price::new(per_unit, Currency::GBP, per, PricedMetal::Fine).expect("within limits");
    Lot {
        melt: g(melt_g),
        metals: vec![PaidMetal { assay, paid_share: 0.95, price, refining: None }],
        fees: LotFees::fixed(Money::new(3500, Currency::GBP)),
    }
}

fn expected() -> Lot {
    // Clean scrap 46.2 and lemel 27.9 at 925.
    lot(46.2 + 27.9, 0.925, PricePer::Gram)
}

#[test]
fn the_gap_of_3_01_is_melt_1_76_and_assay_1_25() {
    let found = settlement_gap(&expected(), &lot(71.6, 0.902, PricePer::Gram)).unwrap();
    assert_eq!((found.expected.minor(), found.got.minor(), found.gap.minor()), (1709, 1408, 301));
    let lost: Vec<_> = found.lines.iter().map(|line| (line.cause, line.lost.minor())).collect();
    assert_eq!(
        lost,
        [
            (GapCause::Melt, 176),
            (GapCause::Assay, 125),
            (GapCause::PaidShare, 0),
            (GapCause::Price, 0),
            (GapCause::Fees, 0),
        ]
    );
}

#[test]
fn the_fee_eats_67_percent_and_a_lot_of_498_grams_brings_it_under_10() {
    let advice = expected().advice(0.10).unwrap();
    assert!((100.0 * advice.fee_share.unwrap() - 67.0).abs() <= 0.5);
    assert!(advice.hold);
    assert!((advice.lot_for_share.unwrap().g() - 498.0).abs() <= 0.5);
}

#[test]
fn the_money_is_the_same_in_grams_pennyweight_and_troy_ounces() {
    // The melt as it would be entered in each unit, and the price per that unit.
    let in_pennyweight = 71.6 / G_PER_PENNYWEIGHT;
    let in_ounces = 71.6 / G_PER_TROY_OUNCE;
    for (melt_g, per) in [
        (71.6, PricePer::Gram),
        (in_pennyweight * G_PER_PENNYWEIGHT, PricePer::Pennyweight),
        (in_ounces * G_PER_TROY_OUNCE, PricePer::TroyOunce),
    ] {
        assert_eq!(lot(melt_g, 0.902, per).settle().unwrap().net.minor(), 1408);
    }
}
