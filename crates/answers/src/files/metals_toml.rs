//! The workshop's own metals: a TOML file laid over the built-in table.

use std::fmt;
use std::ops::Range;
use std::path::Path;

use linkwright_calc::metal::{
    Catalogue, Family, FineMetal, Hardness, Measured, MetalError, MetalOverlay, Stated,
    TemperOverlay,
};
use linkwright_calc::quantity::{Density, Stress};
use serde::de::value::MapAccessDeserializer;
use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};
use thiserror::Error;
use toml::Spanned;

/// A metals file that cannot be used.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum MetalsFileError {
    /// The file cannot be read at all.
    #[error("{file} cannot be read: {source}")]
    Unreadable {
        /// The file as named.
        file: String,
        /// What the system says.
        source: std::io::Error,
    },
    /// The text is not TOML, has a key that is not known, or a value of the wrong kind.
    #[error("{file}, line {line}: {said}")]
    NotAMetalsFile {
        /// The file as named.
        file: String,
        /// Line, from 1.
        line: usize,
        /// What is wrong, from the reader of TOML.
        said: String,
    },
    /// A value that a metal cannot have, or a metal that does not exist.
    #[error("{file}, line {line}: {source}")]
    Metal {
        /// The file as named.
        file: String,
        /// Line of the field, or of the metal it belongs to, from 1.
        line: usize,
        /// Field, value and limits.
        source: Box<MetalError>,
    },
}

/// The built-in metals with those of a file over them.
pub fn catalogue_from(path: &Path) -> Result<Catalogue, MetalsFileError> {
    let file = path.display().to_string();
    let text = std::fs::read_to_string(path)
        .map_err(|source| MetalsFileError::Unreadable { file: file.clone(), source })?;
    catalogue(&file, &text)
}

/// The built-in metals with those of a text over them; `file` is only for messages.
pub fn catalogue(file: &str, text: &str) -> Result<Catalogue, MetalsFileError> {
    let read: MetalsToml =
        toml::from_str(text).map_err(|error| MetalsFileError::NotAMetalsFile {
            file: file.to_owned(),
            line: line_of(text, error.span().map_or(0, |span| span.start)),
            said: error.message().to_owned(),
        })?;
    let (spans, overlays): (Vec<_>, Vec<_>) =
        read.metal.into_iter().map(|metal| (metal.span(), metal.into_inner().overlay())).unzip();
    Catalogue::built_in().with_overlay(overlays.clone()).map_err(|source| {
        // The first metal without which all is well is the one at fault.
        let at_fault = (0..overlays.len())
            .find(|last| Catalogue::built_in().with_overlay(overlays[..=*last].to_vec()).is_err());
        let place = at_fault.map_or(0, |metal| {
            let ends = spans.get(metal + 1).map_or(text.len(), |next| next.start);
            field_place(text, spans[metal].start..ends, &source)
        });
        MetalsFileError::Metal {
            file: file.to_owned(),
            line: line_of(text, place),
            source: Box::new(source),
        }
    })
}

/// Where the field at fault stands inside the metal's part of the text, else where the part begins.
fn field_place(text: &str, part: Range<usize>, error: &MetalError) -> usize {
    let field = match error {
        MetalError::OutsideLimits { error, .. } => error.limit.field,
        MetalError::BandOutOfOrder { field, .. } => field,
        MetalError::UnknownMetal { .. } => "like",
        _ => "key",
    };
    let mut place = part.start;
    for line in text[part.clone()].split_inclusive('\n') {
        let key = line.split('=').next().unwrap_or_default().trim();
        if key == field && line.contains('=') {
            return place;
        }
        place += line.len();
    }
    part.start
}

/// The line, from 1, that holds a byte.
fn line_of(text: &str, byte: usize) -> usize {
    text.as_bytes().iter().take(byte).filter(|byte| **byte == b'\n').count() + 1
}

#[derive(serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct MetalsToml {
    #[serde(default)]
    metal: Vec<Spanned<MetalToml>>,
}

