//! What one trial teaches, each number with what it rests on.

use linkwright_answers::printout::both_lengths;
use linkwright_calc::coil::{InsideDiameter, touching_pitch};
use linkwright_calc::quantity::Length;
use linkwright_calc::slit::{
    Allowances, Blade, BladeParts, DepthSetting, Finding, Kerf, Projection, VerdictQuery, verdict,
};
use linkwright_calc::wind::{Mandrel, springback};
use linkwright_calc::wire::Wire;
use linkwright_store::records::{Blade as BladeRecord, Trial};

/// Taken where the blade's kerf is not noted. It moves the verdict by hundredths of a millimetre.
const KERF_ASSUMED_MM: f64 = 0.25;

/// Taken where the blade's diameter is not noted: 1 1/4 in.
const BLADE_ASSUMED_MM: f64 = 31.75;

/// A number with its sum.
pub(super) struct Learnt {
    pub(super) label: &'static str,
    pub(super) value: String,
    /// What it rests on, such as "worked out".
    pub(super) basis: String,
    /// The formula in words.
    pub(super) formula: &'static str,
    /// What went in, each with its own basis.
    pub(super) inputs: Vec<String>,
}

/// Whether the depth that was set could make rings.
pub(super) struct DepthVerdict {
    /// Whether nothing rules it out.
    pub(super) clears: bool,
    /// What was found, or that the blade clears.
    pub(super) sentences: Vec<String>,
    /// What went in.
    pub(super) inputs: Vec<String>,
}

/// Everything a trial teaches.
pub(super) struct Lesson {
    pub(super) learnt: Vec<Learnt>,
    pub(super) depth: Option<DepthVerdict>,
}

/// Works out what a trial teaches.
pub(super) fn lesson(trial: &Trial, blade: Option<&BladeRecord>) -> Lesson {
    let sizes = Wire::new(Length::from_mm(trial.wire_mm))
        .ok()
        .zip(Mandrel::new(Length::from_mm(trial.rod_mm)).ok());
    let Some((wire, rod)) = sizes else { return Lesson { learnt: Vec::new(), depth: None } };
    let inside = trial.inside_mean_mm.and_then(|mm| InsideDiameter::new(Length::from_mm(mm)).ok());
    let mut learnt = Vec::new();
    if let Some(inside) = inside {
        let read = match trial.inside_readings.unwrap_or(1) {
            1 => "tried: one ring measured".to_owned(),
            rings => format!("tried: mean of {rings} rings measured"),
        };
        let inputs = vec![
            format!("inside {}, {read}", both_lengths(inside.diameter().mm())),
            format!("rod {}, as typed: {}", both_lengths(trial.rod_mm), trial.rod_typed),
        ];
        learnt.push(Learnt {
            label: "Inside diameter",
            value: both_lengths(inside.diameter().mm()),
            basis: read,
            formula: "the mean of the readings",
            inputs: vec![trial.inside_typed.clone().unwrap_or_default()],
        });
        learnt.push(Learnt {
            label: "Springback",
            value: format!("{:.1} % wider than the rod", 100.0 * springback(rod, inside)),
            basis: "worked out".to_owned(),
            formula: "inside diameter less rod, over rod",
            inputs: inputs.clone(),
        });
        learnt.push(Learnt {
            label: "Aspect ratio as wound",
            value: format!("{:.2}", inside.aspect_ratio(wire)),
            basis: "worked out".to_owned(),
            formula: "inside diameter over wire diameter",
            inputs,
        });
    }
    Lesson { learnt, depth: depth(trial, blade, wire, rod, inside) }
}

fn depth(
    trial: &Trial,
    record: Option<&BladeRecord>,
    wire: Wire,
    rod: Mandrel,
    measured: Option<InsideDiameter>,
) -> Option<DepthVerdict> {
    let depth = Projection::new(Length::from_mm(trial.projection_mm?)).ok()?;
    let inside = measured.unwrap_or_else(|| InsideDiameter::on_mandrel(rod));
    let kerf_mm = record.map_or(KERF_ASSUMED_MM, |blade| blade.kerf_mm);
    let diameter_mm = trial.blade_diameter_mm.unwrap_or(BLADE_ASSUMED_MM);
    let blade = Blade::new(BladeParts {
        diameter: Length::from_mm(diameter_mm),
        kerf: Kerf::new(Length::from_mm(kerf_mm)).ok()?,
        teeth: None,
        hub_diameter: None,
    })
    .ok()?;
    let judged = verdict(&VerdictQuery {
        wire,
        inside,
        pitch: touching_pitch(wire, inside),
        blade,
        depth: DepthSetting::Projection(depth),
        allowances: Allowances::NONE,
        last_turn: None,
    });
    let inputs = vec![
        format!("projection {}, as typed", both_lengths(depth.depth().mm())),
        format!("wire {}, as typed: {}", both_lengths(trial.wire_mm), trial.wire_typed),
        match measured {
            Some(_) => format!("inside {}, tried", both_lengths(inside.diameter().mm())),
            None => format!(
                "inside {}, assumed: the rod itself, since no ring was measured; a sprung ring is wider",
                both_lengths(inside.diameter().mm())
            ),
        },
        match record {
            Some(_) => format!("kerf {}, of the blade", both_lengths(kerf_mm)),
            None => format!("kerf {}, assumed, since it is not noted", both_lengths(kerf_mm)),
        },
        match trial.blade_diameter_mm {
            Some(_) => format!("blade {}, as noted", both_lengths(diameter_mm)),
            None => format!("blade {}, assumed, since it is not noted", both_lengths(diameter_mm)),
        },
    ];
    let (clears, mut sentences) = match &judged {
        Ok(judged) => {
            (judged.clears(), judged.findings.iter().map(|finding| sentence(*finding)).collect())
        }
        Err(error) => (false, vec![error.to_string()]),
    };
    if let Ok(judged) = judged.as_ref()
        && clears
    {
        sentences.insert(
            0,
            format!(
                "parts the wire with {} to spare; the far side is clear by {}",
                hundredths(judged.margins.beyond_clean.mm().max(0.0)),
                hundredths(judged.margins.before_far_wall.mm())
            ),
        );
    }
    Some(DepthVerdict { clears, sentences, inputs })
}

