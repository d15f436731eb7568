//! What measured pieces teach: real chains correct the length that rigid rings give.
//!
//! A chain pulled by hand stops a little short of the greatest length, soft rings stretch beyond it,
//! and the rings in the jar are not quite those of the label. All of that is taken as one ratio of real
//! to worked-out advance. It has a prior, each piece is one reading of it, and normal beliefs multiply.

use linkwright_calc::basis::{Basis, Input};
use linkwright_calc::limits::{LENGTH, LimitError};
use linkwright_calc::quantity::Length;
use thiserror::Error;

use super::{Ends, Ground, Linked};

/// A piece of plain chain, pulled straight and measured over all.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredPiece {
    /// Rings of all sizes in it.
    pub rings: u64,
    /// Length over all, no clasp and no end rings.
    pub length: Length,
}

/// One reading of the ratio of real to worked-out advance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// The ratio.
    pub ratio: f64,
    /// Its standard deviation: rule, hand and rings.
    pub spread: f64,
}

/// Ratio of real to worked-out advance, as far as is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Correction {
    /// The ratio.
    pub ratio: f64,
    /// Its standard deviation.
    pub spread: f64,
    /// Measured pieces behind it.
    pub pieces: u32,
}

/// Why a measured piece says nothing about a chain.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum MeasuredError {
    /// Its length is no length.
    #[error(transparent)]
    Limit(#[from] LimitError),
    /// The rings do not go together, or the pattern is no chain.
    #[error(
        "there is no length to compare with: the pattern is no chain, or its rings do not link"
    )]
    NoLength,
    /// No rings.
    #[error(
        "a measured piece has at least {least} rings, one cell of the pattern; this one has {rings}"
    )]
    TooFewRings {
        /// Rings of the piece.
        rings: u64,
        /// Rings of a cell.
        least: u64,
    },
    /// Too far off to be this chain.
    #[error(
        "{rings} rings measure {measured_mm} mm, but these rings give {worked_out_mm:.1} mm: more than \
         {most_percent} % off, so it is another pattern, another ring, or a slip of the pen"
    )]
    AnotherChain {
        /// Rings of the piece.
        rings: u64,
        /// Length as measured.
        measured_mm: f64,
        /// Length worked out.
        worked_out_mm: f64,
        /// Difference beyond which a piece is refused.
        most_percent: f64,
    },
}

/// Spread of the ratio before anything was measured: 2 %, own judgement.
const PRIOR_SPREAD: f64 = 0.02;
/// How much a piece differs from the next of the same rings, for reasons of its own: 0.5 %, own
/// judgement.
const PIECE_SPREAD: f64 = 0.005;
/// What a length read off a rule is good for: 0.5 mm, own judgement.
const READ_SPREAD_MM: f64 = 0.5;
/// Difference beyond which a piece cannot be the chain it is said to be.
const MOST_OFF: f64 = 0.2;

impl Correction {
    /// Before anything was measured.
    pub const UNTRIED: Correction = Correction { ratio: 1.0, spread: PRIOR_SPREAD, pieces: 0 };

    /// What readings teach, of one pair of ring and wire or of several of the same pattern.
    ///
    /// Prior and readings are normal, so that precisions add:
    /// `1/s^2 = 1/s0^2 + sum 1/si^2`, and the ratio is the mean weighted by them.
    ///
    /// # Units
    /// Plain numbers.
    /// # Validity
    /// Readings independent of each other; the prior is 1 with a spread of 2 % (own judgement).
    /// # Source
    /// Product of normal densities; textbook statistics, from memory.
    ///
    /// ```
    /// use linkwright_linkage::answer::{Correction, Reading};
    /// assert_eq!(Correction::from_readings(&[]), Correction::UNTRIED);
    /// // A reading as good as the prior goes half the way.
    /// let half = Correction::from_readings(&[Reading { ratio: 0.98, spread: 0.02 }]);
    /// assert!((half.ratio - 0.99).abs() < 1e-12);
    /// assert!((half.spread - 0.02 / 2.0_f64.sqrt()).abs() < 1e-12);
    /// ```
    pub fn from_readings(readings: &[Reading]) -> Correction {
        let prior = (1.0 / (PRIOR_SPREAD * PRIOR_SPREAD), 1.0);
        let each = readings.iter().map(|r| (1.0 / (r.spread * r.spread), r.ratio));
        let (mut precision, mut weighted) = (0.0, 0.0);
        for (weight, ratio) in std::iter::once(prior).chain(each) {
            precision += weight;
            weighted += weight * ratio;
        }
        Correction {
            ratio: weighted / precision,
            spread: 1.0 / precision.sqrt(),
            pieces: u32::try_from(readings.len()).unwrap_or(u32::MAX),
        }
    }

