//! Stress and stored work of a metal at a given strain, for every flow law.

use crate::limits::{
    HARDENING_EXPONENT, LimitError, RAMBERG_OSGOOD_EXPONENT, STRESS, TANGENT_MODULUS, VOCE_RATE,
    YIELD_STRENGTH, YOUNGS_MODULUS,
};
use crate::metal::FlowLaw;
use crate::quantity::Stress;

/// Plastic strain at the proof strength of Ramberg and Osgood's law: 0.2 % by convention.
const PROOF_STRAIN: f64 = 0.002;
/// Largest strain Swift's law may say is already in the metal: beyond any drawing.
const PRESTRAIN_MAX: f64 = 100.0;

/// A metal under load: Young's modulus and flow law, checked together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ElasticPlastic {
    youngs_modulus: Stress,
    law: FlowLaw,
    yield_strain: f64,
}

impl ElasticPlastic {
    /// A metal of the given modulus and law.
    ///
    /// # Units
    /// Stresses in MPa; exponents and rates are plain numbers.
    /// # Validity
    /// Within the limits of each parameter; the tangent modulus at most `E`; the strain that
    /// Swift's law says is already in the metal, `(s0/K)^(1/n)`, at most 100.
    /// # Errors
    /// [`LimitError`] naming the field of the batch interface.
    /// # Source
    /// Forms in [`FlowLaw`].
    ///
    /// ```
    /// use linkwright_calc::metal::FlowLaw;
    /// use linkwright_calc::quantity::Stress;
    /// use linkwright_calc::wind::ElasticPlastic;
    /// let law = FlowLaw::ElasticPerfectlyPlastic { yield_strength: Stress::from_mpa(-450.0) };
    /// let error = ElasticPlastic::new(Stress::from_mpa(110_000.0), law).unwrap_err();
    /// assert_eq!(error.limit.field, "yield_strength_mpa");
    /// ```
    pub fn new(youngs_modulus: Stress, law: FlowLaw) -> Result<ElasticPlastic, LimitError> {
        let e_mpa = YOUNGS_MODULUS.check(youngs_modulus.mpa())?;
        check(law, e_mpa)?;
        let yield_strain = match law {
            FlowLaw::ElasticPerfectlyPlastic { yield_strength }
            | FlowLaw::Bilinear { yield_strength, .. } => yield_strength.mpa() / e_mpa,
            FlowLaw::Hollomon { strength_coefficient, hardening_exponent } => {
                // At n = 1 the power is that of a number to infinity: nothing if K < E.
                (strength_coefficient.mpa() / e_mpa).powf(1.0 / (1.0 - hardening_exponent))
            }
            FlowLaw::Ludwik { initial_yield, .. }
            | FlowLaw::Swift { initial_yield, .. }
            | FlowLaw::Voce { initial_yield, .. } => initial_yield.mpa() / e_mpa,
            FlowLaw::RambergOsgood { .. } => 0.0,
        };
        Ok(ElasticPlastic { youngs_modulus, law, yield_strain })
    }

    /// Young's modulus.
    pub const fn youngs_modulus(&self) -> Stress {
        self.youngs_modulus
    }

    /// The flow law.
    pub const fn law(&self) -> FlowLaw {
        self.law
    }

    /// Strain up to which the metal is purely elastic: none for Ramberg and Osgood's law.
    pub const fn yield_strain(&self) -> f64 {
        self.yield_strain
    }

