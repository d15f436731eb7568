//! Which column of a gate's equations belongs to which term.

use std::collections::HashMap;
use std::sync::Arc;

use super::smooth::{from_middle, smooth_basis};
use super::{Lean, Prior, SMOOTH_TERMS, Term};
use crate::geometry::{Features, STEPS};
use crate::play::Gate;
use crate::trial::Cell;

/// The columns of one gate: those of the site first, then those of the circumstances.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Layout {
    gate: Gate,
    terms: Vec<Term>,
    /// How many of them are of the site.
    site_terms: usize,
    /// First column of each blade; its two leans follow.
    blades: HashMap<Arc<str>, usize>,
    metals: HashMap<Arc<str>, usize>,
    operators: HashMap<Arc<str>, usize>,
}

/// The names that have a column of their own.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Names {
    pub blades: Vec<Arc<str>>,
    pub metals: Vec<Arc<str>>,
    /// All but the first operator, who is the reference.
    pub operators: Vec<Arc<str>>,
}

impl Names {
    /// These names and then those.
    pub(crate) fn and(&self, others: &Names) -> Names {
        let both = |a: &[Arc<str>], b: &[Arc<str>]| a.iter().chain(b).cloned().collect();
        Names {
            blades: both(&self.blades, &others.blades),
            metals: both(&self.metals, &others.metals),
            operators: both(&self.operators, &others.operators),
        }
    }
}

impl Layout {
    /// The columns of a gate for the given names.
    pub(crate) fn new(gate: Gate, names: &Names, prior: &Prior) -> Layout {
        let mut terms = vec![Term::Intercept];
        terms.extend((0..STEPS).map(Term::Sever));
        terms.extend((0..STEPS).map(Term::Far));
        terms.extend([Term::Teeth, Term::Kerf]);
        terms.extend((0..SMOOTH_TERMS).map(Term::Smooth));
        for blade in &names.blades {
            for lean in [Lean::Even, Lean::WithWire, Lean::WithMandrel] {
                terms.push(Term::Blade(Arc::clone(blade), lean));
            }
        }
        terms.extend((0..STEPS).map(Term::Crush));
        terms.extend([Term::Tape, Term::Lubricant, Term::Sharpness]);
        terms.extend(names.metals.iter().cloned().map(Term::Metal));
        terms.extend(names.operators.iter().cloned().map(Term::Operator));
        terms.retain(|term| prior.term(gate, term).is_some());

        let site_terms = terms.iter().take_while(|term| term.is_of_site()).count();
        let mut layout = Layout {
            gate,
            terms: Vec::new(),
            site_terms,
            blades: HashMap::new(),
            metals: HashMap::new(),
            operators: HashMap::new(),
        };
        for (column, term) in terms.iter().enumerate() {
            match term {
                Term::Blade(name, Lean::Even) => layout.blades.insert(Arc::clone(name), column),
                Term::Metal(name) => layout.metals.insert(Arc::clone(name), column),
                Term::Operator(name) => layout.operators.insert(Arc::clone(name), column),
                _ => None,
            };
        }
        layout.terms = terms;
        layout
    }

    pub(crate) fn terms(&self) -> &[Term] {
        &self.terms
    }

    pub(crate) fn site_terms(&self) -> usize {
        self.site_terms
    }

    /// Columns in all.
    pub(crate) fn len(&self) -> usize {
        self.terms.len()
    }

    /// Appends the site's columns, then the circumstances', of one cell.
    pub(crate) fn push_row(&self, cell: &Cell, features: &Features, row: &mut Vec<f64>) {
        self.push_site(cell, features, row);
        self.push_circumstances(cell, features, row);
    }

    /// Appends the site's columns of one cell.
    pub(crate) fn push_site(&self, cell: &Cell, features: &Features, row: &mut Vec<f64>) {
        let parts = cell.parts();
        let (wire_mm, mandrel_mm) = (parts.wire.diameter().mm(), parts.mandrel.diameter().mm());
        let start = row.len();
        row.push(1.0);
        match self.gate {
            Gate::Kept => row.push(features.teeth),
            Gate::Severed => {
                row.extend(features.sever);
                row.push(features.teeth);
            }
            Gate::Round => {
                row.extend(features.far);
                row.push(features.kerf);
            }
        }
        row.extend(smooth_basis(wire_mm, mandrel_mm));
        row.resize(start + self.site_terms, 0.0);
        if let Some(&blade) = self.blades.get(&parts.blade.name) {
            let [wire, mandrel] = from_middle(wire_mm, mandrel_mm);
            row[start + blade..start + blade + 3].copy_from_slice(&[1.0, wire, mandrel]);
        }
    }

    /// Appends the circumstances' columns of one cell.
    pub(crate) fn push_circumstances(&self, cell: &Cell, features: &Features, row: &mut Vec<f64>) {
        let parts = cell.parts();
        let start = row.len();
        if self.gate != Gate::Severed {
            row.extend(features.crush);
        }
        row.extend([features.tape, features.lubricant]);
        if self.gate != Gate::Kept {
            row.push(features.sharpness);
        }
        row.resize(start + self.terms.len() - self.site_terms, 0.0);
        let of = |column: usize| start + column - self.site_terms;
        if let Some(&metal) = self.metals.get(&parts.metal) {
            row[of(metal)] = 1.0;
        }
        if let Some(operator) = parts.operator.as_ref().and_then(|name| self.operators.get(name)) {
            row[of(*operator)] = 1.0;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::features;
    use crate::play::GATES;
    use crate::trial::tests::parts;

    #[test]
    fn every_term_finds_its_own_column_in_every_gate() {
        let mut parts = parts(1.0, 5.0);
        parts.operator = Some("Ann".into());
        parts.rings_cut_since_new = Some(3000.0);
        let cell = Cell::new(parts).unwrap();
        let f = features(&cell);
        let name = |name: &str| -> Arc<str> { name.into() };
        let names = Names {
            blades: vec![name("other"), name("B1")],
            metals: vec![name("silver"), name("copper")],
            operators: vec![name("Bo"), name("Ann")],
        };
        for gate in GATES {
            let layout = Layout::new(gate, &names, &Prior::geometry());
            let mut row = Vec::new();
            layout.push_row(&cell, &f, &mut row);
            assert_eq!(row.len(), layout.len());
            let smooth = smooth_basis(1.0, 5.0);
            let [wire, mandrel] = from_middle(1.0, 5.0);
            for (term, value) in layout.terms().iter().zip(row) {
                let expected = match term {
                    Term::Intercept => 1.0,
                    Term::Sever(i) => f.sever[*i],
                    Term::Far(i) => f.far[*i],
                    Term::Crush(i) => f.crush[*i],
                    Term::Smooth(i) => smooth[*i],
                    Term::Teeth => f.teeth,
                    Term::Kerf => f.kerf,
                    Term::Tape => f.tape,
                    Term::Lubricant => f.lubricant,
                    Term::Sharpness => -(4.0_f64.ln()),
                    Term::Blade(name, lean) if &**name == "B1" => match lean {
                        Lean::Even => 1.0,
                        Lean::WithWire => wire,
                        Lean::WithMandrel => mandrel,
                    },
                    Term::Metal(name) | Term::Operator(name)
                        if ["copper", "Ann"].contains(&&**name) =>
                    {
                        1.0
                    }
                    _ => 0.0,
                };
                assert!((value - expected).abs() < 1e-12, "{gate:?} {term:?}: {value}");
            }
        }
    }
}
