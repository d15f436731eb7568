//! Amounts and prices as typed.

use super::{Currency, Money, Price, PricePer, PricedMetal};
use crate::limits::{MONEY, PRICE};
use crate::quantity::number::{Decimal, Found, Number, find};
use crate::quantity::text::{plain, words};
use crate::quantity::{
    Ask, MassWord, QuantityError, Question, Reading, Remark, Typed, Wanted, mass_word,
};

/// Reads an amount of money as typed, exactly.
///
/// # Units
/// `12.50 EUR`, `GBP 12.50`, `12,50 EUR`, `1500 JPY`, `1.250 KWD`; out come minor units.
/// # Validity
/// No more decimals than the currency has; within [`MONEY`]. A comma before exactly three digits
/// is asked about.
/// # Errors
/// [`QuantityError::Unclear`] without a currency or with a sign that several share;
/// [`QuantityError::TooManyDecimals`]; other variants for what is no amount.
/// # Source
/// Codes and decimals: [`Currency::from_code`]. Spellings: common practice, no source.
///
/// ```
/// use linkwright_calc::money::{Currency, Money, parse_money};
/// assert_eq!(parse_money("12.50 EUR").unwrap().value(), Money::new(1250, Currency::EUR));
/// assert_eq!(parse_money("GBP 12,5").unwrap().value(), Money::new(1250, Currency::GBP));
/// assert_eq!(
///     parse_money("12.505 EUR").unwrap_err().to_string(),
///     "\u{201c}12.505 EUR\u{201d} has more decimals (3) than EUR (2)"
/// );
/// ```
pub fn parse_money(text: &str) -> Result<Typed<Money>, QuantityError> {
    let text = text.trim();
    let plain = plain(text, Wanted::Money)?;
    let Amount { decimal, currency, remark } = amount(text, &plain, Wanted::Money)?;
    MONEY.check(decimal.value)?;
    let not_understood =
        || QuantityError::NotUnderstood { text: text.to_owned(), wanted: Wanted::Money };
    let (whole, part) = decimal.digits.split_once('.').unwrap_or((&decimal.digits, ""));
    let decimals_max = usize::from(currency.decimals());
    if part.len() > decimals_max && part.bytes().all(|byte| byte.is_ascii_digit()) {
        let (text, decimals) = (text.to_owned(), part.len());
        return Err(QuantityError::TooManyDecimals { text, currency, decimals, decimals_max });
    }
    // An exponent fails here: nobody writes money so.
    let minor = format!("{whole}{part:0<decimals_max$}").parse().map_err(|_| not_understood())?;
    Ok(Typed::new(text, Money::new(minor, currency), remark))
}

