//! What is typed into the form of a batch, and the batch it means.

use linkwright_answers::printout::short_mm;
use linkwright_calc::coil::Pitch;
use linkwright_calc::limits::{INSIDE_DIAMETER, MANDREL_DIAMETER};
use linkwright_calc::metal::Catalogue;
use linkwright_calc::quantity::{Length, parse_count, parse_length};
use linkwright_calc::ring::{Ring, RingInput};
use linkwright_calc::slit::Kerf;
use linkwright_calc::wire::Wire;
use linkwright_store::records::Batch;
use serde::Deserialize;
use time::Date;
use time::format_description::well_known::Iso8601;

use crate::form::{Complaints, given};

/// The form as typed.
#[derive(Clone, Default, Deserialize)]
#[serde(default)]
pub(super) struct Entry {
    pub(super) code: String,
    pub(super) made_on: String,
    pub(super) metal: String,
    pub(super) temper: String,
    pub(super) wire: String,
    pub(super) rod: String,
    pub(super) inside: String,
    pub(super) closed: String,
    pub(super) kerf: String,
    pub(super) rings: String,
    pub(super) place: String,
    pub(super) note: String,
}

/// Pitch over wire diameter of a closely wound coil, where the workshop has not said its own.
pub(super) const PACKING_ASSUMED: f64 = 1.01;

/// Places of a size in a field: a mean of readings has digits no gauge shows.
const FIELD_PLACES: usize = 4;

impl Entry {
    /// The form of a batch that is on record.
    pub(super) fn of(batch: &Batch) -> Entry {
        let mm = |mm: Option<f64>| mm.map_or_else(String::new, |mm| short_mm(mm, FIELD_PLACES));
        Entry {
            code: batch.code.clone(),
            made_on: batch.made_on.clone(),
            metal: batch.metal.clone(),
            temper: batch.temper.clone(),
            wire: batch.wire_typed.clone(),
            rod: batch.rod_typed.clone().unwrap_or_default(),
            inside: mm(batch.inside_mm),
            closed: mm(batch.closed_inside_mm),
            kerf: String::new(),
            rings: batch.rings.to_string(),
            place: batch.place.clone(),
            note: batch.note.clone(),
        }
    }

    /// The batch that is meant, over the one on record; what is wrong stands in `complaints`.
    pub(super) fn batch(
        &self,
        former: Option<&Batch>,
        metals: &Catalogue,
        packing: f64,
        complaints: &mut Complaints,
    ) -> Option<Batch> {
        let code = self.code.trim();
        if code.is_empty() || !code.chars().all(|c| c.is_ascii_alphanumeric() || c == '-') {
            complaints.add("code", "a code is letters, digits and hyphens, such as B012");
        }
        if Date::parse(self.made_on.trim(), &Iso8601::DATE).is_err() {
            complaints.add("made_on", "type the day as year-month-day, such as 2026-11-25");
        }
        let metal = complaints.take("metal", metals.find(self.metal.trim()));
        if self.temper.trim().is_empty() {
            complaints.add("temper", "say the temper; \u{201c}not known\u{201d} will do");
        }
        let wire = complaints.take("wire", parse_length(&self.wire));
        let wire = wire.and_then(|typed| {
            Some((complaints.take("wire", Wire::new(typed.value()))?, typed.text().to_owned()))
        });
        let rod = given(&self.rod).and_then(|typed| {
            let rod = complaints.take("rod", parse_length(&typed))?.value().mm();
            Some((complaints.take("rod", MANDREL_DIAMETER.check(rod))?, typed))
        });
        let rings = complaints.take("rings", parse_count(&self.rings)).map(|rings| rings.value());
        let measured = self.inside(former, complaints);
        let (wire, wire_typed) = wire?;
        let (closed_mm, closed_how) =
            self.closed(former, wire, measured.map(|(mm, _)| mm), packing, complaints);
        let (metal, rings) = (metal?, rings?);
        let counted_before = former.filter(|former| former.rings == rings);
        complaints.is_empty().then(|| Batch {
            code: code.to_owned(),
            made_on: self.made_on.trim().to_owned(),
            run_id: former.and_then(|former| former.run_id),
            wire_lot_id: former.and_then(|former| former.wire_lot_id),
            metal: metal.key().to_string(),
            temper: self.temper.trim().to_owned(),
            wire_typed,
            wire_mm: wire.diameter().mm(),
            rod_mm: rod.as_ref().map(|(mm, _)| *mm),
            rod_typed: rod.map(|(_, typed)| typed),
            inside_mm: measured.map(|(mm, _)| mm),
            inside_readings: measured.and_then(|(_, readings)| readings),
            closed_inside_mm: closed_mm,
            closed_how,
            rings,
            rings_uncertainty: counted_before.and_then(|former| former.rings_uncertainty),
            counted_how: counted_before
                .map_or_else(|| "one by one".to_owned(), |former| former.counted_how.clone()),
            place: self.place.trim().to_owned(),
            note: self.note.trim().to_owned(),
            gone_on: former.and_then(|former| former.gone_on.clone()),
        })
    }

