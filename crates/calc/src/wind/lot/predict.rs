//! The ring a lot will give on a mandrel, with its 80 % range.

use std::fmt;

use super::fit::{FEW, LotFit, normal_below, quantile};
use super::share::Bend;
use crate::basis::{Answer, Basis, Caution, Input};
use crate::limits::{INSIDE_DIAMETER, LimitError, MANDREL_DIAMETER};
use crate::quantity::Length;
use crate::wind::Mandrel;
use crate::wind::root::rising_root;
use crate::wire::Wire;

/// Below this mean diameter over wire diameter a coil is hard to wind and may crack: general
/// engineering advice on springs, text seen.
const TIGHT_INDEX: f64 = 3.0;
/// Above this yield share the section is so far elastic that the ring moves with little things.
const SPRINGY: f64 = 0.5;

/// How a prediction stands to what was tried.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// This wire was wound on this mandrel.
    Tried {
        /// Coils on this mandrel.
        trials: u32,
    },
    /// Between tried mandrels.
    Interpolated {
        /// Coils in all.
        trials: u32,
    },
    /// Beyond the tried mandrels.
    Extrapolated {
        /// Coils in all.
        trials: u32,
    },
    /// Nothing of this lot was tried: the metal's table.
    Untried,
}

impl fmt::Display for Reach {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (word, trials) = match *self {
            Reach::Tried { trials } => ("tried here", trials),
            Reach::Interpolated { trials } => ("interpolated", trials),
            Reach::Extrapolated { trials } => ("extrapolated", trials),
            Reach::Untried => return f.write_str("not tried"),
        };
        let plural = if trials == 1 { "trial" } else { "trials" };
        write!(f, "{word}, {trials} {plural}")
    }
}

/// A ring to expect from the next coil, open as it comes off the mandrel.
#[derive(Clone, Debug, PartialEq)]
pub struct PredictedRing {
    /// Inside diameter to expect.
    pub inside_diameter: Length,
    /// Low end of the range that holds four rings of five.
    pub low: Length,
    /// High end; none if in one case of ten the wire would take no set at all.
    pub high: Option<Length>,
    /// How this stands to what was tried.
    pub reach: Reach,
    bend: Bend,
    /// Weight, mean and standard deviation of `ln q_e`, ring scatter included.
    parts: Vec<(f64, f64, f64)>,
}

impl PredictedRing {
    /// Chance that a ring lies between two inside diameters, by the same beliefs as the range.
    ///
    /// # Units
    /// Lengths; a share of one.
    /// # Validity
    /// One ring of the next coil, as it is and not as it reads.
    /// # Source
    /// As [`LotFit::new`].
    ///
    /// ```
    /// use linkwright_calc::metal::{Band, Verified};
    /// use linkwright_calc::quantity::Length;
    /// use linkwright_calc::wind::{LotFit, LotPrior, Mandrel, WireState};
    /// use linkwright_calc::wire::Wire;
    /// let band = Band::new([0.0049, 0.0055, 0.0062], "metals table", Verified::Estimated).unwrap();
    /// let prior = LotPrior::from_bands(&band, None, WireState::AsBought).unwrap();
    /// let wire = Wire::new(Length::from_mm(0.81)).unwrap();
    /// let mandrel = Mandrel::new(Length::from_mm(3.0)).unwrap();
    /// let ring = LotFit::new(&prior, &[]).predict(wire, mandrel).unwrap().value;
    /// let chance = ring.chance_between(ring.low, ring.high.unwrap());
    /// assert!((chance - 0.8).abs() < 1e-9);
    /// ```
    pub fn chance_between(&self, low: Length, high: Length) -> f64 {
        (self.chance_below(high.mm()) - self.chance_below(low.mm())).max(0.0)
    }

    fn chance_below(&self, inside_mm: f64) -> f64 {
        // No ratio gives a ring as small as the mandrel, or smaller.
        self.bend.log_ratio(inside_mm).map_or(0.0, |log| {
            self.parts
                .iter()
                .map(|(weight, mean, sd)| weight * normal_below((log - mean) / sd))
                .sum()
        })
    }
}

