//! The one table of what a quantity may be at the door, and the error that names field, value and limits.
//!
//! Limits are wide on purpose: they catch a slipped decimal point or a wrong unit, not an unusual
//! job. Whether a job is wise is said by [cautions](crate::basis::Caution), not by these.

use thiserror::Error;

/// What one quantity may be: the name of its field with the unit last, both ends included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// Field name as in files and in `batch`, unit last, such as `wire_diameter_mm`.
    pub field: &'static str,
    /// Unit of the two ends, as printed.
    pub unit: &'static str,
    /// Smallest accepted value.
    pub low: f64,
    /// Largest accepted value.
    pub high: f64,
    /// Why the range ends where it does.
    pub why: &'static str,
}

impl Limit {
    /// The same limit under the name of another field, such as `net_mass_g` for a mass.
    pub const fn named(self, field: &'static str) -> Limit {
        Limit { field, ..self }
    }

    /// Gives the value back if it is a finite number within the limits.
    ///
    /// # Units
    /// In the unit of the limit.
    /// # Validity
    /// Both ends are included.
    /// # Errors
    /// [`LimitError`] if the value is outside, infinite or not a number.
    /// # Source
    /// Own choice of limits; each states its reason.
    ///
    /// ```
    /// use linkwright_calc::limits::KERF;
    /// assert_eq!(KERF.check(0.25).unwrap(), 0.25);
    /// let error = KERF.check(-0.25).unwrap_err();
    /// assert_eq!(error.to_string(), "kerf_mm is -0.25 mm; it must be between 0.01 and 6 mm \
    ///     (thinner than any slitting blade, thicker than a ring survives)");
    /// ```
    pub fn check(&self, given: f64) -> Result<f64, LimitError> {
        if given.is_finite() && given >= self.low && given <= self.high {
            Ok(given)
        } else {
            Err(LimitError { limit: *self, given })
        }
    }
}

/// A value outside its [`Limit`].
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[error(
    "{} is {given} {unit}; it must be between {} and {} {unit} ({})",
    limit.field, limit.low, limit.high, limit.why, unit = limit.unit
)]
pub struct LimitError {
    /// The limit that was broken.
    pub limit: Limit,
    /// What was given, in the unit of the limit.
    pub given: f64,
}

