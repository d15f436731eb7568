//! Units against NIST SP 811 (2008), appendix B, and NIST Handbook 44, appendix C; and where names clash.
//!
//! Source: rows of both as quoted in public text; the appendix is beside each value.

use linkwright_calc::quantity::{
    G_PER_AVOIRDUPOIS_OUNCE, G_PER_CARAT, G_PER_GRAIN, G_PER_PENNYWEIGHT, G_PER_POUND,
    G_PER_TROY_OUNCE, G_PER_TROY_POUND, MM_PER_INCH, MM_PER_SURVEY_FOOT, Remark, parse_fineness,
    parse_length, parse_mass,
};

/// Two roundings of a double, relative.
const ROUNDING: f64 = 2.0 * f64::EPSILON;

fn mm(text: &str) -> f64 {
    parse_length(text).expect(text).value().mm()
}

fn g(text: &str) -> f64 {
    parse_mass(text).expect(text).value().g()
}

#[test]
fn lengths_are_those_of_sp_811_exactly() {
    // Appendix B.8, bold there: exact. 2.54 E-02 m, 3.048 E-01 m, 9.144 E-01 m, 2.54 E-05 m.
    for (text, exact_mm) in
        [("1 in", 25.4), ("1 ft", 304.8), ("1 yd", 914.4), ("1 mil", 0.0254), ("1 thou", 0.0254)]
    {
        assert_eq!(mm(text).to_bits(), f64::to_bits(exact_mm), "{text}");
    }
    assert_eq!(MM_PER_INCH.to_bits(), f64::to_bits(25.4));
}

#[test]
fn masses_are_those_of_sp_811_exactly() {
    // Appendix B.8: grain 6.479 891 E-05 kg, carat 2.0 E-04 kg; pound 0.453 592 37 kg (footnote).
    assert_eq!(g("1 gr").to_bits(), f64::to_bits(0.064_798_91));
    assert_eq!(g("1 metric carat").to_bits(), f64::to_bits(0.2));
    assert_eq!(g("1 lb avdp").to_bits(), f64::to_bits(453.592_37));
}

#[test]
fn troy_and_avoirdupois_hang_together_as_in_handbook_44() {
    // Appendix C, troy and avoirdupois tables: whole numbers of grains.
    for (g, grains) in [
        (G_PER_PENNYWEIGHT, 24.0),
        (G_PER_TROY_OUNCE, 480.0),
        (G_PER_TROY_POUND, 5760.0),
        (G_PER_AVOIRDUPOIS_OUNCE, 437.5),
        (G_PER_POUND, 7000.0),
    ] {
        assert!((g / (grains * G_PER_GRAIN) - 1.0).abs() <= ROUNDING, "{grains} grains");
    }
    // Troy over avoirdupois ounce: 192/175.
    let ratio = G_PER_TROY_OUNCE / G_PER_AVOIRDUPOIS_OUNCE;
    assert!((ratio / (192.0 / 175.0) - 1.0).abs() <= ROUNDING);
}

#[test]
fn sp_811_rounds_what_we_keep_whole() {
    // Appendix B.8 prints seven figures: troy ounce 3.110 348 E-02 kg, pennyweight 1.555 174 E-03 kg.
    assert!((G_PER_TROY_OUNCE - 31.103_48).abs() <= 0.000_005);
    assert!((G_PER_PENNYWEIGHT - 1.555_174).abs() <= 0.000_000_5);
}

#[test]
fn the_survey_foot_differs_by_two_in_a_million() {
    // 304.800609601219 mm (1200/3937 m), to the digits given.
    assert!((MM_PER_SURVEY_FOOT - 304.800_609_601_219).abs() <= 5e-13);
    assert!(parse_length("1 us survey foot").is_err());
}

#[test]
fn mil_is_a_length_here_and_an_angle_in_pint() {
    // pint 0.24.4 takes `mil` for pi/32000 rad. We take SP 811, 0.0254 mm, and say so.
    let mil = parse_length("40 mil").expect("a length");
    assert_eq!((mil.value().mm(), mil.remark()), (1.016, Some(Remark::MilIsThou)));
}

#[test]
fn karat_is_a_fraction_here_and_a_stones_mass_in_pint() {
    // pint 0.24.4 has `karat` as another name of the 0.2 g carat. We take 1/24 by mass, as trade
    // and law do, and ask about the bare ct and carat.
    let karat = parse_fineness("1 karat").expect("a fineness").value().permille();
    assert!((karat / (1000.0 / 24.0) - 1.0).abs() <= ROUNDING);
    assert!(parse_mass("1 karat").is_err_and(|error| error.question().is_some()));
    assert!((G_PER_CARAT - 0.2).abs() <= 0.0);
}

#[test]
fn gr_is_grain_and_point_is_nothing() {
    // pint 0.24.4 and SP 811 agree that gr is grain; jewellers also write it for gram, so we say so.
    assert_eq!(parse_mass("1 gr").expect("a mass").remark(), Some(Remark::GrIsGrain));
    // pint 0.24.4 takes `point` for 0.352778 mm of type, gem dealers for 0.002 g: we read neither.
    assert!(parse_length("1 point").is_err());
    assert!(parse_mass("1 point").is_err());
}

#[test]
fn a_trade_carat_of_gold_is_asked_about_with_both_values() {
    let error = parse_mass("18 ct").expect_err("asked");
    let values: Vec<f64> =
        error.question().expect("a question").readings.iter().map(|r| r.value).collect();
    // 18/24 of 1000, and 18 times 0.2 g.
    assert!((values[0] - 750.0).abs() <= 1e-12 && (values[1] - 3.6).abs() <= 1e-12, "{values:?}");
}
