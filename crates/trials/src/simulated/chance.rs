//! Chance that depends on a seed and on what it is for, the same on every machine.

use rand::rngs::Xoshiro256PlusPlus;
use rand::{Rng, RngExt, SeedableRng};
use rand_distr::StandardNormal;

/// Start and factor of the FNV-1a hash, 64 bits, from memory; any good mixing would do.
const FNV: [u64; 2] = [0xcbf2_9ce4_8422_2325, 0x0000_0100_0000_01b3];

/// A source of chance for one purpose, told by its words.
pub(super) fn chance(seed: u64, words: &[&str]) -> Xoshiro256PlusPlus {
    let bytes = words.iter().flat_map(|word| word.bytes().chain([0]));
    let mixed = seed
        .to_le_bytes()
        .into_iter()
        .chain(bytes)
        .fold(FNV[0], |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(FNV[1]));
    Xoshiro256PlusPlus::seed_from_u64(mixed)
}

/// One number of a bell curve.
pub(super) fn bell(chance: &mut impl Rng, mean: f64, sd: f64) -> f64 {
    let standard: f64 = chance.sample(StandardNormal);
    mean + sd * standard
}

/// One number whose logarithm is of a bell curve about that of `middle`.
pub(super) fn around(chance: &mut impl Rng, middle: f64, ln_sd: f64) -> f64 {
    middle * bell(chance, 0.0, ln_sd).exp()
}

/// One of the places, in proportion to its weight.
pub(super) fn pick(chance: &mut impl Rng, weights: &[f64]) -> usize {
    let mut left = chance.random::<f64>() * weights.iter().sum::<f64>();
    for (place, weight) in weights.iter().enumerate() {
        left -= weight;
        if left < 0.0 {
            return place;
        }
    }
    weights.len() - 1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn another_purpose_or_seed_is_other_chance() {
        let first = |seed, words: &[&str]| chance(seed, words).random::<u64>();
        assert_eq!(first(1, &["a", "bc"]), first(1, &["a", "bc"]));
        assert_ne!(first(1, &["a", "bc"]), first(1, &["ab", "c"]));
        assert_ne!(first(1, &["a"]), first(2, &["a"]));
    }

    #[test]
    fn places_are_picked_in_proportion() {
        let mut source = chance(5, &["pick"]);
        let mut counts = [0_u32; 3];
        for _ in 0..3000 {
            counts[pick(&mut source, &[1.0, 0.0, 2.0])] += 1;
        }
        assert_eq!(counts[1], 0);
        // One third of 3000, give or take three standard deviations of 26.
        assert!((f64::from(counts[0]) - 1000.0).abs() < 78.0, "{counts:?}");
    }
}
