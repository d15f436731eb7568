//! The words that make a number a gauge, and which gauge.

use super::question::{Ask, Question, Reading};
use super::{QuantityError, Remark};
use crate::gauge::{Gauge, GaugeSystem, american_steel_diameter};

/// What the words beside a number say of its gauge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum GaugeWords {
    /// AWG, B&S.
    Awg,
    /// SWG, British.
    British,
    /// The American steel wire gauge, named as such.
    AmericanSteel,
    /// A gauge, but not which.
    Unnamed,
}

/// Reads the words beside a number; `None` if they are not about gauges.
pub(super) fn gauge_words(words: &[String]) -> Option<GaugeWords> {
    let joined = words.join(" ").replace("b & s", "b&s").replace("b and s", "b&s");
    let joined = joined.replace('#', "# ");
    let words: Vec<&str> = joined.split_whitespace().collect();
    let has = |any: &[&str]| words.iter().any(|word| any.contains(word));
    const AWG: &[&str] = &["awg", "b&s"];
    const SWG: &[&str] = &["swg"];
    const BRITISH: &[&str] = &["british", "imperial", "uk"];
    const AMERICAN: &[&str] = &["american", "us"];
    const STEEL: &[&str] = &["steel"];
    const NUMBER: &[&str] = &["#", "no", "nr", "number", "ga", "gauge", "gage", "g"];
    const OTHER: &[&str] = &["wire", "standard"];
    let known = [AWG, SWG, BRITISH, AMERICAN, STEEL, NUMBER, OTHER];
    let about_gauges = has(AWG) || has(SWG) || has(NUMBER) || (has(BRITISH) && has(OTHER));
    if !about_gauges || !words.iter().all(|word| known.iter().any(|set| set.contains(word))) {
        return None;
    }
    Some(match (has(AWG), has(SWG) || has(BRITISH), has(AMERICAN), has(STEEL)) {
        (true, false, _, false) => GaugeWords::Awg,
        (false, false, true, false) => GaugeWords::Awg,
        (false, true, false, false) => GaugeWords::British,
        (false, false, true, true) => GaugeWords::AmericanSteel,
        (false, true, true, _) if !has(BRITISH) => GaugeWords::AmericanSteel,
        _ => GaugeWords::Unnamed,
    })
}

/// A gauge number from digits as typed: `18`, `00`, `0000`.
pub(super) fn number_of_digits(digits: &str) -> Option<i64> {
    if digits.is_empty() || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    if digits.bytes().all(|byte| byte == b'0') {
        return Some(1 - i64::try_from(digits.len()).ok()?);
    }
    digits.parse().ok()
}

/// The gauge a number and its words stand for.
pub(super) fn gauge(
    text: &str,
    words: GaugeWords,
    number: i64,
) -> Result<(Gauge, Option<Remark>), QuantityError> {
    match words {
        GaugeWords::Awg => Ok((GaugeSystem::Awg.gauge(number)?, None)),
        GaugeWords::British => {
            let gauge = GaugeSystem::BritishStandard.gauge(number)?;
            Ok((gauge, Some(Remark::SwgIsBritish { number: gauge.number() })))
        }
        GaugeWords::Unnamed | GaugeWords::AmericanSteel => {
            let readings = readings(number);
            if readings.is_empty() {
                // Neither system has it; the longer one says so.
                GaugeSystem::Awg.gauge(number)?;
            }
            Err(QuantityError::Unclear(Question::new(text, Ask::GaugeSystem, readings)))
        }
    }
}

/// What a gauge number could be, in every system that has it.
pub(super) fn readings(number: i64) -> Vec<Reading> {
    let mut readings = Vec::new();
    for (system, word) in [(GaugeSystem::Awg, "awg"), (GaugeSystem::BritishStandard, "swg")] {
        if let Ok(gauge) = system.gauge(number)
            && let Ok(diameter) = gauge.diameter()
        {
            let noughts = usize::try_from(1 - number).unwrap_or(0);
            let typed =
                if number < 0 { format!("{noughts}/0 {word}") } else { format!("{number} {word}") };
            readings.push(Reading::new(gauge.to_string(), typed, diameter.mm(), "mm"));
        }
    }
    if let Some(steel) = i8::try_from(number).ok().and_then(american_steel_diameter) {
        let label = format!("{number} American steel wire gauge");
        readings.push(Reading::new(label, steel.to_string(), steel.mm(), "mm"));
    }
    readings
}
