//! Whether the last ring can still be put in.

use linkwright_calc::basis::{Basis, Input};
use linkwright_calc::quantity::Length;

use super::Linked;
pub use crate::opening::Fits;
use crate::opening::{last_ring, needed};
use crate::pose::Pose;
use crate::solve::{Halt, Watch, fitted, thickest_wire};
use crate::table::{self, pose_from_numbers};

/// Room for the last ring, every other one in place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LastRing {
    /// How it goes in.
    pub fits: Fits,
    /// Which ring of the cell is best left for last, counted from nought.
    pub ring: usize,
    /// How far its ends can stand apart sideways, middle to middle of the wire; at most three wires.
    pub ends_apart: Length,
    /// How far they must, so that a wire passes between them: two wires, its own and that of the widest
    /// ring it hooks.
    pub needed: Length,
    /// Read from the table, the largest error of `ends_apart`; `None` if it was solved on the spot.
    pub within: Option<Length>,
}

impl Linked {
    /// Room for the last ring when all others are in place, the chain slack.
    ///
    /// Read from the table for rings of a known pattern's own proportions, which the verdict depends on
    /// alone, and solved on the spot for others. `None` where the rings do not go together at all.
    ///
    /// # Units
    /// Millimetres.
    /// # Validity
    /// Worked out for a ring opened sideways, its halves flat, among rigid rings spread as evenly as they
    /// go or making way for it. More may be possible, never less: "goes in" is sure, "tight" is not a
    /// no. A ring at the end of a chain has more room.
    /// # Errors
    /// [`Halt`] if the watch stops the solve.
    /// # Source
    /// Own derivation; `docs/theory/chain.md`, section 8.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, wire::Wire};
    /// use linkwright_linkage::answer::{answer, ClosedRing, Fits};
    /// use linkwright_linkage::{pattern::{craft, Pattern}, solve::{Patient, Search}};
    /// let cable = Pattern::new(craft::named("cable_1in1").unwrap()).unwrap();
    /// let fits = |inside_mm: f64| {
    ///     let wire = Wire::new(Length::from_mm(1.0)).unwrap();
    ///     let ring = ClosedRing::new(wire, Length::from_mm(inside_mm)).unwrap();
    ///     let linked = answer(&cable, &[ring], Search::default(), &mut Patient).unwrap();
    ///     linked.last_ring(&mut Patient).unwrap().map(|last| last.fits)
    /// };
    /// assert_eq!(fits(1.9), None);
    /// assert_eq!(fits(2.0), Some(Fits::DoesNot));
    /// assert_eq!(fits(3.0), Some(Fits::GoesIn));
    /// ```
    pub fn last_ring(&self, watch: &mut dyn Watch) -> Result<Option<LastRing>, Halt> {
        if !self.possible() {
            return Ok(None);
        }
        let d_mm = self.rings[0].wire().diameter().mm();
        let told = |ring, ends_apart: f64, needed: f64, within: Option<f64>| LastRing {
            fits: Fits::of(ends_apart, needed),
            ring,
            ends_apart: Length::from_mm(ends_apart * d_mm),
            needed: Length::from_mm(needed * d_mm),
            within: within.map(|wires| Length::from_mm(wires * d_mm)),
        };
        if let Some(table) = table::entry(&self.pattern).map(|entry| &entry.last_ring)
            && let Some(read) = table.at(self.aspect_ratio)
        {
            return Ok(Some(told(read.ring, read.ends_apart, read.needed, Some(table.within))));
        }
        let wire = 2.0 / (self.aspect_ratio + 1.0);
        let Some(slack) = self.slack_pose(wire, watch)? else {
            return Ok(None);
        };
        let links = &self.pattern.spec().links;
        let open = last_ring(&slack, links, wire, watch)?;
        Ok(open.map(|open| {
            told(open.ring, open.ends_apart / wire, needed(&slack, links, open.ring), None)
        }))
    }