    /// Stress at a total strain: the flow law itself, odd in the strain.
    ///
    /// # Units
    /// Strain a plain number, stress MPa.
    /// # Validity
    /// Any finite strain; loading without reversal.
    /// # Source
    /// The forms in [`FlowLaw`]. Where the law gives strain from stress it is solved by Newton's
    /// method from above, where the strain is convex in the stress, so that it cannot overshoot.
    ///
    /// ```
    /// use linkwright_calc::metal::FlowLaw;
    /// use linkwright_calc::quantity::Stress;
    /// use linkwright_calc::wind::ElasticPlastic;
    /// let law = FlowLaw::Hollomon {
    ///     strength_coefficient: Stress::from_mpa(810.0),
    ///     hardening_exponent: 0.49,
    /// };
    /// let annealed_brass = ElasticPlastic::new(Stress::from_mpa(110_000.0), law).unwrap();
    /// // 810 x 0.2^0.49
    /// assert!((annealed_brass.stress(0.2).mpa() - 368.12).abs() < 0.005);
    /// ```
    pub fn stress(&self, strain: f64) -> Stress {
        Stress::from_mpa(self.stress_mpa(strain.abs()).copysign(strain))
    }

    /// Work to strain a volume, `U = integral of sigma d eps` from nothing, even in the strain.
    ///
    /// It is the elastic part `sigma^2 / (2 E)`, which comes back, and the plastic part, which
    /// does not; the latter has a closed form for every law.
    ///
    /// # Units
    /// N mm per mm3, which is MPa.
    /// # Validity
    /// As [`ElasticPlastic::stress`].
    /// # Source
    /// Integrals of the forms in [`FlowLaw`]; own derivation.
    ///
    /// ```
    /// use linkwright_calc::metal::FlowLaw;
    /// use linkwright_calc::quantity::Stress;
    /// use linkwright_calc::wind::ElasticPlastic;
    /// let law = FlowLaw::ElasticPerfectlyPlastic { yield_strength: Stress::from_mpa(400.0) };
    /// let metal = ElasticPlastic::new(Stress::from_mpa(100_000.0), law).unwrap();
    /// // 400 x 0.1 less the missing triangle 400^2 / (2 x 100000)
    /// assert!((metal.energy(0.1).mpa() - 39.2).abs() < 1e-12);
    /// ```
    pub fn energy(&self, strain: f64) -> Stress {
        let eps = strain.abs();
        let e_mpa = self.youngs_modulus.mpa();
        if eps <= self.yield_strain {
            return Stress::from_mpa(e_mpa * eps * eps / 2.0);
        }
        let sigma = self.stress_mpa(eps);
        let ep = (eps - sigma / e_mpa).max(0.0);
        let plastic = match self.law {
            FlowLaw::ElasticPerfectlyPlastic { yield_strength } => yield_strength.mpa() * ep,
            FlowLaw::Bilinear { yield_strength, .. } => (yield_strength.mpa() + sigma) / 2.0 * ep,
            FlowLaw::Hollomon { strength_coefficient, hardening_exponent: n } => {
                let (k, ec) = (strength_coefficient.mpa(), self.yield_strain);
                let whole =
                    e_mpa * ec * ec / 2.0 + k * (eps.powf(n + 1.0) - ec.powf(n + 1.0)) / (n + 1.0);
                return Stress::from_mpa(whole);
            }
            FlowLaw::Ludwik { initial_yield, strength_coefficient, hardening_exponent: n } => {
                initial_yield.mpa() * ep + strength_coefficient.mpa() * ep.powf(n + 1.0) / (n + 1.0)
            }
            FlowLaw::Swift { strength_coefficient: k, hardening_exponent: n, .. } => {
                let e0 = self.prestrain();
                k.mpa() * ((e0 + ep).powf(n + 1.0) - e0.powf(n + 1.0)) / (n + 1.0)
            }
            FlowLaw::Voce { initial_yield, saturation_increment, rate: b } => {
                let hardened = if b * ep < 1e-5 {
                    b * ep * ep / 2.0 // first term of the series; the next is 1e-5 of it
                } else {
                    ep + (-b * ep).exp_m1() / b
                };
                initial_yield.mpa() * ep + saturation_increment.mpa() * hardened
            }
            FlowLaw::RambergOsgood { exponent: m, .. } => m / (m + 1.0) * sigma * ep,
        };
        Stress::from_mpa(sigma * sigma / (2.0 * e_mpa) + plastic)
    }

