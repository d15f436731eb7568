//! Patterns found again by their links.

use proptest::prelude::*;

use super::{Effort, FindError, LinkList, Nearest, Repeat, find};
use crate::pattern::{Cell, Link, PatternError, SizeSpec, craft};
use crate::solve::Patient;

/// A pattern of the craft with its pose forgotten.
pub(super) fn forgotten(name: &str) -> LinkList {
    let spec = craft::named(name).expect("known");
    LinkList {
        name: spec.name,
        title: spec.title,
        linking: spec.linking,
        sizes: spec.sizes,
        rings: spec.rings.iter().map(|ring| ring.size).collect(),
        links: spec.links,
        repeat: match spec.cell {
            Cell::Screw { twist_rad, twist_free, .. } => Repeat::Chain { twist_rad, twist_free },
            Cell::Lattice { .. } => Repeat::Sheet,
            _ => Repeat::Not,
        },
    }
}

#[test]
fn a_pattern_whose_pose_is_forgotten_is_found_again_by_its_links() {
    // Limits from solving the known poses; those of the first three are also the reference
    // collection's. Chains of the same links with other limits may be found beside them.
    for (name, limit) in [
        ("double_2in2", 2.62128),
        ("half_persian_3in1", 3.8928),
        ("two_row_european_6in1", 3.9360),
        ("three_stack_spiral_4in1", 2.7343),
        ("european_4in1_sheet", 2.98093),
        ("large_and_small", 4.0),
    ] {
        let effort = Effort { enough: 3, ..Effort::default() };
        let found = find(&forgotten(name), effort, &mut Patient).expect(name);
        let near = |ar: f64| (ar - limit).abs() < 1e-3 * limit;
        let limits: Vec<f64> = found.classes.iter().map(|c| c.aspect_ratio_min).collect();
        assert!(limits.iter().any(|&ar| near(ar)), "{name}: {limits:?}, known {limit}");
        assert!(limits.windows(2).all(|pair| pair[0] > pair[1]), "loosest-needed first");
        assert!(found.classes.iter().map(|class| class.times).sum::<u32>() <= found.met);
    }
}

#[test]
fn chains_that_chance_seldom_meets_are_found_from_symmetric_beginnings() {
    // Limits from solving the known poses; that of the Byzantine chain is also the reference
    // collection's. Few tries, so that the test is short; more are made by default.
    for (name, seed, tries, limit) in [
        ("byzantine", 1, 20, 3.2655),
        ("japanese_12in2", 1, 1, 4.75826),
        ("european_4in1_strip5", 1, 1, 2.98093),
        ("square_8in2_sheet", 3, 2, 4.01676),
    ] {
        let effort = Effort { tries, enough: 8, seed };
        let found = find(&forgotten(name), effort, &mut Patient).expect(name);
        let limits: Vec<f64> = found.classes.iter().map(|c| c.aspect_ratio_min).collect();
        let near = |ar: &f64| (ar - limit).abs() < 1e-3 * limit;
        assert!(limits.iter().any(near), "{name}: {limits:?}, known {limit}");
    }
}

#[test]
fn signs_left_open_find_every_chain_that_the_bare_links_allow() {
    let mut list = forgotten("spiral_4in1");
    for link in &mut list.links {
        link.sign = 0;
    }
    let found = find(&list, Effort { enough: 12, ..Effort::default() }, &mut Patient);
    let classes = found.expect("found").classes;
    let turning = |same: bool| {
        classes.iter().filter(move |class| {
            let links = &class.pattern.spec().links;
            (links[0].sign == links[1].sign) == same
        })
    };
    // The spiral and its locked sister; mirror images are not counted apart.
    assert!(turning(true).count() >= 1 && turning(false).count() >= 1, "{classes:?}");
    assert!(turning(false).any(|class| (class.aspect_ratio_min - 2.7343).abs() < 1e-3));
    assert!(classes.len() <= 4, "{}", classes.len());
}

