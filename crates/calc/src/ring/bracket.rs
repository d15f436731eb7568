//! The place where a rising function crosses nought, by halving a bracket that is known to hold it.

/// Halves `low..high` until the two ends are neighbouring numbers or the crossing is hit.
///
/// `rising` must be below or at nought at `low`, above or at nought at `high`, and never falling in
/// between. Halving is slower than Newton's method and cannot fail; at most about 60 steps are
/// needed for two ends within a few powers of two.
pub(super) fn crossing(mut low: f64, mut high: f64, rising: impl Fn(f64) -> f64) -> f64 {
    loop {
        let middle = low + 0.5 * (high - low);
        if middle <= low || middle >= high {
            return middle;
        }
        if rising(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::crossing;

    #[test]
    fn a_crossing_is_found_to_the_last_bit_but_one() {
        let root = crossing(1.0, 2.0, |x| x * x - 2.0);
        assert!((root - std::f64::consts::SQRT_2).abs() <= f64::EPSILON); // one step of f64 here
    }

    #[test]
    fn an_empty_bracket_gives_its_only_point() {
        assert!((crossing(3.0, 3.0, |x| x) - 3.0).abs() < f64::MIN_POSITIVE);
    }
}