    /// Stress in MPa at a strain of nothing or more.
    pub(super) fn stress_mpa(&self, eps: f64) -> f64 {
        let e_mpa = self.youngs_modulus.mpa();
        if eps <= self.yield_strain {
            return e_mpa * eps;
        }
        let ep_most = eps - self.yield_strain;
        let flow_most = match self.law {
            FlowLaw::ElasticPerfectlyPlastic { yield_strength } => return yield_strength.mpa(),
            FlowLaw::Bilinear { yield_strength, tangent_modulus } => {
                return yield_strength.mpa() + tangent_modulus.mpa() * ep_most;
            }
            FlowLaw::Hollomon { strength_coefficient, hardening_exponent } => {
                return strength_coefficient.mpa() * eps.powf(hardening_exponent);
            }
            FlowLaw::Ludwik { initial_yield, strength_coefficient, hardening_exponent: n } => {
                initial_yield.mpa() + strength_coefficient.mpa() * ep_most.powf(n)
            }
            FlowLaw::Swift { strength_coefficient, hardening_exponent: n, .. } => {
                strength_coefficient.mpa() * (self.prestrain() + ep_most).powf(n)
            }
            FlowLaw::Voce { initial_yield, saturation_increment, rate: b } => {
                initial_yield.mpa() - saturation_increment.mpa() * (-b * ep_most).exp_m1()
            }
            FlowLaw::RambergOsgood { proof_strength, exponent: m } => {
                proof_strength.mpa() * (ep_most / PROOF_STRAIN).powf(1.0 / m)
            }
        };
        let mut sigma = flow_most.min(e_mpa * eps);
        // Convex from above, so each step falls short of the root; 100 is never reached.
        for _ in 0..100 {
            let plastic = self.plastic_strain(sigma);
            let excess = sigma / e_mpa + plastic - eps;
            let step = excess / (1.0 / e_mpa + self.plastic_slope(sigma, plastic));
            // A slope without end, at a jump of the law, makes no step or no number.
            if step.is_nan() || step <= 1e-16 * sigma {
                break;
            }
            sigma -= step;
        }
        sigma.max(e_mpa * self.yield_strain)
    }

    /// Total strain at a stress beyond yield, at most `strain_most`; the laws give it openly.
    pub(super) fn strain_at(&self, sigma_mpa: f64, strain_most: f64) -> f64 {
        let strain = match self.law {
            FlowLaw::ElasticPerfectlyPlastic { .. } => strain_most,
            FlowLaw::Bilinear { yield_strength, tangent_modulus } => {
                self.yield_strain + (sigma_mpa - yield_strength.mpa()) / tangent_modulus.mpa()
            }
            FlowLaw::Hollomon { strength_coefficient, hardening_exponent } => {
                (sigma_mpa / strength_coefficient.mpa()).powf(1.0 / hardening_exponent)
            }
            _ => sigma_mpa / self.youngs_modulus.mpa() + self.plastic_strain(sigma_mpa),
        };
        // `max` and `min` also put an end where nothing over nothing stood.
        strain.max(self.yield_strain).min(strain_most)
    }

    /// Plastic strain at a stress, for the four laws that split the strain.
    fn plastic_strain(&self, sigma_mpa: f64) -> f64 {
        match self.law {
            FlowLaw::Ludwik { initial_yield, strength_coefficient, hardening_exponent: n } => {
                let over = (sigma_mpa - initial_yield.mpa()).max(0.0);
                (over / strength_coefficient.mpa()).powf(1.0 / n)
            }
            FlowLaw::Swift { strength_coefficient, hardening_exponent: n, .. } => {
                ((sigma_mpa / strength_coefficient.mpa()).powf(1.0 / n) - self.prestrain()).max(0.0)
            }
            FlowLaw::Voce { initial_yield, saturation_increment, rate: b } => {
                let spent = (sigma_mpa - initial_yield.mpa()) / saturation_increment.mpa();
                -(-spent.clamp(0.0, 1.0)).ln_1p() / b
            }
            FlowLaw::RambergOsgood { proof_strength, exponent: m } => {
                PROOF_STRAIN * (sigma_mpa / proof_strength.mpa()).powf(m)
            }
            FlowLaw::ElasticPerfectlyPlastic { .. }
            | FlowLaw::Bilinear { .. }
            | FlowLaw::Hollomon { .. } => 0.0,
        }
    }

