//! The order's form: every field as typed, however many lines it has.

use std::collections::BTreeMap;

use linkwright_store::LineInFull;
use linkwright_store::records::{LineKind, RingOrder};

use super::ring_sizes::{PatternOffered, RING_FIELDS, SIZES_MOST, apart, sized};
use super::shown::Field;
use super::sizes;
use crate::form::Complaints;

/// Fields of the order itself.
const ORDER_FIELDS: [&str; 5] = ["name", "asked_on", "due_on", "buyer", "note"];

/// Fields of one line beside those of its ring sizes; in the form each begins with the line's number.
const LINE_FIELDS: [&str; 18] = [
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
    typed: BTreeMap<String, String>,
}

/// What a button of the form asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Wanted {
    Save,
    AddLine,
    RemoveLine(usize),
    /// The fields of the ring sizes that the chosen patterns have.
    ShowSizes,
}

impl Wanted {
    pub(super) fn of(typed: &Typed) -> Wanted {
        match typed.get("do").map(String::as_str) {
            Some("add-line") => Wanted::AddLine,
            Some("show-sizes") => Wanted::ShowSizes,
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
            line.begin_with(asked);
        }
        self
    }

    /// An order that is kept, to be changed.
    pub(super) fn kept(order: &RingOrder, lines: &[LineInFull]) -> OrderForm {
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
            .map(|number| LineForm::sent(typed, number))
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

    /// The form with fields for every ring size of the patterns chosen, begun as those of the line's own
    /// ring.
    pub(super) fn with_sizes(mut self, patterns: &[PatternOffered]) -> OrderForm {
        for line in &mut self.lines {
            let pattern = patterns.iter().find(|pattern| pattern.key == line.at("pattern"));
            for size in 2..=pattern.map_or(1, |pattern| pattern.sizes.len()) {
                line.begin_size(size);
            }
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
        LineForm { typed: typed.map(|(name, text)| (name.to_owned(), text)).into() }
    }

    /// Line `number` of what came back; the fields of a ring size that was not on the page stay away.
    fn sent(typed: &Typed, number: usize) -> LineForm {
        let field = |name: String| {
            let text = typed.get(&key(number, &name)).cloned();
            text.map(|text| (name, text))
        };
        let always = LINE_FIELDS.into_iter().chain(RING_FIELDS);
        let always =
            always.map(|name| field(name.to_owned()).unwrap_or((name.to_owned(), String::new())));
        let further = (2..=SIZES_MOST)
            .flat_map(|size| RING_FIELDS.map(|name| sized(name, size)))
            .filter_map(field);
        LineForm { typed: always.chain(further).collect() }
    }

    fn put(&mut self, name: impl Into<String>, text: impl Into<String>) {
        self.typed.insert(name.into(), text.into());
    }

    /// Takes what a link asks.
    fn begin_with(&mut self, asked: &Typed) {
        let given = |name: &str| {
            asked.get(name).filter(|text| text.chars().count() <= LETTERS_MOST).cloned()
        };
        for (name, field) in [
            ("metal", "metal"),
            ("temper", "temper"),
            ("kind", "kind"),
            ("rings", "rings"),
            ("pattern", "pattern"),
            ("length", "chain_length"),
            ("across", "across"),
            ("clasp", "clasp"),
        ] {
            if let Some(text) = given(name) {
                self.put(field, text);
            }
        }
        for size in 1..=SIZES_MOST {
            let ring_or_rod = ["ring", "rod"].map(|name| given(&sized(name, size)).is_some());
            for name in ["wire", "ring", "rod", "tolerance"].map(|name| sized(name, size)) {
                if let Some(text) = given(&name) {
                    self.put(name, text);
                }
            }
            match ring_or_rod {
                [false, true] => self.put(sized("by", size), "rod"),
                [true, _] => self.put(sized("by", size), "ring"),
                [false, false] => {}
            }
        }
        if asked.contains_key("pattern") {
            let with_clasp = if asked.contains_key("clasp") { "in" } else { "out" };
            self.put("clasp_is", with_clasp);
        }
    }

    /// Gives a further ring size its fields where it has none: most often it is of the same wire, and
    /// known in the same way.
    fn begin_size(&mut self, size: usize) {
        if self.has_size(size) {
            return;
        }
        for name in ["wire", "by", "side", "state", "tolerance"] {
            let own = self.at(name).to_owned();
            self.put(sized(name, size), own);
        }
    }

    /// Whether a ring size has fields here.
    pub(super) fn has_size(&self, size: usize) -> bool {
        RING_FIELDS.iter().any(|name| self.typed.contains_key(&sized(name, size)))
    }

    /// The line after this one: the same wire, nothing else.
    fn next(&self, number: usize) -> LineForm {
        let mut line = LineForm::blank(number);
        for name in ["metal", "temper", "wire", "by", "kind"] {
            line.put(name, self.at(name));
        }
        line
    }

    fn kept(in_full: &LineInFull) -> LineForm {
        let record = &in_full.line;
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
            ("id", in_full.id.to_string()),
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
            ("spare", text(&record.spare_typed)),
        ];
        let mut line = LineForm { typed: typed.map(|(name, text)| (name.to_owned(), text)).into() };
        let own = [&record.ring_typed, &record.tolerance_typed, &record.rod_typed];
        line.keep_size(1, &record.wire_typed, own);
        for ring in &in_full.further {
            let typed = [&ring.ring_typed, &ring.tolerance_typed, &ring.rod_typed];
            line.keep_size(ring.size as usize, &ring.wire_typed, typed);
        }
        line
    }

    /// A ring size as it is kept.
    fn keep_size(&mut self, size: usize, wire: &str, [ring, tolerance, rod]: [&Option<String>; 3]) {
        self.put(sized("wire", size), wire);
        self.put(sized("by", size), if rod.is_some() { "rod" } else { "ring" });
        for (name, typed) in [("ring", ring), ("tolerance", tolerance), ("rod", rod)] {
            self.put(sized(name, size), typed.as_deref().unwrap_or_default());
        }
    }

    pub(super) fn at(&self, name: &str) -> &str {
        self.typed.get(name).map_or("", |text| text.trim())
    }

    /// The ring of a size with the side and the state chosen beside it.
    pub(super) fn ring(&self, size: usize) -> String {
        let fields = ["ring", "side", "state"].map(|name| sized(name, size));
        let words = fields.iter().map(|field| self.at(field));
        words.filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
    }

    pub(super) fn field(&self, number: usize, name: &str, complaints: &Complaints) -> Field {
        let value = self.typed.get(name).cloned().unwrap_or_default();
        let complaint = complaints.about(&key(number, name)).to_owned();
        let (any_size, size) = apart(name);
        let echo = match any_size {
            _ if !complaint.is_empty() => String::new(),
            "wire" => sizes::wire(&value),
            "ring" => sizes::ring(&self.ring(size)),
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
