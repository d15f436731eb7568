//! What must hold for any pattern: scaling, monotony, mirrors, labels, determinism, cancelling.

use linkwright_linkage::circle::{Circle, distance, linking_number};
use linkwright_linkage::pattern::{Cell, Link, Pattern, PatternSpec, SizeSpec, craft};
use linkwright_linkage::solve::{
    Halt, Patient, Pull, Search, Watch, Way, bent, room, taut, taut_from, thickest_wire,
};
use linkwright_linkage::vector::Vec3;
use proptest::prelude::*;

fn pattern(name: &str) -> Pattern {
    Pattern::new(craft::named(name).expect("known")).expect("valid")
}

fn thickest(pattern: &Pattern, starts: u32) -> f64 {
    let search = Search { starts, seed: 1 };
    thickest_wire(pattern, search, &mut Patient).expect("not stopped").room
}

fn longest(pattern: &Pattern, wire: f64, starts: u32) -> Option<f64> {
    let search = Search { starts, seed: 1 };
    let found = taut(pattern, wire, Pull::Along, search, &[], &mut Patient).expect("not stopped");
    found.map(|found| found.value)
}

fn mirrored(spec: &PatternSpec) -> PatternSpec {
    let mut mirrored = spec.clone();
    let flip = |v: Vec3| Vec3::new(-v.x, v.y, v.z);
    for ring in &mut mirrored.rings {
        ring.centre = flip(ring.centre);
        ring.normal = flip(ring.normal);
    }
    // A mirror turns every linking number round; mirrored normals keep both orientations reversed.
    for link in &mut mirrored.links {
        link.sign = -link.sign;
    }
    match &mut mirrored.cell {
        Cell::Screw { twist_rad, .. } => *twist_rad = -*twist_rad,
        Cell::Lattice { shear, .. } => *shear = -*shear,
        _ => {}
    }
    mirrored
}

/// The same chain with its rings counted backwards.
fn relabelled(spec: &PatternSpec) -> PatternSpec {
    let last = spec.rings.len() - 1;
    let mut relabelled = spec.clone();
    relabelled.rings.reverse();
    for link in &mut relabelled.links {
        link.first = last - link.first;
        link.second = last - link.second;
    }
    relabelled.links.reverse();
    relabelled
}

const CHAINS: [&str; 5] = [
    "double_2in2",
    "half_persian_3in1",
    "three_stack_spiral_4in1",
    "two_row_european_6in1",
    "full_persian_6in1",
];

#[test]
fn mirror_images_have_the_same_limit_and_length() {
    for name in CHAINS {
        let one = pattern(name);
        let other = Pattern::new(mirrored(one.spec())).expect("a mirror image stands as well");
        let (a, b) = (thickest(&one, 1), thickest(&other, 1));
        // Both climbs end when 20 steps gain less than 1e-9.
        assert!((a - b).abs() < 1e-6, "{name}: {a} {b}");
        let (a, b) = (longest(&one, 0.8 * a, 4), longest(&other, 0.8 * a, 4));
        let (a, b) = (a.expect("possible"), b.expect("possible"));
        assert!((a - b).abs() < 1e-3 * a, "{name}: {a} {b}, starts differ");
    }
}

#[test]
fn relabelling_rings_changes_nothing() {
    for name in CHAINS {
        let one = pattern(name);
        let other = Pattern::new(relabelled(one.spec())).expect("labels do not matter");
        let (a, b) = (thickest(&one, 1), thickest(&other, 1));
        assert!((a - b).abs() < 1e-6, "{name}: {a} {b}");
    }
}

#[test]
fn thinner_wire_is_never_shorter_and_thicker_than_the_limit_is_refused() {
    for name in CHAINS {
        let pattern = pattern(name);
        let most = thickest(&pattern, 2);
        assert_eq!(longest(&pattern, most * 1.001, 2), None, "{name}");
        let mut before = 0.0;
        for share in [0.999, 0.95, 0.9, 0.8] {
            let length = longest(&pattern, most * share, 6).expect("below the limit");
            // A search may miss the longest by a little.
            assert!(length > before * (1.0 - 2e-3), "{name} at {share}: {length} < {before}");
            before = length;
        }
    }
}

