//! What was typed into the form, and what it means.

use linkwright_answers::chain::design::{DesignField, DesignRead, DesignTyped};
use linkwright_answers::chain::{find, listed};
use linkwright_answers::printout::{Unit, both_lengths};
use linkwright_calc::quantity::{parse_length, parse_mass};
use linkwright_linkage::pattern::Kind;

use crate::form::Complaints;
use crate::pages::chain::asked::address;

/// Answers shown at first.
pub(super) const SHOWN: usize = 8;
/// Longest text a field may hold.
const LETTERS_MOST: usize = 200;
/// Patterns that can be chosen at most.
const PATTERNS_MOST: usize = 64;

/// The page.
const PAGE: &str = "/chain/to-measure";

/// What was typed.
#[derive(Clone, Debug, Default)]
pub(super) struct ToMeasure {
    sheet: bool,
    width: String,
    thickness: String,
    mass: String,
    cost: String,
    pub(super) length: String,
    pub(super) across: String,
    metal: String,
    patterns: Vec<String>,
    loose: bool,
    shown: usize,
    sent: bool,
}

impl ToMeasure {
    /// Of what stands behind the question mark; what is no field of ours is left out.
    pub(super) fn of(typed: &[(String, String)]) -> ToMeasure {
        let mut asked = ToMeasure { shown: SHOWN, ..ToMeasure::default() };
        for (field, text) in typed {
            let text: String = text.trim().chars().take(LETTERS_MOST).collect();
            let place = match field.as_str() {
                "made" => {
                    asked.sheet = text == "sheet";
                    asked.sent = true;
                    continue;
                }
                "loose" => {
                    asked.loose = !text.is_empty();
                    continue;
                }
                "show" => {
                    asked.shown = text.parse().unwrap_or(SHOWN).max(1);
                    continue;
                }
                "pattern" => {
                    if !text.is_empty() && asked.patterns.len() < PATTERNS_MOST {
                        asked.patterns.push(text);
                    }
                    continue;
                }
                "width" => &mut asked.width,
                "thickness" => &mut asked.thickness,
                "mass" => &mut asked.mass,
                "cost" => &mut asked.cost,
                "length" => &mut asked.length,
                "across" => &mut asked.across,
                "metal" => &mut asked.metal,
                _ => continue,
            };
            *place = text;
            asked.sent = true;
        }
        asked
    }

    /// Whether a question was sent, and not the blank form asked for.
    pub(super) const fn is_asked(&self) -> bool {
        self.sent
    }

    pub(super) const fn is_sheet(&self) -> bool {
        self.sheet
    }

    pub(super) const fn is_loose(&self) -> bool {
        self.loose
    }

    pub(super) const fn shown(&self) -> usize {
        self.shown
    }

    pub(super) fn at(&self, field: &str) -> &str {
        match field {
            "width" => &self.width,
            "thickness" => &self.thickness,
            "mass" => &self.mass,
            "cost" => &self.cost,
            "length" => &self.length,
            "across" => &self.across,
            "metal" => &self.metal,
            _ => "",
        }
    }

    pub(super) fn has_pattern(&self, name: &str) -> bool {
        self.patterns.iter().any(|pattern| pattern == name)
    }

    pub(super) fn any_pattern(&self) -> bool {
        !self.patterns.is_empty()
    }

    /// A size that was typed, in both systems; "" if it cannot be read.
    pub(super) fn echo(&self, field: &str) -> String {
        let typed = self.at(field);
        if field == "mass" {
            return parse_mass(typed)
                .map_or_else(|_| String::new(), |mass| Unit::Mass.show(mass.value().g()));
        }
        parse_length(typed).map_or_else(|_| String::new(), |size| both_lengths(size.value().mm()))
    }

    /// The echo of a field, or a hint while nothing that can be read stands in it.
    pub(super) fn echo_or(&self, field: &str, hint: &str) -> String {
        let echo = self.echo(field);
        if echo.is_empty() { hint.to_owned() } else { echo }
    }

