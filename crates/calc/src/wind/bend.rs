//! Moment and work of a round wire bent to a curvature, for every flow law.

use std::f64::consts::PI;
use std::num::NonZeroUsize;
use std::sync::LazyLock;

use gauss_quad::legendre::GaussLegendre;

use super::stress::ElasticPlastic;
use crate::quantity::{Curvature, Force, Torque};
use crate::wire::Wire;

/// A wire held at a curvature: the moment that holds it and the work that brought it there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bent {
    /// Bending moment, with the sign of the curvature.
    pub moment: Torque,
    /// Work per length of wire, N mm per mm.
    pub work_per_length: Force,
}

/// Moment and work per length of a round wire bent from straight.
///
/// Summed over stress instead of over depth, which needs the flow law only in its open form, strain
/// from stress `eps(s)`, and the stress `sa` at the surface:
/// `M = (4/3) integral from 0 to sa of (a^2 - (eps(s)/kappa)^2)^1.5 ds`,
/// `w = (4/3) a^2 integral from 0 to sa of eps(s) J(eps(s)/(a kappa)) ds`, with
/// `J(v) = sqrt(1-v^2)/v + 1.5 asin v + v sqrt(1-v^2)/2 - 3 pi/4` and `a = d/2`.
/// The elastic core has closed forms; the hardening beyond yield is summed with 64 Gauss points.
///
/// # Units
/// Curvature 1/mm, moment N mm, work per length N.
/// # Validity
/// Bending alone; plane sections; strain from the middle of the section. At `D/d` of 3 the true
/// moment of a strongly hardening metal is some 0.4 % higher
/// ([`second_order`](fn@super::second_order)). Sum and layers agree within 5e-7.
/// # Source
/// `M = 4 integral of sigma y sqrt(a^2 - y^2) dy` by parts; own derivation,
/// `docs/theory/winding.md`.
///
/// ```
/// use linkwright_calc::metal::FlowLaw;
/// use linkwright_calc::quantity::{Curvature, Length, Stress};
/// use linkwright_calc::wind::{ElasticPlastic, bend};
/// use linkwright_calc::wire::Wire;
/// let law = FlowLaw::ElasticPerfectlyPlastic { yield_strength: Stress::from_mpa(450.0) };
/// let brass = ElasticPlastic::new(Stress::from_mpa(110_000.0), law).unwrap();
/// let wire = Wire::new(Length::from_mm(2.053)).unwrap();
/// let bent = bend(wire, &brass, Curvature::from_per_mm(1.0 / 8.0265));
/// assert!((bent.moment.n_mm() - 648.643).abs() < 0.001);
/// ```
pub fn bend(wire: Wire, metal: &ElasticPlastic, curvature: Curvature) -> Bent {
    let a_mm = wire.diameter().mm() / 2.0;
    let e_mpa = metal.youngs_modulus().mpa();
    let surface_strain = curvature.per_mm().abs() * a_mm;
    let elastic = e_mpa * surface_strain;
    // 4/3 a^3 turns a stress into a moment, 4/3 a^2 into a work per length.
    let (moment, work) = if surface_strain <= metal.yield_strain() {
        (elastic * ALL_ELASTIC, elastic * surface_strain * 3.0 * PI / 32.0)
    } else {
        let v = metal.yield_strain() / surface_strain;
        let hardening = hardening(metal, surface_strain);
        (
            elastic * core_moment(v) + hardening.moment,
            surface_strain * (elastic * core_work(v) + hardening.work),
        )
    };
    Bent {
        moment: Torque::from_n_mm((4.0 / 3.0 * a_mm.powi(3) * moment).copysign(curvature.per_mm())),
        work_per_length: Force::from_n(4.0 / 3.0 * a_mm * a_mm * work),
    }
}

/// What hardening adds, in MPa.
struct Hardening {
    moment: f64,
    work: f64,
}

/// The two integrals over the stress from yield up to the surface.
fn hardening(metal: &ElasticPlastic, surface_strain: f64) -> Hardening {
    let yield_mpa = metal.youngs_modulus().mpa() * metal.yield_strain();
    let rise_mpa = metal.stress_mpa(surface_strain) - yield_mpa;
    let (mut moment, mut work) = (0.0, 0.0);
    if rise_mpa > 0.0 {
        for &(share, weight) in GRADED.iter() {
            let v = metal.strain_at(yield_mpa + rise_mpa * share, surface_strain) / surface_strain;
            let c2 = (1.0 - v * v).max(0.0);
            let c = c2.sqrt();
            moment += weight * c2 * c;
            work += weight * (c * (1.0 + v * v / 2.0) + 1.5 * v * v.asin() - 0.75 * PI * v);
        }
    }
    Hardening { moment: rise_mpa * moment, work: rise_mpa * work }
}

