//! Our equations written out for others: the same columns and the same priors, gate by gate.

use std::collections::BTreeSet;
use std::sync::Arc;

use linkwright_trials::{
    Cell, GATES, Gate, Lean, Prior, SMOOTH_TERMS, STEPS, Term, TermPrior, TrialRow, features,
    smooth_basis,
};
use serde_json::{Value, json};

/// Middle of the chart in logarithms of mm, which a blade's leanings are counted from.
const MIDDLE_MM: [[f64; 2]; 2] = [[0.4, 2.1], [2.0, 14.0]];

/// Names that have columns of their own; one without a trial keeps its prior.
#[derive(Debug, Default)]
pub struct Names {
    blades: BTreeSet<Arc<str>>,
    metals: BTreeSet<Arc<str>>,
    operators: BTreeSet<Arc<str>>,
}

impl Names {
    /// All that trials and cells speak of.
    pub fn of(rows: &[TrialRow], asked: &[Cell]) -> Names {
        let mut names = Names::default();
        for cell in rows.iter().map(TrialRow::cell).chain(asked) {
            let parts = cell.parts();
            names.blades.insert(Arc::clone(&parts.blade.name));
            names.metals.insert(Arc::clone(&parts.metal));
            names.operators.extend(parts.operator.clone());
        }
        names
    }
}

/// Columns, priors and counts of the three gates, for the trials and for the cells asked about.
pub fn gates(rows: &[TrialRow], asked: &[Cell]) -> Vec<Value> {
    let mut names = Names::of(rows, asked);
    if let Some(reference) = rows.first().and_then(|row| row.cell().parts().operator.as_ref()) {
        names.operators.remove(reference);
    }
    let terms = terms(&names);
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

/// First trial of the cell each of these belongs to: that trial's number names the cell.
pub fn cells<'a>(rows: &[TrialRow], of: impl Iterator<Item = &'a Cell>) -> Vec<Option<usize>> {
    let keys: Vec<_> = rows.iter().map(|row| row.cell().key()).collect();
    of.map(|cell| keys.iter().position(|key| *key == cell.key())).collect()
}

/// A few plain columns for those who cannot take ours: bounded margins, load, teeth, kerf, flags,
/// blade, metal, person.
pub fn plain(cell: &Cell, names: &Names) -> Vec<f64> {
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
    line.extend(names.blades.iter().map(|name| flag(*name == parts.blade.name)));
    line.extend(names.metals.iter().map(|name| flag(*name == parts.metal)));
    line.extend(names.operators.iter().map(|name| flag(Some(name) == parts.operator.as_ref())));
    line
}

fn terms(names: &Names) -> Vec<Term> {
    let mut terms = vec![Term::Intercept];
    terms.extend((0..STEPS).flat_map(|i| [Term::Sever(i), Term::Far(i), Term::Crush(i)]));
    terms.extend([Term::Teeth, Term::Kerf, Term::Tape, Term::Lubricant, Term::Sharpness]);
    terms.extend((0..SMOOTH_TERMS).map(Term::Smooth));
    for name in &names.blades {
        let lean = |lean| Term::Blade(Arc::clone(name), lean);
        terms.extend([Lean::Even, Lean::WithWire, Lean::WithMandrel].map(lean));
    }
    terms.extend(names.metals.iter().cloned().map(Term::Metal));
    terms.extend(names.operators.iter().cloned().map(Term::Operator));
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
