//! Patterns of several ring sizes, by closed form, for rings of any sizes and wires that go together.

use std::f64::consts::{PI, TAU};

use super::Measures;
use crate::answer::ClosedRing;
use crate::circle::Circle;
use crate::extent::extent;
use crate::pattern::{Cell, Pattern, craft};
use crate::pose::{PlacedRing, Pose};
use crate::vector::Vec3;

/// How the rings of a pattern hang together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Build {
    /// A chain of single rings, each through the next.
    InARow,
    /// Large rings, of which each is joined with its neighbours by one small ring or by two.
    Joined { pairs: bool, lattice: Lattice },
}

/// Where the neighbours of a large ring lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Lattice {
    Chain,
    Square,
    Triangle,
}

impl Lattice {
    /// Neighbours round a large ring.
    const fn neighbours(self) -> f64 {
        match self {
            Lattice::Chain => 2.0,
            Lattice::Square => 4.0,
            Lattice::Triangle => 6.0,
        }
    }

    /// Rows apart, as a share of what large rings are apart.
    fn across(self) -> Option<f64> {
        match self {
            Lattice::Chain => None,
            Lattice::Square => Some(1.0),
            Lattice::Triangle => Some(0.75_f64.sqrt()),
        }
    }
}

fn build(pattern: &Pattern) -> Option<Build> {
    let joined = |pairs, lattice| Some(Build::Joined { pairs, lattice });
    let build = match pattern.name() {
        "large_and_small" | "graduated_cable" => Some(Build::InARow),
        "large_and_small_pairs" => joined(true, Lattice::Chain),
        "square_4in1_sheet" => joined(false, Lattice::Square),
        "square_8in2_sheet" => joined(true, Lattice::Square),
        "triangular_6in1_sheet" => joined(false, Lattice::Triangle),
        "japanese_12in2" => joined(true, Lattice::Triangle),
        _ => None,
    };
    build.filter(|_| craft::is_of_the_craft(pattern.spec()))
}

/// What a pattern of several ring sizes measures with rings of any sizes, each in any wire.
///
/// Single rings in a row hop by half of both inside diameters, so that a cell is as long as the inside
/// diameters of its rings together. A small ring that lies in the middle between two large ones keeps
/// its wire's centre `r = (ID_b - d_s)/2` from the middle of each: large rings are `ID_b + ID_s` apart.
/// Two small rings side by side stand half a wire off the middle line, and
/// `a = ID_s + d_s + 2 sqrt(r^2 - d_s^2/4)`. A sheet is told spread flat, rows as far apart as they go.
///
/// # Units
/// Main wire diameters.
/// # Validity
/// The patterns of several sizes that come with the tool, one ring given per size, the main size
/// first, wherever their rings go together lying straight and flat: no two large rings meet inside a
/// small one, and the small ones have room round the rim of the large one. `None` otherwise, though
/// pairs of small rings may still be linked, shorter, when crowded out of their places.
/// # Source
/// Own derivation, `docs/theory/chain.md`, section 7.
///
/// ```
/// use linkwright_calc::{quantity::Length, wire::Wire};
/// use linkwright_linkage::answer::ClosedRing;
/// use linkwright_linkage::{closed_form::several_sizes, pattern::{craft, Pattern}};
/// let ring = |d, inside| {
///     ClosedRing::new(Wire::new(Length::from_mm(d)).unwrap(), Length::from_mm(inside)).unwrap()
/// };
/// let chain = Pattern::new(craft::named("large_and_small").unwrap()).unwrap();
/// let measures = several_sizes(&chain, &[ring(1.0, 6.0), ring(0.8, 3.5)]).unwrap();
/// assert!((measures.advance - 9.5).abs() < 1e-12);
/// // Two wires of 1 mm do not pass a ring of 1.9 mm.
/// assert!(several_sizes(&chain, &[ring(1.0, 6.0), ring(0.8, 1.9)]).is_none());
/// ```
pub fn several_sizes(pattern: &Pattern, rings: &[ClosedRing]) -> Option<Measures> {
    let build = build(pattern)?;
    let advance_mm = advance_mm(build, pattern, rings)?;
    let d_mm = wire_mm(rings[0]);
    let lattice = match build {
        Build::InARow => Lattice::Chain,
        Build::Joined { lattice, .. } => lattice,
    };
    let Some(share) = lattice.across() else {
        let pose = in_place(build, pattern, rings, advance_mm);
        let seen = extent(&pose, d_mm);
        return Some(Measures {
            advance: advance_mm / d_mm,
            across: None,
            width: Some(seen.width / d_mm),
            thickness: seen.thickness / d_mm,
        });
    };
    Some(Measures {
        advance: advance_mm / d_mm,
        across: Some(share * advance_mm / d_mm),
        width: None,
        // Small rings stand upright on the sheet.
        thickness: outside_mm(rings[1]).max(d_mm) / d_mm,
    })
}

