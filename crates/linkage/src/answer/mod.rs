//! The answer to a jeweller's question: a pattern, her rings; possible or not, and what comes of it.

mod bend;
mod drawn;
mod finished;
mod last_ring;
mod measured;
mod question;
mod ring;
mod under_load;

pub use bend::TightestBend;
pub use drawn::Drawn;
pub use finished::{Ends, Piece, PiecesAround};
pub use last_ring::{Fits, LastRing};
pub use measured::{Correction, MeasuredError, MeasuredPiece, Reading};
pub use question::{QuestionError, answer};
pub use ring::ClosedRing;
pub use under_load::UnderLoad;

use linkwright_calc::basis::{Basis, Caution, Input};
use linkwright_calc::quantity::{Density, Length, Mass};

use crate::pattern::Pattern;
use crate::pose::Pose;
use crate::solve::{Found, Search};

/// What a number of an answer rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Ground {
    /// Written down, not searched for.
    ClosedForm,
    /// At least half of the climbs agree.
    Solved {
        /// Climbs that ended in a valid pose.
        starts: u32,
        /// Climbs that met the best.
        hits: u32,
    },
    /// Fewer agree: the best found, and perhaps not the last word.
    BestFound {
        /// Climbs that ended in a valid pose.
        starts: u32,
        /// Climbs that met the best.
        hits: u32,
    },
    /// Corrected by pieces that were measured.
    Measured {
        /// How many.
        pieces: u32,
    },
}

impl Ground {
    const fn new(starts: u32, hits: u32) -> Ground {
        if 2 * hits >= starts {
            Ground::Solved { starts, hits }
        } else {
            Ground::BestFound { starts, hits }
        }
    }
}

/// The pattern pulled taut.
#[derive(Clone, Debug, PartialEq)]
pub struct Taut {
    /// Advance per cell along the chain or row.
    pub advance: Length,
    /// For a sheet, advance per cell across the rows.
    pub across: Option<Length>,
    /// Side-on width of a chain.
    pub width: Option<Length>,
    /// Thickness.
    pub thickness: Length,
    /// What a chain of whole cells is longer than its cells; `None` for a sheet.
    pub overhang: Option<Length>,
    /// What the advance rests on.
    pub ground: Ground,
    /// Relative tolerance of the advance: solver and interpolation.
    pub within: f64,
}

/// What a pattern does with the rings asked about.
#[derive(Clone, Debug, PartialEq)]
pub struct Linked {
    /// Inside diameter over wire diameter of the main ring.
    pub aspect_ratio: f64,
    /// Smallest possible one, all sizes thickened alike.
    pub aspect_ratio_min: f64,
    /// What the limit rests on.
    pub limit_ground: Ground,
    /// How much the main ring's inside diameter exceeds the least possible; negative if the rings do
    /// not go together, then it is what is missing.
    pub inside_to_spare: Length,
    /// The pattern pulled taut; `None` if not possible, or for a cluster.
    pub taut: Option<Taut>,
    /// Rings of each size in a cell.
    pub rings_per_cell: Vec<usize>,
    rings: Vec<ClosedRing>,
    /// The pattern with these rings.
    pattern: Pattern,
    search: Search,
    /// What was solved on the spot.
    solved: Option<Found>,
    /// The pose of the thickest wire, if it was solved on the spot.
    slack: Option<Pose>,
    /// The pose pulled taut by closed form, if that was written down; the mean ring's radius is one.
    by_form: Option<Pose>,
    /// What measured pieces taught.
    correction: Option<Correction>,
}

impl Linked {
    /// Whether the pattern can be linked with these rings, rigid and closed.
    ///
    /// At the limit itself the chain is stiff and its last ring cannot be put in.
    pub fn possible(&self) -> bool {
        self.inside_to_spare.mm() >= 0.0
    }

    /// Rings of all sizes in one cell.
    fn per_cell(&self) -> f64 {
        self.rings_per_cell.iter().sum::<usize>() as f64
    }

    /// Rings of all sizes per centimetre of a chain; `None` for a sheet or where not possible.
    ///
    /// # Units
    /// Per centimetre.
    /// # Validity
    /// Taut, without end rings.
    /// # Source
    /// Rings per cell over advance per cell.
    pub fn rings_per_cm(&self) -> Option<f64> {
        let taut = self.taut.as_ref().filter(|taut| taut.across.is_none())?;
        Some(self.per_cell() * 10.0 / taut.advance.mm())
    }

    /// Rings of all sizes per inch of a chain.
    ///
    /// # Units
    /// Per inch of exactly 25.4 mm.
    /// # Validity
    /// As [`rings_per_cm`](Linked::rings_per_cm).
    /// # Source
    /// As [`rings_per_cm`](Linked::rings_per_cm).
    pub fn rings_per_inch(&self) -> Option<f64> {
        let taut = self.taut.as_ref().filter(|taut| taut.across.is_none())?;
        Some(self.per_cell() / taut.advance.inches())
    }

