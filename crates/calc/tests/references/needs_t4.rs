//! Task T4 of the design: a blade trial on bronze, its geometry.
//!
//! Source: the design's worked task T4; numbers as printed there, the agreement half of their
//! last digit.

use linkwright_calc::coil::{InsideDiameter, Pitch};
use linkwright_calc::quantity::Length;
use linkwright_calc::slit::{
    Allowances, AxisHeight, Blade, BladeParts, DepthSetting, Finding, Kerf, LastTurn, Projection,
    Verdict, VerdictQuery, head_start, severed_reach, verdict,
};
use linkwright_calc::wire::Wire;

const HALF_LAST_DIGIT_MM: f64 = 0.005;

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

fn agrees(found: Length, printed_mm: f64) {
    assert!((found.mm() - printed_mm).abs() < HALF_LAST_DIGIT_MM, "{found:?} is not {printed_mm}");
}

/// 1 1/4 in or 1 1/2 in; the task names no kerf, 0.3 mm is that of task T2.
fn blade(inches: f64) -> Blade {
    Blade::new(BladeParts {
        diameter: Length::from_inches(inches),
        kerf: Kerf::new(mm(0.3)).expect("within limits"),
        teeth: None,
        hub_diameter: None,
    })
    .expect("within limits")
}

fn projection(e_mm: f64) -> Projection {
    Projection::new(mm(e_mm)).expect("within limits")
}

/// Bronze 14 AWG on a 6 mm rod, the axis halting 6.0 short of the coil's end.
fn bronze(inches: f64, e_mm: f64) -> Verdict {
    let wire = Wire::new(mm(1.63)).expect("within limits");
    verdict(&VerdictQuery {
        wire,
        inside: InsideDiameter::new(mm(6.24)).expect("within limits"),
        pitch: Pitch::new(mm(1.01 * 1.63)).expect("within limits"),
        blade: blade(inches),
        depth: DepthSetting::Projection(projection(e_mm)),
        allowances: Allowances::NONE,
        last_turn: Some(LastTurn::from_coil_end(mm(6.0), wire).expect("within limits")),
    })
    .expect("within limits")
}

#[test]
fn a_projection_of_1_6_is_refused_since_it_is_less_than_the_wire() {
    let judged = bronze(1.25, 1.6);
    assert!(!judged.clears());
    assert!(matches!(judged.findings[..], [Finding::DoesNotReach { .. }]), "{judged:?}");
    assert_eq!(judged.severed_reach, None);
}

#[test]
fn a_projection_of_2_2_is_allowed_and_clears_the_far_side_by_5_67() {
    let judged = bronze(1.25, 2.2);
    assert!(judged.clears());
    assert!(judged.findings.is_empty(), "{judged:?}");
    agrees(judged.margins.before_far_wall, 5.67);
}

#[test]
fn head_start_severed_reach_and_one_ring_left_with_either_blade() {
    let wire = Wire::new(mm(1.63)).expect("within limits");
    for (inches, start_mm, severed_mm) in [(1.25, 8.28, 4.10), (1.5, 9.09, 4.52)] {
        agrees(head_start(blade(inches), projection(2.2), wire).expect("within limits"), start_mm);
        let reach =
            severed_reach(blade(inches), projection(2.2), wire, mm(0.0)).expect("within limits");
        agrees(reach, severed_mm);
        let judged = bronze(inches, 2.2);
        agrees(judged.head_start.expect("within limits"), start_mm);
        agrees(judged.severed_reach.expect("within limits"), severed_mm);
        assert_eq!(judged.not_severed_at_stop, Some(1));
    }
}

#[test]
fn twenty_six_gauge_on_a_2_5_rod_is_refused_at_3_0_since_the_far_side_lies_at_2_985() {
    let fine = |kerf_mm, e_mm| {
        let kerf = Kerf::new(mm(kerf_mm)).expect("within limits");
        verdict(&VerdictQuery {
            wire: Wire::new(mm(0.405)).expect("within limits"),
            inside: InsideDiameter::new(mm(2.58)).expect("within limits"),
            pitch: Pitch::new(mm(1.01 * 0.405)).expect("within limits"),
            blade: Blade::new(BladeParts {
                diameter: Length::from_inches(1.25),
                kerf,
                teeth: None,
                hub_diameter: None,
            })
            .expect("within limits"),
            depth: DepthSetting::Projection(projection(e_mm)),
            allowances: Allowances::NONE,
            last_turn: None,
        })
        .expect("within limits")
    };
    let refused = fine(0.2, 3.0);
    assert!(matches!(refused.findings[..], [Finding::ReachesFarWall { .. }]), "{refused:?}");
    // The far side on the axis, where the curve of the bore over a hair's kerf is nothing.
    let far_mm = fine(0.01, 3.0).window.far_wall.mm();
    assert!((far_mm - 2.985).abs() < 0.0005, "{far_mm}");
    assert!(fine(0.2, 2.9).clears());
}

#[test]
fn the_larger_blade_on_the_same_axis_reaches_half_the_difference_deeper() {
    let axis = AxisHeight::from_measured(blade(1.25), projection(2.2)).expect("within limits");
    let larger = axis.projection_with(blade(1.5)).expect("within limits");
    // Half of 38.10 - 31.75 more.
    assert!((larger.depth().mm() - 5.375).abs() < 1e-12);
}
