//! Checks a described pattern against its own start pose and says what is wrong.

use thiserror::Error;

use super::cell::{Cell, Image};
use super::spec::{Link, PatternSpec};
use crate::circle::{distance, linking_number};
use crate::pose::Pose;
use crate::solve::room;

/// Thinnest wire, as a share of the main radius, for which a start pose must leave room.
///
/// The solver's moves are certified down to a fifth of the wire; thinner starts make it crawl.
const LEAST_START_WIRE: f64 = 0.005;

/// Most rings in a cell: the solver's time grows with the square of their number.
const MOST_RINGS: usize = 60;

/// Most repeats a cell may reach over; [`Cell::copies_within`] looks at 24.
const MOST_COPIES: f64 = 20.0;

/// Why a described pattern is refused. Rings, links and sizes are counted from 1, as people do.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum PatternError {
    /// No rings at all, or more than the solver takes.
    #[error("a cell must have between 1 and {most} rings; this one has {rings}")]
    RingCount {
        /// Rings given.
        rings: usize,
        /// Most that are accepted.
        most: usize,
    },
    /// A size that is not a positive number, or a main size that is not 1.
    #[error(
        "size {size} has radius {radius} and wire {wire}; both must be positive shares of the main \
         ring, and 1 for size 1"
    )]
    Size {
        /// Number of the size.
        size: usize,
        /// Radius given.
        radius: f64,
        /// Wire given.
        wire: f64,
    },
    /// A ring refers to a size that is not listed.
    #[error("ring {ring} has size {size}, but only {sizes} sizes are listed")]
    UnknownSize {
        /// Number of the ring.
        ring: usize,
        /// Size it names.
        size: usize,
        /// Sizes listed.
        sizes: usize,
    },
    /// A centre or normal that is not a number, or a normal of no length.
    #[error(
        "ring {ring} has no usable place: its centre and normal must be numbers, the normal not zero"
    )]
    RingPlace {
        /// Number of the ring.
        ring: usize,
    },
    /// The repeating motion does not move on.
    #[error("the cell does not repeat: its advance must be a positive number")]
    NoAdvance,
    /// A start pose cannot be given bent.
    #[error("a start pose must be straight: give the cell as a screw, a lattice or a cluster")]
    BentStart,
    /// A link names a ring that is not there.
    #[error("link {link} names ring {ring}, but the cell has {rings} rings")]
    UnknownRing {
        /// Number of the link.
        link: usize,
        /// Ring it names.
        ring: usize,
        /// Rings of the cell.
        rings: usize,
    },
    /// A link to a copy that this kind of cell does not have.
    #[error("link {link} goes to copy {copy:?}, which this kind of cell does not have")]
    NoSuchCopy {
        /// Number of the link.
        link: usize,
        /// Copy it names.
        copy: Image,
    },
    /// A ring linked with itself.
    #[error("link {link} links ring {ring} with itself")]
    LinkToItself {
        /// Number of the link.
        link: usize,
        /// The ring.
        ring: usize,
    },
    /// The same link twice.
    #[error("link {link} says the same as link {earlier}")]
    LinkTwice {
        /// Number of the later one.
        link: usize,
        /// Number of the earlier one.
        earlier: usize,
    },
    /// A sign that is not -1 or +1.
    #[error("link {link} has sign {sign}; it must be -1 or +1")]
    Sign {
        /// Number of the link.
        link: usize,
        /// Sign given.
        sign: i8,
    },
    /// A ring that is not linked with the others.
    #[error(
        "ring {ring} is not linked with ring 1, not even by way of others: the piece falls apart"
    )]
    Loose {
        /// Number of the ring.
        ring: usize,
    },
    /// The repeats are not linked with each other.
    #[error("nothing links {what}: the piece falls apart")]
    RepeatsLoose {
        /// What is not linked, in words.
        what: &'static str,
    },
    /// The repeats are too close for a cell so long.
    #[error(
        "the cell reaches over {cells:.0} of its own repeats; at most {most} are seen: its advance is \
         too small for its rings"
    )]
    TooClose {
        /// Repeats it reaches over.
        cells: f64,
        /// Most that are accepted.
        most: f64,
    },
    /// The rings of the start pose (nearly) touch.
    #[error(
        "ring {first} and ring {second} of copy {copy} are only {room:.4} of the main radius apart in \
         the start pose; at least {least} is needed to tell how they are linked",
        copy = copy_name(*copy)
    )]
    Touching {
        /// Ring of the cell.
        first: usize,
        /// Ring of the copy.
        second: usize,
        /// The copy.
        copy: Image,
        /// Least distance found, as a share of the main radius.
        room: f64,
        /// Least distance needed.
        least: f64,
    },
    /// A listed link differs from the pose.
    #[error(
        "link {link}: ring {first} and ring {second} of copy {copy} are said to be linked with sign \
         {said:+}, but the start pose has {measured:+}; turn a normal round or correct the sign",
        copy = copy_name(*copy)
    )]
    LinkDiffers {
        /// Number of the link.
        link: usize,
        /// Ring of the cell.
        first: usize,
        /// Ring of the copy.
        second: usize,
        /// The copy.
        copy: Image,
        /// Sign given.
        said: i8,
        /// Linking number of the pose.
        measured: i8,
    },
    /// The pose links two rings that the list does not.
    #[error(
        "ring {first} and ring {second} of copy {copy} are linked in the start pose (sign \
         {measured:+}) but not listed; list the link or move the rings apart",
        copy = copy_name(*copy)
    )]
    LinkNotListed {
        /// Ring of the cell.
        first: usize,
        /// Ring of the copy.
        second: usize,
        /// The copy.
        copy: Image,
        /// Linking number of the pose.
        measured: i8,
    },
}

