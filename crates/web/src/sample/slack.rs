//! Coils the sample's jeweller cut in slack weeks to see what a blade does: good ones and bad ones.

use linkwright_store::records::{Blade, BladeEvent, Trial, TrialSource};
use linkwright_store::{Act, StoreError};
use rand::rngs::ChaCha8Rng;

use super::Calendar;
use super::cutting::{Cut, Cutting, outcome};
use super::shelf::Shelf;

/// Wire, rod, blade, its projection in the holder, and how many coils.
const TRIED: &[(&str, f64, &str, f64, u32)] = &[
    ("copper, class", 4.0, "large", 5.08, 3),
    ("copper, class", 6.0, "large", 5.08, 3),
    ("copper, class", 8.0, "large", 5.08, 3),
    ("copper, class", 10.0, "large", 5.08, 2),
    ("copper, class", 6.0, "small, thin", 1.9, 3),
    ("copper, thin", 2.99, "large", 5.08, 2),
    ("copper, thin", 6.0, "small, thin", 1.9, 3),
    ("copper, thin", 10.0, "small, fine teeth", 1.9, 3),
    ("copper, fine", 6.0, "small, fine teeth", 1.9, 3),
    ("copper, fine", 8.0, "small, fine teeth", 1.9, 2),
    ("copper, heavy", 5.02, "small, thin", 1.9, 3),
    ("copper, heavy", 6.0, "large", 5.08, 3),
    ("copper, heavy", 3.51, "large", 5.08, 2),
    ("copper, heavy", 8.0, "large", 5.08, 2),
    ("silver reel 7", 4.0, "large", 5.08, 2),
    ("silver reel 7", 6.0, "large", 5.08, 3),
    ("silver, heavy", 5.02, "small, thin", 1.9, 3),
    ("silver, heavy", 6.0, "large", 5.08, 3),
];

/// Turns of such a coil.
const TURNS: u32 = 24;

/// Writes them down, a setting every two weeks.
pub(super) fn fill(
    act: &Act<'_>,
    calendar: Calendar,
    shelf: &Shelf,
    chance: &mut ChaCha8Rng,
) -> Result<(), StoreError> {
    let cutting = Cutting::new();
    for (place, (lot, rod_mm, blade, projection_mm, coils)) in (0_i64..).zip(TRIED) {
        let (lot_id, lot) = shelf.lots[lot];
        let id = shelf.blades[*blade];
        let record: Blade = act.get(id)?;
        for coil in 0..*coils {
            let cut = Cut {
                metal: (lot.metal, lot.temper),
                wire_mm: lot.mm,
                rod_mm: *rod_mm,
                projection_mm: *projection_mm,
                taped: true,
                lubricated: true,
            };
            let counts = cutting.coil(cut, &record, TURNS, chance);
            act.add(&Trial {
                tried_on: calendar.day(40 + place * 14 + i64::from(coil)),
                source: if coil == 0 { TrialSource::Card } else { TrialSource::Typed },
                metal: lot.metal.to_owned(),
                temper: lot.temper.to_owned(),
                annealed: false,
                wire_typed: lot.typed.to_owned(),
                wire_mm: lot.mm,
                rod_typed: format!("{rod_mm} mm"),
                rod_mm: *rod_mm,
                wire_lot_id: Some(lot_id),
                blade_id: Some(id),
                blade_name: (*blade).to_owned(),
                blade_diameter_mm: Some(record.diameter_mm),
                projection_typed: Some(format!("{projection_mm:.2} mm")),
                projection_mm: Some(*projection_mm),
                inside_typed: None,
                inside_mean_mm: None,
                inside_readings: None,
                turns_wound: Some(TURNS),
                turns_relaxed: Some(f64::from(TURNS)),
                good: Some(counts.good),
                uncut: Some(counts.uncut + counts.stop_lost),
                nicked: Some(counts.deformed),
                crushed: Some(counts.crushed),
                blade_event: BladeEvent::None,
                outcome: outcome(counts),
                run_id: None,
                coil_number: None,
                worker: String::new(),
                note: String::new(),
            })?;
        }
    }
    Ok(())
}
