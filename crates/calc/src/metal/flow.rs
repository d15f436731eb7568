//! Flow laws: how the stress in a metal follows its strain.

use crate::quantity::Stress;

/// A flow law, odd in strain: the same in tension and compression.
///
/// `eps` is total strain, `ep` its plastic part, `sigma` the stress, `E` Young's modulus, which
/// belongs to the metal and not to the law.
///
/// # Source
/// The textbook forms of Hollomon, Ludwik, Swift, Voce and Ramberg-Osgood; from memory.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum FlowLaw {
    /// `sigma = min(E eps, sy)`.
    ElasticPerfectlyPlastic {
        /// `sy`.
        yield_strength: Stress,
    },
    /// `E eps` up to `ey = sy/E`, then `sy + Et (eps - ey)`; `Et` acts on total strain.
    Bilinear {
        /// `sy`.
        yield_strength: Stress,
        /// `Et`.
        tangent_modulus: Stress,
    },
    /// `E eps` up to `ec = (K/E)^(1/(1-n))`, then `K eps^n` of total strain, continuous at `ec`.
    Hollomon {
        /// `K`.
        strength_coefficient: Stress,
        /// `n`, plain number.
        hardening_exponent: f64,
    },
    /// `sigma = s0 + K ep^n` with `eps = sigma/E + ep`.
    Ludwik {
        /// `s0`.
        initial_yield: Stress,
        /// `K`.
        strength_coefficient: Stress,
        /// `n`, plain number.
        hardening_exponent: f64,
    },
    /// `sigma = K (e0 + ep)^n` with `e0 = (s0/K)^(1/n)` and `eps = sigma/E + ep`.
    Swift {
        /// `s0`.
        initial_yield: Stress,
        /// `K`.
        strength_coefficient: Stress,
        /// `n`, plain number.
        hardening_exponent: f64,
    },
    /// `sigma = s0 + Q (1 - exp(-b ep))` with `eps = sigma/E + ep`.
    Voce {
        /// `s0`.
        initial_yield: Stress,
        /// `Q`.
        saturation_increment: Stress,
        /// `b`, plain number.
        rate: f64,
    },
    /// `eps = sigma/E + 0.002 (sigma/s02)^m`.
    RambergOsgood {
        /// `s02`, the 0.2 % proof strength.
        proof_strength: Stress,
        /// `m`, plain number.
        exponent: f64,
    },
}
