//! Pieces of a finished length: whole cells, end rings, clasp.

use std::f64::consts::PI;

use linkwright_calc::limits::{LENGTH, LimitError};
use linkwright_calc::quantity::{Density, Length, Mass};

use super::{ClosedRing, Linked};

/// What hangs at the ends of a chain beyond its own rings.
#[derive(Clone, Debug, PartialEq)]
pub struct Ends {
    clasp: Length,
    rings: Vec<ClosedRing>,
}

/// So many whole cells, and the length they come to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// Cells of the pattern.
    pub cells: u64,
    /// Rings of all sizes in them, end rings not counted.
    pub rings: u64,
    /// Length over all, pulled taut, with end rings and clasp.
    pub length: Length,
}

/// The pieces on both sides of a wanted length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PiecesAround {
    /// Most cells that stay within the length; none if not even one does.
    pub below: Option<Piece>,
    /// Fewest cells that reach it.
    pub above: Piece,
}

impl Ends {
    /// No clasp, no end rings.
    pub const NONE: Ends = Ends { clasp: Length::from_mm(0.0), rings: Vec::new() };

    /// A clasp, given by what it adds to the length, and end rings, each linked into the last ring at
    /// its end (or into another end ring).
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// `clasp` within [`LENGTH`].
    /// # Errors
    /// [`LimitError`] if the clasp is outside it.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::quantity::Length;
    /// use linkwright_linkage::answer::Ends;
    /// assert_eq!(Ends::new(Length::from_mm(0.0), vec![]).unwrap(), Ends::NONE);
    /// assert!(Ends::new(Length::from_mm(-12.0), vec![]).is_err());
    /// ```
    pub fn new(clasp: Length, rings: Vec<ClosedRing>) -> Result<Ends, LimitError> {
        LENGTH.named("clasp_mm").check(clasp.mm())?;
        Ok(Ends { clasp, rings })
    }

    /// The end rings.
    pub fn rings(&self) -> &[ClosedRing] {
        &self.rings
    }

    /// What they add to a chain of which the last ring is of wire `d`.
    ///
    /// Two linked rings have centres half of both inside diameters apart, so that one more ring of
    /// wire `de` brings its inside diameter and `de - d` for the wire now outermost.
    fn adds_mm(&self, d_mm: f64) -> f64 {
        let ring = |ring: &ClosedRing| ring.inside().mm() + ring.wire().diameter().mm() - d_mm;
        self.clasp.mm() + self.rings.iter().map(ring).sum::<f64>()
    }
}

impl PiecesAround {
    /// The piece whose length is nearest to `length`; of two equally near, the shorter.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// `length` is the one these were worked out for.
    /// # Source
    /// Definition.
    pub fn nearest(self, length: Length) -> Piece {
        match self.below {
            Some(below)
                if length.mm() - below.length.mm() <= self.above.length.mm() - length.mm() =>
            {
                below
            }
            _ => self.above,
        }
    }
}

impl Linked {
    /// Length over all of so many cells of chain with its ends: `n L + ends`.
    ///
    /// The end rings of a chain reach out beyond its last cells ([`overhang`]): for a cable chain the
    /// length is `N ID + 2 d`.
    ///
    /// [`overhang`]: crate::extent::overhang
    ///
    /// # Units
    /// A count in, a length out.
    /// # Validity
    /// Pulled taut; `None` for a sheet or where not possible. Loose end rings may hang out further.
    /// # Source
    /// Extent of the solved pose; `docs/theory/chain.md`, section 9.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, wire::Wire};
    /// use linkwright_linkage::answer::{answer, ClosedRing, Ends};
    /// use linkwright_linkage::{pattern::{craft, Pattern}, solve::{Patient, Search}};
    /// let mm = Length::from_mm;
    /// let ring = ClosedRing::new(Wire::new(mm(1.0)).unwrap(), mm(4.0)).unwrap();
    /// let cable = Pattern::new(craft::named("cable_1in1").unwrap()).unwrap();
    /// let linked = answer(&cable, &[ring], Search::default(), &mut Patient).unwrap();
    /// let clasp = Ends::new(mm(12.0), vec![ring]).unwrap();
    /// // 100 rings and the end ring of 4 mm each, two wires, the clasp.
    /// let piece = linked.piece(100, &clasp).unwrap();
    /// assert!((piece.length.mm() - (101.0 * 4.0 + 2.0 + 12.0)).abs() < 0.05);
    /// ```
    pub fn piece(&self, cells: u64, ends: &Ends) -> Option<Piece> {
        let (advance_mm, ends_mm) = self.advance_and_ends_mm(ends)?;
        let own_mm = if cells == 0 { 0.0 } else { cells as f64 * advance_mm + ends_mm };
        let per_cell = self.rings_per_cell.iter().sum::<usize>() as u64;
        Some(Piece { cells, rings: cells * per_cell, length: Length::from_mm(own_mm) })
    }

