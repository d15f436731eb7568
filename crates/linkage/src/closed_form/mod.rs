//! Closed forms: patterns whose limits and lengths can be written down, in wire diameters.
//!
//! All derived in `docs/theory/chain.md`, section 7. The solver does not use them; they check it. Rings of
//! several sizes in other proportions than the table's are answered by them, where they hold.

mod one_size;

mod several_sizes;

pub use one_size::of_one_size;
pub(crate) use several_sizes::in_place_by_form;
pub use several_sizes::{go_together, several_sizes, several_sizes_limit};

use crate::circle::{Circle, distance};
use crate::vector::{Rotation, Vec3};

/// What a pattern measures with rings of a given size, by closed form; lengths in main wire diameters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measures {
    /// Advance per cell, pulled along.
    pub advance: f64,
    /// For a sheet, advance from cell to cell across the rows.
    pub across: Option<f64>,
    /// Side-on width of a chain.
    pub width: Option<f64>,
    /// Thickness.
    pub thickness: f64,
}

/// Smallest aspect ratio of a ring that `n` others of the same wire pass through.
///
/// Each crossing of the ring's disc keeps one wire from the others and from the ring, so that `n`
/// discs of diameter `d` must fit in a disc of diameter `ID`.
///
/// # Units
/// Plain number; wires are counted, not measured.
/// # Validity
/// A proven lower bound for n from 1 to 8 and 12; `None` otherwise.
/// # Source
/// Equal discs in a disc: 1 + 1/sin(pi/n) for 2 to 6 discs and for 7 to 9 round a middle one
/// (elementary); 12 after Kravitz, Mathematics Magazine 40 (1967), as listed on an optimisation
/// vendor's example page, 4 digits.
///
/// ```
/// use linkwright_linkage::closed_form::hole_bound;
/// assert_eq!(hole_bound(2), Some(2.0));
/// assert!((hole_bound(4).unwrap() - (1.0 + 2.0_f64.sqrt())).abs() < 1e-12);
/// ```
pub fn hole_bound(links: u32) -> Option<f64> {
    let ring_of = |n: f64| 1.0 + 1.0 / (std::f64::consts::PI / n).sin();
    match links {
        1 => Some(1.0),
        2 => Some(2.0),
        3..=6 => Some(ring_of(f64::from(links))),
        7 => Some(3.0),
        // Seven round one in the middle: the outer seven decide.
        8 => Some(ring_of(7.0)),
        12 => Some(4.029),
        _ => None,
    }
}

/// Pitch of a cable chain whose ring planes stand at `90 deg + off_rad`, in wire diameters.
///
/// `p = ID` while `sin a <= 1 - d/R`; beyond, `p^2 = (1 + sin a)(2 R^2 - d^2/(1 - sin a))`.
///
/// # Units
/// Aspect ratio and pitch in wire diameters, angle in radians.
/// # Validity
/// Aspect ratio at least 2, `0 <= a < 90 deg`; `None` where no pitch is possible.
/// # Source
/// Own derivation; the twisted form is also on a public question-and-answer page (Math StackExchange
/// 3257750).
///
/// ```
/// use linkwright_linkage::closed_form::cable_pitch;
/// assert_eq!(cable_pitch(3.0, 0.0), Some(3.0));
/// let twisted = cable_pitch(3.0, 40.0_f64.to_radians()).unwrap();
/// assert!((twisted - 2.92291).abs() < 5e-6);
/// ```
pub fn cable_pitch(aspect_ratio: f64, off_rad: f64) -> Option<f64> {
    if aspect_ratio < 2.0 {
        return None;
    }
    let r = 0.5 * (aspect_ratio + 1.0);
    let sin = off_rad.sin();
    if sin <= 1.0 - 1.0 / r {
        return Some(aspect_ratio);
    }
    let squared = (1.0 + sin) * (2.0 * r * r - 1.0 / (1.0 - sin));
    (squared > 0.0).then(|| squared.sqrt())
}

