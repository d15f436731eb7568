//! Winding and its inverse, one bench a flow law; never a gate.

use divan::{Bencher, black_box};
use linkwright_calc::metal::FlowLaw;
use linkwright_calc::quantity::{Curvature, Length, Stress};
use linkwright_calc::wind::{CoilWanted, Mandrel, Winding, mandrel_for, wind};
use linkwright_calc::wire::Wire;

const MPA: fn(f64) -> Stress = Stress::from_mpa;
const LAWS: [&str; 7] = [
    "elastic_perfectly_plastic",
    "bilinear",
    "hollomon",
    "ludwik",
    "swift",
    "voce",
    "ramberg_osgood",
];

fn main() {
    divan::main();
}

fn flow(law: &str) -> FlowLaw {
    match law {
        "elastic_perfectly_plastic" => {
            FlowLaw::ElasticPerfectlyPlastic { yield_strength: MPA(450.0) }
        }
        "bilinear" => {
            FlowLaw::Bilinear { yield_strength: MPA(300.0), tangent_modulus: MPA(1500.0) }
        }
        "hollomon" => {
            FlowLaw::Hollomon { strength_coefficient: MPA(895.0), hardening_exponent: 0.49 }
        }
        "ludwik" => FlowLaw::Ludwik {
            initial_yield: MPA(120.0),
            strength_coefficient: MPA(500.0),
            hardening_exponent: 0.5,
        },
        "swift" => FlowLaw::Swift {
            initial_yield: MPA(120.0),
            strength_coefficient: MPA(700.0),
            hardening_exponent: 0.4,
        },
        "voce" => {
            FlowLaw::Voce { initial_yield: MPA(150.0), saturation_increment: MPA(300.0), rate: 6.0 }
        }
        _ => FlowLaw::RambergOsgood { proof_strength: MPA(430.0), exponent: 8.0 },
    }
}

fn wire() -> Wire {
    Wire::new(Length::from_mm(1.291)).expect("within limits")
}

/// 16 AWG on a 5 mm mandrel.
#[divan::bench(args = LAWS)]
fn from_mandrel_to_coil(bencher: Bencher, law: &str) {
    let winding = Winding {
        wire: wire(),
        mandrel: Mandrel::new(Length::from_mm(5.0)).expect("within limits"),
        youngs_modulus: MPA(110_000.0),
        flow: flow(law),
        natural_curvature: Curvature::from_per_mm(0.0),
    };
    bencher.bench(|| wind(black_box(&winding)));
}

/// The mandrel for a coil of 5 mm.
#[divan::bench(args = LAWS)]
fn from_coil_to_mandrel(bencher: Bencher, law: &str) {
    let wanted = CoilWanted {
        wire: wire(),
        coil_inside_diameter: Length::from_mm(5.0),
        youngs_modulus: MPA(110_000.0),
        flow: flow(law),
        natural_curvature: Curvature::from_per_mm(0.0),
    };
    bencher.bench(|| mandrel_for(black_box(&wanted)));
}
