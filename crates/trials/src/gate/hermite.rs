//! Gauss-Hermite nodes: what turns a mean over a bell curve into a short sum.

/// `(x, w)` for the integral of `exp(-x^2) f(x)`, both sides of the middle by symmetry.
/// Source: Abramowitz & Stegun, table 25.10, from memory; digits recomputed with numpy 2.4
/// (`hermgauss`), and tested below against the moments they must give.
pub(crate) const NODES_3: [(f64, f64); 3] =
    mirror([(0.0, 1.181_635_900_603_677_4), (1.224_744_871_391_589, 0.295_408_975_150_919_4)]);

/// As [`NODES_3`].
pub(super) const NODES_7: [(f64, f64); 7] = mirror([
    (0.0, 0.810_264_617_556_807_2),
    (0.816_287_882_858_964_6, 0.425_607_252_610_127_8),
    (1.673_551_628_767_471_4, 0.054_515_582_819_127_05),
    (2.651_961_356_835_233_4, 0.000_971_781_245_099_519_9),
]);

/// As [`NODES_3`].
pub(crate) const NODES_9: [(f64, f64); 9] = mirror([
    (0.0, 0.720_235_215_606_051),
    (0.723_551_018_752_837_6, 0.432_651_559_002_555_64),
    (1.468_553_289_216_668, 0.088_474_527_394_376_64),
    (2.266_580_584_531_843, 0.004_943_624_275_536_941),
    (3.190_993_201_781_527_7, 3.960_697_726_326_436_5e-5),
]);

/// The middle node and those right of it, then those left of it.
const fn mirror<const HALF: usize, const ALL: usize>(
    half: [(f64, f64); HALF],
) -> [(f64, f64); ALL] {
    let mut all = [(0.0, 0.0); ALL];
    let mut i = 0;
    while i < HALF {
        all[i] = half[i];
        if i > 0 {
            all[HALF - 1 + i] = (-half[i].0, half[i].1);
        }
        i += 1;
    }
    all
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;

    /// Even moments of `exp(-x^2)`: `sqrt(pi) (2k-1)!! / 2^k`, exact up to degree `2n - 1`.
    fn gives_its_moments(nodes: &[(f64, f64)]) {
        let mut exact = PI.sqrt();
        for k in 0..nodes.len() {
            let power = i32::try_from(2 * k).unwrap();
            let sum: f64 = nodes.iter().map(|(x, w)| w * x.powi(power)).sum();
            // Sixteen digits were kept of each node; the highest power multiplies their error.
            assert!((sum / exact - 1.0).abs() < 1e-13, "{} nodes, moment {power}", nodes.len());
            let odd = 2.0 * f64::from(u32::try_from(k).unwrap()) + 1.0;
            exact *= odd / 2.0;
        }
    }

    #[test]
    fn every_rule_gives_the_moments_of_the_bell_curve() {
        gives_its_moments(&NODES_3);
        gives_its_moments(&NODES_7);
        gives_its_moments(&NODES_9);
    }
}
