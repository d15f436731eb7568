//! Features of one cell as printed.
//! Source: the project's reference on the statistics of the trials (`trials.md`), section 10,
//! computed there with an independent program.

use linkwright_calc::quantity::{Length, Stress};
use linkwright_calc::slit::{AxisHeight, Blade, BladeParts, Kerf};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;
use linkwright_trials::{Cell, CellParts, Features, TrialBlade, features};

/// Half the last digit printed.
const SIX_DIGITS: f64 = 0.6e-6;

/// Wire 1, mandrel 5, kerf 0.20, 160 teeth, axis 14.35 mm, copper half hard, taped, dry.
fn printed_cell(blade_mm: f64) -> Features {
    let mm = Length::from_mm;
    let kerf = Kerf::new(mm(0.20)).unwrap();
    let blade = BladeParts { diameter: mm(blade_mm), kerf, teeth: Some(160), hub_diameter: None };
    let parts = CellParts {
        wire: Wire::new(mm(1.0)).unwrap(),
        mandrel: Mandrel::new(mm(5.0)).unwrap(),
        blade: TrialBlade { name: "B1".into(), blade: Blade::new(blade).unwrap() },
        axis: AxisHeight::new(mm(14.35)).unwrap(),
        metal: "copper".into(),
        yield_strength: Stress::from_mpa((70.0_f64 * 300.0).sqrt()),
        taped: true,
        lubricated: false,
        operator: None,
        rings_cut_since_new: None,
    };
    features(&Cell::new(parts).unwrap())
}

fn agree(ours: &[f64], printed: &[f64]) {
    assert_eq!(ours.len(), printed.len());
    for (ours, printed) in ours.iter().zip(printed) {
        assert!((ours - printed).abs() < SIX_DIGITS, "{ours} is not {printed}");
    }
}

#[test]
fn the_features_of_the_printed_cell_agree() {
    let f = printed_cell(31.75);
    agree(&[f.depth_mm, f.sever_margin_mm, f.far_margin_mm], &[1.525, 0.525, 4.475]);
    agree(&f.sever, &[0.999_942, 0.998_830, 0.994_780, 0.977_023, 0.679_179]);
    agree(&f.far, &[1.0; 5]);
    agree(&f.crush, &[-0.001_862, -0.023_832, -0.193_587, 0.297_581, 0.041_306]);
    agree(&[f.teeth, f.kerf], &[0.468_681, 0.403_014]);
    agree(&[f.turns_at_stop, f.stop], &[2.740_349, 1.008_085]);
    agree(&[f.tape, f.lubricant, f.sharpness], &[0.5, -0.5, 0.0]);
}

#[test]
fn the_larger_blade_of_the_printed_cell_agrees() {
    let f = printed_cell(38.1);
    agree(&[f.depth_mm, f.turns_at_stop], &[4.70, 1.247_322]);
}