/// Pitch per pair of the doubled cable chain, in wire diameters.
///
/// With both contacts at the angle `a`: `R sin a = 1/2 + tan a q`, `q = 1/sqrt(1 + 2 tan^2 a)`,
/// `p = 2 R cos a - q`.
///
/// # Units
/// Wire diameters.
/// # Validity
/// Aspect ratio at least [`doubled_cable_limit`].
/// # Source
/// Own derivation.
///
/// ```
/// use linkwright_linkage::closed_form::doubled_cable_pitch;
/// assert!((doubled_cable_pitch(3.0) - 2.747175).abs() < 5e-7);
/// ```
pub fn doubled_cable_pitch(aspect_ratio: f64) -> f64 {
    let r = 0.5 * (aspect_ratio + 1.0);
    let q = |a: f64| 1.0 / (1.0 + 2.0 * a.tan().powi(2)).sqrt();
    let off = |a: f64| r * a.sin() - 0.5 - a.tan() * q(a);
    // `off` is -1/2 at 0 and positive well before 60 deg for R above 1.7.
    let a = halve(off, 0.0, std::f64::consts::FRAC_PI_3);
    2.0 * r * a.cos() - q(a)
}

/// Smallest aspect ratio of the doubled cable chain: pairs of equal orientation touch, `2 p = AR + 2`.
///
/// # Units
/// Plain number.
/// # Validity
/// Rigid closed rings.
/// # Source
/// Own derivation.
///
/// ```
/// assert!((linkwright_linkage::closed_form::doubled_cable_limit() - 2.621278).abs() < 5e-7);
/// ```
pub fn doubled_cable_limit() -> f64 {
    halve(|ar| 2.0 * doubled_cable_pitch(ar) - ar - 2.0, 2.5, 3.0)
}

/// Row pitch of the European 4-in-1 sheet and three-row strip pulled along the rows, in wire diameters.
///
/// `px = sqrt(3 AR (AR^2 - 4)/(AR + 4))`; rows `AR + 2` apart per pair of rows; lean
/// `cos^2 = (AR + 2)/(AR + 4)`.
///
/// # Units
/// Wire diameters.
/// # Validity
/// Aspect ratio at least [`european_limit`].
/// # Source
/// Own derivation.
///
/// ```
/// use linkwright_linkage::closed_form::european_row_pitch;
/// assert!((european_row_pitch(4.0) - 3.0 * 2.0_f64.sqrt()).abs() < 1e-12);
/// ```
pub fn european_row_pitch(aspect_ratio: f64) -> f64 {
    let ar = aspect_ratio;
    (3.0 * ar * (ar * ar - 4.0) / (ar + 4.0)).sqrt()
}

/// Smallest aspect ratio of the European 4-in-1 sheet.
///
/// At the limit the ring also touches the unlinked ring three half pitches along in the next row: the
/// point `(3 a, b)` is one wire away from an ellipse with half axes `2 R cos t`, `2 R`, where `a` and
/// `b` obey the contact with the linked ring. The least `R` over the lean `t` and row distance `b`.
///
/// # Units
/// Plain number.
/// # Validity
/// Rigid closed rings; found by nested search to about 1e-7.
/// # Source
/// Own derivation.
///
/// ```
/// assert!((linkwright_linkage::closed_form::european_limit() - 2.980927).abs() < 1e-6);
/// ```
pub fn european_limit() -> f64 {
    // For a given R the best lean leaves the unlinked ring furthest away; the limit is where that is
    // just one wire.
    let spare = |ar: f64| {
        let r = 0.5 * (ar + 1.0);
        let b = r + 0.5;
        let at_lean = |t: f64| {
            let c = t.cos().powi(2);
            let big_b = b * b - 1.0;
            let a2 =
                big_b * (big_b * c + 4.0 * r * r * c * (1.0 - c) - b * b) / (b * b - big_b * c);
            if a2 <= 0.0 {
                return -1.0;
            }
            distance_to_ellipse(3.0 * a2.sqrt(), b, 2.0 * r * t.cos(), 2.0 * r) - 1.0
        };
        most(at_lean, 0.45, 0.75)
    };
    halve(spare, 2.9, 3.2)
}