#[derive(serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct MetalToml {
    key: String,
    like: Option<String>,
    trade_name: Option<String>,
    #[serde(default)]
    aliases: Vec<String>,
    family: Option<FamilyToml>,
    fine_metal: Option<FineMetalToml>,
    stamp_permille: Option<f64>,
    karat: Option<f64>,
    nickel_bearing: Option<bool>,
    may_torch: Option<bool>,
    density_g_cm3: Option<f64>,
    measured_density_g_cm3: Option<f64>,
    #[serde(default = "once")]
    density_readings: u32,
    density_measured_on: Option<String>,
    youngs_modulus_mpa: Option<StatedToml>,
    poisson_ratio: Option<StatedToml>,
    #[serde(default)]
    temper: Vec<TemperToml>,
}

#[derive(serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct TemperToml {
    name: String,
    hardness: Option<HardnessToml>,
    yield_strength_mpa: Option<StatedToml>,
    tensile_strength_mpa: Option<StatedToml>,
    hardening_exponent: Option<StatedToml>,
    strength_coefficient_mpa: Option<StatedToml>,
    flow_stress_mpa: Option<StatedToml>,
    elongation_percent: Option<StatedToml>,
    reduction_of_area_percent: Option<StatedToml>,
}

#[derive(Clone, Copy, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
enum FamilyToml {
    Silver,
    Gold,
    GoldFilled,
    Copper,
    Brass,
    Bronze,
    NickelSilver,
    Aluminium,
    Stainless,
    Steel,
    Titanium,
    Niobium,
}

#[derive(Clone, Copy, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
enum FineMetalToml {
    Silver,
    Gold,
}

#[derive(Clone, Copy, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
enum HardnessToml {
    Annealed,
    EighthHard,
    QuarterHard,
    HalfHard,
    Hard,
    ExtraHard,
    SpringHard,
}

/// A number, or a table with its ends.
#[derive(Clone, Copy)]
struct StatedToml(Stated<f64>);

#[derive(serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct EndsToml {
    low: Option<f64>,
    typical: f64,
    high: Option<f64>,
}

const fn once() -> u32 {
    1
}

impl<'de> Deserialize<'de> for StatedToml {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<StatedToml, D::Error> {
        deserializer.deserialize_any(NumberOrEnds)
    }
}

struct NumberOrEnds;

impl<'de> Visitor<'de> for NumberOrEnds {
    type Value = StatedToml;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a number, or { low = ..., typical = ..., high = ... }")
    }

    fn visit_f64<E: serde::de::Error>(self, number: f64) -> Result<StatedToml, E> {
        Ok(StatedToml(Stated::alone(number)))
    }

    fn visit_i64<E: serde::de::Error>(self, number: i64) -> Result<StatedToml, E> {
        #[expect(
            clippy::cast_precision_loss,
            reason = "far beyond any limit before a digit is lost"
        )]
        self.visit_f64(number as f64)
    }

    fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<StatedToml, A::Error> {
        let ends = EndsToml::deserialize(MapAccessDeserializer::new(map))?;
        Ok(StatedToml(Stated { low: ends.low, typical: ends.typical, high: ends.high }))
    }
}

impl StatedToml {
    fn plain(self) -> Stated<f64> {
        self.0
    }

    fn mpa(self) -> Stated<Stress> {
        let Stated { low, typical, high } = self.0;
        Stated {
            low: low.map(Stress::from_mpa),
            typical: Stress::from_mpa(typical),
            high: high.map(Stress::from_mpa),
        }
    }
}

