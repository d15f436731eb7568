//! No text makes the door panic, and whatever it lets in is finite and within the limits.

use linkwright_calc::gauge::{in_both_systems, nearest};
use linkwright_calc::limits::{LENGTH, MASS, SHARE};
use linkwright_calc::money::{parse_money, parse_price};
use linkwright_calc::quantity::{
    Length, QuantityError, parse_count, parse_fineness, parse_length, parse_mass, parse_ring_size,
    parse_share,
};
use proptest::prelude::{ProptestConfig, Strategy, any, prop_assert, prop_assert_eq, proptest};
use proptest::test_runner::TestCaseError;
use proptest::{collection, sample};

/// Pieces that quantities are made of, put together at random: deeper than random signs get.
fn almost_a_quantity() -> impl Strategy<Value = String> {
    let pieces = vec![
        "1",
        "18",
        "0",
        "000",
        "1.02",
        ".040",
        "3/16",
        "1 1/4",
        "1,020",
        "1,02",
        "1.234,5",
        "4/0",
        "9999999999999999999999",
        "1e400",
        "1e-400",
        "e",
        "e5",
        "-",
        "+",
        ".",
        ",",
        "/",
        "/0",
        "#",
        " ",
        "  ",
        "mm",
        "cm",
        "m",
        "in",
        "\"",
        "'",
        "''",
        "ft",
        "yd",
        "thou",
        "mil",
        "awg",
        "swg",
        "b&s",
        "ga",
        "gauge",
        "british",
        "us",
        "steel",
        "survey",
        "ring",
        "inside",
        "od",
        "closed",
        "g",
        "kg",
        "mg",
        "gr",
        "dwt",
        "ozt",
        "oz",
        "troy",
        "avdp",
        "lb",
        "ct",
        "k",
        "karat",
        "metric carat",
        "%",
        "permille",
        "dozen",
        "EUR",
        "usd",
        "JPY",
        "\u{20ac}",
        "\u{a3}",
        "$",
        " per ",
        "of fine",
        "\u{bc}",
        "\u{b5}m",
        "\u{2033}",
        "\u{2212}",
        "(",
        ")",
        "\u{130}",
        "\u{0}",
        "\u{301}",
        "\u{1f48d}",
    ];
    collection::vec(sample::select(pieces), 0..7).prop_map(|pieces| pieces.concat())
}

/// Whether the error can be shown, and no sign that moves a cursor is left in it.
fn shown(error: &QuantityError) -> Result<(), TestCaseError> {
    let message = error.to_string();
    prop_assert!(!message.is_empty());
    prop_assert!(!message.chars().any(char::is_control), "{message:?}");
    Ok(())
}

/// Reads the text as everything it could be wanted as.
fn at_the_door(text: &str) -> Result<(), TestCaseError> {
    match parse_length(text) {
        Ok(typed) => {
            prop_assert!(LENGTH.check(typed.value().mm()).is_ok());
            prop_assert_eq!(typed.text(), text.trim());
            let again = parse_length(&typed.value().to_string()).expect("printed").value();
            prop_assert_eq!(again.mm().to_bits(), typed.value().mm().to_bits());
        }
        Err(error) => {
            shown(&error)?;
            for reading in error.question().map_or(&[][..], |question| &question.readings) {
                prop_assert!(reading.value.is_finite());
                // Every reading offered can be typed, and is then what was shown.
                let answer = match parse_length(&reading.type_instead) {
                    Ok(answer) => answer,
                    Err(_) => parse_ring_size(&reading.type_instead).expect("offered").0,
                };
                prop_assert_eq!(answer.value().mm().to_bits(), reading.value.to_bits());
            }
        }
    }
    match parse_mass(text) {
        Ok(typed) => {
            prop_assert!(MASS.check(typed.value().g()).is_ok());
        }
        Err(error) => {
            shown(&error)?;
            for reading in error.question().map_or(&[][..], |question| &question.readings) {
                if let Some(g) = reading.g() {
                    let answer = parse_mass(&reading.type_instead).expect("offered");
                    prop_assert_eq!(answer.value().g().to_bits(), g.to_bits());
                } else {
                    prop_assert!(parse_fineness(&reading.type_instead).is_ok());
                }
            }
        }
    }
    match parse_share(text) {
        Ok(typed) => prop_assert!(SHARE.check(typed.value()).is_ok()),
        Err(error) => shown(&error)?,
    }
    match parse_fineness(text) {
        Ok(typed) => prop_assert!((0.0..=1000.0).contains(&typed.value().permille())),
        Err(error) => shown(&error)?,
    }
    match parse_money(text) {
        Ok(typed) => {
            let printed = typed.value().to_string();
            prop_assert_eq!(parse_money(&printed).expect("printed").value(), typed.value());
        }
        Err(error) => shown(&error)?,
    }
    match parse_price(text) {
        Ok(typed) => prop_assert!(typed.value().minor_per_gram().is_finite()),
        Err(error) => shown(&error)?,
    }
    if let Err(error) = parse_count(text) {
        shown(&error)?;
    }
    if let Err(error) = parse_ring_size(text) {
        shown(&error)?;
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(10_000))]

    #[test]
    fn pieces_of_quantities(text in almost_a_quantity()) {
        at_the_door(&text)?;
    }

    #[test]
    fn any_signs(text in any::<String>()) {
        at_the_door(&text)?;
    }

    #[test]
    fn any_bytes(bytes in collection::vec(any::<u8>(), 0..64)) {
        at_the_door(&String::from_utf8_lossy(&bytes))?;
    }

    #[test]
    fn any_diameter_has_a_nearest_gauge(mm in any::<f64>()) {
        let length = Length::from_mm(mm);
        prop_assert!(nearest(length).awg.diameter().is_ok());
        prop_assert!(nearest(length).british.diameter().is_ok());
        prop_assert!(!in_both_systems(length).to_string().is_empty());
    }
}
