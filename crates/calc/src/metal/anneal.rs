//! Softening: the range and the look of it by metal, and whether this wire needs it.

use std::fmt;

use super::{Hardness, Metal, Temper, Verified};
use crate::basis::Caution;
use crate::cautions::for_metal;
use crate::gauge::{Gauge, nearest};
use crate::wind::{Mandrel, cracking_limit};
use crate::wire::Wire;

/// How to soften a metal: heat range, cooling, what to look for, what to watch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Anneal {
    /// Low end of the range in degrees Celsius; judged by eye, a torch misses by 50.
    pub temperature_c_low: f64,
    /// High end of the range in degrees Celsius.
    pub temperature_c_high: f64,
    /// How to cool it.
    pub quench: &'static str,
    /// What the heat looks like.
    pub visual_cue: &'static str,
    /// What this metal does if it is done wrong; may be empty.
    pub caution: &'static str,
    /// Where this comes from.
    pub source: &'static str,
    /// How the source was checked.
    pub verified: Verified,
}

/// Whether to soften before winding, why, and what to watch.
#[derive(Clone, Debug, PartialEq)]
pub struct AnnealAdvice {
    /// What to do.
    pub verdict: Verdict,
    /// Why.
    pub reason: Reason,
    /// What to watch if it is done.
    pub cautions: Vec<Caution>,
}

/// What to do about softening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Verdict {
    /// Soften before winding.
    Anneal,
    /// Wind as it is.
    NotNeeded,
    /// Nothing is known that decides it: own trials must.
    NoRuleHeld,
    /// It ought to be soft, and a torch cannot do it: buy it annealed.
    BuyAnnealed,
}

/// Why.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Reason {
    /// It was annealed here already.
    AnnealedAlready,
    /// Thick wire, soft or not.
    ThickWire {
        /// Nearest American gauge.
        nearest_awg: Gauge,
    },
    /// Thin wire, bought soft.
    ThinSoftWire {
        /// Nearest American gauge.
        nearest_awg: Gauge,
    },
    /// The habit says nothing of this size, or nothing of this temper at this size.
    NothingHeld {
        /// Nearest American gauge.
        nearest_awg: Gauge,
        /// The temper, if it is the temper that the habit is silent on.
        hardness: Option<Hardness>,
    },
    /// The outer fibre would reach the strain at which the metal breaks.
    WouldCrack {
        /// Mandrel over wire diameter.
        mandrel_over_wire: f64,
        /// Smallest that holds.
        mandrel_over_wire_min: f64,
    },
    /// Drawn wire on a very thin mandrel.
    TightIndex {
        /// Mandrel plus wire over wire diameter.
        index: f64,
    },
    /// The coil would spring open so far that the size is hard to hit.
    LargeSpringback {
        /// Growth of the inside diameter in percent of the mandrel.
        springback_percent: f64,
    },
}

/// Thickest American gauge for which nothing is held; 14 and thicker are annealed.
const AWG_UNDECIDED_MIN: i8 = 15;
/// Thinnest American gauge for which nothing is held; 18 and thinner, bought soft, are not.
const AWG_UNDECIDED_MAX: i8 = 17;
/// Index below which wire is hard to coil and may crack; read in a published text on springs.
const INDEX_MIN: f64 = 3.0;
/// Springback in percent of the mandrel above which softening is advised; own choice.
const SPRINGBACK_PERCENT_MAX: f64 = 10.0;

/// Wire about to be wound.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AboutToWind<'m> {
    /// The metal.
    pub metal: &'m Metal,
    /// The temper as bought.
    pub temper: &'m Temper,
    /// The wire.
    pub wire: Wire,
    /// The mandrel.
    pub mandrel: Mandrel,
    /// Whether it has been annealed here already.
    pub annealed: bool,
}

