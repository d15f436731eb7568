//! Metal, time and cost of a sheet.

use linkwright_calc::plan::{CostOnSheet, RunSheet};

use super::figure::Figure;
use super::numbers::{ruled, weighed};
use super::sums;
use crate::printout::significant;
use crate::run_sheet::Money;

/// Where the metal goes, how long it takes, what it costs.
pub fn metal_time_and_cost(sheet: &RunSheet, money: Money) -> Vec<Figure> {
    let used = &sheet.metal_use;
    let slit = ("rings slit", sheet.coils.slit_count());
    let mut figures = vec![
        Figure::of("Wire", ruled(used.wire_length)).resting_on(&sums::wire_length(sheet)),
        Figure::of("Its mass", weighed(used.wire)).resting_on(&sums::wire_mass(sheet)),
        Figure::of("Rings", weighed(used.rings)).resting_on(&sums::counted_mass(slit, sheet)),
        Figure::of("Kerf dust", weighed(used.kerf_dust)).resting_on(&sums::kerf_dust(sheet)),
        Figure::of("Ends and tails", weighed(used.ends_and_tails))
            .resting_on(&sums::ends_and_tails(sheet)),
    ];
    if sheet.coils.groups.len() > 1 {
        let alike = sheet.coils.wire_if_all_alike;
        figures.push(Figure::of("If all coils are full", ruled(alike)).on_screen_only());
    }
    let time = format!("{} min with set-up", significant(sheet.minutes, 3));
    figures.push(Figure::number("Time", time).resting_on(&sums::minutes(sheet)));
    if let Some(cost) = sheet.cost.as_ref().filter(|_| money == Money::Shown) {
        figures.extend(cost_of_wire(sheet, cost));
    }
    figures
}

fn cost_of_wire(sheet: &RunSheet, cost: &CostOnSheet) -> [Figure; 2] {
    let currency = cost.wire.currency();
    let each = cost.per_good_ring_minor / f64::from(currency.minor_per_major());
    let basis = sums::cost(sheet, cost);
    [
        Figure::number("Cost of wire", cost.wire.to_string()).resting_on(&basis).of_money(),
        Figure::number("A good ring", format!("{} {currency}", significant(each, 3)))
            .resting_on(&basis)
            .of_money(),
    ]
}
