//! Cutting speeds by metal: what handbooks say, and what flexible shafts really run at.
//!
//! The two differ by up to ten times, and both are shown as what they are.

use super::{Blade, Rpm};
use crate::limits::LimitError;
use crate::metal::{Family, Metal, Verified};
use crate::quantity::Length;

/// Speed and feed for a high-speed-steel blade in one kind of metal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CuttingSpeed {
    /// Kind of metal, as printed.
    pub metal: &'static str,
    /// Low end of the handbook range of tooth speed, metres a minute.
    pub m_per_min_low: f64,
    /// High end of the handbook range of tooth speed, metres a minute.
    pub m_per_min_high: f64,
    /// Low end of the feed for each tooth, mm; thin blades, from memory.
    pub feed_per_tooth_mm_low: f64,
    /// High end of the feed for each tooth, mm; thin blades, from memory.
    pub feed_per_tooth_mm_high: f64,
    /// Where the speed comes from.
    pub source: &'static str,
    /// How that was checked.
    pub verified: Verified,
    /// What to watch; may be empty.
    pub caution: &'static str,
}

macro_rules! speeds {
    ($($name:ident: $metal:literal, $v:expr, $f:expr, $source:literal, $verified:ident, $caution:literal;)*) => {
        $(const $name: CuttingSpeed = CuttingSpeed {
            metal: $metal,
            m_per_min_low: $v[0],
            m_per_min_high: $v[1],
            feed_per_tooth_mm_low: $f[0],
            feed_per_tooth_mm_high: $f[1],
            source: $source,
            verified: Verified::$verified,
            caution: $caution,
        };)*
        /// Every kind of metal; the same rows as `data/cutting-speeds.csv`.
        pub const CUTTING_SPEEDS: &[CuttingSpeed] = &[$($name),*];
    };
}

speeds! {
    SILVER: "silver", [45.0, 75.0], [0.005, 0.012], "as copper alloys, upper part; no handbook value found", FromMemory, "";
    GOLD: "karat gold", [40.0, 70.0], [0.004, 0.010], "as brass and copper; no handbook value found", FromMemory, "";
    WHITE_GOLD: "nickel-bearing white gold", [20.0, 40.0], [0.003, 0.008], "as a mild stainless steel; no handbook value found", FromMemory, "tough: keep the chip, do not dwell";
    COPPER: "copper", [30.0, 60.0], [0.005, 0.012], "100 ft/min for general high-speed-steel tools (milling-machine manual); 24-150 m/min for circular saws in wrought copper alloys (a saw maker's sheet)", TextSeenInPart, "gummy: lubricate";
    BRASS: "brass and commercial bronze", [45.0, 120.0], [0.005, 0.015], "150 ft/min for general high-speed-steel tools (milling-machine manual); 24-150 m/min for circular saws in wrought copper alloys (a saw maker's sheet)", TextSeenInPart, "";
    TOUGH_COPPER_ALLOY: "phosphor bronze and nickel silver", [25.0, 50.0], [0.004, 0.010], "within 24-150 m/min for circular saws in wrought copper alloys (a saw maker's sheet); lower end for a machinability of 20 %", TextSeenInPart, "";
    ALUMINIUM: "aluminium", [90.0, 300.0], [0.006, 0.020], "300 ft/min for general high-speed-steel tools (milling-machine manual); 245-305 m/min for circular saws (a saw maker's sheet, whose own ft/min column disagrees)", TextSeenInPart, "loads the teeth: wax or spirit";
    MILD_STEEL: "mild steel", [20.0, 35.0], [0.003, 0.008], "90 ft/min for general high-speed-steel tools (milling-machine manual); 8-40 m/min for circular saws (a saw maker's sheet)", TextSeenInPart, "";
    STAINLESS: "stainless steel", [9.0, 20.0], [0.003, 0.006], "60 ft/min for general high-speed-steel tools (milling-machine manual)", TextSeenInPart, "hardens under a blade that dwells";
    TITANIUM: "titanium", [9.0, 20.0], [0.003, 0.005], "50 ft/min for general high-speed-steel tools (milling-machine manual); 5-38 m/min for circular saws (a saw maker's sheet)", TextSeenInPart, "chips can catch fire: few, cool, no water on a metal fire";
    NIOBIUM: "niobium", [15.0, 25.0], [0.003, 0.008], "soft and galling, as refractory metals", FromMemory, "galls: lubricate";
    GOLD_FILLED: "gold filled", [40.0, 70.0], [0.004, 0.010], "as its brass core", FromMemory, "";
}

