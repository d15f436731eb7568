//! Bending of round wire already curved: how much harder the inside works than a straight beam.

use std::f64::consts::PI;

use crate::limits::{ASPECT_RATIO, LimitError};

/// Winkler's curved-beam constants of a round section, all free of units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurvedBeam {
    inner: f64,
    outer: f64,
    eccentricity: f64,
}

impl CurvedBeam {
    /// For a ring of aspect ratio `AR = ID/d`, centre radius `R = a (AR + 1)`, `a = d/2`.
    ///
    /// `rn = (R + sqrt(R^2 - a^2))/2` is the neutral radius, `e = R - rn`; then
    /// `Ki = (rn - ri)/(A e ri) I/a` and `Ko = (ro - rn)/(A e ro) I/a` multiply `M a/I` at the inside
    /// and the outside.
    ///
    /// # Units
    /// A ratio in, ratios out.
    /// # Validity
    /// Elastic, plane sections, round wire.
    /// # Errors
    /// [`LimitError`] if the aspect ratio is outside [`ASPECT_RATIO`].
    /// # Source
    /// Winkler's curved beam; tabulated in Machinery's Handbook, 31st edition, page 275, Table 4 (two
    /// of whose twenty figures leave the formula; we take the formula).
    /// `e` is written as `a^2 / (2 (R + sqrt(R^2 - a^2)))` to lose no digits on large rings.
    ///
    /// ```
    /// use linkwright_calc::ring::CurvedBeam;
    /// // R/a = 4: the table prints 1.23 and 0.84.
    /// let beam = CurvedBeam::of_ring(3.0).unwrap();
    /// assert!((beam.inner_factor() - 1.23).abs() < 0.005);
    /// assert!((beam.outer_factor() - 0.84).abs() < 0.005);
    /// ```
    pub fn of_ring(aspect_ratio: f64) -> Result<CurvedBeam, LimitError> {
        let r = ASPECT_RATIO.check(aspect_ratio)? + 1.0; // R over a; every length below over a
        let e = 1.0 / (2.0 * (r + (r * r - 1.0).sqrt()));
        let i_over_a_a = (PI / 4.0) / PI; // I/a over A
        Ok(CurvedBeam {
            inner: (1.0 - e) / (e * (r - 1.0)) * i_over_a_a,
            outer: (1.0 + e) / (e * (r + 1.0)) * i_over_a_a,
            eccentricity: e / r,
        })
    }

    /// `Ki`, on the inside, above one.
    pub const fn inner_factor(self) -> f64 {
        self.inner
    }

    /// `Ko`, on the outside, below one.
    pub const fn outer_factor(self) -> f64 {
        self.outer
    }

    /// `alpha = e/R`, how far the neutral line lies inside the centre line.
    pub const fn eccentricity_ratio(self) -> f64 {
        self.eccentricity
    }
}

#[cfg(test)]
mod tests {
    use super::CurvedBeam;

    #[test]
    fn a_large_ring_bends_as_a_straight_bar() {
        let beam = CurvedBeam::of_ring(1000.0).unwrap();
        // Both factors are one to first order in a/R = 1/1001; the slopes are 3/4.
        assert!((beam.inner_factor() - 1.0 - 0.75 / 1001.0).abs() < 1e-5);
        assert!((beam.outer_factor() - 1.0 + 0.75 / 1001.0).abs() < 1e-5);
    }
}
