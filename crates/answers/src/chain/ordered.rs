//! Orders of linked patterns: rings counted for the ring that each rod and blade really give, then
//! planned like any other line.
//!
//! How many rings a length takes depends on the ring as closed, which depends on rod, lot and kerf, which
//! the plan chooses. So the lines are planned for one ring first, their rings counted, and the order
//! planned with those counts; where that chose another blade they are counted once more.

use linkwright_calc::basis::{Basis, Input};
use linkwright_calc::coil::GoodRings;
use linkwright_calc::metal::Catalogue;
use linkwright_calc::plan::{
    CountByPieces, Item, LineRefused, Linked, Order, OrderLine, Plan, PlanError, RunSheet, Trials,
    Workshop, plan_line, plan_with,
};
use linkwright_calc::quantity::Length;
use linkwright_linkage::answer::{Correction, MeasuredError, QuestionError};
use linkwright_linkage::pattern::Pattern;

use super::answered::{ChainAnswer, ChainError, answer_by};
use super::asked::{AskedRing, ChainAsked, EndsAsked, PieceAsked};
use super::counted::{Counts, counts};
use super::measured::{PieceGiven, correction};
use super::solver::Solver;
use crate::printout::{both_lengths, short_mm};

/// An order as asked for: lines whose rings are counted, and lines that are linked in a pattern.
#[derive(Clone, Debug)]
pub struct OrderAsked {
    /// The order; lines of a pattern are in it with one ring each.
    pub order: Order,
    /// The patterns.
    pub linked: Vec<LinkedWanted>,
    /// What solves those that no table knows.
    pub solver: Solver,
}

/// A pattern that was ordered.
#[derive(Clone, Debug)]
pub struct LinkedWanted {
    /// Places in the order of the lines it takes, one a ring size, the main size first.
    pub lines: Vec<usize>,
    /// The pattern.
    pub pattern: Pattern,
    /// The finished piece; nothing for a cluster, which is one.
    pub piece: Option<PieceAsked>,
    /// So many kits of it, for a class.
    pub kits: Option<KitsAsked>,
    /// Pieces of the pattern that were linked and measured: they correct the count.
    pub measured: Vec<PieceGiven>,
}

/// Kits of one piece each.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct KitsAsked {
    /// Kits.
    pub count: u32,
    /// Spare rings of each size in a kit.
    pub spare_each: u32,
}

/// Name of the run sheet of a ring size of an ordered line, counted from 1; the main size goes by the name
/// of the line.
///
/// ```
/// use linkwright_answers::chain::name_of_size;
/// assert_eq!(name_of_size("anklet", 1), "anklet");
/// assert_eq!(name_of_size("anklet", 2), "anklet, ring size 2");
/// ```
pub fn name_of_size(line: &str, size: usize) -> String {
    if size == 1 { line.to_owned() } else { format!("{line}, ring size {size}") }
}

/// Plans made at most: one choice of blades may change the count, and the count the blades.
const ROUNDS: usize = 3;
/// Rings this close count as the same.
const SAME_MM: f64 = 1e-6;

impl OrderAsked {
    /// Plans the order, with the rings of its patterns counted.
    ///
    /// # Errors
    /// [`LineRefused`] naming the first line that cannot be planned or linked.
    pub fn plan(
        &self,
        workshop: &Workshop,
        metals: &Catalogue,
        trials: Option<&dyn Trials>,
    ) -> Result<Plan, LineRefused> {
        if self.linked.is_empty() {
            return plan_with(&self.order, workshop, metals, trials);
        }
        let refused =
            |at: usize, problem| LineRefused { line: self.order.lines[at].name.clone(), problem };
        let mut rings: Vec<Vec<AskedRing>> = Vec::new();
        for wanted in &self.linked {
            let sizes = wanted.lines.iter().map(|&at| {
                let line = &self.order.lines[at];
                let sheets = plan_line(line, workshop, metals, None);
                sheets.and_then(|sheets| ring_of(&sheets[0])).map_err(|error| refused(at, error))
            });
            rings.push(sizes.collect::<Result<_, _>>()?);
        }
        let mut round = 1;
        loop {
            let order = self.counted(&rings).map_err(|(at, error)| refused(at, error))?;
            let plan = plan_with(&order, workshop, metals, trials)?;
            let now = self.rings_of(&order, &plan).map_err(|(at, error)| refused(at, error))?;
            let same = now.iter().flatten().zip(rings.iter().flatten()).all(|(now, before)| {
                (now.closed_inside().mm() - before.closed_inside().mm()).abs() < SAME_MM
            });
            if same || round == ROUNDS {
                return Ok(plan);
            }
            rings = now;
            round += 1;
        }
    }