/// The speed a bench really runs a blade at on a flexible shaft with wax, in turns a minute of a
/// 31.75 mm blade: far above the handbook; blade life falls. Common practice, no source.
const CUSTOM_RPM: [f64; 2] = [1000.0, 3000.0];
/// The blade those turns a minute are quoted for.
const CUSTOM_BLADE_MM: f64 = 31.75;

/// What flexible shafts are run at, for one blade.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlexibleShaft {
    /// Slow end.
    pub low: Rpm,
    /// Fast end.
    pub high: Rpm,
}

impl FlexibleShaft {
    /// The customary range for a blade, at the same tooth speed as the blade it is quoted for.
    ///
    /// # Units
    /// Turns a minute.
    /// # Validity
    /// Silver and copper alloys with a wax lubricant; common practice, no source, factor two.
    /// # Errors
    /// [`LimitError`] if a very large or small blade takes it beyond the limits of a shaft.
    /// # Source
    /// Common practice, no source: 1,000 to 3,000 a minute on a 31.75 mm blade.
    ///
    /// ```
    /// use linkwright_calc::{quantity::Length, slit::{Blade, BladeParts, FlexibleShaft, Kerf}};
    /// let blade = Blade::new(BladeParts {
    ///     diameter: Length::from_mm(31.75),
    ///     kerf: Kerf::new(Length::from_mm(0.3)).unwrap(),
    ///     teeth: None,
    ///     hub_diameter: None,
    /// }).unwrap();
    /// assert_eq!(FlexibleShaft::customary(blade).unwrap().high.per_min(), 3000.0);
    /// ```
    pub fn customary(blade: Blade) -> Result<FlexibleShaft, LimitError> {
        let scaled = |rpm: f64| Rpm::new(rpm * CUSTOM_BLADE_MM / blade.diameter().mm());
        Ok(FlexibleShaft { low: scaled(CUSTOM_RPM[0])?, high: scaled(CUSTOM_RPM[1])? })
    }
}

/// The handbook speed for a metal; nothing if no row of the table fits it.
///
/// # Units
/// Metres a minute, millimetres for each tooth.
/// # Validity
/// High-speed-steel blades; start low, give or take 30 %.
/// # Source
/// On each row.
///
/// ```
/// use linkwright_calc::{metal::Catalogue, slit::cutting_speed};
/// let metals = Catalogue::built_in();
/// let speed = cutting_speed(metals.find("sterling").unwrap()).unwrap();
/// assert_eq!((speed.m_per_min_low, speed.m_per_min_high), (45.0, 75.0));
/// ```
pub fn cutting_speed(metal: &Metal) -> Option<&'static CuttingSpeed> {
    Some(match metal.family() {
        Family::Silver => &SILVER,
        Family::Gold if metal.nickel_bearing() => &WHITE_GOLD,
        Family::Gold => &GOLD,
        Family::GoldFilled => &GOLD_FILLED,
        Family::Copper => &COPPER,
        Family::Brass => &BRASS,
        // Commercial bronze is a brass in all but name: copper with a tenth of zinc, no tin.
        Family::Bronze if metal.key().as_str() == "bronze_c220" => &BRASS,
        Family::Bronze | Family::NickelSilver => &TOUGH_COPPER_ALLOY,
        Family::Aluminium => &ALUMINIUM,
        Family::Steel => &MILD_STEEL,
        Family::Stainless => &STAINLESS,
        Family::Titanium => &TITANIUM,
        Family::Niobium => &NIOBIUM,
    })
}

/// Feed along the coil that gives each tooth a chip, low and high, in mm a minute.
pub(super) fn feed_mm_per_min(speed: &CuttingSpeed, teeth: u32, rpm: Rpm) -> [f64; 2] {
    [speed.feed_per_tooth_mm_low, speed.feed_per_tooth_mm_high]
        .map(|per_tooth_mm| per_tooth_mm * f64::from(teeth) * rpm.per_min())
}

/// Below this chip a tooth rubs instead of cutting: about the roundness of a sharp edge. From
/// memory.
pub const RUBS_BELOW: Length = Length::from_mm(0.001);