    fn applied(&self, worked_out: Length) -> Length {
        Length::from_mm(worked_out.mm() * self.ratio)
    }

    /// Tried, with the number of pieces, or assumed while there are none.
    pub fn basis(&self) -> Basis {
        if self.pieces == 0 {
            Basis::assumed("no piece measured yet: the length worked out, within 2 %")
        } else {
            Basis::tried(self.pieces)
        }
    }
}

impl Linked {
    /// What a measured piece of this chain says about the ratio of real to worked-out advance.
    ///
    /// The overhang of the ends is taken off both lengths first, so that short and long pieces agree.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// A piece of these rings and this pattern, without clasp and end rings, pulled straight.
    /// # Errors
    /// [`MeasuredError`] if there is no length to compare with, or the piece is so far off that it must
    /// be another chain.
    /// # Source
    /// Own model; `docs/theory/chain.md`, section 9.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, wire::Wire};
    /// use linkwright_linkage::answer::{answer, ClosedRing, Correction, MeasuredPiece};
    /// use linkwright_linkage::{pattern::{craft, Pattern}, solve::{Patient, Search}};
    /// let mm = Length::from_mm;
    /// let ring = ClosedRing::new(Wire::new(mm(1.0)).unwrap(), mm(4.0)).unwrap();
    /// let cable = Pattern::new(craft::named("cable_1in1").unwrap()).unwrap();
    /// let linked = answer(&cable, &[ring], Search::default(), &mut Patient).unwrap();
    /// // Twenty rings should give 82 mm; they measure 81.2 mm, one per cent of 80 mm less.
    /// let piece = MeasuredPiece { rings: 20, length: mm(81.2) };
    /// let reading = linked.reading(piece).unwrap();
    /// assert!((reading.ratio - 0.99).abs() < 1e-4);
    /// let correction = Correction::from_readings(&[reading]);
    /// let corrected = linked.corrected(&correction);
    /// let advance_mm = corrected.taut.as_ref().unwrap().advance.mm();
    /// assert!(advance_mm < 4.0 && advance_mm > 3.96);
    /// ```
    pub fn reading(&self, piece: MeasuredPiece) -> Result<Reading, MeasuredError> {
        let measured_mm = LENGTH.named("measured_length_mm").check(piece.length.mm())?;
        let least = self.rings_per_cell.iter().sum::<usize>() as u64;
        if piece.rings < least {
            return Err(MeasuredError::TooFewRings { rings: piece.rings, least });
        }
        let worked_out = self.length_of_rings(piece.rings, &Ends::NONE);
        let overhang = self.taut.as_ref().and_then(|taut| taut.overhang);
        let (Some(worked_out), Some(overhang)) = (worked_out, overhang) else {
            return Err(MeasuredError::NoLength);
        };
        let own_mm = worked_out.mm() - overhang.mm();
        let ratio = (measured_mm - overhang.mm()) / own_mm;
        if (ratio - 1.0).abs() > MOST_OFF {
            return Err(MeasuredError::AnotherChain {
                rings: piece.rings,
                measured_mm,
                worked_out_mm: worked_out.mm(),
                most_percent: 100.0 * MOST_OFF,
            });
        }
        Ok(Reading { ratio, spread: PIECE_SPREAD.hypot(READ_SPREAD_MM / own_mm) })
    }

    /// The same answer with its advance corrected; its tolerance is then twice the spread.
    ///
    /// Without measured pieces nothing changes.
    ///
    /// # Units
    /// As the answer.
    /// # Validity
    /// Width and thickness are left as worked out. For a sheet both advances are corrected alike.
    /// # Source
    /// Ratio times worked-out advance.
    pub fn corrected(&self, correction: &Correction) -> Linked {
        let mut linked = self.clone();
        if correction.pieces > 0
            && let Some(taut) = &mut linked.taut
        {
            taut.advance = correction.applied(taut.advance);
            taut.across = taut.across.map(|across| correction.applied(across));
            taut.within = 2.0 * correction.spread;
            taut.ground = Ground::Measured { pieces: correction.pieces };
            linked.correction = Some(*correction);
        }
        linked
    }

