//! The answer to a question about a pattern, its numbers unrounded.

use linkwright_calc::limits::LimitError;
use linkwright_calc::quantity::{Length, Mass};
use linkwright_calc::wire::Wire;
use linkwright_linkage::answer::{
    ClosedRing, Correction, Ends, Ground, Linked, PiecesAround, QuestionError,
    answer as linkage_answer,
};
use linkwright_linkage::pattern::{Kind, Pattern};
use linkwright_linkage::solve::{Patient, Search, Watch};

use thiserror::Error;

use super::asked::{AskedMetal, AskedRing, ChainAsked, PieceAsked};
use super::solver::Solver;

/// What a pattern gives with the rings asked about.
#[derive(Clone, Debug)]
pub struct ChainAnswer {
    /// Key of the pattern.
    pub name: String,
    /// One line a jeweller reads.
    pub title: String,
    /// Chain, sheet or cluster.
    pub kind: Kind,
    /// The rings, the main size first.
    pub rings: Vec<RingUsed>,
    /// What contact geometry says.
    pub linked: Linked,
    /// The finished piece asked for.
    pub piece: Option<PieceAsked>,
    /// Length over all wanted of a chain, worked out where it goes round something.
    pub length: Option<Length>,
    /// The whole cells on both sides of that length.
    pub around: Option<PiecesAround>,
    /// The metal.
    pub metal: Option<AskedMetal>,
    /// Rings of all sizes for the finished piece, end rings included: the fewest whole cells that
    /// reach it. `None` where no piece was asked for or the pattern is not possible.
    pub rings_in_all: Option<u64>,
    /// Mass of those; `None` without a metal too.
    pub mass: Option<Mass>,
}