    /// The order with the rings of its patterns counted, for rings such as these.
    fn counted(&self, rings: &[Vec<AskedRing>]) -> Result<Order, (usize, PlanError)> {
        let mut order = self.order.clone();
        for (wanted, rings) in self.linked.iter().zip(rings) {
            let main = wanted.lines[0];
            let made = wanted.made(rings, &self.solver).map_err(|error| (main, error))?;
            for ((&at, &each), size) in wanted.lines.iter().zip(&made.counts.each).zip(1..) {
                let item = wanted.item(each).map_err(|error| (at, error))?;
                let linked = made.linked(wanted, rings, size);
                let line = &mut order.lines[at];
                *line = OrderLine { item, linked: Some(linked), ..line.clone() };
            }
        }
        Ok(order)
    }

    /// The rings that a plan really gives.
    fn rings_of(
        &self,
        order: &Order,
        plan: &Plan,
    ) -> Result<Vec<Vec<AskedRing>>, (usize, PlanError)> {
        let ring = |at: usize| {
            let line = &order.lines[at];
            let sheet = plan.sheets.iter().find(|sheet| sheet.line == *line);
            sheet.map_or(Err(PlanError::NoBlade), ring_of).map_err(|error| (at, error))
        };
        self.linked.iter().map(|wanted| wanted.lines.iter().map(|&at| ring(at)).collect()).collect()
    }
}

/// The ring of a sheet as closed.
fn ring_of(sheet: &RunSheet) -> Result<AskedRing, PlanError> {
    Ok(AskedRing::closed(sheet.wire.value, sheet.ring.ring.closed_inside())?)
}

/// The rings of one piece.
struct Made {
    answer: ChainAnswer,
    counts: Counts,
    correction: Correction,
    /// Repeats as they would be without measured pieces.
    repeats_without: u64,
}

impl LinkedWanted {
    /// Counts the rings of one piece.
    fn made(&self, rings: &[AskedRing], solver: &Solver) -> Result<Made, PlanError> {
        let asked = ChainAsked {
            pattern: self.pattern.clone(),
            rings: rings.to_vec(),
            piece: self.piece,
            metal: None,
        };
        let refused = |error| match error {
            ChainError::Limit(error) => PlanError::Limit(error),
            ChainError::Question(QuestionError::Halt(_)) => PlanError::PatternNotSolved {
                pattern: self.pattern.name().to_owned(),
                steps: solver.steps_most(self.pattern.spec().rings.len()).unwrap_or_default(),
            },
            _ => PlanError::RingSizesDoNotSuit { pattern: self.pattern.name().to_owned() },
        };
        let plain = answer_by(&asked, solver).map_err(refused)?;
        let Some(without) = counts(&plain) else {
            return Err(PlanError::RingsDoNotLink {
                pattern: self.pattern.name().to_owned(),
                wire_diameter_mm: rings[0].wire().diameter().mm(),
                closed_inside_mm: rings[0].closed_inside().mm(),
                missing_mm: (-plain.linked.inside_to_spare.mm()).max(0.0),
            });
        };
        let correction = correction(&plain.linked, &self.measured)
            .map_err(|(at, error)| self.no_such_piece(at, &error))?;
        let answer = plain.corrected(&asked, &correction).map_err(refused)?;
        let repeats_without = without.cells;
        let counts = counts(&answer).unwrap_or(without);
        Ok(Made { answer, counts, correction, repeats_without })
    }

    /// A piece of no stated rings that cannot be of the line's.
    fn no_such_piece(&self, at: usize, error: &MeasuredError) -> PlanError {
        match *error {
            MeasuredError::Limit(error) => PlanError::Limit(error),
            MeasuredError::AnotherChain { rings, measured_mm, worked_out_mm, most_percent } => {
                PlanError::PieceOfOtherRings {
                    piece: at + 1,
                    rings,
                    measured_mm,
                    worked_out_mm,
                    most_percent,
                }
            }
            _ => PlanError::NoPieceOfPattern {
                piece: at + 1,
                pattern: self.pattern.name().to_owned(),
                rings_least: self.pattern.spec().rings.len(),
            },
        }
    }

    /// The rings of one size, for one piece or for kits.
    fn item(&self, each: u64) -> Result<Item, PlanError> {
        let rings = u32::try_from(each).unwrap_or(u32::MAX);
        let item = match self.kits {
            None => Item::Rings { count: GoodRings::new(rings) },
            Some(KitsAsked { count, spare_each }) => {
                Item::Kits { kits: count, rings_each: rings, spare_each }
            }
        };
        item.check()?;
        Ok(item)
    }
}

