//! Own metals: entries as a metals file has them, checked as such a file is.

use linkwright_answers::files::metals_toml;
use linkwright_answers::printout::Unit;
use linkwright_store::records::MetalOverlay;
use linkwright_store::{Id, View};

use super::kept::{About, Around, Field, Kept, Typed, Way, needed, typed_from};
use crate::error::PageError;
use crate::form::Complaints;

/// An entry to start from.
const EXAMPLE: &str =
    "key = \"my_alloy\"\nlike = \"sterling_925\"\ntrade_name = \"my alloy 940\"\n";

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

    fn fields(_: &Around) -> Vec<Field> {
        vec![Field {
            name: "entry",
            label: "Entry",
            hint: "as one [[metal]] of a metals file; the page docs/files.md lists its keys",
            way: Way::Lines,
        }]
    }

    fn fresh(_: &Around) -> Typed {
        typed_from([("entry", EXAMPLE.to_owned())])
    }

    fn typed(&self) -> Typed {
        typed_from([("entry", self.entry.clone())])
    }

    fn read(
        typed: &Typed,
        _: &Around,
        _: Option<&MetalOverlay>,
        complaints: &mut Complaints,
    ) -> Option<MetalOverlay> {
        let entry = needed(typed, "entry", "what is it made of?", complaints)?;
        let entry = entry.replace("\r\n", "\n");
        let key = toml_key(&entry);
        let text =
            if entry.contains("[[metal]]") { entry.clone() } else { format!("[[metal]]\n{entry}") };
        let metals = complaints.take("entry", metals_toml::catalogue("own metals", &text))?;
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

/// The key an entry gives itself.
fn toml_key(entry: &str) -> Option<String> {
    entry.lines().find_map(|line| {
        let (name, value) = line.split_once('=')?;
        (name.trim() == "key").then(|| value.trim().trim_matches('"').to_owned())
    })
}
