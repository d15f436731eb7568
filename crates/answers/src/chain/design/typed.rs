//! From what was typed to what is wanted, with every complaint at once.

use linkwright_calc::limits::{LENGTH, Limit, MASS};
use linkwright_calc::money::parse_money;
use linkwright_calc::quantity::{Length, Mass, parse_length, parse_mass};
use linkwright_linkage::pattern::Kind;

use super::wanted::DesignWanted;

/// A field of the question.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum DesignField {
    /// Width wanted of a chain.
    Width,
    /// Thickness wanted.
    Thickness,
    /// Mass wanted of a piece.
    Mass,
    /// Money the metal of a piece may cost.
    Cost,
    /// Length of that piece.
    Length,
    /// Width of that piece across the rows of a sheet.
    Across,
}

/// What was typed; blank where nothing was.
#[derive(Clone, Copy, Debug, Default)]
pub struct DesignTyped<'a> {
    /// A sheet, and not a chain.
    pub sheet: bool,
    /// Width wanted of a chain.
    pub width: &'a str,
    /// Thickness wanted.
    pub thickness: &'a str,
    /// Mass wanted of a piece.
    pub mass: &'a str,
    /// Money the metal of a piece may cost.
    pub cost: &'a str,
    /// Length of that piece.
    pub length: &'a str,
    /// Width of that piece across the rows of a sheet.
    pub across: &'a str,
}

/// What is wanted, and the piece it was said of.
#[derive(Clone, Debug, PartialEq)]
pub struct DesignRead {
    /// What is wanted.
    pub wanted: DesignWanted,
    /// Centimetres of chain in the piece, or square centimetres of sheet.
    pub piece: Option<f64>,
}

/// A field with what is wrong with it.
pub type DesignComplaint = (DesignField, String);

const WIDTH: Limit = Limit {
    field: "width_mm",
    low: 0.1,
    high: 200.0,
    why: "finer than any chain, wider than any strip of rings",
    ..LENGTH
};
const THICKNESS: Limit = Limit { field: "thickness_mm", ..WIDTH };
const PIECE: Limit = Limit {
    field: "length_mm",
    low: 1.0,
    high: 100_000.0,
    why: "shorter than a ring, longer than anybody links",
    ..LENGTH
};
const ACROSS: Limit = Limit { field: "across_mm", ..PIECE };
const PIECE_MASS: Limit = Limit {
    field: "mass_g",
    low: 0.001,
    high: 100_000.0,
    why: "lighter than a ring, heavier than anybody wears",
    ..MASS
};

impl DesignTyped<'_> {
    /// Reads every field.
    ///
    /// A chain is asked for by its width or thickness, or by mass or cost of a length; a sheet by its
    /// thickness, or by mass or cost of a piece so long and so wide. A sheet has no width of its own:
    /// it is as wide as it is made, and strips cut from one stand among the chains.
    ///
    /// # Errors
    /// Every field that cannot be read, is outside its limits, or is missing.
    pub fn read(&self) -> Result<DesignRead, Vec<DesignComplaint>> {
        let mut wrong = Vec::new();
        let mut wanted = DesignWanted::any(if self.sheet { Kind::Sheet } else { Kind::Chain });
        wanted.width = length(&mut wrong, DesignField::Width, self.width, WIDTH);
        wanted.thickness = length(&mut wrong, DesignField::Thickness, self.thickness, THICKNESS);
        let long = length(&mut wrong, DesignField::Length, self.length, PIECE);
        let across = length(&mut wrong, DesignField::Across, self.across, ACROSS);
        let mass = mass(&mut wrong, self.mass);
        let cost = cost(&mut wrong, self.cost);
        let mut complain = |field, said: &str| wrong.push((field, said.to_owned()));
        if self.sheet && !self.width.trim().is_empty() {
            complain(
                DesignField::Width,
                "a sheet is as wide as it is made, so that its rings do not follow from it; ask for its \
                 thickness or for the mass of a piece, or for a chain: strips have a width",
            );
        }
        if !self.sheet && !self.across.trim().is_empty() {
            complain(
                DesignField::Across,
                "a chain is counted by its length alone; its width is wanted above",
            );
        }
        let needs_piece = !self.mass.trim().is_empty() || !self.cost.trim().is_empty();
        if needs_piece && self.length.trim().is_empty() {
            complain(
                DesignField::Length,
                "how long is the piece that mass or money is for? Such as 450 mm or 18 in",
            );
        }
        if needs_piece && self.sheet && self.across.trim().is_empty() {
            complain(
                DesignField::Across,
                "how wide, across the rows, is the piece that mass or money is for? Such as 60 mm",
            );
        }
        let asked = [self.width, self.thickness, self.mass, self.cost];
        if asked.iter().all(|typed| typed.trim().is_empty()) {
            let (field, said) = if self.sheet {
                (
                    DesignField::Thickness,
                    "say what is wanted: a thickness, a mass or an amount of money",
                )
            } else {
                (
                    DesignField::Width,
                    "say what is wanted: a width, a thickness, a mass or an amount of money",
                )
            };
            complain(field, said);
        }
        if !wrong.is_empty() {
            return Err(wrong);
        }
        let piece = match (self.sheet, long, across) {
            (false, Some(long), _) => Some(long.mm() / 10.0),
            (true, Some(long), Some(across)) => Some(long.mm() * across.mm() / 100.0),
            _ => None,
        };
        wanted.mass = mass.zip(piece).map(|(mass, piece)| Mass::from_g(mass.g() / piece));
        wanted.cost = cost.zip(piece).map(|(money, piece)| {
            #[expect(
                clippy::cast_precision_loss,
                reason = "money of a piece of chain is far below 2^53"
            )]
            (money.minor() as f64 / piece, money.currency())
        });
        Ok(DesignRead { wanted, piece })
    }
}

