//! Rings of one coil, as read.

use thiserror::Error;

use super::share::Bend;
use crate::limits::{INSIDE_DIAMETER, LimitError, READING_RESOLUTION};
use crate::quantity::Length;
use crate::wind::Mandrel;
use crate::wire::Wire;

/// A reading smaller than this share of the mandrel is a wrong mandrel or an outside diameter
/// taken off twice, not a ring.
const LEAST_OVER_MANDREL: f64 = 0.9;

/// A reading larger than this many mandrels is a slipped point or the wrong mandrel: the hardest
/// spring wire does not open that far. Own choice.
const MOST_OVER_MANDREL: f64 = 4.0;

/// One coil of a wire lot: the mandrel, and inside diameters read on it or on rings cut from it,
/// before closing.
#[derive(Clone, Debug, PartialEq)]
pub struct RingTrial {
    wire: Wire,
    mandrel: Mandrel,
    /// Smallest first, so that sums do not depend on the order of reading.
    readings_mm: Vec<f64>,
    resolution_mm: f64,
    tried_on: Option<String>,
}

/// Why readings of a coil are refused.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum LotError {
    /// Nothing was read.
    #[error("a trial needs at least one inside diameter read from its coil")]
    NoReadings,
    /// A number outside its limits.
    #[error(transparent)]
    Limit(#[from] LimitError),
    /// A ring smaller than the rod it was wound on.
    #[error(
        "an inside diameter of {inside_diameter_mm} mm cannot come off a mandrel of \
         {mandrel_diameter_mm} mm: check the mandrel, and that the inside was read"
    )]
    BelowMandrel {
        /// The reading.
        inside_diameter_mm: f64,
        /// The mandrel.
        mandrel_diameter_mm: f64,
    },
    /// A ring several times the rod it was wound on.
    #[error(
        "an inside diameter of {inside_diameter_mm} mm is more than four times the mandrel of \
         {mandrel_diameter_mm} mm: check the point in the number, and the mandrel"
    )]
    FarAboveMandrel {
        /// The reading.
        inside_diameter_mm: f64,
        /// The mandrel.
        mandrel_diameter_mm: f64,
    },
}

impl RingTrial {
    /// A coil and its readings.
    ///
    /// # Units
    /// Lengths; `reading_resolution` is the smallest step read, nothing for exact values.
    /// # Validity
    /// Open rings, not yet closed, or the coil itself.
    /// # Errors
    /// [`LotError`] if there is no reading, one is outside [`INSIDE_DIAMETER`], or a reading is
    /// under nine tenths of the mandrel or over four times it.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::quantity::Length;
    /// use linkwright_calc::wind::{LotError, Mandrel, RingTrial};
    /// use linkwright_calc::wire::Wire;
    /// let wire = Wire::new(Length::from_mm(0.81)).unwrap();
    /// let mandrel = Mandrel::new(Length::from_mm(3.0)).unwrap();
    /// let read = [3.17, 3.16, 3.18].map(Length::from_mm);
    /// let hundredth = Length::from_mm(0.01);
    /// assert_eq!(RingTrial::new(wire, mandrel, &read, hundredth).unwrap().readings(), 3);
    /// assert_eq!(RingTrial::new(wire, mandrel, &[], hundredth), Err(LotError::NoReadings));
    /// // The point slipped.
    /// let slipped = RingTrial::new(wire, mandrel, &[Length::from_mm(31.7)], hundredth);
    /// assert!(matches!(slipped, Err(LotError::FarAboveMandrel { .. })));
    /// ```
    pub fn new(
        wire: Wire,
        mandrel: Mandrel,
        inside_diameters: &[Length],
        reading_resolution: Length,
    ) -> Result<RingTrial, LotError> {
        if inside_diameters.is_empty() {
            return Err(LotError::NoReadings);
        }
        let mandrel_diameter_mm = mandrel.diameter().mm();
        let mut readings_mm = Vec::with_capacity(inside_diameters.len());
        for inside in inside_diameters {
            let inside_diameter_mm = INSIDE_DIAMETER.check(inside.mm())?;
            if inside_diameter_mm < LEAST_OVER_MANDREL * mandrel_diameter_mm {
                return Err(LotError::BelowMandrel { inside_diameter_mm, mandrel_diameter_mm });
            }
            if inside_diameter_mm > MOST_OVER_MANDREL * mandrel_diameter_mm {
                return Err(LotError::FarAboveMandrel { inside_diameter_mm, mandrel_diameter_mm });
            }
            readings_mm.push(inside_diameter_mm);
        }
        readings_mm.sort_by(f64::total_cmp);
        let resolution_mm = READING_RESOLUTION.check(reading_resolution.mm())?;
        Ok(RingTrial { wire, mandrel, readings_mm, resolution_mm, tried_on: None })
    }

