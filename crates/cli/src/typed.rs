//! Reads what was typed for an option: sizes, masses, shares and the roles made of them.

use std::path::Path;

use linkwright_calc::coil::{InsideDiameter, Pitch, touching_pitch};
use linkwright_calc::limits::LimitError;
use linkwright_calc::metal::{Catalogue, Metal, Temper};
use linkwright_calc::quantity::{
    Length, Mass, QuantityError, Typed, parse_length, parse_mass, parse_share,
};
use linkwright_calc::wire::Wire;

use linkwright_answers::files::metals_toml::catalogue_from;
use linkwright_answers::refusal::Refusal;

/// A length typed for `option`.
pub fn length(option: &'static str, text: &str) -> Result<Typed<Length>, Refusal> {
    parse_length(text).map_err(|error| refuse(option, text, error))
}

/// A length typed for `option`, if anything was.
pub fn optional_length(
    option: &'static str,
    text: Option<&String>,
) -> Result<Option<Typed<Length>>, Refusal> {
    text.map(|text| length(option, text)).transpose()
}

/// A mass typed for `option`.
pub fn mass(option: &'static str, text: &str) -> Result<Typed<Mass>, Refusal> {
    parse_mass(text).map_err(|error| refuse(option, text, error))
}

/// A share of one typed for `option`, such as "1 %".
pub fn share(option: &'static str, text: &str) -> Result<f64, Refusal> {
    let typed = parse_share(text).map_err(|error| refuse(option, text, error))?;
    Ok(typed.value())
}

/// A role made of a typed length, such as a wire or a kerf.
pub fn role<T>(
    option: &'static str,
    typed: &Typed<Length>,
    make: impl FnOnce(Length) -> Result<T, LimitError>,
) -> Result<T, Refusal> {
    make(typed.value()).map_err(|error| refuse(option, typed.text(), error.into()))
}

/// A wire with the text it was typed as.
pub fn wire(option: &'static str, text: &str) -> Result<(Wire, Typed<Length>), Refusal> {
    let typed = length(option, text)?;
    Ok((role(option, &typed, Wire::new)?, typed))
}

/// The pitch typed, or that of touching turns.
pub fn pitch(
    option: &'static str,
    text: Option<&String>,
    wire: Wire,
    inside: InsideDiameter,
) -> Result<Pitch, Refusal> {
    let Some(typed) = optional_length(option, text)? else {
        return Ok(touching_pitch(wire, inside));
    };
    role(option, &typed, Pitch::new)?
        .clearing(wire)
        .map_err(|error| Refusal::bench(option, typed.text(), error))
}

/// The metals there are: the built-in ones, and those of the owner's file over them.
pub fn catalogue(overlay: Option<&Path>) -> Result<Catalogue, Refusal> {
    match overlay {
        None => Ok(Catalogue::built_in()),
        Some(path) => catalogue_from(path)
            .map_err(|error| Refusal::bench("--overlay", path.display().to_string(), error)),
    }
}

/// A metal of the catalogue.
pub fn metal(catalogue: &Catalogue, name: &str) -> Result<Metal, Refusal> {
    let found = catalogue.find(name).map_err(|error| Refusal::bench("--metal", name, error))?;
    Ok(found.clone())
}

/// A temper of a metal, of several by wire size the nearest, with what to watch about it.
pub fn temper(
    metal: &Metal,
    name: &str,
    wire: Wire,
) -> Result<linkwright_calc::basis::Answer<Temper>, Refusal> {
    let found = metal
        .temper_for_wire(name, wire)
        .map_err(|error| Refusal::bench("--temper", name, error))?;
    Ok(linkwright_calc::basis::Answer {
        value: found.value.clone(),
        basis: found.basis,
        cautions: found.cautions,
    })
}

fn refuse(option: &'static str, text: &str, error: QuantityError) -> Refusal {
    Refusal::Typed { option, given: text.to_owned(), error: Box::new(error) }
}

/// A length typed where the help says "mm unless a unit is written".
pub fn length_in_mm(option: &'static str, text: &str) -> Result<Typed<Length>, Refusal> {
    let bare = text.trim().parse::<f64>().is_ok();
    if bare { length(option, &format!("{} mm", text.trim())) } else { length(option, text) }
}

/// Lengths with commas between, each as [`length_in_mm`].
pub fn lengths_in_mm(option: &'static str, text: &str) -> Result<Vec<Length>, Refusal> {
    text.split(',').map(|part| Ok(length_in_mm(option, part)?.value())).collect()
}