    /// Slope of plastic strain on stress at that stress.
    fn plastic_slope(&self, sigma_mpa: f64, plastic: f64) -> f64 {
        if plastic <= 0.0 {
            return 0.0;
        }
        match self.law {
            FlowLaw::Ludwik { initial_yield, hardening_exponent: n, .. } => {
                plastic / (n * (sigma_mpa - initial_yield.mpa()))
            }
            FlowLaw::Swift { hardening_exponent: n, .. } => {
                (plastic + self.prestrain()) / (n * sigma_mpa)
            }
            FlowLaw::Voce { initial_yield, saturation_increment, rate: b } => {
                1.0 / (b * (saturation_increment.mpa() - sigma_mpa + initial_yield.mpa()).max(0.0))
            }
            FlowLaw::RambergOsgood { exponent: m, .. } => m * plastic / sigma_mpa,
            FlowLaw::ElasticPerfectlyPlastic { .. }
            | FlowLaw::Bilinear { .. }
            | FlowLaw::Hollomon { .. } => 0.0,
        }
    }

    /// `e0 = (s0/K)^(1/n)` of Swift's law; nothing for the others.
    fn prestrain(&self) -> f64 {
        match self.law {
            FlowLaw::Swift { initial_yield, strength_coefficient, hardening_exponent } => {
                (initial_yield.mpa() / strength_coefficient.mpa()).powf(1.0 / hardening_exponent)
            }
            _ => 0.0,
        }
    }
}

/// Refuses a parameter outside its limits, by the name it has in files and in batch.
fn check(law: FlowLaw, e_mpa: f64) -> Result<(), LimitError> {
    let initial = STRESS.named("initial_yield_mpa");
    let coefficient = STRESS.named("strength_coefficient_mpa");
    match law {
        FlowLaw::ElasticPerfectlyPlastic { yield_strength } => {
            YIELD_STRENGTH.check(yield_strength.mpa())?;
        }
        FlowLaw::Bilinear { yield_strength, tangent_modulus } => {
            YIELD_STRENGTH.check(yield_strength.mpa())?;
            let mut limit = TANGENT_MODULUS;
            (limit.high, limit.why) = (e_mpa, "no metal hardens faster than it bends elastically");
            limit.check(tangent_modulus.mpa())?;
        }
        FlowLaw::Hollomon { strength_coefficient, hardening_exponent } => {
            coefficient.check(strength_coefficient.mpa())?;
            HARDENING_EXPONENT.check(hardening_exponent)?;
        }
        FlowLaw::Ludwik { initial_yield, strength_coefficient, hardening_exponent } => {
            initial.check(initial_yield.mpa())?;
            coefficient.check(strength_coefficient.mpa())?;
            HARDENING_EXPONENT.check(hardening_exponent)?;
        }
        FlowLaw::Swift { initial_yield, strength_coefficient, hardening_exponent } => {
            coefficient.check(strength_coefficient.mpa())?;
            let n = HARDENING_EXPONENT.check(hardening_exponent)?;
            let mut limit = initial;
            limit.high = strength_coefficient.mpa() * PRESTRAIN_MAX.powf(n);
            limit.why = "above this the law says the wire was strained a hundredfold before";
            limit.check(initial_yield.mpa())?;
        }
        FlowLaw::Voce { initial_yield, saturation_increment, rate } => {
            initial.check(initial_yield.mpa())?;
            STRESS.named("saturation_increment_mpa").check(saturation_increment.mpa())?;
            VOCE_RATE.check(rate)?;
        }
        FlowLaw::RambergOsgood { proof_strength, exponent } => {
            STRESS.named("proof_strength_mpa").check(proof_strength.mpa())?;
            RAMBERG_OSGOOD_EXPONENT.check(exponent)?;
        }
    }
    Ok(())
}
