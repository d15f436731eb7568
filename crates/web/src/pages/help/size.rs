//! "What is 18 awg?": a size in mm, inches and both gauges, or a question back.

use linkwright_answers::printout::{both_lengths, significant};
use linkwright_calc::gauge::nearest;
use linkwright_calc::quantity::{Length, QuantityError, parse_length};

/// What is said to a typed size.
pub(super) enum Said {
    /// It means one thing.
    Size(Vec<(&'static str, String)>),
    /// It could mean several: what to type instead, and what that is.
    Question(Vec<(String, String)>),
    /// It cannot be used.
    Refused(String),
}

/// Answers a size as typed.
pub(super) fn say(typed: &str) -> Said {
    match parse_length(typed) {
        Ok(length) => Said::Size(in_every_system(length.value())),
        Err(QuantityError::Unclear(question)) => {
            let readings = question.readings.into_iter();
            let readings = readings.map(|reading| {
                let size = reading.mm().map_or_else(
                    || format!("{} {}", significant(reading.value, 5), reading.unit),
                    both_lengths,
                );
                (reading.type_instead, size)
            });
            Said::Question(readings.collect())
        }
        Err(error) => Said::Refused(error.to_string()),
    }
}

fn in_every_system(length: Length) -> Vec<(&'static str, String)> {
    let near = nearest(length);
    let gauge = |gauge: linkwright_calc::gauge::Gauge, off_percent: f64| match gauge.diameter() {
        Ok(exact) => format!(
            "{gauge}, {} mm; the typed size is {off_percent:+.1} % off it",
            significant(exact.mm(), 4)
        ),
        Err(_) => "none near".to_owned(),
    };
    vec![
        ("size", both_lengths(length.mm())),
        ("nearest AWG", gauge(near.awg, near.awg_error_percent)),
        ("nearest British", gauge(near.british, near.british_error_percent)),
    ]
}