impl MetalToml {
    fn overlay(self) -> MetalOverlay {
        let (readings, last) = (self.density_readings, self.density_measured_on);
        MetalOverlay {
            key: self.key,
            like: self.like,
            trade_name: self.trade_name,
            aliases: self.aliases,
            family: self.family.map(FamilyToml::family),
            fine_metal: self.fine_metal.map(FineMetalToml::fine_metal),
            stamp_permille: self.stamp_permille,
            karat: self.karat,
            nickel_bearing: self.nickel_bearing,
            may_torch: self.may_torch,
            density_stated: self.density_g_cm3.map(Density::from_g_cm3),
            density_measured: self.measured_density_g_cm3.map(|g_cm3| Measured {
                value: Density::from_g_cm3(g_cm3),
                readings,
                last,
            }),
            youngs_modulus: self.youngs_modulus_mpa.map(StatedToml::mpa),
            poisson_ratio: self.poisson_ratio.map(StatedToml::plain),
            tempers: self.temper.into_iter().map(TemperToml::overlay).collect(),
        }
    }
}

impl TemperToml {
    fn overlay(self) -> TemperOverlay {
        TemperOverlay {
            name: self.name,
            hardness: self.hardness.map(HardnessToml::hardness),
            yield_strength: self.yield_strength_mpa.map(StatedToml::mpa),
            tensile_strength: self.tensile_strength_mpa.map(StatedToml::mpa),
            hardening_exponent: self.hardening_exponent.map(StatedToml::plain),
            strength_coefficient: self.strength_coefficient_mpa.map(StatedToml::mpa),
            flow_stress: self.flow_stress_mpa.map(StatedToml::mpa),
            elongation_percent: self.elongation_percent.map(StatedToml::plain),
            reduction_of_area_percent: self.reduction_of_area_percent.map(StatedToml::plain),
        }
    }
}

impl FamilyToml {
    const fn family(self) -> Family {
        match self {
            FamilyToml::Silver => Family::Silver,
            FamilyToml::Gold => Family::Gold,
            FamilyToml::GoldFilled => Family::GoldFilled,
            FamilyToml::Copper => Family::Copper,
            FamilyToml::Brass => Family::Brass,
            FamilyToml::Bronze => Family::Bronze,
            FamilyToml::NickelSilver => Family::NickelSilver,
            FamilyToml::Aluminium => Family::Aluminium,
            FamilyToml::Stainless => Family::Stainless,
            FamilyToml::Steel => Family::Steel,
            FamilyToml::Titanium => Family::Titanium,
            FamilyToml::Niobium => Family::Niobium,
        }
    }
}

impl FineMetalToml {
    const fn fine_metal(self) -> FineMetal {
        match self {
            FineMetalToml::Silver => FineMetal::Silver,
            FineMetalToml::Gold => FineMetal::Gold,
        }
    }
}

impl HardnessToml {
    const fn hardness(self) -> Hardness {
        match self {
            HardnessToml::Annealed => Hardness::Annealed,
            HardnessToml::EighthHard => Hardness::EighthHard,
            HardnessToml::QuarterHard => Hardness::QuarterHard,
            HardnessToml::HalfHard => Hardness::HalfHard,
            HardnessToml::Hard => Hardness::Hard,
            HardnessToml::ExtraHard => Hardness::ExtraHard,
            HardnessToml::SpringHard => Hardness::SpringHard,
        }
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use linkwright_calc::metal::Catalogue;
    use linkwright_calc::quantity::Density;

    use super::{catalogue, catalogue_from};

    const EXAMPLE: &str = include_str!("../../../../examples/metals-overlay.toml");

    #[test]
    fn the_example_is_read_and_its_values_win() {
        let metals = catalogue("metals-overlay.toml", EXAMPLE).unwrap();
        let sterling = metals.find("sterling").unwrap();
        assert_eq!(sterling.density().value, Density::from_g_cm3(10.31));
        assert_eq!(sterling.density().basis.to_string(), "tried 3 times, last 2030-01-31");
        let pale = metals.find("pale 14k").unwrap();
        let half_hard = pale.temper("half hard").unwrap().flow_stress().unwrap();
        let ends_mpa =
            [half_hard.low(), half_hard.typical(), half_hard.high()].map(|end| end.mpa() - 650.0);
        // Written as whole numbers, so exact.
        assert_eq!(ends_mpa.map(f64::to_bits), [-50.0_f64, 0.0, 70.0].map(f64::to_bits));
        assert_eq!(metals.metals().len(), Catalogue::built_in().metals().len() + 2);
    }

    #[test]
    fn an_empty_file_is_the_built_in_table() {
        assert_eq!(catalogue("metals.toml", "# nothing yet\n").unwrap(), Catalogue::built_in());
    }

    #[test]
    fn a_file_is_read_from_disk_and_a_missing_one_is_named() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("metals.toml");
        std::fs::write(&path, EXAMPLE).unwrap();
        assert_eq!(catalogue_from(&path).unwrap(), catalogue("", EXAMPLE).unwrap());
        let error = catalogue_from(Path::new("no-such-metals.toml")).unwrap_err();
        assert!(error.to_string().starts_with("no-such-metals.toml cannot be read"), "{error}");
    }

