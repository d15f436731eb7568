//! A workshop far larger than any, to measure pages with.

use linkwright_store::records::{Batch, Blade, BladeEvent, Outcome, Trial, TrialSource};
use linkwright_store::{Act, Saved, StoreError};
use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};
use time::{Date, Duration};

/// How much is added to a data file.
#[derive(Clone, Copy, Debug)]
pub struct Large {
    /// Trials.
    pub trials: u32,
    /// Batches of rings.
    pub batches: u32,
    /// The last day of the ten years they are spread over.
    pub today: Date,
}

const METALS: [(&str, &str); 4] = [
    ("sterling_925", "annealed"),
    ("copper_c110", "annealed"),
    ("brass_c260", "half hard wire H02"),
    ("bronze_c220", "annealed"),
];
/// Words a search looks for; most trials have none.
const NOTES: [&str; 5] =
    ["", "", "", "cover lifted at the end", "wobbly at the start, tape helped"];
/// How high the axis of every blade stands over the coil: half of the smallest, less 1.9 mm.
const AXIS_MM: f64 = 13.975;
const TEN_YEARS_DAYS: i64 = 3_650;

/// Adds invented trials and batches by the thousand. Three of four trials are of the workshop's own
/// blades, which stand in one holder, and have all that the chart learns from.
///
/// # Errors
/// If something cannot be saved; then nothing is.
pub fn enlarge(act: &Act<'_>, large: Large) -> Result<(), StoreError> {
    let mut chance = ChaCha8Rng::seed_from_u64(u64::from(large.trials));
    let day = |at: u32, of: u32| {
        let back = TEN_YEARS_DAYS - TEN_YEARS_DAYS * i64::from(at) / i64::from(of.max(1));
        (large.today - Duration::days(back)).to_string()
    };
    let blades: Vec<Saved<Blade>> = act.all()?;
    for at in 0..large.trials {
        let (metal, temper) = METALS[chance.random_range(0..METALS.len())];
        let wire_mm = f64::from(chance.random_range(8..42_u32)) / 20.0;
        let rod_mm = f64::from(chance.random_range(5..25_u32)) / 2.0;
        let good = chance.random_range(20..46);
        let noted = chance.random_range(1..9);
        let own = match blades.len() {
            0 => None,
            own => blades.get(chance.random_range(0..own)).filter(|_| chance.random_bool(0.75)),
        };
        let projection_mm = own.map(|blade| blade.record.diameter_mm / 2.0 - AXIS_MM);
        act.add(&Trial {
            tried_on: day(at, large.trials),
            source: TrialSource::Imported,
            metal: metal.to_owned(),
            temper: temper.to_owned(),
            annealed: false,
            wire_typed: format!("{wire_mm} mm"),
            wire_mm,
            rod_typed: format!("{rod_mm} mm"),
            rod_mm,
            wire_lot_id: None,
            blade_id: own.map(|blade| blade.id),
            blade_name: own
                .map_or_else(|| format!("blade {noted}"), |blade| blade.record.name.clone()),
            blade_diameter_mm: Some(own.map_or(31.75, |blade| blade.record.diameter_mm)),
            projection_typed: projection_mm.map(|mm| format!("{mm:.2} mm")),
            projection_mm,
            inside_typed: None,
            inside_mean_mm: Some(rod_mm * 1.03),
            inside_readings: Some(5),
            turns_wound: Some(48),
            turns_relaxed: None,
            good: Some(good),
            uncut: Some(2),
            nicked: Some(0),
            crushed: Some(0),
            blade_event: BladeEvent::None,
            outcome: if good > 30 { Outcome::Good } else { Outcome::Poor },
            run_id: None,
            coil_number: None,
            worker: String::new(),
            note: NOTES[chance.random_range(0..NOTES.len())].to_owned(),
        })?;
    }
    for at in 0..large.batches {
        let (metal, temper) = METALS[chance.random_range(0..METALS.len())];
        let wire_mm = f64::from(chance.random_range(8..42_u32)) / 20.0;
        act.add(&Batch {
            code: format!("L{at:06}"),
            made_on: day(at, large.batches),
            run_id: None,
            wire_lot_id: None,
            metal: metal.to_owned(),
            temper: temper.to_owned(),
            wire_typed: format!("{wire_mm} mm"),
            wire_mm,
            rod_typed: None,
            rod_mm: None,
            inside_mm: Some(4.14),
            inside_readings: Some(5),
            closed_inside_mm: None,
            closed_how: String::new(),
            rings: chance.random_range(40..900),
            rings_uncertainty: None,
            counted_how: "counted".to_owned(),
            place: format!("drawer {}", chance.random_range(1..40)),
            note: String::new(),
            gone_on: (at % 4 != 0).then(|| day(at, large.batches)),
        })?;
    }
    Ok(())
}