/// Lattice constant of the flat Japanese 12-in-2 sheet, in wire diameters.
///
/// One end of a small ring against the big ring: `(a/2 - Rs)^2 + 1/4 = (Rb - 1)^2`, hence
/// `a = AR_s + 1 + sqrt((AR_b - 1)^2 - 1)`.
///
/// # Units
/// Wire diameters; both rings of one wire.
/// # Validity
/// Big rings at least `1 + 1/sin 15 deg` = 4.8637 and small rings at least
/// `AR_b + 1 - sqrt((AR_b - 1)^2 - 1)`; `None` below.
/// # Source
/// Own derivation.
///
/// ```
/// use linkwright_linkage::closed_form::japanese_lattice;
/// assert!((japanese_lattice(6.0, 3.0).unwrap() - 8.8990).abs() < 5e-5);
/// assert!(japanese_lattice(4.8, 3.0).is_none());
/// ```
pub fn japanese_lattice(big_aspect_ratio: f64, small_aspect_ratio: f64) -> Option<f64> {
    let twelve_round = 1.0 + 1.0 / (std::f64::consts::PI / 12.0).sin();
    let root = ((big_aspect_ratio - 1.0).powi(2) - 1.0).max(0.0).sqrt();
    let fits =
        big_aspect_ratio >= twelve_round && small_aspect_ratio >= big_aspect_ratio + 1.0 - root;
    fits.then_some(small_aspect_ratio + 1.0 + root)
}

/// Smallest aspect ratio of the rosette of three rings that looks the same from all three.
///
/// Centres stand at the corners of a triangle, `c` from its middle; every ring leans by `a` about the line
/// to the middle. The least distance of two of them, greatest over `c` and `a`, is 0.645768 of the ring
/// radius. Without symmetry the rosette reaches the hole bound, 2.
///
/// # Units
/// Plain number.
/// # Validity
/// Rigid closed rings; found by nested search to about 1e-7.
/// # Source
/// Distance of two circles, own search; the distance is also on a public question-and-answer page
/// (MathOverflow 82350), to five digits.
///
/// ```
/// use linkwright_linkage::closed_form::three_fold_rosette_limit;
/// assert!((three_fold_rosette_limit() - 2.09709).abs() < 5e-6);
/// ```
pub fn three_fold_rosette_limit() -> f64 {
    let apart = |c: f64, lean: f64| {
        let third = Rotation::about(Vec3::new(0.0, 0.0, 1.0), std::f64::consts::TAU / 3.0);
        let first = Circle {
            centre: Vec3::new(c, 0.0, 0.0),
            normal: Vec3::new(0.0, lean.sin(), lean.cos()),
            radius: 1.0,
        };
        let second =
            Circle { centre: third.turn(first.centre), normal: third.turn(first.normal), ..first };
        distance(first, second)
    };
    let best_lean = |c: f64| most(|lean| apart(c, lean), 0.1, 1.4);
    2.0 / most(best_lean, 0.2, 0.6) - 1.0
}

/// Distance of a point of the first quadrant from an ellipse with half axes `p` (along x) and `q`,
/// positive outside.
fn distance_to_ellipse(x: f64, y: f64, p: f64, q: f64) -> f64 {
    let squared = |t: f64| (x - p * t.cos()).powi(2) + (y - q * t.sin()).powi(2);
    let nearest = most(|t| -squared(t), 0.0, std::f64::consts::FRAC_PI_2);
    let outside = (x / p).powi(2) + (y / q).powi(2) >= 1.0;
    (-nearest).max(0.0).sqrt() * if outside { 1.0 } else { -1.0 }
}

/// Root of a function that changes sign once, by halving.
fn halve(f: impl Fn(f64) -> f64, low: f64, high: f64) -> f64 {
    let (mut low, mut high) = (low, high);
    let rises = f(high) > 0.0;
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if (f(middle) > 0.0) == rises {
            high = middle;
        } else {
            low = middle;
        }
    }
    0.5 * (low + high)
}

/// Largest value of a function with one top between the ends, by golden section.
fn most(f: impl Fn(f64) -> f64, low: f64, high: f64) -> f64 {
    let golden = 0.5 * (5.0_f64.sqrt() - 1.0);
    let (mut low, mut high) = (low, high);
    for _ in 0..60 {
        let (left, right) = (high - golden * (high - low), low + golden * (high - low));
        if f(left) > f(right) {
            high = right;
        } else {
            low = left;
        }
    }
    f(0.5 * (low + high))
}