    /// Mean of the readings in mm and how many there were; what was on record if it was left as
    /// it is.
    fn inside(
        &self,
        former: Option<&Batch>,
        complaints: &mut Complaints,
    ) -> Option<(f64, Option<u32>)> {
        let typed = given(&self.inside)?;
        if let Some(former) = former.filter(|former| Entry::of(former).inside == typed) {
            return former.inside_mm.map(|mm| (mm, former.inside_readings));
        }
        let readings_mm = complaints.take("inside", readings_mm(&typed))?;
        let count = u32::try_from(readings_mm.len()).ok()?;
        let mean_mm = readings_mm.iter().sum::<f64>() / f64::from(count);
        let mean_mm = complaints.take("inside", INSIDE_DIAMETER.check(mean_mm))?;
        Some((mean_mm, Some(count)))
    }

    /// The closed inside diameter in mm, and how it is known.
    fn closed(
        &self,
        former: Option<&Batch>,
        wire: Wire,
        open_mm: Option<f64>,
        packing: f64,
        complaints: &mut Complaints,
    ) -> (Option<f64>, String) {
        let nothing = (None, String::new());
        if let Some(typed) = given(&self.kerf) {
            let Some(open_mm) = open_mm else {
                complaints.add("kerf", "the closed size needs the open inside diameter as well");
                return nothing;
            };
            let worked_out =
                parse_length(&typed).map_err(|error| error.to_string()).and_then(|kerf| {
                    let kerf = Kerf::new(kerf.value()).map_err(|error| error.to_string())?;
                    let pitch = Pitch::new(Length::from_mm(wire.diameter().mm() * packing))
                        .map_err(|error| error.to_string())?;
                    let coil_inside = Length::from_mm(open_mm);
                    Ring::cut(RingInput { wire, coil_inside, kerf, pitch })
                        .map_err(|error| error.to_string())
                });
            let Some(ring) = complaints.take("kerf", worked_out) else { return nothing };
            return (Some(ring.closed_inside().mm()), format!("worked out from a kerf of {typed}"));
        }
        let Some(typed) = given(&self.closed) else { return nothing };
        if let Some(former) = former.filter(|former| Entry::of(former).closed == typed) {
            return (former.closed_inside_mm, former.closed_how.clone());
        }
        let closed_mm = complaints
            .take("closed", parse_length(&typed))
            .and_then(|size| complaints.take("closed", INSIDE_DIAMETER.check(size.value().mm())));
        (closed_mm, closed_mm.map_or_else(String::new, |_| format!("measured: {typed}")))
    }
}

/// Several readings with one unit after the last, such as "4.12 4.15 4.14 mm", in mm.
fn readings_mm(typed: &str) -> Result<Vec<f64>, linkwright_calc::quantity::QuantityError> {
    let words: Vec<&str> = typed.split_whitespace().collect();
    let numbers =
        words.iter().take_while(|word| word.starts_with(|c: char| c.is_ascii_digit() || c == '.'));
    let count = numbers.count();
    if count < 2 {
        return Ok(vec![parse_length(typed)?.value().mm()]);
    }
    let last = words[count - 1];
    let digits = last.trim_end_matches(|c: char| c.is_alphabetic() || c == '"');
    let unit = format!("{} {}", &last[digits.len()..], words[count..].join(" "));
    words[..count]
        .iter()
        .map(|word| {
            let number = word.trim_end_matches(|c: char| c.is_alphabetic() || c == '"' || c == ',');
            Ok(parse_length(&format!("{number} {}", unit.trim()))?.value().mm())
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::readings_mm;

    #[test]
    fn readings_share_the_unit_after_the_last() {
        assert_eq!(readings_mm("4.12 4.15 mm").expect("two"), [4.12, 4.15]);
        assert_eq!(readings_mm("4.12, 4.15mm").expect("two"), [4.12, 4.15]);
        assert_eq!(readings_mm("4.12 mm").expect("one"), [4.12]);
        assert!(readings_mm("4.12 4.15").is_err());
    }
}
