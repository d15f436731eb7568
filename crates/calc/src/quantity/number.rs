//! Numbers as people write them: points, commas, fractions.

/// A number found in typed text, with what stands before and after it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Found<'a> {
    pub before: &'a str,
    pub number: Number,
    pub after: &'a str,
}

/// A number as written.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Number {
    /// Digits with at most one point, as in `-12.50`; an exponent stays in.
    Plain(Decimal),
    /// `1,250`: one and a quarter, or twelve hundred and fifty?
    CommaOrThousands { comma: Decimal, thousands: Decimal },
    /// `1 1/4`, `3/16`; also the gauge `4/0`.
    Fraction { whole: u32, over: u32, under: u32 },
}

/// A number in plain digits, such as `-1250.5`.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Decimal {
    pub digits: String,
    pub value: f64,
}

impl Decimal {
    /// The number times a ratio of whole numbers, as the double nearest to the exact product
    /// where the digits fit one: `0.040` times 127/5 is 1.016 to the last bit.
    pub(crate) fn times(&self, over: u32, under: u32) -> f64 {
        self.times_exactly(over, under)
            .unwrap_or_else(|| self.value * f64::from(over) / f64::from(under))
    }

    fn times_exactly(&self, over: u32, under: u32) -> Option<f64> {
        let (whole, part) = self.digits.split_once('.').unwrap_or((&self.digits, ""));
        let digits: u64 = format!("{whole}{part}").parse().ok()?;
        let decimals = u32::try_from(part.len()).ok()?;
        let top = exact(digits.checked_mul(u64::from(over))?)?;
        let bottom = exact(10_u64.checked_pow(decimals)?.checked_mul(u64::from(under))?)?;
        Some(top / bottom)
    }
}

/// A whole number that a double holds exactly.
fn exact(whole: u64) -> Option<f64> {
    let high = u32::try_from(whole >> 32).ok().filter(|high| *high < 1 << 21)?;
    let low = u32::try_from(whole & 0xffff_ffff).ok()?;
    Some(f64::from(high) * 4_294_967_296.0 + f64::from(low))
}

/// `whole over/under` times a ratio of whole numbers; the parts are typed, so they are small.
pub(crate) fn fraction_times(parts: (u32, u32, u32), over: u32, under: u32) -> f64 {
    let (whole, numerator, denominator) = parts;
    let top = u64::from(whole) * u64::from(denominator) + u64::from(numerator);
    let exactly = top
        .checked_mul(u64::from(over))
        .and_then(exact)
        .zip(u64::from(denominator).checked_mul(u64::from(under)).and_then(exact))
        .map(|(top, bottom)| top / bottom);
    exactly.unwrap_or_else(|| {
        (f64::from(whole) + f64::from(numerator) / f64::from(denominator)) * f64::from(over)
            / f64::from(under)
    })
}

/// The first number of a plain text; `None` if there is none or it cannot be read.
pub(crate) fn find(text: &str) -> Option<Found<'_>> {
    let start = start(text)?;
    let digits_at = start + usize::from(text[start..].starts_with(['+', '-']));
    let run = run(&text[digits_at..], |letter| letter.is_ascii_digit() || ".,".contains(letter));
    let sign = if text[start..].starts_with('-') { "-" } else { "" };
    let rest = &text[digits_at + run.len()..];
    let before = text[..start].trim();
    if let Some((fraction, after)) = fraction(run, rest) {
        // A fraction below nothing is a slip of the hand.
        return (sign.is_empty()).then_some(Found {
            before,
            number: fraction,
            after: after.trim(),
        });
    }
    let (exponent, after) = exponent(rest);
    let number = plain(sign, run, exponent)?;
    Some(Found { before, number, after: after.trim() })
}

/// Where the first number starts, its sign included.
fn start(text: &str) -> Option<usize> {
    let bytes = text.as_bytes();
    let digit = bytes.iter().position(u8::is_ascii_digit)?;
    let is = |at: usize, signs: &[u8]| signs.contains(&bytes[at]);
    let mut start = digit;
    if start > 0 && is(start - 1, b".,") {
        start -= 1;
    }
    // A sign counts at the start of a word: `-5`, but not the dash of `no-5`.
    if start > 0 && is(start - 1, b"+-") && (start == 1 || is(start - 2, b" ")) {
        start -= 1;
    }
    Some(start)
}

fn run(text: &str, belongs: impl Fn(char) -> bool) -> &str {
    let end = text.find(|letter| !belongs(letter)).unwrap_or(text.len());
    &text[..end]
}

