//! A value measured at this bench, with how often and when.

use crate::basis::Basis;

/// A measured value: it wins over any mark or table.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured<T> {
    /// The value, a mean if there were several readings.
    pub value: T,
    /// How many readings stand behind it.
    pub readings: u32,
    /// The day of the last, as an ISO date, if it was noted.
    pub last: Option<String>,
}

impl<T> Measured<T> {
    /// One undated reading.
    pub const fn once(value: T) -> Measured<T> {
        Measured { value, readings: 1, last: None }
    }

    /// What an answer that uses it rests on.
    ///
    /// # Units
    /// None.
    /// # Validity
    /// Always "tried".
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::metal::Measured;
    /// assert_eq!(Measured::once(1.02).basis().to_string(), "tried once");
    /// ```
    pub fn basis(&self) -> Basis {
        Basis::Tried { trials: self.readings, last: self.last.clone() }
    }
}
