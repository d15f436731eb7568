//! The sample's old notebook: trials written down before the year began.

use linkwright_store::records::{BladeEvent, Outcome, Trial, TrialSource};
use linkwright_store::{Act, StoreError};
use rand::RngExt;
use rand::rngs::ChaCha8Rng;

use super::Calendar;
use super::shelf::Shelf;

/// Settings of the old trials: lot of the same kind, rod, blade, blade's diameter, and how many of
/// five went well.
const TRIED: &[(&str, f64, &str, f64, u32)] = &[
    ("silver reel 7", 4.0, "small, thin", 31.75, 5),
    ("silver reel 7", 4.0, "large, old", 38.1, 3),
    ("silver reel 7", 5.0, "small, thin", 31.75, 4),
    ("silver reel 8", 3.0, "small, thin", 31.75, 4),
    ("silver reel 8", 2.5, "large, old", 38.1, 1),
    ("copper, class", 5.0, "small, thin", 31.75, 5),
    ("copper, class", 5.0, "large, old", 38.1, 4),
    ("copper, class", 6.0, "large, old", 38.1, 4),
    ("copper, thin", 3.5, "small, thin", 31.75, 5),
    ("bronze 14", 6.0, "small, thin", 31.75, 2),
    ("bronze 14", 8.0, "large, old", 38.1, 4),
    ("bronze 14", 7.0, "large, old", 38.1, 4),
    ("brass 20", 4.0, "small, thin", 31.75, 3),
    ("nickel silver", 6.0, "large, old", 38.1, 4),
];

/// Coils tried with each setting.
const COILS: u32 = 5;

/// Writes the old trials down, oldest first.
pub(super) fn fill(
    act: &Act<'_>,
    calendar: Calendar,
    shelf: &Shelf,
    chance: &mut ChaCha8Rng,
) -> Result<(), StoreError> {
    for (place, (lot, rod_mm, blade, blade_mm, well)) in (0_i64..).zip(TRIED) {
        let (_, lot) = shelf.lots[lot];
        for coil in 0..COILS {
            let went_well = coil < *well;
            let broke = !went_well && chance.random_range(0..2) == 0;
            let good = chance.random_range(34..44);
            act.add(&Trial {
                tried_on: calendar.day(-180 + place * 12 + i64::from(coil)),
                source: if coil == 0 { TrialSource::Card } else { TrialSource::Typed },
                metal: lot.metal.to_owned(),
                temper: lot.temper.to_owned(),
                annealed: lot.metal.starts_with("bronze"),
                wire_typed: lot.typed.to_owned(),
                wire_mm: lot.mm,
                rod_typed: format!("{rod_mm} mm"),
                rod_mm: *rod_mm,
                // The lots of those days are used up.
                wire_lot_id: None,
                blade_id: shelf.blades.get(*blade).copied().filter(|_| blade.ends_with("old")),
                blade_name: (*blade).to_owned(),
                blade_diameter_mm: Some(*blade_mm),
                projection_typed: Some("2.2 mm".to_owned()),
                projection_mm: Some(2.2),
                inside_typed: None,
                inside_mean_mm: None,
                inside_readings: None,
                turns_wound: Some(48),
                turns_relaxed: None,
                good: Some(if broke { good / 3 } else { good }),
                uncut: Some(chance.random_range(1..4)),
                nicked: Some(if went_well { 0 } else { chance.random_range(3..7) }),
                crushed: Some(0),
                blade_event: if broke { BladeEvent::Broke } else { BladeEvent::None },
                outcome: match (went_well, broke) {
                    (true, _) => Outcome::Good,
                    (false, true) => Outcome::Failed,
                    (false, false) => Outcome::Poor,
                },
                run_id: None,
                coil_number: None,
                worker: String::new(),
                note: if broke { "coil had crept".to_owned() } else { String::new() },
            })?;
        }
    }
    Ok(())
}
