//! The order's form: every field as typed, however many lines it has.

use std::collections::BTreeMap;

use linkwright_store::Saved;
use linkwright_store::records::{LineKind, OrderLine, RingOrder};

use super::sizes;
use crate::form::Complaints;

/// Fields of the order itself.
const ORDER_FIELDS: [&str; 5] = ["name", "asked_on", "due_on", "buyer", "note"];

/// Fields of one line; in the form each begins with the line's number.
const LINE_FIELDS: [&str; 25] = [
    "id",
    "name",
    "kind",
    "rings",
    "pattern",
    "chain_length",
    "girth",
    "ease",
    "across",
    "end_rings",
    "clasp_is",
    "clasp",
    "kits",
    "rings_each",
    "spare_each",
    "metal",
    "temper",
    "wire",
    "by",
    "ring",
    "side",
    "state",
    "tolerance",
    "rod",
    "spare",
];

/// Lines one form may have.
pub(super) const LINES_MOST: usize = 40;

/// Longest text a field may hold.
pub(super) const LETTERS_MOST: usize = 2_000;

/// What was typed, by name of the field.
pub(super) type Typed = BTreeMap<String, String>;

/// The form as typed.
#[derive(Clone, Debug, Default)]
pub(super) struct OrderForm {
    order: BTreeMap<&'static str, String>,
    pub(super) lines: Vec<LineForm>,
}

/// One line as typed.
#[derive(Clone, Debug, Default)]
pub(super) struct LineForm {
    typed: BTreeMap<&'static str, String>,
}

/// One field as the page shows it.
pub(super) struct Field {
    pub(super) name: String,
    pub(super) value: String,
    pub(super) complaint: String,
    /// The size in both systems, where it is one and can be read.
    pub(super) echo: String,
}

/// What a button of the form asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Wanted {
    Save,
    AddLine,
    RemoveLine(usize),
}

impl Wanted {
    pub(super) fn of(typed: &Typed) -> Wanted {
        match typed.get("do").map(String::as_str) {
            Some("add-line") => Wanted::AddLine,
            Some(other) => match other.strip_prefix("remove-line-").map(str::parse) {
                Some(Ok(number)) => Wanted::RemoveLine(number),
                _ => Wanted::Save,
            },
            None => Wanted::Save,
        }
    }
}

impl OrderForm {
    /// An empty form with one line.
    pub(super) fn blank(name: String, today: String) -> OrderForm {
        let mut form = OrderForm::default();
        form.order.insert("name", name);
        form.order.insert("asked_on", today);
        form.lines.push(LineForm::blank(1));
        form
    }

    /// The form with its line begun as a link asks, such as "same as last time" of a batch.
    pub(super) fn begun_with(mut self, asked: &Typed) -> OrderForm {
        for line in &mut self.lines {
            let begun = [
                ("metal", "metal"),
                ("temper", "temper"),
                ("wire", "wire"),
                ("ring", "ring"),
                ("rod", "rod"),
                ("kind", "kind"),
                ("rings", "rings"),
                ("pattern", "pattern"),
                ("tolerance", "tolerance"),
                ("length", "chain_length"),
                ("across", "across"),
                ("clasp", "clasp"),
            ];
            for (given, field) in begun {
                let given = asked.get(given).filter(|text| text.chars().count() <= LETTERS_MOST);
                if let Some(text) = given {
                    line.typed.insert(field, text.clone());
                }
            }
            if asked.contains_key("pattern") {
                let with_clasp = if asked.contains_key("clasp") { "in" } else { "out" };
                line.typed.insert("clasp_is", with_clasp.to_owned());
            }
            if asked.contains_key("rod") && !asked.contains_key("ring") {
                line.typed.insert("by", "rod".to_owned());
            }
        }
        self
    }

    /// An order that is kept, to be changed.
    pub(super) fn kept(order: &RingOrder, lines: &[Saved<OrderLine>]) -> OrderForm {
        let typed = [
            ("name", order.name.clone()),
            ("asked_on", order.asked_on.clone()),
            ("due_on", order.due_on.clone().unwrap_or_default()),
            ("buyer", order.buyer.clone()),
            ("note", order.note.clone()),
        ];
        OrderForm {
            order: typed.into_iter().collect(),
            lines: lines.iter().map(LineForm::kept).collect(),
        }
    }

    /// What came back from a browser.
    pub(super) fn sent(typed: &Typed) -> OrderForm {
        let text = |name: &str| typed.get(name).cloned().unwrap_or_default();
        let order = ORDER_FIELDS.into_iter().map(|name| (name, text(name))).collect();
        let is_line = |number: &usize| typed.contains_key(&key(*number, "name"));
        let lines = (1..=LINES_MOST)
            .take_while(is_line)
            .map(|number| LineForm {
                typed: LINE_FIELDS
                    .into_iter()
                    .map(|name| (name, text(&key(number, name))))
                    .collect(),
            })
            .collect();
        OrderForm { order, lines }
    }

