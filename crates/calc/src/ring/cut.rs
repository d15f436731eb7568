//! One turn of the coil once the blade has taken its kerf: sizes open and closed, seam, mass.

use std::f64::consts::PI;

use super::RingError;
use crate::coil::Pitch;
use crate::limits::INSIDE_DIAMETER;
use crate::quantity::{Density, Length, Mass};
use crate::slit::Kerf;
use crate::wire::Wire;

/// What decides a ring, as measured at the bench.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RingInput {
    /// The wire.
    pub wire: Wire,
    /// Inside diameter of the coil after it has sprung open.
    pub coil_inside: Length,
    /// The slot the blade leaves.
    pub kerf: Kerf,
    /// Advance of the sprung coil per turn.
    pub pitch: Pitch,
}

/// A ring cut from a coil, open and closed.
///
/// `d` wire diameter, `ID` inside diameter of the coil, `rho = (ID + d)/2`, `k` kerf, `p` pitch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ring {
    wire: Wire,
    coil_inside: Length,
    kerf: Kerf,
    turn_length: Length,
    removed_length: Length,
}

impl Ring {
    /// Cuts one ring from a coil.
    ///
    /// `L = hypot(2 pi rho, p)`; the blade takes `ck = 2 rho asin(k/(2 rho)) L/(2 pi rho)` of it.
    ///
    /// # Units
    /// Lengths.
    /// # Validity
    /// A parallel slot along the coil, plane through the coil's axis; `k < ID`, `p >= d`.
    /// # Errors
    /// [`RingError::Limit`] if the inside diameter is outside [`INSIDE_DIAMETER`];
    /// [`RingError::KerfAcrossRing`] if `k >= ID`; [`RingError::PitchBelowWire`] if `p < d`.
    /// # Source
    /// Circular helix less a slab; own derivation, `docs/theory/ring.md`, section 1.
    ///
    /// ```
    /// use linkwright_calc::{coil::Pitch, quantity::{Density, Length}, ring::{Ring, RingInput}};
    /// use linkwright_calc::{slit::Kerf, wire::Wire};
    /// // Sterling 1.02 mm, coil 4.14 inside, kerf 0.25: closes to 4.071, weighs 0.1354 g.
    /// let ring = Ring::cut(RingInput {
    ///     wire: Wire::new(Length::from_mm(1.02)).unwrap(),
    ///     coil_inside: Length::from_mm(4.14),
    ///     kerf: Kerf::new(Length::from_mm(0.25)).unwrap(),
    ///     pitch: Pitch::new(Length::from_mm(1.0302)).unwrap(),
    /// }).unwrap();
    /// assert!((ring.closed_inside().mm() - 4.071).abs() < 0.0005);
    /// assert!((ring.mass(Density::from_g_cm3(10.36)).g() - 0.1354).abs() < 0.00005);
    /// ```
    pub fn cut(input: RingInput) -> Result<Ring, RingError> {
        let RingInput { wire, coil_inside, kerf, pitch } = input;
        let d_mm = wire.diameter().mm();
        let id_mm = INSIDE_DIAMETER.named("coil_inside_diameter_mm").check(coil_inside.mm())?;
        let k_mm = kerf.width().mm();
        let p_mm = pitch.advance().mm();
        if k_mm >= id_mm {
            return Err(RingError::KerfAcrossRing { kerf_mm: k_mm, inside_diameter_mm: id_mm });
        }
        if p_mm < d_mm {
            return Err(RingError::PitchBelowWire { pitch_mm: p_mm, wire_diameter_mm: d_mm });
        }
        let rho_mm = (id_mm + d_mm) / 2.0;
        let l_mm = (2.0 * PI * rho_mm).hypot(p_mm);
        let ck_mm = l_mm * (k_mm / (2.0 * rho_mm)).asin() / PI;
        Ok(Ring {
            wire,
            coil_inside,
            kerf,
            turn_length: Length::from_mm(l_mm),
            removed_length: Length::from_mm(ck_mm),
        })
    }

    /// The wire.
    pub const fn wire(self) -> Wire {
        self.wire
    }

    /// Inside diameter of the coil, which is that of the ring as it falls from the blade.
    pub const fn coil_inside(self) -> Length {
        self.coil_inside
    }