    /// The pieces of whole cells on both sides of a wanted length over all.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// As [`piece`](Linked::piece). A length met to a part in a million counts as met: below and above
    /// are then one.
    /// # Errors
    /// [`LimitError`] if the length is outside [`LENGTH`].
    /// # Source
    /// Inverse of [`piece`](Linked::piece).
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, wire::Wire};
    /// use linkwright_linkage::answer::{answer, ClosedRing, Ends};
    /// use linkwright_linkage::{pattern::{craft, Pattern}, solve::{Patient, Search}};
    /// let mm = Length::from_mm;
    /// let ring = ClosedRing::new(Wire::new(mm(1.0)).unwrap(), mm(4.0)).unwrap();
    /// let doubled = Pattern::new(craft::named("double_2in2").unwrap()).unwrap();
    /// let linked = answer(&doubled, &[ring], Search::default(), &mut Patient).unwrap();
    /// // 180 mm, less about two wires at the ends, over 3.8315 mm a pair.
    /// let around = linked.pieces_around(mm(180.0), &Ends::NONE).unwrap().unwrap();
    /// assert_eq!((around.below.unwrap().cells, around.above.cells), (46, 47));
    /// ```
    pub fn pieces_around(
        &self,
        length: Length,
        ends: &Ends,
    ) -> Result<Option<PiecesAround>, LimitError> {
        let length_mm = LENGTH.check(length.mm())?;
        let Some((advance_mm, ends_mm)) = self.advance_and_ends_mm(ends) else {
            return Ok(None);
        };
        let cells = (length_mm - ends_mm) / advance_mm;
        let slack = MET_WITHIN * length_mm / advance_mm;
        let at = |cells: f64| {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "whole and positive; `as` saturates"
            )]
            let cells = cells as u64;
            self.piece(cells, ends)
        };
        let below = (cells + slack).floor();
        let below = if below >= 1.0 { at(below) } else { None };
        let above = at((cells - slack).ceil().max(1.0));
        Ok(above.map(|above| PiecesAround { below, above }))
    }

    /// Length over all of a piece counted by its rings.
    ///
    /// # Units
    /// A count in, a length out.
    /// # Validity
    /// As [`piece`](Linked::piece) for whole cells; between them the length is shared out evenly.
    /// # Source
    /// As [`piece`](Linked::piece).
    pub fn length_of_rings(&self, rings: u64, ends: &Ends) -> Option<Length> {
        let (advance_mm, ends_mm) = self.advance_and_ends_mm(ends)?;
        let cells = rings as f64 / self.per_cell();
        Some(Length::from_mm(if rings == 0 { 0.0 } else { cells * advance_mm + ends_mm }))
    }

    /// Mass of a piece: its rings and the end rings, the clasp left out.
    ///
    /// # Units
    /// Grams.
    /// # Validity
    /// One metal.
    /// # Source
    /// Sum of the rings.
    pub fn piece_mass(&self, piece: Piece, ends: &Ends, density: Density) -> Mass {
        let end_rings: f64 = ends.rings.iter().map(|ring| ring.mass(density).g()).sum();
        Mass::from_g(self.cell_mass_g(density) * piece.cells as f64 + end_rings)
    }

    /// Finished length that closes round a wrist, an ankle or a neck.
    ///
    /// A chain of thickness `t` laid round a girth `C` has its middle line `t/2` further out, where it
    /// measures `C + pi t`; to that comes the ease one wants.
    ///
    /// # Units
    /// Lengths.
    /// # Validity
    /// The chain lies on its broad side and bends that far; `None` for a sheet or where not possible.
    /// How much ease is liked is for the wearer to say.
    /// # Source
    /// Circumference of a circle; own derivation.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, wire::Wire};
    /// use linkwright_linkage::answer::{answer, ClosedRing};
    /// use linkwright_linkage::{pattern::{craft, Pattern}, solve::{Patient, Search}};
    /// let mm = Length::from_mm;
    /// let ring = ClosedRing::new(Wire::new(mm(1.0)).unwrap(), mm(4.0)).unwrap();
    /// let strip = Pattern::new(craft::named("european_4in1_strip3").unwrap()).unwrap();
    /// let linked = answer(&strip, &[ring], Search::default(), &mut Patient).unwrap();
    /// let thickness = linked.taut.as_ref().unwrap().thickness.mm();
    /// let round = linked.length_round(mm(160.0), mm(12.0)).unwrap();
    /// assert!((round.mm() - (172.0 + std::f64::consts::PI * thickness)).abs() < 1e-9);
    /// ```
    pub fn length_round(&self, girth: Length, ease: Length) -> Option<Length> {
        let taut = self.taut.as_ref().filter(|taut| taut.across.is_none())?;
        Some(Length::from_mm(girth.mm() + ease.mm() + PI * taut.thickness.mm()))
    }

    /// Rings of all sizes for a sheet of a given size, rounded up to whole cells both ways.
    ///
    /// # Units
    /// Lengths.
    /// # Validity
    /// The sheet pulled along its rows, that is `along`; `None` for a chain. What the edge rings reach
    /// out further is left out, less than a ring.
    /// # Source
    /// Size over advance, both ways.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, wire::Wire};
    /// use linkwright_linkage::answer::{answer, ClosedRing};
    /// use linkwright_linkage::{pattern::{craft, Pattern}, solve::{Patient, Search}};
    /// let mm = Length::from_mm;
    /// let ring = ClosedRing::new(Wire::new(mm(1.0)).unwrap(), mm(4.0)).unwrap();
    /// let sheet = Pattern::new(craft::named("european_4in1_sheet").unwrap()).unwrap();
    /// let linked = answer(&sheet, &[ring], Search::default(), &mut Patient).unwrap();
    /// // 42.4 mm hold ten row pitches of 4.2426 mm, 30 mm five pairs of rows 6 mm apart.
    /// assert_eq!(linked.rings_for_sheet(mm(42.4), mm(29.9)), Some(2 * 10 * 5));
    /// ```
    pub fn rings_for_sheet(&self, along: Length, across: Length) -> Option<u64> {
        let taut = self.taut.as_ref()?;
        let steps = |size: Length, step: Length| (size.mm().max(0.0) / step.mm()).ceil();
        let cells = steps(along, taut.advance) * steps(across, taut.across?);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "`as` saturates; the count is positive"
        )]
        Some((cells * self.per_cell()) as u64)
    }

    /// Advance per cell, and all that a chain is longer than its cells.
    fn advance_and_ends_mm(&self, ends: &Ends) -> Option<(f64, f64)> {
        let taut = self.taut.as_ref()?;
        let d_mm = self.rings.first()?.wire().diameter().mm();
        Some((taut.advance.mm(), taut.overhang?.mm() + ends.adds_mm(d_mm)))
    }
}

