//! Closing the ring: where it bends decides how far out of round it ends.

use std::f64::consts::{FRAC_PI_2, PI};
use std::num::NonZeroUsize;

use gauss_quad::GaussLegendre;

use super::RingError;
use super::bracket::crossing;
use crate::limits::{BENDING_LOCALISATION, INSIDE_DIAMETER};
use crate::quantity::Length;
use crate::slit::Kerf;
use crate::wire::Wire;

/// How far the bending gathers at the back of the ring, opposite the joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BendingLocalisation {
    /// All of it in one point.
    Hinge,
    /// Curvature added as `((1 + cos theta)/2)^m`, `theta` from the back: 0 bends evenly, 1 is the
    /// elastic pinch, 4 and more is wire hardened by winding.
    Exponent(f64),
}

/// The ring to close.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClosingInput {
    /// The wire.
    pub wire: Wire,
    /// Inside diameter before closing.
    pub inside: Length,
    /// The slot to close.
    pub kerf: Kerf,
    /// How far the bending gathers at the back.
    pub bending: BendingLocalisation,
}

/// The closed ring along its centre line: height through the joint, width across it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Closing {
    height: Length,
    width: Length,
    end_rotation_factor: f64,
    seam_v: Length,
}

impl Closing {
    /// Closes a slit ring until the two ends of its centre line meet.
    ///
    /// With `sin beta = k/(2 rho)` the centre line turns by
    /// `psi(theta) = C beta F(theta)/F(pi - beta)`, `F` the integral of `((1 + cos t)/2)^m` from the
    /// back; `C` is solved so that `x(pi - beta) = rho` times the integral of `cos(t + psi)`
    /// vanishes. The hinge, `m` without end, is closed form: `C = 1/2`, height `2 rho cos(beta/2)`,
    /// width `2 rho (1 - sin(beta/2))`.
    ///
    /// # Units
    /// Lengths.
    /// # Validity
    /// `k < ID`. `C` lies between 1/2 and 1 for every `m`, so it is always found. The shape
    /// `((1 + cos theta)/2)^m` is a way of speaking, with no experiment behind it beyond `m = 1`.
    /// # Errors
    /// [`RingError::Limit`] if the inside diameter or the exponent is outside its limits;
    /// [`RingError::KerfAcrossRing`] if `k >= ID`.
    /// # Source
    /// Own derivation, with the proof that `C` exists: `docs/theory/ring.md`, section 4.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, slit::Kerf, wire::Wire};
    /// use linkwright_calc::ring::{BendingLocalisation, Closing, ClosingInput};
    /// let closing = Closing::of(ClosingInput {
    ///     wire: Wire::new(Length::from_mm(1.291)).unwrap(),
    ///     inside: Length::from_mm(5.0),
    ///     kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
    ///     bending: BendingLocalisation::Exponent(1.0),
    /// }).unwrap();
    /// // The elastic pinch: about a sixth of the kerf out of round, C near 2/3.
    /// assert!((closing.ovality().mm() - 0.05).abs() < 0.002);
    /// assert!((closing.end_rotation_factor() - 2.0 / 3.0).abs() < 0.01);
    /// ```
    pub fn of(input: ClosingInput) -> Result<Closing, RingError> {
        let d_mm = input.wire.diameter().mm();
        let id_mm = INSIDE_DIAMETER.check(input.inside.mm())?;
        let k_mm = input.kerf.width().mm();
        if k_mm >= id_mm {
            return Err(RingError::KerfAcrossRing { kerf_mm: k_mm, inside_diameter_mm: id_mm });
        }
        let rho_mm = (id_mm + d_mm) / 2.0;
        let beta = (k_mm / (2.0 * rho_mm)).asin();
        let shape = match input.bending {
            BendingLocalisation::Hinge => hinged(beta),
            BendingLocalisation::Exponent(m) => spread(beta, BENDING_LOCALISATION.check(m)?),
        };
        Ok(Closing {
            height: Length::from_mm(rho_mm * shape.height),
            width: Length::from_mm(rho_mm * shape.width),
            end_rotation_factor: shape.c,
            seam_v: Length::from_mm(shape.c * d_mm * k_mm / rho_mm),
        })
    }

    /// Height of the centre line through the joint.
    pub const fn height(self) -> Length {
        self.height
    }

    /// Width of the centre line across the joint.
    pub const fn width(self) -> Length {
        self.width
    }

