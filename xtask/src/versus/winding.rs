//! Our winding against scipy's integral, on the same inputs in one run.

use std::fmt::Write as _;
use std::hint::black_box;

use anyhow::{Context, Result, ensure};
use linkwright_calc::metal::FlowLaw;
use linkwright_calc::quantity::{Curvature, Length, Stress};
use linkwright_calc::wind::{Mandrel, Winding, wind};
use linkwright_calc::wire::Wire;

use super::stopwatch;
use crate::process::{output, root};
use crate::python::python;

const WIRE_MM: f64 = 1.291;
const BENDS: u32 = 20;
/// Our side is over before a clock has ticked; it is repeated, and the mean is told.
const REPEATS: u32 = 50;
/// What the quadrature is asked for, and the least that both sides must agree to.
const AGREEMENT: f64 = 1e-7;

/// Times both sides, checks that they agree, prints the ratio.
pub fn run() -> Result<()> {
    println!("relaxed curvature of wire wound on {BENDS} mandrels, D/d from 2 to 40");
    println!(
        "{:<26} {:>11} {:>11} {:>8} {:>9}",
        "flow law", "ours us", "scipy us", "ratio", "differ"
    );
    for (name, modulus_mpa, parameters, flow) in laws() {
        let windings = windings(modulus_mpa, flow)?;
        let (ours_s, ours) = timed_ours(&windings)?;
        let (theirs_s, theirs) = timed_scipy(name, modulus_mpa, &parameters, &windings)?;
        let differ = largest_difference(&windings, &ours, &theirs)?;
        let us = |seconds: f64| seconds * 1e6 / f64::from(BENDS);
        let (ours_us, theirs_us) = (us(ours_s), us(theirs_s));
        println!(
            "{name:<26} {ours_us:>11.2} {theirs_us:>11.0} {:>8.0} {differ:>9.0e}",
            theirs_us / ours_us
        );
        ensure!(differ <= AGREEMENT, "{name}: ours and scipy differ by {differ:e}");
    }
    println!(
        "us is the time of one winding; differ is the largest difference of the curvature left,"
    );
    println!("as a share of that on the mandrel; scipy.integrate.quad is asked for 1e-8");
    Ok(())
}

/// Name and parameters as the Python side takes them, and the same law as ours.
fn laws() -> Vec<(&'static str, f64, Vec<f64>, FlowLaw)> {
    let mpa = Stress::from_mpa;
    let hardening =
        |initial: f64, coefficient: f64, exponent: f64| (mpa(initial), mpa(coefficient), exponent);
    let (s0, k, n) = hardening(120.0, 500.0, 0.5);
    vec![
        (
            "elastic_perfectly_plastic",
            110_000.0,
            vec![450.0],
            FlowLaw::ElasticPerfectlyPlastic { yield_strength: mpa(450.0) },
        ),
        (
            "bilinear",
            110_000.0,
            vec![300.0, 1500.0],
            FlowLaw::Bilinear { yield_strength: mpa(300.0), tangent_modulus: mpa(1500.0) },
        ),
        (
            "hollomon",
            110_000.0,
            vec![895.0, 0.49],
            FlowLaw::Hollomon { strength_coefficient: mpa(895.0), hardening_exponent: 0.49 },
        ),
        (
            "ludwik",
            110_000.0,
            vec![120.0, 500.0, 0.5],
            FlowLaw::Ludwik { initial_yield: s0, strength_coefficient: k, hardening_exponent: n },
        ),
        (
            "swift",
            110_000.0,
            vec![120.0, 500.0, 0.5],
            FlowLaw::Swift { initial_yield: s0, strength_coefficient: k, hardening_exponent: n },
        ),
        (
            "voce",
            110_000.0,
            vec![150.0, 300.0, 6.0],
            FlowLaw::Voce {
                initial_yield: mpa(150.0),
                saturation_increment: mpa(300.0),
                rate: 6.0,
            },
        ),
        (
            "ramberg_osgood",
            193_000.0,
            vec![1100.0, 12.0],
            FlowLaw::RambergOsgood { proof_strength: mpa(1100.0), exponent: 12.0 },
        ),
    ]
}

