//! Pooling: what other workshops taught, loaded and taken back out.

use std::sync::Arc;

use linkwright_trials::{
    Bell, Cell, CellParts, Condensed, CondensedGate, GATES, Gate, Lean, Learned, Pool, PoolError,
    Prior, Term, TrialRow, pooled_from_trials, pooled_term,
};

use crate::workshop::{cell, coil, some_trials};

/// A workshop whose blades fail to sever every other ring, whatever the margin.
fn poor_severing() -> Vec<TrialRow> {
    (0..40)
        .map(|i| {
            let size = (0.5 + 0.02 * f64::from(i), 3.0 + 0.2 * f64::from(i % 20));
            coil(&cell(size.0, size.1, "small"), 1, 13, 0)
        })
        .collect()
}

fn severed(prior: &Prior, asked: &Cell) -> f64 {
    Learned::fit(&[], prior).explain(asked)[Gate::Severed.index()].mean
}

#[test]
fn a_pooled_workshop_moves_the_prior_towards_what_it_saw() {
    let asked = cell(0.8, 5.0, "other");
    let geometry = Prior::geometry();
    let learned = Learned::fit(&poor_severing(), &geometry);
    let seen = learned.explain(&cell(0.8, 5.0, "small"))[Gate::Severed.index()].mean;
    let mut pool = Pool::default();
    let mut moved = vec![severed(&geometry, &asked)];
    for _ in 0..3 {
        pool.add(learned.condensed());
        moved.push(severed(&pool.prior(), &asked));
    }
    assert!(moved.is_sorted_by(|a, b| a > b), "{moved:?}");
    assert!(moved.iter().all(|log_odds| *log_odds > seen), "{moved:?} {seen}");
}

#[test]
fn a_workshop_taken_out_leaves_the_prior_as_it_was() {
    let mut pool = Pool::default();
    assert_eq!(pool.prior(), Prior::geometry());
    pool.add(Learned::fit(&some_trials(), &Prior::geometry()).condensed());
    let before = pool.prior();
    pool.add(Learned::fit(&poor_severing(), &Prior::geometry()).condensed());
    assert_ne!(pool.prior(), before);
    assert!(pool.take_out(1).is_some() && pool.take_out(5).is_none());
    assert_eq!(pool.prior(), before);
    assert_eq!(pool.workshops().len(), 1);
}

#[test]
fn condensed_trials_hold_no_name_of_blade_or_operator() {
    let mut rows = some_trials();
    let parts = CellParts { operator: Some("Bo".into()), ..rows[3].cell().parts().clone() };
    let by_another = Cell::new(parts).unwrap();
    rows.push(coil(&by_another, 0, 0, 0));
    let condensed = Learned::fit(&rows, &Prior::geometry()).condensed();
    for gate in GATES {
        assert!(condensed.gate(gate).terms().iter().all(pooled_term));
        assert!(condensed.gate(gate).terms().contains(&Term::Metal("copper".into())));
    }
    assert_eq!(condensed.trials(), 13);
}

#[test]
fn a_metal_of_ones_own_is_integrated_out_of_what_is_shared() {
    let rows = some_trials();
    let learned = Learned::fit(&rows, &Prior::geometry());
    let (all, without) = (learned.condensed(), learned.condensed_with_metals(|_| false));
    assert_eq!((without.trials(), without.cells()), (rows.len(), learned.cells_tried()));
    for gate in GATES {
        let terms = without.gate(gate).terms();
        assert!(!terms.iter().any(|term| matches!(term, Term::Metal(_))), "{terms:?}");
        // What is left knows less: the diagonal, which the intercept begins, is smaller.
        let known = |of: &Condensed| of.gate(gate).information()[0];
        assert!(known(&without) < known(&all), "{gate:?}");
    }
}

