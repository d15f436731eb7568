//! Tightest bends over aspect ratios.

use super::curve::{beginning, gap_beside_worst, largest, left_out, monotone};
use crate::pattern::{Kind, Pattern};
use crate::pose::Pose;
use crate::solve::{Bending, Bent, Halt, Search, Watch, Way};

/// The tightest bend found at one aspect ratio; lengths in main wire diameters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BendRow {
    /// Inside diameter over wire diameter of the main ring.
    pub aspect_ratio: f64,
    /// Turn per cell of the pattern, in degrees.
    pub turn_deg: f64,
    /// Radius of the round bar within the rings.
    pub inside_radius: f64,
    /// Mean distance of the ring centres from the axis of the bend.
    pub middle_radius: f64,
    /// Climbs that ended in a valid pose.
    pub starts: u32,
    /// Of these, how many met the tightest.
    pub hits: u32,
}

/// How tightly a pattern bends one way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bends {
    /// Rows by rising aspect ratio and turn; none where no bend was found. Where the chain folds limp,
    /// the last is the smallest aspect ratio at which it was found to.
    pub rows: &'static [BendRow],
    /// Whether it folds limp from the last row on.
    pub limp_from_last: bool,
    /// Largest error of the turn per cell, in degrees, when one inner row of a state is left out and
    /// interpolated.
    pub within_deg: f64,
}

/// What the table says of a bend at one aspect ratio; lengths in main wire diameters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BendReading {
    /// The bend.
    pub row: BendRow,
    /// Whether the chain folds limp.
    pub limp: bool,
}

impl Bends {
    /// Reads the bend between the rows.
    ///
    /// Turn per cell, curvature of the middle line and depth of the rings within it are interpolated by
    /// the monotone cubic, but not across a change of state, where the lower row is told. What stands in
    /// thick wire stands in thin wire too: a chain that folds limp does so at every larger aspect ratio.
    ///
    /// # Units
    /// Aspect ratio in; degrees and wire diameters out.
    /// # Validity
    /// From the first row on; beyond the last only where that is limp. `None` otherwise.
    /// # Source
    /// As [`Entry::at`](super::Entry::at).
    ///
    /// ```
    /// use linkwright_linkage::table::entries;
    /// let cable = entries().iter().find(|entry| entry.name == "cable_1in1").unwrap();
    /// assert!(cable.over_face.at(4.0).unwrap().limp);
    /// assert_eq!(cable.over_face.at(1.9), None);
    /// ```
    pub fn at(&self, aspect_ratio: f64) -> Option<BendReading> {
        let (first, last) = (self.rows.first()?, self.rows.last()?);
        if aspect_ratio < first.aspect_ratio {
            return None;
        }
        if self.limp_from_last && aspect_ratio >= last.aspect_ratio {
            return Some(BendReading { row: BendRow { aspect_ratio, ..*last }, limp: true });
        }
        if aspect_ratio > last.aspect_ratio {
            return None;
        }
        let stiff = &self.rows[..self.rows.len() - usize::from(self.limp_from_last)];
        let stiff =
            states(stiff).take_while(|state| state[0].aspect_ratio <= aspect_ratio).last()?;
        let read = |value: fn(&BendRow) -> f64| {
            monotone(stiff, aspect_ratio, |row| row.aspect_ratio, value)
        };
        let middle_radius = 1.0 / read(|row| 1.0 / row.middle_radius);
        let depth = read(|row| row.middle_radius - row.inside_radius);
        let off = |row: &&BendRow| (row.aspect_ratio - aspect_ratio).abs();
        let nearest = stiff.iter().min_by(|a, b| off(a).total_cmp(&off(b)))?;
        let row = BendRow {
            aspect_ratio,
            turn_deg: read(|row| row.turn_deg),
            inside_radius: (middle_radius - depth).max(0.0),
            middle_radius,
            ..*nearest
        };
        Some(BendReading { row, limp: false })
    }
}

/// The rows of a chain that is not yet limp, state by state: where two rows stand as close as they may,
/// and yet the turn grows much more steeply between them than on either side, another state begins.
fn states(stiff: &[BendRow]) -> impl Iterator<Item = &[BendRow]> {
    let slope = |at: usize| {
        let (below, above) = (&stiff[at - 1], &stiff[at]);
        (above.turn_deg - below.turn_deg) / (above.aspect_ratio - below.aspect_ratio)
    };
    let begins = move |at: usize| {
        let (below, above) = (&stiff[at - 1], &stiff[at]);
        let after = if at + 1 < stiff.len() { slope(at + 1) } else { 0.0 };
        above.aspect_ratio - below.aspect_ratio <= 2.0 * CLOSEST * below.aspect_ratio
            && above.turn_deg - below.turn_deg > STEP_DEG
            && (at < 2 || slope(at) > STEEPER * slope(at - 1))
            && slope(at) > STEEPER * after
    };
    let mut from = 0;
    std::iter::from_fn(move || {
        let start = from;
        from = (start + 1..stiff.len()).find(|&at| begins(at)).unwrap_or(stiff.len());
        (start < stiff.len()).then(|| &stiff[start..from])
    })
}