    /// Reads the whole form; every complaint is found at once.
    pub(super) fn read(&self, metals: &[(String, String)]) -> Result<DesignRead, Complaints> {
        let mut complaints = Complaints::default();
        let typed = DesignTyped {
            sheet: self.sheet,
            width: &self.width,
            thickness: &self.thickness,
            mass: &self.mass,
            cost: &self.cost,
            length: &self.length,
            across: &self.across,
        };
        let read = typed.read();
        for (field, said) in read.as_ref().err().into_iter().flatten() {
            complaints.add(name(*field), said);
        }
        let metal = (!self.metal.is_empty()).then(|| self.metal.clone());
        if let Some(metal) = &metal
            && !metals.is_empty()
            && !metals.iter().any(|(key, _)| key == metal)
        {
            complaints
                .add("metal", format!("no wire of \"{metal}\" is on the shelf; choose another"));
        }
        let kind = if self.sheet { Kind::Sheet } else { Kind::Chain };
        let mut patterns = Vec::new();
        for given in &self.patterns {
            match find(given) {
                Err(error) => complaints.add("pattern", error),
                Ok(pattern) if pattern.kind() != kind => {
                    let what = if self.sheet { "is no sheet" } else { "is no chain" };
                    complaints.add(
                        "pattern",
                        format!(
                            "{} {what}; choose another, or the other kind above",
                            pattern.name()
                        ),
                    );
                }
                Ok(pattern) => patterns.push(pattern.name().to_owned()),
            }
        }
        match read {
            Ok(mut read) if complaints.is_empty() => {
                (read.wanted.metal, read.wanted.patterns) = (metal, patterns);
                read.wanted.loose = self.loose;
                Ok(read)
            }
            _ => Err(complaints),
        }
    }

    /// The question in words, for the paper and for whoever comes back.
    pub(super) fn in_words(&self, read: &DesignRead, metals: &[(String, String)]) -> String {
        let mut said = vec![if self.sheet { "a sheet".to_owned() } else { "a chain".to_owned() }];
        for (field, of) in [("width", "wide"), ("thickness", "thick")] {
            if !self.at(field).is_empty() {
                said.push(format!("{} {of}", self.echo(field)));
            }
        }
        if !self.mass.is_empty() {
            said.push(format!("{} heavy", self.echo("mass")));
        }
        if !self.cost.is_empty() {
            said.push(format!("of metal for {}", self.cost));
        }
        match (self.sheet, read.piece) {
            (_, None) => {}
            (false, Some(_)) => said.push(format!("in a piece of {}", self.echo("length"))),
            (true, Some(_)) => {
                let (length, across) = (self.echo("length"), self.echo("across"));
                said.push(format!("in a piece of {length} by {across}"));
            }
        }
        let metal = metals.iter().find(|(key, _)| *key == self.metal);
        said.push(metal.map_or_else(|| "any metal".to_owned(), |(_, name)| name.clone()));
        if !self.patterns.is_empty() {
            let titles: Vec<String> = listed()
                .into_iter()
                .filter(|pattern| self.has_pattern(&pattern.name))
                .map(|pattern| pattern.title)
                .collect();
            said.push(titles.join(" or "));
        }
        if self.loose {
            said.push("loose ones too".to_owned());
        }
        said.join(", ")
    }

    /// The address that asks the same and shows so many.
    pub(super) fn address(&self, shown: usize) -> String {
        let shown = shown.to_string();
        let made = if self.sheet { "sheet" } else { "chain" };
        let mut pairs = vec![("made", made)];
        for field in ["width", "thickness", "mass", "cost", "length", "across", "metal"] {
            if !self.at(field).is_empty() {
                pairs.push((field, self.at(field)));
            }
        }
        pairs.extend(self.patterns.iter().map(|pattern| ("pattern", pattern.as_str())));
        if self.loose {
            pairs.push(("loose", "yes"));
        }
        pairs.push(("show", &shown));
        address(PAGE, pairs.into_iter())
    }
}

/// The field as the form calls it.
const fn name(field: DesignField) -> &'static str {
    match field {
        DesignField::Width => "width",
        DesignField::Thickness => "thickness",
        DesignField::Mass => "mass",
        DesignField::Cost => "cost",
        DesignField::Length => "length",
        DesignField::Across => "across",
    }
}

#[cfg(test)]
mod tests {
    use super::ToMeasure;

    #[test]
    fn an_address_says_again_what_was_asked() {
        let typed =
            [("made", "chain"), ("width", "1/4 in"), ("pattern", "box"), ("pattern", "byzantine")]
                .map(|(field, text)| (field.to_owned(), text.to_owned()));
        let asked = ToMeasure::of(&typed);
        assert!(asked.is_asked() && asked.has_pattern("box") && asked.has_pattern("byzantine"));
        assert_eq!(
            asked.address(24),
            "/chain/to-measure?made=chain&width=1%2F4%20in&pattern=box&pattern=byzantine&show=24"
        );
        assert!(!ToMeasure::of(&[]).is_asked());
    }
}
