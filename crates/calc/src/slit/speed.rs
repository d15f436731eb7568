//! Speed of turn, speed of the teeth, and feed.

use std::f64::consts::PI;

use super::Blade;
use crate::limits::{FEED, LimitError, RPM, SURFACE_SPEED};

/// Metres in a foot, exact. NIST SP 811 (2008), appendix B.8.
const M_PER_FOOT: f64 = 0.3048;

/// Turns of the blade a minute.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Rpm {
    per_min: f64,
}

/// Speed at which the blade is pushed along the coil.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct FeedRate {
    mm_per_min: f64,
}

/// Speed of the teeth through the metal.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct SurfaceSpeed {
    m_per_min: f64,
}

impl Rpm {
    /// A speed of turn.
    ///
    /// # Units
    /// Turns a minute.
    /// # Validity
    /// Within [`RPM`].
    /// # Errors
    /// [`LimitError`] naming `rpm`.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// assert_eq!(linkwright_calc::slit::Rpm::new(900.0).unwrap().per_min(), 900.0);
    /// ```
    pub fn new(per_min: f64) -> Result<Rpm, LimitError> {
        Ok(Rpm { per_min: RPM.check(per_min)? })
    }

    /// Turns a minute.
    pub const fn per_min(self) -> f64 {
        self.per_min
    }

    /// Speed of the teeth, `v = pi Db n / 1000`.
    ///
    /// # Units
    /// Turns a minute and millimetres in, metres a minute out.
    /// # Validity
    /// Any.
    /// # Source
    /// Mechanics D14.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, slit::{Blade, BladeParts, Kerf, Rpm}};
    /// // 1 1/4 in at 1,500 a minute: 149.6 m/min.
    /// let blade = Blade::new(BladeParts {
    ///     diameter: Length::from_inches(1.25),
    ///     kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
    ///     teeth: None,
    ///     hub_diameter: None,
    /// }).unwrap();
    /// let speed = Rpm::new(1500.0).unwrap().surface_speed(blade);
    /// assert!((speed.m_per_min() - 149.6).abs() < 0.05);
    /// ```
    pub fn surface_speed(self, blade: Blade) -> SurfaceSpeed {
        SurfaceSpeed { m_per_min: PI * blade.diameter().mm() * self.per_min / 1000.0 }
    }
}

impl FeedRate {
    /// A feed.
    ///
    /// # Units
    /// Millimetres a minute.
    /// # Validity
    /// Within [`FEED`].
    /// # Errors
    /// [`LimitError`] naming `feed_mm_per_min`.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// assert_eq!(linkwright_calc::slit::FeedRate::new(60.0).unwrap().mm_per_min(), 60.0);
    /// ```
    pub fn new(mm_per_min: f64) -> Result<FeedRate, LimitError> {
        Ok(FeedRate { mm_per_min: FEED.check(mm_per_min)? })
    }

    /// Millimetres a minute.
    pub const fn mm_per_min(self) -> f64 {
        self.mm_per_min
    }
}

impl SurfaceSpeed {
    /// A speed of the teeth.
    ///
    /// # Units
    /// Metres a minute.
    /// # Validity
    /// Within [`SURFACE_SPEED`].
    /// # Errors
    /// [`LimitError`] naming `surface_speed_m_per_min`.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// let speed = linkwright_calc::slit::SurfaceSpeed::new(30.48).unwrap();
    /// assert_eq!(speed.ft_per_min(), 100.0);
    /// ```
    pub fn new(m_per_min: f64) -> Result<SurfaceSpeed, LimitError> {
        Ok(SurfaceSpeed { m_per_min: SURFACE_SPEED.check(m_per_min)? })
    }

    /// Metres a minute.
    pub const fn m_per_min(self) -> f64 {
        self.m_per_min
    }

    /// Feet a minute.
    pub const fn ft_per_min(self) -> f64 {
        self.m_per_min / M_PER_FOOT
    }

    /// Speed of turn that gives it, `n = 1000 v / (pi Db)`, as a plain number of turns a minute.
    ///
    /// # Units
    /// Metres a minute and millimetres in, turns a minute out.
    /// # Validity
    /// Any.
    /// # Source
    /// Mechanics D15.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, slit::{Blade, BladeParts, Kerf, SurfaceSpeed}};
    /// // A 22 mm blade meets 46 m/min at some 670 turns a minute.
    /// let blade = Blade::new(BladeParts {
    ///     diameter: Length::from_mm(22.0),
    ///     kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
    ///     teeth: None,
    ///     hub_diameter: None,
    /// }).unwrap();
    /// assert!((SurfaceSpeed::new(46.0).unwrap().turns_per_min(blade) - 666.0).abs() < 1.0);
    /// ```
    pub fn turns_per_min(self, blade: Blade) -> f64 {
        1000.0 * self.m_per_min / (PI * blade.diameter().mm())
    }
}