#[test]
fn a_longer_cell_is_never_worse() {
    for name in ["double_2in2", "two_row_european_6in1"] {
        let one = pattern(name);
        let two = Pattern::new(one.repeated(2)).expect("two cells stand as well");
        let (a, b) = (thickest(&one, 1), thickest(&two, 1));
        // Every pose of one cell is a pose of two. The two-row strip even gains: its rings then take
        // turns (0.4149 against 0.4052).
        assert!(b > a - 1e-5, "{name}: {a} {b}");
    }
}

#[test]
fn the_same_seed_gives_the_same_answer_to_the_last_bit() {
    let pattern = pattern("half_persian_4in1");
    let search = Search { starts: 4, seed: 7 };
    let run = || taut(&pattern, 0.3, Pull::Along, search, &[], &mut Patient);
    assert_eq!(run(), run());
}

#[test]
fn a_watch_stops_the_solve_and_hears_of_every_start() {
    struct Impatient {
        ticks: u32,
        heard: u32,
    }
    impl Watch for Impatient {
        fn tick(&mut self) -> Result<(), Halt> {
            self.ticks += 1;
            if self.heard == 3 { Err(Halt::Cancelled) } else { Ok(()) }
        }
        fn started(&mut self, index: u32, of: u32) {
            assert!(index < of);
            self.heard += 1;
        }
    }
    let mut watch = Impatient { ticks: 0, heard: 0 };
    let search = Search { starts: 12, seed: 1 };
    let answer = thickest_wire(&pattern("cable_1in1"), search, &mut watch);
    assert_eq!(answer, Err(Halt::Cancelled));
    assert_eq!(watch.heard, 3);
    assert!(watch.ticks > 10);
}

#[test]
fn room_scales_as_a_length() {
    for spec in craft::all() {
        let pattern = Pattern::new(spec).expect("valid");
        let (one, three) = (room(pattern.start()), room(&pattern.start().scaled(3.0)));
        assert!((three - 3.0 * one).abs() < 1e-12, "{}", pattern.name());
    }
}

#[test]
fn lengths_and_bends_scale_with_the_ring() {
    for name in ["double_2in2", "half_persian_3in1", "european_4in1_sheet"] {
        let start = pattern(name).start().clone();
        let solve = |factor: f64| {
            let found = taut_from(&start.scaled(factor), 0.3 * factor, Pull::Along, &mut Patient);
            found.expect("not stopped").expect("possible").value
        };
        // Boxes and stops are shares of the radius, so that only rounding differs.
        let (one, seven) = (solve(1.0), solve(7.0));
        assert!((seven - 7.0 * one).abs() < 1e-5 * seven, "{name}: {one} {seven}");
    }
}

/// Fewest links that lead from some ring to its copy one cell on.
fn fewest_hops(spec: &PatternSpec) -> usize {
    let rings = spec.rings.len();
    let starts = 0..rings;
    let from = |start: usize| {
        let mut reached = vec![(start, 0_i32)];
        let mut hops = 0;
        while !reached.contains(&(start, 1)) {
            let mut next = reached.clone();
            for &(ring, cell) in &reached {
                for link in &spec.links {
                    let on = [
                        (link.first, link.second, link.image[0]),
                        (link.second, link.first, -link.image[0]),
                    ];
                    next.extend(
                        on.iter().filter(|step| step.0 == ring).map(|step| (step.1, cell + step.2)),
                    );
                }
            }
            next.sort_unstable();
            next.dedup();
            next.retain(|place| place.1.abs() < 9);
            reached = next;
            hops += 1;
        }
        hops
    };
    starts.map(from).min().expect("a ring")
}

#[test]
fn no_chain_is_longer_than_its_hops() {
    for spec in craft::all() {
        if spec.sizes.len() > 1 || !matches!(spec.cell, Cell::Screw { .. }) {
            continue;
        }
        let pattern = Pattern::new(spec).expect("valid");
        let wire = 0.7 * thickest(&pattern, 1);
        let length = longest(&pattern, wire, 2).expect("possible");
        // Centres of linked rings are at most an inside diameter apart.
        let most = (2.0 - wire) * fewest_hops(pattern.spec()) as f64;
        assert!(length < most * (1.0 + 1e-6), "{}: {length} over {most}", pattern.name());
    }
}