/// Integral of `(1 - v^2)^1.5` from nothing to `v`: the moment of an elastic core, and the whole
/// moment of a metal that does not harden.
pub(super) fn core_moment(v: f64) -> f64 {
    let c = (1.0 - v * v).max(0.0).sqrt();
    (3.0 * v.asin() + v * c * (5.0 - 2.0 * v * v)) / 8.0
}

/// Integral of `v J(v)` from nothing to `v`: the work of the same.
fn core_work(v: f64) -> f64 {
    let c = (1.0 - v * v).max(0.0).sqrt();
    v.asin() * (3.0 + 12.0 * v * v) / 16.0 + v * c * (13.0 + 2.0 * v * v) / 16.0
        - 0.375 * PI * v * v
}

/// Gauss points on 0 to 1, crowded to both ends by `10 t^3 - 15 t^4 + 6 t^5`, with weights.
///
/// Crowding smooths the half-power at the surface and the sharp bend of a law of small exponent or
/// fast saturation. Made once.
static GRADED: LazyLock<Vec<(f64, f64)>> = LazyLock::new(|| {
    const POINTS: NonZeroUsize = NonZeroUsize::new(64).expect("64 is not zero");
    GaussLegendre::new(POINTS)
        .as_node_weight_pairs()
        .iter()
        .map(|&(x, w)| {
            let t = (x + 1.0) / 2.0;
            let share = t * t * t * (10.0 + t * (6.0 * t - 15.0));
            (share, w / 2.0 * 30.0 * (t * (1.0 - t)).powi(2))
        })
        .collect()
});

/// Largest value of `v` for [`core_moment`], where all of the section is elastic: `3 pi / 16`.
pub(super) const ALL_ELASTIC: f64 = 3.0 * PI / 16.0;

#[cfg(test)]
mod tests {
    use std::f64::consts::FRAC_PI_2;

    use proptest::prelude::{Strategy, prop_assert, prop_oneof, proptest};

    use super::*;
    use crate::metal::FlowLaw;
    use crate::quantity::{Length, Stress};
    use crate::wind::closed::{PerfectlyPlastic, perfectly_plastic_moment, power_law_moment};

    const MPA: fn(f64) -> Stress = Stress::from_mpa;

    /// Every law once, as a brass wire might have it.
    fn laws() -> [FlowLaw; 7] {
        [
            FlowLaw::ElasticPerfectlyPlastic { yield_strength: MPA(450.0) },
            FlowLaw::Bilinear { yield_strength: MPA(400.0), tangent_modulus: MPA(900.0) },
            FlowLaw::Hollomon { strength_coefficient: MPA(810.0), hardening_exponent: 0.49 },
            FlowLaw::Ludwik {
                initial_yield: MPA(120.0),
                strength_coefficient: MPA(600.0),
                hardening_exponent: 0.55,
            },
            FlowLaw::Swift {
                initial_yield: MPA(300.0),
                strength_coefficient: MPA(700.0),
                hardening_exponent: 0.2,
            },
            FlowLaw::Voce {
                initial_yield: MPA(250.0),
                saturation_increment: MPA(200.0),
                rate: 12.0,
            },
            FlowLaw::RambergOsgood { proof_strength: MPA(420.0), exponent: 14.0 },
        ]
    }

    fn metal(law: FlowLaw) -> ElasticPlastic {
        ElasticPlastic::new(MPA(110_000.0), law).unwrap()
    }

    fn wire(d_mm: f64) -> Wire {
        Wire::new(Length::from_mm(d_mm)).unwrap()
    }

    fn bent(d_mm: f64, metal: &ElasticPlastic, per_mm: f64) -> Bent {
        bend(wire(d_mm), metal, Curvature::from_per_mm(per_mm))
    }

