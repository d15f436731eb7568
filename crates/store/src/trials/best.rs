//! The blade with the best record for every wire on every rod.

use std::cmp::Ordering;
use std::collections::BTreeMap;
use std::sync::Arc;

use linkwright_calc::count::share_shown_by;
use serde::Serialize;

use crate::error::StoreError;
use crate::record::Saved;
use crate::records::Blade;
use crate::view::View;

/// Fewer trials than this are called few.
pub const FEW_TRIALS: u32 = 5;

/// The share of good trials that counts is the one shown with this confidence.
const CONFIDENCE: f64 = 0.95;

/// Wires nearer to each other than this are one row; half of it is what a micrometer and drawing
/// leave open. Own choice.
const WIRE_STEP_MM: f64 = 0.04;

/// The same for rods. Own choice.
const ROD_STEP_MM: f64 = 0.1;

/// The best-tried blades: only cells that were tried.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct BestTried {
    /// Wire diameters, thin to thick, mm.
    pub wires_mm: Vec<f64>,
    /// Rod diameters, thin to thick, mm.
    pub rods_mm: Vec<f64>,
    /// The cells that were tried, by wire and then by rod.
    pub cells: Vec<BestCell>,
    /// Trials that went in.
    pub trials: u32,
    /// Trials that do not say which blade, and so do not count.
    pub without_blade: u32,
}

/// One wire on one rod.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BestCell {
    /// Place of the wire in [`BestTried::wires_mm`].
    pub wire: usize,
    /// Place of the rod in [`BestTried::rods_mm`].
    pub rod: usize,
    /// Blades tried, the best record first; never empty.
    pub blades: Vec<BladeRecord>,
}

/// How one blade did in one cell.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BladeRecord {
    /// Its name.
    pub blade: String,
    /// Trials that went well.
    pub good: u32,
    /// Trials in all.
    pub tried: u32,
    /// Day of the last one.
    pub last: String,
    /// Share of good trials that the record shows with 95 % confidence.
    pub share_shown: f64,
}

impl BladeRecord {
    /// Such as "2 good of 3".
    #[must_use]
    pub fn counted(&self) -> String {
        format!("{} good of {}", self.good, self.tried)
    }

    /// Whether that is few to go by.
    #[must_use]
    pub const fn is_few(&self) -> bool {
        self.tried < FEW_TRIALS
    }
}

impl BestTried {
    /// The cell of a wire on a rod by their places; `None` if it was never tried.
    #[must_use]
    pub fn cell(&self, wire: usize, rod: usize) -> Option<&BestCell> {
        self.cells.iter().find(|cell| cell.wire == wire && cell.rod == rod)
    }
}

struct Counted {
    wire_mm: f64,
    rod_mm: f64,
    blade: String,
    good: u32,
    tried: u32,
    last: String,
}

impl View<'_> {
    /// The best-tried blade of every cell, of one metal or of all.
    ///
    /// Blades are ordered by the share of good trials that their record shows with 95 % confidence,
    /// so that two good of two do not stand above nineteen of twenty.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn best_tried(&self, metal: Option<&str>) -> Result<Arc<BestTried>, StoreError> {
        let name = format!("best tried of {metal:?}");
        self.worked_out(&name, || self.best_tried_afresh(metal))
    }

    fn best_tried_afresh(&self, metal: Option<&str>) -> Result<BestTried, StoreError> {
        let blades: Vec<Saved<Blade>> = self.all()?;
        let mut statement = self.connection.prepare_cached(
            "select wire_mm, rod_mm, blade_id, blade_name, sum(tried), sum(good), max(last_on)
             from blade_tally
             where ?1 is null or metal = ?1
             group by wire_mm, rod_mm, blade_name, blade_id",
        )?;
        let counted = statement
            .query_map([metal], |row| {
                let id: i64 = row.get(2)?;
                let noted: String = row.get(3)?;
                let known = blades.iter().find(|blade| blade.id.number() == id);
                Ok(Counted {
                    wire_mm: row.get(0)?,
                    rod_mm: row.get(1)?,
                    blade: known.map_or(noted, |blade| blade.record.name.clone()),
                    tried: row.get(4)?,
                    good: row.get(5)?,
                    last: row.get(6)?,
                })
            })?
            .collect::<Result<Vec<_>, _>>()?;
        Ok(best(counted))
    }
}