/// Largest error of the turn per cell, in degrees, when one inner row of a state is left out and
/// interpolated; the last row is not counted where the chain folds limp from there.
fn bends_within_deg(rows: &[BendRow], limp_from_last: bool) -> f64 {
    let stiff = &rows[..rows.len() - usize::from(limp_from_last)];
    states(stiff)
        .flat_map(|state| left_out(state, |row| row.aspect_ratio, |row| row.turn_deg))
        .map(|(_, error)| error)
        .fold(0.0, f64::max)
}

/// Rows to begin with.
const ROWS: u32 = 10;
/// Rows at most.
const MOST_ROWS: usize = 16;
/// Own climbs of a row, and of one set between two others whose bends are known.
const STARTS: u32 = 8;
const BETWEEN_STARTS: u32 = 2;
/// A row may be off by so much when it is left out and interpolated.
const LEFT_OUT_WITHIN_DEG: f64 = 0.5;
/// No two rows lie closer together than this share of their aspect ratio; nor is it told more closely
/// from where a chain folds limp.
const CLOSEST: f64 = 5e-3;
/// Another state begins where the turn grows by more than this, and so many times as steeply as on
/// either side.
const STEP_DEG: f64 = 1.0;
const STEEPER: f64 = 2.5;
/// The first row lies this share above the limit: at the limit itself nothing bends.
const ABOVE_LIMIT: f64 = 2e-3;
/// A bend is tighter than another if it turns by so much more per cell.
const TIGHTER_DEG: f64 = 1e-3;

/// Bends of one way as solved.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ComputedBends {
    /// Rows by rising aspect ratio.
    pub rows: Vec<BendRow>,
    /// Whether the chain folds limp from the last row on.
    pub limp_from_last: bool,
    /// As [`Bends::within_deg`].
    pub within_deg: f64,
}

/// A row with its pose, from which its neighbours are solved.
struct Solved {
    row: BendRow,
    limp: bool,
    pose: Pose,
    bending: Bending,
}

/// Solves the bends of a chain from its smallest aspect ratio on; none for anything else.
///
/// Every row starts, among others, from the row below; then every row is tried again from the row
/// above, and rows are set where leaving one out shows.
///
/// # Errors
/// [`Halt`] if the watch stops the solve.
pub fn compute_bends(
    pattern: &Pattern,
    least: f64,
    way: Way,
    seed: u64,
    watch: &mut dyn Watch,
) -> Result<ComputedBends, Halt> {
    if pattern.kind() != Kind::Chain {
        return Ok(ComputedBends::default());
    }
    let solve = |aspect_ratio: f64, known: &[Pose], starts: u32, watch: &mut dyn Watch| {
        let wire = 2.0 / (aspect_ratio + 1.0);
        let Some(bending) = Bending::new(pattern, wire, way, watch)? else {
            return Ok(None);
        };
        let found = bending.tightest(Search { starts, seed }, known, watch)?;
        Ok::<_, Halt>(found.map(|bent| Solved::new(aspect_ratio, bending, bent)))
    };
    let mut rows: Vec<Solved> = Vec::new();
    for aspect_ratio in beginning(least, ABOVE_LIMIT, ROWS) {
        let known: Vec<Pose> = rows.last().map(|row| row.pose.clone()).into_iter().collect();
        rows.extend(solve(aspect_ratio, &known, STARTS, watch)?);
        if rows.last().is_some_and(|row| row.limp) {
            break;
        }
    }
    tighten(&mut rows, None, seed, watch)?;
    while rows.len() < MOST_ROWS
        && let Some(gap) = widest_doubt(&rows)
    {
        let (below, above) = (&rows[gap], &rows[gap + 1]);
        let aspect_ratio = 0.5 * (below.row.aspect_ratio + above.row.aspect_ratio);
        let known = [below.pose.clone(), above.pose.clone()];
        let Some(between) = solve(aspect_ratio, &known, BETWEEN_STARTS, watch)? else {
            break;
        };
        rows.insert(gap + 1, between);
        tighten(&mut rows, Some(gap + 1), seed, watch)?;
    }
    let limp_from_last = stiff(&rows).len() < rows.len();
    let rows = rows.into_iter().map(|row| row.row).collect();
    Ok(ComputedBends::new(rows, limp_from_last, largest(least)))
}