/// The rings of a chain of several sizes as [`several_sizes`] has them, in millimetres; `None` for a sheet,
/// and where they do not go together so.
pub(crate) fn in_place_by_form(pattern: &Pattern, rings: &[ClosedRing]) -> Option<Pose> {
    let build = build(pattern)?;
    let is_chain = matches!(build, Build::InARow | Build::Joined { lattice: Lattice::Chain, .. });
    let advance_mm = advance_mm(build, pattern, rings).filter(|_| is_chain)?;
    Some(in_place(build, pattern, rings, advance_mm))
}

/// Whether rings go together as [`several_sizes`] has them; cheaper to ask than what they measure.
///
/// # Units
/// A yes or no.
/// # Validity
/// As [`several_sizes`].
/// # Source
/// As [`several_sizes`].
///
/// ```
/// use linkwright_calc::{quantity::Length, wire::Wire};
/// use linkwright_linkage::answer::ClosedRing;
/// use linkwright_linkage::{closed_form::go_together, pattern::{craft, Pattern}};
/// let ring = |inside| {
///     ClosedRing::new(Wire::new(Length::from_mm(1.0)).unwrap(), Length::from_mm(inside)).unwrap()
/// };
/// let chain = Pattern::new(craft::named("large_and_small").unwrap()).unwrap();
/// assert!(go_together(&chain, &[ring(6.0), ring(2.0)]));
/// assert!(!go_together(&chain, &[ring(6.0), ring(1.9)]));
/// ```
pub fn go_together(pattern: &Pattern, rings: &[ClosedRing]) -> bool {
    build(pattern).is_some_and(|build| advance_mm(build, pattern, rings).is_some())
}

/// Advance per cell; `None` where the rings do not go together, or are not one per size.
fn advance_mm(build: Build, pattern: &Pattern, rings: &[ClosedRing]) -> Option<f64> {
    if rings.len() != pattern.spec().sizes.len() {
        return None;
    }
    match build {
        Build::InARow => in_a_row(pattern, rings),
        Build::Joined { pairs, lattice } => joined(rings[0], rings[1], pairs, lattice),
    }
}

/// Smallest aspect ratio of the main ring when all wires of single rings thicken alike, their middle
/// lines kept.
///
/// A ring in a row is full when its inside diameter is the wires of both neighbours together; a
/// large ring when the wires of the small ones touch round its rim.
///
/// # Units
/// Plain number.
/// # Validity
/// As [`several_sizes`], but not for pairs of small rings, whose limit has no closed form here.
/// # Source
/// Own derivation, `docs/theory/chain.md`, section 7.
///
/// ```
/// use linkwright_calc::{quantity::Length, wire::Wire};
/// use linkwright_linkage::answer::ClosedRing;
/// use linkwright_linkage::{closed_form::several_sizes_limit, pattern::{craft, Pattern}};
/// let ring = |inside| {
///     ClosedRing::new(Wire::new(Length::from_mm(1.0)).unwrap(), Length::from_mm(inside)).unwrap()
/// };
/// // In the pattern's own proportion, 0.6: the small ring takes two wires, 0.6 (AR + 1) - 1 = 2.
/// let chain = Pattern::new(craft::named("large_and_small").unwrap()).unwrap();
/// let least = several_sizes_limit(&chain, &[ring(6.0), ring(3.2)]).unwrap();
/// assert!((least - 4.0).abs() < 1e-12);
/// ```
pub fn several_sizes_limit(pattern: &Pattern, rings: &[ClosedRing]) -> Option<f64> {
    let build = build(pattern)?;
    if rings.len() != pattern.spec().sizes.len() {
        return None;
    }
    // How many times as thick all wires may get.
    let thicker = match build {
        Build::Joined { pairs: true, .. } => return None,
        Build::InARow => {
            let full = |at: usize| {
                let [before, own, after] = around(pattern, rings, at);
                middle_mm(own) / (wire_mm(own) + wire_mm(before) + wire_mm(after))
            };
            (0..pattern.spec().rings.len()).map(full).fold(f64::INFINITY, f64::min)
        }
        Build::Joined { pairs: false, lattice } => {
            let (large, small) = (rings[0], rings[1]);
            let hole = middle_mm(small) / (wire_mm(small) + 2.0 * wire_mm(large));
            let sin = (PI / lattice.neighbours()).sin();
            let rim =
                middle_mm(large) * sin / (wire_mm(small) + (wire_mm(large) + wire_mm(small)) * sin);
            hole.min(rim)
        }
    };
    Some(middle_mm(rings[0]) / (thicker * wire_mm(rings[0])) - 1.0)
}

