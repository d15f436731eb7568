//! Masses as typed: grams, pennyweights, troy and avoirdupois by name.

use super::number::{Decimal, Found, Number, find};
use super::question::{Ask, Question, Reading};
use super::text::{plain, words};
use super::{
    G_PER_AVOIRDUPOIS_OUNCE, G_PER_CARAT, G_PER_GRAIN, G_PER_KILOGRAM, G_PER_PENNYWEIGHT,
    G_PER_POUND, G_PER_TOLA, G_PER_TROY_OUNCE, G_PER_TROY_POUND, Mass, QuantityError, Remark,
    Typed, Wanted,
};
use crate::limits::MASS;

/// Reads a mass as typed.
///
/// # Units
/// `12.5 g`, `2 kg`, `50 mg`, `24 gr` (grain), `3 dwt`, `1 ozt`, `1 troy oz`, `2 oz avdp`,
/// `1 lb avdp`, `1 troy lb`, `1 tola`, `2 metric carat`.
/// # Validity
/// Grams are kept to the last bit. A comma may stand for the point; before exactly three digits it
/// is asked about. Within [`MASS`].
/// # Errors
/// [`QuantityError::Unclear`] for a bare number, a bare ounce, pound or carat; other variants for
/// what is no mass.
/// # Source
/// Conversions: [`G_PER_TROY_OUNCE`] and its neighbours. Spellings: common practice, no source.
///
/// ```
/// use linkwright_calc::quantity::parse_mass;
/// assert_eq!(parse_mass("1 ozt").unwrap().value().g(), 31.1034768);
/// assert_eq!(parse_mass("12,5 g").unwrap().value().g(), 12.5);
/// assert_eq!(
///     parse_mass("1 oz").unwrap_err().to_string(),
///     "\u{201c}1 oz\u{201d} does not say troy or avoirdupois; type 1 ozt (31.1 g) or \
///      1 oz avdp (28.35 g)"
/// );
/// ```
pub fn parse_mass(text: &str) -> Result<Typed<Mass>, QuantityError> {
    let text = text.trim();
    let (g, remark) = match read(text, &plain(text, Wanted::Mass)?) {
        Err(QuantityError::Unclear(question)) => return Err(question.within(MASS)),
        read => read?,
    };
    MASS.check(g)?;
    Ok(Typed::new(text, Mass::from_g(g), remark))
}

/// What the words beside a number say of its unit of mass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum MassWord {
    /// One unit, in grams per one or in ones per gram.
    Known { unit: &'static str, g: f64 },
    /// Ounce, but not which.
    Ounce,
    /// Pound, but not which.
    Pound,
    /// Carat or karat.
    Carat,
}

const fn known(unit: &'static str, g: f64) -> MassWord {
    MassWord::Known { unit, g }
}

const TROY_OUNCE: MassWord = known("ozt", G_PER_TROY_OUNCE);
const AVOIRDUPOIS_OUNCE: MassWord = known("oz avdp", G_PER_AVOIRDUPOIS_OUNCE);
const TROY_POUND: MassWord = known("troy lb", G_PER_TROY_POUND);
const METRIC_CARAT: MassWord = known("metric carat", G_PER_CARAT);
const AVOIRDUPOIS_POUND: MassWord = known("lb avdp", G_PER_POUND);

/// Reads the words of a unit of mass; `None` if they are none.
pub(crate) fn mass_word(words: &[String]) -> Option<MassWord> {
    let has = |any: &[&str]| words.iter().any(|word| any.contains(&word.as_str()));
    let troy = has(&["troy", "t", "tr"]);
    let avoirdupois = has(&["avdp", "av", "avoirdupois"]);
    let rest: Vec<&str> = words
        .iter()
        .map(String::as_str)
        .filter(|word| !["troy", "t", "tr", "avdp", "av", "avoirdupois"].contains(word))
        .collect();
    let word = rest.join(" ");
    if words.len() - rest.len() > 1 {
        return None;
    }
    Some(match (word.as_str(), troy, avoirdupois) {
        ("g" | "gm" | "gms" | "gram" | "grams" | "gramme" | "grammes", false, false) => {
            known("g", 1.0)
        }
        ("kg" | "kgs" | "kilo" | "kilos" | "kilogram" | "kilograms", false, false) => {
            known("kg", G_PER_KILOGRAM)
        }
        ("mg" | "milligram" | "milligrams", false, false) => known("mg", 0.001),
        ("gr", false, false) => known("gr", G_PER_GRAIN),
        ("grain" | "grains", _, _) => known("grain", G_PER_GRAIN),
        ("dwt" | "pennyweight" | "pennyweights", _, false) => known("dwt", G_PER_PENNYWEIGHT),
        ("ozt", false, false) => TROY_OUNCE,
        ("oz" | "ounce" | "ounces", true, false) => TROY_OUNCE,
        ("oz" | "ounce" | "ounces", false, true) => AVOIRDUPOIS_OUNCE,
        ("oz" | "ounce" | "ounces", false, false) => MassWord::Ounce,
        ("lb" | "lbs" | "pound" | "pounds", true, false) => TROY_POUND,
        ("lb" | "lbs" | "pound" | "pounds", false, true) => AVOIRDUPOIS_POUND,
        ("lb" | "lbs" | "pound" | "pounds", false, false) => MassWord::Pound,
        ("tola" | "tolas", false, false) => known("tola", G_PER_TOLA),
        ("metric carat" | "metric carats", false, false) => METRIC_CARAT,
        ("ct" | "cts" | "carat" | "carats" | "k" | "kt" | "karat" | "karats", false, false) => {
            MassWord::Carat
        }
        _ => return None,
    })
}

