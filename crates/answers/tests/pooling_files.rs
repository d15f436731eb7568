//! The files of docs/pooling-file.md: read, written back, and refused by field, value and limits.

use linkwright_answers::chart::read_trials;
use linkwright_answers::pool::{
    PoolFileError, PortablePrior, condense, read_prior, read_workshop, write_prior, write_workshop,
};
use linkwright_calc::metal::Catalogue;
use linkwright_trials::{GATES, Gate, Pool, Term, TrialRow};
use serde_json::{Value, json};

/// The first and the second block of JSON in the document.
fn examples() -> [Value; 2] {
    let page = include_str!("../../../docs/pooling-file.md");
    let mut blocks = page.split("```json").skip(1).filter_map(|block| block.split("```").next());
    [(); 2].map(|()| serde_json::from_str(blocks.next().expect("a block")).expect("JSON"))
}

fn bytes(value: &Value) -> Vec<u8> {
    value.to_string().into_bytes()
}

/// Sixty coils of an invented workshop.
fn trials() -> Vec<TrialRow> {
    let table = include_str!("../../trials/tests/references/data/trials_example.csv");
    read_trials("trials.csv", table, &Catalogue::built_in()).expect("trials")
}

fn refused(pointer: &str, put: Value) -> String {
    let [mut example, _] = examples();
    *example.pointer_mut(pointer).expect("there") = put;
    read_workshop(&bytes(&example)).expect_err(pointer).to_string()
}

#[test]
fn the_examples_of_the_document_are_read_and_written_back() {
    let [workshop, prior] = examples();
    let condensed = read_workshop(&bytes(&workshop)).expect("read");
    assert_eq!((condensed.trials(), condensed.cells()), (24, 9));
    let severed = condensed.gate(Gate::Severed);
    assert_eq!(severed.terms(), [Term::Intercept, Term::Sever(0), Term::Smooth(0)]);
    let written: Value = serde_json::from_str(&write_workshop(&condensed)).expect("JSON");
    assert_eq!(written, workshop);
    let portable = read_prior(&bytes(&prior)).expect("read");
    assert_eq!((portable.workshops, portable.trials), (3, 310));
    let intercept = portable.prior.term(Gate::Kept, &Term::Intercept).expect("there");
    assert_eq!((intercept.mean(), intercept.sd(0.5)), (2.25, 1.0));
    let written: Value = serde_json::from_str(&write_prior(&portable)).expect("JSON");
    assert_eq!(written, prior);
}

#[test]
fn a_workshop_comes_back_from_its_file_and_makes_the_same_prior() {
    let condensed = condense(&trials());
    let back = read_workshop(write_workshop(&condensed).as_bytes()).expect("read");
    let of = |workshop| {
        let mut pool = Pool::default();
        pool.add(workshop);
        PortablePrior::of(&pool)
    };
    let (one, other) = (of(condensed), of(back));
    let back = read_prior(write_prior(&one).as_bytes()).expect("read");
    for gate in GATES {
        for (term, prior) in &one.prior.gates[gate.index()].learned {
            for portable in [&other, &back] {
                let read = portable.prior.term(gate, term).expect("there");
                // Numbers in a file are read to the last digit or next to it.
                assert!((read.mean() - prior.mean()).abs() < 1e-9, "{gate:?} {term:?}");
                assert!((read.sd(0.5) - prior.sd(0.5)).abs() < 1e-9, "{gate:?} {term:?}");
            }
        }
    }
    assert_eq!((other.workshops, other.trials), (1, 60));
}

#[test]
fn a_condensed_file_names_metals_by_key_and_no_blade_or_operator() {
    let file = write_workshop(&condense(&trials()));
    assert!(file.contains("\"metal:ss_304\"") && file.contains("\"metal:copper_c110\""));
    let table = include_str!("../../trials/tests/references/data/trials_example.csv");
    for name in ["B1", "op0", "op1", "steel304"] {
        assert!(table.contains(name) && !file.contains(name), "{name}");
    }
}

#[test]
fn an_alloy_of_ones_own_is_not_named() {
    let table = "\
wire_mm,mandrel_mm,blade,blade_dia_mm,blade_kerf_mm,blade_teeth,metal,temper,taped,lube,operator,yield_mpa,\
turns,axis_height_mm,entry_lost,stop_lost,crushed,uncut,deformed,good
1.02,4,small,31.75,0.2,160,Rosalinds Gold,annealed,1,1,,200,63,14.35,1,1,0,2,0,59
";
    let trials = read_trials("trials.csv", table, &Catalogue::built_in()).expect("trials");
    let file = write_workshop(&condense(&trials));
    assert!(!file.contains("metal:") && !file.contains("Rosalind"), "{file}");
}

