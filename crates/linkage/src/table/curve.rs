//! Curves over the aspect ratio: cut into states, read without overshoot, begun and made denser.

/// A row of a curve.
pub(super) trait OnCurve {
    /// Inside diameter over wire diameter of the main ring.
    fn aspect_ratio(&self) -> f64;
    /// What is told of the row, and how finely rows lie goes by.
    fn height(&self) -> f64;
    /// How far off a reading of the height is, as far as it matters.
    fn off(&self, read: f64) -> f64 {
        (read - self.height()).abs()
    }
    /// Whether one verdict holds for both rows.
    fn is_like(&self, other: &Self) -> bool {
        let _ = other;
        true
    }
}

/// How finely a curve is told.
pub(super) struct Fineness {
    /// The first row lies this share above the limit.
    pub above_limit: f64,
    /// Rows to begin with.
    pub rows: u32,
    /// Rows at most.
    pub most_rows: usize,
    /// A row may be off by so much when it is left out and read from the rest.
    pub within: f64,
    /// No two rows lie closer together than this share of their aspect ratio.
    pub closest: f64,
    /// Rows as close as that may belong to two states if they are off each other by more than this.
    pub step: f64,
}

/// A state begins where the curve is so many times as steep as on either side.
const STEEPER: f64 = 2.5;
/// The table keeps aspect ratios to a millionth.
const KEPT: f64 = 1e6;

/// An aspect ratio as the table keeps it, so that what is solved is what is written.
pub(super) fn kept(aspect_ratio: f64) -> f64 {
    (aspect_ratio * KEPT).round() / KEPT
}

/// Largest aspect ratio of the table: beyond it any chain is loose. Patterns that need rings as large go
/// on to twice their limit.
pub(super) fn largest(least: f64) -> f64 {
    12.0_f64.max(2.0 * least)
}

/// Aspect ratios to begin a curve with, closer together near the limit.
pub(super) fn beginning(least: f64, fineness: &Fineness) -> impl Iterator<Item = f64> {
    let first = least * (1.0 + fineness.above_limit);
    let last = fineness.rows - 1;
    (0..=last).map(move |step| {
        let share = f64::from(step) / f64::from(last);
        kept(first + (largest(least) - first) * share * share)
    })
}

/// The rows of a curve, state by state: nothing is read across from one to the next.
///
/// Another state begins with another verdict, and where two rows stand as close as they may, and yet the
/// curve rises much more steeply between them than on either side. From the limit itself curves rise
/// steeply: the first two rows are of one state.
pub(super) fn states<'a, R: OnCurve>(
    rows: &'a [R],
    fineness: &Fineness,
) -> impl Iterator<Item = &'a [R]> {
    let slope = |at: usize| {
        let (below, above) = (rows.get(at - 1)?, rows.get(at)?);
        let rise = above.height() - below.height();
        below.is_like(above).then(|| rise / (above.aspect_ratio() - below.aspect_ratio()))
    };
    let begins = move |at: usize| {
        let (below, above) = (&rows[at - 1], &rows[at]);
        let Some(steep) = slope(at) else {
            return true;
        };
        let beside = [at - 1, at + 1].map(|at| if at > 0 { slope(at) } else { Some(steep) });
        above.aspect_ratio() - below.aspect_ratio() <= 2.0 * fineness.closest * below.aspect_ratio()
            && above.off(below.height()) > fineness.step
            && beside.iter().all(|beside| steep > STEEPER * beside.unwrap_or(0.0))
    };
    let ends: Vec<usize> = (1..rows.len()).filter(|&at| begins(at)).chain([rows.len()]).collect();
    let mut from = 0;
    ends.into_iter().filter(|&end| end > 0).map(move |end| {
        let state = &rows[from..end];
        from = end;
        state
    })
}

/// The rows of the state a curve is in at an aspect ratio; none before the first row.
///
/// Between the last row of one state and the first of the next it is still the lower.
pub(super) fn state_at<'a, R: OnCurve>(
    rows: &'a [R],
    fineness: &Fineness,
    aspect_ratio: f64,
) -> Option<&'a [R]> {
    states(rows, fineness).take_while(|state| state[0].aspect_ratio() <= aspect_ratio).last()
}

/// A value of the rows read at an aspect ratio; constant beyond both ends.
pub(super) fn read<R: OnCurve>(rows: &[R], aspect_ratio: f64, value: impl Fn(&R) -> f64) -> f64 {
    monotone(rows, aspect_ratio, R::aspect_ratio, value)
}