/// Why a question has no answer.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum ChainError {
    /// The rings do not suit the pattern.
    #[error(transparent)]
    Question(#[from] QuestionError),
    /// A length of the piece is outside its limits.
    #[error(transparent)]
    Limit(#[from] LimitError),
    /// A sheet has no length alone.
    #[error("{pattern} is a sheet: it is counted by its length and its width")]
    SheetByLength {
        /// Key of the pattern.
        pattern: String,
    },
    /// A chain has no width of its own choosing.
    #[error("{pattern} is a chain: it is counted by its length alone, its width follows")]
    ChainByArea {
        /// Key of the pattern.
        pattern: String,
    },
    /// A cluster is one piece.
    #[error("{pattern} is a cluster of rings that does not repeat: it has no length")]
    ClusterBySize {
        /// Key of the pattern.
        pattern: String,
    },
}

/// One ring size of an answer.
#[derive(Clone, Debug)]
pub struct RingUsed {
    /// The ring.
    pub ring: AskedRing,
    /// Whether it was not given and follows the pattern's own proportions.
    pub by_proportion: bool,
    /// Rings of this size in a cell.
    pub per_cell: usize,
    /// Rings of this size for the finished piece.
    pub count: Option<u64>,
    /// Mass of one; `None` without a metal.
    pub mass_each: Option<Mass>,
}

/// Answers, from the table where it knows the pattern, otherwise by solving.
///
/// # Errors
/// [`ChainError`] if the rings or the piece do not suit the pattern.
pub fn answer(asked: &ChainAsked) -> Result<ChainAnswer, ChainError> {
    answer_with(asked, &mut Patient)
}

/// As [`answer`], for a caller who wants to be told of progress and to be able to stop.
///
/// # Errors
/// As [`answer`]; also if the watch stops the solve.
pub fn answer_with(asked: &ChainAsked, watch: &mut dyn Watch) -> Result<ChainAnswer, ChainError> {
    let rings = every_size(asked)?;
    let linked = linkage_answer(&asked.pattern, &closed(&rings), Search::default(), watch)?;
    of_linked(asked, &rings, linked)
}

/// As [`answer_with`], its lengths corrected by what measured pieces of the pattern taught.
///
/// # Errors
/// As [`answer_with`].
pub fn answer_corrected(
    asked: &ChainAsked,
    correction: &Correction,
    watch: &mut dyn Watch,
) -> Result<ChainAnswer, ChainError> {
    answer_with(asked, watch)?.corrected(asked, correction)
}

/// As [`answer`], solved by that solver where no table knows the pattern.
///
/// # Errors
/// As [`answer`]; also if the solver gives up.
pub fn answer_by(asked: &ChainAsked, solver: &Solver) -> Result<ChainAnswer, ChainError> {
    answer_until(asked, solver, &mut Patient)
}

/// As [`answer_by`], for a caller who may want to stop it.
///
/// # Errors
/// As [`answer_by`]; also if the watch stops the solve.
pub fn answer_until(
    asked: &ChainAsked,
    solver: &Solver,
    watch: &mut dyn Watch,
) -> Result<ChainAnswer, ChainError> {
    let rings = every_size(asked)?;
    let linked = solver.linked_until(&asked.pattern, &closed(&rings), watch)?;
    of_linked(asked, &rings, linked)
}

fn closed(rings: &[AskedRing]) -> Vec<ClosedRing> {
    rings.iter().map(AskedRing::as_closed).collect()
}

/// The answer of rings that were solved.
fn of_linked(
    asked: &ChainAsked,
    rings: &[AskedRing],
    linked: Linked,
) -> Result<ChainAnswer, ChainError> {
    let pattern = &asked.pattern;
    let counted = Counted::of(&linked, pattern, rings[0].as_closed(), asked.piece)?;
    let density = asked.metal.as_ref().map(|metal| metal.density);
    let used: Vec<RingUsed> = rings
        .iter()
        .enumerate()
        .map(|(size, ring)| {
            let per_cell = linked.rings_per_cell[size];
            let ends = if size == 0 { counted.end_rings } else { 0 };
            RingUsed {
                ring: *ring,
                by_proportion: size >= asked.rings.len(),
                per_cell,
                count: counted.cells.map(|cells| cells.saturating_mul(per_cell as u64) + ends),
                mass_each: density.map(|density| ring.as_closed().mass(density)),
            }
        })
        .collect();
    let rings_in_all = used.iter().map(|ring| ring.count).sum();
    let mass_g: Option<f64> =
        used.iter().map(|ring| Some(ring.mass_each?.g() * ring.count? as f64)).sum();
    Ok(ChainAnswer {
        name: pattern.name().to_owned(),
        title: pattern.spec().title.clone(),
        kind: pattern.kind(),
        rings: used,
        linked,
        piece: asked.piece,
        length: counted.length,
        around: counted.around,
        metal: asked.metal.clone(),
        rings_in_all,
        mass: mass_g.map(Mass::from_g),
    })
}

/// The rings of every size, those left out in the pattern's own proportion.
fn every_size(asked: &ChainAsked) -> Result<Vec<AskedRing>, ChainError> {
    let sizes = asked.pattern.spec().sizes.len();
    let wrong = || QuestionError::RingSizes {
        pattern: asked.pattern.name().to_owned(),
        sizes,
        given: asked.rings.len(),
    };
    let Some(&main) = asked.rings.first().filter(|_| asked.rings.len() <= sizes) else {
        return Err(wrong().into());
    };
    let mut rings = asked.rings.clone();
    for size in rings.len()..sizes {
        rings.push(in_proportion(&asked.pattern, main, size)?);
    }
    Ok(rings)
}

/// A size that was not given, as large to the main one as in the pattern's description.
fn in_proportion(pattern: &Pattern, main: AskedRing, size: usize) -> Result<AskedRing, LimitError> {
    let share = pattern.spec().sizes[size];
    let d_mm = main.wire().diameter().mm();
    let wire_mm = share.wire * d_mm;
    let inside_mm = share.radius * (main.closed_inside().mm() + d_mm) - wire_mm;
    AskedRing::closed(Wire::new(Length::from_mm(wire_mm))?, Length::from_mm(inside_mm))
}

/// Cells and ends of a finished piece.
#[derive(Default)]
struct Counted {
    cells: Option<u64>,
    end_rings: u64,
    length: Option<Length>,
    around: Option<PiecesAround>,
}

impl Counted {
    fn of(
        linked: &Linked,
        pattern: &Pattern,
        main: ClosedRing,
        piece: Option<PieceAsked>,
    ) -> Result<Counted, ChainError> {
        let name = || pattern.name().to_owned();
        let (length, ends) = match (piece, pattern.kind()) {
            (None, Kind::Cluster) => {
                let cells = linked.possible().then_some(1);
                return Ok(Counted { cells, ..Counted::default() });
            }
            (None, _) => return Ok(Counted::default()),
            (Some(_), Kind::Cluster) => return Err(ChainError::ClusterBySize { pattern: name() }),
            (Some(PieceAsked::Sheet { along, across }), Kind::Sheet) => {
                let rings = linked.rings_for_sheet(along, across);
                let per_cell = linked.rings_per_cell.iter().sum::<usize>() as u64;
                let cells = rings.map(|rings| rings / per_cell);
                return Ok(Counted { cells, ..Counted::default() });
            }
            (Some(_), Kind::Sheet) => return Err(ChainError::SheetByLength { pattern: name() }),
            (Some(PieceAsked::Sheet { .. }), _) => {
                return Err(ChainError::ChainByArea { pattern: name() });
            }
            (Some(PieceAsked::Long { length, ends }), _) => (Some(length), ends),
            (Some(PieceAsked::Round { girth, ease, ends }), _) => {
                (linked.length_round(girth, ease), ends)
            }
        };
        let hung = Ends::new(ends.clasp, vec![main; ends.rings as usize])?;
        let around = match length {
            Some(length) => linked.pieces_around(length, &hung)?,
            None => None,
        };
        Ok(Counted {
            cells: around.map(|around| around.above.cells),
            end_rings: u64::from(ends.rings),
            length,
            around,
        })
    }
}

impl ChainAnswer {
    /// The answer to the same question with its lengths corrected by what measured pieces taught; this
    /// one must not be corrected yet.
    ///
    /// # Errors
    /// As [`answer_with`].
    pub fn corrected(
        &self,
        asked: &ChainAsked,
        correction: &Correction,
    ) -> Result<ChainAnswer, ChainError> {
        let rings: Vec<AskedRing> = self.rings.iter().map(|used| used.ring).collect();
        of_linked(asked, &rings, self.linked.corrected(correction))
    }

    /// Whether the pattern can be linked with these rings.
    pub fn possible(&self) -> bool {
        self.linked.possible()
    }

    /// What the lengths rest on, in a few words; what the limit rests on where not possible.
    pub fn basis_in_words(&self) -> String {
        ground_in_words(self.linked.taut.as_ref().map_or(self.linked.limit_ground, |t| t.ground))
    }

    /// Relative tolerance of the lengths; `None` where not possible.
    pub fn tolerance(&self) -> Option<f64> {
        self.linked.taut.as_ref().map(|taut| taut.within)
    }
}

/// Written down, solved with its hit rate, or best found.
pub fn ground_in_words(ground: Ground) -> String {
    match ground {
        Ground::ClosedForm => "closed form".to_owned(),
        Ground::Solved { starts, hits } => format!("solved: {hits} of {starts} searches agree"),
        Ground::BestFound { starts, hits: 0 } => {
            format!("best found: none of {starts} further searches came to it again")
        }
        Ground::BestFound { starts, hits } => {
            format!("best found: {hits} of {starts} searches met it")
        }
        Ground::Measured { pieces: 1 } => "measured: 1 piece".to_owned(),
        Ground::Measured { pieces } => format!("measured: {pieces} pieces"),
        other => format!("{other:?}"),
    }
}