impl LotFit {
    /// The ring to expect on a mandrel, tried or not; none if the wire would take no set on it.
    ///
    /// `ID + d = (D + d)/(1 - (16/(3 pi)) A(u))`, with `u` and `A` of [`LotFit::new`]. The range
    /// holds one ring of the next coil: what is not known of the lot, the scatter of coils, and
    /// the scatter of rings, whose part is put on `ln q` by the slope at the middle.
    ///
    /// # Units
    /// Lengths.
    /// # Validity
    /// The wire as in the trials; `D/d` beyond those tried is marked, and so is a tight coil.
    /// # Source
    /// As [`LotFit::new`].
    ///
    /// ```
    /// use linkwright_calc::metal::{Band, Verified};
    /// use linkwright_calc::quantity::Length;
    /// use linkwright_calc::wind::{LotFit, LotPrior, Mandrel, Reach, RingTrial, WireState};
    /// use linkwright_calc::wire::Wire;
    /// let band = Band::new([0.0049, 0.0055, 0.0062], "metals table", Verified::Estimated).unwrap();
    /// let prior = LotPrior::from_bands(&band, None, WireState::AsBought).unwrap();
    /// let wire = Wire::new(Length::from_mm(0.81)).unwrap();
    /// let rod = |mm| Mandrel::new(Length::from_mm(mm)).unwrap();
    /// let read = [3.16, 3.17, 3.18].map(Length::from_mm);
    /// let trial = RingTrial::new(wire, rod(3.0), &read, Length::from_mm(0.01)).unwrap();
    /// let lot = LotFit::new(&prior, &[trial]);
    /// let ring = lot.predict(wire, rod(3.5)).unwrap().value;
    /// assert!((ring.inside_diameter.mm() - 3.72).abs() < 0.01);
    /// assert_eq!(ring.reach, Reach::Extrapolated { trials: 1 });
    /// ```
    pub fn predict(&self, wire: Wire, mandrel: Mandrel) -> Option<Answer<PredictedRing>> {
        let bend = Bend::new(wire, mandrel);
        let middle = self.middle(bend);
        let inside_mm = bend.inside_mm(middle)?;
        // dID/d ln q, from the share's slopes on either.
        let ring_slope = bend.share_at(middle).1 / bend.share_slope(inside_mm);
        let ring_mm = self.ring_scatter * (inside_mm + bend.d_mm);
        let parts: Vec<(f64, f64, f64)> = self
            .parts
            .iter()
            .map(|part| {
                let (weight, mean, variance) = part.next_coil(bend);
                (weight, mean, (variance + (ring_mm / ring_slope).powi(2)).sqrt())
            })
            .collect();
        let end = |level| {
            let standardised = |x: f64| {
                parts.iter().map(|&(weight, mean, sd)| (weight, (x - mean) / sd)).collect()
            };
            bend.inside_mm(quantile(level, &standardised, middle))
        };
        let low = Length::from_mm(end(0.1)?);
        let high = end(0.9).map(Length::from_mm);
        let reach = self.reach(bend);
        Some(Answer {
            basis: self.ring_basis(bend, reach),
            cautions: self.ring_cautions(bend, middle, reach),
            value: PredictedRing {
                inside_diameter: Length::from_mm(inside_mm),
                low,
                high,
                reach,
                bend,
                parts,
            },
        })
    }

    /// The rod that would give a wanted inside diameter by this lot; none if none would.
    ///
    /// # Units
    /// Lengths.
    /// # Validity
    /// As [`LotFit::predict`].
    /// # Errors
    /// [`LimitError`] naming `coil_inside_diameter_mm`.
    /// # Source
    /// Inverse of [`LotFit::predict`].
    ///
    /// ```
    /// use linkwright_calc::metal::{Band, Verified};
    /// use linkwright_calc::quantity::Length;
    /// use linkwright_calc::wind::{LotFit, LotPrior, WireState};
    /// use linkwright_calc::wire::Wire;
    /// let band = Band::new([0.0049, 0.0055, 0.0062], "metals table", Verified::Estimated).unwrap();
    /// let prior = LotPrior::from_bands(&band, None, WireState::AsBought).unwrap();
    /// let wire = Wire::new(Length::from_mm(0.81)).unwrap();
    /// let lot = LotFit::new(&prior, &[]);
    /// let rod = lot.rod_for(wire, Length::from_mm(3.5)).unwrap().unwrap();
    /// let ring = lot.predict(wire, rod).unwrap().value.inside_diameter;
    /// assert!((ring.mm() - 3.5).abs() < 1e-9);
    /// ```
    pub fn rod_for(
        &self,
        wire: Wire,
        coil_inside_diameter: Length,
    ) -> Result<Option<Mandrel>, LimitError> {
        let wanted_mm =
            INSIDE_DIAMETER.named("coil_inside_diameter_mm").check(coil_inside_diameter.mm())?;
        let d_mm = wire.diameter().mm();
        // The ring grows with the rod; a rod on which the wire takes no set gives one without end.
        let off = |mandrel_mm: f64| {
            let bend = Bend { d_mm, mean_mm: mandrel_mm + d_mm };
            bend.inside_mm(self.middle(bend)).map_or(f64::MAX, |inside_mm| inside_mm - wanted_mm)
        };
        let (least, most) = (MANDREL_DIAMETER.low, wanted_mm);
        if off(least) > 0.0 || off(most) < 0.0 {
            return Ok(None);
        }
        let rod = Mandrel::new(Length::from_mm(rising_root(least, most, off)))?;
        Ok(Some(rod))
    }