    /// The section cut in layers across the bend: moment and work by the midpoint rule in the
    /// angle `t` of `y = a sin t`, from `sigma(eps)` and `U(eps)` and nothing else.
    fn layered(d_mm: f64, metal: &ElasticPlastic, per_mm: f64, layers: u32) -> (f64, f64) {
        let a = d_mm / 2.0;
        let (mut moment, mut work) = (0.0, 0.0);
        for i in 0..layers {
            let t = (f64::from(i) + 0.5) / f64::from(layers) * FRAC_PI_2;
            let (s, c) = t.sin_cos();
            let layer = FRAC_PI_2 / f64::from(layers) * 4.0 * a * a * c * c;
            moment += metal.stress(per_mm * a * s).mpa() * a * s * layer;
            work += metal.energy(per_mm * a * s).mpa() * layer;
        }
        (moment, work)
    }

    #[test]
    fn summing_over_stress_agrees_with_summing_over_layers_for_every_law() {
        for law in laws() {
            for d_over in [0.02, 0.3, 1.0, 2.5] {
                let metal = metal(law);
                let per_mm = d_over * 0.2;
                let sum = bent(1.3, &metal, per_mm);
                let (moment, work) = layered(1.3, &metal, per_mm, 40_000);
                // The midpoint rule with 40,000 layers misses a corner at the yield depth, and the
                // steep start of Ludwik's law, by up to some 1e-7.
                let off = (sum.moment.n_mm() / moment - 1.0).abs();
                assert!(off < 5e-7, "{law:?} at {per_mm}: moment off by {off}");
                let off = (sum.work_per_length.n() / work - 1.0).abs();
                assert!(off < 5e-7, "{law:?} at {per_mm}: work off by {off}");
            }
        }
    }

    #[test]
    fn without_hardening_the_sum_is_the_closed_form() {
        let plain = metal(laws()[0]);
        // Laws that come to the same thing: no slope, no exponent, hardening run out at once.
        let flat = [
            FlowLaw::Bilinear { yield_strength: MPA(450.0), tangent_modulus: MPA(0.0) },
            FlowLaw::Hollomon { strength_coefficient: MPA(450.0), hardening_exponent: 0.0 },
            FlowLaw::Ludwik {
                initial_yield: MPA(150.0),
                strength_coefficient: MPA(300.0),
                hardening_exponent: 0.0,
            },
            FlowLaw::Swift {
                initial_yield: MPA(450.0),
                strength_coefficient: MPA(450.0),
                hardening_exponent: 0.0,
            },
        ];
        for per_mm in [1e-3, 0.01, 0.1, 0.3, 1.0] {
            let closed = perfectly_plastic_moment(&PerfectlyPlastic {
                wire: wire(1.3),
                youngs_modulus: MPA(110_000.0),
                flow_stress: MPA(450.0),
                curvature: Curvature::from_per_mm(per_mm),
            });
            let off = bent(1.3, &plain, per_mm).moment.n_mm() / closed.n_mm() - 1.0;
            assert!(off.abs() < 1e-14, "{off}"); // the same sum but for rounding
            for law in flat {
                let off = bent(1.3, &metal(law), per_mm).moment.n_mm() / closed.n_mm() - 1.0;
                // A jump in the stress, as a law without exponent has, costs Gauss's rule 1e-6.
                assert!(off.abs() < 1e-6, "{law:?} at {per_mm}: {off}");
            }
        }
    }

    #[test]
    fn deep_in_plastic_bending_a_power_law_has_its_closed_form() {
        for n in [0.02, 0.1, 0.3, 0.49, 0.8] {
            let law = FlowLaw::Hollomon { strength_coefficient: MPA(800.0), hardening_exponent: n };
            // So stiff a metal that its elastic core is thinner than rounding.
            let metal = ElasticPlastic::new(MPA(1e6), law).unwrap();
            let per_mm = 0.9;
            let closed =
                power_law_moment(wire(1.0), MPA(800.0), n, Curvature::from_per_mm(per_mm)).unwrap();
            let bent = bent(1.0, &metal, per_mm);
            // The core still takes the square of its depth, (ec/0.45)^2, here at most 2e-5.
            let off = bent.moment.n_mm() / closed.n_mm() - 1.0;
            assert!(off.abs() < 2e-5, "n {n}: moment off by {off}");
            let off = bent.work_per_length.n() * (1.0 + n) / (closed.n_mm() * per_mm) - 1.0;
            assert!(off.abs() < 4e-3, "n {n}: work off by {off}"); // core: first power of its depth
        }
    }

