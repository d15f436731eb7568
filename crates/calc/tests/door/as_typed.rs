//! Spellings that mean one thing.

use linkwright_calc::money::{Currency, Money, PricePer, PricedMetal, parse_money, parse_price};
use linkwright_calc::quantity::{
    Remark, parse_count, parse_fineness, parse_length, parse_mass, parse_share,
};

#[test]
fn lengths_are_read_to_the_last_bit() {
    for (text, mm) in [
        ("1.02 mm", 1.02),
        ("1.02mm", 1.02),
        (" 1.02  MM ", 1.02),
        ("1,02 mm", 1.02),
        ("0,040 in", 1.016),
        (".040 in", 1.016),
        ("0.040\"", 1.016),
        ("0.040\u{201d}", 1.016),
        (".04''", 1.016),
        ("40 thou", 1.016),
        ("40 mil", 1.016),
        ("3/16\"", 4.7625),
        ("3\u{2044}16 inch", 4.7625),
        ("1 1/4 in", 31.75),
        ("1-1/4\"", 31.75),
        ("1\u{bc}\"", 31.75),
        ("\u{bd} in.", 12.7),
        ("12 cm", 120.0),
        ("1.2 m", 1200.0),
        ("3 ft", 914.4),
        ("3'", 914.4),
        ("5' 3 1/2\"", 1612.9),
        ("5 ft 3 in", 1600.2),
        ("2 yards", 1828.8),
        ("40 \u{b5}m", 0.04),
        ("1.5e-3 mm", 0.0015),
        ("1,234.5 mm", 1234.5),
        ("1.234,5 mm", 1234.5),
        ("1,234,567 mm", 1_234_567.0),
        ("0 mm", 0.0),
        ("16 swg", 1.6256),
        ("16 S.W.G.", 1.6256),
        ("swg 16", 1.6256),
        ("16 SWG (British)", 1.6256),
        ("British standard gauge 16", 1.6256),
        ("7/0 swg", 12.7),
        ("0000000 swg", 12.7),
        ("0 swg", 8.2296),
        ("36 awg", 0.127),
        ("#36 AWG", 0.127),
        ("36 b&s", 0.127),
        ("36 B & S gauge", 0.127),
        ("no. 36 american wire gauge", 0.127),
        ("AWG36", 0.127),
    ] {
        let typed = parse_length(text).unwrap_or_else(|error| panic!("{text}: {error}"));
        assert_eq!(typed.value().mm().to_bits(), f64::to_bits(mm), "{text}: {}", typed.value());
        assert_eq!(typed.text(), text.trim());
    }
}

#[test]
fn noughts_and_counted_noughts_are_the_same_gauge() {
    for (one, other) in [("0000 awg", "4/0 awg"), ("00 awg", "2/0 awg"), ("0 awg", "1/0 awg")] {
        let mm = |text| parse_length(text).map(|typed| typed.value().mm());
        assert_eq!(mm(one), mm(other), "{one}");
    }
    // 0.4600 in at 0000: NBS Handbook 100 (1966), section 2.1, half of the last digit.
    let inches = parse_length("0000 awg").expect("a gauge").value().inches();
    assert!((inches - 0.46).abs() < 0.000_05);
}

#[test]
fn a_second_meaning_is_mentioned_with_its_value() {
    let remark = |text| parse_length(text).expect(text).remark().map(|remark| remark.to_string());
    assert_eq!(
        remark("16 swg").as_deref(),
        Some(
            "SWG is read as the British standard wire gauge; \
             the American steel wire gauge of that number is 1.587 mm"
        )
    );
    assert_eq!(remark("40 swg").as_deref(), Some("SWG is read as the British standard wire gauge"));
    assert_eq!(remark("40 mil").as_deref(), Some("a mil is read as a thou, 0.0254 mm"));
    assert_eq!(remark("40 thou"), None);
    assert_eq!(remark("18 awg"), None);
    assert_eq!(parse_mass("24 gr").expect("grains").remark(), Some(Remark::GrIsGrain));
    assert_eq!(parse_mass("24 grains").expect("grains").remark(), None);
}

#[test]
fn masses_are_grams_by_name() {
    for (text, g) in [
        ("12.5 g", 12.5),
        ("12,5g", 12.5),
        ("2 kg", 2000.0),
        ("50 mg", 0.05),
        ("1/2 g", 0.5),
        ("1 gr", 0.064_798_91),
        ("1 dwt", 1.555_173_84),
        ("1 troy pennyweight", 1.555_173_84),
        ("1 ozt", 31.103_476_8),
        ("1 oz t", 31.103_476_8),
        ("1 troy oz.", 31.103_476_8),
        ("1 troy ounce", 31.103_476_8),
        ("1 oz avdp", 28.349_523_125),
        ("1 oz. av.", 28.349_523_125),
        ("1 avoirdupois ounce", 28.349_523_125),
        ("1 lb avdp", 453.592_37),
        ("1 pound avoirdupois", 453.592_37),
        ("1 troy lb", 373.241_721_6),
        ("1 tola", 11.663_803_8),
        ("5 metric carats", 1.0),
    ] {
        let typed = parse_mass(text).unwrap_or_else(|error| panic!("{text}: {error}"));
        assert_eq!(typed.value().g().to_bits(), f64::to_bits(g), "{text}: {}", typed.value());
    }
}

