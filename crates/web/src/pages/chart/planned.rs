//! How much of each size the workshop means to cut: what the worth of a test is weighed by.

use linkwright_store::{StoreError, View};

use super::bench::ChartBench;
use crate::learning::Taught;
use crate::planning::{is_at_hand, plan_order};

/// Open orders looked at, the first due first.
const ORDERS_MOST: usize = 20;
/// Turns of every size where nothing is on record to go by.
const NOTHING_KNOWN: f64 = 500.0;
/// Sizes count as the same if they are this close.
const SAME_MM: f64 = 0.02;

/// Turns that are likely to be cut of each size in a year.
pub(super) struct PlannedTurns {
    /// Wire and rod in mm, turns.
    sizes: Vec<(f64, f64, f64)>,
    /// What they rest on.
    pub(super) basis: &'static str,
}

impl PlannedTurns {
    /// What open orders ask for, and what was cut in the year up to the last trial.
    pub(super) fn of(
        view: &View<'_>,
        taught: &Taught,
        bench: &ChartBench,
    ) -> Result<PlannedTurns, StoreError> {
        let mut sizes = ordered(view, taught, bench)?;
        sizes.extend(cut(taught, bench));
        let basis = if sizes.is_empty() {
            "every size alike: no order and no trial of this metal is on record"
        } else {
            "by open orders and by what was cut in the year up to the last trial, in this metal"
        };
        Ok(PlannedTurns { sizes, basis })
    }

    /// Turns of one size.
    pub(super) fn of_size(&self, wire_mm: f64, rod_mm: f64) -> f64 {
        if self.sizes.is_empty() {
            return NOTHING_KNOWN;
        }
        let same = |(wire, rod, _): &&(f64, f64, f64)| {
            (wire - wire_mm).abs() < SAME_MM && (rod - rod_mm).abs() < SAME_MM
        };
        self.sizes.iter().filter(same).map(|(.., turns)| turns).sum()
    }
}

fn ordered(
    view: &View<'_>,
    taught: &Taught,
    bench: &ChartBench,
) -> Result<Vec<(f64, f64, f64)>, StoreError> {
    let mut sizes = Vec::new();
    for listed in view.find_orders(&[], true)?.into_iter().take(ORDERS_MOST) {
        // An order that cannot be planned says so on its own page; one that must be solved waits for it.
        if !is_at_hand(view, taught, listed.order.id)? {
            continue;
        }
        let Ok(planned) = plan_order(view, taught, listed.order.id)? else { continue };
        for sheet in planned.plan.sheets.iter().filter(|sheet| sheet.metal.key == bench.metal) {
            let rod_mm = sheet.rod.mandrel.diameter().mm();
            let turns = f64::from(sheet.to_make.good.get());
            sizes.push((sheet.wire.value.diameter().mm(), rod_mm, turns));
        }
    }
    Ok(sizes)
}

fn cut(taught: &Taught, bench: &ChartBench) -> Vec<(f64, f64, f64)> {
    let lessons = &taught.lessons;
    let year_before = lessons.days.last().map(|last| a_year_before(last)).unwrap_or_default();
    let coils = lessons.coils.iter().zip(&lessons.days);
    coils
        .filter(|(coil, day)| {
            *coil.cell().parts().metal == *bench.metal && day.as_str() > year_before.as_str()
        })
        .map(|(coil, _)| {
            let parts = coil.cell().parts();
            let sizes = (parts.wire.diameter().mm(), parts.mandrel.diameter().mm());
            (sizes.0, sizes.1, f64::from(coil.turns()))
        })
        .collect()
}

/// The same day a year before, as it sorts among days; every day if this is none.
fn a_year_before(day: &str) -> String {
    let year = day.get(..4).and_then(|year| year.parse::<u32>().ok());
    match (year, day.get(4..)) {
        (Some(year), Some(rest)) => format!("{:04}{rest}", year.saturating_sub(1)),
        _ => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_year_before_is_the_same_day() {
        assert_eq!(a_year_before("2026-11-25"), "2025-11-25");
        assert_eq!(a_year_before("?"), "");
    }

    #[test]
    fn without_record_every_size_counts_alike() {
        let none = PlannedTurns { sizes: Vec::new(), basis: "" };
        assert!((none.of_size(1.0, 4.0) - NOTHING_KNOWN).abs() < 1e-9);
        let some = PlannedTurns { sizes: vec![(1.0, 4.0, 60.0), (1.01, 4.0, 40.0)], basis: "" };
        assert!((some.of_size(1.0, 4.0) - 100.0).abs() < 1e-9);
        assert!(some.of_size(1.0, 5.0).abs() < 1e-9);
    }
}