#[test]
fn the_same_seed_finds_the_same() {
    let list = forgotten("half_persian_4in1");
    let run = || find(&list, Effort { tries: 8, enough: 4, seed: 5 }, &mut Patient);
    assert_eq!(run(), run());
}

#[test]
fn an_impossible_list_is_said_to_be_not_found() {
    // Twenty repeats on, at a quarter radius each, no ring reaches.
    let mut list = forgotten("cable_1in1");
    list.links[0].image = [20, 0];
    let effort = Effort { tries: 3, ..Effort::default() };
    let error = find(&list, effort, &mut Patient).expect_err("not found");
    let nearest = Nearest { lacking: vec![1], beyond: Vec::new() };
    assert_eq!(error, FindError::NotFound { tries: 3, nearest });
    assert!(error.to_string().contains("in 3 tries (the nearest lacks link 1);"), "{error}");
}

#[test]
fn a_link_too_many_and_one_too_few_are_named() {
    let nearest = |list: &LinkList| match find(
        list,
        Effort { tries: 12, enough: 1, seed: 1 },
        &mut Patient,
    ) {
        Err(FindError::NotFound { nearest, .. }) => nearest,
        other => panic!("{other:?}"),
    };
    // Nine repeats on, at a quarter radius each, no ring reaches.
    let mut list = forgotten("cable_1in1");
    list.links.push(Link { first: 0, second: 0, image: [9, 0], sign: 1 });
    assert_eq!(nearest(&list).lacking, [2]);
    // Each of a stack of rings through the one three before, but not through those between.
    list.links = vec![Link { first: 0, second: 0, image: [3, 0], sign: 1 }];
    list.repeat = Repeat::Chain { twist_rad: 0.0, twist_free: false };
    let found = nearest(&list);
    assert!(!found.lacking.is_empty() || !found.beyond.is_empty(), "{found:?}");
}

#[test]
fn a_list_that_falls_apart_is_refused() {
    let refused = |spoil: fn(&mut LinkList)| {
        let mut list = forgotten("double_2in2");
        spoil(&mut list);
        find(&list, Effort::default(), &mut Patient).expect_err("wrong")
    };
    assert_eq!(
        refused(|list| list.links.retain(|l| l.first == 0 && l.second == 0)),
        FindError::Pattern(PatternError::Loose { ring: 2 })
    );
    let apart = refused(|list| {
        list.links = vec![Link { first: 0, second: 1, image: [0, 0], sign: 1 }];
    });
    assert!(apart.to_string().contains("nothing links one repeat with the next"), "{apart}");
    assert_eq!(
        refused(|list| list.rings = vec![0; 13]),
        FindError::TooManyRings { rings: 13, most: 12 }
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]
    #[test]
    fn any_list_of_links_is_found_or_refused(
        sizes in proptest::collection::vec((0.05..20.0_f64, 0.05..20.0_f64), 0..3),
        rings in proptest::collection::vec(0_usize..3, 0..4),
        links in proptest::collection::vec((0_usize..4, 0_usize..4, -1..3, -1..2, -1_i8..2), 0..8),
        repeat in 0..3,
    ) {
        let mut all = vec![SizeSpec::MAIN];
        all.extend(sizes.into_iter().map(|(radius, wire)| SizeSpec { radius, wire }));
        let list = LinkList {
            name: "any".to_owned(),
            title: String::new(),
            linking: String::new(),
            sizes: all,
            rings,
            links: links
                .into_iter()
                .map(|(first, second, q, r, sign)| Link { first, second, image: [q, r], sign })
                .collect(),
            repeat: match repeat {
                0 => Repeat::Not,
                1 => Repeat::Sheet,
                _ => Repeat::Chain { twist_rad: 0.3, twist_free: true },
            },
        };
        let effort = Effort { tries: 1, enough: 1, seed: 1 };
        if let Ok(found) = find(&list, effort, &mut Patient) {
            prop_assert_eq!((found.met, found.classes.len()), (1, 1));
        }
    }
}
