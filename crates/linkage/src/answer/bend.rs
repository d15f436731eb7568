//! How tightly a chain bends.

use linkwright_calc::basis::{Basis, Input};
use linkwright_calc::quantity::Length;

use super::Linked;
use crate::pose::Pose;
use crate::solve::{Halt, Search, Watch, Way, bent};

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
    /// The bent chain in millimetres, to be drawn: rings of so many cells as repeat without twist.
    pub pose: Pose,
    /// Climbs that ended in a valid pose.
    pub starts: u32,
    /// Of these, how many met the tightest.
    pub hits: u32,
}

/// Climbs of a bend: both senses from three poses.
const BEND_STARTS: u32 = 6;

impl Linked {
    /// The tightest even bend of the chain, over its face or edgewise.
    ///
    /// Solved on the spot: a second or two for a chain of few rings a cell. `None` for a sheet or a
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
        let wire = 2.0 / (self.aspect_ratio + 1.0);
        let search = Search { starts: BEND_STARTS, ..self.search };
        let bent = bent(&self.pattern, wire, way, search, watch)?;
        let scale = self.rings[0].wire().diameter().mm() / wire;
        let mm = |length: f64| Length::from_mm(length * scale);
        Ok(bent.map(|bent| TightestBend {
            way,
            inside_radius: mm(bent.inside_radius),
            middle_radius: mm(bent.middle_radius),
            limp: bent.limp,
            pose: bent.found.pose.scaled(scale),
            starts: bent.found.starts,
            hits: bent.found.hits,
        }))
    }
}

impl TightestBend {
    /// What the radius rests on.
    pub fn basis(&self) -> Basis {
        Basis::worked_out(
            "inside radius at the greatest turn per cell found for rigid rings that touch: at least this \
             tight",
            "contact geometry, docs/theory/chain.md, section 6",
            vec![
                Input::new("climbs", f64::from(self.starts), "-", Basis::assumed("own search")),
                Input::new("that agree", f64::from(self.hits), "-", Basis::assumed("own search")),
            ],
        )
    }
}
