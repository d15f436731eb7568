//! Pieces that were measured, typed or on record, and what they teach of the length.

use linkwright_answers::chain::{ChainAnswer, ChainAsked};
use linkwright_answers::refusal::Refusal;
use linkwright_calc::quantity::parse_count;
use linkwright_linkage::answer::{Correction, MeasuredPiece, Reading};
use linkwright_store::look;
use linkwright_web::record::measured_readings;

use super::Args;
use crate::failure::Failure;
use crate::typed;

/// What the measured pieces teach.
pub fn correction(
    args: &Args,
    asked: &ChainAsked,
    answered: &ChainAnswer,
) -> Result<Correction, Failure> {
    let mut readings = Vec::new();
    for text in &args.measured {
        readings.push(reading(text, answered)?);
    }
    if args.data.is_given() {
        readings.extend(look(&args.data.path()?, |view| {
            Ok::<_, Failure>(measured_readings(view, &asked.pattern)?)
        })?);
    }
    Ok(Correction::from_readings(&readings))
}

/// One piece as typed, such as `20=84.5mm`.
fn reading(text: &str, answered: &ChainAnswer) -> Result<Reading, Refusal> {
    let refuse = |said: &dyn std::fmt::Display| Refusal::bench("--measured", text, said);
    let (rings, length) = text.split_once('=').ok_or_else(|| {
        refuse(&"write the rings, \"=\", and their length pulled straight, such as 20=84.5mm")
    })?;
    let rings = parse_count(rings).map_err(|error| refuse(&error))?.value();
    let length = typed::length("--measured", length)?.value();
    let piece = MeasuredPiece { rings: u64::from(rings), length };
    answered.linked.reading(piece).map_err(|error| refuse(&error))
}