#[test]
fn a_bend_is_the_same_for_the_same_seed_and_can_be_stopped() {
    let (strip, search) = (pattern("european_4in1_strip3"), Search { starts: 3, seed: 5 });
    let run = || bent(&strip, 0.4, Way::Edgewise, search, &mut Patient);
    assert_eq!(run(), run());
    struct Busy(u32);
    impl Watch for Busy {
        fn tick(&mut self) -> Result<(), Halt> {
            self.0 += 1;
            if self.0 > 40 { Err(Halt::Cancelled) } else { Ok(()) }
        }
    }
    let stopped = bent(&strip, 0.4, Way::Edgewise, search, &mut Busy(0));
    assert_eq!(stopped, Err(Halt::Cancelled));
}

#[test]
fn a_strip_on_edge_does_not_roll_over_onto_its_face() {
    for name in ["european_4in1_strip3", "half_persian_3in1"] {
        let pattern = pattern(name);
        let wire = 0.85 * thickest(&pattern, 1);
        let turn = |way: Way| {
            let search = Search { starts: 6, seed: 1 };
            let bent = bent(&pattern, wire, way, search, &mut Patient);
            bent.expect("not stopped").expect("a chain").found.value
        };
        let (face, edge) = (turn(Way::OverFace), turn(Way::Edgewise));
        assert!(edge < 0.75 * face, "{name}: {edge} on edge, {face} over the face");
    }
}

#[test]
fn thinner_wire_bends_tighter_and_a_sheet_is_not_bent() {
    let strip = pattern("european_4in1_strip3");
    let turn = |wire: f64| {
        let search = Search { starts: 2, seed: 1 };
        let bent = bent(&strip, wire, Way::OverFace, search, &mut Patient);
        bent.expect("not stopped").expect("a chain").found.value
    };
    let turns = [0.49, 0.45, 0.42].map(turn);
    assert!(turns[0] < turns[1] && turns[1] < turns[2], "{turns:?}");
    let sheet = pattern("european_4in1_sheet");
    let search = Search { starts: 1, seed: 1 };
    assert_eq!(bent(&sheet, 0.4, Way::OverFace, search, &mut Patient), Ok(None));
}

#[test]
fn a_wrong_description_is_refused_with_what_is_wrong() {
    let good = || craft::named("double_2in2").expect("known");
    let refused = |spec: PatternSpec| Pattern::new(spec).expect_err("wrong").to_string();
    type Spoil = fn(&mut PatternSpec);
    let cases: [(Spoil, &str); 11] = [
        (|s| s.rings.clear(), "between 1 and 60 rings; this one has 0"),
        (|s| s.sizes[0].radius = 2.0, "size 1 has radius 2"),
        (|s| s.rings[1].size = 3, "ring 2 has size 4, but only 1 sizes are listed"),
        (|s| s.rings[1].normal = Vec3::ZERO, "ring 2 has no usable place"),
        (|s| s.rings[0].centre.x = f64::NAN, "ring 1 has no usable place"),
        (|s| s.links[2].second = 9, "link 3 names ring 10, but the cell has 2 rings"),
        (|s| s.links[3].image = [1, 1], "link 4 goes to copy [1, 1]"),
        (|s| s.links[1] = s.links[0], "link 2 says the same as link 1"),
        (|s| s.links[1].sign = 0, "link 2 has sign 0"),
        (|s| s.rings[1].centre = s.rings[0].centre, "of the main radius apart"),
        (|s| s.links.truncate(3), "are linked in the start pose (sign -1) but not listed"),
    ];
    for (spoil, says) in cases {
        let mut spec = good();
        spoil(&mut spec);
        let message = refused(spec);
        assert!(message.contains(says), "{message}");
    }
    let mut spec = good();
    spec.links.push(Link { first: 0, second: 1, image: [2, 0], sign: 1 });
    assert!(refused(spec).contains("said to be linked with sign +1, but the start pose has +0"));
    let mut spec = good();
    spec.cell = Cell::Screw { period: 0.0, twist_rad: 0.0, twist_free: false };
    assert!(refused(spec).contains("does not repeat"));
}