    /// What measured pieces taught, where they corrected the answer.
    pub const fn correction(&self) -> Option<Correction> {
        self.correction
    }

    /// The sum behind a corrected length, or `None` if nothing was measured.
    pub(super) fn corrected_basis(&self) -> Option<Basis> {
        let correction = self.correction.as_ref()?;
        let worked_out = self.worked_out_basis();
        Some(Basis::worked_out(
            "length = length of touching rigid rings x ratio of measured to worked-out pieces",
            "own model, docs/theory/chain.md, section 9",
            vec![
                Input::new("ratio", correction.ratio, "-", correction.basis()),
                Input::new("aspect ratio", self.aspect_ratio, "-", worked_out),
            ],
        ))
    }
}

#[cfg(test)]
mod tests {
    use linkwright_calc::quantity::Length;
    use linkwright_calc::wire::Wire;
    use proptest::prelude::{prop_assert, proptest};

    use super::{Correction, MeasuredPiece, Reading};
    use crate::answer::{ClosedRing, Ends, Ground, Linked, answer};
    use crate::pattern::{Pattern, craft};
    use crate::solve::{Patient, Search};

    fn ask(name: &str) -> Linked {
        let wire = Wire::new(Length::from_mm(1.2)).expect("within limits");
        let ring = ClosedRing::new(wire, Length::from_mm(6.0)).expect("within limits");
        let pattern = Pattern::new(craft::named(name).expect("known")).expect("valid");
        answer(&pattern, &[ring], Search { starts: 2, seed: 1 }, &mut Patient).expect("answered")
    }

    #[test]
    fn many_pieces_of_one_ratio_are_believed() {
        let linked = ask("byzantine");
        let pieces = [60, 120, 240].map(|rings| {
            let worked_out = linked.length_of_rings(rings, &Ends::NONE).expect("a chain").mm();
            let overhang = linked.taut.as_ref().expect("taut").overhang.expect("a chain").mm();
            let length = Length::from_mm((worked_out - overhang) * 0.985 + overhang);
            linked.reading(MeasuredPiece { rings, length }).expect("a fair piece")
        });
        let correction = Correction::from_readings(&pieces.repeat(30));
        assert!((correction.ratio - 0.985).abs() < 1e-4, "{}", correction.ratio);
        assert!(correction.spread < 0.001 && correction.pieces == 90);
        let corrected = linked.corrected(&correction);
        let taut = corrected.taut.as_ref().expect("taut");
        assert_eq!(taut.ground, Ground::Measured { pieces: 90 });
        assert!(corrected.basis().to_string().contains("measured"), "{}", corrected.basis());
    }

    #[test]
    fn nothing_measured_changes_nothing() {
        let linked = ask("double_2in2");
        assert_eq!(linked.corrected(&Correction::UNTRIED), linked);
        assert_eq!(Correction::UNTRIED.basis().word(), "assumed");
    }

    #[test]
    fn a_piece_of_another_chain_is_refused_with_both_lengths() {
        let linked = ask("double_2in2");
        let piece = |rings, mm| MeasuredPiece { rings, length: Length::from_mm(mm) };
        let message = linked.reading(piece(20, 20.0)).expect_err("far off").to_string();
        assert!(message.starts_with("20 rings measure 20 mm, but these rings give"), "{message}");
        let message = linked.reading(piece(1, 7.0)).expect_err("half a cell").to_string();
        assert!(message.contains("at least 2 rings"), "{message}");
        let message = linked.reading(piece(20, f64::NAN)).expect_err("no length").to_string();
        assert!(message.contains("measured_length_mm"), "{message}");
        let sheet = ask("european_4in1_sheet");
        assert!(sheet.reading(piece(20, 60.0)).is_err());
    }

    proptest! {
        #[test]
        fn the_ratio_lies_between_prior_and_readings(
            readings in proptest::collection::vec((0.85..1.15, 0.002..0.05), 1..9),
        ) {
            let readings: Vec<Reading> =
                readings.iter().map(|&(ratio, spread)| Reading { ratio, spread }).collect();
            let correction = Correction::from_readings(&readings);
            let low = readings.iter().map(|r| r.ratio).fold(1.0, f64::min);
            let high = readings.iter().map(|r| r.ratio).fold(1.0, f64::max);
            prop_assert!(correction.ratio >= low - 1e-12 && correction.ratio <= high + 1e-12);
            prop_assert!(correction.spread < Correction::UNTRIED.spread);
        }
    }
}