/// Largest error of any inner row if it alone is left out and read from the rest of its state.
pub(super) fn within<R: OnCurve>(rows: &[R], fineness: &Fineness) -> f64 {
    left_out(rows, fineness).into_iter().map(|(_, error)| error).fold(0.0, f64::max)
}

/// Inner rows of every state with how far off each is read if it alone is left out.
///
/// # Source
/// Leaving one out doubles the spacing beside it, which makes the error about eight times that of all
/// rows together where the curve is smooth, and twice at a kink.
fn left_out<R: OnCurve>(rows: &[R], fineness: &Fineness) -> Vec<(usize, f64)> {
    let mut errors = Vec::new();
    let mut from = 0;
    for state in states(rows, fineness) {
        for at in 1..state.len() - 1 {
            let kept: Vec<&R> = state[..at].iter().chain(&state[at + 1..]).collect();
            let read =
                monotone(&kept, state[at].aspect_ratio(), |r| r.aspect_ratio(), |r| r.height());
            errors.push((from + at, state[at].off(read)));
        }
        from += state.len();
    }
    errors
}

/// The gap in which one more row helps most: one between two verdicts until it is small, then the wider
/// one beside the row that is told worst.
pub(super) fn widest_doubt<R: OnCurve>(rows: &[R], fineness: &Fineness) -> Option<usize> {
    let width = |gap: usize| rows[gap + 1].aspect_ratio() - rows[gap].aspect_ratio();
    let is_wide = |gap: &usize| width(*gap) > 2.0 * fineness.closest * rows[*gap].aspect_ratio();
    let differ = |gap: &usize| !rows[*gap].is_like(&rows[*gap + 1]);
    let between = (0..rows.len().saturating_sub(1)).filter(differ).find(is_wide);
    between.or_else(|| {
        left_out(rows, fineness)
            .into_iter()
            .filter(|&(_, error)| error > fineness.within)
            .map(|(at, error)| (if width(at) > width(at - 1) { at } else { at - 1 }, error))
            .filter(|(gap, _)| is_wide(gap))
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(gap, _)| gap)
    })
}

