//! Counts as numbers to calculate with, and the mean of many plays.

/// A count of things held in memory as a number; exact below 2^32, of which no memory holds more.
pub(crate) fn real(count: usize) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX))
}

/// The mean of some numbers; 0 of none.
pub(crate) fn mean(numbers: impl ExactSizeIterator<Item = f64>) -> f64 {
    let count = real(numbers.len()).max(1.0);
    numbers.sum::<f64>() / count
}
