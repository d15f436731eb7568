//! The last ring of a pattern: which one it is best to be, and whether it goes in.

use super::{Opened, opened, opened_at_ease};
use crate::pattern::Link;
use crate::pose::Pose;
use crate::solve::{Halt, Watch};

/// How the last ring goes in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fits {
    /// It can stand open by a whole wire in its place: there it can be hooked and closed.
    GoesIn,
    /// It can stand open, but by less than a wire: the others must be pushed aside, or it must be
    /// hooked elsewhere and brought to its place half closed.
    Tight,
    /// It can hardly stand open at all: it cannot be closed in its place.
    DoesNot,
}

/// Share of the wire below which nothing can be closed: what pliers and a burr take. Own judgement.
const HARDLY: f64 = 0.1;

impl Fits {
    /// The verdict on ends that can stand so far apart and must stand `needed` apart, middle to middle.
    ///
    /// # Units
    /// Main wire diameters.
    /// # Validity
    /// As [`opened_at_ease`].
    /// # Source
    /// Own judgement; `docs/theory/chain.md`, section 8.
    ///
    /// ```
    /// use linkwright_linkage::opening::Fits;
    /// assert_eq!(Fits::of(2.0, 2.0), Fits::GoesIn);
    /// assert_eq!(Fits::of(0.05, 2.0), Fits::DoesNot);
    /// ```
    pub fn of(ends_apart: f64, needed: f64) -> Fits {
        match ends_apart {
            apart if apart >= needed => Fits::GoesIn,
            apart if apart > HARDLY => Fits::Tight,
            _ => Fits::DoesNot,
        }
    }
}

/// How far the ends of a ring must stand apart so that a wire passes between them: its own wire and
/// that of the widest ring it hooks.
///
/// # Units
/// Main wire diameters.
/// # Validity
/// Any pose of the pattern.
/// # Source
/// Half of both end's own wires and the whole of the wire between them.
///
/// ```
/// use linkwright_linkage::{opening::needed, pattern::{craft, Pattern}};
/// let cable = Pattern::new(craft::named("cable_1in1").unwrap()).unwrap();
/// assert_eq!(needed(cable.start(), &cable.spec().links, 0), 2.0);
/// ```
pub fn needed(pose: &Pose, links: &[Link], ring: usize) -> f64 {
    let hooked = links.iter().filter_map(|link| match ring {
        _ if link.first == ring => Some(link.second),
        _ if link.second == ring => Some(link.first),
        _ => None,
    });
    let widest = hooked.map(|other| pose.rings[other].wire_share).fold(0.0, f64::max);
    pose.rings[ring].wire_share + widest
}

/// The ring of a slack pose that stands open furthest, as a share of what it needs; moved at ease if
/// that is not enough.
pub(crate) fn last_ring(
    slack: &Pose,
    links: &[Link],
    wire: f64,
    watch: &mut dyn Watch,
) -> Result<Option<Opened>, Halt> {
    let share = |open: &Opened| open.ends_apart / (wire * needed(slack, links, open.ring));
    let rings = (0..slack.rings.len()).map(|ring| opened(slack, wire, ring));
    match rings.max_by(|a, b| share(a).total_cmp(&share(b))) {
        Some(best) if share(&best) < 1.0 => opened_at_ease(slack, wire, best.ring, watch).map(Some),
        best => Ok(best),
    }
}