macro_rules! limits {
    ($($(#[$doc:meta])* $name:ident = $field:literal, $unit:literal, $low:literal ..= $high:literal, $why:literal;)*) => {
        $($(#[$doc])* pub const $name: Limit =
            Limit { field: $field, unit: $unit, low: $low, high: $high, why: $why };)*
        /// Every limit, in the order of the wire.
        pub const ALL: &[Limit] = &[$($name),*];
    };
}

limits! {
    /// Number in a wire gauge; 4/0 is -3.
    GAUGE_NUMBER = "number", "-", -6.0..=56.0, "thicker than 7/0, finer than the finest listed";
    /// Diameter of round wire.
    WIRE_DIAMETER = "wire_diameter_mm", "mm", 0.02..=20.0, "finer than any wire wound by hand, thicker than a hand winds";
    /// Diameter of the rod the wire is wound on.
    MANDREL_DIAMETER = "mandrel_diameter_mm", "mm", 0.1..=1000.0, "thinner than a needle, thicker than a drum";
    /// Inside diameter of a coil or a ring.
    INSIDE_DIAMETER = "inside_diameter_mm", "mm", 0.1..=1000.0, "smaller than a pinhole, larger than a hoop";
    /// Advance of the coil per turn along its axis.
    PITCH = "pitch_mm", "mm", 0.02..=200.0, "at least one fine wire, at most an open spring";
    /// Width of the slot a blade leaves.
    KERF = "kerf_mm", "mm", 0.01..=6.0, "thinner than any slitting blade, thicker than a ring survives";
    /// Diameter of the slitting blade.
    BLADE_DIAMETER = "blade_diameter_mm", "mm", 3.0..=400.0, "smaller than a burr, larger than a bench saw";
    /// How far the blade reaches below the top of the coil.
    PROJECTION = "projection_mm", "mm", 0.0..=200.0, "from just touching to half of a large blade";
    /// Number of teeth on a blade.
    TEETH = "teeth", "teeth", 2.0..=1000.0, "a blade has teeth";
    /// Speed of turn.
    RPM = "rpm", "1/min", 1.0..=100_000.0, "from a hand crank to the fastest handpiece";
    /// Speed of the teeth through the metal.
    SURFACE_SPEED = "surface_speed_m_per_min", "m/min", 0.001..=100_000.0, "from a creep to the speed of a shell";
    /// Speed at which the blade is pushed along the coil.
    FEED = "feed_mm_per_min", "mm/min", 0.1..=100_000.0, "from a creep to a shove";
    /// Wire left straight at both ends of a coil together.
    TAILS = "tails_mm", "mm", 0.0..=100_000.0, "none to a hundred metres";
    /// Diameter of the hub or flange that carries the blade.
    HUB_DIAMETER = "hub_diameter_mm", "mm", 0.1..=400.0, "thinner than any arbor, larger than a bench saw's";
    /// How far the blade's plane passes beside the coil's axis, to either side.
    BLADE_OFFSET = "blade_offset_mm", "mm", -100.0..=100.0, "from one side of a large coil to the other";
    /// How much the plates flatten the coil across the slot.
    SQUASH = "squash_mm", "mm", 0.0..=500.0, "none to half of the largest coil";
    /// How far the blade is to stay from the far wall.
    MARGIN = "margin_mm", "mm", 0.0..=500.0, "none to half of the largest coil";
    /// Room wanted under the hub, or before the first turn.
    CLEARANCE = "clearance_mm", "mm", 0.0..=500.0, "none to half a metre";
    /// How far short of the last turn's centre the blade's axis halts; below nothing if it passes it.
    LAST_TURN_FROM_BLADE_CENTRE = "last_turn_from_blade_centre_mm", "mm", -10_000.0..=10_000.0, "ten metres either way";
    /// How far short of the coil's end the blade's axis halts; below nothing if it passes it.
    STOP_SETBACK = "stop_setback_mm", "mm", -10_000.0..=10_000.0, "ten metres either way";
    /// Projection set aside for the curve of the bore across the slot.
    SAGITTA = "sagitta_mm", "mm", 0.0..=200.0, "none to the largest projection";
    /// How far two plates come together on a turn.
    SQUEEZE = "squeeze_mm", "mm", 0.0..=1000.0, "none to the largest coil laid flat";
    /// Free play of the coil along the holder.
    END_PLAY = "end_play_mm", "mm", 0.0..=10_000.0, "none to ten metres";
    /// Friction between wire and plate.
    FRICTION = "friction", "-", 0.01..=3.0, "slipperier than ice, stickier than rubber";
    /// Stress at which a metal first stays bent.
    YIELD_STRENGTH = "yield_strength_mpa", "MPa", 0.1..=100_000.0, "softer than putty, stronger than any wire";
    /// Work to cut away a volume of metal, which is also a force per chip section.
    SPECIFIC_ENERGY = "specific_energy_mpa", "MPa", 1.0..=1_000_000.0, "softer than putty, stronger than any wire";
    /// Young's modulus.
    YOUNGS_MODULUS = "youngs_modulus_mpa", "MPa", 100.0..=1_000_000.0, "softer than lead by far, stiffer than diamond";
    /// Poisson's ratio.
    POISSON_RATIO = "poisson_ratio", "-", 0.0..=0.5, "isotropic metals";
    /// Any stress that describes a metal: yield, tensile, flow, coefficient.
    STRESS = "stress_mpa", "MPa", 0.1..=100_000.0, "softer than putty, stronger than any wire";
    /// Mass per volume.
    DENSITY = "density_g_cm3", "g/cm3", 0.5..=25.0, "lighter than any metal, heavier than osmium";
    /// A force at the bench.
    FORCE = "force_n", "N", 0.0..=1_000_000.0, "none to a hundred tonnes";
    /// Curvature the wire already has when it reaches the mandrel, positive in the winding sense.
    NATURAL_CURVATURE = "natural_curvature_per_mm", "1/mm", -100.0..=100.0, "a loop of hundredths of a millimetre either way";
    /// Slope of stress on strain beyond yield; also never above Young's modulus.
    TANGENT_MODULUS = "tangent_modulus_mpa", "MPa", 0.0..=1_000_000.0, "none, or as stiff as before yield";
    /// Hardening exponent of a flow law.
    HARDENING_EXPONENT = "hardening_exponent", "-", 0.0..=1.0, "no hardening, hardening in a straight line";
    /// Flow stress over Young's modulus.
    FLOW_RATIO = "flow_ratio", "-", 1e-7..=1.0, "softer than any metal, stronger than any";
    /// How far off a size may be, either way.
    TOLERANCE = "tolerance_mm", "mm", 0.0..=100.0, "exact, anything goes";
    /// Rate at which hardening runs out in Voce's law.
    VOCE_RATE = "rate", "-", 0.0..=1_000_000.0, "never, at once";
    /// Exponent of Ramberg and Osgood's law.
    RAMBERG_OSGOOD_EXPONENT = "exponent", "-", 1.0..=1000.0, "a straight line, a sharp knee";
    /// Pull on the wire before it reaches the mandrel.
    TENSION = "tension_n", "N", 0.0..=1_000_000.0, "none to a hundred tonnes";
    /// Radius at which the hand goes round.
    CRANK_ARM = "crank_arm_mm", "mm", 1.0..=10_000.0, "a fingertip knob, a capstan bar";
    /// Share of the work at the crank that reaches the mandrel.
    EFFICIENCY = "efficiency", "-", 0.01..=1.0, "nearly all lost, none lost";
    /// Smallest graduation that was read.
    READING_RESOLUTION = "reading_resolution_mm", "mm", 0.0..=10.0, "exact, ruled in centimetres";
    /// Reduction of area at a tensile fracture.
    REDUCTION_OF_AREA = "reduction_of_area_percent", "%", 0.1..=99.9, "glass, drawn to a point";
    /// Stretch at a tensile fracture.
    ELONGATION = "elongation_percent", "%", 0.1..=300.0, "glass, chewing gum";
    /// Fineness mark.
    STAMP = "stamp_permille", "permille", 1.0..=1000.0, "a trace, nothing but fine metal";
    /// Parts of gold in twenty-four.
    KARAT = "karat", "karat", 1.0..=24.0, "one part in twenty-four, nothing but gold";
    /// Mass of the clad over the mass of the wire.
    CLAD_MASS_FRACTION = "clad_mass_fraction", "-", 0.0..=1.0, "all core, all clad";
    /// A mass of metal.
    MASS = "mass_g", "g", 0.0..=10_000_000.0, "none to ten tonnes";
    /// A length of wire, holder or chain.
    LENGTH = "length_mm", "mm", 0.0..=100_000_000.0, "none to a hundred kilometres";
    /// Whole turns of one coil.
    TURNS = "turns", "turns", 0.0..=1_000_000.0, "none to a million";
    /// Whole rings.
    RINGS = "rings", "rings", 0.0..=1_000_000_000.0, "none to a thousand million";
    /// Major units of an amount of money; owed the other way below nothing.
    MONEY = "amount", "money", -1_000_000_000_000.0..=1_000_000_000_000.0, "a million millions either way";
    /// Parts of precious metal by mass.
    FINENESS = "fineness_permille", "permille", 0.0..=1000.0, "from base metal to all fine";
    /// Major units of money for one unit of mass.
    PRICE = "price", "per unit", 0.0..=1_000_000_000.0, "free, or a thousand million for one unit of mass";
    /// Inside diameter over wire diameter.
    ASPECT_RATIO = "aspect_ratio", "-", 0.1..=1000.0, "a bead of wire, a hoop of hair";
    /// Exponent that says how far the bending of a closing ring gathers at its back.
    BENDING_LOCALISATION = "bending_localisation", "-", 0.0..=1_000_000.0, "0 bends evenly; for more than this say hinge";
    /// Standard deviation of one ring's mass over the mean.
    RING_MASS_CV = "ring_mass_cv", "-", 0.0..=0.5, "rings all alike, rings that are not one batch";
    /// How many standard deviations a certainty covers.
    COVERAGE = "k", "-", 0.01..=10.0, "2 is about 95 %";
    /// Weight of evidence for good or for bad rings, in rings.
    BETA = "beta_a", "rings", 1e-6..=1e9, "next to no evidence, more than a working life";
    /// A share of one, such as a confidence or a chance.
    SHARE = "share", "-", 0.0..=1.0, "a share lies between none and all";
}