    /// (text of the file, parts its message must have).
    const MALFORMED: [(&str, &[&str]); 16] = [
        ("[[metal]\n", &["line 1"]),
        ("\n\n[[metal]]\nlike = \"copper\"\n", &["line 3", "key"]),
        (
            "[[metal]]\nkey = \"x\"\ndensty_g_cm3 = 9\n",
            &["line 3", "densty_g_cm3", "density_g_cm3"],
        ),
        ("[[metal]]\nkey = \"x\"\ndensity_g_cm3 = \"heavy\"\n", &["line 3", "heavy"]),
        (
            "[[metal]]\nkey = \"sterling_925\"\ndensity_g_cm3 = 103.6\n",
            &["line 3", "density_g_cm3 is 103.6", "0.5 and 25"],
        ),
        (
            "[[metal]]\nkey = \"niobium\"\n\n[[metal]]\nkey = \"copper_c110\"\nmeasured_density_g_cm3 = nan\n",
            &["line 6", "measured_density_g_cm3 is NaN"],
        ),
        (
            "[[metal]]\nkey = \"sterling_925\"\nyoungs_modulus_mpa = 75\n",
            &["line 3", "youngs_modulus_mpa is 75", "100 and 1000000"],
        ),
        (
            "[[metal]]\nkey = \"sterling_925\"\nyoungs_modulus_mpa = { typical = 75000, mid = 3 }\n",
            &["line 3", "mid"],
        ),
        (
            "[[metal]]\nkey = \"sterling_925\"\nyoungs_modulus_mpa = [1, 2]\n",
            &["line 3", "a number, or"],
        ),
        (
            "[[metal]]\nkey = \"sterling_925\"\npoisson_ratio = { low = 0.4, typical = 0.3, high = 0.45 }\n",
            &["line 3", "poisson_ratio", "low 0.4", "typical 0.3"],
        ),
        ("[[metal]]\nkey = \"mine\"\nlike = \"stirling\"\n", &["line 3", "stirling", "sterling"]),
        ("[[metal]]\nkey = \"mine\"\ndensity_g_cm3 = 8\n", &["line 2", "mine has no family"]),
        ("[[metal]]\nkey = \"mine\"\nfamily = \"plastic\"\n", &["line 3", "plastic", "silver"]),
        (
            "[[metal]]\nkey = \"copper_c110\"\n[[metal]]\nkey = \"Copper_C110\"\n",
            &["line 4", "twice"],
        ),
        (
            "[[metal]]\nkey = \"copper_c110\"\n[[metal.temper]]\nname = \"number 3 hard\"\n",
            &["line 2", "hardness"],
        ),
        (
            "[[metal]]\nkey = \"copper_c110\"\n[[metal.temper]]\nname = \"hard\"\nflow_stress_mpa = -4\n",
            &["line 5", "flow_stress_mpa is -4", "0.1 and 100000"],
        ),
    ];

    #[test]
    fn a_malformed_file_is_refused_with_its_line_field_value_and_limits() {
        for (text, parts) in MALFORMED {
            let said = catalogue("metals.toml", text).unwrap_err().to_string();
            assert!(said.starts_with("metals.toml, line "), "{said}");
            for part in parts {
                assert!(said.contains(part), "`{part}` is not in: {said}\n{text}");
            }
        }
    }
}
