//! How tightly a chain bends.

use linkwright_calc::basis::{Basis, Input};
use linkwright_calc::quantity::Length;

use super::Linked;
use crate::pose::Pose;
use crate::solve::{Halt, Search, Watch, Way, bent};
use crate::table::{self, BendReading};

/// The tightest even bend that was found.
#[derive(Clone, Debug, PartialEq)]
pub struct TightestBend {
    /// Which way the chain is bent.
    pub way: Way,
    /// Radius of the round bar it lies on, or less.
    pub inside_radius: Length,
    /// Mean distance of the ring centres from the axis of the bend.
    pub middle_radius: Length,
    /// Whether the chain folds limp: it doubles back on itself, and the radius says little.
    pub limp: bool,
    /// Turn per cell of the pattern, in degrees.
    pub turn_deg: f64,
    /// The bent chain in millimetres: rings of so many cells as repeat without twist; `None` if it was
    /// read from the table.
    pub pose: Option<Pose>,
    /// Climbs that ended in a valid pose.
    pub starts: u32,
    /// Of these, how many met the tightest.
    pub hits: u32,
    /// Read from the table, the largest error of the turn; `None` if it was solved on the spot.
    pub within_deg: Option<f64>,
}

/// Climbs of a bend: both senses from three poses.
const BEND_STARTS: u32 = 6;

impl Linked {
    /// The tightest even bend of the chain, over its face or edgewise.
    ///
    /// Read from the table for rings of a known pattern's own proportions; solved on the spot for
    /// others, which takes a second or two for a chain of few rings a cell. `None` for a sheet or a
    /// cluster, where the rings do not go together, and where no bend was found.
    ///
    /// # Units
    /// Millimetres.
    /// # Validity
    /// Best found: at least this tight. An even bend of rigid rings; a chain bent by hand may kink more
    /// tightly in one place.
    /// # Errors
    /// [`Halt`] if the watch stops the solve.
    /// # Source
    /// `docs/theory/chain.md`, section 6.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, wire::Wire};
    /// use linkwright_linkage::answer::{answer, ClosedRing};
    /// use linkwright_linkage::{pattern::{craft, Pattern}, solve::{Patient, Search, Way}};
    /// let mm = Length::from_mm;
    /// let ring = ClosedRing::new(Wire::new(mm(1.0)).unwrap(), mm(4.0)).unwrap();
    /// let cable = Pattern::new(craft::named("cable_1in1").unwrap()).unwrap();
    /// let linked = answer(&cable, &[ring], Search::default(), &mut Patient).unwrap();
    /// let bend = linked.tightest_bend(Way::OverFace, &mut Patient).unwrap().unwrap();
    /// assert!(bend.limp);
    /// ```
    pub fn tightest_bend(
        &self,
        way: Way,
        watch: &mut dyn Watch,
    ) -> Result<Option<TightestBend>, Halt> {
        if !self.possible() {
            return Ok(None);
        }
        let d_mm = self.rings[0].wire().diameter().mm();
        let table = table::entry(&self.pattern).map(|entry| entry.bends(way));
        if let Some(table) = table
            && let Some(BendReading { row, limp }) = table.at(self.aspect_ratio)
        {
            return Ok(Some(TightestBend {
                way,
                turn_deg: row.turn_deg,
                inside_radius: Length::from_mm(row.inside_radius * d_mm),
                middle_radius: Length::from_mm(row.middle_radius * d_mm),
                limp,
                pose: None,
                starts: row.starts,
                hits: row.hits,
                within_deg: Some(table.within_deg),
            }));
        }
        let wire = 2.0 / (self.aspect_ratio + 1.0);
        let search = Search { starts: BEND_STARTS, ..self.search };
        let bent = bent(&self.pattern, wire, way, search, watch)?;
        let scale = d_mm / wire;
        let mm = |length: f64| Length::from_mm(length * scale);
        Ok(bent.map(|bent| TightestBend {
            way,
            turn_deg: bent.found.value.to_degrees() / f64::from(bent.cells),
            inside_radius: mm(bent.inside_radius),
            middle_radius: mm(bent.middle_radius),
            limp: bent.limp,
            pose: Some(bent.found.pose.scaled(scale)),
            starts: bent.found.starts,
            hits: bent.found.hits,
            within_deg: None,
        }))
    }
}