fn wire_mm(ring: ClosedRing) -> f64 {
    ring.wire().diameter().mm()
}

/// Diameter of the middle line of the wire.
fn middle_mm(ring: ClosedRing) -> f64 {
    ring.inside().mm() + wire_mm(ring)
}

fn outside_mm(ring: ClosedRing) -> f64 {
    ring.inside().mm() + 2.0 * wire_mm(ring)
}

/// A ring of the row with its two neighbours.
fn around(pattern: &Pattern, rings: &[ClosedRing], at: usize) -> [ClosedRing; 3] {
    let row = &pattern.spec().rings;
    let ring = |at: usize| rings[row[at % row.len()].size];
    [ring(at + row.len() - 1), ring(at), ring(at + 1)]
}

fn in_a_row(pattern: &Pattern, rings: &[ClosedRing]) -> Option<f64> {
    let mut advance_mm = 0.0;
    for at in 0..pattern.spec().rings.len() {
        let [before, own, after] = around(pattern, rings, at);
        if own.inside().mm() < wire_mm(before) + wire_mm(after) {
            return None;
        }
        advance_mm += own.inside().mm();
    }
    Some(advance_mm)
}

/// How far apart large rings are.
fn joined(large: ClosedRing, small: ClosedRing, pairs: bool, lattice: Lattice) -> Option<f64> {
    let d_mm = wire_mm(small);
    let off_mm = if pairs { 0.5 * d_mm } else { 0.0 };
    let from_middle_mm = 0.5 * (large.inside().mm() - d_mm);
    if from_middle_mm < off_mm {
        return None;
    }
    let apart_mm = middle_mm(small) + 2.0 * (from_middle_mm.powi(2) - off_mm.powi(2)).sqrt();
    // Two large rings side by side within the small one.
    let meet = apart_mm < outside_mm(large);
    // The small wires of two neighbours, side by side round the rim.
    let beside_rad = PI / lattice.neighbours() - (off_mm / from_middle_mm).asin();
    let crowded = 2.0 * from_middle_mm * beside_rad.min(0.25 * TAU).sin() < d_mm;
    (!meet && !crowded).then_some(apart_mm)
}

/// The rings of a chain as the closed form has them: in a row each a hop from the one before, else the
/// small ones midway between two large ones.
fn in_place(build: Build, pattern: &Pattern, rings: &[ClosedRing], advance_mm: f64) -> Pose {
    let start = &pattern.start().rings;
    let row = &pattern.spec().rings;
    let hop_mm = |at: usize| {
        let [_, own, after] = around(pattern, rings, at);
        0.5 * (own.inside().mm() + after.inside().mm())
    };
    let along_mm = |at: usize| match build {
        Build::InARow => (0..at).map(hop_mm).sum(),
        Build::Joined { .. } if row[at].size == 0 => 0.0,
        Build::Joined { .. } => 0.5 * advance_mm,
    };
    let placed = row.iter().zip(start).enumerate().map(|(at, (ring, rough))| {
        let own = rings[ring.size];
        // Rings beside the middle line are those of a pair, half a wire off it either way.
        let off = Vec3 { z: 0.0, ..rough.circle.centre };
        let beside = off.unit().map_or(off, |way| way * (0.5 * wire_mm(own)));
        PlacedRing {
            circle: Circle {
                centre: Vec3 { z: along_mm(at), ..beside },
                normal: rough.circle.normal,
                radius: 0.5 * middle_mm(own),
            },
            wire_share: wire_mm(own) / wire_mm(rings[0]),
            station: 0.0,
        }
    });
    let cell = Cell::Screw { period: advance_mm, twist_rad: 0.0, twist_free: false };
    Pose { rings: placed.collect(), cell }
}

