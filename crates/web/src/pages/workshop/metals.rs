//! Own metals: entries as a metals file has them, checked as such a file is.

use std::fmt::Write as _;

use linkwright_answers::files::metals_toml;
use linkwright_answers::printout::Unit;
use linkwright_calc::limits::DENSITY;
use linkwright_calc::quantity::parse_fineness;
use linkwright_store::records::MetalOverlay;
use linkwright_store::{Id, View};

use super::kept::{About, Around, Field, Kept, Typed, Way, line, needed, text, typed_from};
use crate::error::PageError;
use crate::form::{Complaints, given};

impl Kept for MetalOverlay {
    const PATH: &'static str = "metals";
    const MANY: &'static str = "Own metals";
    const EMPTY: &'static str = "No metals of your own: the built-in ones stand. Add one for an alloy they do not have, or your own values for one they do.";
    const HEADINGS: &'static [&'static str] = &["metal"];

    fn name(&self) -> &str {
        &self.metal
    }

    fn cells(&self, _: Id<MetalOverlay>, _: &View<'_>) -> Result<Vec<String>, PageError> {
        Ok(vec![self.metal.clone()])
    }

    fn about(
        &self,
        _: Id<MetalOverlay>,
        _: &View<'_>,
        around: &Around,
    ) -> Result<About, PageError> {
        let mut about = About::default();
        about.row("key", &self.metal);
        if let Ok(metal) = around.metals.find(&self.metal) {
            about.row("name", metal.trade_name());
            let density = metal.density();
            about.row(
                "density",
                format!("{} - {}", Unit::Density.show(density.value.g_cm3()), density.basis),
            );
            let tempers: Vec<String> =
                metal.tempers().iter().map(|temper| temper.name().to_string()).collect();
            about.row("tempers", tempers.join(", "));
        }
        about.row("entry", &self.entry);
        Ok(about)
    }

    fn fields(around: &Around) -> Vec<Field> {
        let metals = around.metals.metals().iter().map(|metal| metal.key().to_string());
        vec![
            line("name", "Name", "what you call it, such as pale silver 940"),
            Field {
                name: "like",
                label: "Behaves like",
                hint: "the metal whose strength and cautions it takes over",
                way: Way::Offered(metals.collect()),
            },
            line("density", "Density, g/cm3", "from the supplier; leave empty to take it over"),
            line(
                "fineness",
                "Fineness",
                "such as 940 permille or 14 k; leave empty to take it over",
            ),
            Field {
                name: "entry",
                label: "Or the whole entry",
                hint: "one [[metal]] of a metals file, for whoever knows more of it; then leave the fields above empty",
                way: Way::Lines,
            },
        ]
    }

    fn fresh(_: &Around) -> Typed {
        Typed::new()
    }

    fn typed(&self) -> Typed {
        typed_from([("entry", self.entry.clone())])
    }

    fn read(
        typed: &Typed,
        around: &Around,
        _: Option<&MetalOverlay>,
        complaints: &mut Complaints,
    ) -> Option<MetalOverlay> {
        let above = ["name", "like", "density", "fineness"];
        let by_field = above.iter().any(|field| given(text(typed, field)).is_some());
        let written = given(text(typed, "entry"));
        if by_field && written.is_some() {
            complaints.add("entry", "either fill in the fields above or write the entry, not both");
            return None;
        }
        let entry = match written {
            Some(entry) => entry.replace("\r\n", "\n"),
            None => usual_case(typed, around, complaints)?,
        };
        let key = toml_key(&entry);
        let text =
            if entry.contains("[[metal]]") { entry.clone() } else { format!("[[metal]]\n{entry}") };
        let at_fault = if by_field { "name" } else { "entry" };
        let metals = complaints.take(at_fault, metals_toml::catalogue("own metals", &text))?;
        let Some(key) = key else {
            complaints.add("entry", "key is missing; write key = \"a_name_of_your_own\"");
            return None;
        };
        let metal = complaints.take("entry", metals.find(&key))?.key().to_string();
        Some(MetalOverlay { metal, entry })
    }

    fn put_away(&self) -> Option<(&str, &str)> {
        None
    }

    fn set_put_away(&mut self, _: Option<(String, String)>) {}
}

/// The entry of a metal that behaves like a known one.
fn usual_case(typed: &Typed, around: &Around, complaints: &mut Complaints) -> Option<String> {
    let name = needed(typed, "name", "what is it called?", complaints);
    let like = needed(typed, "like", "which known metal does it behave like?", complaints);
    let like = like.and_then(|like| complaints.take("like", around.metals.find(&like)));
    let density = given(text(typed, "density")).map(|words| {
        let number =
            words.parse().map_err(|_| format!("{words} is no number of g/cm3, such as 10.3"));
        let number = complaints.take("density", number)?;
        complaints.take("density", DENSITY.check(number))
    });
    let fineness = given(text(typed, "fineness")).map(|words| {
        complaints.take("fineness", parse_fineness(&words)).map(|typed| typed.value())
    });
    let name = name?;
    let key: String = name
        .to_lowercase()
        .chars()
        .map(|letter| if letter.is_ascii_alphanumeric() { letter } else { '_' })
        .collect();
    // Quoted as TOML quotes, whatever was typed.
    let mut entry = format!(
        "key = {key:?}\nlike = {:?}\ntrade_name = {}\n",
        like?.key().to_string(),
        serde_json::Value::from(name.as_str())
    );
    if let Some(density) = density {
        let _ = writeln!(entry, "density_g_cm3 = {:?}", density?);
    }
    if let Some(fineness) = fineness {
        let _ = writeln!(entry, "stamp_permille = {:?}", fineness?.permille());
    }
    Some(entry)
}

/// The key an entry gives itself.
fn toml_key(entry: &str) -> Option<String> {
    entry.lines().find_map(|line| {
        let (name, value) = line.split_once('=')?;
        (name.trim() == "key").then(|| value.trim().trim_matches('"').to_owned())
    })
}