    /// Mean of `ln q_e` over all parts.
    fn middle(&self, bend: Bend) -> f64 {
        self.parts
            .iter()
            .map(|part| part.next_coil(bend))
            .map(|(weight, mean, _)| weight * mean)
            .sum()
    }

    fn reach(&self, bend: Bend) -> Reach {
        let same = |a: f64, b: f64| (a / b - 1.0).abs() < 1e-6;
        let here = self
            .tried
            .iter()
            .filter(|tried| same(tried.mean_mm, bend.mean_mm) && same(tried.d_mm, bend.d_mm))
            .count();
        let index = bend.mean_mm / bend.d_mm;
        let (low, high) = self.tried_index();
        if self.tried.is_empty() {
            Reach::Untried
        } else if here > 0 {
            Reach::Tried { trials: u32::try_from(here).unwrap_or(u32::MAX) }
        } else if low <= index && index <= high {
            Reach::Interpolated { trials: self.trials() }
        } else {
            Reach::Extrapolated { trials: self.trials() }
        }
    }

    /// Smallest and largest `(D + d)/d` tried.
    fn tried_index(&self) -> (f64, f64) {
        self.tried
            .iter()
            .map(|bend| bend.mean_mm / bend.d_mm)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), index| {
                (low.min(index), high.max(index))
            })
    }

    fn ring_basis(&self, bend: Bend, reach: Reach) -> Basis {
        match reach {
            Reach::Tried { trials } => Basis::Tried { trials, last: self.last.clone() },
            Reach::Interpolated { .. } | Reach::Extrapolated { .. } | Reach::Untried => {
                let measured = |name, mm| Input::new(name, mm, "mm", Basis::assumed("as given"));
                Basis::worked_out(
                    "inside diameter + wire = (mandrel + wire) / (1 - 1.70 x flow ratio x (mandrel \
                     + wire) / wire), less for the elastic core",
                    "elastic springback of a plastic bend, own derivation; flow ratio of the lot",
                    vec![
                        self.as_input(),
                        measured("mandrel diameter", bend.mean_mm - bend.d_mm),
                        measured("wire diameter", bend.d_mm),
                    ],
                )
            }
        }
    }

    fn ring_cautions(&self, bend: Bend, middle: f64, reach: Reach) -> Vec<Caution> {
        let mut cautions = self.cautions();
        if let Reach::Tried { trials } = reach
            && trials < FEW
            && self.trials() >= FEW
        {
            cautions.push(Caution::FewTrials { trials });
        }
        let index = bend.mean_mm / bend.d_mm;
        if let Reach::Extrapolated { .. } = reach {
            let (low, high) = self.tried_index();
            cautions.push(Caution::OutsideTriedRange {
                quantity: "mandrel over wire diameter",
                given: index - 1.0,
                low: low - 1.0,
                high: high - 1.0,
                unit: "-",
            });
        }
        if index < TIGHT_INDEX {
            cautions.push(Caution::Note(format!(
                "tight coil: the mean diameter is {index:.1} times the wire; under 3 it is hard to \
                 wind and may crack"
            )));
        }
        if bend.yield_share(middle) > SPRINGY {
            cautions.push(Caution::Note(
                "springy coil: much of the wire stays elastic, so small differences in the wire \
                 move the ring much; wind one and measure"
                    .to_owned(),
            ));
        }
        cautions
    }
}
