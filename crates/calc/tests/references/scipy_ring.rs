//! The ring against quadratures in scipy: curved-beam factors, closing shapes, the opening hinge.
//!
//! Source: `data/scipy_curved_beam.csv`, `data/scipy_closing.csv` and `data/scipy_hinge.csv`,
//! written by `cargo xtask references`; each names the version.

use linkwright_calc::quantity::{Length, Stress};
use linkwright_calc::ring::{
    BendingLocalisation, Closing, ClosingInput, CurvedBeam, Strength, StrengthInput,
};
use linkwright_calc::slit::Kerf;
use linkwright_calc::wire::Wire;

use crate::table::rows;

/// The quadratures are asked for 1e-12 and their roots for 1e-13.
const QUADRATURE: f64 = 1e-9;

#[test]
fn curved_beam_factors_follow_from_plane_sections() {
    for row in rows(include_str!("data/scipy_curved_beam.csv")) {
        // R/a = AR + 1.
        let beam = CurvedBeam::of_ring(row.number("mean_radius_over_half_wire") - 1.0);
        let beam = beam.expect("within limits");
        for (ours, column) in
            [(beam.inner_factor(), "inside_factor"), (beam.outer_factor(), "outside_factor")]
        {
            let off = ours - row.number(column);
            assert!(off.abs() <= QUADRATURE, "{}: {column} off by {off:e}", row.line());
        }
    }
}

#[test]
fn closed_shapes_agree_for_every_localisation() {
    let all = rows(include_str!("data/scipy_closing.csv"));
    assert_eq!(all.len(), 15);
    for row in all {
        let mm = |column| Length::from_mm(row.number(column));
        let closing = Closing::of(ClosingInput {
            wire: Wire::new(mm("wire_diameter_mm")).expect("within limits"),
            inside: mm("inside_diameter_mm"),
            kerf: Kerf::new(mm("kerf_mm")).expect("within limits"),
            bending: BendingLocalisation::Exponent(row.number("exponent")),
        })
        .expect("within limits");
        for (ours, column) in [
            (closing.height().mm(), "height_mm"),
            (closing.width().mm(), "width_mm"),
            (closing.end_rotation_factor(), "end_rotation_factor"),
        ] {
            let off = ours - row.number(column);
            assert!(off.abs() <= QUADRATURE, "{}: {column} off by {off:e}", row.line());
        }
    }
}

#[test]
fn the_hinge_that_also_pulls_opens_at_the_same_force() {
    for row in rows(include_str!("data/scipy_hinge.csv")) {
        let yield_strength = Stress::from_mpa(row.number("yield_strength_mpa"));
        let wire = Wire::new(Length::from_mm(row.number("wire_diameter_mm")));
        let strength = Strength::of(StrengthInput {
            wire: wire.expect("within limits"),
            aspect_ratio: row.number("aspect_ratio"),
            yield_strength,
            tensile_strength: yield_strength,
            youngs_modulus: Stress::from_mpa(110_000.0),
        });
        let ours_n = strength.expect("within limits").opens_at_with_axial().n();
        let off = ours_n / row.number("opens_at_n") - 1.0;
        assert!(off.abs() <= QUADRATURE, "{}: off by {off:e}", row.line());
    }
}