    /// Wire in one turn of the coil, kerf included.
    pub const fn turn_length(self) -> Length {
        self.turn_length
    }

    /// Wire the blade takes from one turn, along its centre line.
    pub const fn removed_length(self) -> Length {
        self.removed_length
    }

    /// Wire in the ring, along its centre line: turn length less kerf.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// As [`cut`](Ring::cut).
    /// # Source
    /// `docs/theory/ring.md`, section 1.
    ///
    /// ```
    /// # use linkwright_calc::{coil::Pitch, quantity::Length, ring::{Ring, RingInput}};
    /// # use linkwright_calc::{slit::Kerf, wire::Wire};
    /// let ring = Ring::cut(RingInput {
    ///     wire: Wire::new(Length::from_mm(2.053)).unwrap(),
    ///     coil_inside: Length::from_mm(9.6),
    ///     kerf: Kerf::new(Length::from_mm(0.5)).unwrap(),
    ///     pitch: Pitch::new(Length::from_mm(2.06)).unwrap(),
    /// }).unwrap();
    /// assert!((ring.ring_length().mm() - 36.166).abs() < 0.0005);
    /// ```
    pub fn ring_length(self) -> Length {
        self.turn_length - self.removed_length
    }

    /// Inside diameter once the faces meet flush: `ID_c = L_ring/pi - d`.
    ///
    /// To first order `ID - k/pi + p^2/(4 pi^2 rho)`: the kerf takes, the helix gives a little back.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// The ring is pushed round and flat, its faces flush; a parallel slot leaves the
    /// [seam V](Ring::seam_v) instead, so the true ring lies between this and
    /// [`first_touch_inside`](Ring::first_touch_inside).
    /// # Source
    /// The wire keeps its length; own derivation, `docs/theory/ring.md`, section 2.
    ///
    /// ```
    /// # use linkwright_calc::{coil::Pitch, quantity::Length, ring::{Ring, RingInput}};
    /// # use linkwright_calc::{slit::Kerf, wire::Wire};
    /// let ring = Ring::cut(RingInput {
    ///     wire: Wire::new(Length::from_mm(1.29)).unwrap(),
    ///     coil_inside: Length::from_mm(5.0),
    ///     kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
    ///     pitch: Pitch::new(Length::from_mm(1.29)).unwrap(),
    /// }).unwrap();
    /// assert!((ring.closed_inside().mm() - 4.918).abs() < 0.0005);
    /// ```
    pub fn closed_inside(self) -> Length {
        Length::from_mm(self.ring_length().mm() / PI) - self.wire.diameter()
    }

    /// Outside diameter once the faces meet flush: inside plus two wires.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// As [`closed_inside`](Ring::closed_inside).
    /// # Source
    /// Definition.
    ///
    /// ```
    /// # use linkwright_calc::{coil::Pitch, quantity::Length, ring::{Ring, RingInput}};
    /// # use linkwright_calc::{slit::Kerf, wire::Wire};
    /// let ring = Ring::cut(RingInput {
    ///     wire: Wire::new(Length::from_mm(2.053)).unwrap(),
    ///     coil_inside: Length::from_mm(9.6),
    ///     kerf: Kerf::new(Length::from_mm(0.5)).unwrap(),
    ///     pitch: Pitch::new(Length::from_mm(2.06)).unwrap(),
    /// }).unwrap();
    /// assert!((ring.closed_outside().mm() - 13.565).abs() < 0.0005);
    /// ```
    pub fn closed_outside(self) -> Length {
        self.closed_inside() + self.wire.diameter() + self.wire.diameter()
    }

    /// Aspect ratio as wound: coil inside diameter over wire diameter.
    ///
    /// # Units
    /// A plain number.
    /// # Validity
    /// Any ring.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// # use linkwright_calc::{coil::Pitch, quantity::Length, ring::{Ring, RingInput}};
    /// # use linkwright_calc::{slit::Kerf, wire::Wire};
    /// let ring = Ring::cut(RingInput {
    ///     wire: Wire::new(Length::from_mm(2.053)).unwrap(),
    ///     coil_inside: Length::from_mm(9.6),
    ///     kerf: Kerf::new(Length::from_mm(0.5)).unwrap(),
    ///     pitch: Pitch::new(Length::from_mm(2.06)).unwrap(),
    /// }).unwrap();
    /// assert!((ring.aspect_ratio_as_wound() - 4.676).abs() < 0.0005);
    /// ```
    pub fn aspect_ratio_as_wound(self) -> f64 {
        self.coil_inside.mm() / self.wire.diameter().mm()
    }