/// Share of a wanted length within which it counts as met: far below what can be measured.
const MET_WITHIN: f64 = 1e-6;

#[cfg(test)]
mod tests {
    use linkwright_calc::quantity::Length;
    use linkwright_calc::ring::StraightChain;
    use linkwright_calc::wire::Wire;

    use super::Ends;
    use crate::answer::{ClosedRing, Linked, answer};
    use crate::pattern::{Pattern, craft};
    use crate::solve::{Patient, Search};

    const MM: fn(f64) -> Length = Length::from_mm;

    fn ring(d_mm: f64, inside_mm: f64) -> ClosedRing {
        ClosedRing::new(Wire::new(MM(d_mm)).expect("within limits"), MM(inside_mm)).expect("ring")
    }

    fn ask(name: &str, ring: ClosedRing) -> Linked {
        let pattern = Pattern::new(craft::named(name).expect("known")).expect("valid");
        answer(&pattern, &[ring], Search { starts: 4, seed: 1 }, &mut Patient).expect("answered")
    }

    #[test]
    fn a_cable_chain_is_as_long_as_the_ring_module_says() {
        let ring = ring(1.02, 4.0706);
        let straight = StraightChain::new(ring.wire(), ring.inside(), MM(12.0)).expect("a chain");
        let clasp = Ends::new(MM(12.0), vec![]).expect("a clasp");
        let linked = ask("cable_1in1", ring);
        for rings in [1, 2, 107] {
            let piece = linked.piece(u64::from(rings), &clasp).expect("a chain");
            // Two rings of a wire here hang 2e-4 of a turn off the line at most.
            let off = piece.length.mm() - straight.length(rings).mm();
            assert!(off.abs() < 1e-3, "{rings}: {off}");
        }
        let around = linked.pieces_around(MM(450.0), &clasp).expect("a length").expect("a chain");
        let offer = straight.rings_for_length(MM(450.0)).expect("a length");
        assert_eq!(around.nearest(MM(450.0)).cells, u64::from(offer.nearest(MM(450.0)).rings));
    }

