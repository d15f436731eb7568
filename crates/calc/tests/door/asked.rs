//! What could mean two things is asked about, with the value of each answer.

use linkwright_calc::money::{parse_money, parse_price};
use linkwright_calc::quantity::{
    Ask, QuantityError, parse_fineness, parse_length, parse_mass, parse_share,
};

/// The question and its readings as (what to type, value to a ten-thousandth).
fn asked<T: std::fmt::Debug>(result: Result<T, QuantityError>) -> (Ask, Vec<(String, String)>) {
    let error = result.expect_err("asked about");
    let question = error.question().unwrap_or_else(|| panic!("no question: {error}"));
    let readings = question.readings.iter().map(|reading| {
        (reading.type_instead.clone(), format!("{:.4} {}", reading.value, reading.unit))
    });
    (question.ask, readings.collect())
}

fn strings(pairs: &[(&str, &str)]) -> Vec<(String, String)> {
    pairs.iter().map(|(typed, value)| ((*typed).to_owned(), (*value).to_owned())).collect()
}

#[test]
fn a_bare_number_is_asked_about() {
    let gauges = [("18 awg", "1.0237 mm"), ("18 swg", "1.2192 mm"), ("1.2065 mm", "1.2065 mm")];
    let lengths = [("18 mm", "18.0000 mm"), ("18 in", "457.2000 mm"), ("18 thou", "0.4572 mm")];
    let wanted = strings(&[gauges, lengths].concat());
    assert_eq!(asked(parse_length("18")), (Ask::LengthUnit, wanted));
    assert_eq!(
        asked(parse_length(".040")),
        (Ask::LengthUnit, strings(&[(".040 mm", "0.0400 mm"), (".040 in", "1.0160 mm")]))
    );
    assert_eq!(
        asked(parse_length("3/16")),
        (Ask::LengthUnit, strings(&[("3/16 mm", "0.1875 mm"), ("3/16 in", "4.7625 mm")]))
    );
    assert_eq!(
        asked(parse_length("4/0")),
        (Ask::LengthUnit, strings(&[("4/0 awg", "11.6840 mm"), ("4/0 swg", "10.1600 mm")]))
    );
}

#[test]
fn a_gauge_without_its_system_is_asked_about() {
    let wanted =
        strings(&[("18 awg", "1.0237 mm"), ("18 swg", "1.2192 mm"), ("1.2065 mm", "1.2065 mm")]);
    for text in [
        "18 ga",
        "18 ga.",
        "18ga",
        "18 gauge",
        "18 gage",
        "#18",
        "# 18",
        "no. 18",
        "No 18",
        "gauge 18",
        "18 g",
        "18 standard wire gauge",
        "18 awg swg",
        "18 us british swg",
    ] {
        assert_eq!(asked(parse_length(text)), (Ask::GaugeSystem, wanted.clone()), "{text}");
    }
    // The steel gauge is named, but nobody sells jewellery wire by it: the answer is in mm.
    for text in ["18 us swg", "18 american swg", "18 american steel wire gauge"] {
        assert_eq!(asked(parse_length(text)), (Ask::GaugeSystem, wanted.clone()), "{text}");
    }
    // 55 exists in one system only and is asked about all the same.
    let only = strings(&[("55 awg", "0.0140 mm")]);
    assert_eq!(asked(parse_length("55 ga")), (Ask::GaugeSystem, only));
}

#[test]
fn a_comma_before_three_digits_is_asked_about() {
    let wanted = strings(&[("1.020 mm", "1.0200 mm"), ("1020 mm", "1020.0000 mm")]);
    assert_eq!(asked(parse_length("1,020 mm")), (Ask::CommaOrThousands, wanted));
    let wanted = strings(&[("1.250 g", "1.2500 g"), ("1250 g", "1250.0000 g")]);
    assert_eq!(asked(parse_mass("1,250 g")), (Ask::CommaOrThousands, wanted));
    let wanted = strings(&[("1.250 EUR", "1.2500 EUR"), ("1250 EUR", "1250.0000 EUR")]);
    assert_eq!(asked(parse_money("1,250 EUR")), (Ask::CommaOrThousands, wanted));
}

#[test]
fn a_survey_foot_is_shown_beside_the_common_one() {
    for text in ["1000 us survey feet", "1000 survey ft", "1000 ftUS"] {
        let (ask, readings) = asked(parse_length(text));
        assert_eq!(ask, Ask::SurveyFoot);
        // 1000 ft are 304800 mm, 1000 survey feet 304800.6096 mm (1200/3937 m).
        let values: Vec<&str> = readings.iter().map(|(_, value)| value.as_str()).collect();
        assert_eq!(values, ["304800.0000 mm", "304800.6096 mm"]);
    }
}

