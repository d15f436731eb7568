//! What rings give in a pattern: read from the solved table, or by closed form where that ends.

use linkwright_calc::money::Currency;
use linkwright_calc::quantity::{Length, Mass};
use linkwright_linkage::answer::{ClosedRing, Correction};
use linkwright_linkage::closed_form::{
    Measures, go_together, of_one_size, several_sizes, several_sizes_limit,
};
use linkwright_linkage::pattern::{Kind, Pattern};
use linkwright_linkage::table::{self, Entry};

use super::PartRing;

/// What a chain or sheet of some rings measures. Counts, masses and costs are those of a centimetre of
/// chain, or of a square centimetre of sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Given {
    /// Advance per cell, pulled straight.
    pub advance: Length,
    /// For a sheet, advance from cell to cell across the rows.
    pub across: Option<Length>,
    /// Side-on width of a chain.
    pub width: Option<Length>,
    /// Thickness.
    pub thickness: Length,
    /// Rings of all sizes.
    pub rings: f64,
    /// Mass.
    pub mass: Mass,
    /// Minor units of money for the metal, where all of it has a price in one currency.
    pub cost: Option<(f64, Currency)>,
    /// Where the advance is from.
    pub read: ReadFrom,
    /// Pieces that were measured and corrected the advance.
    pub pieces: u32,
    /// Relative tolerance of the advance.
    pub within: f64,
}

/// Where a length of linked rings is from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadFrom {
    /// Solved beforehand and read from the table.
    Table {
        /// Searches from different poses at the row next to it.
        searches: u32,
        /// Of these, how many met the best.
        agree: u32,
    },
    /// A closed form.
    ClosedForm,
}

/// Why rings give nothing in a pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GivesNothing {
    /// They are too small to go together.
    TooSmall,
    /// They are larger than the table reaches, and the pattern has no closed form.
    BeyondTable,
}

/// A chain is loose from an aspect ratio of this many times the pattern's smallest on, and
/// [`LOOSE_MORE`]. Own choice: about where a pattern is no longer known by its looks.
pub const LOOSE_TIMES: f64 = 2.0;
/// See [`LOOSE_TIMES`].
pub const LOOSE_MORE: f64 = 1.0;

/// A pattern made ready to be read many times.
pub(super) struct Readable {
    pub(super) pattern: Pattern,
    entry: &'static Entry,
    /// Rings of each size in a cell.
    pub(super) per_cell: Vec<usize>,
}

/// Share of the advance by which solved lengths may be off beside the table's own tolerance: what the
/// searches that count as one differ by.
const SOLVER_WITHIN: f64 = 2e-4;

impl Readable {
    /// None where the table does not know the pattern, or it does not repeat.
    pub(super) fn new(pattern: Pattern) -> Option<Readable> {
        let entry = table::entry(&pattern).filter(|_| pattern.kind() != Kind::Cluster)?;
        let spec = pattern.spec();
        let count = |size| spec.rings.iter().filter(|ring| ring.size == size).count();
        let per_cell = (0..spec.sizes.len()).map(count).collect();
        Some(Readable { pattern, entry, per_cell })
    }

    pub(super) fn is_of_one_size(&self) -> bool {
        self.per_cell.len() == 1
    }

    /// Whether rings are so large that the chain hangs loose.
    pub(super) fn is_loose(&self, main: ClosedRing) -> bool {
        main.aspect_ratio() > LOOSE_TIMES * self.entry.aspect_ratio_min + LOOSE_MORE
    }

    /// Smallest aspect ratio of the main ring; `None` where that is not known without solving.
    pub(super) fn least(&self, rings: &[ClosedRing]) -> Option<f64> {
        if self.is_of_one_size() {
            Some(self.entry.aspect_ratio_min)
        } else {
            several_sizes_limit(&self.pattern, rings)
        }
    }

    /// Whether rings of several sizes go together.
    pub(super) fn takes(&self, parts: &[PartRing]) -> bool {
        let closed: Vec<ClosedRing> = parts.iter().map(|part| part.ring.ring.as_closed()).collect();
        go_together(&self.pattern, &closed)
    }

    fn measures(&self, rings: &[ClosedRing]) -> Result<(Measures, ReadFrom, f64), GivesNothing> {
        if !self.is_of_one_size() {
            let form = several_sizes(&self.pattern, rings).ok_or(GivesNothing::TooSmall)?;
            return Ok((form, ReadFrom::ClosedForm, SOLVER_WITHIN));
        }
        let aspect_ratio = rings[0].aspect_ratio();
        if aspect_ratio < self.entry.aspect_ratio_min {
            return Err(GivesNothing::TooSmall);
        }
        if let Some(read) = self.entry.at(aspect_ratio) {
            let measures = Measures {
                advance: read.advance,
                across: (read.across > 0.0).then_some(read.across),
                width: (read.width > 0.0).then_some(read.width),
                thickness: read.thickness,
            };
            let from = ReadFrom::Table { searches: read.starts, agree: read.hits };
            return Ok((measures, from, self.entry.within + SOLVER_WITHIN));
        }
        let form = of_one_size(&self.pattern, aspect_ratio).ok_or(GivesNothing::BeyondTable)?;
        Ok((form, ReadFrom::ClosedForm, SOLVER_WITHIN))
    }

    /// What rings give, one per size of the pattern.
    pub(super) fn given(
        &self,
        parts: &[PartRing],
        correction: Option<&Correction>,
    ) -> Result<Given, GivesNothing> {
        let closed: Vec<ClosedRing> = parts.iter().map(|part| part.ring.ring.as_closed()).collect();
        let (measures, read, solved_within) = self.measures(&closed)?;
        let d_mm = closed[0].wire().diameter().mm();
        let (ratio, pieces, within) = match correction.filter(|taught| taught.pieces > 0) {
            Some(taught) => (taught.ratio, taught.pieces, 2.0 * taught.spread),
            None => (1.0, 0, solved_within),
        };
        let advance_mm = measures.advance * d_mm * ratio;
        let across_mm = measures.across.map(|across| across * d_mm * ratio);
        // Cells to a centimetre, or to a square centimetre.
        let cells = match across_mm {
            Some(across_mm) => 100.0 / (advance_mm * across_mm),
            None => 10.0 / advance_mm,
        };
        let (mut rings, mut mass_g) = (0.0, 0.0);
        let mut cost = Some(0.0);
        for part in parts {
            let count = part.per_cell as f64 * cells;
            let part_g = count * part.ring.ring.as_closed().mass(part.ring.density.value).g();
            rings += count;
            mass_g += part_g;
            let price = part.ring.price.as_ref();
            cost = cost.zip(price).map(|(sum, price)| sum + price.minor_per_gram * part_g);
        }
        Ok(Given {
            advance: Length::from_mm(advance_mm),
            across: across_mm.map(Length::from_mm),
            width: measures.width.map(|width| Length::from_mm(width * d_mm)),
            thickness: Length::from_mm(measures.thickness * d_mm),
            rings,
            mass: Mass::from_g(mass_g),
            cost: cost.zip(one_currency(parts)),
            read,
            pieces,
            within,
        })
    }
}

/// The currency all of the wire is priced in.
fn one_currency(parts: &[PartRing]) -> Option<Currency> {
    let mut currencies = parts.iter().map(|part| Some(part.ring.price.as_ref()?.price.currency()));
    let first = currencies.next()??;
    currencies.all(|other| other == Some(first)).then_some(first)
}
