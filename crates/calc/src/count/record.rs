//! How far a short record can be trusted.

use statrs::distribution::{Beta, ContinuousCDF};

use super::CountError;
use crate::limits::SHARE;

/// The share of good outcomes that a record still speaks for with some confidence.
///
/// The lower quantile of `Beta(good + 1, tried - good + 1)`: what is known of a share when every
/// share was thought as likely as any other before. More trials bring it nearer to the share seen.
///
/// # Units
/// Outcomes; the confidence and the answer are shares of one.
/// # Validity
/// Outcomes that do not hang together; `good` not above `tried`. Without trials it is
/// `1 - confidence`.
/// # Errors
/// [`CountError`] if the confidence is no share, or `good` exceeds `tried`.
/// # Source
/// Rule of succession with its whole distribution: Bayes and Laplace, from memory.
///
/// ```
/// use linkwright_calc::count::share_shown_by;
/// // One good of one: the quantile of Beta(2, 1) is the square root of 0.05.
/// assert!((share_shown_by(1, 1, 0.95).unwrap() - 0.05_f64.sqrt()).abs() < 1e-6);
/// assert!(share_shown_by(2, 3, 0.95).unwrap() < share_shown_by(20, 30, 0.95).unwrap());
/// ```
pub fn share_shown_by(good: u32, tried: u32, confidence: f64) -> Result<f64, CountError> {
    let confidence = SHARE.check(confidence)?;
    let bad = f64::from(tried) - f64::from(good);
    SHARE.check(if bad < 0.0 { f64::from(good) / f64::from(tried) } else { 0.0 })?;
    let known = Beta::new(f64::from(good) + 1.0, bad + 1.0)
        .unwrap_or_else(|_| unreachable!("both weights are at least one"));
    Ok(known.inverse_cdf(1.0 - confidence))
}

#[cfg(test)]
mod tests {
    use super::share_shown_by;

    #[test]
    fn two_of_three_is_the_root_of_its_polynomial() {
        // The distribution function of Beta(3, 2) is 4x^3 - 3x^4.
        let x = share_shown_by(2, 3, 0.95).expect("a share");
        assert!((4.0 * x.powi(3) - 3.0 * x.powi(4) - 0.05).abs() < 1e-6, "{x}");
    }

    #[test]
    fn all_good_and_none_good_are_roots() {
        let all = share_shown_by(9, 9, 0.95).expect("a share");
        assert!((all - 0.05_f64.powf(0.1)).abs() < 1e-6);
        let none = share_shown_by(0, 9, 0.95).expect("a share");
        assert!((none - (1.0 - 0.95_f64.powf(0.1))).abs() < 1e-6);
        assert!((share_shown_by(0, 0, 0.95).expect("a share") - 0.05).abs() < 1e-6);
    }

    #[test]
    fn more_good_than_tried_is_refused() {
        assert!(share_shown_by(4, 3, 0.95).is_err());
        assert!(share_shown_by(1, 0, 0.95).is_err());
        assert!(share_shown_by(1, 3, 1.5).is_err());
    }
}
