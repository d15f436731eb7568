//! A chain under load: how far its rings give, and the pull at which they open.

use std::f64::consts::PI;

use linkwright_calc::basis::{Basis, Caution, Input};
use linkwright_calc::limits::{FORCE, LimitError};
use linkwright_calc::quantity::{Force, Length};
use linkwright_calc::ring::{Joint, RingMetal};

use super::{Drawn, Linked};
use crate::vector::Vec3;

/// A chain under a stated pull.
#[derive(Clone, Debug, PartialEq)]
pub struct UnderLoad {
    /// The pull.
    pub load: Force,
    /// Elastic lengthening at that pull, relative to the length: what comes back.
    pub stretch: f64,
    /// Pull at which the ring that carries most first takes a set.
    pub first_set: Force,
    /// Pull at which it bends open, or, soldered, draws out oval for good.
    pub gives_way: Force,
    /// That ring of the cell, counted from nought.
    pub weakest: usize,
    /// The share of the pull it carries across itself.
    pub weakest_share: f64,
    /// What to watch.
    pub cautions: Vec<Caution>,
}

/// Lengthening of a ring across itself per `P R^3/(E I)`: of a split ring, of which one half carries.
const SPLIT_GIVES: f64 = PI / 2.0;
/// The same of a whole ring, of which both halves carry: `pi/4 - 2/pi`.
const WHOLE_GIVES: f64 = PI / 4.0 - 2.0 / PI;

impl Linked {
    /// The chain under a load, from the contacts that carry in its taut pose.
    ///
    /// Every ring is taken as pulled across a diameter by half the sum of what its contacts push in its
    /// plane. By
    /// Castigliano's theorem the chain lengthens by `sum p_i^2 k_i` per cell and newton, `p_i` the share
    /// of the pull on ring `i`, `k_i` its own give. The ring that carries most for its strength decides
    /// when the chain gives way.
    ///
    /// # Units
    /// A force in; shares and forces out.
    /// # Validity
    /// Elastic, thin wire for its ring, contacts opposite each other, seams midway between them: the
    /// common case and nearly the worst. The share of each ring is one way of many where rings share a
    /// load. `None` for a sheet, a cluster or a chain that is not possible.
    /// # Errors
    /// [`LimitError`] if the load, a stress or an aspect ratio is outside its limits.
    /// # Source
    /// Castigliano on the split and the whole ring; `docs/theory/chain.md`, section 10.
    ///
    /// ```
    /// use linkwright_calc::{quantity::{Force, Length, Stress}, wire::Wire};
    /// use linkwright_calc::ring::{Joint, RingMetal};
    /// use linkwright_linkage::answer::{answer, ClosedRing};
    /// use linkwright_linkage::{pattern::{craft, Pattern}, solve::{Patient, Search}};
    /// let wire = Wire::new(Length::from_mm(1.291)).unwrap();
    /// let ring = ClosedRing::new(wire, Length::from_mm(4.0 * 1.291)).unwrap();
    /// let cable = Pattern::new(craft::named("cable_1in1").unwrap()).unwrap();
    /// let linked = answer(&cable, &[ring], Search::default(), &mut Patient).unwrap();
    /// let drawn = linked.drawn(&mut Patient).unwrap().unwrap();
    /// let metal = RingMetal {
    ///     flow_stress: Stress::from_mpa(450.0),
    ///     first_set_stress: Stress::from_mpa(450.0),
    ///     tensile_strength: Stress::from_mpa(520.0),
    ///     youngs_modulus: Stress::from_mpa(110_000.0),
    ///     joint: Joint::Touching,
    /// };
    /// let loaded = linked.under_load(&drawn, metal, Force::from_n(10.0)).unwrap().unwrap();
    /// // Each ring of a cable chain carries the whole pull: it opens with the single ring.
    /// let single = metal.pulls(wire, 4.0).unwrap();
    /// assert!((loaded.gives_way.n() - single.gives_way.n()).abs() < 0.05);
    /// ```
    pub fn under_load(
        &self,
        drawn: &Drawn,
        metal: RingMetal,
        load: Force,
    ) -> Result<Option<UnderLoad>, LimitError> {
        let load_n = FORCE.named("load_n").check(load.n())?;
        let Some(taut) = self.taut.as_ref().filter(|taut| taut.across.is_none()) else {
            return Ok(None);
        };
        let shares = shares(drawn);
        let mut give_per_n_mm = 0.0;
        let mut weakest: Option<(usize, f64, f64, f64)> = None;
        for (index, (ring, &share)) in self.pattern.spec().rings.iter().zip(&shares).enumerate() {
            let own = self.rings[ring.size];
            let pulls = metal.pulls(own.wire(), own.aspect_ratio())?;
            let gives = match metal.joint {
                Joint::Touching => SPLIT_GIVES,
                Joint::Soldered => WHOLE_GIVES,
            };
            let stiff = metal.youngs_modulus.mpa() * own.wire().second_moment_mm4();
            give_per_n_mm += share * share * gives * own.mean_radius_mm().powi(3) / stiff;
            // A ring that carries nothing never gives way.
            let way_n = pulls.gives_way.n() / share.max(LEAST_SHARE);
            if weakest.is_none_or(|(_, _, least_n, _)| way_n < least_n) {
                let set_n = pulls.first_set.n() / share.max(LEAST_SHARE);
                weakest = Some((index, share, way_n, set_n));
            }
        }
        let Some((weakest, weakest_share, gives_way_n, first_set_n)) = weakest else {
            return Ok(None);
        };
        Ok(Some(UnderLoad {
            load,
            stretch: load_n * give_per_n_mm / taut.advance.mm(),
            first_set: Force::from_n(first_set_n),
            gives_way: Force::from_n(gives_way_n),
            weakest,
            weakest_share,
            cautions: cautions(metal.joint, load_n, first_set_n, gives_way_n),
        }))
    }
}

