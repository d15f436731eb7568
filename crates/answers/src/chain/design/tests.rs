//! The search over an invented workshop of three wires and many rods, read from a file.

use std::collections::BTreeMap;
use std::f64::consts::PI;
use std::fs;
use std::sync::LazyLock;

use linkwright_calc::coil::GoodRings;
use linkwright_calc::metal::Catalogue;
use linkwright_calc::money::Currency;
use linkwright_calc::plan::{Item, OrderLine, RingWanted, Spare, Workshop, plan_line};
use linkwright_calc::quantity::{Length, Mass};
use linkwright_linkage::answer::{Correction, Reading};
use linkwright_linkage::pattern::Kind;
use proptest::prelude::{any, prop_assert, prop_assert_eq, proptest};

use super::{Aim, Design, DesignWanted, OwnRings, ReadFrom, Repertoire, design};
use crate::chain::OwnKnown;
use crate::files::load::load_workshop;

/// The example bench with more rods, and with thin and unpriced wire beside its reel.
fn workshop() -> (Workshop, Catalogue) {
    let example = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/bench.toml");
    let mut text = fs::read_to_string(example).expect("the example bench");
    for tenths in [25, 30, 50, 55, 60, 70, 80, 100, 120, 140] {
        let mm = f64::from(tenths) / 10.0;
        text += &format!("\n[[rod]]\nname = \"{mm}\"\ndiameter = \"{mm} mm\"\n");
    }
    for (name, metal, size, price) in [
        ("silver reel 8", "sterling", "0.81 mm", "price = \"1.12 EUR per g\""),
        ("copper", "copper", "1.29 mm", ""),
    ] {
        text += &format!(
            "\n[[wire]]\nname = \"{name}\"\nmetal = \"{metal}\"\ntemper = \"soft\"\n\
             diameter = \"{size}\"\nlength = \"9 m\"\n{price}\n"
        );
    }
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("shelf.toml");
    fs::write(&path, text).expect("written");
    load_workshop(&path).expect("a workshop")
}

fn shelf() -> OwnRings {
    let (workshop, metals) = workshop();
    OwnRings::of(&workshop, &metals)
}

static SHELF: LazyLock<Repertoire> = LazyLock::new(|| Repertoire::of(shelf(), BTreeMap::new()));

/// All there is of a kind.
static ALL: LazyLock<[Vec<Design>; 2]> =
    LazyLock::new(|| [Kind::Chain, Kind::Sheet].map(|kind| found(&anyhow(kind))));

fn found(wanted: &DesignWanted) -> Vec<Design> {
    design(wanted, &SHELF, usize::MAX).found
}

/// A question that takes loose chains too.
fn anyhow(kind: Kind) -> DesignWanted {
    DesignWanted { loose: true, ..DesignWanted::any(kind) }
}

fn named(name: &str, kind: Kind) -> DesignWanted {
    DesignWanted { patterns: vec![name.to_owned()], ..anyhow(kind) }
}

fn euro() -> Currency {
    Currency::from_code("EUR").expect("known")
}

/// Half a nanometre or a nanogram: rounding.
const ROUNDING: f64 = 1e-9;

#[test]
fn a_cable_chain_advances_by_its_inside_diameter_and_weighs_its_tori() {
    let chains = found(&named("cable_1in1", Kind::Chain));
    assert!(chains.len() > 20, "{}", chains.len());
    for chain in &chains {
        let main = chain.main();
        let (d, inside) = (main.ring.wire().diameter().mm(), main.ring.closed_inside().mm());
        // Chain.md, section 7: the pitch is the inside diameter.
        assert!((chain.gives.advance.mm() - inside).abs() < 1e-4 * inside, "{chain:?}");
        // Pappus: a torus holds pi d^2/4 times pi (ID + d).
        let torus_g = main.density.value.g_cm3() * 1e-3 * PI * PI / 4.0 * d * d * (inside + d);
        let by_hand = torus_g * 10.0 / inside;
        assert!((chain.gives.mass.g() - by_hand).abs() < 2e-4 * by_hand, "{chain:?}");
    }
    // Rods of 14 mm in wire of 0.81 mm lie beyond the table; a cable chain is told all the same.
    assert!(chains.iter().any(|chain| chain.gives.read == ReadFrom::ClosedForm));
}