fn copy_name(copy: Image) -> String {
    match copy {
        [q, 0] => q.to_string(),
        [q, r] => format!("{q},{r}"),
    }
}

/// Every link of a pose, ahead-facing, by ring, ring and copy.
///
/// # Units
/// None.
/// # Validity
/// Rings that do not touch.
/// # Source
/// [`linking_number`] of every pair near enough to be linked.
pub fn measured_links(pose: &Pose) -> Vec<Link> {
    let mut links = Vec::new();
    pose.visit_pairs(0.0, |first, second, image, placed| {
        let sign = linking_number(pose.rings[first].circle, placed);
        if sign != 0 {
            let link = Link { first, second, image, sign };
            links.push(link.ahead());
        }
    });
    links.sort_by_key(|link| (link.first, link.second, link.image));
    links
}

/// The start pose of a description and the wire it leaves room for, if nothing is wrong.
pub(super) fn start_pose(spec: &PatternSpec) -> Result<(Pose, f64), PatternError> {
    let rings = spec.rings.len();
    if rings == 0 || rings > MOST_RINGS {
        return Err(PatternError::RingCount { rings, most: MOST_RINGS });
    }
    check_sizes(spec)?;
    check_cell(spec.cell)?;
    check_links(spec)?;
    check_holds(spec)?;
    let pose = placed(spec)?;
    check_copies(&pose)?;
    let room = room(&pose);
    if room.is_nan() || room < LEAST_START_WIRE {
        let (first, second, copy) = nearest_pair(&pose);
        return Err(PatternError::Touching { first, second, copy, room, least: LEAST_START_WIRE });
    }
    compare_links(spec, &pose)?;
    Ok((pose, room))
}

fn placed(spec: &PatternSpec) -> Result<Pose, PatternError> {
    let mut normals = Vec::with_capacity(spec.rings.len());
    for (index, ring) in spec.rings.iter().enumerate() {
        let place = PatternError::RingPlace { ring: index + 1 };
        if !ring.centre.is_finite() {
            return Err(place);
        }
        normals.push(ring.normal.unit().ok_or(place)?);
    }
    Ok(super::place(spec, &normals))
}

