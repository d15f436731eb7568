//! Holders: how long a coil they take, and how far a measured blade reaches over them.

use linkwright_answers::printout::both_lengths;
use linkwright_calc::limits::{LENGTH, Limit, LimitError};
use linkwright_calc::quantity::{Length, parse_length};
use linkwright_calc::slit::{AxisHeight, Blade as CalcBlade, BladeParts, Kerf, Projection};
use linkwright_store::records::{Blade, Holder};
use linkwright_store::{Act, Id, Saved, View};

use super::kept::{
    About, Around, Field, Kept, Table, Typed, Way, line, needed, optional_size, size, text,
    typed_from,
};
use crate::error::PageError;
use crate::form::{Complaints, given};

impl Kept for Holder {
    const PATH: &'static str = "holders";
    const MANY: &'static str = "Holders";
    const EMPTY: &'static str = "No holder yet. Add yours: its length sets how long a coil may be.";
    const HEADINGS: &'static [&'static str] = &["holder", "length", "lead-in", "plans use it"];

    fn name(&self) -> &str {
        &self.name
    }

    fn cells(&self, _: Id<Holder>, _: &View<'_>) -> Result<Vec<String>, PageError> {
        Ok(vec![
            self.name.clone(),
            self.length_typed.clone(),
            self.head_start_typed.clone().unwrap_or_else(|| "worked out".to_owned()),
            if self.in_use { "yes" } else { "no" }.to_owned(),
        ])
    }

    fn about(&self, _: Id<Holder>, _: &View<'_>, around: &Around) -> Result<About, PageError> {
        let mut about = About::default();
        about.row("length", both(&self.length_typed));
        let or = |typed: &Option<String>, otherwise: &str| {
            typed.as_deref().map_or_else(|| otherwise.to_owned(), both)
        };
        about.row("lead-in", or(&self.head_start_typed, "not set: worked out for each blade"));
        about.row(
            "axis halts short of the coil's end by",
            or(&self.stop_setback_typed, "not measured"),
        );
        about.row("clamp flattens the coil by", both(&self.squash_typed));
        about.row("clearance to keep above the far wall", both(&self.margin_typed));
        about.row("plans use it", if self.in_use { "yes" } else { "no" });
        about.if_any("note", (!self.note.is_empty()).then_some(&self.note));
        match self.projection_blade_id.zip(self.projection_typed.as_deref()) {
            Some((id, typed)) => other_blades(id, typed, &around.blades, &mut about),
            None => about.row("projection", "not measured with any blade"),
        }
        Ok(about)
    }

    fn fields(around: &Around) -> Vec<Field> {
        let in_use = around.blades.iter().filter(|blade| blade.record.retired_on.is_none());
        let blades = std::iter::once((String::new(), "not measured".to_owned()))
            .chain(in_use.map(|blade| (blade.id.to_string(), blade.record.name.clone())))
            .collect();
        vec![
            line("name", "Name", "what you call it"),
            line("length", "Length for the coil and its lead-in", "75 mm, 3 in"),
            line("head_start", "Lead-in before the coil", "leave empty to have it worked out"),
            line(
                "stop_setback",
                "The blade's axis halts short of the coil's end by",
                "leave empty if not measured",
            ),
            line("squash", "The clamp flattens the coil by", "0.05 mm if you have not measured it"),
            line(
                "margin",
                "Clearance to keep above the far wall",
                "0.3 mm is usual: common practice, no source",
            ),
            Field {
                name: "projection_blade",
                label: "Projection was measured with",
                hint: "how far the blade reaches below the top of the coil",
                way: Way::OneOf(blades),
            },
            line("projection", "Projection with that blade", "such as 1.50 mm"),
            Field { name: "in_use", label: "Plans use this holder", hint: "", way: Way::Tick },
            line("note", "Note", ""),
        ]
    }

    fn fresh(_: &Around) -> Typed {
        typed_from([
            ("squash", "0.05 mm".to_owned()),
            ("margin", "0.30 mm".to_owned()),
            ("in_use", "yes".to_owned()),
        ])
    }

    fn typed(&self) -> Typed {
        let or_blank = |text: &Option<String>| text.clone().unwrap_or_default();
        typed_from([
            ("name", self.name.clone()),
            ("length", self.length_typed.clone()),
            ("head_start", or_blank(&self.head_start_typed)),
            ("stop_setback", or_blank(&self.stop_setback_typed)),
            ("squash", self.squash_typed.clone()),
            ("margin", self.margin_typed.clone()),
            (
                "projection_blade",
                self.projection_blade_id.map(|id| id.to_string()).unwrap_or_default(),
            ),
            ("projection", or_blank(&self.projection_typed)),
            ("in_use", super::kept::tick(self.in_use)),
            ("note", self.note.clone()),
        ])
    }

    fn read(
        typed: &Typed,
        around: &Around,
        _: Option<&Holder>,
        complaints: &mut Complaints,
    ) -> Option<Holder> {
        let name = needed(typed, "name", "what is it called?", complaints);
        let length = size(typed, "length", between("holder_length_mm", 1.0, 10_000.0), complaints);
        let up_to = length.as_ref().map_or(10_000.0, |(_, mm)| *mm);
        let head_start =
            optional_size(typed, "head_start", between("head_start_mm", 0.0, up_to), complaints);
        let stop_setback = optional_size(
            typed,
            "stop_setback",
            between("stop_setback_mm", 0.0, up_to),
            complaints,
        );
        let squash = size(typed, "squash", between("squash_mm", 0.0, 50.0), complaints);
        let margin = size(typed, "margin", between("margin_mm", 0.0, 50.0), complaints);
        let measured = measured(typed, around, complaints);
        let (projection_blade_id, projection_typed) = measured?.unzip();
        Some(Holder {
            name: name?,
            length_typed: length?.0,
            head_start_typed: head_start?.map(|(typed, _)| typed),
            stop_setback_typed: stop_setback?.map(|(typed, _)| typed),
            squash_typed: squash?.0,
            margin_typed: margin?.0,
            projection_blade_id,
            projection_typed,
            in_use: given(text(typed, "in_use")).is_some(),
            note: text(typed, "note").trim().to_owned(),
        })
    }

    /// Plans are made for one holder: the last that was said to be used.
    fn saved(&self, act: &Act<'_>, id: Id<Holder>) -> Result<(), PageError> {
        if self.in_use {
            act.use_holder(id)?;
        }
        Ok(())
    }

    /// A holder that plans do not use is as good as put away.
    fn put_away(&self) -> Option<(&str, &str)> {
        None
    }

    fn set_put_away(&mut self, since_and_why: Option<(String, String)>) {
        self.in_use = since_and_why.is_none();
    }
}