/// A margin, no finer than a depth is set.
fn hundredths(mm: f64) -> String {
    format!("{mm:.2} mm ({:.3} in)", Length::from_mm(mm).inches())
}

fn sentence(finding: Finding) -> String {
    match finding {
        Finding::AboveCoil { gap_mm } => {
            format!("the blade ends {} above the coil", both_lengths(gap_mm))
        }
        Finding::DoesNotReach { short_by_mm } => format!(
            "the blade reaches less deep than the wire is thick: {} are missing",
            both_lengths(short_by_mm)
        ),
        Finding::LeavesRim { short_by_mm } => {
            format!(
                "a rim stays at the edges of the slot: {} are missing",
                both_lengths(short_by_mm)
            )
        }
        Finding::ReachesFarWall { over_by_mm } => {
            format!("the far side of the ring is nicked: {} too deep", both_lengths(over_by_mm))
        }
        Finding::PastBladeCentre { over_by_mm } => {
            format!("the blade would work past its own centre by {}", both_lengths(over_by_mm))
        }
        _ => "the setting leaves no margin".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use linkwright_store::records::{BladeEvent, Outcome, Trial, TrialSource};

    use super::lesson;

    fn trial(wire_mm: f64, rod_mm: f64, inside_mm: f64, projection_mm: f64) -> Trial {
        Trial {
            tried_on: "2026-03-04".into(),
            source: TrialSource::Typed,
            metal: "bronze".into(),
            temper: "hard".into(),
            annealed: false,
            wire_typed: format!("{wire_mm} mm"),
            wire_mm,
            rod_typed: format!("{rod_mm} mm"),
            rod_mm,
            wire_lot_id: None,
            blade_id: None,
            blade_name: "fine".into(),
            blade_diameter_mm: Some(31.75),
            projection_typed: Some(format!("{projection_mm} mm")),
            projection_mm: Some(projection_mm),
            inside_typed: Some(format!("{inside_mm} mm")),
            inside_mean_mm: Some(inside_mm),
            inside_readings: Some(1),
            turns_wound: None,
            turns_relaxed: None,
            good: None,
            uncut: None,
            nicked: None,
            crushed: None,
            blade_event: BladeEvent::None,
            outcome: Outcome::Good,
            run_id: None,
            coil_number: None,
            worker: String::new(),
            note: String::new(),
        }
    }

    // needs.md, task T4: d 1.63, rod 6.0, ID 6.24; 26 AWG (0.405) on 2.5 (ID 2.58).
    #[test]
    fn the_depths_of_task_t4_are_judged_as_there() {
        let judge = |wire, rod, inside, depth| {
            lesson(&trial(wire, rod, inside, depth), None).depth.expect("a projection")
        };
        let shallow = judge(1.63, 6.0, 6.24, 1.6);
        assert!(!shallow.clears && shallow.sentences[0].contains("less deep than the wire"));
        let right = judge(1.63, 6.0, 6.24, 2.2);
        assert!(right.clears, "{:?}", right.sentences);
        assert!(right.sentences[0].contains("clear by 5.67"), "{:?}", right.sentences);
        let deep = judge(0.405, 2.5, 2.58, 3.0);
        assert!(!deep.clears && deep.sentences[0].contains("far side"), "{:?}", deep.sentences);
    }

    #[test]
    fn springback_is_worked_out_from_the_measured_rings() {
        let learnt = lesson(&trial(1.63, 6.0, 6.24, 2.2), None).learnt;
        assert_eq!(learnt[1].value, "4.0 % wider than the rod");
        assert!(learnt[1].inputs[0].contains("one ring measured"));
    }
}