    /// The same trial with the day it was made, as an ISO date.
    #[must_use]
    pub fn on(self, date: impl Into<String>) -> RingTrial {
        RingTrial { tried_on: Some(date.into()), ..self }
    }

    /// The mandrel.
    pub const fn mandrel(&self) -> Mandrel {
        self.mandrel
    }

    /// How many inside diameters were read.
    pub const fn readings(&self) -> usize {
        self.readings_mm.len()
    }

    /// Mean of the inside diameters read.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// At least one reading, which the constructor sees to.
    /// # Source
    /// Arithmetic mean.
    ///
    /// ```
    /// use linkwright_calc::quantity::Length;
    /// use linkwright_calc::wind::{Mandrel, RingTrial};
    /// use linkwright_calc::wire::Wire;
    /// let wire = Wire::new(Length::from_mm(1.02)).unwrap();
    /// let mandrel = Mandrel::new(Length::from_mm(4.0)).unwrap();
    /// let read = [4.12, 4.15, 4.14, 4.16, 4.13].map(Length::from_mm);
    /// let trial = RingTrial::new(wire, mandrel, &read, Length::from_mm(0.01)).unwrap();
    /// assert!((trial.mean().mm() - 4.14).abs() < 1e-12);
    /// ```
    pub fn mean(&self) -> Length {
        #[expect(clippy::cast_precision_loss, reason = "a count of readings at a bench")]
        let count = self.readings_mm.len() as f64;
        Length::from_mm(self.readings_mm.iter().sum::<f64>() / count)
    }

    /// Standard deviation of the readings about their mean, `sqrt(sum (x - mean)^2 / (n - 1))`; none
    /// for a single reading.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// Two readings or more.
    /// # Source
    /// Definition of the sample standard deviation.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, wind::{Mandrel, RingTrial}, wire::Wire};
    /// let mm = Length::from_mm;
    /// let trial = RingTrial::new(
    ///     Wire::new(mm(1.02)).unwrap(),
    ///     Mandrel::new(mm(4.0)).unwrap(),
    ///     &[4.12, 4.15, 4.14, 4.16, 4.13].map(mm),
    ///     mm(0.01),
    /// ).unwrap();
    /// assert!((trial.spread().unwrap().mm() - 0.016).abs() < 0.0005);
    /// assert!((100.0 * trial.springback_share() - 3.5).abs() < 0.05);
    /// ```
    pub fn spread(&self) -> Option<Length> {
        if self.readings_mm.len() < 2 {
            return None;
        }
        let mean_mm = self.mean().mm();
        let squares: f64 = self.readings_mm.iter().map(|reading| (reading - mean_mm).powi(2)).sum();
        #[expect(clippy::cast_precision_loss, reason = "a count of readings at a bench")]
        let freedom = (self.readings_mm.len() - 1) as f64;
        Some(Length::from_mm((squares / freedom).sqrt()))
    }

    /// Springback of these rings, `(ID - D) / D` with the mean reading, as a share of one.
    ///
    /// # Units
    /// A plain share.
    /// # Validity
    /// Rings before closing.
    /// # Source
    /// Definition.
    pub fn springback_share(&self) -> f64 {
        let mandrel_mm = self.mandrel.diameter().mm();
        (self.mean().mm() - mandrel_mm) / mandrel_mm
    }

    pub(super) fn bend(&self) -> Bend {
        Bend::new(self.wire, self.mandrel)
    }

    pub(super) const fn resolution_mm(&self) -> f64 {
        self.resolution_mm
    }

    /// The day it was made, as an ISO date.
    pub fn tried_on(&self) -> Option<&str> {
        self.tried_on.as_deref()
    }

    /// Sum of squares of the readings about their mean, each over the mean diameter `ID + d`.
    pub(super) fn relative_scatter(&self) -> f64 {
        let mean_mm = self.mean().mm();
        let over = mean_mm + self.wire.diameter().mm();
        self.readings_mm.iter().map(|reading| ((reading - mean_mm) / over).powi(2)).sum()
    }
}