/// Share below which a ring counts as carrying nothing.
const LEAST_SHARE: f64 = 1e-6;

/// The share of the pull that each ring of the cell carries across itself: half of all that pushes on it
/// in its own plane. What pushes at right angles to that does not open it.
fn shares(drawn: &Drawn) -> Vec<f64> {
    let mut shares = vec![0.0; drawn.pose.rings.len()];
    for contact in &drawn.carrying {
        let in_plane = |normal: Vec3| normal.cross(contact.direction).norm() * contact.force;
        let first = drawn.pose.rings[contact.first].circle.normal;
        let second = drawn.pose.placed(contact.second, contact.image).normal;
        shares[contact.first] += 0.5 * in_plane(first);
        shares[contact.second] += 0.5 * in_plane(second);
    }
    shares
}

fn cautions(joint: Joint, load_n: f64, first_set_n: f64, gives_way_n: f64) -> Vec<Caution> {
    let mut cautions = Vec::new();
    if load_n >= gives_way_n {
        let how = match joint {
            Joint::Touching => "its rings bend open at",
            Joint::Soldered => "its rings draw out oval for good at",
        };
        cautions.push(Caution::Note(format!(
            "the chain does not hold this load: {how} {gives_way_n:.0} N; the stretch said is only what \
             would come back"
        )));
    } else if load_n >= first_set_n {
        cautions.push(Caution::Note(format!("above {first_set_n:.0} N some of the stretch stays")));
    }
    if joint == Joint::Touching {
        cautions.push(Caution::Note(
            "rings as wound take a small set well below the first-set pull said here, which holds for \
             stress-free wire"
                .to_owned(),
        ));
    }
    cautions
}

impl UnderLoad {
    /// What these loads rest on.
    pub fn basis(&self) -> Basis {
        Basis::worked_out(
            "pull on the ring that carries most = its share x load; stretch = sum of share^2 x give of a \
             ring",
            "contact forces of rigid rings and Castigliano's theorem, docs/theory/chain.md, section 10",
            vec![
                Input::new("load", self.load.n(), "N", Basis::assumed("as given")),
                Input::new(
                    "share of the pull",
                    self.weakest_share,
                    "-",
                    Basis::worked_out(
                        "least squares of contact forces",
                        "contact geometry",
                        vec![],
                    ),
                ),
            ],
        )
    }

    /// Lengthening of a piece.
    ///
    /// # Units
    /// Lengths.
    /// # Validity
    /// As the stretch.
    /// # Source
    /// Relative stretch times length.
    pub fn lengthening(&self, length: Length) -> Length {
        Length::from_mm(self.stretch * length.mm())
    }
}

#[cfg(test)]
mod tests {
    use linkwright_calc::quantity::{Force, Length, Stress};
    use linkwright_calc::ring::{Joint, RingMetal};
    use linkwright_calc::wire::Wire;

