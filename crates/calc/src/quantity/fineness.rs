//! Fineness: how much of an alloy is the precious metal.

use std::fmt;

use super::mass::carat;
use super::number::{Found, Number, find};
use super::question::{Ask, Question, Reading};
use super::share::per;
use super::text::{plain, words};
use super::{QuantityError, Remark, Typed, Wanted};
use crate::limits::{FINENESS, LimitError};

/// Parts of precious metal in a thousand parts by mass.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Fineness {
    permille: f64,
}

impl Fineness {
    /// Of so many parts in a thousand: 925 for sterling.
    ///
    /// # Units
    /// Parts per thousand by mass.
    /// # Validity
    /// Within [`FINENESS`].
    /// # Errors
    /// [`LimitError`] outside that range.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::quantity::Fineness;
    /// assert_eq!(Fineness::from_permille(925.0).unwrap().of_one(), 0.925);
    /// assert!(Fineness::from_permille(1001.0).is_err());
    /// ```
    pub fn from_permille(permille: f64) -> Result<Fineness, LimitError> {
        FINENESS.check(permille).map(|permille| Fineness { permille })
    }

    /// Of so many parts in twenty-four.
    ///
    /// # Units
    /// Parts of 24 by mass.
    /// # Validity
    /// By arithmetic: 14 karat is 583.3, though its mark says 585.
    /// # Errors
    /// [`LimitError`] above 24 karat.
    /// # Source
    /// One karat is a twenty-fourth part.
    ///
    /// ```
    /// use linkwright_calc::quantity::Fineness;
    /// assert_eq!(Fineness::from_karat(18.0).unwrap().permille(), 750.0);
    /// ```
    pub fn from_karat(karat: f64) -> Result<Fineness, LimitError> {
        Fineness::from_permille(karat * 1000.0 / 24.0)
    }

    /// Parts in a thousand.
    pub const fn permille(self) -> f64 {
        self.permille
    }

    /// Parts of one.
    ///
    /// # Units
    /// A plain number.
    /// # Validity
    /// From none to all.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::quantity::Fineness;
    /// assert_eq!(Fineness::from_permille(750.0).unwrap().of_one(), 0.75);
    /// ```
    pub const fn of_one(self) -> f64 {
        self.permille / 1000.0
    }
}

/// Every digit, so that the text read again gives the same value.
impl fmt::Display for Fineness {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} permille", self.permille)
    }
}

/// Reads a fineness as typed.
///
/// # Units
/// `925`, `925 permille`, `925/1000`, `92.5 %`, `14 k`, `14 kt`, `14 karat`.
/// # Validity
/// A bare number from 100 to 1000 is the mark, in parts per thousand. Karats are twenty-fourths;
/// where the mark is rounder, the remark says so.
/// # Errors
/// [`QuantityError::Unclear`] for a smaller bare number and for `ct` or carat, which is also the
/// mass of a stone; other variants for what is no fineness.
/// # Source
/// Marks 585 and 916: UK hallmark standards, Hallmarking Convention country page; 417: from
/// memory. Spellings: common practice, no source.
///
/// ```
/// use linkwright_calc::quantity::parse_fineness;
/// assert_eq!(parse_fineness("925").unwrap().value().permille(), 925.0);
/// let gold = parse_fineness("14 k").unwrap();
/// assert!((gold.value().permille() - 583.3333).abs() < 5e-5);
/// assert_eq!(
///     gold.remark().unwrap().to_string(),
///     "14 karat is reckoned as 14/24; the mark says 585"
/// );
/// assert!(parse_fineness("14 ct").unwrap_err().question().is_some());
/// ```
pub fn parse_fineness(text: &str) -> Result<Typed<Fineness>, QuantityError> {
    let text = text.trim();
    let plain = plain(text, Wanted::Fineness)?;
    let Some(Found { before: "", number, after }) = find(&plain) else {
        return Err(QuantityError::NotUnderstood {
            text: text.to_owned(),
            wanted: Wanted::Fineness,
        });
    };
    let unit = words(after).join(" ");
    if ["ct", "cts", "carat", "carats"].contains(&unit.as_str()) {
        return Err(carat(text, &number));
    }
    let is_karat = ["k", "kt", "karat", "karats"].contains(&unit.as_str());
    let number = match number {
        Number::Plain(decimal) => decimal.value,
        Number::Fraction { under: 0, .. } => {
            return Err(QuantityError::DividedByNothing { text: text.to_owned() });
        }
        Number::Fraction { whole, over, under } if unit.is_empty() => {
            let share = f64::from(whole) + f64::from(over) / f64::from(under);
            return Ok(Typed::new(text, Fineness::from_permille(share * 1000.0)?, None));
        }
        Number::Fraction { whole, over, under } => {
            f64::from(whole) + f64::from(over) / f64::from(under)
        }
        // Thousands of parts in a thousand are none.
        Number::CommaOrThousands { comma, .. } => comma.value,
    };
    if is_karat {
        let fineness = Fineness::from_karat(number)?;
        return Ok(Typed::new(text, fineness, rounder_mark(number)));
    }
    let permille = match (unit.as_str(), per(&unit)) {
        ("", _) if (100.0..=1000.0).contains(&number) => number,
        ("", _) => return Err(karat_or_permille(text, number)),
        (_, Some(whole)) => number * (1000.0 / whole),
        (_, None) => {
            let text = text.to_owned();
            return Err(QuantityError::UnknownUnit { text, unit, wanted: Wanted::Fineness });
        }
    };
    Ok(Typed::new(text, Fineness::from_permille(permille)?, None))
}

/// Karats whose stamped mark is not their arithmetic, with the mark. UK hallmark standards,
/// Hallmarking Convention country page (585, 916); from memory (417).
const ROUNDER_MARKS: [(f64, f64); 3] = [(10.0, 417.0), (14.0, 585.0), (22.0, 916.0)];

fn rounder_mark(karat: f64) -> Option<Remark> {
    let (karat, mark_permille) =
        ROUNDER_MARKS.into_iter().find(|(known, _)| (known - karat).abs() < 1e-9)?;
    Some(Remark::KaratByArithmetic { karat, mark_permille })
}

fn karat_or_permille(text: &str, number: f64) -> QuantityError {
    let karat = Fineness::from_karat(number)
        .map(|fineness| Reading::plain(format!("{number} karat"), fineness.permille(), "permille"));
    let share = Fineness::from_permille(number * 1000.0).map(|fineness| {
        Reading::plain(format!("{} permille", fineness.permille()), fineness.permille(), "permille")
    });
    let permille = match Fineness::from_permille(number) {
        Ok(_) => Reading::plain(format!("{number} permille"), number, "permille"),
        Err(error) => return error.into(),
    };
    let readings = [share.ok(), karat.ok(), Some(permille)].into_iter().flatten().collect();
    QuantityError::Unclear(Question::new(text, Ask::KaratOrPermille, readings))
}