#[test]
fn a_ring_given_as_a_length_is_asked_for_its_side() {
    let wanted = strings(&[("6 mm inside", "6.0000 mm"), ("6 mm outside", "6.0000 mm")]);
    assert_eq!(asked(parse_length("6 mm ring")), (Ask::InsideOrOutside, wanted));
}

#[test]
fn a_bare_ounce_pound_or_carat_is_asked_about() {
    let wanted = strings(&[("2 ozt", "62.2070 g"), ("2 oz avdp", "56.6990 g")]);
    for text in ["2 oz", "2 oz.", "2 ounces", "2oz"] {
        assert_eq!(asked(parse_mass(text)), (Ask::OunceOrPound, wanted.clone()), "{text}");
    }
    let wanted = strings(&[("1 lb avdp", "453.5924 g"), ("1 troy lb", "373.2417 g")]);
    assert_eq!(asked(parse_mass("1 lb")), (Ask::OunceOrPound, wanted));
    let wanted = strings(&[("18 karat", "750.0000 permille"), ("18 metric carat", "3.6000 g")]);
    for text in ["18 ct", "18 carat", "18 cts"] {
        assert_eq!(asked(parse_mass(text)), (Ask::Carat, wanted.clone()), "{text}");
        assert_eq!(asked(parse_fineness(text)), (Ask::Carat, wanted.clone()), "{text}");
    }
}

#[test]
fn a_bare_mass_is_asked_about() {
    let wanted = strings(&[
        ("3 g", "3.0000 g"),
        ("3 dwt", "4.6655 g"),
        ("3 ozt", "93.3104 g"),
        ("3 oz avdp", "85.0486 g"),
    ]);
    assert_eq!(asked(parse_mass("3")), (Ask::MassUnit, wanted));
}

#[test]
fn one_is_one_percent_or_all() {
    let wanted = strings(&[("1 %", "0.0100 of one"), ("100 %", "1.0000 of one")]);
    assert_eq!(asked(parse_share("1")), (Ask::ShareOrPercent, wanted));
    let wanted = strings(&[("95 %", "0.9500 of one")]);
    assert_eq!(asked(parse_share("95")), (Ask::ShareOrPercent, wanted));
}

#[test]
fn a_small_bare_fineness_is_asked_about() {
    let wanted = strings(&[("14 karat", "583.3333 permille"), ("14 permille", "14.0000 permille")]);
    assert_eq!(asked(parse_fineness("14")), (Ask::KaratOrPermille, wanted));
    let (ask, readings) = asked(parse_fineness("0.925"));
    assert_eq!(ask, Ask::KaratOrPermille);
    assert_eq!(readings[0], ("925 permille".to_owned(), "925.0000 permille".to_owned()));
}

#[test]
fn money_without_a_currency_or_with_a_shared_sign_is_asked_about() {
    let wanted = strings(&[
        ("12.50 EUR", "12.5000 EUR"),
        ("12.50 GBP", "12.5000 GBP"),
        ("12.50 USD", "12.5000 USD"),
    ]);
    assert_eq!(asked(parse_money("12.50")), (Ask::Currency, wanted));
    let (ask, readings) = asked(parse_money("$12.50"));
    assert_eq!((ask, readings.len()), (Ask::Currency, 4));
    assert_eq!(asked(parse_price("$28.50 per ozt")).0, Ask::Currency);
}

#[test]
fn a_price_without_its_mass_or_per_bare_ounce_is_asked_about() {
    let (ask, readings) = asked(parse_price("28.50 USD"));
    assert_eq!((ask, readings.len()), (Ask::PricePerMass, 5));
    // 28.50 / 31.1034768 = 0.91630 and 6 / 453.59237 = 0.013228.
    let wanted = strings(&[("28.50 USD per ozt of fine", "0.9163 per g")]);
    assert_eq!(asked(parse_price("28.50 USD/oz fine")), (Ask::OunceOrPound, wanted));
    let wanted = strings(&[("6 USD per lb avdp", "0.0132 per g")]);
    assert_eq!(asked(parse_price("6 USD per pound")), (Ask::OunceOrPound, wanted));
    for (typed, _) in asked(parse_price("28.50 USD")).1 {
        assert!(parse_price(&typed).is_ok(), "{typed}");
    }
}
