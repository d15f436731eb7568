//! What a heading in plain English is likely to mean.

/// Fields a column can be matched to, with the words of the match screen.
pub const IMPORT_FIELDS: &[(&str, &str)] = &[
    ("tried_on", "Day"),
    ("worker", "By whom"),
    ("metal", "Metal"),
    ("temper", "Temper"),
    ("annealed", "Annealed at the bench"),
    ("wire", "Wire"),
    ("rod", "Rod"),
    ("lot", "Lot of wire"),
    ("blade", "Blade"),
    ("blade_diameter", "Blade diameter"),
    ("projection", "Projection"),
    ("turns_wound", "Turns wound"),
    ("turns_relaxed", "Turns left"),
    ("blade_event", "What befell the blade"),
    ("inside", "Inside diameter"),
    ("good", "Good rings"),
    ("uncut", "Uncut rings"),
    ("nicked", "Nicked or bent rings"),
    ("crushed", "Crushed rings"),
    ("outcome", "How it went"),
    ("note", "Note"),
];

/// What a heading is taken for until somebody says otherwise.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Guess {
    /// The field; nothing if the column is left out.
    pub field: Option<&'static str>,
    /// The unit the heading itself names.
    pub unit: Option<&'static str>,
}

/// Words of a heading, all of which must stand in it, and the field they mean; the first that fits.
const WORDS: &[(&[&str], &str)] = &[
    (&["blade", "event"], "blade_event"),
    (&["blade", "dia"], "blade_diameter"),
    (&["blade", "diameter"], "blade_diameter"),
    (&["blade", "size"], "blade_diameter"),
    (&["broke"], "blade_event"),
    (&["inside"], "inside"),
    (&["id"], "inside"),
    (&["projection"], "projection"),
    (&["depth"], "projection"),
    (&["turns", "left"], "turns_relaxed"),
    (&["turns", "relaxed"], "turns_relaxed"),
    (&["turns"], "turns_wound"),
    (&["wraps"], "turns_wound"),
    (&["uncut"], "uncut"),
    (&["not", "cut"], "uncut"),
    (&["nicked"], "nicked"),
    (&["bent"], "nicked"),
    (&["deformed"], "nicked"),
    (&["crushed"], "crushed"),
    (&["good"], "good"),
    (&["annealed"], "annealed"),
    (&["softened"], "annealed"),
    (&["temper"], "temper"),
    (&["hardness"], "temper"),
    (&["lot"], "lot"),
    (&["mandrel"], "rod"),
    (&["rod"], "rod"),
    (&["wire"], "wire"),
    (&["gauge"], "wire"),
    (&["metal"], "metal"),
    (&["alloy"], "metal"),
    (&["date"], "tried_on"),
    (&["day"], "tried_on"),
    (&["when"], "tried_on"),
    (&["operator"], "worker"),
    (&["worker"], "worker"),
    (&["who"], "worker"),
    (&["by"], "worker"),
    (&["outcome"], "outcome"),
    (&["result"], "outcome"),
    (&["note"], "note"),
    (&["notes"], "note"),
    (&["remarks"], "note"),
    (&["comment"], "note"),
    (&["comments"], "note"),
    (&["blade"], "blade"),
];

/// Words that say a column is worked out from others, or of what has no place in a trial.
const LEFT_OUT: &[&str] = &["reckoned", "kerf", "teeth", "axis", "session", "lost"];

/// Guesses what a column holds from its heading.
#[must_use]
pub fn guess(heading: &str) -> Guess {
    let plain = heading.to_lowercase();
    let words: Vec<&str> = plain
        .split(|letter: char| !letter.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect();
    if words.iter().any(|word| LEFT_OUT.contains(word)) {
        return Guess::default();
    }
    let found = WORDS.iter().find(|(needed, _)| needed.iter().all(|word| words.contains(word)));
    let unit = ["mm", "inches", "thou", "awg", "swg", "in"]
        .into_iter()
        .find(|unit| words.contains(unit))
        .map(|unit| if unit == "inches" { "in" } else { unit });
    Guess { field: found.map(|(_, field)| *field), unit }
}

#[cfg(test)]
mod tests {
    use super::guess;

    #[test]
    fn headings_in_plain_english_are_understood() {
        for (heading, field, unit) in [
            ("wire_mm", Some("wire"), Some("mm")),
            ("Mandrel (mm)", Some("rod"), Some("mm")),
            ("Rod as typed", Some("rod"), None),
            ("Wire, mm (reckoned)", None, None),
            ("blade_dia_mm", Some("blade_diameter"), Some("mm")),
            ("blade_kerf_mm", None, None),
            ("Blade", Some("blade"), None),
            ("entry_lost", None, None),
            ("Date", Some("tried_on"), None),
            ("ID in inches", Some("inside"), Some("in")),
            ("AWG wire", Some("wire"), Some("awg")),
            ("Good rings", Some("good"), None),
            ("Favourite colour", None, None),
        ] {
            let found = guess(heading);
            assert_eq!((found.field, found.unit), (field, unit), "{heading}");
        }
    }
}
