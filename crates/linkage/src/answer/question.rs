//! A jeweller's question answered: from the table where it knows the pattern, by closed form where that
//! is written down, otherwise by solving.

use linkwright_calc::quantity::Length;
use thiserror::Error;

use super::{ClosedRing, Ground, Linked, Taut};
use crate::closed_form::{in_place_by_form, several_sizes, several_sizes_limit};
use crate::extent;
use crate::pattern::{Cell, Kind, Pattern, PatternError, SizeSpec};
use crate::solve::{Found, Halt, Pull, Search, Watch, taut, thickest_wire};
use crate::table::{self, Entry, Row, pose_from_numbers};

/// Why a question has no answer.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum QuestionError {
    /// The pattern has another number of ring sizes.
    #[error("{pattern} takes {sizes} ring sizes; {given} were given")]
    RingSizes {
        /// Key of the pattern.
        pattern: String,
        /// Sizes it has.
        sizes: usize,
        /// Sizes given.
        given: usize,
    },
    /// The rough pose does not stand with sizes so different from its own.
    #[error("the rough pose of the pattern does not stand with these ring sizes: {0}")]
    Sizes(#[from] PatternError),
    /// The solve was stopped.
    #[error(transparent)]
    Halt(#[from] Halt),
}

/// Share of the advance by which climbs that count as the same may differ.
const SOLVER_WITHIN: f64 = 2e-4;

/// Answers a question: from the table where it knows the pattern in these proportions; for rings of other
/// sizes by closed form, where one is written down and holds; otherwise by solving.
///
/// `rings` holds one ring per size of the pattern, the main size first.
///
/// # Units
/// As the rings.
/// # Validity
/// Rigid closed round rings, pulled taut.
/// # Errors
/// [`QuestionError`] if the rings do not suit the pattern or the watch stops the solve.
/// # Source
/// `docs/theory/chain.md`.
///
/// ```
/// use linkwright_calc::{quantity::{Density, Length}, wire::Wire};
/// use linkwright_linkage::answer::{answer, ClosedRing};
/// use linkwright_linkage::{pattern::{craft, Pattern}, solve::{Patient, Search}};
/// let wire = Wire::new(Length::from_mm(1.0)).unwrap();
/// let ring = ClosedRing::new(wire, Length::from_mm(4.0)).unwrap();
/// let cable = Pattern::new(craft::named("cable_1in1").unwrap()).unwrap();
/// let linked = answer(&cable, &[ring], Search::default(), &mut Patient).unwrap();
/// assert!(linked.possible());
/// assert!((linked.rings_per_cm().unwrap() - 2.5).abs() < 1e-3);
/// let mass_g = linked.mass_per_cm(Density::from_g_cm3(10.4)).unwrap().g();
/// assert!((mass_g - 0.3208).abs() < 1e-4);
/// ```
pub fn answer(
    pattern: &Pattern,
    rings: &[ClosedRing],
    search: Search,
    watch: &mut dyn Watch,
) -> Result<Linked, QuestionError> {
    let sizes = pattern.spec().sizes.len();
    let (Some(main), true) = (rings.first(), rings.len() == sizes) else {
        return Err(QuestionError::RingSizes {
            pattern: pattern.name().to_owned(),
            sizes,
            given: rings.len(),
        });
    };
    let sized = with_rings(pattern, rings)?;
    let d_mm = main.wire().diameter().mm();
    let aspect_ratio = main.aspect_ratio();
    let known = table::entry(&sized);
    let (least, limit_ground, slack) = match known {
        Some(entry) => {
            (entry.aspect_ratio_min, Ground::new(entry.limit_starts, entry.limit_hits), None)
        }
        None if let Some(least) = several_sizes_limit(pattern, rings) => {
            (least, Ground::ClosedForm, None)
        }
        None => {
            let found = thickest_wire(&sized, search, watch)?;
            (2.0 / found.room - 1.0, Ground::new(found.starts, found.hits), Some(found.pose))
        }
    };
    let read = known
        .and_then(|entry| from_table(entry, &sized, aspect_ratio, d_mm))
        .or_else(|| from_closed_form(pattern, rings, d_mm));
    let solved = if read.is_some() || aspect_ratio < least || sized.kind() == Kind::Cluster {
        None
    } else {
        // Beyond the table its last pose is a good start.
        let start = known.and_then(|entry| entry.pose_below(&sized, aspect_ratio));
        let wire = 2.0 / (aspect_ratio + 1.0);
        taut(&sized, wire, Pull::Along, search, start.as_slice(), watch)?
    };
    let count = |size| sized.spec().rings.iter().filter(|ring| ring.size == size).count();
    Ok(Linked {
        aspect_ratio,
        aspect_ratio_min: least,
        limit_ground,
        inside_to_spare: main.inside() - Length::from_mm(least * d_mm),
        taut: read.or_else(|| solved.as_ref().map(|found| told(found, aspect_ratio, d_mm))),
        rings_per_cell: (0..sizes).map(count).collect(),
        rings: rings.to_vec(),
        pattern: sized,
        search,
        solved,
        slack,
        by_form: in_place_by_form(pattern, rings)
            .filter(|_| known.is_none())
            .map(|pose| pose.scaled(1.0 / main.mean_radius_mm())),
        correction: None,
    })
}

/// The pattern with the radii and wires of these rings.
fn with_rings(pattern: &Pattern, rings: &[ClosedRing]) -> Result<Pattern, PatternError> {
    let [main, others @ ..] = rings else {
        return Ok(pattern.clone());
    };
    let share = |ring: &ClosedRing| SizeSpec {
        radius: ring.mean_radius_mm() / main.mean_radius_mm(),
        wire: ring.wire().diameter().mm() / main.wire().diameter().mm(),
    };
    let mut sizes = vec![SizeSpec::MAIN];
    sizes.extend(others.iter().map(share));
    // Sizes that differ from the pattern's own by rounding only are taken as equal to them, so that
    // the table applies.
    let same = |a: f64, b: f64| (a - b).abs() < 1e-9;
    for (size, own) in sizes.iter_mut().zip(&pattern.spec().sizes) {
        if same(size.radius, own.radius) && same(size.wire, own.wire) {
            *size = *own;
        }
    }
    pattern.with_sizes(&sizes)
}

/// What the table says, in millimetres.
fn from_table(entry: &Entry, pattern: &Pattern, aspect_ratio: f64, d_mm: f64) -> Option<Taut> {
    let read = entry.at(aspect_ratio)?;
    let mm = |wires: f64| Length::from_mm(wires * d_mm);
    Some(Taut {
        advance: mm(read.advance),
        across: (read.across > 0.0).then(|| mm(read.across)),
        width: (read.width > 0.0).then(|| mm(read.width)),
        thickness: mm(read.thickness),
        overhang: overhang_between(entry, pattern, aspect_ratio).map(mm),
        ground: Ground::new(read.starts, read.hits),
        within: entry.within + SOLVER_WITHIN,
    })
}

/// What is written down of these rings, in millimetres.
fn from_closed_form(pattern: &Pattern, rings: &[ClosedRing], d_mm: f64) -> Option<Taut> {
    let form = several_sizes(pattern, rings)?;
    let mm = |wires: f64| Length::from_mm(wires * d_mm);
    Some(Taut {
        advance: mm(form.advance),
        across: form.across.map(mm),
        width: form.width.map(mm),
        thickness: mm(form.thickness),
        overhang: in_place_by_form(pattern, rings)
            .and_then(|pose| extent::overhang(&pose, d_mm))
            .map(Length::from_mm),
        ground: Ground::ClosedForm,
        within: SOLVER_WITHIN,
    })
}

/// Overhang in wires, from the poses of the rows on both sides.
fn overhang_between(entry: &Entry, pattern: &Pattern, aspect_ratio: f64) -> Option<f64> {
    let at = |row: &Row| {
        let wire = 2.0 / (row.aspect_ratio + 1.0);
        let pose = pose_from_numbers(pattern.start(), row.pose)?;
        Some(extent::overhang(&pose, wire)? / wire)
    };
    let rows = entry.state(aspect_ratio)?;
    let after = rows.partition_point(|row| row.aspect_ratio < aspect_ratio).min(rows.len() - 1);
    let (low, high) = (rows.get(after.saturating_sub(1))?, rows.get(after)?);
    let between = high.aspect_ratio - low.aspect_ratio;
    let share = if between > 0.0 {
        ((aspect_ratio - low.aspect_ratio) / between).clamp(0.0, 1.0)
    } else {
        0.0
    };
    Some(at(low)? * (1.0 - share) + at(high)? * share)
}

/// A solved pose in millimetres.
fn told(found: &Found, aspect_ratio: f64, d_mm: f64) -> Taut {
    let wire = 2.0 / (aspect_ratio + 1.0);
    let mm = |length: f64| Length::from_mm(length * d_mm / wire);
    let seen = extent::extent(&found.pose, wire);
    let across = match found.pose.cell {
        Cell::Lattice { across, .. } => Some(across),
        _ => None,
    };
    Taut {
        advance: mm(found.value),
        across: across.map(mm),
        width: across.is_none().then(|| mm(seen.width)),
        thickness: mm(seen.thickness),
        overhang: extent::overhang(&found.pose, wire).map(mm),
        ground: Ground::new(found.starts, found.hits),
        within: SOLVER_WITHIN,
    }
}
