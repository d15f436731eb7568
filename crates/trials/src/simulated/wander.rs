//! How a workshop strays from its geometry: a few cosines of random direction over wire and mandrel.

use std::f64::consts::TAU;

use rand::RngExt;

use super::chance::{around, bell, chance};
use crate::number::real;

/// Cosines of one field. Few enough that the field is no Gaussian process, which is what the model
/// takes it for.
const COSINES: usize = 8;
/// Sizes resemble each other over about this much of a logarithm, give or take a third.
const LENGTH: f64 = 0.6;

/// One field, of spread one, over the logarithms of wire and mandrel.
pub(super) struct Wander {
    /// Slopes along the two logarithms, and where the cosine starts.
    cosines: [[f64; 3]; COSINES],
}

impl Wander {
    /// The field of a seed, told by its words.
    pub(super) fn new(seed: u64, words: &[&str]) -> Wander {
        let mut source = chance(seed, words);
        let length = around(&mut source, LENGTH, 0.3);
        let cosines = std::array::from_fn(|_| {
            let [along, across] = [(); 2].map(|()| bell(&mut source, 0.0, 1.0 / length));
            [along, across, TAU * source.random::<f64>()]
        });
        Wander { cosines }
    }

    /// Its height at a wire and a mandrel, in mm.
    pub(super) fn at(&self, wire_mm: f64, mandrel_mm: f64) -> f64 {
        let [u, v] = [wire_mm.ln(), mandrel_mm.ln()];
        let sum: f64 = self.cosines.iter().map(|[a, b, start]| (a * u + b * v + start).cos()).sum();
        sum * (2.0 / real(COSINES)).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fields_have_spread_one_and_near_sizes_agree() {
        let heights: Vec<[f64; 2]> = (0..2000)
            .map(|seed| Wander::new(seed, &["test"]))
            .map(|field| [field.at(1.0, 5.0), field.at(1.05, 5.2)])
            .collect();
        let mean_square = heights.iter().map(|[a, _]| a * a).sum::<f64>() / 2000.0;
        assert!((mean_square - 1.0).abs() < 0.1, "{mean_square}"); // standard error 0.03
        assert!(heights.iter().all(|[a, b]| (a - b).abs() < 1.5));
        let apart = heights.iter().map(|[a, b]| (a - b).powi(2)).sum::<f64>() / 2000.0;
        assert!(apart < 0.05, "{apart}");
    }
}
