//! How strong a wire is taken to be when its coil is clamped.

use linkwright_calc::metal::Catalogue;
use linkwright_calc::quantity::Stress;
use linkwright_calc::wire::Wire;
use linkwright_trials::NominalYield;

/// What the metals with a [`NominalYield`] are called there, by their keys in the table of metals.
const NOMINAL: [(&str, &str); 5] = [
    ("copper_c110", "copper"),
    ("sterling_925", "sterling"),
    ("brass_c260", "brass"),
    ("bronze_c220", "bronze"),
    ("ss_304", "steel304"),
];

/// Nominal yield strength of a metal and temper, in words or by key.
///
/// # Units
/// A stress; see [`Stress`].
/// # Validity
/// The scale of the crush index belongs to the table of [`NominalYield`]. Metals and tempers
/// outside it take the typical yield strength of the table of metals, or three quarters of the
/// bending flow stress where that table has no yield strength; what either misses, the effect of
/// the metal learns.
/// # Errors
/// Why neither knows it, as a sentence.
/// # Source
/// Nominal values: see [`NominalYield`]. Three quarters: common practice, no source.
///
/// ```
/// use linkwright_answers::chart::yield_strength;
/// use linkwright_calc::{metal::Catalogue, quantity::Length, wire::Wire};
/// let wire = Wire::new(Length::from_mm(1.0)).unwrap();
/// let metals = Catalogue::built_in();
/// let half_hard = yield_strength(&metals, "copper", "half hard", wire).unwrap();
/// assert!((half_hard.mpa() - (70.0_f64 * 300.0).sqrt()).abs() < 1e-9);
/// ```
pub fn yield_strength(
    metals: &Catalogue,
    metal: &str,
    temper: &str,
    wire: Wire,
) -> Result<Stress, String> {
    let words = temper.trim().to_lowercase().replace('_', " ");
    let key = metal_key(metals, metal).unwrap_or_else(|| metal.trim().to_lowercase());
    let called = NOMINAL.iter().find(|(of_table, _)| *of_table == key);
    let nominal = NominalYield::of(called.map_or(key.as_str(), |(_, called)| called));
    let nominal = nominal.and_then(|nominal| match words.as_str() {
        "annealed" | "soft" | "dead soft" => Some(nominal.annealed()),
        "half hard" => Some(nominal.half_hard()),
        "hard" | "full hard" => Some(nominal.hard()),
        _ => None,
    });
    if let Some(stress) = nominal {
        return Ok(stress);
    }
    let metal = metals.find(&key).map_err(|error| error.to_string())?;
    let temper = metal.temper_for_wire(&words, wire).map_err(|error| error.to_string())?.value;
    if let Some(stress) = temper.yield_strength() {
        return Ok(stress.typical());
    }
    let flow = temper.flow_stress().ok_or_else(|| {
        format!("no strength of {} {} is known", metal.trade_name(), temper.name())
    })?;
    Ok(Stress::from_mpa(0.75 * flow.typical().mpa()))
}

/// The key of a metal by any of its names, those of [`NominalYield`] too; `None` for one that no
/// table knows.
///
/// ```
/// use linkwright_answers::chart::metal_key;
/// use linkwright_calc::metal::Catalogue;
/// let metals = Catalogue::built_in();
/// assert_eq!(metal_key(&metals, "steel304").as_deref(), Some("ss_304"));
/// assert_eq!(metal_key(&metals, "my own"), None);
/// ```
pub fn metal_key(metals: &Catalogue, name: &str) -> Option<String> {
    if let Ok(metal) = metals.find(name) {
        return Some(metal.key().to_string());
    }
    let name = name.trim().to_lowercase();
    NOMINAL.iter().find(|(_, called)| *called == name).map(|(key, _)| (*key).to_owned())
}

#[cfg(test)]
mod tests {
    use linkwright_calc::quantity::Length;

    use super::*;

    fn asked(metal: &str, temper: &str) -> Result<f64, String> {
        let wire = Wire::new(Length::from_mm(1.0)).expect("a wire");
        yield_strength(&Catalogue::built_in(), metal, temper, wire).map(Stress::mpa)
    }

    #[test]
    fn a_metal_by_name_or_key_is_as_strong() {
        assert_eq!(asked("sterling", "annealed"), asked("sterling_925", "soft"));
        assert_eq!(asked("steel304", "hard"), Ok(800.0));
    }

    #[test]
    fn a_temper_without_nominal_value_is_looked_up() {
        let spring = asked("304", "spring hard").expect("known");
        assert!((1350.0..1700.0).contains(&spring), "{spring} MPa");
        assert!(asked("nickel silver", "annealed").is_ok());
    }

    #[test]
    fn an_unknown_metal_is_refused_by_name() {
        assert!(asked("unobtainium", "soft").unwrap_err().contains("unobtainium"));
    }
}