#[test]
fn condensed_trials_give_the_shared_weights_back() {
    // With geometry's own prior put back, the bell curve's peak is the fit's, blades integrated out.
    let rows = some_trials();
    let learned = Learned::fit_at(&rows, &Prior::geometry(), 0.5, 0.5);
    let condensed = learned.condensed();
    for gate in GATES {
        let shared = condensed.gate(gate);
        let size = shared.terms().len();
        let mut table = nalgebra::DMatrix::zeros(size, size);
        let mut pull = nalgebra::DVector::zeros(size);
        for i in 0..size {
            for j in 0..=i {
                let value = shared.information()[i * (i + 1) / 2 + j];
                table[(i, j)] = value;
                table[(j, i)] = value;
            }
            let prior = Prior::geometry().term(gate, &shared.terms()[i]).unwrap();
            let precision = prior.sd(0.5).powi(-2);
            table[(i, i)] += precision;
            pull[i] = shared.pull()[i] + precision * prior.mean();
        }
        let weights = table.cholesky().unwrap().solve(&pull);
        for (term, weight) in shared.terms().iter().zip(weights.iter()) {
            let fitted = learned.weight(gate, term).unwrap();
            // Two factorisations of a 50 x 50 table of ordinary condition.
            assert!((fitted - weight).abs() < 1e-8, "{term:?}: {fitted} {weight}");
        }
    }
}

#[test]
fn raw_trials_of_many_workshops_move_the_prior_as_their_files_do() {
    let asked = cell(0.8, 5.0, "other");
    let shops = |_: usize| poor_severing();
    let raw = severed(&pooled_from_trials(4, shops), &asked);
    let mut pool = Pool::default();
    for _ in 0..4 {
        pool.add(Learned::fit(&poor_severing(), &Prior::geometry()).condensed());
    }
    let files = severed(&pool.prior(), &asked);
    let start = severed(&Prior::geometry(), &asked);
    // Refreshing about the population sharpens what the files say; both go the same way.
    assert!(raw < start && files < start, "{start} {raw} {files}");
    assert!((raw - files).abs() < 0.4 * (start - files), "{start} {raw} {files}");
}

#[test]
fn a_condensed_file_that_no_trials_can_have_made_is_refused() {
    let bells = [Bell { mean: 0.0, sd: 0.1 }; 2];
    let make = |terms: Vec<Term>, information: Vec<f64>, pull: Vec<f64>| {
        CondensedGate::new(Gate::Severed, terms, information, pull, bells).map(|_| ())
    };
    let (intercept, step) = (Term::Intercept, Term::Sever(0));
    let two = || vec![intercept.clone(), step.clone()];
    assert_eq!(make(two(), vec![2.0, 1.0, 2.0], vec![0.0, 1.0]), Ok(()));
    assert_eq!(make(two(), vec![1.0, 2.0, 1.0], vec![0.0, 1.0]), Err(PoolError::NotInformation));
    assert_eq!(
        make(two(), vec![1.0, 2.0], vec![0.0, 1.0]),
        Err(PoolError::WrongLength { given: 2, needed: 3 })
    );
    assert_eq!(
        make(two(), vec![2.0, f64::NAN, 2.0], vec![0.0, 1.0]),
        Err(PoolError::OutOfRange { place: 1 })
    );
    for foreign in [Term::Blade(Arc::from("mine"), Lean::Even), Term::Far(0), Term::Sever(5)] {
        assert_eq!(
            make(vec![foreign], vec![1.0], vec![0.0]),
            Err(PoolError::TermNotShared { place: 0 })
        );
    }
    assert_eq!(
        make(vec![step.clone(), step], vec![1.0, 0.0, 1.0], vec![0.0; 2]),
        Err(PoolError::TermTwice { place: 1 })
    );
}

#[test]
fn a_fitted_file_is_accepted_again() {
    let condensed = Learned::fit(&poor_severing(), &Prior::geometry()).condensed();
    let gates = GATES.map(|gate| {
        let from = condensed.gate(gate);
        let (terms, information) = (from.terms().to_vec(), from.information().to_vec());
        CondensedGate::new(gate, terms, information, from.pull().to_vec(), from.settings()).unwrap()
    });
    assert_eq!(Condensed::new(gates, 40, 40), condensed);
}