/// `3/16` or `1 1/4` or `1-1/4`, given the first run of digits and what follows it.
fn fraction<'a>(first: &str, rest: &'a str) -> Option<(Number, &'a str)> {
    let digits = |text: &'a str| run(text, |letter| letter.is_ascii_digit());
    let (whole, over, under) = if let Some(under) = rest.strip_prefix('/') {
        ("0", first, under)
    } else {
        let second = rest.strip_prefix([' ', '-'])?;
        let over = digits(second);
        (first, over, second[over.len()..].strip_prefix('/')?)
    };
    let number = Number::Fraction {
        whole: whole.parse().ok()?,
        over: over.parse().ok()?,
        under: digits(under).parse().ok()?,
    };
    Some((number, &under[digits(under).len()..]))
}

/// `e-3` and what follows it.
fn exponent(rest: &str) -> (&str, &str) {
    let Some(after_e) = rest.strip_prefix('e') else { return ("", rest) };
    let unsigned = after_e.strip_prefix(['+', '-']).unwrap_or(after_e);
    let digits = run(unsigned, |letter| letter.is_ascii_digit());
    if digits.is_empty() {
        return ("", rest);
    }
    rest.split_at(rest.len() - unsigned.len() + digits.len())
}

fn plain(sign: &str, run: &str, exponent: &str) -> Option<Number> {
    let decimal = |digits: &str| {
        let digits = format!("{sign}{digits}{exponent}");
        let value = digits.parse().ok()?;
        Some(Decimal { digits, value })
    };
    if run.ends_with(',') {
        return None;
    }
    let (commas, points) = (run.matches(',').count(), run.matches('.').count());
    match (commas, points) {
        (0, 0 | 1) => Some(Number::Plain(decimal(run)?)),
        (1, 0) => {
            let comma = decimal(&run.replace(',', "."))?;
            if grouped(run, ',') {
                let thousands = decimal(&run.replace(',', ""))?;
                return Some(Number::CommaOrThousands { comma, thousands });
            }
            Some(Number::Plain(comma))
        }
        (_, 0) => grouped(run, ',').then(|| decimal(&run.replace(',', "")))?.map(Number::Plain),
        (0, _) => grouped(run, '.').then(|| decimal(&run.replace('.', "")))?.map(Number::Plain),
        _ => {
            // Both signs: the last one is the decimal sign, the other one groups.
            let (group, last) =
                if run.rfind(',') > run.rfind('.') { ('.', ',') } else { (',', '.') };
            let (whole, part) = run.rsplit_once(last)?;
            let digits = format!("{}.{part}", whole.replace(group, ""));
            grouped(whole, group).then(|| decimal(&digits))?.map(Number::Plain)
        }
    }
}

/// Whether the digits stand in groups of three, the first of one to three not starting with 0.
fn grouped(digits: &str, sign: char) -> bool {
    let mut groups = digits.split(sign);
    let first = groups.next().unwrap_or_default();
    (1..=3).contains(&first.len())
        && !first.starts_with('0')
        && groups.all(|group| group.len() == 3 && group.bytes().all(|byte| byte.is_ascii_digit()))
}

#[cfg(test)]
mod tests {
    use super::{Number, find};

    fn value(text: &str) -> Option<f64> {
        match find(text)?.number {
            Number::Plain(decimal) => Some(decimal.value),
            _ => None,
        }
    }

    #[test]
    fn points_and_commas_are_read_where_only_one_reading_exists() {
        for (text, wanted) in [
            ("1.02", Some(1.02)),
            (".040", Some(0.04)),
            ("5.", Some(5.0)),
            ("1,02", Some(1.02)),
            ("0,040", Some(0.04)),
            (",5", Some(0.5)),
            ("1,234,567", Some(1_234_567.0)),
            ("1.234.567", Some(1_234_567.0)),
            ("1,234.5", Some(1234.5)),
            ("1.234,5", Some(1234.5)),
            ("-2.5", Some(-2.5)),
            ("1.5e-3", Some(0.0015)),
            ("1,23,4", None),
            ("1.2.3", None),
            ("12,34.5", None),
            ("1,", None),
            ("none", None),
        ] {
            assert_eq!(value(text), wanted, "{text}");
        }
    }

    #[test]
    fn a_comma_before_three_digits_is_left_open() {
        let Some(Number::CommaOrThousands { comma, thousands }) =
            find("1,020 mm").map(|f| f.number)
        else {
            panic!("read as one number");
        };
        assert_eq!((comma.digits.as_str(), thousands.digits.as_str()), ("1.020", "1020"));
    }

    #[test]
    fn fractions_keep_their_parts() {
        for (text, whole, over, under, after) in [
            ("3/16\"", 0, 3, 16, "\""),
            ("1 1/4 in", 1, 1, 4, "in"),
            ("1-1/4in", 1, 1, 4, "in"),
            ("7/0 swg", 0, 7, 0, "swg"),
        ] {
            let found = find(text).expect("a number");
            assert_eq!(found.number, Number::Fraction { whole, over, under }, "{text}");
            assert_eq!(found.after, after);
        }
        assert_eq!(find("-1/4 in"), None);
        assert!(find("1/99999999999 in").is_some_and(|found| found.after != "in"));
    }
}
