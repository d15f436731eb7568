//! What is no quantity is refused with a sentence that says what to type; every message of the door.

use std::fmt::Debug;

use linkwright_calc::money::{parse_money, parse_price};
use linkwright_calc::quantity::{
    QuantityError, parse_count, parse_fineness, parse_length, parse_mass, parse_ring_size,
    parse_share,
};

const LENGTH_EXAMPLES: &str = "type it like 1.02 mm, 18 awg, 16 swg, .040 in, 3/16\" or 40 thou";

fn message<T: Debug>(result: Result<T, QuantityError>) -> String {
    // Straight quotes, so that the expectations below read easily.
    result.expect_err("refused").to_string().replace(['\u{201c}', '\u{201d}'], "'")
}

#[test]
fn nothing_is_asked_for_again() {
    for text in ["", "   ", "\t\n"] {
        assert_eq!(message(parse_length(text)), format!("nothing is typed; {LENGTH_EXAMPLES}"));
    }
    assert_eq!(
        message(parse_ring_size("")),
        "nothing is typed; type it like 6 mm inside, 1/4\" id or 8 mm od closed"
    );
    assert_eq!(
        message(parse_mass(" ")),
        "nothing is typed; type it like 12.5 g, 3 dwt, 1 ozt, 2 oz avdp or 1 lb avdp"
    );
    assert_eq!(message(parse_count("")), "nothing is typed; type it like 120 or 10 dozen");
    assert_eq!(message(parse_share("")), "nothing is typed; type it like 95 % or 0.95");
    assert_eq!(
        message(parse_fineness("")),
        "nothing is typed; type it like 925, 92.5 %, 585/1000 or 18 karat"
    );
    assert_eq!(message(parse_money("")), "nothing is typed; type it like 12.50 EUR or GBP 12.50");
    assert_eq!(
        message(parse_price("")),
        "nothing is typed; type it like 0.80 EUR per g of fine or 28.50 USD per ozt"
    );
}

#[test]
fn what_is_no_number_is_refused() {
    for text in ["thick", "mm", "1.2.3 mm", "1,23,4 mm", "-1/4 in", "about 1 mm", "12, mm"] {
        assert_eq!(
            message(parse_length(text)),
            format!("'{text}' is not a length; {LENGTH_EXAMPLES}")
        );
    }
    for text in ["NaN", "inf mm", "infinity mm", "-inf", "nan mm"] {
        assert!(message(parse_length(text)).contains("is not a length"), "{text}");
        assert!(message(parse_mass(text)).contains("is not a mass"), "{text}");
    }
    assert!(message(parse_count("many")).contains("'many' is not a count"));
    assert!(message(parse_share("most")).contains("'most' is not a share"));
    assert!(message(parse_fineness("fine")).contains("'fine' is not a fineness"));
    assert!(message(parse_money("EUR")).contains("'EUR' is not an amount of money"));
    assert!(message(parse_money("1/2 EUR")).contains("'1/2 EUR' is not an amount of money"));
    assert!(message(parse_money("EUR 5 GBP")).contains("'EUR 5 GBP' is not an amount of money"));
    assert!(message(parse_money("1e2 EUR")).contains("'1e2 EUR' is not an amount of money"));
    assert!(message(parse_price("free")).contains("'free' is not a price"));
    assert!(message(parse_ring_size("inside")).contains("'inside' is not a ring size"));
}

#[test]
fn words_that_are_no_unit_are_named() {
    assert_eq!(
        message(parse_length("12 kg")),
        format!("in '12 kg', 'kg' is no unit of a length; {LENGTH_EXAMPLES}")
    );
    assert!(message(parse_length("1 000 mm")).contains("is not a length"));
    assert!(message(parse_length("12 mm long")).contains("'mm long' is no unit of a length"));
    assert!(message(parse_mass("12 mm")).contains("'mm' is no unit of a mass"));
    assert!(message(parse_mass("1 oz troy avdp")).contains("'oz troy avdp' is no unit of a mass"));
    assert!(message(parse_count("12 g")).contains("'g' is no unit of a count"));
    assert!(message(parse_share("12 g")).contains("'g' is no unit of a share"));
    assert!(message(parse_fineness("12 g")).contains("'g' is no unit of a fineness"));
    assert!(message(parse_price("12 EUR per mm")).contains("'mm' is no unit of a price"));
    assert!(message(parse_price("12 EUR per mg")).contains("'mg' is no unit of a price"));
    assert!(message(parse_price("12 EUR per ct")).contains("'ct' is no unit of a price"));
}