fn windings(modulus_mpa: f64, flow: FlowLaw) -> Result<Vec<Winding>> {
    (1..=BENDS)
        .map(|bend| {
            Ok(Winding {
                wire: Wire::new(Length::from_mm(WIRE_MM))?,
                mandrel: Mandrel::new(Length::from_mm(2.0 * f64::from(bend) * WIRE_MM))?,
                youngs_modulus: Stress::from_mpa(modulus_mpa),
                flow,
                natural_curvature: Curvature::from_per_mm(0.0),
            })
        })
        .collect()
}

/// Seconds for all windings once, and what is left of each curvature.
fn timed_ours(windings: &[Winding]) -> Result<(f64, Vec<f64>)> {
    let relaxed = |winding: &Winding| Ok(wind(winding)?.relaxed_curvature.per_mm());
    let results = windings.iter().map(relaxed).collect::<Result<Vec<f64>>>()?;
    let (elapsed, ()) = stopwatch(|| {
        for _ in 0..REPEATS {
            for winding in windings {
                let _ = black_box(wind(black_box(winding)));
            }
        }
    });
    Ok((elapsed.as_secs_f64() / f64::from(REPEATS), results))
}

/// The same from scipy, which times itself: the start of Python is not counted.
fn timed_scipy(
    name: &str,
    modulus_mpa: f64,
    parameters: &[f64],
    windings: &[Winding],
) -> Result<(f64, Vec<f64>)> {
    let mut law = format!("{name},{modulus_mpa}");
    for parameter in parameters {
        write!(law, ",{parameter}")?;
    }
    let mut command = python()?;
    command.arg(root().join("xtask/references/versus.py")).arg(law);
    for winding in windings {
        let (wire, mandrel) = (winding.wire.diameter().mm(), winding.mandrel.diameter().mm());
        command.arg(format!("{wire},{mandrel}"));
    }
    let printed = output(&mut command)?;
    let mut numbers = printed.lines().map(str::parse::<f64>);
    let seconds = numbers.next().context("scipy said nothing")??;
    Ok((seconds, numbers.collect::<Result<_, _>>()?))
}

fn largest_difference(windings: &[Winding], ours: &[f64], theirs: &[f64]) -> Result<f64> {
    ensure!(ours.len() == theirs.len(), "{} answers against {}", ours.len(), theirs.len());
    let mut largest = 0.0_f64;
    for (winding, (ours, theirs)) in windings.iter().zip(ours.iter().zip(theirs)) {
        let on_mandrel = 2.0 / (winding.mandrel.diameter() + winding.wire.diameter()).mm();
        let difference = (ours - theirs).abs() / on_mandrel;
        ensure!(difference.is_finite(), "ours {ours}, scipy {theirs}");
        largest = largest.max(difference);
    }
    Ok(largest)
}

#[cfg(test)]
mod tests {
    use super::{AGREEMENT, BENDS, largest_difference, laws, windings};

    #[test]
    fn a_difference_is_seen_and_a_missing_answer_too() {
        let (_, modulus_mpa, _, flow) = laws().remove(0);
        let windings = windings(modulus_mpa, flow).unwrap();
        let ours = vec![0.1; BENDS as usize];
        let mut theirs = ours.clone();
        assert!(largest_difference(&windings, &ours, &theirs).unwrap() <= AGREEMENT);
        theirs[3] += 1e-3;
        assert!(largest_difference(&windings, &ours, &theirs).unwrap() > AGREEMENT);
        theirs[3] = f64::NAN;
        assert!(largest_difference(&windings, &ours, &theirs).is_err());
        theirs.pop();
        assert!(largest_difference(&windings, &ours, &theirs).is_err());
    }
}