/// A length within limits of its own.
fn between(field: &'static str, low: f64, high: f64) -> impl Fn(Length) -> Result<f64, LimitError> {
    move |length| Limit { field, low, high, ..LENGTH }.check(length.mm())
}

fn both(typed: &str) -> String {
    match parse_length(typed) {
        Ok(length) => format!("{typed} = {}", both_lengths(length.value().mm())),
        Err(_) => typed.to_owned(),
    }
}

/// The blade and the projection measured with it; both or neither.
#[expect(clippy::option_option, reason = "wrong, left empty, and given are three things")]
fn measured(
    typed: &Typed,
    around: &Around,
    complaints: &mut Complaints,
) -> Option<Option<(Id<Blade>, String)>> {
    let depth = optional_size(typed, "projection", Projection::new, complaints)?;
    let Some(blade) = given(text(typed, "projection_blade")) else {
        if depth.is_some() {
            complaints.add("projection_blade", "with which blade was it measured?");
            return None;
        }
        return Some(None);
    };
    let Some((depth, _)) = depth else {
        complaints
            .add("projection", "how far does it reach? Write it with its unit, such as 1.50 mm");
        return None;
    };
    let known = around.blades.iter().find(|known| known.id.to_string() == blade);
    let Some(known) = known else {
        complaints.add("projection_blade", "there is no such blade; choose one from the list");
        return None;
    };
    Some(Some((known.id, depth)))
}

/// What the measured projection means for the other blades on the same axis.
fn other_blades(id: Id<Blade>, typed: &str, blades: &[Saved<Blade>], about: &mut About) {
    let Some(measured) = blades.iter().find(|blade| blade.id == id) else { return };
    about.row("projection", format!("{}, measured with {}", both(typed), measured.record.name));
    let Some(axis) = axis_by(&measured.record, typed) else { return };
    let rows = blades
        .iter()
        .filter(|blade| blade.id != id && blade.record.retired_on.is_none())
        .filter_map(|blade| {
            let reach = match axis.projection_with(of_calc(&blade.record)?) {
                Ok(projection) => both_lengths(projection.depth().mm()),
                Err(error) => error.to_string(),
            };
            Some(vec![blade.record.name.clone(), reach])
        })
        .collect::<Vec<_>>();
    if !rows.is_empty() {
        about.tables.push(Table {
            title: "Projection of the other blades".to_owned(),
            basis: "worked out: the same axis, half the difference of the diameters".to_owned(),
            headings: vec!["blade", "projection"],
            rows,
        });
    }
}

/// Height of the blade's axis, by the projection that was measured with one blade.
pub(crate) fn axis_by(blade: &Blade, typed: &str) -> Option<AxisHeight> {
    let projection = Projection::new(parse_length(typed).ok()?.value()).ok()?;
    AxisHeight::from_measured(of_calc(blade)?, projection).ok()
}

/// The blade of a record, as the formulas want it.
pub(crate) fn of_calc(blade: &Blade) -> Option<CalcBlade> {
    CalcBlade::new(BladeParts {
        diameter: Length::from_mm(blade.diameter_mm),
        kerf: Kerf::new(Length::from_mm(blade.kerf_mm)).ok()?,
        teeth: blade.teeth,
        hub_diameter: blade.hub_mm.map(Length::from_mm),
    })
    .ok()
}