impl ComputedBends {
    /// Bends by rows as they were found; a row that turns less than the one below takes over what
    /// stands there, and so does the end of the table where nothing was found so far up.
    ///
    /// A climb may leave a bend it started from and end rolled over, which does not count. The bend it
    /// started from stands all the same.
    fn new(found: Vec<BendRow>, limp_from_last: bool, largest: f64) -> ComputedBends {
        let mut rows: Vec<BendRow> = Vec::new();
        let stiff = found.len() - usize::from(limp_from_last);
        for (at, row) in found.into_iter().enumerate() {
            rows.push(match rows.last().filter(|below| below.turn_deg > row.turn_deg) {
                Some(below) if at < stiff => below.in_thinner_wire(row.aspect_ratio),
                Some(below) => BendRow { turn_deg: below.turn_deg, ..row },
                None => row,
            });
        }
        if let Some(last) = rows.last().filter(|_| !limp_from_last)
            && last.aspect_ratio < largest * (1.0 - 1e-6)
        {
            rows.push(last.in_thinner_wire(largest));
        }
        let within_deg = bends_within_deg(&rows, limp_from_last);
        ComputedBends { rows, limp_from_last, within_deg }
    }

    /// The bends of the table as they stand.
    pub fn as_they_stand(bends: &Bends, least: f64) -> ComputedBends {
        ComputedBends::new(bends.rows.to_vec(), bends.limp_from_last, largest(least))
    }
}

/// Tries rows from the poses of their neighbours: those below a new one from above and those above it
/// from below, each as long as that gains; without a new one, all of them. What is limp ends the rows.
fn tighten(
    rows: &mut Vec<Solved>,
    new: Option<usize>,
    seed: u64,
    watch: &mut dyn Watch,
) -> Result<(), Halt> {
    let last = rows.len().saturating_sub(1);
    for at in (0..new.unwrap_or(last)).rev() {
        let known = rows[at + 1].pose.clone();
        if !rows[at].tightened(known, seed, watch)? && new.is_some() {
            break;
        }
    }
    for at in new.map_or(1, |new| new + 1)..rows.len() {
        let known = rows[at - 1].pose.clone();
        if !rows[at].tightened(known, seed, watch)? && new.is_some() {
            break;
        }
    }
    if let Some(limp) = rows.iter().position(|row| row.limp) {
        rows.truncate(limp + 1);
    }
    Ok(())
}

impl BendRow {
    fn of(aspect_ratio: f64, bent: &Bent) -> BendRow {
        let wires = 0.5 * (aspect_ratio + 1.0);
        BendRow {
            aspect_ratio,
            turn_deg: bent.found.value.to_degrees() / f64::from(bent.cells),
            inside_radius: bent.inside_radius * wires,
            middle_radius: bent.middle_radius * wires,
            starts: bent.found.starts,
            hits: bent.found.hits,
        }
    }

    /// The same pose in thinner wire, all rings of one wire: lengths in ring radii stay, the bar within
    /// the rings grows by what their wire loses.
    fn in_thinner_wire(&self, aspect_ratio: f64) -> BendRow {
        let wires = (aspect_ratio + 1.0) / (self.aspect_ratio + 1.0);
        BendRow {
            aspect_ratio,
            inside_radius: (self.inside_radius + 0.5) * wires - 0.5,
            middle_radius: self.middle_radius * wires,
            ..*self
        }
    }
}

impl Solved {
    fn new(aspect_ratio: f64, bending: Bending, bent: Bent) -> Solved {
        let row = BendRow::of(aspect_ratio, &bent);
        Solved { row, limp: bent.limp, pose: bent.found.pose, bending }
    }

    /// Whether one more climb, from the pose of a neighbour, bends the chain more tightly.
    fn tightened(&mut self, known: Pose, seed: u64, watch: &mut dyn Watch) -> Result<bool, Halt> {
        let search = Search { starts: 0, seed };
        self.row.starts += 1;
        let Some(bent) = self.bending.tightest(search, &[known], watch)? else {
            return Ok(false);
        };
        let row = BendRow::of(self.row.aspect_ratio, &bent);
        let tighter = bent.limp && !self.limp || row.turn_deg > self.row.turn_deg + TIGHTER_DEG;
        if tighter {
            // This climb alone met what is now the tightest.
            self.row = BendRow { starts: self.row.starts, hits: 1, ..row };
            self.limp = bent.limp;
            self.pose = bent.found.pose;
        }
        Ok(tighter)
    }
}

fn stiff(rows: &[Solved]) -> &[Solved] {
    let limp = rows.iter().position(|row| row.limp).unwrap_or(rows.len());
    &rows[..limp]
}

/// The gap in which one more row helps most: that before the first limp row until it is small, then the
/// wider one beside the row that is told worst.
fn widest_doubt(rows: &[Solved]) -> Option<usize> {
    let width = |gap: usize| rows[gap + 1].row.aspect_ratio - rows[gap].row.aspect_ratio;
    let is_wide = |gap: &usize| width(*gap) > 2.0 * CLOSEST * rows[*gap].row.aspect_ratio;
    let stiff = stiff(rows);
    if stiff.len() < rows.len()
        && let Some(gap) = stiff.len().checked_sub(1).filter(is_wide)
    {
        return Some(gap);
    }
    let errors = left_out(stiff, |row| row.row.aspect_ratio, |row| row.row.turn_deg);
    gap_beside_worst(stiff, |row| row.row.aspect_ratio, errors, (LEFT_OUT_WITHIN_DEG, CLOSEST))
}