impl TightestBend {
    /// What the radius rests on.
    pub fn basis(&self) -> Basis {
        let input = |name, value, unit| Input::new(name, value, unit, Basis::assumed("own search"));
        let mut inputs = vec![
            input("climbs", f64::from(self.starts), "-"),
            input("that agree", f64::from(self.hits), "-"),
            input("turn per cell", self.turn_deg, "deg"),
        ];
        inputs.extend(
            self.within_deg.map(|deg| input("turn read from the table within", deg, "deg")),
        );
        Basis::worked_out(
            "inside radius at the greatest turn per cell found for rigid rings that touch: at least this \
             tight",
            "contact geometry, docs/theory/chain.md, section 6",
            inputs,
        )
    }
}

#[cfg(test)]
mod tests {
    use linkwright_calc::quantity::Length;
    use linkwright_calc::wire::Wire;

    use crate::answer::{ClosedRing, answer};
    use crate::pattern::{Pattern, craft};
    use crate::solve::{Halt, Patient, Search, Watch, Way};

    /// Stops the first step of any solve.
    struct AtOnce;

    impl Watch for AtOnce {
        fn tick(&mut self) -> Result<(), Halt> {
            Err(Halt::Cancelled)
        }
    }

    fn ring(d_mm: f64, inside_mm: f64) -> ClosedRing {
        let wire = Wire::new(Length::from_mm(d_mm)).expect("within limits");
        ClosedRing::new(wire, Length::from_mm(inside_mm)).expect("within limits")
    }

    #[test]
    fn a_known_pattern_tells_bends_and_last_ring_without_solving_and_to_scale() {
        let strip = Pattern::new(craft::named("european_4in1_strip3").expect("known"));
        let strip = strip.expect("valid");
        let told = |d_mm: f64| {
            let rings = [ring(d_mm, 3.6 * d_mm)];
            let linked = answer(&strip, &rings, Search::default(), &mut AtOnce).expect("at once");
            let bend = linked.tightest_bend(Way::OverFace, &mut AtOnce).expect("at once");
            let last = linked.last_ring(&mut AtOnce).expect("at once").expect("possible");
            (bend.expect("a chain"), last)
        };
        let ((thin, thin_last), (thick, thick_last)) = (told(1.0), told(2.0));
        assert!(!thin.limp && thin.within_deg.is_some() && thin.pose.is_none());
        assert!((thick.inside_radius.mm() - 2.0 * thin.inside_radius.mm()).abs() < 1e-12);
        assert!((thick.turn_deg - thin.turn_deg).abs() < 1e-12);
        assert!((thick_last.ends_apart.mm() - 2.0 * thin_last.ends_apart.mm()).abs() < 1e-12);
    }

    #[test]
    fn rings_of_other_proportions_are_bent_on_the_spot_and_the_bend_can_be_drawn() {
        let chain = Pattern::new(craft::named("large_and_small").expect("known")).expect("valid");
        let rings = [ring(1.0, 6.0), ring(0.8, 3.5)];
        let search = Search { starts: 2, seed: 1 };
        let linked = answer(&chain, &rings, search, &mut Patient).expect("answered");
        let stopped = linked.tightest_bend(Way::OverFace, &mut AtOnce);
        assert_eq!(stopped, Err(Halt::Cancelled));
        let bend = linked.tightest_bend(Way::OverFace, &mut Patient).expect("not stopped");
        let bend = bend.expect("a chain");
        assert!(bend.pose.is_some() && bend.within_deg.is_none());
    }

    #[test]
    fn between_the_rows_a_bend_is_that_solved_on_the_spot() {
        // Best founds of few climbs: at least as tight in the table, and not much tighter.
        let pattern = Pattern::new(craft::named("half_persian_4in1").expect("known"));
        let pattern = pattern.expect("valid");
        for ar in [5.13, 6.41] {
            let rings = [ring(1.0, ar)];
            let linked = answer(&pattern, &rings, Search::default(), &mut Patient);
            let linked = linked.expect("answered");
            let read = linked.tightest_bend(Way::OverFace, &mut Patient).expect("not stopped");
            let search = Search { starts: 6, seed: 3 };
            let wire = 2.0 / (ar + 1.0);
            let solved = crate::solve::bent(&pattern, wire, Way::OverFace, search, &mut Patient);
            let (read, solved) = (read.expect("a chain"), solved.expect("not stopped"));
            let solved_deg = solved.expect("a chain").found.value.to_degrees();
            let within_deg = read.within_deg.expect("read");
            assert!(read.turn_deg > solved_deg - within_deg, "{ar}: {read:?} {solved_deg}");
            assert!(read.turn_deg < 1.1 * solved_deg + within_deg, "{ar}: {read:?} {solved_deg}");
        }
    }
}
