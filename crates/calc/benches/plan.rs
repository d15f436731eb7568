//! A run sheet from an order and a workshop, one line and six; never a gate.

use divan::{Bencher, black_box};
use linkwright_calc::coil::GoodRings;
use linkwright_calc::gauge::Gauge;
use linkwright_calc::metal::Catalogue;
use linkwright_calc::plan::{
    Counts, Holder, Item, Losses, MeasuredProjection, Minutes, Order, OrderLine, OwnedBlade,
    RingWanted, Rod, Spare, Workshop, plan,
};
use linkwright_calc::quantity::{Length, RingState};
use linkwright_calc::slit::{Blade, BladeParts, Kerf, Projection};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;

const MM: fn(f64) -> Length = Length::from_mm;

fn main() {
    divan::main();
}

fn blade(diameter_mm: f64, kerf_mm: f64) -> OwnedBlade {
    let kerf = Kerf::new(MM(kerf_mm)).expect("within limits");
    let parts = BladeParts {
        diameter: MM(diameter_mm),
        kerf,
        teeth: Some(72),
        hub_diameter: Some(MM(8.0)),
    };
    let blade = Blade::new(parts).expect("the hub is inside the blade");
    OwnedBlade { name: format!("{diameter_mm} x {kerf_mm}"), blade }
}

/// Twenty-four rods a quarter millimetre apart and six blades.
fn workshop() -> Workshop {
    let rods = (0..24_u32).map(|step| {
        let diameter_mm = 2.0 + 0.25 * f64::from(step);
        let mandrel = Mandrel::new(MM(diameter_mm)).expect("within limits");
        Rod { name: format!("{diameter_mm} mm"), mandrel }
    });
    let sizes = [(19.0, 0.2), (22.0, 0.25), (22.0, 0.3), (25.0, 0.3), (32.0, 0.4), (38.0, 0.5)];
    let projection = Projection::new(MM(2.4)).expect("within limits");
    Workshop {
        name: "bench".to_owned(),
        rods: rods.collect(),
        blades: sizes.into_iter().map(|(diameter, kerf)| blade(diameter, kerf)).collect(),
        holder: Holder {
            length: MM(80.0),
            head_start: None,
            stop_setback: Some(MM(6.0)),
            measured: Some(MeasuredProjection { blade: 1, projection }),
            squash: MM(0.05),
            margin: MM(0.3),
        },
        wire: Vec::new(),
        losses: Losses {
            end_turns: 2,
            stop_turns: None,
            tails: MM(60.0),
            packing: 1.02,
            counts: Some(Counts { good: GoodRings::new(950), rejected: 50 }),
        },
        minutes: Minutes { set_up: 10.0, per_coil: 6.0 },
        confidence: 0.95,
    }
}

fn order(lines: u8) -> Order {
    let line = |number: u8| {
        let diameter = Gauge::Awg(18 + i8::try_from(number % 3).expect("small")).diameter();
        OrderLine {
            name: format!("line {number}"),
            item: Item::Rings { count: GoodRings::new(300) },
            metal: "sterling_925".to_owned(),
            temper: "half hard".to_owned(),
            wire_typed: "by gauge".to_owned(),
            wire: Wire::new(diameter.expect("in the series")).expect("within limits"),
            ring: RingWanted::Size {
                inside: MM(4.0 + 0.3 * f64::from(number)),
                tolerance: MM(0.2),
                state: RingState::Open,
            },
            spare: Spare::Share(0.05),
            linked: None,
        }
    };
    Order { name: "bench".to_owned(), date: None, lines: (0..lines).map(line).collect() }
}

#[divan::bench(args = [1, 6])]
fn run_sheet(bencher: Bencher, lines: u8) {
    let (order, workshop, metals) = (order(lines), workshop(), Catalogue::built_in());
    plan(&order, &workshop, &metals).expect("the bench order can be made");
    bencher.bench(|| plan(black_box(&order), black_box(&workshop), black_box(&metals)));
}