#[cfg(test)]
mod tests {
    use linkwright_calc::quantity::Length;
    use linkwright_calc::wire::Wire;
    use proptest::prelude::{prop_assert, proptest};

    use super::{in_place_by_form, middle_mm, several_sizes, several_sizes_limit, wire_mm};
    use crate::answer::ClosedRing;
    use crate::closed_form::japanese_lattice;
    use crate::pattern::{Pattern, SizeSpec, craft, measured_links};
    use crate::solve::{Patient, Pull, Search, room, taut, thickest_wire};
    use crate::table;

    fn ring(d_mm: f64, inside_mm: f64) -> ClosedRing {
        let wire = Wire::new(Length::from_mm(d_mm)).expect("within limits");
        ClosedRing::new(wire, Length::from_mm(inside_mm)).expect("within limits")
    }

    fn pattern(name: &str) -> Pattern {
        Pattern::new(craft::named(name).expect("known")).expect("valid")
    }

    /// Rings of the pattern's own proportions in wire of 1 mm.
    fn own(pattern: &Pattern, aspect_ratio: f64) -> Vec<ClosedRing> {
        let sizes = pattern.spec().sizes.iter();
        sizes.map(|size| ring(size.wire, size.radius * (aspect_ratio + 1.0) - size.wire)).collect()
    }

    #[test]
    fn closed_forms_and_the_solved_table_agree_in_the_patterns_own_proportions() {
        let mut met = 0;
        for spec in craft::all().into_iter().filter(|spec| spec.sizes.len() > 1) {
            let pattern = Pattern::new(spec).expect("valid");
            let entry = table::entry(&pattern).expect("in the table");
            for ar in [4.1, 5.0, 6.3, 9.0, 11.5] {
                let Some(read) = entry.at(ar) else { continue };
                let Some(form) = several_sizes(&pattern, &own(&pattern, ar)) else {
                    // Only pairs near their limit are crowded out of their places.
                    assert!(ar < 4.4, "{} {ar}", pattern.name());
                    continue;
                };
                let off = (form.advance - read.advance).abs() / read.advance;
                // The tolerance of the table: solver and interpolation.
                assert!(off <= entry.within + 5e-4, "{} {ar}: {off}", pattern.name());
                met += 1;
            }
        }
        assert_eq!(met, 32);
    }

    /// The pattern with these rings, to be solved, and the main wire in radii of the main ring.
    fn sized(pattern: &Pattern, rings: &[ClosedRing]) -> (Pattern, f64) {
        let (radius_mm, wire_mm) = (0.5 * middle_mm(rings[0]), wire_mm(rings[0]));
        let share = |ring: &ClosedRing| SizeSpec {
            radius: 0.5 * middle_mm(*ring) / radius_mm,
            wire: super::wire_mm(*ring) / wire_mm,
        };
        let sizes: Vec<SizeSpec> = rings.iter().map(share).collect();
        (pattern.with_sizes(&sizes).expect("still linked"), wire_mm / radius_mm)
    }

