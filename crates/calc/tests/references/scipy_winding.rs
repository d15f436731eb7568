//! Winding with every flow law against an adaptive quadrature in scipy that shares no code with ours.
//!
//! Source: `data/scipy_winding.csv`, `data/scipy_mandrel.csv` and `data/scipy_work.csv`, written by
//! `cargo xtask references`; each names the version. The quadrature is `scipy.integrate.quad` over
//! the depth in the wire, split at yield, to a relative 1e-12.

use linkwright_calc::metal::FlowLaw;
use linkwright_calc::quantity::{Curvature, Length, Stress};
use linkwright_calc::wind::{CoilWanted, Mandrel, Winding, Wound, mandrel_for, wind};
use linkwright_calc::wire::Wire;

use crate::table::{Row, rows};

/// What is asked of an integrated hardening law is 1e-4; both sides do far better than that.
const INTEGRATED: f64 = 1e-7;
/// Where a law has a closed form on our side only the quadrature's own error is left.
const CLOSED: f64 = 1e-10;

fn flow(row: &Row) -> FlowLaw {
    let p = |column| row.number(column);
    let mpa = |column| Stress::from_mpa(row.number(column));
    match row.text("law") {
        "elastic_perfectly_plastic" => {
            FlowLaw::ElasticPerfectlyPlastic { yield_strength: mpa("p1") }
        }
        "bilinear" => FlowLaw::Bilinear { yield_strength: mpa("p1"), tangent_modulus: mpa("p2") },
        "hollomon" => {
            FlowLaw::Hollomon { strength_coefficient: mpa("p1"), hardening_exponent: p("p2") }
        }
        "ludwik" => FlowLaw::Ludwik {
            initial_yield: mpa("p1"),
            strength_coefficient: mpa("p2"),
            hardening_exponent: p("p3"),
        },
        "swift" => FlowLaw::Swift {
            initial_yield: mpa("p1"),
            strength_coefficient: mpa("p2"),
            hardening_exponent: p("p3"),
        },
        "voce" => FlowLaw::Voce {
            initial_yield: mpa("p1"),
            saturation_increment: mpa("p2"),
            rate: p("p3"),
        },
        "ramberg_osgood" => FlowLaw::RambergOsgood { proof_strength: mpa("p1"), exponent: p("p2") },
        other => panic!("unknown law {other}"),
    }
}

fn most(row: &Row) -> f64 {
    if row.text("law") == "elastic_perfectly_plastic" { CLOSED } else { INTEGRATED }
}

fn wire(row: &Row) -> Wire {
    Wire::new(Length::from_mm(row.number("wire_diameter_mm"))).expect("within limits")
}

fn wound(row: &Row, natural_per_mm: f64) -> Wound {
    let mandrel = Length::from_mm(row.number("mandrel_diameter_mm"));
    wind(&Winding {
        wire: wire(row),
        mandrel: Mandrel::new(mandrel).expect("within limits"),
        youngs_modulus: Stress::from_mpa(row.number("youngs_modulus_mpa")),
        flow: flow(row),
        natural_curvature: Curvature::from_per_mm(natural_per_mm),
    })
    .expect("within limits")
}

#[test]
fn moment_and_relaxed_curvature_agree_for_all_seven_laws() {
    let all = rows(include_str!("data/scipy_winding.csv"));
    let mut laws: Vec<&str> = all.iter().map(|row| row.text("law")).collect();
    laws.dedup();
    assert_eq!((all.len(), laws.len()), (210, 7));
    for row in all {
        let ours = wound(&row, row.number("natural_curvature_per_mm"));
        let off = ours.bending_moment.n_mm() / row.number("bending_moment_n_mm") - 1.0;
        assert!(off.abs() <= most(&row), "{}: moment off by {off:e}", row.line());
        // A difference: measured against the curvature on the mandrel, not against what is left.
        let on_mandrel_per_mm = 1.0 / ours.mean_radius.mm();
        let left_per_mm = row.number("relaxed_curvature_per_mm");
        let off = (ours.relaxed_curvature.per_mm() - left_per_mm) / on_mandrel_per_mm;
        assert!(off.abs() <= most(&row), "{}: curvature off by {off:e}", row.line());
    }
}

#[test]
fn the_mandrel_for_a_coil_agrees_for_all_seven_laws() {
    for row in rows(include_str!("data/scipy_mandrel.csv")) {
        let mandrel = mandrel_for(&CoilWanted {
            wire: wire(&row),
            coil_inside_diameter: Length::from_mm(row.number("coil_inside_diameter_mm")),
            youngs_modulus: Stress::from_mpa(row.number("youngs_modulus_mpa")),
            flow: flow(&row),
            natural_curvature: Curvature::from_per_mm(0.0),
        });
        let ours_mm = mandrel.expect("within limits").map(|mandrel| mandrel.diameter().mm());
        match (ours_mm, row.maybe("mandrel_diameter_mm")) {
            (Some(ours_mm), Some(theirs_mm)) => {
                let off = ours_mm / theirs_mm - 1.0;
                assert!(off.abs() <= INTEGRATED, "{}: off by {off:e}", row.line());
            }
            (ours_mm, theirs_mm) => assert_eq!(ours_mm, theirs_mm, "{}", row.line()),
        }
    }
}

#[test]
fn the_work_of_winding_is_the_moment_summed_over_the_bend() {
    let all = rows(include_str!("data/scipy_work.csv"));
    assert_eq!(all.len(), 7);
    for row in all {
        let off = wound(&row, 0.0).work_per_length.n() / row.number("work_n") - 1.0;
        // The library's outer quadrature is asked for 1e-9.
        assert!(off.abs() <= INTEGRATED, "{}: off by {off:e}", row.line());
    }
}