    /// Aspect ratio as closed: closed inside diameter over wire diameter; the one that decides
    /// whether a pattern goes together.
    ///
    /// # Units
    /// A plain number.
    /// # Validity
    /// As [`closed_inside`](Ring::closed_inside).
    /// # Source
    /// Definition.
    ///
    /// ```
    /// # use linkwright_calc::{coil::Pitch, quantity::Length, ring::{Ring, RingInput}};
    /// # use linkwright_calc::{slit::Kerf, wire::Wire};
    /// let ring = Ring::cut(RingInput {
    ///     wire: Wire::new(Length::from_mm(2.053)).unwrap(),
    ///     coil_inside: Length::from_mm(9.6),
    ///     kerf: Kerf::new(Length::from_mm(0.5)).unwrap(),
    ///     pitch: Pitch::new(Length::from_mm(2.06)).unwrap(),
    /// }).unwrap();
    /// assert!((ring.aspect_ratio() - 4.607).abs() < 0.0005);
    /// ```
    pub fn aspect_ratio(self) -> f64 {
        self.closed_inside().mm() / self.wire.diameter().mm()
    }

    /// Width of the V left open at the inside of the seam when the outer edges meet:
    /// `v = d k / rho`.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// Closing bends the whole ring evenly; [`Closing::seam_v`](super::Closing::seam_v) has the
    /// other cases. Nothing is filed or pressed flat.
    /// # Source
    /// Own derivation, `docs/theory/ring.md`, section 3.
    ///
    /// ```
    /// # use linkwright_calc::{coil::Pitch, quantity::Length, ring::{Ring, RingInput}};
    /// # use linkwright_calc::{slit::Kerf, wire::Wire};
    /// let ring = Ring::cut(RingInput {
    ///     wire: Wire::new(Length::from_mm(1.29)).unwrap(),
    ///     coil_inside: Length::from_mm(5.0),
    ///     kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
    ///     pitch: Pitch::new(Length::from_mm(1.29)).unwrap(),
    /// }).unwrap();
    /// assert!((ring.seam_v().mm() - 0.123).abs() < 0.0005);
    /// ```
    pub fn seam_v(self) -> Length {
        let d_mm = self.wire.diameter().mm();
        let rho_mm = (self.coil_inside.mm() + d_mm) / 2.0;
        Length::from_mm(d_mm * self.kerf.width().mm() / rho_mm)
    }

    /// Inside diameter if closing stops when the outer edges of the slot touch: `ID_c + v/(2 pi)`.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// As [`seam_v`](Ring::seam_v).
    /// # Source
    /// The centre line is longer by half the V; own derivation, `docs/theory/ring.md`, section 3.
    ///
    /// ```
    /// # use linkwright_calc::{coil::Pitch, quantity::Length, ring::{Ring, RingInput}};
    /// # use linkwright_calc::{slit::Kerf, wire::Wire};
    /// let ring = Ring::cut(RingInput {
    ///     wire: Wire::new(Length::from_mm(1.29)).unwrap(),
    ///     coil_inside: Length::from_mm(5.0),
    ///     kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
    ///     pitch: Pitch::new(Length::from_mm(1.29)).unwrap(),
    /// }).unwrap();
    /// let above_flush_mm = ring.first_touch_inside().mm() - ring.closed_inside().mm();
    /// assert!((above_flush_mm - 0.020).abs() < 0.0005);
    /// ```
    pub fn first_touch_inside(self) -> Length {
        self.closed_inside() + Length::from_mm(self.seam_v().mm() / (2.0 * PI))
    }