    /// The form with one more line, or one fewer.
    pub(super) fn with(mut self, wanted: Wanted) -> OrderForm {
        match wanted {
            Wanted::AddLine if self.lines.len() < LINES_MOST => {
                let next = self.lines.len() + 1;
                // The next line is most often of the same wire.
                let line =
                    self.lines.last().map_or_else(|| LineForm::blank(next), |last| last.next(next));
                self.lines.push(line);
            }
            Wanted::RemoveLine(number)
                if (1..=self.lines.len()).contains(&number) && self.lines.len() > 1 =>
            {
                self.lines.remove(number - 1);
            }
            _ => {}
        }
        self
    }

    pub(super) fn at(&self, name: &str) -> &str {
        self.order.get(name).map_or("", |text| text.trim())
    }

    /// A field of the order as the page shows it.
    pub(super) fn field(&self, name: &'static str, complaints: &Complaints) -> Field {
        Field {
            name: name.to_owned(),
            value: self.order.get(name).cloned().unwrap_or_default(),
            complaint: complaints.about(name).to_owned(),
            echo: String::new(),
        }
    }
}

impl LineForm {
    fn blank(number: usize) -> LineForm {
        let typed = [
            ("name", format!("line {number}")),
            ("kind", LineKind::Rings.word().to_owned()),
            ("by", "ring".to_owned()),
            ("spare_each", "0".to_owned()),
        ];
        LineForm { typed: typed.into_iter().collect() }
    }

    /// The line after this one: the same wire, nothing else.
    fn next(&self, number: usize) -> LineForm {
        let mut line = LineForm::blank(number);
        for name in ["metal", "temper", "wire", "by", "kind"] {
            line.typed.insert(name, self.at(name).to_owned());
        }
        line
    }

    fn kept(line: &Saved<OrderLine>) -> LineForm {
        let record = &line.record;
        let text = |kept: &Option<String>| kept.clone().unwrap_or_default();
        let count = |kept: Option<u32>| kept.map_or_else(String::new, |count| count.to_string());
        let clasp_is = match (record.kind, &record.clasp_typed) {
            (LineKind::Chain, Some(_)) => "in",
            (LineKind::Kits, Some(_)) => "in",
            (LineKind::Chain, None) => "out",
            (LineKind::Kits, None) if record.pattern.is_some() => "out",
            _ => "",
        };
        let typed = [
            ("id", line.id.to_string()),
            ("name", record.name.clone()),
            ("kind", record.kind.word().to_owned()),
            ("rings", count(record.rings)),
            ("chain_length", text(&record.chain_length_typed)),
            ("pattern", text(&record.pattern)),
            ("girth", text(&record.girth_typed)),
            ("ease", text(&record.ease_typed)),
            ("across", text(&record.across_typed)),
            ("end_rings", count(record.end_rings)),
            ("clasp_is", clasp_is.to_owned()),
            ("clasp", text(&record.clasp_typed)),
            ("kits", count(record.kits)),
            ("rings_each", count(record.rings_each)),
            ("spare_each", record.spare_each.unwrap_or(0).to_string()),
            ("metal", record.metal.clone()),
            ("temper", record.temper.clone()),
            ("wire", record.wire_typed.clone()),
            ("by", if record.rod_typed.is_some() { "rod" } else { "ring" }.to_owned()),
            ("ring", text(&record.ring_typed)),
            ("tolerance", text(&record.tolerance_typed)),
            ("rod", text(&record.rod_typed)),
            ("spare", text(&record.spare_typed)),
        ];
        LineForm { typed: typed.into_iter().collect() }
    }

    pub(super) fn at(&self, name: &str) -> &str {
        self.typed.get(name).map_or("", |text| text.trim())
    }

    /// The ring with the side and the state chosen beside it.
    pub(super) fn ring(&self) -> String {
        let words = ["ring", "side", "state"].map(|name| self.at(name));
        words.into_iter().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
    }

    fn field(&self, number: usize, name: &'static str, complaints: &Complaints) -> Field {
        let value = self.typed.get(name).cloned().unwrap_or_default();
        let complaint = complaints.about(&key(number, name)).to_owned();
        let echo = match name {
            _ if !complaint.is_empty() => String::new(),
            "wire" => sizes::wire(&value),
            "ring" => sizes::ring(&self.ring()),
            "chain_length" | "girth" | "ease" | "across" | "clasp" | "rod" | "tolerance" => {
                sizes::length(&value)
            }
            _ => String::new(),
        };
        Field { name: key(number, name), value, complaint, echo }
    }
}

/// Name of a field of a line, as `line-2-wire`.
pub(super) fn key(line: usize, name: &str) -> String {
    format!("line-{line}-{name}")
}

/// One line as the page shows it.
pub(super) struct LineView<'a> {
    pub(super) number: usize,
    pub(super) form: &'a LineForm,
    pub(super) complaints: &'a Complaints,
}

impl LineView<'_> {
    pub(super) fn field(&self, name: &'static str) -> Field {
        self.form.field(self.number, name, self.complaints)
    }

    pub(super) fn key(&self, name: &str) -> String {
        key(self.number, name)
    }

    pub(super) fn is(&self, name: &str, value: &str) -> bool {
        self.form.at(name) == value
    }
}
