//! The answer of `slit`, in rows and sentences.

use linkwright_calc::cautions::{Step, for_step};
use linkwright_calc::slit::{
    Finding, Projection, SlitError, TeethAcross, Verdict, cautions_for, chip, engagement,
    speed_advice, teeth_across, verdict,
};

use super::plan::Plan;
use crate::printout::{Printout, Unit, both_lengths};
use linkwright_answers::refusal::Refusal;

/// How many reminders of the step are shown; the printed sheet carries all.
const REMINDERS: usize = 2;

/// Everything known about the cut.
pub fn printout(plan: &Plan) -> Result<Printout, Refusal> {
    let judged = verdict(&plan.query).map_err(refuse)?;
    let mut printout = Printout::new("slit", title(&judged));
    printout.wire_as_typed("wire", "wire_diameter_mm", &plan.wire_typed);
    printout.length_as_typed("coil, inside", "inside_diameter_mm", &plan.inside_typed);
    printout.length_as_typed("blade", "blade_diameter_mm", &plan.blade_typed);
    printout.json_only("clears", judged.clears());
    add_window(&mut printout, &judged);
    add_stop(&mut printout, &judged);
    add_findings(&mut printout, &judged);
    add_teeth(&mut printout, plan);
    add_speeds(&mut printout, plan)?;
    add_chip(&mut printout, plan, &judged)?;
    printout.source("blade's circle over the coil; docs/theory/slitting.md");
    for line in for_step(Step::Slitting).iter().take(REMINDERS) {
        printout.caution(line.text);
    }
    Ok(printout)
}

fn title(judged: &Verdict) -> String {
    match (judged.clears(), judged.findings.is_empty()) {
        (true, true) => "The blade parts the rings and clears the far wall.",
        (true, false) => "The blade can be used, but see what to watch.",
        (false, _) => "Refused: this setting does not make rings.",
    }
    .to_owned()
}

fn add_window(printout: &mut Printout, judged: &Verdict) {
    let window = judged.window;
    for (label, key, length) in [
        ("projection of this blade", "projection_mm", judged.projection),
        ("the slot first parts at", "parts_mm", window.parts),
        ("clean over the whole kerf at", "clean_mm", window.clean),
        ("clean with the offset at", "clean_with_offset_mm", window.clean_with_offset),
        ("reaches the far wall at", "far_wall_mm", window.far_wall_with_offset),
        ("most to use, less squash and margin", "most_mm", window.most_with_offset),
        ("beyond clean by", "beyond_clean_mm", judged.margins.beyond_clean),
        ("left before the far wall", "before_far_wall_mm", judged.margins.before_far_wall),
    ] {
        printout.figure(label, key, length.mm(), Unit::Length);
    }
    if let Some(under) = judged.margins.under_hub {
        printout.figure("left under the hub", "under_hub_mm", under.mm(), Unit::Length);
    }
}

fn add_stop(printout: &mut Printout, judged: &Verdict) {
    if let Some(start) = judged.head_start {
        printout.figure(
            "head start, axis to first turn",
            "head_start_mm",
            start.mm(),
            Unit::Length,
        );
    }
    if let Some(reach) = judged.severed_reach {
        printout.figure(
            "severed within, of the axis",
            "severed_reach_mm",
            reach.mm(),
            Unit::Length,
        );
    }
    if let Some(turns) = judged.not_severed_at_stop {
        printout.count("left uncut at the stop", "turns_not_severed", turns, "turns");
    }
}

fn add_findings(printout: &mut Printout, judged: &Verdict) {
    let sentences: Vec<String> = judged.findings.iter().map(|finding| sentence(*finding)).collect();
    for sentence in &sentences {
        printout.text_only("because", sentence.as_str());
    }
    printout.json_only("findings", sentences);
}

fn sentence(finding: Finding) -> String {
    match finding {
        Finding::AboveCoil { gap_mm } => {
            format!("the blade ends {} above the coil: lower it", both_lengths(gap_mm))
        }
        Finding::DoesNotReach { short_by_mm } => format!(
            "the blade does not get through the wire: set it {} deeper",
            both_lengths(short_by_mm)
        ),
        Finding::LeavesRim { short_by_mm } => format!(
            "a rim stays at the edges of the slot: set it {} deeper",
            both_lengths(short_by_mm)
        ),
        Finding::ReachesFarWall { over_by_mm } => format!(
            "the far side of the ring is nicked: set it {} shallower",
            both_lengths(over_by_mm)
        ),
        Finding::MarginThin { left_mm, wanted_mm } => format!(
            "only {} is left before the far wall; {} is wanted",
            both_lengths(left_mm),
            both_lengths(wanted_mm)
        ),
        Finding::HubTouches { over_by_mm } => format!(
            "the hub touches before the blade is down: {} too deep for it",
            both_lengths(over_by_mm)
        ),
        Finding::PastBladeCentre { over_by_mm } => format!(
            "the blade would work past its own centre by {}: take a larger one",
            both_lengths(over_by_mm)
        ),
        _ => "the setting does not make rings".to_owned(),
    }
}