    /// Rings of all sizes per square centimetre of a sheet; `None` for a chain.
    ///
    /// # Units
    /// Per square centimetre.
    /// # Validity
    /// The sheet pulled along its rows.
    /// # Source
    /// Rings per cell over area per cell.
    pub fn rings_per_cm2(&self) -> Option<f64> {
        let taut = self.taut.as_ref()?;
        Some(self.per_cell() * 100.0 / (taut.advance.mm() * taut.across?.mm()))
    }

    /// Mass of one cell.
    fn cell_mass_g(&self, density: Density) -> f64 {
        let counted = self.rings.iter().zip(&self.rings_per_cell);
        counted.map(|(ring, &count)| ring.mass(density).g() * count as f64).sum()
    }

    /// Mass of a centimetre of chain; `None` for a sheet.
    ///
    /// # Units
    /// Grams per centimetre.
    /// # Validity
    /// One metal; taut, without end rings.
    /// # Source
    /// Mass per cell over advance per cell.
    pub fn mass_per_cm(&self, density: Density) -> Option<Mass> {
        let taut = self.taut.as_ref().filter(|taut| taut.across.is_none())?;
        Some(Mass::from_g(self.cell_mass_g(density) * 10.0 / taut.advance.mm()))
    }

    /// Mass of a square centimetre of sheet; `None` for a chain.
    ///
    /// # Units
    /// Grams per square centimetre.
    /// # Validity
    /// One metal; the sheet pulled along its rows.
    /// # Source
    /// Mass per cell over area per cell.
    pub fn mass_per_cm2(&self, density: Density) -> Option<Mass> {
        let per_cm2 = self.rings_per_cm2()?;
        Some(Mass::from_g(self.cell_mass_g(density) * per_cm2 / self.per_cell()))
    }

    /// Fewest rings of all sizes, in whole cells, that reach a length without clasp and end rings.
    ///
    /// # Units
    /// A length in, rings out.
    /// # Validity
    /// Pulled taut; `None` for a sheet, where not possible, or for no length at all. See
    /// [`pieces_around`](Linked::pieces_around) for the piece below, clasps and end rings.
    /// # Source
    /// As [`piece`](Linked::piece).
    pub fn rings_for(&self, length: Length) -> Option<u64> {
        let around = self.pieces_around(length, &Ends::NONE).ok()??;
        Some(around.above.rings)
    }

    /// What the length rests on, in the words every page uses, with the sum behind it.
    pub fn basis(&self) -> Basis {
        self.corrected_basis().unwrap_or_else(|| self.worked_out_basis())
    }

    fn worked_out_basis(&self) -> Basis {
        Basis::worked_out(
            "rings per length = rings per cell / greatest advance per cell of touching rigid rings",
            match self.taut.as_ref().map(|taut| taut.ground) {
                Some(Ground::ClosedForm) => "closed form, docs/theory/chain.md, section 7",
                _ => "contact geometry, docs/theory/chain.md",
            },
            vec![
                Input::new("aspect ratio", self.aspect_ratio, "-", Basis::assumed("as given")),
                Input::new(
                    "smallest aspect ratio",
                    self.aspect_ratio_min,
                    "-",
                    match self.limit_ground {
                        Ground::ClosedForm => Basis::worked_out(
                            "all wires thickened alike until a ring is full",
                            "closed form",
                            vec![],
                        ),
                        _ => Basis::worked_out(
                            "wire grown until the rings lock",
                            "contact geometry",
                            vec![],
                        ),
                    },
                ),
            ],
        )
    }

    /// What to watch: a best found that few climbs met, rings too close to the limit to be put in.
    pub fn cautions(&self) -> Vec<Caution> {
        let mut cautions = Vec::new();
        let spare = self.aspect_ratio - self.aspect_ratio_min;
        if self.possible() && spare < MARGIN {
            cautions.push(Caution::Note(format!(
                "only {spare:.2} above the smallest aspect ratio: stiff, and the last ring may not go in; \
                 makers leave 0.1 to 0.3 (common practice, no source)"
            )));
        }
        if let Some(Ground::BestFound { starts, hits }) = self.taut.as_ref().map(|taut| taut.ground)
        {
            cautions.push(Caution::Note(format!(
                "the length is the best found: {hits} of {starts} searches met it"
            )));
        }
        cautions
    }
}

/// Aspect ratio to spare below which a caution is given. Common practice, no source: 0.1 to 0.3.
const MARGIN: f64 = 0.1;

#[cfg(test)]
mod tests {
    use super::{ClosedRing, Ground, Linked, QuestionError, answer};
    use crate::pattern::{Pattern, craft};
    use crate::solve::{Patient, Search};
    use linkwright_calc::quantity::{Density, Length};
    use linkwright_calc::wire::Wire;