fn length(
    wrong: &mut Vec<DesignComplaint>,
    field: DesignField,
    typed: &str,
    limit: Limit,
) -> Option<Length> {
    if typed.trim().is_empty() {
        return None;
    }
    let read = parse_length(typed).map_err(|error| error.to_string()).and_then(|length| {
        let length = length.value();
        limit.check(length.mm()).map(|_| length).map_err(|error| error.to_string())
    });
    read.map_err(|said| wrong.push((field, said))).ok()
}

fn mass(wrong: &mut Vec<DesignComplaint>, typed: &str) -> Option<Mass> {
    if typed.trim().is_empty() {
        return None;
    }
    let read = parse_mass(typed).map_err(|error| error.to_string()).and_then(|mass| {
        let mass = mass.value();
        PIECE_MASS.check(mass.g()).map(|_| mass).map_err(|error| error.to_string())
    });
    read.map_err(|said| wrong.push((DesignField::Mass, said))).ok()
}

fn cost(wrong: &mut Vec<DesignComplaint>, typed: &str) -> Option<linkwright_calc::money::Money> {
    if typed.trim().is_empty() {
        return None;
    }
    let read = parse_money(typed).map_err(|error| error.to_string()).and_then(|money| {
        let money = money.value();
        if money.minor() > 0 {
            Ok(money)
        } else {
            Err(format!("{money} buys no metal; give more than nothing"))
        }
    });
    read.map_err(|said| wrong.push((DesignField::Cost, said))).ok()
}

#[cfg(test)]
mod tests {
    use linkwright_linkage::pattern::Kind;

    use super::{DesignField, DesignTyped};

    #[test]
    fn mass_and_money_are_turned_into_those_of_a_centimetre_or_a_square_centimetre() {
        let chain = DesignTyped { mass: "20 g", length: "400 mm", ..DesignTyped::default() };
        let read = chain.read().expect("fine");
        assert_eq!((read.wanted.kind, read.piece), (Kind::Chain, Some(40.0)));
        assert!((read.wanted.mass.expect("asked").g() - 0.5).abs() < 1e-12);
        let sheet = DesignTyped {
            sheet: true,
            cost: "30 EUR",
            length: "10 cm",
            across: "60 mm",
            ..DesignTyped::default()
        };
        let read = sheet.read().expect("fine");
        let (minor, currency) = read.wanted.cost.expect("asked");
        assert!((minor - 50.0).abs() < 1e-12 && currency.code() == "EUR");
    }

    #[test]
    fn what_cannot_be_read_is_refused_by_field_value_and_limits() {
        let wrong = |typed: DesignTyped<'_>| typed.read().expect_err("refused");
        let fields = |typed| wrong(typed).into_iter().map(|(field, _)| field).collect::<Vec<_>>();
        let none = DesignTyped::default();
        assert_eq!(fields(none), [DesignField::Width]);
        assert_eq!(fields(DesignTyped { sheet: true, ..none }), [DesignField::Thickness]);
        assert_eq!(fields(DesignTyped { mass: "20 g", ..none }), [DesignField::Length]);
        let sheet = DesignTyped { sheet: true, mass: "20 g", length: "10 cm", ..none };
        assert_eq!(fields(sheet), [DesignField::Across]);
        let wide_sheet = DesignTyped { sheet: true, width: "6 mm", ..none };
        assert_eq!(fields(wide_sheet), [DesignField::Width]);
        let chain = DesignTyped { width: "6 mm", across: "6 mm", ..none };
        assert_eq!(fields(chain), [DesignField::Across]);
        let said = |typed| wrong(typed).remove(0).1;
        let small = said(DesignTyped { width: "0.01 mm", ..none });
        assert!(small.contains("width_mm is 0.01 mm") && small.contains("0.1 and 200"), "{small}");
        assert!(said(DesignTyped { width: "18", ..none }).contains("18"));
        let ounce = DesignTyped { mass: "1 oz", length: "45 cm", ..none };
        assert!(said(ounce).contains("oz"), "{}", said(ounce));
        let free = DesignTyped { cost: "0 EUR", length: "45 cm", ..none };
        assert_eq!(said(free), "0.00 EUR buys no metal; give more than nothing");
        let both = DesignTyped { width: "wide", thickness: "thick", ..none };
        assert_eq!(fields(both), [DesignField::Width, DesignField::Thickness]);
    }
}