#[test]
fn two_sizes_of_any_ratio_solve_cold_to_the_closed_form() {
    // Large and small rings one by one: `ID_a + ID_b` per two rings, by the hop bound, which is reached.
    let pattern = pattern("large_and_small");
    for radius in [0.12, 0.45, 2.5, 6.0] {
        for wire_share in [1.0, 0.6] {
            let sizes = [SizeSpec::MAIN, SizeSpec { radius, wire: wire_share }];
            let sized = pattern.with_sizes(&sizes).expect("stands with any ratio");
            // Thin enough for either ring.
            let wire = 0.3 * radius.min(1.0);
            let hop = 2.0 + 2.0 * radius - wire * (1.0 + wire_share);
            let length = longest(&sized, wire, 3).expect("possible");
            assert!((length - hop).abs() < 1e-4 * hop, "{radius} {wire_share}: {length}, {hop}");
        }
    }
}

#[test]
fn sizes_reached_by_steps_keep_every_link() {
    for (name, radius) in [
        ("large_and_small_pairs", 0.2),
        ("square_8in2_sheet", 0.35),
        ("japanese_12in2", 0.4),
        ("triangular_6in1_sheet", 1.4),
    ] {
        let pattern = pattern(name);
        let sizes = [SizeSpec::MAIN, SizeSpec { radius, wire: 1.0 }];
        let sized = pattern.with_sizes(&sizes).unwrap_or_else(|error| panic!("{name}: {error}"));
        assert_eq!(sized.spec().links, pattern.spec().links, "{name}");
        assert!(room(sized.start()) > 0.01, "{name}: {}", room(sized.start()));
    }
}

fn circles() -> impl Strategy<Value = (Circle, Circle)> {
    let vector = || (-1.0..1.0, -1.0..1.0, -1.0..1.0).prop_map(|(x, y, z)| Vec3::new(x, y, z));
    let circle = move || {
        (vector(), vector(), 0.3..2.0).prop_filter_map("a normal", |(centre, normal, radius)| {
            let normal = normal.unit()?;
            Some(Circle { centre, normal, radius })
        })
    };
    (circle(), circle())
}

proptest! {
    #[test]
    fn distance_is_the_same_from_either_circle((first, second) in circles()) {
        // Both walks refine the same minimum to rounding.
        prop_assert!((distance(first, second) - distance(second, first)).abs() < 1e-9);
    }

    #[test]
    fn a_small_ring_is_not_missed_beside_a_large_one(
        (first, second) in circles(), ratio in 3.0..40.0,
    ) {
        let large = Circle { radius: ratio * first.radius, centre: first.centre * ratio, ..first };
        // Circle 2 at the wire of the large one, where a coarse walk would step over it.
        let [out, _] = large.normal.frame();
        let near = Circle { centre: large.centre + out * large.radius + second.centre, ..second };
        let least = (0..4000).map(|i| {
            let (sin, cos) = (f64::from(i) * std::f64::consts::TAU / 4000.0).sin_cos();
            let [p, q] = near.normal.frame();
            let w = near.centre + (p * cos + q * sin) * near.radius - large.centre;
            let h = w.dot(large.normal);
            let rho = (w.dot(w) - h * h).max(0.0).sqrt();
            h.hypot(rho - large.radius)
        });
        let least = least.fold(f64::INFINITY, f64::min);
        let found = distance(large, near);
        // The dense walk is a twelve-hundredth of the radius off its minimum at most.
        prop_assert!(found <= least + 1e-12 && found > least - 2e-3 * near.radius, "{} {}", found, least);
    }

    #[test]
    fn linking_is_the_same_from_either_circle((first, second) in circles()) {
        prop_assume!(distance(first, second) > 1e-6);
        prop_assert_eq!(linking_number(first, second), linking_number(second, first));
    }
}