    #[test]
    fn end_rings_of_the_chains_own_size_are_one_more_ring_each() {
        let ring = ring(1.0, 4.0);
        let linked = ask("cable_1in1", ring);
        let ends = Ends::new(MM(0.0), vec![ring, ring]).expect("two rings");
        let (with, without) = (linked.piece(50, &ends), linked.piece(52, &Ends::NONE));
        let (with, without) = (with.expect("a chain"), without.expect("a chain"));
        assert!((with.length.mm() - without.length.mm()).abs() < 1e-3);
        assert_eq!((with.rings, without.rings), (50, 52));
    }

    #[test]
    fn the_length_of_a_piece_finds_the_piece_again() {
        for name in ["byzantine", "box", "half_persian_4in1", "european_4in1_strip3"] {
            let linked = ask(name, ring(1.2, 7.2));
            let ends = Ends::new(MM(9.0), vec![ring(1.0, 5.0)]).expect("ends");
            for cells in [1, 7, 40] {
                let piece = linked.piece(cells, &ends).expect("a chain");
                let around = linked.pieces_around(piece.length, &ends).expect("length");
                let around = around.expect("a chain");
                assert_eq!(around.below.map(|below| below.cells), Some(cells), "{name}");
                assert_eq!(around.above.cells, cells, "{name}");
                assert_eq!(linked.length_of_rings(piece.rings, &ends), Some(piece.length));
            }
        }
    }

    #[test]
    fn the_ends_of_a_chain_reach_out_at_least_two_wires_and_at_most_a_ring_and_a_cell() {
        for spec in craft::all() {
            let pattern = Pattern::new(spec).expect("valid");
            if pattern.spec().sizes.len() > 1 {
                continue;
            }
            let linked = ask(pattern.name(), ring(1.0, 6.0));
            let Some(overhang) = linked.taut.as_ref().and_then(|taut| taut.overhang) else {
                continue;
            };
            let advance = linked.taut.as_ref().expect("taut").advance.mm();
            assert!(overhang.mm() > 2.0 - 1e-3, "{}: {}", pattern.name(), overhang.mm());
            assert!(overhang.mm() < 8.0 + advance, "{}: {}", pattern.name(), overhang.mm());
        }
    }
}