    /// Mass of the ring: `L_ring A rho / 1000`.
    ///
    /// # Units
    /// Density in, mass out.
    /// # Validity
    /// Solid wire of that mean density. Tables that take `pi (ID + d) - k` for the length leave out
    /// the helix and come out 0.2 to 0.3 % lighter.
    /// # Source
    /// Mass is density times volume; the volume by Pappus, checked by a torus less a slab.
    ///
    /// ```
    /// # use linkwright_calc::{coil::Pitch, quantity::{Density, Length}, ring::{Ring, RingInput}};
    /// # use linkwright_calc::{slit::Kerf, wire::Wire};
    /// // Copper 1.29 mm, 5.18 inside, kerf 0.30.
    /// let ring = Ring::cut(RingInput {
    ///     wire: Wire::new(Length::from_mm(1.29)).unwrap(),
    ///     coil_inside: Length::from_mm(5.18),
    ///     kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
    ///     pitch: Pitch::new(Length::from_mm(1.3029)).unwrap(),
    /// }).unwrap();
    /// assert!((ring.mass(Density::from_g_cm3(8.94)).g() - 0.2345).abs() < 0.00005);
    /// ```
    pub fn mass(self, density: Density) -> Mass {
        self.wire.mass(self.ring_length(), density)
    }

    /// Mass of the dust the blade makes of one turn.
    ///
    /// # Units
    /// Density in, mass out.
    /// # Validity
    /// The kerf as the slot shows it; dust that flies off the bench is dust all the same.
    /// # Source
    /// Mass is density times volume.
    ///
    /// ```
    /// # use linkwright_calc::{coil::Pitch, quantity::{Density, Length}, ring::{Ring, RingInput}};
    /// # use linkwright_calc::{slit::Kerf, wire::Wire};
    /// // 12,000 sterling rings of 1.02 mm wire: 25 g of dust with a kerf of 0.25.
    /// let ring = Ring::cut(RingInput {
    ///     wire: Wire::new(Length::from_mm(1.02)).unwrap(),
    ///     coil_inside: Length::from_mm(4.14),
    ///     kerf: Kerf::new(Length::from_mm(0.25)).unwrap(),
    ///     pitch: Pitch::new(Length::from_mm(1.0302)).unwrap(),
    /// }).unwrap();
    /// assert!((12_000.0 * ring.kerf_dust(Density::from_g_cm3(10.36)).g() - 25.46).abs() < 0.005);
    /// ```
    pub fn kerf_dust(self, density: Density) -> Mass {
        self.wire.mass(self.removed_length, density)
    }

    /// Rings in a troy ounce, not whole in general.
    ///
    /// # Units
    /// Density in, a number of rings out.
    /// # Validity
    /// As [`mass`](Ring::mass).
    /// # Source
    /// One troy ounce is 31.1034768 g; NIST Handbook 44, appendix C.
    ///
    /// ```
    /// # use linkwright_calc::{coil::Pitch, quantity::{Density, Length}, ring::{Ring, RingInput}};
    /// # use linkwright_calc::{slit::Kerf, wire::Wire};
    /// let ring = Ring::cut(RingInput {
    ///     wire: Wire::new(Length::from_mm(2.053)).unwrap(),
    ///     coil_inside: Length::from_mm(9.6),
    ///     kerf: Kerf::new(Length::from_mm(0.5)).unwrap(),
    ///     pitch: Pitch::new(Length::from_mm(2.06)).unwrap(),
    /// }).unwrap();
    /// assert!((ring.rings_per_troy_ounce(Density::from_g_cm3(8.53)) - 30.457).abs() < 0.0005);
    /// ```
    pub fn rings_per_troy_ounce(self, density: Density) -> f64 {
        1.0 / self.mass(density).troy_ounces()
    }

    /// Rings in a metre of wire, kerf included, not whole in general: `1000 / L`.
    ///
    /// # Units
    /// A number of rings.
    /// # Validity
    /// Tails and end rings come on top.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// # use linkwright_calc::{coil::Pitch, quantity::Length, ring::{Ring, RingInput}};
    /// # use linkwright_calc::{slit::Kerf, wire::Wire};
    /// let ring = Ring::cut(RingInput {
    ///     wire: Wire::new(Length::from_mm(2.053)).unwrap(),
    ///     coil_inside: Length::from_mm(9.6),
    ///     kerf: Kerf::new(Length::from_mm(0.5)).unwrap(),
    ///     pitch: Pitch::new(Length::from_mm(2.06)).unwrap(),
    /// }).unwrap();
    /// assert!((ring.rings_per_metre() - 27.27).abs() < 0.005);
    /// ```
    pub fn rings_per_metre(self) -> f64 {
        1000.0 / self.turn_length.mm()
    }
}