    /// Out of round: height less width.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// Along the centre line, and so of the inside and the outside alike.
    /// # Source
    /// Definition; `docs/theory/ring.md`, section 4.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, slit::Kerf, wire::Wire};
    /// use linkwright_calc::ring::{BendingLocalisation, Closing, ClosingInput};
    /// let closing = Closing::of(ClosingInput {
    ///     wire: Wire::new(Length::from_mm(1.291)).unwrap(),
    ///     inside: Length::from_mm(5.0),
    ///     kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
    ///     bending: BendingLocalisation::Hinge,
    /// }).unwrap();
    /// // A hinge leaves about half the kerf.
    /// assert!((closing.ovality().mm() - 0.148).abs() < 0.0005);
    /// ```
    pub fn ovality(self) -> Length {
        self.height - self.width
    }

    /// `C`: how far each end turns, as a part of the turn `beta` that even bending gives it.
    pub const fn end_rotation_factor(self) -> f64 {
        self.end_rotation_factor
    }

    /// Width of the V left open at the inside of the seam when the outer edges meet:
    /// `v = C d k / rho`. A hinge leaves half the V that even bending leaves.
    pub const fn seam_v(self) -> Length {
        self.seam_v
    }
}

/// Height and width of the closed centre line over `rho`, and `C`.
struct Shape {
    height: f64,
    width: f64,
    c: f64,
}

fn hinged(beta: f64) -> Shape {
    Shape { height: 2.0 * (beta / 2.0).cos(), width: 2.0 * (1.0 - (beta / 2.0).sin()), c: 0.5 }
}

fn spread(beta: f64, m: f64) -> Shape {
    let bending = Bending::new(m);
    let end = PI - beta;
    let whole = bending.bent_up_to(end);
    let nodes = bending.nodes_up_to(end);
    // C >= 1/2: the hinge turns every point at least as far, so x is not yet past the joint.
    // C <= 1: then the turn runs from 0 to pi and, slowing down, lingers past pi/2.
    let c = crossing(0.5, 1.0, |c| {
        -nodes
            .iter()
            .map(|node| node.weight * (node.theta + c * beta * node.bent / whole).cos())
            .sum::<f64>()
    });
    let turn = |theta: f64, bent: f64| theta + c * beta * bent / whole;
    let height = nodes.iter().map(|node| node.weight * turn(node.theta, node.bent).sin()).sum();
    let widest =
        crossing(0.0, FRAC_PI_2, |theta| turn(theta, bending.bent_up_to(theta)) - FRAC_PI_2);
    let half_width: f64 = bending
        .nodes_up_to(widest)
        .iter()
        .map(|node| node.weight * turn(node.theta, node.bent).cos())
        .sum();
    Shape { height, width: 2.0 * half_width, c }
}

/// The integral of `((1 + cos t)/2)^m` from the back, by Gauss's rule on panels that halve towards
/// the back until they are narrower than the peak there.
struct Bending {
    m: f64,
    narrowest: f64,
    rule: GaussLegendre,
}

struct Node {
    theta: f64,
    weight: f64,
    bent: f64,
}

impl Bending {
    fn new(m: f64) -> Bending {
        // The peak is near exp(-m t^2 / 4); 16 points see half its width to the last digits.
        const POINTS: NonZeroUsize = NonZeroUsize::new(16).expect("sixteen is not nought");
        Bending { m, narrowest: 1.0 / (1.0 + m).sqrt(), rule: GaussLegendre::new(POINTS) }
    }

    fn density(&self, theta: f64) -> f64 {
        (0.5 * (1.0 + theta.cos())).powf(self.m)
    }

    /// Panels from the back to `theta`.
    fn panels(&self, theta: f64) -> Vec<(f64, f64)> {
        let mut ends = vec![theta];
        let mut end = theta;
        while end > self.narrowest {
            end *= 0.5;
            ends.push(end);
        }
        ends.push(0.0);
        ends.reverse();
        ends.windows(2).map(|pair| (pair[0], pair[1])).collect()
    }

    fn bent_up_to(&self, theta: f64) -> f64 {
        self.panels(theta)
            .into_iter()
            .map(|(low, high)| self.rule.integrate(low, high, |t| self.density(t)))
            .sum()
    }

    fn nodes_up_to(&self, theta: f64) -> Vec<Node> {
        let mut nodes = Vec::new();
        let mut bent_before = 0.0;
        for (low, high) in self.panels(theta) {
            let half = 0.5 * (high - low);
            for (node, weight) in &self.rule {
                let theta = low + half * (1.0 + node);
                let within = self.rule.integrate(low, theta, |t| self.density(t));
                nodes.push(Node { theta, weight: half * weight, bent: bent_before + within });
            }
            bent_before += self.rule.integrate(low, high, |t| self.density(t));
        }
        nodes
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert, proptest};

