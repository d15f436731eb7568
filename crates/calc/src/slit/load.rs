//! Energy, power and force of the cut, and the dust it makes.

use super::{FeedRate, Kerf, SlitError, SurfaceSpeed};
use crate::coil::Pitch;
use crate::limits::{LimitError, SPECIFIC_ENERGY};
use crate::quantity::{Density, Force, Length, Mass};
use crate::wire::Wire;

/// Energy to cut a volume of metal, kept in N/mm2; a thousand of them are 1 J/mm3.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct SpecificEnergy {
    mpa: f64,
}

impl SpecificEnergy {
    /// From newtons per square millimetre.
    ///
    /// # Units
    /// MPa.
    /// # Validity
    /// Within [`SPECIFIC_ENERGY`].
    /// # Errors
    /// [`LimitError`] naming `specific_energy_mpa`.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::slit::SpecificEnergy;
    /// assert_eq!(SpecificEnergy::from_mpa(1250.0).unwrap().j_per_mm3(), 1.25);
    /// ```
    pub fn from_mpa(mpa: f64) -> Result<SpecificEnergy, LimitError> {
        Ok(SpecificEnergy { mpa: SPECIFIC_ENERGY.check(mpa)? })
    }

    /// Newtons per square millimetre.
    pub const fn mpa(self) -> f64 {
        self.mpa
    }

    /// Joules per cubic millimetre.
    pub const fn j_per_mm3(self) -> f64 {
        self.mpa / 1000.0
    }

    /// The same metal cut at another chip thickness, by `kc = kc1 h^-m`.
    ///
    /// # Units
    /// `self` is the energy at a chip of 1 mm; `chip` is a length; `m` a plain number.
    /// # Validity
    /// Chips thicker than the tooth's edge is round; below about 0.01 mm it is an extrapolation.
    /// # Errors
    /// [`LimitError`] if the result is outside [`SPECIFIC_ENERGY`].
    /// # Source
    /// Kienzle's law; mechanics D18, from memory.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, slit::SpecificEnergy};
    /// let at_1_mm = SpecificEnergy::from_mpa(800.0).unwrap();
    /// let thin = at_1_mm.at_chip(Length::from_mm(0.0001), 0.25).unwrap();
    /// assert!((thin.mpa() - 8000.0).abs() < 1e-9);
    /// ```
    pub fn at_chip(self, chip: Length, m: f64) -> Result<SpecificEnergy, LimitError> {
        SpecificEnergy::from_mpa(self.mpa * chip.mm().powf(-m))
    }
}

/// What the load of the cut is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CuttingLoadQuery {
    /// Energy to cut the metal.
    pub specific_energy: SpecificEnergy,
    /// Width of the slot.
    pub kerf: Kerf,
    /// The wire.
    pub wire: Wire,
    /// Pitch of the coil.
    pub pitch: Pitch,
    /// How fast the blade is pushed along.
    pub feed: FeedRate,
    /// How fast the teeth run.
    pub speed: SurfaceSpeed,
}

/// The load of the cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CuttingLoad {
    /// Energy for one ring, in joules.
    pub energy_per_ring_j: f64,
    /// Mean power, in watts.
    pub power_w: f64,
    /// Mean force along the rim.
    pub tangential_force: Force,
}

/// Energy per ring `kc k A/1000`, mean power `kc k (A/p) vf/60000`, mean tangential force
/// `60 power/v`.
///
/// # Units
/// Joules, watts, newtons.
/// # Validity
/// Power at the teeth: the shaft's and the hand's losses come on top.
/// # Errors
/// [`SlitError::Coil`] if the pitch is below the wire.
/// # Source
/// Mechanics D16-D18.
///
/// ```
/// use linkwright_calc::{coil::Pitch, quantity::Length, wire::Wire};
/// use linkwright_calc::slit::{
///     CuttingLoadQuery, FeedRate, Kerf, SpecificEnergy, SurfaceSpeed, cutting_load,
/// };
/// let mm = Length::from_mm;
/// let load = cutting_load(CuttingLoadQuery {
///     specific_energy: SpecificEnergy::from_mpa(1250.0).unwrap(),
///     kerf: Kerf::new(mm(0.3)).unwrap(),
///     wire: Wire::new(mm(2.0)).unwrap(),
///     pitch: Pitch::new(mm(2.0)).unwrap(),
///     feed: FeedRate::new(60.0).unwrap(),
///     speed: SurfaceSpeed::new(60.0).unwrap(),
/// }).unwrap();
/// // 1.25 J/mm3 over 0.3 pi mm3.
/// assert!((load.energy_per_ring_j - 1.25 * 0.3 * std::f64::consts::PI).abs() < 1e-12);
/// // 30 rings a minute.
/// assert!((load.power_w - load.energy_per_ring_j * 30.0 / 60.0).abs() < 1e-12);
/// assert!((load.tangential_force.n() - load.power_w).abs() < 1e-12);
/// ```
pub fn cutting_load(query: CuttingLoadQuery) -> Result<CuttingLoad, SlitError> {
    let CuttingLoadQuery { specific_energy, kerf, wire, pitch, feed, speed } = query;
    let pitch_mm = pitch.clearing(wire)?.advance().mm();
    let chips_mm3 = kerf.width().mm() * wire.section().mm2();
    let energy_per_ring_j = specific_energy.j_per_mm3() * chips_mm3;
    let power_w = energy_per_ring_j * feed.mm_per_min() / (pitch_mm * 60.0);
    Ok(CuttingLoad {
        energy_per_ring_j,
        power_w,
        tangential_force: Force::from_n(60.0 * power_w / speed.m_per_min()),
    })
}

/// Dust of a straight slot through one wire, `k A rho/1000`.
///
/// # Units
/// Mass.
/// # Validity
/// The slot is straight across the wire; the curve of the ring adds less than 0.4 %, see
/// [`Ring::kerf_dust`](crate::ring).
/// # Source
/// Volume times density.
///
/// ```
/// use linkwright_calc::{quantity::{Density, Length}, slit::{Kerf, kerf_dust}, wire::Wire};
/// // 1,000 rings of 18 AWG sterling with a 0.25 mm kerf: 2.13 g.
/// let wire = Wire::new(Length::from_mm(1.0237)).unwrap();
/// let dust = kerf_dust(wire, Kerf::new(Length::from_mm(0.25)).unwrap(), Density::from_g_cm3(10.36));
/// assert!((1000.0 * dust.g() - 2.132).abs() < 0.0005);
/// ```
pub fn kerf_dust(wire: Wire, kerf: Kerf, density: Density) -> Mass {
    wire.mass(kerf.width(), density)
}
