//! Lots of wire: what they are, what is left, and what their rings have taught.

use linkwright_answers::printout::{Unit, both_lengths};
use linkwright_calc::cautions::for_metal;
use linkwright_calc::limits::DENSITY;
use linkwright_calc::metal::{self, Catalogue, Measured, OnHand, gauge_custom};
use linkwright_calc::money::parse_price;
use linkwright_calc::plan::StockedWire;
use linkwright_calc::quantity::{Density, Length, Mass, parse_length, parse_mass};
use linkwright_calc::wind::{Mandrel, WireState};
use linkwright_calc::wire::Wire;
use linkwright_store::records::{Rod, WireLot};
use linkwright_store::{Id, Saved, View};

use super::kept::{
    About, Around, Field, Kept, Table, Typed, Way, day, line, needed, optional_size, shown_wire,
    size, text, tick, typed_from,
};
use crate::error::PageError;
use crate::form::{Complaints, given};
use crate::planning::{catalogue, lot_fit, metal_name, metals_for_names, stock_named, stocks};

impl Kept for WireLot {
    const PATH: &'static str = "lots";
    const MANY: &'static str = "Wire lots";
    const EMPTY: &'static str =
        "No wire yet. Add each reel as it comes; measure it once with a micrometer.";
    const HEADINGS: &'static [&'static str] = &["lot", "metal", "wire", "left"];

    fn name(&self) -> &str {
        &self.name
    }

    fn cells(&self, id: Id<WireLot>, view: &View<'_>) -> Result<Vec<String>, PageError> {
        Ok(vec![
            self.name.clone(),
            format!("{}, {}", metal_name(&*metals_for_names(view)?, &self.metal), self.temper),
            self.measured_diameter_typed.clone().unwrap_or_else(|| self.diameter_typed.clone()),
            left(self, id, view)?,
        ])
    }

    fn about(&self, id: Id<WireLot>, view: &View<'_>, around: &Around) -> Result<About, PageError> {
        let mut about = About::default();
        let metal = around.metals.find(&self.metal).ok();
        about.row("metal", format!("{}, {}", metal_name(&around.metals, &self.metal), self.temper));
        about.row("marked", shown_wire(&self.diameter_typed, self.diameter_mm));
        match self.measured_diameter_typed.as_ref().zip(self.measured_diameter_mm) {
            Some((typed, mm)) => {
                about.row("measured", format!("{} - plans use this", shown_wire(typed, mm)));
            }
            None => about.row("measured", "never; plans trust the marking"),
        }
        let typed = [Some(&self.diameter_typed), self.measured_diameter_typed.as_ref()];
        for remark in
            typed.into_iter().flatten().filter_map(|typed| parse_length(typed).ok()?.remark())
        {
            about.cautions.push(format!("{remark}."));
        }
        if let Some(custom) = metal.and_then(|metal| gauge_custom(metal.family())) {
            about.row(
                "this metal is mostly sold by",
                format!("{} - {}", custom.customary_gauge, custom.source),
            );
        }
        about.row("bought", bought(self));
        about.row("left", left(self, id, view)?);
        about.if_any("price", self.price_typed.as_ref().map(|price| priced(price, self)));
        about.if_any(
            "density, measured",
            self.measured_density_g_cm3.map(|density| Unit::Density.show(density)),
        );
        about.row("annealed since bought", if self.annealed { "yes, all of it" } else { "no" });
        about.if_any("from", (!self.supplier.is_empty()).then_some(&self.supplier));
        about.if_any("bought on", self.bought_on.as_ref());
        about.if_any("note", (!self.note.is_empty()).then_some(&self.note));
        if let Some(metal) = metal {
            about.cautions.extend(for_metal(metal).iter().map(|line| line.text.to_owned()));
        }
        if let Some(stock) = stock_named(&stocks(view)?, &self.name) {
            rings(stock, &view.all()?, &mut about);
        }
        Ok(about)
    }

    fn fields(around: &Around) -> Vec<Field> {
        let metals: Vec<String> =
            around.metals.metals().iter().map(|metal| metal.trade_name().to_string()).collect();
        let tempers = ["soft", "quarter hard", "half hard", "hard", "spring hard"];
        vec![
            line("name", "Name", "what stands on the reel, such as silver reel 8"),
            Field {
                name: "metal",
                label: "Metal",
                hint: "such as sterling, copper, yellow brass; own metals too",
                way: Way::Offered(metals),
            },
            Field {
                name: "temper",
                label: "Temper",
                hint: "as bought",
                way: Way::Offered(tempers.map(str::to_owned).to_vec()),
            },
            line("diameter", "Wire as marked", "18 awg, 1.02 mm, .040 in, 19 swg"),
            line("measured", "Wire as measured", "with a micrometer; leave empty if not yet"),
            line("amount", "On the reel", "a length or a mass: 6 m, 250 g, 8 ozt"),
            line("price", "Price", "such as 1.10 EUR per g; leave empty if not known"),
            Field { name: "price_date", label: "Day of the price", hint: "", way: Way::Day },
            line("density", "Density measured, g/cm3", "if you weighed a length of it"),
            Field {
                name: "annealed",
                label: "All of it was annealed after it was bought",
                hint: "",
                way: Way::Tick,
            },
            line("supplier", "From", "stays in here; never printed for others"),
            Field { name: "bought_on", label: "Bought on", hint: "", way: Way::Day },
            line("note", "Note", ""),
        ]
    }

    fn fresh(around: &Around) -> Typed {
        typed_from([("bought_on", around.today.clone()), ("temper", "soft".to_owned())])
    }

    fn typed(&self) -> Typed {
        let or_blank = |text: &Option<String>| text.clone().unwrap_or_default();
        typed_from([
            ("name", self.name.clone()),
            ("metal", self.metal.clone()),
            ("temper", self.temper.clone()),
            ("diameter", self.diameter_typed.clone()),
            ("measured", or_blank(&self.measured_diameter_typed)),
            ("amount", bought(self)),
            ("price", or_blank(&self.price_typed)),
            ("price_date", or_blank(&self.price_date)),
            ("density", self.measured_density_g_cm3.map(|g| g.to_string()).unwrap_or_default()),
            ("annealed", tick(self.annealed)),
            ("supplier", self.supplier.clone()),
            ("bought_on", or_blank(&self.bought_on)),
            ("note", self.note.clone()),
        ])
    }

    fn read(
        typed: &Typed,
        around: &Around,
        former: Option<&WireLot>,
        complaints: &mut Complaints,
    ) -> Option<WireLot> {
        let name = needed(typed, "name", "what is it called?", complaints);
        let diameter = size(typed, "diameter", Wire::new, complaints);
        let measured = optional_size(typed, "measured", Wire::new, complaints);
        let kind = metal_and_temper(typed, around, diameter.as_ref(), complaints);
        let amount = amount(typed, complaints);
        let price = given(text(typed, "price"));
        if let Some(price) = &price {
            complaints.take("price", parse_price(price));
        }
        let density = density(typed, complaints);
        let price_date = day(typed, "price_date", complaints);
        let bought_on = day(typed, "bought_on", complaints);
        let (diameter_typed, diameter_mm) = diameter?;
        let (measured_diameter_typed, measured_diameter_mm) = measured?.unzip();
        let (metal, temper) = kind?;
        let (length_typed, mass_typed) = amount?;
        Some(WireLot {
            name: name?,
            metal,
            temper,
            diameter_typed,
            diameter_mm,
            measured_diameter_typed,
            measured_diameter_mm,
            measured_density_g_cm3: density?,
            length_typed,
            mass_typed,
            annealed: given(text(typed, "annealed")).is_some(),
            price_typed: price,
            price_date: price_date?,
            supplier: text(typed, "supplier").trim().to_owned(),
            bought_on: bought_on?,
            note: text(typed, "note").trim().to_owned(),
            finished_on: former.and_then(|lot| lot.finished_on.clone()),
            finished_why: former.map(|lot| lot.finished_why.clone()).unwrap_or_default(),
        })
    }

    fn size_mm(&self) -> f64 {
        self.wire_mm()
    }

    fn put_away(&self) -> Option<(&str, &str)> {
        self.finished_on.as_deref().map(|since| (since, self.finished_why.as_str()))
    }

    fn set_put_away(&mut self, since_and_why: Option<(String, String)>) {
        let (since, why) = since_and_why.unzip();
        self.finished_on = since;
        self.finished_why = why.unwrap_or_default();
    }
}

