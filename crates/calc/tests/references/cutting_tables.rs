//! Speeds, feeds, lead-ins and cutting energy as printed in tables and manuals.
//!
//! Sources stand beside the values. "Checked facts" are geometry worked out apart from this
//! program for the design.

use linkwright_calc::coil::Pitch;
use linkwright_calc::metal::Verified;
use linkwright_calc::quantity::Length;
use linkwright_calc::slit::{
    Blade, BladeParts, CUTTING_SPEEDS, FeedRate, Kerf, Projection, Rpm, SpecificEnergy,
    SurfaceSpeed, chip, engagement, half_chord,
};
use linkwright_calc::wire::Wire;

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

fn blade(diameter: Length, teeth: Option<u32>) -> Blade {
    let kerf = Kerf::new(mm(0.3)).expect("within limits");
    Blade::new(BladeParts { diameter, kerf, teeth, hub_diameter: None }).expect("within limits")
}

/// (blade in inches, turns a minute, metres a minute). Source: checked facts; half the last digit.
const SURFACE_SPEEDS: [(f64, f64, f64); 4] = [
    (1.25, 1500.0, 149.6),
    (1.25, 15_000.0, 1496.2),
    (1.5, 1500.0, 179.5),
    (1.5, 15_000.0, 1795.4),
];

#[test]
fn surface_speeds_are_the_checked_ones() {
    for (inches, rpm, m_per_min) in SURFACE_SPEEDS {
        let blade = blade(Length::from_inches(inches), None);
        let found = Rpm::new(rpm).expect("within limits").surface_speed(blade).m_per_min();
        assert!((found - m_per_min).abs() <= 0.05, "{found} is not {m_per_min}");
    }
}

#[test]
fn speeds_of_turn_for_120_metres_a_minute_are_the_checked_ones() {
    // Source: checked facts; half the last digit.
    for (inches, rpm) in [(1.25, 1203.0), (1.5, 1003.0)] {
        let blade = blade(Length::from_inches(inches), None);
        let found = SurfaceSpeed::new(120.0).expect("within limits").turns_per_min(blade);
        assert!((found - rpm).abs() <= 0.5, "{found} is not {rpm}");
    }
}

#[test]
fn speeds_of_turn_are_those_of_a_printed_table() {
    // (ft/min, inches, exact, as printed). Source: cutting-speed and rpm table, etantdonnes.com;
    // the table rounds down to tens.
    for (ft_per_min, inches, exact, printed) in
        [(200.0, 1.0, 764.0, 760.0), (300.0, 2.0, 573.0, 570.0)]
    {
        let speed = SurfaceSpeed::new(ft_per_min * 0.3048).expect("within limits");
        let found = speed.turns_per_min(blade(Length::from_inches(inches), None));
        assert!((found - exact).abs() <= 0.5, "{found} is not {exact}");
        assert!((0.0..10.0).contains(&(found - printed)), "{found} is not printed {printed}");
    }
}

#[test]
fn a_feed_of_11_26_inches_a_minute_is_four_thou_a_tooth() {
    // 0.004 in a tooth, 32 teeth, 88 turns a minute. Source: New Concepts in Milling Handbook,
    // 1973, which prints 11.2 in/min; the product is 11.264.
    let blade = blade(mm(100.0), Some(32));
    let wire = Wire::new(mm(2.0)).expect("within limits");
    let pitch = Pitch::new(mm(2.0)).expect("within limits");
    let cut = engagement(blade, Projection::new(mm(4.0)).expect("within limits"), wire, pitch)
        .expect("within limits");
    let feed = FeedRate::new(11.264 * 25.4).expect("within limits");
    let chip = chip(&cut, blade, wire, Rpm::new(88.0).expect("within limits"), feed)
        .expect("within limits");
    assert!((chip.feed_per_tooth.inches() - 0.004).abs() < 1e-12); // rounding
    assert!((11.264_f64 - 11.2).abs() < 0.1); // the printed figure is cut off, not rounded
}