#[test]
fn two_ring_sizes_come_from_rods_and_lots_of_one_metal() {
    let chains = found(&named("large_and_small", Kind::Chain));
    assert!(!chains.is_empty());
    for chain in &chains {
        let [large, small] = &chain.rings[..] else { panic!("two sizes: {chain:?}") };
        assert_eq!(large.ring.metal, small.ring.metal);
        let inside = |part: &super::PartRing| part.ring.ring.closed_inside().mm();
        // Hop bound, chain.md, section 7: a cell is as long as both inside diameters.
        let cell = inside(large) + inside(small);
        assert!((chain.gives.advance.mm() - cell).abs() < ROUNDING, "{chain:?}");
        let mass_g: f64 = chain
            .rings
            .iter()
            .map(|part| part.ring.ring.as_closed().mass(part.ring.density.value).g())
            .sum();
        assert!((chain.gives.mass.g() - mass_g * 10.0 / cell).abs() < ROUNDING, "{chain:?}");
    }
    let graduated = found(&named("graduated_cable", Kind::Chain));
    assert!(!graduated.is_empty(), "four sizes off the rods of this bench");
    for chain in &graduated {
        let sizes: Vec<f64> =
            chain.rings.iter().map(|part| part.ring.ring.closed_inside().mm()).collect();
        assert!(sizes.windows(2).all(|pair| pair[1] < pair[0] + 0.5), "{sizes:?}");
    }
}

#[test]
fn sheets_are_told_by_area_and_chains_by_length() {
    let sheets = found(&anyhow(Kind::Sheet));
    let names: std::collections::BTreeSet<&str> =
        sheets.iter().map(|sheet| sheet.pattern.as_str()).collect();
    assert!(
        names.contains("european_4in1_sheet") && names.contains("square_4in1_sheet"),
        "{names:?}"
    );
    for sheet in &sheets {
        assert!(sheet.kind == Kind::Sheet && sheet.gives.width.is_none());
        let across = sheet.gives.across.expect("a sheet").mm();
        let per_cell: usize = sheet.rings.iter().map(|part| part.per_cell).sum();
        let by_hand = per_cell as f64 * 100.0 / (across * sheet.gives.advance.mm());
        assert!((sheet.gives.rings - by_hand).abs() < ROUNDING * by_hand);
    }
    assert!(found(&anyhow(Kind::Chain)).iter().all(|chain| chain.gives.across.is_none()));
}

#[test]
fn what_is_left_out_is_counted_and_told() {
    let all = design(&anyhow(Kind::Chain), &SHELF, 0);
    let out = &all.left_out;
    assert!(out.too_small > 0 && out.beyond_table > 0 && out.unpriced == 0, "{out:?}");
    // Every ring with every pattern is either looked at or counted as left out; a ring may be looked at
    // with several smaller ones.
    let one_size = ["cable_1in1", "double_2in2", "byzantine"];
    let wanted =
        DesignWanted { patterns: one_size.map(str::to_owned).to_vec(), ..anyhow(Kind::Chain) };
    let some = design(&wanted, &SHELF, 0);
    let out = &some.left_out;
    let sum = some.looked_at + out.too_small + out.beyond_table + out.unpriced;
    assert_eq!(sum, one_size.len() * SHELF.rings().count());
    assert!(out.sentences().iter().any(|said| said.contains("larger than 12 of its wires")));
    // The copper has no price, none is in dollars.
    let in_euro = DesignWanted { cost: Some((50.0, euro())), ..wanted.clone() };
    let out = design(&in_euro, &SHELF, 9).left_out;
    assert!(
        out.unpriced > 0 && out.sentences().iter().any(|said| said.contains("in EUR")),
        "{out:?}"
    );
    let dollar = Currency::from_code("USD").expect("known");
    let in_dollar = DesignWanted { cost: Some((50.0, dollar)), ..wanted };
    assert_eq!(design(&in_dollar, &SHELF, 9).looked_at, 0);
}

