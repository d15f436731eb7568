//! The worked examples of the batch interface for slitting.
//!
//! Source: the design's batch page, asks `projection_window`, `stop_end` and `cutting`; ten
//! printed digits.

use linkwright_calc::coil::{InsideDiameter, Pitch};
use linkwright_calc::quantity::Length;
use linkwright_calc::slit::{
    AllowanceParts, Allowances, Blade, BladeParts, FeedRate, Kerf, LastTurn, Projection, Rpm,
    StopQuery, chip, engagement, head_start, projection_window, stop_end,
};
use linkwright_calc::wire::Wire;

/// Agreement wanted for closed forms, relative.
const CLOSED: f64 = 1e-6;

fn agrees(found: f64, printed: f64) {
    assert!((found / printed - 1.0).abs() <= CLOSED, "{found} is not {printed}");
}

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

fn blade(teeth: Option<u32>) -> Blade {
    let kerf = Kerf::new(mm(0.3)).expect("within limits");
    Blade::new(BladeParts { diameter: mm(22.0), kerf, teeth, hub_diameter: None })
        .expect("within limits")
}

#[test]
fn projection_window_is_as_printed() {
    let window = projection_window(
        Wire::new(mm(2.053)).expect("within limits"),
        InsideDiameter::new(mm(9.6)).expect("within limits"),
        Kerf::new(mm(0.5)).expect("within limits"),
        Allowances::new(AllowanceParts {
            blade_offset: mm(0.2),
            squash: mm(0.1),
            margin: mm(0.3),
            hub_clearance: mm(0.0),
        })
        .expect("within limits"),
    )
    .expect("within limits");
    agrees(window.parts.mm(), 2.053);
    agrees(window.clean.mm(), 2.059_514_838);
    agrees(window.clean_with_offset.mm(), 2.074_140_303);
    agrees(window.far_wall.mm(), 11.646_485_16);
    agrees(window.most.mm(), 11.246_485_16);
}

#[test]
fn stop_end_is_as_printed() {
    let projection = Projection::new(mm(1.8)).expect("within limits");
    let wire = Wire::new(mm(1.291)).expect("within limits");
    let stop = stop_end(StopQuery {
        blade: blade(None),
        projection,
        wire,
        pitch: Pitch::new(mm(1.31)).expect("within limits"),
        last_turn: LastTurn::from_blade_centre(mm(6.0)).expect("within limits"),
        sagitta: mm(0.0),
    })
    .expect("within limits");
    agrees(stop.severed_reach.mm(), 3.206_524_598);
    agrees(stop.touched_reach.mm(), 6.219_630_214);
    agrees(head_start(blade(None), projection, wire).expect("within limits").mm(), 6.219_630_214);
    agrees(stop.depth_at_last_turn.mm(), 0.019_544_457_29);
    let counts = (stop.turns_not_severed, stop.turns_nicked, stop.turns_untouched);
    assert_eq!(counts, (3, 3, 0));
}

#[test]
fn cutting_is_as_printed() {
    let blade = blade(Some(72));
    let wire = Wire::new(mm(1.291)).expect("within limits");
    let pitch = Pitch::new(mm(1.31)).expect("within limits");
    let cut = engagement(blade, Projection::new(mm(1.8)).expect("within limits"), wire, pitch)
        .expect("within limits");
    let rpm = Rpm::new(900.0).expect("within limits");
    let chip = chip(&cut, blade, wire, rpm, FeedRate::new(60.0).expect("within limits"))
        .expect("within limits");
    agrees(cut.arc_rad, 0.274_782_357_5);
    agrees(cut.chord.mm(), 2.722_521_708);
    agrees(cut.turns_in_cut, 2.078_260_846);
    agrees(cut.teeth_in_cut.expect("within limits"), 3.148_773_874);
    agrees(chip.feed_per_tooth.mm(), 0.000_925_925_925_9);
    agrees(chip.thickest.mm(), 0.000_507_569_475_8);
    agrees(chip.mean.mm(), 0.000_395_476_749_9);
    agrees(rpm.surface_speed(blade).m_per_min(), 62.203_534_54);
    agrees(rpm.surface_speed(blade).ft_per_min(), 204.079_837_7);
}