#[test]
fn horsepower_minutes_become_the_printed_joules() {
    // Source: Machinery's Handbook, 31st edition, page 1147: plain carbon steel, 100 to 120
    // Brinell, 0.66 hp min/in3, beside 1.80 J/mm3; half the last digit.
    let energy = SpecificEnergy::from_hp_min_per_in3(0.66).expect("within limits");
    assert!((energy.j_per_mm3() - 1.80).abs() <= 0.005);
}

/// (blade in inches, projection mm, lead-in mm). Source: checked facts; half the last digit.
const LEAD_INS: [(f64, f64, f64); 4] =
    [(1.25, 1.5, 6.74), (1.25, 2.2, 8.06), (1.5, 1.5, 7.41), (1.5, 2.2, 8.89)];

#[test]
fn lead_ins_are_the_checked_ones() {
    for (inches, e_mm, lead_in_mm) in LEAD_INS {
        let blade = blade(Length::from_inches(inches), None);
        let found = half_chord(blade, Projection::new(mm(e_mm)).expect("within limits"))
            .expect("within limits")
            .mm();
        assert!((found - lead_in_mm).abs() <= 0.005, "{found} is not {lead_in_mm}");
    }
}

#[test]
fn a_twenty_two_millimetre_blade_meets_46_metres_a_minute_at_some_670_turns() {
    // Source: the design's mechanics page, section D, which rounds to tens.
    let found =
        SurfaceSpeed::new(46.0).expect("within limits").turns_per_min(blade(mm(22.0), None));
    assert!((found - 670.0).abs() <= 5.0, "{found}");
    let fast =
        Rpm::new(10_000.0).expect("within limits").surface_speed(blade(mm(22.0), None)).m_per_min();
    assert!((fast - 690.0).abs() <= 5.0, "{fast}");
}

/// (kind of metal, ft/min as printed). Source: high-speed-steel table in a milling-machine manual.
const PRINTED_FT_PER_MIN: [(&str, f64); 6] = [
    ("copper", 100.0),
    ("brass and commercial bronze", 150.0),
    ("aluminium", 300.0),
    ("mild steel", 90.0),
    ("stainless steel", 60.0),
    ("titanium", 50.0),
];

#[test]
fn every_range_holds_the_printed_speed_of_its_metal() {
    for (metal, ft_per_min) in PRINTED_FT_PER_MIN {
        let row = CUTTING_SPEEDS.iter().find(|row| row.metal == metal).expect("a row");
        let m_per_min = ft_per_min * 0.3048;
        // Metres in the table are whole.
        assert!(
            row.m_per_min_low - 0.5 <= m_per_min && m_per_min <= row.m_per_min_high + 0.5,
            "{metal}: {m_per_min} outside {} to {}",
            row.m_per_min_low,
            row.m_per_min_high
        );
    }
}

#[test]
fn the_table_in_the_code_is_the_data_file() {
    let file = include_str!("../../../../data/cutting-speeds.csv");
    let mut lines = file.lines();
    assert_eq!(
        lines.next(),
        Some(
            "metal,m_per_min_low,m_per_min_high,feed_per_tooth_mm_low,feed_per_tooth_mm_high,\
             source,verified,caution"
        )
    );
    let lines: Vec<&str> = lines.collect();
    assert_eq!(lines.len(), CUTTING_SPEEDS.len());
    for (line, row) in lines.into_iter().zip(CUTTING_SPEEDS) {
        let verified = match row.verified {
            Verified::FromMemory => "from memory",
            Verified::TextSeenInPart => "text seen in part",
            _ => panic!("{}: no word for this", row.metal),
        };
        // Text with a comma stands in quotes.
        let quoted = |text: &str| {
            if text.contains(',') { format!("\"{text}\"") } else { text.to_owned() }
        };
        let wanted = format!(
            "{},{:.1},{:.1},{:.3},{:.3},{},{verified},{}",
            row.metal,
            row.m_per_min_low,
            row.m_per_min_high,
            row.feed_per_tooth_mm_low,
            row.feed_per_tooth_mm_high,
            quoted(row.source),
            quoted(row.caution),
        );
        assert_eq!(line, wanted);
    }
}