fn best(counted: Vec<Counted>) -> BestTried {
    let trials = counted.iter().map(|row| row.tried).sum();
    let (without, counted): (Vec<_>, Vec<_>) =
        counted.into_iter().partition(|row| row.blade.is_empty());
    let wires = steps(counted.iter().map(|row| row.wire_mm).collect(), WIRE_STEP_MM);
    let rods = steps(counted.iter().map(|row| row.rod_mm).collect(), ROD_STEP_MM);
    let mut cells: BTreeMap<(usize, usize), BTreeMap<String, BladeRecord>> = BTreeMap::new();
    for row in counted {
        let cell = (place(&wires, row.wire_mm), place(&rods, row.rod_mm));
        let record =
            cells.entry(cell).or_default().entry(row.blade.to_lowercase()).or_insert_with(|| {
                BladeRecord {
                    blade: row.blade.clone(),
                    good: 0,
                    tried: 0,
                    last: String::new(),
                    share_shown: 0.0,
                }
            });
        record.good += row.good;
        record.tried += row.tried;
        record.last = row.last.max(std::mem::take(&mut record.last));
    }
    let cells = cells
        .into_iter()
        .map(|((wire, rod), blades)| {
            let mut blades: Vec<BladeRecord> = blades.into_values().collect();
            for record in &mut blades {
                record.share_shown =
                    share_shown_by(record.good, record.tried, CONFIDENCE).unwrap_or(0.0);
            }
            blades.sort_by(better_first);
            BestCell { wire, rod, blades }
        })
        .collect();
    BestTried {
        wires_mm: wires.iter().map(|step| step.shown_mm).collect(),
        rods_mm: rods.iter().map(|step| step.shown_mm).collect(),
        cells,
        trials,
        without_blade: without.iter().map(|row| row.tried).sum(),
    }
}

fn better_first(one: &BladeRecord, other: &BladeRecord) -> Ordering {
    other
        .share_shown
        .total_cmp(&one.share_shown)
        .then_with(|| other.last.cmp(&one.last))
        .then_with(|| one.blade.cmp(&other.blade))
}

/// Sizes that count as one.
struct Step {
    low_mm: f64,
    shown_mm: f64,
}

/// Gathers sizes, each step from its smallest up to less than `width_mm` more.
fn steps(mut sizes_mm: Vec<f64>, width_mm: f64) -> Vec<Step> {
    sizes_mm.sort_by(f64::total_cmp);
    let mut steps: Vec<Step> = Vec::new();
    for mm in sizes_mm {
        if steps.last().is_none_or(|step| mm - step.low_mm >= width_mm) {
            steps.push(Step { low_mm: mm, shown_mm: mm });
        }
    }
    steps
}

fn place(steps: &[Step], mm: f64) -> usize {
    steps.partition_point(|step| step.low_mm <= mm).saturating_sub(1)
}

#[cfg(test)]
mod tests {
    use super::{Counted, best};
    use crate::records::{BladeEvent, Outcome, Trial, TrialSource};
    use crate::{Moment, Store, StoreError};

    fn row(wire_mm: f64, rod_mm: f64, blade: &str, good: u32, tried: u32, last: &str) -> Counted {
        Counted { wire_mm, rod_mm, blade: blade.to_owned(), good, tried, last: last.to_owned() }
    }

    #[test]
    fn a_long_record_stands_above_a_lucky_one() {
        let chart = best(vec![
            row(1.63, 6.0, "lucky", 2, 2, "2026-05-01"),
            row(1.63, 6.0, "proven", 19, 20, "2026-01-01"),
            row(1.63, 6.0, "Lucky", 0, 0, "2026-06-01"),
        ]);
        assert_eq!(chart.cells.len(), 1);
        let names: Vec<&str> =
            chart.cells[0].blades.iter().map(|record| record.blade.as_str()).collect();
        assert_eq!(names, ["proven", "lucky"]);
        assert_eq!(chart.cells[0].blades[1].last, "2026-06-01");
    }