#[test]
fn counts_are_whole() {
    for (text, count) in [
        ("120", 120),
        ("1,200", 1200),
        ("1.200.000", 1_200_000),
        ("120 rings", 120),
        ("120 pcs.", 120),
        ("10 dozen", 120),
        ("2 1/2 doz", 30),
        ("12.0", 12),
        ("0", 0),
    ] {
        assert_eq!(parse_count(text).map(|typed| typed.value()), Ok(count), "{text}");
    }
}

#[test]
fn shares_are_parts_of_one() {
    for (text, share) in [
        ("95 %", 0.95),
        ("95%", 0.95),
        ("95 percent", 0.95),
        ("95 per cent", 0.95),
        ("0.95", 0.95),
        ("0,95", 0.95),
        ("950 \u{2030}", 0.95),
        ("19/20", 0.95),
        ("0", 0.0),
        ("0 %", 0.0),
        ("100 %", 1.0),
        ("1/2", 0.5),
        ("1/2 %", 0.005),
    ] {
        assert_eq!(parse_share(text).map(|typed| typed.value()), Ok(share), "{text}");
    }
}

#[test]
fn fineness_is_parts_per_thousand() {
    for (text, permille) in [
        ("925", 925.0),
        ("999.9", 999.9),
        ("925/1000", 925.0),
        ("92.5 %", 925.0),
        ("925 \u{2030}", 925.0),
        ("18 k", 750.0),
        ("18 karat", 750.0),
        ("18kt", 750.0),
        ("24 karat", 1000.0),
    ] {
        let typed = parse_fineness(text).unwrap_or_else(|error| panic!("{text}: {error}"));
        assert_eq!(typed.value().permille().to_bits(), f64::to_bits(permille), "{text}");
        assert_eq!(typed.remark(), None, "{text}");
    }
    // 14/24, 22/24 and 10/24; marks 585, 916 and 417.
    for (text, mark) in [("14 k", "585"), ("22 karat", "916"), ("10 kt", "417")] {
        let remark = parse_fineness(text).expect(text).remark().expect(text).to_string();
        assert!(remark.ends_with(&format!("the mark says {mark}")), "{remark}");
    }
}

#[test]
fn money_is_whole_minor_units() {
    let of = |code| Currency::from_code(code).expect(code);
    for (text, minor, code) in [
        ("12.50 EUR", 1250, "EUR"),
        ("12.5 eur", 1250, "EUR"),
        ("12 EUR", 1200, "EUR"),
        ("EUR12.50", 1250, "EUR"),
        ("GBP 12.50", 1250, "GBP"),
        ("12,50 \u{20ac}", 1250, "EUR"),
        ("\u{a3}12.50", 1250, "GBP"),
        (".05 USD", 5, "USD"),
        ("-12.50 EUR", -1250, "EUR"),
        ("1500 JPY", 1500, "JPY"),
        ("1.250 KWD", 1250, "KWD"),
        ("1,234,567.89 USD", 123_456_789, "USD"),
        ("1.234.567,89 EUR", 123_456_789, "EUR"),
        ("0.29 USD", 29, "USD"), // 0.29 x 100 is 28.999... in doubles
    ] {
        let money = parse_money(text).map(|typed| typed.value());
        assert_eq!(money, Ok(Money::new(minor, of(code))), "{text}");
    }
    assert_eq!(parse_money("\u{a3}1").expect("pounds").remark(), Some(Remark::PoundSignIsSterling));
}

#[test]
fn prices_name_the_mass_and_the_metal() {
    for (text, major, per, metal) in [
        ("0.80 EUR per g", 0.8, PricePer::Gram, PricedMetal::AsWeighed),
        ("0.80 EUR/g fine", 0.8, PricePer::Gram, PricedMetal::Fine),
        ("EUR 0.8125 / g of fine", 0.8125, PricePer::Gram, PricedMetal::Fine),
        ("\u{20ac}0,80 per gram", 0.8, PricePer::Gram, PricedMetal::AsWeighed),
        ("800 EUR/kg", 800.0, PricePer::Kilogram, PricedMetal::AsWeighed),
        ("28.50 USD per ozt", 28.5, PricePer::TroyOunce, PricedMetal::AsWeighed),
        ("28.50 USD per troy ounce of fine", 28.5, PricePer::TroyOunce, PricedMetal::Fine),
        ("1.42 GBP/dwt", 1.42, PricePer::Pennyweight, PricedMetal::AsWeighed),
        ("6 USD per lb avdp", 6.0, PricePer::AvoirdupoisPound, PricedMetal::AsWeighed),
    ] {
        let price = parse_price(text).unwrap_or_else(|error| panic!("{text}: {error}")).value();
        assert_eq!((price.per(), price.metal()), (per, metal), "{text}");
        assert_eq!(price.major().to_bits(), f64::to_bits(major), "{text}");
    }
}