fn bought(lot: &WireLot) -> String {
    lot.mass_typed.clone().or_else(|| lot.length_typed.clone()).unwrap_or_default()
}

fn priced(price: &str, lot: &WireLot) -> String {
    lot.price_date.as_ref().map_or_else(|| price.to_owned(), |date| format!("{price}, {date}"))
}

/// What is left, worked out from what runs weighed in.
fn left(lot: &WireLot, id: Id<WireLot>, view: &View<'_>) -> Result<String, PageError> {
    let taken_g = view.wire_taken_g(id)?;
    let bought = bought(lot);
    if taken_g <= 0.0 {
        return Ok(format!("{bought}, nothing taken yet"));
    }
    let taken = Unit::Mass.show(taken_g);
    let metals = catalogue(&view.all()?)?;
    let Some(reel) = reel(lot, &metals) else {
        return Ok(format!("{bought} less {taken} taken by runs"));
    };
    let left_g = reel.mass_left(Mass::from_g(taken_g)).g();
    Ok(format!("{} - worked out: {bought} less {taken} taken by runs", Unit::Mass.show(left_g)))
}

/// The lot as it was bought, in the types of the formulas.
fn reel(lot: &WireLot, metals: &Catalogue) -> Option<metal::WireLot> {
    let wire = |mm| Wire::new(Length::from_mm(mm)).ok();
    let metal = metals.find(&lot.metal).ok()?;
    let temper = metal.temper_for_wire(&lot.temper, wire(lot.wire_mm())?).ok()?.value;
    let on_hand = match (&lot.mass_typed, &lot.length_typed) {
        (Some(mass), _) => OnHand::by_mass(parse_mass(mass).ok()?.value()),
        (None, length) => OnHand::by_length(parse_length(length.as_ref()?).ok()?.value()),
    };
    Some(metal::WireLot {
        metal: metal.clone(),
        temper: temper.clone(),
        marked: wire(lot.diameter_mm)?,
        measured: lot.measured_diameter_mm.and_then(wire).map(Measured::once),
        measured_density: lot
            .measured_density_g_cm3
            .map(|g_cm3| Measured::once(Density::from_g_cm3(g_cm3))),
        on_hand: on_hand.ok()?,
        price: None,
        annealed: lot.annealed,
        note: String::new(),
    })
}