#[test]
fn patterns_of_ones_own_are_counted_as_left_out() {
    let own = |name: &str| OwnKnown {
        called: name.to_owned(),
        found: Ok((crate::chain::find(name).expect("known"), None)),
    };
    let broken = OwnKnown { called: "broken".to_owned(), found: Err("no rings".to_owned()) };
    let repertoire = Repertoire::of(shelf(), BTreeMap::new()).beside(&[
        own("box"),
        own("square_4in1_sheet"),
        broken,
    ]);
    let out = design(&anyhow(Kind::Chain), &repertoire, 0).left_out;
    assert_eq!(out.own_patterns, 1);
    assert!(out.sentences().iter().any(|said| said.starts_with("1 pattern of your own")));
    // Whoever names a pattern asked for no other.
    assert_eq!(design(&named("box", Kind::Chain), &repertoire, 0).left_out.own_patterns, 0);
}

#[test]
fn loose_chains_are_left_out_unless_they_are_asked_for() {
    let close = DesignWanted { loose: false, ..named("cable_1in1", Kind::Chain) };
    let some = design(&close, &SHELF, usize::MAX);
    let all = design(&named("cable_1in1", Kind::Chain), &SHELF, usize::MAX);
    assert!(some.left_out.loose > 0 && all.left_out.loose == 0);
    assert_eq!(some.found.len() + some.left_out.loose, all.found.len());
    let ratio = |design: &Design| design.main().ring.as_closed().aspect_ratio();
    // Twice the smallest, which is 2, and one.
    assert!(some.found.iter().all(|design| ratio(design) <= 5.0 + 1e-5 && !design.loose));
    assert_eq!(all.found.iter().filter(|design| design.loose).count(), some.left_out.loose);
}

#[test]
fn a_metal_keeps_to_its_wire_and_the_rods_next_up_and_down_to_their_order() {
    let wanted = DesignWanted {
        width: Some(Length::from_mm(9.0)),
        metal: Some("copper_c110".to_owned()),
        ..anyhow(Kind::Chain)
    };
    let chains = found(&wanted);
    assert!(!chains.is_empty());
    for chain in &chains {
        assert!(chain.rings.iter().all(|part| part.ring.metal == "copper_c110"), "{chain:?}");
        let rod = chain.main().rod_diameter.mm();
        let [up, down] = &chain.next;
        assert!(up.as_ref().is_none_or(|next| next.ring.rod_diameter.mm() > rod));
        assert!(down.as_ref().is_none_or(|next| next.ring.rod_diameter.mm() < rod));
    }
}

#[test]
fn measured_pieces_correct_the_length_and_with_it_mass_and_count() {
    let plain = found(&named("byzantine", Kind::Chain));
    let taught = Correction::from_readings(&[Reading { ratio: 0.97, spread: 0.001 }; 9]);
    let corrections = BTreeMap::from([("byzantine".to_owned(), taught)]);
    let wanted = named("byzantine", Kind::Chain);
    let corrected = design(&wanted, &Repertoire::of(shelf(), corrections), usize::MAX).found;
    assert_eq!(plain.len(), corrected.len());
    for (plain, corrected) in plain.iter().zip(&corrected) {
        let ratio = corrected.gives.advance.mm() / plain.gives.advance.mm();
        assert!((ratio - taught.ratio).abs() < ROUNDING && corrected.gives.pieces == 9);
        let heavier = corrected.gives.mass.g() / plain.gives.mass.g();
        assert!((heavier * taught.ratio - 1.0).abs() < ROUNDING, "{heavier}");
        assert!(corrected.count_basis().to_string().contains("measured"));
    }
}