    /// The pose in which the rings have most play: that of the thickest wire.
    fn slack_pose(&self, wire: f64, watch: &mut dyn Watch) -> Result<Option<Pose>, Halt> {
        if let Some(slack) = &self.slack {
            return Ok(Some(slack.clone()));
        }
        let Some(entry) = table::entry(&self.pattern) else {
            return Ok(Some(thickest_wire(&self.pattern, self.search, watch)?.pose));
        };
        let row = entry.rows.first();
        let known = row.and_then(|row| pose_from_numbers(self.pattern.start(), row.pose));
        match known {
            Some(pose) => Ok(Some(pose)),
            None => Ok(fitted(&self.pattern, wire, self.search, watch)?.map(|found| found.pose)),
        }
    }
}

impl LastRing {
    /// What it rests on.
    pub fn basis(&self) -> Basis {
        let assumed = || Basis::assumed("rigid rings, the others in place, the chain slack");
        let input = |name, length: Length| Input::new(name, length.mm(), "mm", assumed());
        let mut inputs =
            vec![input("ends stand apart", self.ends_apart), input("needed", self.needed)];
        inputs.extend(self.within.map(|within| input("read from the table within", within)));
        Basis::worked_out(
            "the ring goes in if its ends can stand two wires apart in its place, middle to middle",
            "own derivation, docs/theory/chain.md, section 8",
            inputs,
        )
    }
}

#[cfg(test)]
mod tests {
    use linkwright_calc::quantity::Length;
    use linkwright_calc::wire::Wire;

    use super::{Fits, LastRing};
    use crate::answer::{ClosedRing, answer};
    use crate::pattern::{Pattern, craft};
    use crate::solve::{Patient, Search};

    fn last(name: &str, d_mm: f64, aspect_ratio: f64) -> LastRing {
        let wire = Wire::new(Length::from_mm(d_mm)).expect("within limits");
        let inside = Length::from_mm(aspect_ratio * d_mm);
        let ring = ClosedRing::new(wire, inside).expect("within limits");
        let pattern = Pattern::new(craft::named(name).expect("known")).expect("valid");
        let linked = answer(&pattern, &[ring], Search::default(), &mut Patient).expect("answered");
        linked.last_ring(&mut Patient).expect("not stopped").expect("possible")
    }

    #[test]
    fn at_the_limit_it_does_not_go_in_and_with_a_ring_to_spare_it_does() {
        // Loose as makers use them; the limit from the table, a ten-thousandth above.
        for (name, least, loose) in [
            ("cable_1in1", 2.0, 3.0),
            ("european_4in1_strip3", 2.98093, 4.0),
            ("byzantine", 3.26551, 4.5),
            ("box", 4.05406, 5.5),
            ("half_persian_3in1", 3.8928, 6.0),
        ] {
            assert_eq!(last(name, 1.0, least * 1.0001).fits, Fits::DoesNot, "{name}");
            let open = last(name, 1.0, loose);
            assert_eq!(open.fits, Fits::GoesIn, "{name}: {open:?}");
            assert!((open.needed.mm() - 2.0).abs() < 1e-12, "{name}");
        }
    }

    #[test]
    fn between_the_two_it_is_tight_and_the_room_grows() {
        let rooms = [2.1, 2.3, 2.5, 3.0].map(|ar| last("cable_1in1", 1.0, ar).ends_apart.mm());
        assert!(rooms.windows(2).all(|pair| pair[0] < pair[1]), "{rooms:?}");
        assert_eq!(last("cable_1in1", 1.0, 2.3).fits, Fits::Tight);
    }

    #[test]
    fn room_scales_with_the_wire() {
        let (one, two) = (last("double_2in2", 1.0, 4.0), last("double_2in2", 2.0, 4.0));
        assert!((two.ends_apart.mm() - 2.0 * one.ends_apart.mm()).abs() < 1e-9);
    }
}