    use super::{SPLIT_GIVES, UnderLoad, WHOLE_GIVES, shares};
    use crate::answer::{ClosedRing, answer};
    use crate::pattern::{Pattern, craft};
    use crate::solve::{Patient, Search};

    fn metal(joint: Joint) -> RingMetal {
        RingMetal {
            flow_stress: Stress::from_mpa(300.0),
            first_set_stress: Stress::from_mpa(300.0),
            tensile_strength: Stress::from_mpa(400.0),
            youngs_modulus: Stress::from_mpa(80_000.0),
            joint,
        }
    }

    fn loaded(name: &str, inside_mm: f64, joint: Joint, load_n: f64) -> (UnderLoad, Vec<f64>) {
        let wire = Wire::new(Length::from_mm(1.0)).expect("within limits");
        let ring = ClosedRing::new(wire, Length::from_mm(inside_mm)).expect("within limits");
        let pattern = Pattern::new(craft::named(name).expect("known")).expect("valid");
        let linked = answer(&pattern, &[ring], Search::default(), &mut Patient).expect("answered");
        let drawn = linked.drawn(&mut Patient).expect("not stopped").expect("possible");
        let load = Force::from_n(load_n);
        let loaded = linked.under_load(&drawn, metal(joint), load).expect("within limits");
        (loaded.expect("a chain"), shares(&drawn))
    }

    #[test]
    fn what_a_ring_gives_is_the_integral_of_its_bending() {
        // Split: M = R sin t over one half. Whole: M = R (sin t - 2/pi)/2 over both. Simpson's rule.
        let simpson = |f: &dyn Fn(f64) -> f64| {
            let n = 2000;
            let h = std::f64::consts::PI / f64::from(n);
            let sum: f64 = (0..=n)
                .map(|i| {
                    let weight = if i == 0 || i == n { 1.0 } else { f64::from(2 + 2 * (i % 2)) };
                    weight * f(h * f64::from(i))
                })
                .sum();
            sum * h / 3.0
        };
        let split = simpson(&|t| t.sin().powi(2));
        assert!((split - SPLIT_GIVES).abs() < 1e-10);
        let mean = 2.0 / std::f64::consts::PI;
        let whole = simpson(&|t| 2.0 * (0.5 * (t.sin() - mean)).powi(2));
        assert!((whole - WHOLE_GIVES).abs() < 1e-10);
        // The known figure of a whole ring under two loads, 0.149 P R^3/(E I) (textbooks, from memory).
        assert!((WHOLE_GIVES - 0.149).abs() < 5e-4);
    }

    #[test]
    fn doubled_rings_share_the_pull() {
        let (single, _) = loaded("cable_1in1", 5.0, Joint::Touching, 5.0);
        let (double, each) = loaded("double_2in2", 5.0, Joint::Touching, 5.0);
        // Two rings carry what one did, a little more since their wires lean apart.
        assert!(each.iter().all(|share| (share - 0.5).abs() < 0.06), "{each:?}");
        let ratio = double.gives_way.n() / single.gives_way.n();
        assert!(ratio > 1.8 && ratio <= 2.0, "{ratio}");
        assert!(double.stretch < 0.6 * single.stretch);
    }

    #[test]
    fn soldered_chains_are_stiffer_and_hold_more() {
        let (open, _) = loaded("cable_1in1", 4.0, Joint::Touching, 5.0);
        let (whole, _) = loaded("cable_1in1", 4.0, Joint::Soldered, 5.0);
        assert!((open.stretch / whole.stretch - SPLIT_GIVES / WHOLE_GIVES).abs() < 1e-9);
        assert!(whole.gives_way.n() > open.gives_way.n());
        assert!(open.first_set.n() < open.gives_way.n());
    }

    #[test]
    fn stretch_grows_with_the_load_and_too_much_is_said() {
        let (light, _) = loaded("byzantine", 4.0, Joint::Touching, 1.0);
        let (heavy, _) = loaded("byzantine", 4.0, Joint::Touching, 500.0);
        assert!((heavy.stretch / light.stretch - 500.0).abs() < 1e-6);
        assert!(heavy.cautions[0].to_string().contains("does not hold this load"));
        assert!(!light.cautions.iter().any(|c| c.to_string().contains("does not hold")));
        assert!(light.weakest_share > 0.3, "{}", light.weakest_share);
    }
}