    fn ring(d_mm: f64, inside_mm: f64) -> ClosedRing {
        let wire = Wire::new(Length::from_mm(d_mm)).expect("within limits");
        ClosedRing::new(wire, Length::from_mm(inside_mm)).expect("within limits")
    }

    fn ask(name: &str, rings: &[ClosedRing]) -> Result<Linked, QuestionError> {
        let pattern = Pattern::new(craft::named(name).expect("known")).expect("valid");
        answer(&pattern, rings, Search { starts: 4, seed: 1 }, &mut Patient)
    }

    #[test]
    fn everything_scales_with_the_wire() {
        let one = ask("half_persian_3in1", &[ring(1.0, 5.0)]).expect("answered");
        let two = ask("half_persian_3in1", &[ring(2.0, 10.0)]).expect("answered");
        let (a, b) = (one.taut.expect("possible"), two.taut.expect("possible"));
        // Rounding of one product.
        assert!((b.advance.mm() - 2.0 * a.advance.mm()).abs() < 1e-12);
        assert!((b.thickness.mm() - 2.0 * a.thickness.mm()).abs() < 1e-12);
    }

    #[test]
    fn rings_that_do_not_go_together_are_told_by_how_much() {
        let linked = ask("double_2in2", &[ring(1.0, 2.5)]).expect("answered");
        assert!(!linked.possible());
        assert!(linked.taut.is_none() && linked.rings_per_cm().is_none());
        // The limit is 2.6213 wires, so a tenth of a millimetre and a little is missing.
        assert!((linked.inside_to_spare.mm() + 0.1213).abs() < 1e-4);
    }

    #[test]
    fn two_sizes_of_ring_in_two_wires_are_told_by_closed_form() {
        // Alternating sizes add their inside diameters where the wires are equal; with a thinner
        // small ring the two hops are half of both insides and a half each of the wires more.
        let linked = ask("large_and_small", &[ring(1.0, 6.0), ring(0.8, 3.5)]).expect("answered");
        let advance = linked.taut.as_ref().expect("possible").advance.mm();
        // Hop: R_a + R_b - (d_a + d_b)/2 = (6 + 3.5)/2; two hops a cell.
        assert!((advance - 9.5).abs() < 1e-9, "{advance}");
        assert_eq!(linked.limit_ground, Ground::ClosedForm);
        assert_eq!(linked.taut.as_ref().map(|taut| taut.ground), Some(Ground::ClosedForm));
        // A whole ring of either kind beyond the hops: 6 + 2 and 3.5 + 1.6, halved, for two cells.
        let overhang = linked.taut.as_ref().and_then(|taut| taut.overhang).expect("a chain");
        assert!((overhang.mm() - 1.8).abs() < 1e-9, "{overhang:?}");
        let mass = linked.mass_per_cm(Density::from_g_cm3(10.0)).expect("a chain").g();
        let by_hand = (ring(1.0, 6.0).mass(Density::from_g_cm3(10.0)).g()
            + ring(0.8, 3.5).mass(Density::from_g_cm3(10.0)).g())
            / 0.95;
        assert!((mass - by_hand).abs() < 1e-3 * by_hand);
    }

    #[test]
    fn a_sheet_counts_by_area_and_not_by_length() {
        let linked = ask("european_4in1_sheet", &[ring(1.0, 4.0)]).expect("answered");
        assert_eq!(linked.rings_per_cm(), None);
        // Two rings per px py = 3 sqrt 2 times 6 square millimetres.
        let per_cm2 = 200.0 / (3.0 * 2.0_f64.sqrt() * 6.0);
        assert!((linked.rings_per_cm2().expect("a sheet") - per_cm2).abs() < 1e-3 * per_cm2);
    }

    #[test]
    fn a_length_is_made_of_whole_cells() {
        let linked = ask("double_2in2", &[ring(1.0, 4.0)]).expect("answered");
        // 180 mm, less two wires and a little at the ends, over 3.8315 mm a pair: more than 46 pairs.
        assert_eq!(linked.rings_for(Length::from_mm(180.0)), Some(94));
        assert!(matches!(linked.limit_ground, Ground::Solved { .. }));
    }

    #[test]
    fn the_wrong_number_of_sizes_is_refused() {
        let error = ask("large_and_small", &[ring(1.0, 6.0)]).expect_err("one ring is missing");
        assert_eq!(error.to_string(), "large_and_small takes 2 ring sizes; 1 were given");
    }

    #[test]
    fn rings_at_the_limit_come_with_a_caution() {
        let linked = ask("double_2in2", &[ring(1.0, 2.65)]).expect("answered");
        assert!(linked.possible());
        assert!(linked.cautions()[0].to_string().contains("the last ring may not go in"));
    }
}
