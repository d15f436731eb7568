//! The solved pattern in place, to be drawn to scale.

use linkwright_calc::quantity::Length;

use super::Linked;
use crate::pattern::Kind;
use crate::pose::Pose;
use crate::solve::{Carrying, Found, Halt, Pull, Search, Watch, fitted, taut_again};
use crate::table;

/// The pattern as it lies, in millimetres, and where it carries the pull.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawn {
    /// Rings of one cell and how it repeats, in millimetres; [`Pose::placed`] gives every copy.
    pub pose: Pose,
    /// Diameter of the main wire; a ring's own is this times its `wire_share`.
    pub wire: Length,
    /// Contacts that carry when the chain is pulled, `at` in millimetres, `force` as a share of the
    /// pull; none for a cluster.
    ///
    /// Where rings are equally well placed to share a load, the shares are one way of many.
    pub carrying: Vec<Carrying>,
}

impl Drawn {
    fn new(found: Found, wire: f64, wire_mm: f64) -> Drawn {
        let scale = wire_mm / wire;
        let in_mm = |contact: Carrying| Carrying { at: contact.at * scale, ..contact };
        Drawn {
            pose: found.pose.scaled(scale),
            wire: Length::from_mm(wire_mm),
            carrying: found.carrying.into_iter().map(in_mm).collect(),
        }
    }
}

impl Linked {
    /// The pattern pulled taut and in place; `None` if it is not possible with these rings.
    ///
    /// A pattern of the table is pulled once more from the table's pose, which takes milliseconds;
    /// so is a chain that was told by closed form, from the pose of that. One that was solved on the spot
    /// is given as it was found. A cluster is shown in some pose that
    /// leaves room for its wire.
    ///
    /// # Units
    /// Millimetres.
    /// # Validity
    /// As the answer. Rings that carry nothing are loose and lie in one of many ways.
    /// # Errors
    /// [`Halt`] if the watch stops the solve.
    /// # Source
    /// `docs/theory/chain.md`, section 5.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, wire::Wire};
    /// use linkwright_linkage::answer::{answer, ClosedRing};
    /// use linkwright_linkage::{pattern::{craft, Pattern}, solve::{Patient, Search}};
    /// let wire = Wire::new(Length::from_mm(1.0)).unwrap();
    /// let ring = ClosedRing::new(wire, Length::from_mm(4.0)).unwrap();
    /// let cable = Pattern::new(craft::named("cable_1in1").unwrap()).unwrap();
    /// let linked = answer(&cable, &[ring], Search::default(), &mut Patient).unwrap();
    /// let drawn = linked.drawn(&mut Patient).unwrap().unwrap();
    /// assert_eq!(drawn.pose.rings[0].circle.radius, 2.5);
    /// // Every ring hangs in the next by one contact that carries all of the pull.
    /// let pulls: Vec<f64> = drawn.carrying.iter().map(|contact| contact.force).collect();
    /// assert!((pulls.iter().sum::<f64>() - 1.0).abs() < 1e-3);
    /// ```
    pub fn drawn(&self, watch: &mut dyn Watch) -> Result<Option<Drawn>, Halt> {
        if !self.possible() {
            return Ok(None);
        }
        let wire = 2.0 / (self.aspect_ratio + 1.0);
        let found = match &self.solved {
            Some(found) => Some(found.clone()),
            None if self.pattern.kind() == Kind::Cluster => {
                fitted(&self.pattern, wire, self.search, watch)?
            }
            None => self.pulled_again(wire, watch)?,
        };
        Ok(found.map(|found| Drawn::new(found, wire, self.rings[0].wire().diameter().mm())))
    }

