//! A counted sample and a lot on the scale, as typed, and what they come to.

use linkwright_answers::printout::significant;
use linkwright_calc::count::{
    Counted, KitCheck, KitQuery, SampleQuery, Weighing, count_by_weight, exact_count_limit,
    kit_check, net_uncertainty, reading_uncertainty, sample_needed,
};
use linkwright_calc::quantity::{Mass, Typed, parse_count, parse_mass, parse_share};
use serde::Deserialize;

use crate::form::{Complaints, given};

/// Two standard uncertainties hold about 95 % of all weighings.
const TWO_SIGMA: f64 = 2.0;
/// A lot is counted to the ring while it is off by less than half of one.
const HALF_A_RING: f64 = 0.5;

/// The form as typed.
#[derive(Clone, Debug, Deserialize)]
#[serde(default)]
pub(super) struct WeighingEntry {
    pub(super) batch: String,
    pub(super) sample_rings: String,
    pub(super) sample: String,
    pub(super) step: String,
    pub(super) net: String,
    pub(super) spread: String,
    /// "two" if each mass is the difference of two readings.
    pub(super) readings: String,
    pub(super) within: String,
    pub(super) kit: String,
}

impl Default for WeighingEntry {
    fn default() -> WeighingEntry {
        WeighingEntry {
            batch: String::new(),
            sample_rings: "50".to_owned(),
            sample: String::new(),
            step: "0.01 g".to_owned(),
            net: String::new(),
            spread: "1 %".to_owned(),
            readings: String::new(),
            within: "10".to_owned(),
            kit: String::new(),
        }
    }
}

/// What the weighing comes to.
pub(super) struct Weighed {
    pub(super) rings: u32,
    pub(super) two_sigma: f64,
    /// The count and its sum, in lines.
    pub(super) inputs: Vec<String>,
    /// Largest lot this sample counts to the ring.
    pub(super) exact_up_to: Option<u32>,
    /// Sample that counts the lot as closely as wanted; within how many rings, and how many.
    pub(super) sample_wanted: Option<(u32, Option<u32>)>,
    pub(super) kit: Option<Kit>,
    /// How the count was made, as it is kept with the batch.
    pub(super) how: String,
}

/// A kit of these rings on this scale.
pub(super) struct Kit {
    pub(super) rings: u32,
    pub(super) mass: String,
    pub(super) one_ring: String,
    pub(super) shows: bool,
    pub(super) step_most: Option<String>,
}

impl WeighingEntry {
    /// Whether anything was weighed yet.
    pub(super) fn is_blank(&self) -> bool {
        self.sample.trim().is_empty() && self.net.trim().is_empty()
    }