/// The description with every sign of 0 replaced by that of the start pose, for a maker who has laid
/// the rings but not counted signs.
///
/// Where the pose has no such link, or does not stand at all, the sign becomes +1 and
/// [`Pattern::new`](super::Pattern::new) says what is wrong.
///
/// # Units
/// None.
/// # Validity
/// Any description.
/// # Source
/// [`measured_links`].
///
/// ```
/// use linkwright_linkage::pattern::{craft, signs_as_they_lie};
/// let cable = craft::named("cable_1in1").unwrap();
/// let mut open = cable.clone();
/// open.links[0].sign = 0;
/// assert_eq!(signs_as_they_lie(&open), cable);
/// ```
pub fn signs_as_they_lie(spec: &PatternSpec) -> PatternSpec {
    let mut spec = spec.clone();
    let sound = check_sizes(&spec).and_then(|()| check_cell(spec.cell));
    let pose = sound.and_then(|()| placed(&spec));
    let there = pose.map(|pose| measured_links(&pose)).unwrap_or_default();
    for link in spec.links.iter_mut().filter(|link| link.sign == 0) {
        let ahead = link.ahead();
        let same =
            |l: &&Link| (l.first, l.second, l.image) == (ahead.first, ahead.second, ahead.image);
        link.sign = there.iter().find(same).map_or(1, |l| l.sign);
    }
    spec
}

pub(super) fn check_sizes(spec: &PatternSpec) -> Result<(), PatternError> {
    for (index, size) in spec.sizes.iter().enumerate() {
        let positive = |x: f64| x.is_finite() && x > 0.0;
        let is_one = |x: f64| (x - 1.0).abs() < f64::EPSILON;
        let main_is_one = index > 0 || (is_one(size.radius) && is_one(size.wire));
        if !positive(size.radius) || !positive(size.wire) || !main_is_one {
            return Err(PatternError::Size {
                size: index + 1,
                radius: size.radius,
                wire: size.wire,
            });
        }
    }
    for (index, ring) in spec.rings.iter().enumerate() {
        if ring.size >= spec.sizes.len() {
            return Err(PatternError::UnknownSize {
                ring: index + 1,
                size: ring.size + 1,
                sizes: spec.sizes.len(),
            });
        }
    }
    Ok(())
}

fn check_cell(cell: Cell) -> Result<(), PatternError> {
    let advances = |x: f64| x.is_finite() && x > 0.0;
    let moves_on = match cell {
        Cell::Cluster => true,
        Cell::Screw { period, twist_rad, .. } => advances(period) && twist_rad.is_finite(),
        Cell::Lattice { along, shear, across } => {
            advances(along) && advances(across) && shear.is_finite()
        }
        Cell::Bend { .. } => return Err(PatternError::BentStart),
    };
    if moves_on { Ok(()) } else { Err(PatternError::NoAdvance) }
}

pub(super) fn check_links(spec: &PatternSpec) -> Result<(), PatternError> {
    let rings = spec.rings.len();
    let ahead: Vec<Link> = spec.links.iter().map(|link| link.ahead()).collect();
    for (index, link) in spec.links.iter().enumerate() {
        let number = index + 1;
        for ring in [link.first, link.second] {
            if ring >= rings {
                return Err(PatternError::UnknownRing { link: number, ring: ring + 1, rings });
            }
        }
        let has_copy = match spec.cell {
            Cell::Cluster => link.image == [0, 0],
            Cell::Screw { .. } | Cell::Bend { .. } => link.image[1] == 0,
            Cell::Lattice { .. } => true,
        };
        if !has_copy {
            return Err(PatternError::NoSuchCopy { link: number, copy: link.image });
        }
        if link.first == link.second && link.image == [0, 0] {
            return Err(PatternError::LinkToItself { link: number, ring: link.first + 1 });
        }
        if link.sign.abs() != 1 {
            return Err(PatternError::Sign { link: number, sign: link.sign });
        }
        let same = |other: &Link| {
            let this = ahead[index];
            (other.first, other.second, other.image) == (this.first, this.second, this.image)
        };
        if let Some(earlier) = ahead[..index].iter().position(same) {
            return Err(PatternError::LinkTwice { link: number, earlier: earlier + 1 });
        }
    }
    Ok(())
}