impl MassWord {
    /// The named units it could be.
    pub(crate) const fn candidates(self) -> &'static [MassWord] {
        match self {
            MassWord::Ounce => &[TROY_OUNCE, AVOIRDUPOIS_OUNCE],
            MassWord::Pound => &[AVOIRDUPOIS_POUND, TROY_POUND],
            MassWord::Carat => &[METRIC_CARAT],
            MassWord::Known { .. } => &[],
        }
    }

    /// What to ask about it.
    pub(crate) const fn ask(self) -> Ask {
        match self {
            MassWord::Carat => Ask::Carat,
            MassWord::Ounce | MassWord::Pound => Ask::OunceOrPound,
            MassWord::Known { .. } => Ask::MassUnit,
        }
    }
}

fn read(text: &str, plain: &str) -> Result<(f64, Option<Remark>), QuantityError> {
    let not_understood =
        || QuantityError::NotUnderstood { text: text.to_owned(), wanted: Wanted::Mass };
    let Some(Found { before: "", number, after }) = find(plain) else {
        return Err(not_understood());
    };
    let words = words(after);
    if words.is_empty() {
        let units =
            [known("g", 1.0), known("dwt", G_PER_PENNYWEIGHT), TROY_OUNCE, AVOIRDUPOIS_OUNCE];
        return Err(unclear(text, Ask::MassUnit, &number, &units));
    }
    match mass_word(&words) {
        None => Err(QuantityError::UnknownUnit {
            text: text.to_owned(),
            unit: after.to_owned(),
            wanted: Wanted::Mass,
        }),
        Some(word @ MassWord::Known { unit, g }) => {
            if let Number::CommaOrThousands { .. } = &number {
                return Err(unclear(text, Ask::CommaOrThousands, &number, &[word]));
            }
            let number = value(text, &number)?;
            Ok((grams(unit, g, number), (unit == "gr").then_some(Remark::GrIsGrain)))
        }
        Some(MassWord::Carat) => Err(carat(text, &number)),
        Some(word) => Err(unclear(text, word.ask(), &number, word.candidates())),
    }
}

/// Milligrams divide by a whole number, so that 50 mg is the double nearest to 0.05 g.
fn grams(unit: &str, g: f64, number: f64) -> f64 {
    if unit == "mg" { number / 1000.0 } else { number * g }
}

fn value(text: &str, number: &Number) -> Result<f64, QuantityError> {
    match number {
        Number::Plain(decimal) => Ok(decimal.value),
        Number::CommaOrThousands { comma, .. } => Ok(comma.value),
        Number::Fraction { under: 0, .. } => {
            Err(QuantityError::DividedByNothing { text: text.to_owned() })
        }
        Number::Fraction { whole, over, under } => {
            Ok(f64::from(*whole) + f64::from(*over) / f64::from(*under))
        }
    }
}

/// A question with one reading for each unit, and two where a comma leaves the number open.
fn unclear(text: &str, ask: Ask, number: &Number, units: &[MassWord]) -> QuantityError {
    let numbers: Vec<Decimal> = match number {
        Number::Plain(decimal) => vec![decimal.clone()],
        Number::CommaOrThousands { comma, thousands } => vec![comma.clone(), thousands.clone()],
        Number::Fraction { .. } => match value(text, number) {
            Ok(value) => vec![Decimal { digits: value.to_string(), value }],
            Err(error) => return error,
        },
    };
    let mut readings = Vec::new();
    for word in units {
        for number in &numbers {
            if let MassWord::Known { unit, g } = *word {
                let typed = format!("{} {unit}", number.digits);
                readings.push(Reading::plain(typed, grams(unit, g, number.value), "g"));
            }
        }
    }
    QuantityError::Unclear(Question::new(text, ask, readings))
}

/// A bare carat: a stone's mass, or parts of gold, which is no mass at all.
pub(super) fn carat(text: &str, number: &Number) -> QuantityError {
    let number = match value(text, number) {
        Ok(number) => number,
        Err(error) => return error,
    };
    let mut readings = Vec::new();
    if (0.0..=24.0).contains(&number) {
        readings.push(Reading::new(
            "gold, as a fineness",
            format!("{number} karat"),
            number * 1000.0 / 24.0,
            "permille",
        ));
    }
    let typed = format!("{number} metric carat");
    match MASS.check(number * G_PER_CARAT) {
        Ok(g) => readings.push(Reading::new("a stone, as a mass", typed, g, "g")),
        Err(error) => return error.into(),
    }
    QuantityError::Unclear(Question::new(text, Ask::Carat, readings))
}