    use super::{BendingLocalisation, Closing, ClosingInput};
    use crate::quantity::Length;
    use crate::ring::RingError;
    use crate::slit::Kerf;
    use crate::wire::Wire;

    fn close(d_mm: f64, id_mm: f64, k_mm: f64, bending: BendingLocalisation) -> Closing {
        Closing::of(ClosingInput {
            wire: Wire::new(Length::from_mm(d_mm)).unwrap(),
            inside: Length::from_mm(id_mm),
            kerf: Kerf::new(Length::from_mm(k_mm)).unwrap(),
            bending,
        })
        .unwrap()
    }

    #[test]
    fn even_bending_keeps_the_ring_round() {
        let closing = close(1.291, 5.0, 0.3, BendingLocalisation::Exponent(0.0));
        assert!((closing.end_rotation_factor() - 1.0).abs() < 1e-12); // rounding
        assert!(closing.ovality().mm().abs() < 1e-11); // rounding of sums over 6 mm
        // The circle's diameter: what is left of the centre line over pi.
        let left_mm = 2.0 * 3.1455 * (std::f64::consts::PI - (0.15_f64 / 3.1455).asin());
        assert!((closing.height().mm() - left_mm / std::f64::consts::PI).abs() < 1e-11);
    }

    #[test]
    fn a_small_kerf_gives_the_small_kerf_series() {
        // Small-kerf limit, docs/theory/ring.md: C = (m+1)/(2m+1); ovality over kerf 0, 1/6, .242, .317, .390.
        for (m, ovality_over_kerf, tolerance) in [
            (1.0, 1.0 / 6.0, 0.0005),
            (2.0, 0.242, 0.001),
            (4.0, 0.317, 0.001),
            (10.0, 0.390, 0.001),
        ] {
            let closing = close(1.0, 999.0, 0.1, BendingLocalisation::Exponent(m));
            assert!((closing.end_rotation_factor() - (m + 1.0) / (2.0 * m + 1.0)).abs() < 1e-4);
            let ratio = closing.ovality().mm() / 0.1;
            assert!((ratio - ovality_over_kerf).abs() < tolerance, "m {m}: {ratio}");
        }
    }

    #[test]
    fn a_ring_slit_as_wide_as_its_hole_is_refused() {
        let error = Closing::of(ClosingInput {
            wire: Wire::new(Length::from_mm(1.0)).unwrap(),
            inside: Length::from_mm(0.5),
            kerf: Kerf::new(Length::from_mm(0.5)).unwrap(),
            bending: BendingLocalisation::Hinge,
        });
        assert!(matches!(error, Err(RingError::KerfAcrossRing { .. })));
    }

    proptest! {
        #[test]
        fn a_very_sharp_bend_is_the_hinge(id_over_d in 1.0..10.0_f64, kerf_share in 0.02..0.9_f64) {
            let k_mm = kerf_share * id_over_d.min(5.9);
            let hinge = close(1.0, id_over_d, k_mm, BendingLocalisation::Hinge);
            let sharp = close(1.0, id_over_d, k_mm, BendingLocalisation::Exponent(1e6));
            // The peak is 2/sqrt(m) = 0.002 rad wide, and moves the ends by that times beta.
            prop_assert!((sharp.end_rotation_factor() - 0.5).abs() < 0.002);
            prop_assert!((sharp.ovality().mm() - hinge.ovality().mm()).abs() < 0.002 * k_mm);
        }

        #[test]
        fn sharper_bending_makes_the_ring_more_oval(
            m in 0.0..50.0, more in 1.01..3.0, kerf_share in 0.02..0.9,
        ) {
            let k_mm = 4.0 * kerf_share;
            let blunt = close(1.0, 4.0, k_mm, BendingLocalisation::Exponent(m));
            let sharp = close(1.0, 4.0, k_mm, BendingLocalisation::Exponent(m * more + 0.01));
            prop_assert!(sharp.ovality().mm() > blunt.ovality().mm());
            prop_assert!(sharp.end_rotation_factor() < blunt.end_rotation_factor());
        }

        #[test]
        fn closing_scales_as_a_length(m in 0.0..1000.0, scale in 0.5..4.0) {
            let bending = BendingLocalisation::Exponent(m);
            let small = close(1.0, 4.0, 0.3, bending);
            let large = close(scale, 4.0 * scale, 0.3 * scale, bending);
            let off_mm = large.ovality().mm() - scale * small.ovality().mm();
            prop_assert!(off_mm.abs() < 1e-12 * 10.0 * scale); // rounding of sums over 10 mm
        }
    }
}