    /// Pulled taut from the pose of the nearest row below.
    fn pulled_again(&self, wire: f64, watch: &mut dyn Watch) -> Result<Option<Found>, Halt> {
        let known = table::entry(&self.pattern);
        let below = known
            .and_then(|entry| entry.pose_below(&self.pattern, self.aspect_ratio))
            .or_else(|| self.by_form.clone());
        match below {
            Some(pose) => taut_again(&pose, wire, Pull::Along, watch),
            None => {
                // Between the limit and the table's first row, a millionth above it, one search will do. A
                // sheet that was told by closed form is searched for in earnest.
                let starts = if known.is_some() { 1 } else { self.search.starts };
                let search = Search { starts, ..self.search };
                crate::solve::taut(&self.pattern, wire, Pull::Along, search, &[], watch)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use linkwright_calc::quantity::Length;
    use linkwright_calc::wire::Wire;

    use crate::answer::{ClosedRing, Ground, answer};
    use crate::pattern::{Kind, Pattern, craft, measured_links};
    use crate::solve::{Patient, Search, room};

    #[test]
    fn every_pattern_is_drawn_without_overlap_with_its_links_and_as_long_as_it_is_told() {
        for spec in craft::all() {
            let pattern = Pattern::new(spec).expect("valid");
            let own = pattern.spec().sizes.clone();
            let d_mm = 1.3;
            let least = answer(&pattern, &rings(&own, d_mm, 6.0), Search::default(), &mut Patient);
            let aspect_ratio = 1.2 * least.expect("answered").aspect_ratio_min;
            let linked =
                answer(&pattern, &rings(&own, d_mm, aspect_ratio), Search::default(), &mut Patient)
                    .expect("answered");
            let name = pattern.name();
            let drawn = linked.drawn(&mut Patient).expect("not stopped");
            let drawn = drawn.unwrap_or_else(|| panic!("{name} is possible"));
            assert!(room(&drawn.pose) > d_mm * (1.0 - 1e-6), "{name}");
            assert_eq!(measured_links(&drawn.pose), measured_links(pattern.start()), "{name}");
            if pattern.kind() == Kind::Cluster {
                continue;
            }
            let told = linked.taut.as_ref().expect("possible");
            let long = match drawn.pose.cell {
                crate::pattern::Cell::Screw { period, .. } => period,
                crate::pattern::Cell::Lattice { along, .. } => along,
                _ => 0.0,
            };
            // Table rows lie apart, and a single climb may end on a lesser summit.
            let off = (long - told.advance.mm()) / told.advance.mm();
            assert!(off.abs() < 0.02_f64.max(told.within), "{name}: {off}");
            assert!(!drawn.carrying.is_empty(), "{name}");
        }
    }

    #[test]
    fn rings_told_by_closed_form_are_drawn_as_long_and_carry_the_pull() {
        let ring = |d_mm, inside_mm| {
            let wire = Wire::new(Length::from_mm(d_mm)).expect("within limits");
            ClosedRing::new(wire, Length::from_mm(inside_mm)).expect("within limits")
        };
        for (name, rings) in [
            ("large_and_small", [ring(1.0, 6.0), ring(0.8, 3.5)]),
            ("large_and_small_pairs", [ring(1.2, 7.0), ring(0.9, 4.5)]),
            ("square_4in1_sheet", [ring(1.0, 6.0), ring(0.8, 3.0)]),
        ] {
            let pattern = Pattern::new(craft::named(name).expect("known")).expect("valid");
            let linked =
                answer(&pattern, &rings, Search::default(), &mut Patient).expect("answered");
            let told = linked.taut.as_ref().expect("possible");
            assert_eq!(told.ground, Ground::ClosedForm, "{name}");
            let drawn = linked.drawn(&mut Patient).expect("not stopped").expect("possible");
            let long_mm = match drawn.pose.cell {
                crate::pattern::Cell::Screw { period, .. } => period,
                crate::pattern::Cell::Lattice { along, .. } => along,
                _ => 0.0,
            };
            // What the solver leaves of the length, and what is written down.
            let off = (long_mm - told.advance.mm()).abs() / told.advance.mm();
            assert!(off < told.within, "{name}: {off}");
            assert!(room(&drawn.pose) > drawn.wire.mm() * (1.0 - 1e-6), "{name}");
            assert_eq!(measured_links(&drawn.pose), measured_links(pattern.start()), "{name}");
            assert!(!drawn.carrying.is_empty(), "{name}");
        }
    }

    fn rings(sizes: &[crate::pattern::SizeSpec], d_mm: f64, aspect_ratio: f64) -> Vec<ClosedRing> {
        let radius_mm = 0.5 * (aspect_ratio + 1.0) * d_mm;
        let ring = |size: &crate::pattern::SizeSpec| {
            let wire_mm = d_mm * size.wire;
            let inside = Length::from_mm(2.0 * radius_mm * size.radius - wire_mm);
            let wire = Wire::new(Length::from_mm(wire_mm)).expect("within limits");
            ClosedRing::new(wire, inside).expect("within limits")
        };
        sizes.iter().map(ring).collect()
    }
}