/// Less than this share of what was bought is little. Own choice.
const LOW_SHARE: f64 = 0.1;

/// What is left of a lot, if that is little.
pub(super) fn running_low(
    lot: &Saved<WireLot>,
    stock: &[StockedWire],
    view: &View<'_>,
) -> Result<Option<String>, PageError> {
    let taken_g = view.wire_taken_g(lot.id)?;
    let Some(stock) = stock.iter().find(|stock| stock.name == lot.record.name) else {
        return Ok(None);
    };
    let left_g = stock.lot.mass_on_hand().value.g();
    let low = taken_g > 0.0 && left_g < LOW_SHARE * (left_g + taken_g);
    Ok(low.then(|| format!("{} left - worked out", Unit::Mass.show(left_g))))
}

/// The ring to expect on every rod, in the states the wire may be wound in.
fn rings(stock: &StockedWire, rods: &[Saved<Rod>], about: &mut About) {
    let wire = stock.lot.diameter().value;
    let mut states = vec![WireState::AsBought];
    if stock.lot.metal.may_torch() {
        states.push(WireState::Annealed);
    }
    if stock.lot.annealed {
        states.remove(0);
    }
    for state in states {
        let Ok(fit) = lot_fit(stock, state) else {
            about.cautions.push(format!(
                "the metals table holds no strength for this wire {}: no ring is predicted",
                state.word()
            ));
            continue;
        };
        let rows = rods
            .iter()
            .filter(|rod| rod.record.retired_on.is_none())
            .filter_map(|rod| {
                let mandrel = Mandrel::new(Length::from_mm(rod.record.diameter_mm())).ok()?;
                let ring = fit.predict(wire, mandrel)?.value;
                let high = ring
                    .high
                    .map_or_else(|| "no upper end".to_owned(), |high| both_lengths(high.mm()));
                Some(vec![
                    rod.record.name.clone(),
                    both_lengths(ring.inside_diameter.mm()),
                    format!("{} to {high}", both_lengths(ring.low.mm())),
                    ring.reach.to_string(),
                ])
            })
            .collect();
        about.tables.push(Table {
            title: format!("Open rings to expect, wire {}", state.word()),
            basis: format!("{}. The range holds four rings of five.", fit.flow_ratio().basis),
            headings: vec!["rod", "inside", "range", "tried"],
            rows,
        });
    }
}

fn metal_and_temper(
    typed: &Typed,
    around: &Around,
    diameter: Option<&(String, f64)>,
    complaints: &mut Complaints,
) -> Option<(String, String)> {
    let metal = needed(typed, "metal", "which metal is it?", complaints);
    let temper = needed(typed, "temper", "how hard was it bought?", complaints);
    let metal = complaints.take("metal", around.metals.find(&metal?))?;
    let temper = temper?;
    let wire = Wire::new(Length::from_mm(diameter?.1)).ok()?;
    complaints.take("temper", metal.temper_for_wire(&temper, wire))?;
    Some((metal.key().to_string(), temper))
}

/// What is on the reel: a length or a mass, one of the two.
fn amount(typed: &Typed, complaints: &mut Complaints) -> Option<(Option<String>, Option<String>)> {
    let question = "how much is on the reel? Write a length or a mass, such as 6 m or 250 g";
    let words = needed(typed, "amount", question, complaints)?;
    if let Ok(length) = parse_length(&words) {
        complaints.take("amount", OnHand::by_length(length.value()))?;
        return Some((Some(words), None));
    }
    let mass = complaints.take("amount", parse_mass(&words))?;
    complaints.take("amount", OnHand::by_mass(Mass::from_g(mass.value().g())))?;
    Some((None, Some(words)))
}

/// A density typed as a plain number of g/cm3.
#[expect(clippy::option_option, reason = "wrong, left empty, and given are three things")]
fn density(typed: &Typed, complaints: &mut Complaints) -> Option<Option<f64>> {
    let Some(words) = given(text(typed, "density")) else { return Some(None) };
    let Ok(number) = words.parse::<f64>() else {
        complaints.add("density", format!("{words} is no number; write g/cm3, such as 10.36"));
        return None;
    };
    complaints.take("density", DENSITY.check(number)).map(Some)
}