    /// All that was typed, by field, to be sent once more.
    pub(super) fn fields(&self) -> [(&'static str, &str); 9] {
        [
            ("batch", &self.batch),
            ("sample_rings", &self.sample_rings),
            ("sample", &self.sample),
            ("step", &self.step),
            ("net", &self.net),
            ("spread", &self.spread),
            ("readings", &self.readings),
            ("within", &self.within),
            ("kit", &self.kit),
        ]
    }

    /// The weighing worked out; what is wrong stands in `complaints`.
    pub(super) fn weighed(&self, complaints: &mut Complaints) -> Option<Weighed> {
        let sample_rings = complaints.take("sample_rings", parse_count(&self.sample_rings));
        let sample = complaints.take("sample", parse_mass(&self.sample));
        let step = complaints.take("step", parse_mass(&self.step));
        let net = complaints.take("net", parse_mass(&self.net));
        let spread = complaints.take("spread", parse_share(&self.spread));
        let within = given(&self.within)
            .and_then(|typed| complaints.take("within", parse_count(&typed)))
            .map(|within| within.value());
        let kit_rings = given(&self.kit)
            .and_then(|typed| complaints.take("kit", parse_count(&typed)))
            .map(|kit| kit.value());
        let (sample_rings, sample, step, net, spread) =
            (sample_rings?.value(), sample?, step?, net?, spread?);
        if step.value().g() <= 0.0 {
            complaints.add("step", "the smallest step the display shows is more than nothing");
        }
        let uncertainty = match self.readings.as_str() {
            "two" => net_uncertainty(step.value()),
            _ => reading_uncertainty(step.value()),
        };
        let weighing = Weighing {
            net: net.value(),
            net_uncertainty: uncertainty,
            sample_rings,
            sample: sample.value(),
            sample_uncertainty: uncertainty,
            ring_mass_cv: spread.value(),
        };
        // Sample and spread first: a complaint about either is then not laid on the lot.
        let counted = complaints.take("sample", count_by_weight(&weighing))?;
        let query = |limit| SampleQuery { weighing, k: TWO_SIGMA, limit };
        let exact = complaints.take("sample", exact_count_limit(&query(HALF_A_RING)))?;
        let Some(rings) = whole(counted.rings) else {
            complaints.add("net", "that is more rings than are counted here");
            return None;
        };
        let sample_wanted = match within.filter(|within| *within > 0) {
            None => None,
            Some(within) => {
                let needed = sample_needed(&query(f64::from(within)), rings.max(1));
                Some((within, complaints.take("within", needed)?))
            }
        };
        let kit = match kit_rings {
            None => None,
            Some(rings) => {
                let ring = Mass::from_g(sample.value().g() / f64::from(sample_rings));
                let (ring_mass_cv, scale_step) = (spread.value(), step.value());
                let query = KitQuery { rings, ring, ring_mass_cv, scale_step, k: TWO_SIGMA };
                Some(kit_of(rings, complaints.take("kit", kit_check(&query))?))
            }
        };
        complaints.is_empty().then(|| Weighed {
            rings,
            two_sigma: counted.two_sigma(),
            inputs: self.inputs(counted, &sample, &net, &step, sample_rings),
            exact_up_to: exact,
            sample_wanted,
            kit,
            how: format!(
                "by weight: {sample_rings} rings weigh {}, all weigh {}, scale step {}, spread {}",
                sample.text(),
                net.text(),
                step.text(),
                self.spread.trim()
            ),
        })
    }

    fn inputs(
        &self,
        counted: Counted,
        sample: &Typed<Mass>,
        net: &Typed<Mass>,
        step: &Typed<Mass>,
        sample_rings: u32,
    ) -> Vec<String> {
        let in_g = |mass: &Typed<Mass>| match mass.text() {
            text if text.ends_with(" g") => text.to_owned(),
            text => format!("{text} ({} g)", significant(mass.value().g(), 5)),
        };
        let readings = if self.readings == "two" {
            "each mass is the difference of two readings: step over the root of 6"
        } else {
            "each mass is one reading, the scale set to zero first: step over the root of 12"
        };
        vec![
            format!("rings = lot x sample rings / sample mass = {:.1}", counted.rings),
            format!("lot {}, entered", in_g(net)),
            format!("sample {sample_rings} rings, {}, entered", in_g(sample)),
            format!("scale step {}; {readings}", in_g(step)),
            format!(
                "spread from ring to ring {}, assumed unless you weighed rings singly",
                self.spread.trim()
            ),
            format!(
                "one sigma = rings x root of ((u lot / lot)\u{b2} + (u sample / sample)\u{b2} + spread\u{b2} x (1/rings + 1/sample rings)) = {} rings",
                significant(counted.uncertainty, 3)
            ),
        ]
    }
}

fn kit_of(rings: u32, check: KitCheck) -> Kit {
    Kit {
        rings,
        mass: format!("{:.2} g", check.mass.g()),
        one_ring: format!("{:.2} %", 100.0 * check.one_ring_share),
        shows: check.shows_a_missing_ring,
        step_most: check.scale_step_max.map(|step| format!("{} g", significant(step.g(), 2))),
    }
}

/// The nearest whole number of rings; `None` beyond what a batch holds.
fn whole(rings: f64) -> Option<u32> {
    format!("{rings:.0}").parse().ok()
}

#[cfg(test)]
mod tests {
    use super::WeighingEntry;
    use crate::form::Complaints;

    /// Worked task T5 of the needs: sample of 50, jar 412.35 g, spread 1 %.
    fn jar(sample: &str, step: &str) -> (u32, f64) {
        let entry = WeighingEntry {
            sample: sample.to_owned(),
            step: step.to_owned(),
            net: "412.35 g".to_owned(),
            ..WeighingEntry::default()
        };
        let mut complaints = Complaints::default();
        let weighed = entry.weighed(&mut complaints).unwrap_or_else(|| panic!("{complaints:?}"));
        (weighed.rings, weighed.two_sigma)
    }

    #[test]
    fn the_jar_holds_3050_give_or_take_9_and_27_on_the_coarser_scale() {
        let (rings, two_sigma) = jar("6.76 g", "0.01 g");
        assert_eq!((rings, format!("{two_sigma:.0}").as_str()), (3050, "9"));
        let (_, two_sigma) = jar("6.8 g", "0.1 g");
        assert_eq!(format!("{two_sigma:.0}"), "27");
    }

    #[test]
    fn the_same_sample_in_pennyweight_counts_the_same() {
        // 6.76 g are 4.346840 dwt: 1 dwt is 1.55517384 g, NIST SP 811 (2008), appendix B.8.
        assert_eq!(jar("4.34684 dwt", "0.01 g").0, 3050);
    }

    #[test]
    fn a_bare_ounce_is_refused_beside_its_field() {
        let entry = WeighingEntry {
            sample: "0.24 oz".to_owned(),
            net: "412.35 g".to_owned(),
            ..WeighingEntry::default()
        };
        let mut complaints = Complaints::default();
        assert!(entry.weighed(&mut complaints).is_none());
        assert!(complaints.about("sample").contains("troy or avoirdupois"));
        assert_eq!(complaints.about("net"), "");
    }
}