    #[test]
    fn moment_is_the_slope_of_work() {
        for law in laws() {
            let metal = metal(law);
            for per_mm in [0.02, 0.2, 0.6] {
                let h = 1e-4 * per_mm;
                let rise = bent(1.3, &metal, per_mm + h).work_per_length.n()
                    - bent(1.3, &metal, per_mm - h).work_per_length.n();
                let off = rise / (2.0 * h) / bent(1.3, &metal, per_mm).moment.n_mm() - 1.0;
                // Central difference: the square of the step, 1e-8, times the third derivative.
                assert!(off.abs() < 1e-7, "{law:?} at {per_mm}: {off}");
            }
        }
    }

    fn any_law() -> impl Strategy<Value = FlowLaw> {
        let stress = || (-1.0..5.0).prop_map(|log: f64| Stress::from_mpa(10_f64.powf(log)));
        let exponent =
            || prop_oneof![0.0..=1.0, (-12.0..0.0).prop_map(|log: f64| 10_f64.powf(log))];
        prop_oneof![
            stress().prop_map(|yield_strength| FlowLaw::ElasticPerfectlyPlastic { yield_strength }),
            (stress(), 0.0..=1.0).prop_map(|(yield_strength, share)| FlowLaw::Bilinear {
                yield_strength,
                tangent_modulus: MPA(share * 1e5),
            }),
            (stress(), exponent()).prop_map(|(k, n)| FlowLaw::Hollomon {
                strength_coefficient: k,
                hardening_exponent: n,
            }),
            (stress(), stress(), exponent()).prop_map(|(s0, k, n)| FlowLaw::Ludwik {
                initial_yield: s0,
                strength_coefficient: k,
                hardening_exponent: n,
            }),
            (stress(), stress(), exponent()).prop_map(|(s0, k, n)| FlowLaw::Swift {
                initial_yield: MPA(s0.mpa().min(k.mpa())),
                strength_coefficient: k,
                hardening_exponent: n,
            }),
            (stress(), stress(), -3.0..6.0).prop_map(|(s0, q, rate): (_, _, f64)| FlowLaw::Voce {
                initial_yield: s0,
                saturation_increment: q,
                rate: 10_f64.powf(rate),
            }),
            (stress(), 1.0..1000.0).prop_map(|(proof_strength, exponent)| FlowLaw::RambergOsgood {
                proof_strength,
                exponent,
            }),
        ]
    }

    proptest! {
        #[test]
        fn no_law_however_extreme_bends_above_the_elastic_line_or_stops_being_a_number(
            law in any_law(), modulus_log in 5.0..6.0, per_mm in 1e-6..19.0,
        ) {
            let metal = ElasticPlastic::new(MPA(10_f64.powf(modulus_log)), law).unwrap();
            let stiffness = metal.youngs_modulus().mpa() * wire(1.0).second_moment_mm4();
            let bent = bent(1.0, &metal, per_mm);
            let (moment, work) = (bent.moment.n_mm(), bent.work_per_length.n());
            // Rounding only.
            prop_assert!(moment > 0.0 && moment <= stiffness * per_mm * (1.0 + 1e-12));
            // Work lies between the triangle and the rectangle under a curve that bends down.
            prop_assert!(work >= moment * per_mm / 2.0 * (1.0 - 1e-6), "{work} {moment}");
            prop_assert!(work <= moment * per_mm * (1.0 + 1e-6), "{work} {moment}");
        }

        #[test]
        fn a_wire_twice_as_thick_bent_half_as_much_takes_eight_times_the_moment(
            law in any_law(), factor in 0.1..10.0, per_mm in 0.01..1.0,
        ) {
            let metal = ElasticPlastic::new(MPA(1e5), law).unwrap();
            let (one, two) = (bent(1.0, &metal, per_mm), bent(factor, &metal, per_mm / factor));
            // Rounding of the surface strain, magnified by the steepest law (exponent 1e-12).
            let close = |a: f64, b: f64| (a / b - 1.0).abs() < 1e-9;
            prop_assert!(close(two.moment.n_mm(), one.moment.n_mm() * factor.powi(3)));
            prop_assert!(close(two.work_per_length.n(), one.work_per_length.n() * factor * factor));
        }

        #[test]
        fn stress_and_strain_are_inverse_and_stress_rises(law in any_law(), log in -4.0..0.3) {
            let metal = ElasticPlastic::new(MPA(1e5), law).unwrap();
            let strain = 10_f64.powf(log);
            let (here, there) = (metal.stress_mpa(strain), metal.stress_mpa(strain * 1.01));
            prop_assert!(here.is_finite() && here <= 1e5 * strain * (1.0 + 1e-12));
            prop_assert!(there >= here * (1.0 - 1e-12)); // rounding only
        }
    }
}
