//! Blades: what they are, what they have cut, and how long they last here.

use linkwright_calc::limits::{BLADE_DIAMETER, HUB_DIAMETER};
use linkwright_calc::quantity::Length;
use linkwright_calc::slit::{self, BladeParts, Kerf};
use linkwright_store::records::Blade;
use linkwright_store::{Id, Saved, View};

use super::kept::{
    About, Around, Field, Kept, Typed, Way, day, line, needed, optional_size, shown, size, text,
    typed_from, whole,
};
use super::wear::{UsualLife, Wear};
use crate::error::PageError;
use crate::form::Complaints;

/// The most teeth and rings a form takes.
const TEETH_MOST: u32 = 2_000;
const RINGS_MOST: u32 = 10_000_000;

impl Kept for Blade {
    const PATH: &'static str = "blades";
    const MANY: &'static str = "Blades";
    const EMPTY: &'static str =
        "No blades yet. Add each blade with its size and kerf; mark one face of it.";
    const HEADINGS: &'static [&'static str] =
        &["blade", "diameter", "kerf", "teeth", "cut since new"];

    fn name(&self) -> &str {
        &self.name
    }

    fn cells(&self, id: Id<Blade>, view: &View<'_>) -> Result<Vec<String>, PageError> {
        Ok(vec![
            self.name.clone(),
            self.diameter_typed.clone(),
            self.kerf_typed.clone(),
            self.teeth.map_or_else(|| "not counted".to_owned(), |teeth| teeth.to_string()),
            Wear::of(&Saved { id, record: self.clone() }, view)?.to_string(),
        ])
    }

    fn about(&self, id: Id<Blade>, view: &View<'_>, _: &Around) -> Result<About, PageError> {
        let mut about = About::default();
        about.row("diameter", shown(&self.diameter_typed, self.diameter_mm));
        about.row("kerf", shown(&self.kerf_typed, self.kerf_mm));
        about.row(
            "teeth",
            self.teeth.map_or_else(|| "not counted".to_owned(), |teeth| format!("{teeth} teeth")),
        );
        about.if_any(
            "hub",
            self.hub_typed.as_ref().zip(self.hub_mm).map(|(typed, mm)| shown(typed, mm)),
        );
        about.if_any("first fitted", self.fitted_on.as_ref());
        let wear = Wear::of(&Saved { id, record: self.clone() }, view)?;
        about.row("cut since new", format!("{wear} - {}", wear.basis()));
        let usual = UsualLife::of(view)?;
        about.row(
            "usual life here",
            usual.map_or_else(
                || "not known: no blade of yours is retired yet".to_owned(),
                |usual| usual.to_string(),
            ),
        );
        about.cautions.extend(usual.and_then(|usual| usual.far_past(&wear)));
        about.if_any("note", (!self.note.is_empty()).then_some(&self.note));
        Ok(about)
    }

    fn fields(_: &Around) -> Vec<Field> {
        vec![
            line("name", "Name", "what you call it, such as small, thin"),
            line("diameter", "Diameter over the teeth", "1 1/4 in, 31.75 mm"),
            line("kerf", "Kerf", "width of the slot it leaves, such as 0.25 mm"),
            line("teeth", "Teeth", "leave empty if not counted"),
            line("hub", "Hub or washer diameter", "leave empty if not measured"),
            Field { name: "fitted_on", label: "First fitted on", hint: "", way: Way::Day },
            line("rings_before", "Rings cut before records", "0 for a new blade"),
            line("cut_before_mm2", "Wire section cut before records, mm2", "0 for a new blade"),
            line("note", "Note", ""),
        ]
    }

    fn fresh(around: &Around) -> Typed {
        typed_from([
            ("fitted_on", around.today.clone()),
            ("rings_before", "0".to_owned()),
            ("cut_before_mm2", "0".to_owned()),
        ])
    }

    fn typed(&self) -> Typed {
        typed_from([
            ("name", self.name.clone()),
            ("diameter", self.diameter_typed.clone()),
            ("kerf", self.kerf_typed.clone()),
            ("teeth", self.teeth.map(|teeth| teeth.to_string()).unwrap_or_default()),
            ("hub", self.hub_typed.clone().unwrap_or_default()),
            ("fitted_on", self.fitted_on.clone().unwrap_or_default()),
            ("rings_before", self.rings_before.to_string()),
            ("cut_before_mm2", self.cut_before_mm2.to_string()),
            ("note", self.note.clone()),
        ])
    }

    fn read(
        typed: &Typed,
        _: &Around,
        former: Option<&Blade>,
        complaints: &mut Complaints,
    ) -> Option<Blade> {
        let name = needed(typed, "name", "what is it called?", complaints);
        let over_teeth = |length: Length| BLADE_DIAMETER.check(length.mm());
        let diameter = size(typed, "diameter", over_teeth, complaints);
        let kerf = size(typed, "kerf", Kerf::new, complaints);
        let hub = optional_size(typed, "hub", |length| HUB_DIAMETER.check(length.mm()), complaints);
        let teeth = whole(typed, "teeth", TEETH_MOST, complaints);
        let rings_before = whole(typed, "rings_before", RINGS_MOST, complaints);
        let cut_before_mm2 = section(typed, complaints);
        let fitted_on = day(typed, "fitted_on", complaints);
        let ((diameter_typed, diameter_mm), (kerf_typed, kerf_mm)) = (diameter?, kerf?);
        let ((hub_typed, hub_mm), teeth) = (hub?.unzip(), teeth?);
        let parts = BladeParts {
            diameter: Length::from_mm(diameter_mm),
            kerf: Kerf::new(Length::from_mm(kerf_mm)).ok()?,
            teeth,
            hub_diameter: hub_mm.map(Length::from_mm),
        };
        let field =
            if hub_mm.is_some_and(|hub_mm| hub_mm >= diameter_mm) { "hub" } else { "teeth" };
        complaints.take(field, slit::Blade::new(parts))?;
        Some(Blade {
            name: name?,
            diameter_typed,
            diameter_mm,
            kerf_typed,
            kerf_mm,
            teeth,
            hub_typed,
            hub_mm,
            fitted_on: fitted_on?,
            rings_before: rings_before?.unwrap_or(0),
            cut_before_mm2: cut_before_mm2?,
            retired_on: former.and_then(|blade| blade.retired_on.clone()),
            retired_why: former.map(|blade| blade.retired_why.clone()).unwrap_or_default(),
            note: text(typed, "note").trim().to_owned(),
        })
    }

    fn size_mm(&self) -> f64 {
        self.diameter_mm
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

fn section(typed: &Typed, complaints: &mut Complaints) -> Option<f64> {
    let words = text(typed, "cut_before_mm2").trim();
    match words.parse::<f64>() {
        _ if words.is_empty() => Some(0.0),
        Ok(number) if number.is_finite() && (0.0..=1e8).contains(&number) => Some(number),
        _ => {
            complaints.add("cut_before_mm2", format!("{words} is no number of mm2 from 0 up"));
            None
        }
    }
}