#[test]
fn each_ring_is_that_of_a_run_sheet_for_its_rod_and_lot() {
    let (workshop, metals) = workshop();
    let own = OwnRings::of(&workshop, &metals);
    assert_eq!(own.count() + own.no_ring.len(), workshop.rods.len() * workshop.wire.len());
    for (stocked, rings) in workshop.wire.iter().zip(&own.lots) {
        for own in rings {
            let line = OrderLine {
                name: "one".to_owned(),
                item: Item::Rings { count: GoodRings::new(1) },
                metal: stocked.lot.metal.key().to_string(),
                temper: stocked.lot.temper.name().to_string(),
                wire_typed: stocked.name.clone(),
                wire: stocked.lot.marked,
                ring: RingWanted::OnRod { rod: own.rod_diameter },
                spare: Spare::Rings(0),
                linked: None,
            };
            let sheets = plan_line(&line, &workshop, &metals, None).expect("planned");
            assert_eq!(sheets[0].ring.ring.closed_inside(), own.ring.closed_inside(), "{own:?}");
            assert_eq!(sheets[0].lot.as_deref(), Some(own.lot.as_str()));
        }
    }
}

#[test]
fn the_ring_tried_on_a_rod_says_so_and_every_number_has_its_sum() {
    let chains = found(&named("cable_1in1", Kind::Chain));
    let tried = |chain: &&Design| chain.main().open_inside.basis.word() == "tried";
    // Reel 7 was tried on the rod of 4.0 mm.
    let chain = chains.iter().find(tried).expect("one was tried");
    assert_eq!((chain.main().lot.as_str(), chain.main().rod.as_str()), ("silver reel 7", "4.0"));
    assert_eq!(chains.iter().filter(tried).count(), 1);
    for basis in [chain.main().closed_basis(), chain.mass_basis(), chain.across_basis()] {
        assert_eq!(basis.word(), "worked out");
    }
    let cost = chain.cost_basis().expect("a price");
    assert!(format!("{cost:?}").contains("2026-11-02"), "{cost:?}");
}

proptest! {
    #[test]
    fn the_nearest_stands_first(mm in 1.5..20.0, g in 0.05..4.0, sheet in any::<bool>()) {
        let kind = if sheet { Kind::Sheet } else { Kind::Chain };
        let wanted = DesignWanted {
            thickness: Some(Length::from_mm(mm)),
            mass: Some(Mass::from_g(g)),
            ..anyhow(kind)
        };
        let all = design(&wanted, &SHELF, 30).found;
        prop_assert_eq!(all.len(), 30);
        prop_assert!(all.windows(2).all(|pair| pair[0].off <= pair[1].off));
        for design in &all {
            let apart = |given: f64, wanted: f64| (given - wanted).abs() / wanted;
            let by_hand = apart(design.gives.thickness.mm(), mm).max(apart(design.gives.mass.g(), g));
            prop_assert!((design.off - by_hand).abs() < ROUNDING, "{} {by_hand}", design.off);
        }
        // As many as asked for, and the same ones.
        let few = design(&wanted, &SHELF, 3).found;
        prop_assert_eq!(&few[..], &all[..3]);
    }

    #[test]
    fn asking_for_exactly_what_an_answer_gives_returns_it_first(
        pick in 0_usize..10_000, sheet in any::<bool>(), with_cost in any::<bool>(),
    ) {
        let kind = if sheet { Kind::Sheet } else { Kind::Chain };
        let all = &ALL[usize::from(sheet)];
        let one = &all[pick % all.len()];
        let wanted = DesignWanted {
            width: one.gives.width,
            thickness: Some(one.gives.thickness),
            mass: Some(one.gives.mass),
            cost: one.gives.cost.filter(|_| with_cost),
            ..anyhow(kind)
        };
        let first = &design(&wanted, &SHELF, 1).found[0];
        prop_assert!(first.off <= 0.0, "{}", first.off);
        // The same, or one that gives the very same.
        prop_assert_eq!((first.gives.mass, first.gives.thickness), (one.gives.mass, one.gives.thickness));
        prop_assert!(first.misses.iter().any(|miss| miss.aim == Aim::Mass));
    }
}
