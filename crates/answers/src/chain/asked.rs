//! What is asked of a pattern: rings as closed or as they leave the blade, a length, a metal.

use linkwright_calc::basis::Basis;
use linkwright_calc::coil::{InsideDiameter, touching_pitch};
use linkwright_calc::limits::LimitError;
use linkwright_calc::metal::Metal;
use linkwright_calc::quantity::{Density, Length};
use linkwright_calc::ring::{Ring, RingError, RingInput};
use linkwright_calc::slit::Kerf;
use linkwright_calc::wire::Wire;
use linkwright_linkage::answer::ClosedRing;
use linkwright_linkage::pattern::Pattern;

/// Width of the slot taken where none is given. Common practice, no source: a thin slitting blade.
pub const ASSUMED_KERF_MM: f64 = 0.25;

/// A question about one pattern.
#[derive(Clone, Debug)]
pub struct ChainAsked {
    /// The pattern.
    pub pattern: Pattern,
    /// Its rings, the main size first; sizes left out follow the pattern's own proportions.
    pub rings: Vec<AskedRing>,
    /// The finished piece, if rings for one are asked for.
    pub piece: Option<PieceAsked>,
    /// The metal, for the mass.
    pub metal: Option<AskedMetal>,
}

/// A finished piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PieceAsked {
    /// A chain of a length over all.
    Long {
        /// Length over all, ends included.
        length: Length,
        /// What hangs at its ends.
        ends: EndsAsked,
    },
    /// A chain that closes round a wrist or a neck.
    Round {
        /// Girth measured.
        girth: Length,
        /// What it is to be longer than that.
        ease: Length,
        /// What hangs at its ends.
        ends: EndsAsked,
    },
    /// A sheet.
    Sheet {
        /// Along the rows.
        along: Length,
        /// Across the rows.
        across: Length,
    },
}

/// What hangs at the ends of a chain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndsAsked {
    /// What the clasp adds to the length; nothing if there is none.
    pub clasp: Length,
    /// End rings of the main size beyond the pattern's own.
    pub rings: u32,
}

impl EndsAsked {
    /// No clasp and no end rings.
    pub const NONE: EndsAsked = EndsAsked { clasp: Length::from_mm(0.0), rings: 0 };
}

/// A ring as the question gives it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AskedRing {
    wire: Wire,
    closed: ClosedRing,
    closed_inside: Length,
    opened: Option<Opened>,
}

/// The ring as it leaves the blade.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opened {
    /// Inside diameter of the open ring, which is that of the coil.
    pub inside: Length,
    /// The slot the blade leaves.
    pub kerf: Kerf,
    /// Whether the kerf was assumed, and not given.
    pub kerf_assumed: bool,
}

/// The metal of a question.
#[derive(Clone, Debug, PartialEq)]
pub struct AskedMetal {
    /// Its name as shown.
    pub name: String,
    /// Its density.
    pub density: Density,
    /// What the density rests on.
    pub basis: Basis,
    /// What to watch about it.
    pub cautions: Vec<String>,
}

impl AskedRing {
    /// A ring whose inside diameter is that of the closed ring.
    ///
    /// # Errors
    /// [`LimitError`] if the inside diameter is outside its limits.
    pub fn closed(wire: Wire, inside: Length) -> Result<AskedRing, LimitError> {
        let closed = ClosedRing::new(wire, inside)?;
        Ok(AskedRing { wire, closed, closed_inside: inside, opened: None })
    }

    /// A ring whose inside diameter is that of the coil it was slit from; it is closed flush, its
    /// turns taken as touching. Without a kerf, [`ASSUMED_KERF_MM`] is taken.
    ///
    /// # Errors
    /// [`RingError`] if such a ring cannot be cut.
    pub fn open(wire: Wire, inside: Length, kerf: Option<Kerf>) -> Result<AskedRing, RingError> {
        let used = match kerf {
            Some(kerf) => kerf,
            None => Kerf::new(Length::from_mm(ASSUMED_KERF_MM))?,
        };
        let pitch = touching_pitch(wire, InsideDiameter::new(inside)?);
        let ring = Ring::cut(RingInput { wire, coil_inside: inside, kerf: used, pitch })?;
        let opened = Opened { inside, kerf: used, kerf_assumed: kerf.is_none() };
        Ok(AskedRing { opened: Some(opened), ..AskedRing::closed(wire, ring.closed_inside())? })
    }

    /// The wire.
    pub const fn wire(&self) -> Wire {
        self.wire
    }

    /// Inside diameter once closed.
    pub const fn closed_inside(&self) -> Length {
        self.closed_inside
    }

    /// The ring as it leaves the blade, if that is what was given.
    pub const fn opened(&self) -> Option<Opened> {
        self.opened
    }

    /// The ring as the solver knows it.
    pub const fn as_closed(&self) -> ClosedRing {
        self.closed
    }
}

impl AskedMetal {
    /// A metal of the catalogue.
    pub fn of(metal: &Metal) -> AskedMetal {
        let density = metal.density();
        let mut cautions: Vec<String> = density.cautions.iter().map(ToString::to_string).collect();
        cautions.extend(metal.skin_caution().map(|caution| caution.to_string()));
        AskedMetal {
            name: metal.trade_name().as_str().to_owned(),
            density: density.value,
            basis: density.basis,
            cautions,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::AskedRing;
    use linkwright_calc::quantity::Length;
    use linkwright_calc::slit::Kerf;
    use linkwright_calc::wire::Wire;

    fn mm(mm: f64) -> Length {
        Length::from_mm(mm)
    }

    #[test]
    fn an_open_ring_is_closed_by_its_kerf() {
        // The check of calc: wire 1.02, coil 4.14, kerf 0.25 closes to 4.071 mm.
        let wire = Wire::new(mm(1.02)).unwrap();
        let ring = AskedRing::open(wire, mm(4.14), Some(Kerf::new(mm(0.25)).unwrap())).unwrap();
        assert!((ring.closed_inside().mm() - 4.071).abs() < 0.001);
        assert!(!ring.opened().unwrap().kerf_assumed);
    }

    #[test]
    fn a_kerf_that_was_not_given_is_said_to_be_assumed() {
        let wire = Wire::new(mm(1.0)).unwrap();
        let ring = AskedRing::open(wire, mm(4.0), None).unwrap();
        assert!(ring.opened().unwrap().kerf_assumed);
        assert!(ring.closed_inside().mm() < 4.0);
    }
}