/// Reads the price of a metal as typed.
///
/// # Units
/// An amount with its currency, `per` or `/`, and `g`, `kg`, `ozt`, `dwt` or `lb avdp`; then `of
/// fine` where only the fine metal is paid for, else all that is on the scale.
/// # Validity
/// Any number of decimals; within [`PRICE`].
/// # Errors
/// [`QuantityError::Unclear`] without a currency, without a mass, per bare ounce or pound; other
/// variants for what is no price.
/// # Source
/// Spellings: common practice, no source.
///
/// ```
/// use linkwright_calc::money::{PricePer, PricedMetal, parse_price};
/// let price = parse_price("0.80 EUR per g of fine").unwrap().value();
/// assert_eq!((price.major(), price.per()), (0.8, PricePer::Gram));
/// assert_eq!(price.metal(), PricedMetal::Fine);
/// assert_eq!(
///     parse_price("28.50 USD/oz").unwrap_err().to_string(),
///     "\u{201c}28.50 USD/oz\u{201d} does not say troy or avoirdupois; type 28.50 USD per ozt \
///      (0.9163 per g)"
/// );
/// ```
pub fn parse_price(text: &str) -> Result<Typed<Price>, QuantityError> {
    let text = text.trim();
    let plain = plain(text, Wanted::Price)?;
    let halves = plain.split_once(" per ").or_else(|| plain.split_once('/'));
    let (left, right) = halves.unwrap_or((&plain, ""));
    let Amount { decimal, currency, remark } = amount(text, left, Wanted::Price)?;
    let mut unit = words(right);
    let fine = unit.iter().any(|word| word == "fine");
    unit.retain(|word| word != "fine" && word != "of");
    let metal = if fine { PricedMetal::Fine } else { PricedMetal::AsWeighed };
    let ask = |ask, candidates: &[PricePer]| {
        let readings = candidates
            .iter()
            .filter_map(|per| {
                let price = Price::new(decimal.value, currency, *per, metal).ok()?;
                let minor_per_major = f64::from(currency.minor_per_major());
                let tail = if fine { " of fine" } else { "" };
                let digits = &decimal.digits;
                let typed = format!("{digits} {currency} per {}{tail}", per.symbol());
                Some(Reading::plain(typed, price.minor_per_gram() / minor_per_major, "per g"))
            })
            .collect();
        Err(QuantityError::Unclear(Question::new(text, ask, readings)))
    };
    PRICE.check(decimal.value)?;
    let per = match mass_word(&unit) {
        Some(MassWord::Known { unit, .. }) => {
            PricePer::ALL.into_iter().find(|per| per.symbol() == unit)
        }
        Some(MassWord::Ounce) => return ask(Ask::OunceOrPound, &[PricePer::TroyOunce]),
        Some(MassWord::Pound) => return ask(Ask::OunceOrPound, &[PricePer::AvoirdupoisPound]),
        Some(MassWord::Carat) => None,
        None if unit.is_empty() => return ask(Ask::PricePerMass, &PricePer::ALL),
        None => None,
    };
    let Some(per) = per else {
        let (text, unit) = (text.to_owned(), unit.join(" "));
        return Err(QuantityError::UnknownUnit { text, unit, wanted: Wanted::Price });
    };
    Ok(Typed::new(text, Price::new(decimal.value, currency, per, metal)?, remark))
}

struct Amount {
    decimal: Decimal,
    currency: Currency,
    remark: Option<Remark>,
}

/// A number with its currency before or after it.
fn amount(text: &str, plain: &str, wanted: Wanted) -> Result<Amount, QuantityError> {
    let not_understood = || QuantityError::NotUnderstood { text: text.to_owned(), wanted };
    let Some(Found { before, number, after }) = find(plain) else {
        return Err(not_understood());
    };
    let code = match (before, after) {
        (code, "") | ("", code) => code,
        _ => return Err(not_understood()),
    };
    let number = match number {
        Number::Plain(decimal) => Ok(decimal),
        Number::CommaOrThousands { comma, thousands } => Err([comma, thousands]),
        Number::Fraction { .. } => return Err(not_understood()),
    };
    let (codes, remark): (&[&str], _) = match code {
        "\u{20ac}" => (&["EUR"], None),
        "\u{a3}" => (&["GBP"], Some(Remark::PoundSignIsSterling)),
        "$" => (&["USD", "CAD", "AUD", "NZD"], None),
        "\u{a5}" => (&["JPY", "CNY"], None),
        "kr" => (&["SEK", "DKK", "NOK", "ISK"], None),
        "" => (&["EUR", "GBP", "USD"], None),
        code => match Currency::from_code(code) {
            Some(currency) => (&[currency.code()], None),
            None => {
                let (text, code) = (text.to_owned(), code.to_owned());
                return Err(QuantityError::UnknownCurrency { text, code });
            }
        },
    };
    let currencies: Vec<Currency> =
        codes.iter().filter_map(|code| Currency::from_code(code)).collect();
    let reading = |currency: &Currency, number: &Decimal| {
        Reading::plain(format!("{} {currency}", number.digits), number.value, currency.code())
    };
    match (number, currencies.as_slice()) {
        (Ok(decimal), [currency]) => Ok(Amount { decimal, currency: *currency, remark }),
        (Ok(decimal), currencies) => {
            let readings = currencies.iter().map(|currency| reading(currency, &decimal)).collect();
            Err(QuantityError::Unclear(Question::new(text, Ask::Currency, readings)))
        }
        (Err(decimals), currencies) => {
            let readings = currencies
                .iter()
                .flat_map(|currency| decimals.iter().map(move |number| reading(currency, number)))
                .collect();
            Err(QuantityError::Unclear(Question::new(text, Ask::CommaOrThousands, readings)))
        }
    }
}
