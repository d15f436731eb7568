//! Interpolation that never overshoots.

/// Value at `x` of the monotone cubic through points of rising abscissa; constant beyond both ends.
///
/// Slopes at inner points are weighted harmonic means of the two chords, zero where these differ in
/// sign; at the ends the chord is taken. Only the four points round `x` are read, so that a table is
/// read many times while a slider moves one pixel.
pub(super) fn monotone<P>(
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

/// Inner points with how far off each is read if it alone is left out.
///
/// # Source
/// Leaving one out doubles the spacing beside it, which makes the error about eight times that of all
/// points together where the curve is smooth, and twice at a kink.
pub(super) fn left_out<P>(
    points: &[P],
    abscissa: impl Fn(&P) -> f64,
    value: impl Fn(&P) -> f64,
) -> Vec<(usize, f64)> {
    let off = |at: usize| {
        let kept: Vec<&P> =
            points.iter().enumerate().filter(|(index, _)| *index != at).map(|(_, p)| p).collect();
        let read = monotone(&kept, abscissa(&points[at]), |p| abscissa(p), |p| value(p));
        (read - value(&points[at])).abs()
    };
    (1..points.len().saturating_sub(1)).map(|at| (at, off(at))).collect()
}

/// Largest aspect ratio of the table: beyond it any chain is loose. Patterns that need rings as large go
/// on to twice their limit.
pub(super) fn largest(least: f64) -> f64 {
    12.0_f64.max(2.0 * least)
}

/// Aspect ratios to begin a curve with: the first a share above the limit, closer together near it.
pub(super) fn beginning(least: f64, above_limit: f64, rows: u32) -> impl Iterator<Item = f64> {
    let first = least * (1.0 + above_limit);
    (0..rows).map(move |step| {
        let share = f64::from(step) / f64::from(rows - 1);
        first + (largest(least) - first) * share * share
    })
}

/// The wider gap beside the point that is told worst, by points with their errors.
///
/// Points off by no more than `within` are left alone, and so are gaps no wider than twice the share
/// `closest` of where they begin.
pub(super) fn gap_beside_worst<P>(
    points: &[P],
    abscissa: impl Fn(&P) -> f64,
    errors: Vec<(usize, f64)>,
    (within, closest): (f64, f64),
) -> Option<usize> {
    let width = |gap: usize| abscissa(&points[gap + 1]) - abscissa(&points[gap]);
    errors
        .into_iter()
        .filter(|&(_, error)| error > within)
        .map(|(at, error)| (if width(at) > width(at - 1) { at } else { at - 1 }, error))
        .filter(|&(gap, _)| width(gap) > 2.0 * closest * abscissa(&points[gap]))
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(gap, _)| gap)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    fn monotone(points: &[(f64, f64)], x: f64) -> f64 {
        super::monotone(points, x, |point| point.0, |point| point.1)
    }

    #[test]
    fn a_straight_line_is_read_exactly() {
        let line: Vec<(f64, f64)> =
            [0.0, 0.5, 2.0, 2.5].iter().map(|&x| (x, 3.0 * x - 1.0)).collect();
        for x in [0.1, 0.5, 1.7, 2.4] {
            assert!((monotone(&line, x) - (3.0 * x - 1.0)).abs() < 1e-14);
        }
    }

    proptest! {
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