impl Made {
    fn linked(&self, wanted: &LinkedWanted, rings: &[AskedRing], size: usize) -> Linked {
        let linked = &self.answer.linked;
        let main = rings[0].closed_inside().mm();
        let mut inputs = vec![Input::new(
            "inside of the closed ring",
            main,
            "mm",
            Basis::worked_out("one turn less the kerf, closed", "docs/theory/ring.md", vec![]),
        )];
        if let Some(taut) = &linked.taut {
            let advance = taut.advance.mm();
            inputs.push(Input::new("advance of one repeat", advance, "mm", linked.basis()));
        }
        let by_length =
            || Basis::worked_out("length less its ends over the advance", "definition", vec![]);
        inputs.push(Input::new("repeats", self.counts.cells as f64, "-", by_length()));
        let measured = self.measured();
        if let Some(by) = &measured {
            let basis = self.pieces(wanted);
            inputs.push(Input::new("ratio of measured to worked-out length", by.ratio, "-", basis));
            let without = by.repeats_without as f64;
            inputs.push(Input::new("repeats without that ratio", without, "-", by_length()));
        }
        let cautions = if size == 1 { linked.cautions() } else { Vec::new() };
        Linked {
            pattern: self.answer.name.clone(),
            piece: self.told(wanted, size),
            basis: Basis::worked_out(
                "repeats x rings of one repeat + end rings",
                "contact of rigid rings, docs/theory/chain.md",
                inputs,
            ),
            measured,
            cautions,
        }
    }

    /// What measured pieces changed in the count.
    fn measured(&self) -> Option<CountByPieces> {
        let Correction { ratio, spread, pieces } = self.correction;
        (pieces > 0).then_some(CountByPieces {
            pieces,
            ratio,
            ratio_spread: spread,
            repeats: self.counts.cells,
            repeats_without: self.repeats_without,
        })
    }

    /// The pieces measured, and when the last was.
    fn pieces(&self, wanted: &LinkedWanted) -> Basis {
        let last = wanted.measured.iter().filter_map(|given| given.date.clone()).max();
        Basis::Tried { trials: self.correction.pieces, last }
    }

    /// What is made and how its rings were counted.
    fn told(&self, wanted: &LinkedWanted, size: usize) -> String {
        let mut told = self.answer.title.clone();
        if wanted.lines.len() > 1 {
            told.push_str(&format!(", ring size {size} of {}", wanted.lines.len()));
        }
        let cells = self.counts.cells;
        let per_cell = self.answer.rings[size - 1].per_cell;
        match wanted.piece {
            None => told.push_str(&format!(", {} a piece", rings(per_cell))),
            Some(PieceAsked::Sheet { along, across }) => told.push_str(&format!(
                ", {} along its rows by {}: {cells} repeats of {}",
                both_lengths(along.mm()),
                both_lengths(across.mm()),
                rings(per_cell)
            )),
            Some(PieceAsked::Long { length, ends }) => {
                told.push_str(&format!(", {} over all{}", both_lengths(length.mm()), hung(ends)));
                told.push_str(&self.repeats(per_cell));
                told.push_str(&self.by_pieces());
            }
            Some(PieceAsked::Round { girth, ease, ends }) => {
                let length = self.answer.length.unwrap_or(girth);
                told.push_str(&format!(
                    " round {} with {} of ease, {} over all{}",
                    both_lengths(girth.mm()),
                    short_mm(ease.mm(), 1),
                    both_lengths(length.mm()),
                    hung(ends)
                ));
                told.push_str(&self.repeats(per_cell));
                told.push_str(&self.by_pieces());
            }
        }
        told
    }

    /// What measured pieces say, with the repeats as they would be without them.
    fn by_pieces(&self) -> String {
        let Some(by) = self.measured() else { return String::new() };
        let (pieces, them) = if by.pieces == 1 { ("piece", "it") } else { ("pieces", "them") };
        format!(
            "; corrected by {} measured {pieces} to {:.1} % of the length worked out, without {them} {}",
            by.pieces,
            100.0 * by.ratio,
            repeats(by.repeats_without)
        )
    }

    /// The repeats, the length they come to, and the next one either way.
    fn repeats(&self, per_cell: usize) -> String {
        let mm = |length: Length| short_mm(length.mm(), 1);
        let cells = self.counts.cells;
        let length = self.counts.length.map_or_else(String::new, mm);
        let mut told = format!(": {} of {} come to {length}", repeats(cells), rings(per_cell));
        if let Some(around) = self.answer.around {
            let other = match around.below {
                Some(below) if below.cells != cells => Some(below),
                _ if around.above.cells != cells => Some(around.above),
                _ => None,
            };
            if let Some(other) = other {
                told.push_str(&format!(", {} to {}", other.cells, mm(other.length)));
            }
        }
        told
    }
}

fn repeats(count: u64) -> String {
    if count == 1 { "1 repeat".to_owned() } else { format!("{count} repeats") }
}

fn rings(count: usize) -> String {
    if count == 1 { "1 ring".to_owned() } else { format!("{count} rings") }
}

/// Clasp and end rings in words.
fn hung(ends: EndsAsked) -> String {
    let mut told = String::new();
    if ends.clasp.mm() > 0.0 {
        told.push_str(&format!(", clasp {}", short_mm(ends.clasp.mm(), 1)));
    }
    if ends.rings > 0 {
        let s = if ends.rings == 1 { "" } else { "s" };
        told.push_str(&format!(", {} end ring{s}", ends.rings));
    }
    told
}