/// Value at `x` of the monotone cubic through points of rising abscissa; constant beyond both ends.
///
/// Slopes at inner points are weighted harmonic means of the two chords, zero where these differ in
/// sign; at the ends the chord is taken. Only the four points round `x` are read, so that a table is
/// read many times while a slider moves one pixel.
fn monotone<P>(
    points: &[P],
    x: f64,
    abscissa: impl Fn(&P) -> f64,
    value: impl Fn(&P) -> f64,
) -> f64 {
    let after = points.partition_point(|point| abscissa(point) < x);
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return f64::NAN;
    };
    if after == 0 {
        return value(first);
    }
    if after == points.len() {
        return value(last);
    }
    let at = |i: usize| (abscissa(&points[i]), value(&points[i]));
    let chord = |i: usize| (at(i + 1).1 - at(i).1) / (at(i + 1).0 - at(i).0);
    let slope = |i: usize| {
        if i == 0 {
            return chord(0);
        }
        if i + 1 == points.len() {
            return chord(i - 1);
        }
        let (left, right) = (chord(i - 1), chord(i));
        if left * right <= 0.0 {
            return 0.0;
        }
        let (before, behind) = (at(i).0 - at(i - 1).0, at(i + 1).0 - at(i).0);
        let (w1, w2) = (2.0 * behind + before, behind + 2.0 * before);
        (w1 + w2) / (w1 / left + w2 / right)
    };
    let i = after - 1;
    let h = at(after).0 - at(i).0;
    let t = (x - at(i).0) / h;
    let (t2, t3) = (t * t, t * t * t);
    (2.0 * t3 - 3.0 * t2 + 1.0) * at(i).1
        + (t3 - 2.0 * t2 + t) * h * slope(i)
        + (3.0 * t2 - 2.0 * t3) * at(after).1
        + (t3 - t2) * h * slope(after)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{Fineness, OnCurve, kept, state_at, states, widest_doubt, within};

    /// Aspect ratio, height, verdict.
    #[derive(Debug, PartialEq)]
    struct Point(f64, f64, u8);

    impl OnCurve for Point {
        fn aspect_ratio(&self) -> f64 {
            self.0
        }
        fn height(&self) -> f64 {
            self.1
        }
        fn is_like(&self, other: &Point) -> bool {
            self.2 == other.2
        }
    }

    const FINENESS: Fineness = Fineness {
        above_limit: 1e-3,
        rows: 5,
        most_rows: 9,
        within: 0.1,
        closest: 5e-3,
        step: 0.2,
    };

    fn monotone(points: &[(f64, f64)], x: f64) -> f64 {
        super::monotone(points, x, |point| point.0, |point| point.1)
    }

    /// A line that rises by 1 where two rows stand close together.
    fn stepped() -> Vec<Point> {
        let step = |ar: f64| if ar > 3.0 { 1.0 } else { 0.0 };
        [2.0, 2.5, 2.99, 3.01, 3.5, 4.0].map(|ar| Point(ar, ar + step(ar), 0)).into()
    }

    #[test]
    fn a_straight_line_is_read_exactly() {
        let line: Vec<(f64, f64)> =
            [0.0, 0.5, 2.0, 2.5].iter().map(|&x| (x, 3.0 * x - 1.0)).collect();
        for x in [0.1, 0.5, 1.7, 2.4] {
            assert!((monotone(&line, x) - (3.0 * x - 1.0)).abs() < 1e-14);
        }
    }

    #[test]
    fn a_step_parts_two_states_and_the_lower_is_told_up_to_the_higher() {
        let rows = stepped();
        let cut: Vec<usize> = states(&rows, &FINENESS).map(<[Point]>::len).collect();
        assert_eq!(cut, [3, 3]);
        assert_eq!(state_at(&rows, &FINENESS, 3.0), Some(&rows[..3]));
        assert_eq!(state_at(&rows, &FINENESS, 3.01), Some(&rows[3..]));
        assert_eq!(state_at(&rows, &FINENESS, 1.9), None);
        // Either state is a straight line.
        assert!(within(&rows, &FINENESS) < 1e-12);
    }

    #[test]
    fn a_slope_as_steep_beside_it_is_no_step_nor_is_the_rise_from_the_limit() {
        let mut kink = stepped();
        kink[3].1 = kink[2].1 + 0.3;
        kink[4].1 = kink[3].1 + 8.0;
        assert_eq!(states(&kink, &FINENESS).count(), 1);
        let rows = stepped();
        assert_eq!(states(&rows[2..], &FINENESS).count(), 1);
        assert_eq!(states(&rows[..0], &FINENESS).count(), 0);
    }

    #[test]
    fn rows_are_set_between_two_verdicts_first_and_then_where_a_row_is_told_worst() {
        let mut rows: Vec<Point> =
            [2.0, 3.0, 4.0, 6.0].map(|ar| Point(ar, ar, u8::from(ar > 3.5))).into();
        assert_eq!(widest_doubt(&rows, &FINENESS), Some(1));
        rows[1].0 = 3.97;
        // Both states have two rows, and none between.
        assert_eq!(widest_doubt(&rows, &FINENESS), None);
        rows[1].2 = 1;
        rows[2].1 = 5.0;
        rows[1].0 = 3.0;
        rows[0].2 = 1;
        assert_eq!(widest_doubt(&rows, &FINENESS), Some(2));
    }

    proptest! {
        #[test]
        fn what_is_kept_is_what_six_decimals_say(aspect_ratio in 1.0..100.0) {
            let kept_once = kept(aspect_ratio);
            let written = format!("{kept_once:.6}").parse().map(f64::to_bits);
            prop_assert_eq!(written, Ok(kept_once.to_bits()));
            prop_assert_eq!(kept(kept_once).to_bits(), kept_once.to_bits());
        }

        #[test]
        fn between_two_points_no_value_leaves_their_range(
            steps in proptest::collection::vec((0.01..2.0, -1.0..1.0), 3..9), share in 0.0..1.0,
        ) {
            let mut at = (0.0, 0.0);
            let points: Vec<(f64, f64)> = steps
                .iter()
                .map(|step: &(f64, f64)| {
                    at = (at.0 + step.0, at.1 + step.1);
                    at
                })
                .collect();
            for pair in points.windows(2) {
                let value = monotone(&points, pair[0].0 + share * (pair[1].0 - pair[0].0));
                let (low, high) = (pair[0].1.min(pair[1].1), pair[0].1.max(pair[1].1));
                prop_assert!(value >= low - 1e-12 && value <= high + 1e-12);
            }
        }
    }
}
