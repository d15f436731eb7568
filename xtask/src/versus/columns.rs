//! Our equations written out for others: the same columns and the same priors, gate by gate.

use linkwright_trials::{
    Cell, GATES, Gate, Lean, Prior, SMOOTH_TERMS, STEPS, Term, TermPrior, TrialRow, features,
    smooth_basis,
};
use serde_json::{Value, json};

/// What all workshops of the simulator may have; a name without a trial keeps its prior.
const METALS: [&str; 5] = ["sterling", "copper", "bronze", "brass", "steel304"];
/// See [`METALS`].
const OPERATORS: [&str; 3] = ["Ann", "Bo", "Cy"];
/// Middle of the chart in logarithms of mm, which a blade's leanings are counted from.
const MIDDLE_MM: [[f64; 2]; 2] = [[0.4, 2.1], [2.0, 14.0]];

/// Columns, priors and counts of the three gates, for the trials and for the cells asked about.
pub fn gates(rows: &[TrialRow], asked: &[Cell], blades: &[&str]) -> Vec<Value> {
    let reference = rows.first().and_then(|row| row.cell().parts().operator.clone());
    let operators = OPERATORS.into_iter().filter(|name| reference.as_deref() != Some(*name));
    let terms = terms(blades, operators);
    let prior = Prior::geometry();
    GATES
        .into_iter()
        .map(|gate| {
            let believed: Vec<(&Term, TermPrior)> =
                terms.iter().filter_map(|term| Some((term, prior.term(gate, term)?))).collect();
            let line = |cell: &Cell| -> Vec<f64> {
                believed.iter().map(|(term, _)| value(term, cell)).collect()
            };
            let of_departure =
                |prior: TermPrior| matches!(prior, TermPrior::OfDeparture { .. });
            let counts = || rows.iter().map(|row| row.gates()[gate.index()]);
            json!({
                "mean": believed.iter().map(|(_, prior)| prior.mean()).collect::<Vec<_>>(),
                // Per unit of the departure where it is of the departure.
                "sd": believed.iter().map(|(_, prior)| prior.sd(1.0)).collect::<Vec<_>>(),
                "of_departure": believed.iter().map(|(_, p)| of_departure(*p)).collect::<Vec<_>>(),
                "rows": rows.iter().map(|row| line(row.cell())).collect::<Vec<_>>(),
                "asked": asked.iter().map(line).collect::<Vec<_>>(),
                "passed": counts().map(|(passed, _)| passed).collect::<Vec<_>>(),
                "came": counts().map(|(_, came)| came).collect::<Vec<_>>(),
                "written_off": if gate == Gate::Kept { linkwright_trials::WRITE_OFF_SHARE } else { 0.0 },
            })
        })
        .collect()
}

/// A few plain columns for those who cannot take ours: bounded margins, load, teeth, kerf, flags,
/// blade, metal, person.
pub fn plain(cell: &Cell, blades: &[&str]) -> Vec<f64> {
    let (f, parts) = (features(cell), cell.parts());
    let bounded = |margin_mm: f64| (margin_mm / 0.5).tanh();
    let mut line = vec![
        bounded(f.sever_margin_mm),
        bounded(f.far_margin_mm),
        f.crush_index,
        f.teeth,
        f.kerf,
        f.tape,
        f.lubricant,
        f.sharpness,
        parts.wire.diameter().mm().ln(),
        parts.mandrel.diameter().mm().ln(),
    ];
    line.extend(blades.iter().map(|name| flag(*name == &*parts.blade.name)));
    line.extend(METALS.iter().map(|name| flag(*name == &*parts.metal)));
    line.extend(OPERATORS.iter().map(|name| flag(parts.operator.as_deref() == Some(*name))));
    line
}

fn terms<'a>(blades: &[&str], operators: impl Iterator<Item = &'a str>) -> Vec<Term> {
    let mut terms = vec![Term::Intercept];
    terms.extend((0..STEPS).flat_map(|i| [Term::Sever(i), Term::Far(i), Term::Crush(i)]));
    terms.extend([Term::Teeth, Term::Kerf, Term::Tape, Term::Lubricant, Term::Sharpness]);
    terms.extend((0..SMOOTH_TERMS).map(Term::Smooth));
    for name in blades {
        let lean = |lean| Term::Blade((*name).into(), lean);
        terms.extend([Lean::Even, Lean::WithWire, Lean::WithMandrel].map(lean));
    }
    terms.extend(METALS.map(|name| Term::Metal(name.into())));
    terms.extend(operators.map(|name| Term::Operator(name.into())));
    terms
}

/// A term's column at one cell.
fn value(term: &Term, cell: &Cell) -> f64 {
    let (f, parts) = (features(cell), cell.parts());
    let (wire_mm, mandrel_mm) = (parts.wire.diameter().mm(), parts.mandrel.diameter().mm());
    let from_middle = |mm: f64, [low, high]: [f64; 2]| (mm / (low * high).sqrt()).ln();
    match term {
        Term::Intercept => 1.0,
        Term::Sever(i) => f.sever[*i],
        Term::Far(i) => f.far[*i],
        Term::Crush(i) => f.crush[*i],
        Term::Smooth(i) => smooth_basis(wire_mm, mandrel_mm)[*i],
        Term::Teeth => f.teeth,
        Term::Kerf => f.kerf,
        Term::Tape => f.tape,
        Term::Lubricant => f.lubricant,
        Term::Sharpness => f.sharpness,
        Term::Blade(name, lean) => {
            flag(*name == parts.blade.name)
                * match lean {
                    Lean::Even => 1.0,
                    Lean::WithWire => from_middle(wire_mm, MIDDLE_MM[0]),
                    Lean::WithMandrel => from_middle(mandrel_mm, MIDDLE_MM[1]),
                }
        }
        Term::Metal(name) => flag(*name == parts.metal),
        Term::Operator(name) => flag(Some(name) == parts.operator.as_ref()),
    }
}

fn flag(set: bool) -> f64 {
    if set { 1.0 } else { 0.0 }
}