    #[test]
    fn several_sizes_in_several_wires_solve_cold_to_the_closed_form() {
        // Sizes and wires away from the pattern's own.
        for (name, rings) in [
            ("large_and_small", vec![ring(1.0, 6.0), ring(0.8, 3.5)]),
            ("large_and_small_pairs", vec![ring(1.2, 7.0), ring(0.9, 4.5)]),
            ("square_4in1_sheet", vec![ring(1.0, 6.0), ring(0.8, 3.0)]),
            ("triangular_6in1_sheet", vec![ring(1.0, 5.5), ring(0.9, 3.4)]),
            (
                "graduated_cable",
                vec![ring(1.0, 7.0), ring(1.0, 5.5), ring(0.9, 4.5), ring(0.8, 4.0)],
            ),
        ] {
            let pattern = pattern(name);
            let form = several_sizes(&pattern, &rings).expect("they go together");
            let (sized, wire) = sized(&pattern, &rings);
            let search = Search { starts: 4, seed: 1 };
            let found = taut(&sized, wire, Pull::Along, search, &[], &mut Patient);
            let solved = found.expect("not stopped").expect("possible").value / wire;
            let off = (solved - form.advance).abs();
            assert!(off < 5e-4 * form.advance, "{name}: {solved} {}", form.advance);
            if let Some(limit) = several_sizes_limit(&pattern, &rings) {
                let found = thickest_wire(&sized, search, &mut Patient).expect("not stopped");
                let least = 2.0 / found.room - 1.0;
                assert!((limit - least).abs() < 2e-3, "{name}: {limit} {least}");
            }
        }
    }

    #[test]
    fn rings_in_the_places_of_the_closed_form_touch_and_are_linked_as_in_the_pattern() {
        for (name, rings) in [
            ("large_and_small", vec![ring(1.0, 6.0), ring(0.8, 3.5)]),
            ("large_and_small_pairs", vec![ring(1.2, 7.0), ring(0.9, 4.5)]),
            (
                "graduated_cable",
                vec![ring(1.0, 7.0), ring(1.0, 5.5), ring(0.9, 4.5), ring(0.8, 4.0)],
            ),
        ] {
            let pattern = pattern(name);
            let pose = in_place_by_form(&pattern, &rings).expect("a chain");
            // Wires just touch: the room for the main wire is the main wire.
            let own_mm = wire_mm(rings[0]);
            assert!((room(&pose) - own_mm).abs() < 1e-9, "{name}: {}", room(&pose));
            assert_eq!(measured_links(&pose), measured_links(pattern.start()), "{name}");
        }
        let sheet = pattern("square_4in1_sheet");
        assert!(in_place_by_form(&sheet, &[ring(1.0, 6.0), ring(0.8, 3.0)]).is_none());
    }

    #[test]
    fn the_japanese_sheet_is_its_own_closed_form() {
        let sheet = pattern("japanese_12in2");
        let form = several_sizes(&sheet, &[ring(1.0, 6.0), ring(1.0, 3.0)]).expect("flat");
        let lattice = japanese_lattice(6.0, 3.0).expect("possible");
        assert!((form.advance - lattice).abs() < 1e-12);
        // Twelve wires no longer fit round the rim below 4.8637: chain.md, section 7.
        assert!(several_sizes(&sheet, &[ring(1.0, 4.86), ring(1.0, 3.0)]).is_none());
        assert!(several_sizes(&sheet, &[ring(1.0, 4.87), ring(1.0, 3.0)]).is_some());
    }

    #[test]
    fn a_pattern_of_one_size_has_no_form_here_nor_has_a_wrong_count_of_rings() {
        assert!(several_sizes(&pattern("byzantine"), &[ring(1.0, 4.0)]).is_none());
        assert!(several_sizes(&pattern("large_and_small"), &[ring(1.0, 6.0)]).is_none());
    }

    proptest! {
        #[test]
        fn everything_scales_with_the_rings(k in 0.2..3.0, large in 5.0..9.0, small in 3.0..4.5) {
            for name in ["large_and_small", "large_and_small_pairs", "japanese_12in2"] {
                let pattern = pattern(name);
                let at = |k: f64| several_sizes(&pattern, &[ring(k, k * large), ring(k, k * small)]);
                let (one, other) = (at(1.0), at(k));
                prop_assert!(one.is_some() == other.is_some());
                if let (Some(one), Some(other)) = (one, other) {
                    // Rounding of a few sums and one root.
                    prop_assert!((one.advance - other.advance).abs() < 1e-9);
                    prop_assert!((one.thickness - other.thickness).abs() < 1e-9);
                }
            }
        }
    }
}