/// That every ring is linked with the first, and the repeats with each other.
///
/// Rings are walked to along links, counting cells on the way; a link that leads back to a ring in
/// another cell than the walk did ties that cell's repeat.
pub(super) fn check_holds(spec: &PatternSpec) -> Result<(), PatternError> {
    let mut reached: Vec<Option<Image>> = vec![None; spec.rings.len()];
    if let Some(first) = reached.first_mut() {
        *first = Some([0, 0]);
    }
    let plus = |a: Image, b: Image| [a[0].saturating_add(b[0]), a[1].saturating_add(b[1])];
    let minus = |a: Image, b: Image| [a[0].saturating_sub(b[0]), a[1].saturating_sub(b[1])];
    for _ in 0..spec.rings.len() {
        for link in &spec.links {
            match (reached[link.first], reached[link.second]) {
                (Some(cell), None) => reached[link.second] = Some(plus(cell, link.image)),
                (None, Some(cell)) => reached[link.first] = Some(minus(cell, link.image)),
                _ => {}
            }
        }
    }
    if let Some(loose) = reached.iter().position(Option::is_none) {
        return Err(PatternError::Loose { ring: loose + 1 });
    }
    let ties: Vec<Image> = spec
        .links
        .iter()
        .filter_map(|link| {
            let walked = minus(reached[link.second]?, reached[link.first]?);
            Some(minus(link.image, walked))
        })
        .collect();
    let across = |a: &Image, b: &Image| {
        i64::from(a[0]) * i64::from(b[1]) != i64::from(a[1]) * i64::from(b[0])
    };
    let loose = match spec.cell {
        Cell::Cluster => return Ok(()),
        Cell::Lattice { .. } if ties.iter().any(|a| ties.iter().any(|b| across(a, b))) => {
            return Ok(());
        }
        Cell::Lattice { .. } => "the repeats both along and across",
        Cell::Screw { .. } | Cell::Bend { .. } if ties.iter().any(|tie| tie[0] != 0) => {
            return Ok(());
        }
        Cell::Screw { .. } | Cell::Bend { .. } => "one repeat with the next",
    };
    Err(PatternError::RepeatsLoose { what: loose })
}

/// The two rings that leave the least room, counted from 1.
fn nearest_pair(pose: &Pose) -> (usize, usize, Image) {
    let mut nearest = (f64::INFINITY, (1, 1, [0, 0]));
    pose.visit_pairs(LEAST_START_WIRE, |i, j, copy, placed| {
        let apart = distance(pose.rings[i].circle, placed) / pose.share(i, j);
        if apart < nearest.0 {
            nearest = (apart, (i + 1, j + 1, copy));
        }
    });
    nearest.1
}

/// That the solver, which looks at so many copies and no more, sees all that matter.
fn check_copies(pose: &Pose) -> Result<(), PatternError> {
    let (reach, spread) = (2.0 * pose.arm(), pose.spread());
    let cells = match pose.cell {
        Cell::Screw { period, .. } => (reach + spread.z) / period,
        Cell::Lattice { along, shear, across } => {
            let rows = (reach + spread.y) / across;
            rows.max((reach + spread.x + (rows * shear).abs()) / along)
        }
        Cell::Cluster | Cell::Bend { .. } => 0.0,
    };
    if cells <= MOST_COPIES {
        Ok(())
    } else {
        Err(PatternError::TooClose { cells, most: MOST_COPIES })
    }
}

fn compare_links(spec: &PatternSpec, pose: &Pose) -> Result<(), PatternError> {
    let mut measured = measured_links(pose);
    for (index, link) in spec.links.iter().enumerate() {
        let said = link.ahead();
        let same = |l: &Link| (l.first, l.second, l.image) == (said.first, said.second, said.image);
        let found = measured.iter().position(same);
        let sign = found.map_or(0, |at| measured.swap_remove(at).sign);
        if sign != said.sign {
            return Err(PatternError::LinkDiffers {
                link: index + 1,
                first: link.first + 1,
                second: link.second + 1,
                copy: link.image,
                said: said.sign,
                measured: sign,
            });
        }
    }
    match measured.first() {
        None => Ok(()),
        Some(extra) => Err(PatternError::LinkNotListed {
            first: extra.first + 1,
            second: extra.second + 1,
            copy: extra.image,
            measured: extra.sign,
        }),
    }
}