fn add_teeth(printout: &mut Printout, plan: &Plan) {
    let across = teeth_across(plan.query.blade, plan.query.wire);
    let (teeth, caution) = match across {
        TeethAcross::Few(teeth) => (teeth, Some("few teeth across the wire: one may snag")),
        TeethAcross::Wanted(teeth) => (teeth, None),
        TeethAcross::Many(teeth) => (teeth, Some("many teeth across the wire: the gaps may clog")),
        _ => return,
    };
    printout.figure("teeth across one wire", "teeth_across_wire", teeth, Unit::Only("teeth"));
    if let Some(caution) = caution {
        printout.caution(caution);
    }
}

fn add_speeds(printout: &mut Printout, plan: &Plan) -> Result<(), Refusal> {
    let Some(metal) = &plan.metal else {
        return Ok(());
    };
    let advice = speed_advice(plan.query.blade, metal).map_err(|error| refuse(error.into()))?;
    let Some(advice) = advice else {
        printout.note("no handbook speed is on record for this metal");
        return Ok(());
    };
    for (label, key, range) in [
        ("speed by the handbook", "rpm_by_handbook", Some(advice.by_handbook)),
        ("speed by custom, no source", "rpm_by_custom", advice.by_custom),
    ] {
        let Some(range) = range else {
            printout.note("no customary speed is known for this metal");
            continue;
        };
        let (low, high) = (range.low.per_min(), range.high.per_min());
        printout.text_only(label, format!("{low:.0} to {high:.0} turns a minute"));
        printout.json_only(key, vec![low, high]);
    }
    if let Some([low, high]) = advice.feed_mm_per_min {
        let inch = linkwright_calc::quantity::MM_PER_INCH;
        printout.text_only(
            "feed at the middle of it",
            format!(
                "{low:.0} to {high:.0} mm/min ({:.1} to {:.1} in/min)",
                low / inch,
                high / inch
            ),
        );
        printout.json_only("feed_mm_per_min", vec![low, high]);
    }
    printout.note(format!("speed for {}: {}", advice.handbook.metal, advice.handbook.source));
    if !advice.handbook.caution.is_empty() {
        printout.caution(advice.handbook.caution);
    }
    printout.caution("never above the speed that blade and handpiece are made for");
    Ok(())
}

fn add_chip(printout: &mut Printout, plan: &Plan, judged: &Verdict) -> Result<(), Refusal> {
    let Some(rpm) = plan.rpm else {
        return Ok(());
    };
    let query = &plan.query;
    let speed = rpm.surface_speed(query.blade);
    let metres = speed.m_per_min();
    printout.figure("speed of the teeth", "surface_speed_m_per_min", metres, Unit::Speed);
    let Some(feed) = plan.feed.filter(|_| judged.clears()) else {
        return Ok(());
    };
    let projection = Projection::new(judged.projection).map_err(|error| refuse(error.into()))?;
    let cut = engagement(query.blade, projection, query.wire, query.pitch).map_err(refuse)?;
    let chip = chip(&cut, query.blade, query.wire, rpm, feed).map_err(refuse)?;
    let um = |mm: f64| 1000.0 * mm;
    printout.figure("turns in the cut", "turns_in_cut", cut.turns_in_cut, Unit::Only("turns"));
    let per_tooth = um(chip.feed_per_tooth.mm());
    printout.figure("feed per tooth", "feed_per_tooth_um", per_tooth, Unit::Only("um"));
    printout.figure("mean chip", "chip_mean_um", um(chip.mean.mm()), Unit::Only("um"));
    if let Some(metal) = &plan.metal {
        for caution in cautions_for(metal, speed, Some(&chip)) {
            printout.caution(caution.to_string());
        }
    }
    Ok(())
}

/// The option to change for each thing that can be wrong with a blade over a coil.
fn refuse(error: SlitError) -> Refusal {
    let option = match error {
        SlitError::Coil(_) => "--pitch",
        SlitError::SlotBesideBore { .. } => "--offset",
        SlitError::TeethNotKnown => "--teeth",
        _ => "--projection",
    };
    Refusal::bench(option, serde_json::Value::Null, error)
}