#[test]
fn a_bad_file_is_refused_by_field_value_and_limits() {
    for (pointer, put, said) in [
        ("/trials", json!(0), "trials is 0; it must be between 1 and 10000000"),
        ("/cells", json!(25), "cells is 25; it must be between 1 and 24"),
        ("/trials", json!("many"), "trials is \"many\"; it must be a whole number"),
        (
            "/gates/kept/pull/1",
            json!(1e13),
            "gates.kept.pull[1] is 10000000000000; it must be between",
        ),
        ("/gates/kept/pull/1", json!(null), "gates.kept.pull[1] is null; it must be a number"),
        (
            "/gates/kept/ln_scatter/sd",
            json!(-1.0),
            "gates.kept.ln_scatter.sd is -1; it must be between 0 and 10",
        ),
        (
            "/gates/kept/terms/1",
            json!("sever_9"),
            "gates.kept.terms[1] is \"sever_9\"; it must be the name",
        ),
        (
            "/gates/kept/terms/1",
            json!("far_1"),
            "gates.kept: term 1 of the condensed file is not one",
        ),
        (
            "/gates/kept/terms/1",
            json!("intercept"),
            "gates.kept: term 1 of the condensed file comes twice",
        ),
        (
            "/gates/kept/information/1",
            json!(50.0),
            "gates.kept: the condensed file's numbers cannot",
        ),
        (
            "/gates/kept/information",
            json!([1.0]),
            "gates.kept: the condensed file holds 1 numbers where its terms need 3",
        ),
        ("/gates/kept", json!([]), "gates.kept is []; it must be an object"),
    ] {
        let found = refused(pointer, put);
        assert!(found.starts_with(said), "{pointer}: {found}");
    }
    let [mut example, _] = examples();
    example["owner"] = json!("Rosalind");
    let found = read_workshop(&bytes(&example)).expect_err("a stranger");
    assert!(found.to_string().starts_with("owner does not belong into this file"), "{found}");
    example.as_object_mut().expect("an object").remove("owner");
    example["gates"].as_object_mut().expect("an object").remove("round");
    let found = read_workshop(&bytes(&example)).expect_err("a gate is gone");
    assert_eq!(found.to_string(), "gates.round is missing");
}

#[test]
fn a_file_of_another_kind_or_a_newer_version_is_told_apart() {
    let [workshop, prior] = examples();
    let found = read_workshop(&bytes(&prior)).expect_err("a prior");
    assert_eq!(found.field(), "format");
    assert!(matches!(read_prior(&bytes(&workshop)), Err(PoolFileError::OtherFormat { .. })));
    let found = refused("/version", json!(2));
    assert!(found.contains("a newer linkwright wrote this file"), "{found}");
    assert_eq!(read_workshop(b"{\n}}"), Err(PoolFileError::NotJson { line: 2, column: 2 }));
    let long = vec![b' '; 3 * 1024 * 1024];
    assert!(matches!(read_workshop(&long), Err(PoolFileError::TooLarge { .. })));
}

#[test]
fn a_prior_is_refused_by_field_too() {
    let refused = |pointer: &str, put: Value| {
        let [_, mut example] = examples();
        *example.pointer_mut(pointer).expect("there") = put;
        read_prior(&bytes(&example)).expect_err(pointer).to_string()
    };
    for (pointer, put, said) in [
        (
            "/gates/kept/terms/0/sd",
            json!(0.0),
            "gates.kept.terms[0].sd is 0; it must be between 0.000001",
        ),
        (
            "/gates/kept/terms/0/term",
            json!("far_1"),
            "gates.kept.terms[0].term is \"far_1\"; it must be a term of this gate",
        ),
        (
            "/gates/kept/terms/1/term",
            json!("tape"),
            "gates.kept.terms[1].sd_per_departure does not belong",
        ),
        ("/gates/kept/ln_scatter/sd", json!(0.0), "gates.kept.ln_scatter.sd is 0"),
        ("/workshops", json!(-1), "workshops is -1; it must be a whole number"),
    ] {
        let found = refused(pointer, put);
        assert!(found.starts_with(said), "{pointer}: {found}");
    }
    let [_, mut example] = examples();
    let twice = example["gates"]["kept"]["terms"][0].clone();
    example["gates"]["kept"]["terms"].as_array_mut().expect("a list").push(twice);
    let found = read_prior(&bytes(&example)).expect_err("twice").to_string();
    assert!(found.contains("a term that did not come before"), "{found}");
}