    #[test]
    fn a_gauge_and_its_rounded_millimetres_are_one_row() {
        let chart = best(vec![
            row(1.6277, 6.0, "fine", 1, 2, "2026-03-01"),
            row(1.63, 6.02, "fine", 1, 1, "2026-03-04"),
            row(1.8, 6.0, "", 1, 1, "2026-03-04"),
        ]);
        assert_eq!((chart.wires_mm.len(), chart.rods_mm.len()), (1, 1));
        let record = &chart.cell(0, 0).expect("tried").blades[0];
        assert_eq!(
            (record.counted().as_str(), record.last.as_str()),
            ("2 good of 3", "2026-03-04")
        );
        assert!(record.is_few());
        assert_eq!((chart.trials, chart.without_blade), (4, 1));
    }

    fn plain_trial() -> Trial {
        Trial {
            tried_on: String::new(),
            source: TrialSource::Typed,
            metal: "copper".to_owned(),
            temper: "soft".to_owned(),
            annealed: false,
            wire_typed: "1 mm".to_owned(),
            wire_mm: 1.0,
            rod_typed: "4 mm".to_owned(),
            rod_mm: 4.0,
            wire_lot_id: None,
            blade_id: None,
            blade_name: String::new(),
            blade_diameter_mm: None,
            projection_typed: None,
            projection_mm: None,
            inside_typed: None,
            inside_mean_mm: None,
            inside_readings: None,
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

    #[test]
    fn the_tally_is_the_sum_of_the_trials_after_every_kind_of_change() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("bench.linkwright");
        let store = Store::open(&path).expect("opens");
        let now = Moment::parse("2026-11-25T08:30:00Z").expect("a moment");
        let afresh = |sums: &str| {
            let connection = rusqlite::Connection::open(&path).expect("opens");
            let query = format!(
                "select count(*) from (
                     select wire_mm, rod_mm, metal, blade_name, coalesce(blade_id, 0), count(*),
                            sum(outcome = 'good'), max(tried_on) from trial group by 1, 2, 3, 4, 5
                     {sums} select * from blade_tally)"
            );
            connection.query_row(&query, [], |row| row.get::<_, u32>(0)).expect("counted")
        };
        // As many as there are sums, and none that differs.
        let sums = |wanted| {
            assert_eq!((afresh("union"), afresh("intersect")), (wanted, wanted));
        };
        let trial = |outcome, tried_on: &str, blade: &str| Trial {
            outcome,
            tried_on: tried_on.to_owned(),
            blade_name: blade.to_owned(),
            ..plain_trial()
        };
        let good = trial(Outcome::Good, "2026-03-02", "thin");
        let poor = trial(Outcome::Poor, "2026-03-05", "thin");
        let (one, two) = store
            .act(now, "Added", |act| {
                let one = act.add(&good)?;
                let two = act.add(&poor)?;
                act.add(&trial(Outcome::Good, "2026-03-03", "thick"))?;
                Ok::<_, StoreError>((one, two))
            })
            .expect("saved");
        sums(2);
        store
            .act(now, "Changed", |act| {
                act.change(two, &trial(Outcome::Failed, "2026-03-01", "thin"))?;
                act.change(one, &Trial { wire_mm: 0.9, ..good.clone() })
            })
            .expect("saved");
        sums(3);
        store.act(now, "Removed", |act| act.remove(two)).expect("saved");
        sums(2);
        store.undo_last(now).expect("undone");
        sums(3);
        store.undo_last(now).expect("undone");
        sums(2);
        store.act(now, "Removed", |act| act.remove(two)).expect("saved");
        let chart = store.read(|view| view.best_tried(None)).expect("read");
        assert_eq!((chart.trials, &*chart.cells[0].blades[0].last), (2, "2026-03-03"));
    }
}
