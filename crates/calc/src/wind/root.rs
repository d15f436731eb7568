//! Where a function that rises through nothing crosses it.

/// Root of `f` between `low` and `high`, where `f(low) <= 0 <= f(high)`, to the last few digits.
///
/// The Illinois form of the rule of false position (halve the value of an end that stays put),
/// with a bisection whenever three steps have not halved the bracket; so it ends, after at most
/// some 200 calls even for a function with a corner or a flat.
pub(super) fn rising_root(mut low: f64, mut high: f64, mut f: impl FnMut(f64) -> f64) -> f64 {
    let (mut f_low, mut f_high) = (f(low), f(high));
    if f_low >= 0.0 {
        return low;
    }
    if f_high <= 0.0 {
        return high;
    }
    let mut last_side = 0_i8;
    let mut width_wanted = (high - low) / 2.0;
    let mut steps_since_halved = 0;
    for _ in 0..200 {
        let secant = high - f_high * (high - low) / (f_high - f_low);
        let middle = low + (high - low) / 2.0;
        let bisect = steps_since_halved >= 3 || !(secant > low && secant < high);
        let x = if bisect { middle } else { secant };
        if !(x > low && x < high) {
            break;
        }
        let fx = f(x);
        if fx == 0.0 {
            return x;
        }
        if fx < 0.0 {
            (low, f_low) = (x, fx);
            f_high = if last_side == -1 && !bisect { f_high / 2.0 } else { f_high };
            last_side = -1;
        } else {
            (high, f_high) = (x, fx);
            f_low = if last_side == 1 && !bisect { f_low / 2.0 } else { f_low };
            last_side = 1;
        }
        let width = high - low;
        if width <= 4.0 * f64::EPSILON * high.abs().max(low.abs()) {
            break;
        }
        steps_since_halved += 1;
        if width <= width_wanted {
            width_wanted = width / 2.0;
            steps_since_halved = 0;
        }
    }
    // The end nearer to nothing by its own value; both lie within the bracket.
    if -f_low < f_high { low } else { high }
}

#[cfg(test)]
mod tests {
    use super::*;

    type Rising = fn(f64) -> f64;

    #[test]
    fn smooth_flat_and_cornered_functions_are_solved_in_few_calls() {
        let functions: [(Rising, f64); 4] = [
            (|x| x * x - 2.0, std::f64::consts::SQRT_2),
            (|x| (x - 1.0).powi(9), 1.0),
            (|x| if x < 0.3 { -1e-9 } else { 1e9 * (x - 0.3) }, 0.3),
            (|x| (50.0 * (x - 7.0)).exp() - 1.0, 7.0),
        ];
        for (i, (f, root)) in functions.into_iter().enumerate() {
            let mut calls = 0;
            let found = rising_root(0.0, 10.0, |x| {
                calls += 1;
                f(x)
            });
            // A ninefold root is known only to the ninth root of the rounding of f.
            let tolerance = if i == 1 { 1e-2 } else { 1e-12 };
            assert!((found - root).abs() <= tolerance, "{i}: {found}");
            assert!(calls <= 202, "{i}: {calls}");
        }
    }
}
