//! Rods: as marked, and as measured, which counts for more.

use linkwright_calc::wind::Mandrel;
use linkwright_store::records::Rod;
use linkwright_store::{Id, View};

use super::kept::{
    About, Around, Field, Kept, Typed, line, needed, optional_size, shown, size, text, typed_from,
};
use crate::error::PageError;
use crate::form::Complaints;

impl Kept for Rod {
    const PATH: &'static str = "rods";
    const MANY: &'static str = "Rods";
    const EMPTY: &'static str =
        "No rods yet. Add each rod you wind on; measure it once with a micrometer.";
    const HEADINGS: &'static [&'static str] = &["rod", "marked", "measured"];

    fn name(&self) -> &str {
        &self.name
    }

    fn cells(&self, _: Id<Rod>, _: &View<'_>) -> Result<Vec<String>, PageError> {
        let measured = self.measured_typed.as_ref().zip(self.measured_mm);
        Ok(vec![
            self.name.clone(),
            shown(&self.marked_typed, self.marked_mm),
            measured.map_or_else(|| "never measured".to_owned(), |(typed, mm)| shown(typed, mm)),
        ])
    }

    fn about(&self, _: Id<Rod>, _: &View<'_>, _: &Around) -> Result<About, PageError> {
        let mut about = About::default();
        about.row("marked", shown(&self.marked_typed, self.marked_mm));
        match self.measured_typed.as_ref().zip(self.measured_mm) {
            Some((typed, mm)) => {
                about.row("measured", format!("{} - plans use this", shown(typed, mm)))
            }
            None => about.row("measured", "never; plans trust the marking"),
        }
        about.if_any("note", (!self.note.is_empty()).then_some(&self.note));
        Ok(about)
    }

    fn fields(_: &Around) -> Vec<Field> {
        vec![
            line("name", "Name", "what you call it, such as 4.0"),
            line("marked", "Diameter marked on it", "with its unit: 4.00 mm, 5/32 in"),
            line("measured", "Diameter measured", "with a micrometer; leave empty if not yet"),
            line("note", "Note", "such as: a drill shank"),
        ]
    }

    fn fresh(_: &Around) -> Typed {
        Typed::new()
    }

    fn typed(&self) -> Typed {
        typed_from([
            ("name", self.name.clone()),
            ("marked", self.marked_typed.clone()),
            ("measured", self.measured_typed.clone().unwrap_or_default()),
            ("note", self.note.clone()),
        ])
    }

    fn read(
        typed: &Typed,
        _: &Around,
        former: Option<&Rod>,
        complaints: &mut Complaints,
    ) -> Option<Rod> {
        let name = needed(typed, "name", "what is it called?", complaints);
        let marked = size(typed, "marked", Mandrel::new, complaints);
        let measured = optional_size(typed, "measured", Mandrel::new, complaints);
        let (marked_typed, marked_mm) = marked?;
        let (measured_typed, measured_mm) = measured?.unzip();
        Some(Rod {
            name: name?,
            marked_typed,
            marked_mm,
            measured_typed,
            measured_mm,
            note: text(typed, "note").trim().to_owned(),
            retired_on: former.and_then(|rod| rod.retired_on.clone()),
            retired_why: former.map(|rod| rod.retired_why.clone()).unwrap_or_default(),
        })
    }

    fn size_mm(&self) -> f64 {
        self.diameter_mm()
    }

    fn put_away(&self) -> Option<(&str, &str)> {
        self.retired_on.as_deref().map(|since| (since, self.retired_why.as_str()))
    }

    fn set_put_away(&mut self, since_and_why: Option<(String, String)>) {
        let (since, why) = since_and_why.unzip();
        self.retired_on = since;
        self.retired_why = why.unwrap_or_default();
    }
}