/// Whether to soften wire before it is wound.
///
/// The first that holds: annealed already, no; the mandrel is under the cracking limit, yes; the
/// nearest American gauge is 14 or thicker, yes, even if bought soft; drawn wire at an index
/// `(D + d)/d` under 3, or that would spring open by more than 10 %, yes; 15 to 17, nothing is held;
/// 18 or thinner and bought soft, no; else nothing is held. A metal that a torch cannot soften is to
/// be bought annealed.
///
/// # Units
/// Gauges by the nearest size, so that 1.02 mm counts as 18.
/// # Validity
/// The habit names 12, 14 and 18 only; beyond them it is carried on in the same sense.
/// # Source
/// Common practice, no source; springback fully plastic, `x = 32/(3 pi) (s_eq/E) (rho/d)`,
/// `(ID - D)/D = (2 rho/D) x/(1 - x)`, own derivation.
///
/// ```
/// use linkwright_calc::metal::{Catalogue, anneal::{self, AboutToWind, Verdict}};
/// use linkwright_calc::{quantity::Length, wind::Mandrel, wire::Wire};
/// let metals = Catalogue::built_in();
/// let copper = metals.find("copper").unwrap();
/// let advice = anneal::advice(AboutToWind {
///     metal: copper,
///     temper: copper.temper("soft").unwrap(),
///     wire: Wire::new(Length::from_mm(1.29)).unwrap(),
///     mandrel: Mandrel::new(Length::from_mm(5.0)).unwrap(),
///     annealed: false,
/// });
/// assert_eq!(advice.verdict, Verdict::NoRuleHeld);
/// assert_eq!(advice.reason.to_string(), "no rule held for 16 AWG - see own trials");
/// ```
pub fn advice(about: AboutToWind<'_>) -> AnnealAdvice {
    let (verdict, reason) = decide(about);
    let verdict = match verdict {
        Verdict::Anneal if !about.metal.may_torch() => Verdict::BuyAnnealed,
        verdict => verdict,
    };
    let mut cautions = Vec::new();
    if verdict == Verdict::Anneal
        && let Some(anneal) = about.metal.anneal()
        && !anneal.caution.is_empty()
    {
        cautions.push(Caution::Note(format!("{}: {}", about.metal.trade_name(), anneal.caution)));
    }
    cautions.extend(for_metal(about.metal).iter().map(|line| Caution::Note(line.text.to_owned())));
    AnnealAdvice { verdict, reason, cautions }
}

fn decide(about: AboutToWind<'_>) -> (Verdict, Reason) {
    if about.annealed {
        return (Verdict::NotNeeded, Reason::AnnealedAlready);
    }
    let d_mm = about.wire.diameter().mm();
    let mandrel_over_wire = about.mandrel.diameter().mm() / d_mm;
    let nearest_awg = nearest(about.wire.diameter()).awg;
    let hardness = about.temper.hardness();
    let reduction = about.temper.reduction_of_area().map(|band| cracking_limit(band.typical()));
    if let Some(Ok(mandrel_over_wire_min)) = reduction
        && mandrel_over_wire < mandrel_over_wire_min
    {
        return (Verdict::Anneal, Reason::WouldCrack { mandrel_over_wire, mandrel_over_wire_min });
    }
    if nearest_awg.number() < AWG_UNDECIDED_MIN {
        return (Verdict::Anneal, Reason::ThickWire { nearest_awg });
    }
    if hardness > Hardness::Annealed {
        let index = mandrel_over_wire + 1.0;
        if index < INDEX_MIN {
            return (Verdict::Anneal, Reason::TightIndex { index });
        }
        if let Some(springback_percent) = springback_percent(about)
            && springback_percent > SPRINGBACK_PERCENT_MAX
        {
            return (Verdict::Anneal, Reason::LargeSpringback { springback_percent });
        }
    }
    if nearest_awg.number() <= AWG_UNDECIDED_MAX {
        return (Verdict::NoRuleHeld, Reason::NothingHeld { nearest_awg, hardness: None });
    }
    if hardness == Hardness::Annealed {
        return (Verdict::NotNeeded, Reason::ThinSoftWire { nearest_awg });
    }
    (Verdict::NoRuleHeld, Reason::NothingHeld { nearest_awg, hardness: Some(hardness) })
}

/// Fully plastic springback; `None` if the table has no strength. Infinite where nothing is kept.
fn springback_percent(about: AboutToWind<'_>) -> Option<f64> {
    let ratio = about.metal.flow_ratio_band(about.temper).ok()?.typical();
    let (d_mm, mandrel_mm) = (about.wire.diameter().mm(), about.mandrel.diameter().mm());
    let rho_mm = (mandrel_mm + d_mm) / 2.0;
    let x = 32.0 / (3.0 * std::f64::consts::PI) * ratio * rho_mm / d_mm;
    if x >= 1.0 {
        return Some(f64::INFINITY);
    }
    Some(100.0 * 2.0 * rho_mm / mandrel_mm * x / (1.0 - x))
}

