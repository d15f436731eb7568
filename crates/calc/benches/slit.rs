//! Which blade clears which coil: every gauge on every mandrel with every blade; never a gate.

use divan::{Bencher, black_box};
use linkwright_calc::coil::{InsideDiameter, touching_pitch};
use linkwright_calc::gauge::Gauge;
use linkwright_calc::quantity::Length;
use linkwright_calc::slit::{
    AllowanceParts, Allowances, Blade, BladeParts, DepthSetting, Kerf, LastTurn, Projection,
    VerdictQuery, verdict,
};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;

const MM: fn(f64) -> Length = Length::from_mm;

fn main() {
    divan::main();
}

fn blade(number: u32) -> Blade {
    Blade::new(BladeParts {
        diameter: MM(19.0 + 3.0 * f64::from(number)),
        kerf: Kerf::new(MM(0.2 + 0.05 * f64::from(number))).expect("within limits"),
        teeth: Some(72),
        hub_diameter: Some(MM(8.0)),
    })
    .expect("within limits")
}

fn queries(blades: u32) -> Vec<VerdictQuery> {
    let allowances = Allowances::new(AllowanceParts {
        blade_offset: MM(0.2),
        squash: MM(0.1),
        margin: MM(0.3),
        hub_clearance: MM(0.5),
    })
    .expect("within limits");
    let mut queries = Vec::new();
    for gauge in 10..34 {
        let diameter = Gauge::Awg(gauge).diameter().expect("in the series");
        let wire = Wire::new(diameter).expect("within limits");
        for mandrel in 0..24_u32 {
            let mandrel = Mandrel::new(MM(2.0 + 0.5 * f64::from(mandrel))).expect("within limits");
            let inside = InsideDiameter::on_mandrel(mandrel);
            for number in 0..blades {
                queries.push(VerdictQuery {
                    wire,
                    inside,
                    pitch: touching_pitch(wire, inside),
                    blade: blade(number),
                    depth: DepthSetting::Projection(
                        Projection::new(MM(2.5)).expect("within limits"),
                    ),
                    allowances,
                    last_turn: Some(LastTurn::from_blade_centre(MM(6.0)).expect("within limits")),
                });
            }
        }
    }
    queries
}

/// 24 gauges on 24 mandrels.
#[divan::bench(args = [1, 6, 12])]
fn blade_chart(bencher: Bencher, blades: u32) {
    let queries = queries(blades);
    bencher.bench(|| {
        let cleared = |query: &&VerdictQuery| verdict(query).is_ok_and(|found| found.clears());
        black_box(&queries).iter().filter(cleared).count()
    });
}