#[test]
fn a_fraction_over_nothing_is_refused() {
    assert_eq!(message(parse_length("3/0 in")), "'3/0 in' divides by nothing");
    assert_eq!(message(parse_mass("3/0 g")), "'3/0 g' divides by nothing");
    assert_eq!(message(parse_count("3/0")), "'3/0' divides by nothing");
    assert_eq!(message(parse_share("3/0")), "'3/0' divides by nothing");
    assert_eq!(message(parse_fineness("3/0")), "'3/0' divides by nothing");
    assert_eq!(message(parse_length("8/0")), "'8/0' divides by nothing");
}

#[test]
fn a_gauge_that_does_not_exist_is_refused() {
    assert_eq!(message(parse_length("57 awg")), "AWG has no number 57; it runs from 4/0 to 56");
    assert_eq!(
        message(parse_length("8/0 swg")),
        "SWG (British) has no number 8/0; it runs from 7/0 to 50"
    );
    assert_eq!(message(parse_length("99 ga")), "AWG has no number 99; it runs from 4/0 to 56");
    for text in ["18.5 awg", "-3 awg", "1 1/2 swg", "1,800 awg", "1e1 awg"] {
        assert_eq!(
            message(parse_length(text)),
            format!(
                "'{text}' is no gauge; a gauge is a whole number such as 18, or noughts such as 2/0"
            )
        );
    }
}

#[test]
fn out_of_range_names_the_limits() {
    assert_eq!(
        message(parse_length("-1 mm")),
        "length_mm is -1 mm; it must be between 0 and 100000000 mm (none to a hundred kilometres)"
    );
    assert!(message(parse_length("1e999 mm")).starts_with("length_mm is inf mm"));
    assert!(message(parse_length("-1")).starts_with("length_mm is -1 mm"));
    assert!(message(parse_mass("-1 g")).starts_with("mass_g is -1 g"));
    assert!(message(parse_mass("-1 oz")).starts_with("mass_g is -31.1034768 g"));
    assert!(message(parse_count("-1")).starts_with("rings is -1 rings"));
    assert!(message(parse_share("101 %")).starts_with("share is 1.01 -"));
    assert!(message(parse_share("101")).starts_with("share is 101 -"));
    assert!(message(parse_fineness("25 karat")).starts_with("fineness_permille is 1041.66"));
    assert!(message(parse_fineness("1001")).starts_with("fineness_permille is 1001 permille"));
    assert!(message(parse_money("1e15 EUR")).starts_with("amount is 1000000000000000 money"));
    assert!(message(parse_money("2000000000000 EUR")).starts_with("amount is 2000000000000 money"));
    assert!(message(parse_price("-1 EUR per g")).starts_with("price is -1 per unit"));
}

#[test]
fn counts_and_coins_are_whole() {
    assert_eq!(message(parse_count("12.5")), "'12.5' is 12.5, and a count is whole");
    assert_eq!(message(parse_count("1/2")), "'1/2' is 0.5, and a count is whole");
    assert_eq!(
        message(parse_money("12.505 EUR")),
        "'12.505 EUR' has more decimals (3) than EUR (2)"
    );
    assert_eq!(message(parse_money("12.5 JPY")), "'12.5 JPY' has more decimals (1) than JPY (0)");
    assert_eq!(
        message(parse_money("1.2345 KWD")),
        "'1.2345 KWD' has more decimals (4) than KWD (3)"
    );
}

#[test]
fn a_currency_that_is_none_is_named() {
    assert_eq!(
        message(parse_money("12 XAU")),
        "'12 XAU': 'xau' is no currency; use the three letters, such as EUR, GBP or USD"
    );
    assert!(message(parse_price("12 quid per g")).starts_with("'12 quid per g'"));
}

#[test]
fn a_novel_is_not_read_and_signs_that_do_not_print_are_shown() {
    assert_eq!(
        message(parse_length(&"9".repeat(401))),
        "401 characters are more than any quantity needs; at most 400 are read"
    );
    assert_eq!(
        message(parse_length("1\u{7} mm")),
        format!("in '1\\u{{7}} mm', '\\u{{7}} mm' is no unit of a length; {LENGTH_EXAMPLES}")
    );
}