impl fmt::Display for Verdict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Verdict::Anneal => "anneal first",
            Verdict::NotNeeded => "no need to anneal",
            Verdict::NoRuleHeld => "no rule",
            Verdict::BuyAnnealed => "buy it annealed",
        })
    }
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Reason::AnnealedAlready => f.write_str("annealed here already"),
            Reason::ThickWire { nearest_awg } => write!(
                f,
                "nearest to {nearest_awg}; wire of 14 AWG or thicker is annealed even if bought soft (common practice, no source)"
            ),
            Reason::ThinSoftWire { nearest_awg } => write!(
                f,
                "nearest to {nearest_awg}; wire of 18 AWG or thinner, bought soft, needs none (common practice, no source)"
            ),
            Reason::NothingHeld { nearest_awg, hardness: None } => {
                write!(f, "no rule held for {nearest_awg} - see own trials")
            }
            Reason::NothingHeld { nearest_awg, hardness: Some(hardness) } => {
                write!(f, "no rule held for {hardness} {nearest_awg} - see own trials")
            }
            Reason::WouldCrack { mandrel_over_wire, mandrel_over_wire_min } => write!(
                f,
                "the mandrel is {mandrel_over_wire:.1} wire diameters; under {mandrel_over_wire_min:.1} this temper may crack"
            ),
            Reason::TightIndex { index } => write!(
                f,
                "index {index:.1} is under {INDEX_MIN}: drawn wire is hard to coil there and may crack"
            ),
            Reason::LargeSpringback { springback_percent } => write!(
                f,
                "the coil would spring open by {springback_percent:.0} % of the mandrel; above {SPRINGBACK_PERCENT_MAX:.0} % a size is hard to hit"
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{AboutToWind, AnnealAdvice, Reason, Verdict, advice};
    use crate::metal::{Catalogue, MetalOverlay, Stated, TemperOverlay};
    use crate::quantity::Length;
    use crate::wind::Mandrel;
    use crate::wire::Wire;

    fn asked(
        metals: &Catalogue,
        metal: &str,
        temper: &str,
        d_mm: f64,
        mandrel_mm: f64,
    ) -> AnnealAdvice {
        let metal = metals.find(metal).unwrap();
        let wire = Wire::new(Length::from_mm(d_mm)).unwrap();
        advice(AboutToWind {
            metal,
            temper: metal.temper_for_wire(temper, wire).unwrap().value,
            wire,
            mandrel: Mandrel::new(Length::from_mm(mandrel_mm)).unwrap(),
            annealed: false,
        })
    }

    #[test]
    fn the_habit_decides_12_14_and_18_and_nothing_between() {
        let metals = Catalogue::built_in();
        for (d_mm, verdict) in [
            (2.05, Verdict::Anneal),
            (1.63, Verdict::Anneal),
            (1.45, Verdict::NoRuleHeld),
            (1.29, Verdict::NoRuleHeld),
            (1.15, Verdict::NoRuleHeld),
            (1.02, Verdict::NotNeeded),
            (0.405, Verdict::NotNeeded),
        ] {
            assert_eq!(asked(&metals, "sterling", "soft", d_mm, 6.0).verdict, verdict, "{d_mm} mm");
        }
    }

    #[test]
    fn thin_half_hard_wire_is_left_to_own_trials() {
        let advice = asked(&Catalogue::built_in(), "brass", "half hard", 0.81, 3.3);
        assert_eq!(advice.verdict, Verdict::NoRuleHeld);
        assert_eq!(advice.reason.to_string(), "no rule held for half hard 20 AWG - see own trials");
    }

    #[test]
    fn hard_wire_that_springs_far_open_is_to_be_softened() {
        let advice = asked(&Catalogue::built_in(), "14k yellow", "hard", 0.64, 6.0);
        assert_eq!(advice.verdict, Verdict::Anneal);
        assert!(matches!(advice.reason, Reason::LargeSpringback { .. }), "{}", advice.reason);
    }

    #[test]
    fn hard_wire_on_a_thin_mandrel_is_to_be_softened() {
        let advice = asked(&Catalogue::built_in(), "copper", "hard", 0.81, 1.5);
        assert!(matches!(advice.reason, Reason::TightIndex { .. }), "{}", advice.reason);
    }

    #[test]
    fn a_metal_not_for_the_torch_is_bought_annealed_and_says_so() {
        for metal in ["niobium", "titanium", "304", "316"] {
            let advice = asked(&Catalogue::built_in(), metal, "soft", 1.63, 6.0);
            assert_eq!(advice.verdict, Verdict::BuyAnnealed, "{metal}");
            assert!(
                advice.cautions.iter().any(|c| c.to_string().starts_with("Do not torch")),
                "{metal}"
            );
        }
    }

    #[test]
    fn a_known_reduction_of_area_sets_the_smallest_mandrel() {
        let overlay = MetalOverlay {
            key: "brass_c260".into(),
            tempers: vec![TemperOverlay {
                name: "hard".into(),
                reduction_of_area_percent: Some(Stated::alone(20.0)),
                ..TemperOverlay::default()
            }],
            ..MetalOverlay::default()
        };
        let metals = Catalogue::built_in().with_overlay(vec![overlay]).unwrap();
        // 100/20 - 2 = 3 wire diameters.
        let tight = asked(&metals, "brass", "hard", 1.0, 2.9);
        assert!(matches!(tight.reason, Reason::WouldCrack { .. }), "{}", tight.reason);
        let wide = asked(&metals, "brass", "hard", 1.0, 3.1);
        assert!(!matches!(wide.reason, Reason::WouldCrack { .. }), "{}", wide.reason);
    }
}
