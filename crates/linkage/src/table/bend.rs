//! Tightest bends over aspect ratios.

use super::curve::{Fineness, OnCurve, read, state_at, within};
use super::rows::{Solver, solved};
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
        let stiff = stiff(self.rows, self.limp_from_last);
        let state = state_at(stiff, &TURNS, aspect_ratio)?;
        let read = |value: fn(&BendRow) -> f64| read(state, aspect_ratio, value);
        let middle_radius = 1.0 / read(|row| 1.0 / row.middle_radius);
        let depth = read(|row| row.middle_radius - row.inside_radius);
        let off = |row: &&BendRow| (row.aspect_ratio - aspect_ratio).abs();
        let nearest = state.iter().min_by(|a, b| off(a).total_cmp(&off(b)))?;
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

/// The rows in which the chain does not yet fold limp.
fn stiff(rows: &[BendRow], limp_from_last: bool) -> &[BendRow] {
    &rows[..rows.len() - usize::from(limp_from_last)]
}

/// How finely turns are told, in degrees per cell. At the limit itself nothing bends. From where a chain
/// folds limp is told as closely as rows may lie.
const TURNS: Fineness =
    Fineness { above_limit: 2e-3, rows: 10, most_rows: 24, within: 0.5, closest: 5e-3, step: 1.0 };
/// Own climbs of a row, and of one set between two others whose bends are known.
const STARTS: u32 = 16;
const BETWEEN_STARTS: u32 = 6;
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

/// Solves the bends of a chain from its smallest aspect ratio on; none for anything else.
///
/// Every row starts, among others, from the rows beside it. What stands in thick wire stands in thin wire
/// too: a row that was found to turn less than the one below takes over what stands there.
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
    let solved = solved(&mut Turns { pattern, way, seed, watch }, least, &TURNS)?;
    let limp_from_last = solved.last().is_some_and(|last| last.limp);
    let rows: Vec<BendRow> = solved.into_iter().map(|one| one.row).collect();
    let within_deg = within(stiff(&rows, limp_from_last), &TURNS);
    Ok(ComputedBends { rows, limp_from_last, within_deg })
}

impl From<&Bends> for ComputedBends {
    fn from(bends: &Bends) -> ComputedBends {
        ComputedBends {
            rows: bends.rows.to_vec(),
            limp_from_last: bends.limp_from_last,
            within_deg: bends.within_deg,
        }
    }
}

/// Solves rows of bends one way.
struct Turns<'a> {
    pattern: &'a Pattern,
    way: Way,
    seed: u64,
    watch: &'a mut dyn Watch,
}

/// A row with its pose, from which the rows beside it are solved.
struct Solved {
    row: BendRow,
    limp: bool,
    pose: Pose,
    bending: Bending,
}

impl Solver for Turns<'_> {
    type Row = Solved;

    fn row(&mut self, aspect_ratio: f64, beside: &[&Solved]) -> Result<Option<Solved>, Halt> {
        let wire = 2.0 / (aspect_ratio + 1.0);
        let Some(bending) = Bending::new(self.pattern, wire, self.way, self.watch)? else {
            return Ok(None);
        };
        let starts = if beside.len() < 2 { STARTS } else { BETWEEN_STARTS };
        let known: Vec<Pose> = beside.iter().map(|row| row.pose.clone()).collect();
        let search = Search { starts, seed: self.seed };
        let found = bending.tightest(search, &known, self.watch)?;
        let Some(bent) = found else {
            return Ok(beside.first().map(|below| below.in_thinner_wire(aspect_ratio, bending)));
        };
        let mut row = Solved::new(aspect_ratio, bending, bent);
        if let Some(below) = beside.first() {
            row.takes_over(below);
        }
        Ok(Some(row))
    }

    /// One more climb, from the pose of the row beside.
    fn gains(&mut self, row: &mut Solved, beside: &Solved) -> Result<bool, Halt> {
        let climbed = row.is_tightened(beside.pose.clone(), self.seed, self.watch)?;
        Ok(row.takes_over(beside) || climbed)
    }

    fn is_last(&self, row: &Solved) -> bool {
        row.limp
    }
}

impl OnCurve for Solved {
    fn aspect_ratio(&self) -> f64 {
        self.row.aspect_ratio
    }

    fn height(&self) -> f64 {
        self.row.turn_deg
    }

    fn is_like(&self, other: &Solved) -> bool {
        self.limp == other.limp
    }
}

impl OnCurve for BendRow {
    fn aspect_ratio(&self) -> f64 {
        self.aspect_ratio
    }

    fn height(&self) -> f64 {
        self.turn_deg
    }
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

    /// What stands in thicker wire, where no climb of thinner wire found anything.
    fn in_thinner_wire(&self, aspect_ratio: f64, bending: Bending) -> Solved {
        let row = self.row.in_thinner_wire(aspect_ratio);
        Solved { row, limp: false, pose: self.pose.clone(), bending }
    }

    /// Whether one more climb, from the pose of a row beside it, bends the chain more tightly.
    fn is_tightened(
        &mut self,
        known: Pose,
        seed: u64,
        watch: &mut dyn Watch,
    ) -> Result<bool, Halt> {
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

    /// Whether a bend found in thicker wire is tighter; then it is taken over, since it stands in thinner
    /// wire too, though the climb that began with it may have left it and rolled over.
    fn takes_over(&mut self, beside: &Solved) -> bool {
        let tighter = self.row.aspect_ratio > beside.row.aspect_ratio
            && beside.row.turn_deg > self.row.turn_deg;
        if tighter && self.limp {
            // Round a bar thinner than the wire, with less of a turn: limp all the same.
            self.row.turn_deg = beside.row.turn_deg;
        } else if tighter {
            self.row = beside.row.in_thinner_wire(self.row.aspect_ratio);
            self.pose = beside.pose.clone();
        }
        tighter
    }
}
