//! Where a period's metal went: issued is work, scrap, lemel and what is not accounted for.

use crate::limits::{Limit, LimitError, MASS};
use crate::quantity::Mass;

/// Masses of one alloy over one period.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MetalBooked {
    /// Wire issued to the bench.
    pub issued: Mass,
    /// Finished work out.
    pub work: Mass,
    /// Clean scrap: ends, tails, spoiled rings.
    pub scrap: Mass,
    /// Lemel as swept up.
    pub lemel_swept: Mass,
    /// Lemel after the magnet and drying; what counts as metal.
    pub lemel_clean: Mass,
}

/// A period's metal balance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MetalBalance {
    /// Metal not accounted for; below nought if more came back than was issued.
    pub unaccounted: Mass,
    /// The same over what was issued.
    pub unaccounted_share: f64,
    /// Dirt, steel and damp in the sweeps, over what was swept; none if nothing was.
    pub dirt_share: Option<f64>,
}

impl MetalBooked {
    /// `unaccounted = issued - work - scrap - clean lemel`.
    ///
    /// # Units
    /// Masses and shares of one, not rounded.
    /// # Validity
    /// One alloy. Lemel washed out to less than it weighed is dirt; washed out to more is refused.
    /// # Errors
    /// [`LimitError`] naming `issued_g`, `work_g`, `scrap_g`, `lemel_swept_g` or `lemel_clean_g`.
    /// # Source
    /// Every gram has a place: mass balance.
    ///
    /// ```
    /// use linkwright_calc::{money::MetalBooked, quantity::Mass};
    /// let balance = MetalBooked {
    ///     issued: Mass::from_g(1240.0),
    ///     work: Mass::from_g(1148.6),
    ///     scrap: Mass::from_g(46.2),
    ///     lemel_swept: Mass::from_g(29.7),
    ///     lemel_clean: Mass::from_g(27.9),
    /// }.balance().unwrap();
    /// assert!((balance.unaccounted.g() - 17.3).abs() < 1e-9);
    /// assert!((balance.unaccounted_share - 0.0140).abs() < 0.00005);
    /// ```
    pub fn balance(self) -> Result<MetalBalance, LimitError> {
        let issued_g = Limit { field: "issued_g", low: 1e-6, ..MASS }.check(self.issued.g())?;
        let work_g = MASS.named("work_g").check(self.work.g())?;
        let scrap_g = MASS.named("scrap_g").check(self.scrap.g())?;
        let swept_g = MASS.named("lemel_swept_g").check(self.lemel_swept.g())?;
        let at_most_swept = Limit {
            field: "lemel_clean_g",
            high: swept_g,
            why: "cleaning takes dirt away and adds nothing",
            ..MASS
        };
        let clean_g = at_most_swept.check(self.lemel_clean.g())?;
        let unaccounted_g = issued_g - work_g - scrap_g - clean_g;
        Ok(MetalBalance {
            unaccounted: Mass::from_g(unaccounted_g),
            unaccounted_share: unaccounted_g / issued_g,
            dirt_share: (swept_g > 0.0).then(|| 1.0 - clean_g / swept_g),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::MetalBooked;
    use crate::quantity::Mass;

    fn booked(lemel_swept_g: f64, lemel_clean_g: f64) -> MetalBooked {
        MetalBooked {
            issued: Mass::from_g(100.0),
            work: Mass::from_g(95.0),
            scrap: Mass::from_g(4.0),
            lemel_swept: Mass::from_g(lemel_swept_g),
            lemel_clean: Mass::from_g(lemel_clean_g),
        }
    }

    #[test]
    fn more_metal_than_was_issued_shows_below_nought() {
        let balance = booked(3.0, 2.0).balance().unwrap();
        assert!((balance.unaccounted.g() + 1.0).abs() < 1e-12); // rounding near 100
    }

    #[test]
    fn lemel_that_grows_in_cleaning_is_refused_by_name() {
        let error = booked(2.0, 3.0).balance().unwrap_err().to_string();
        assert!(error.starts_with("lemel_clean_g is 3 g"), "{error}");
    }

    #[test]
    fn nothing_swept_has_no_share_of_dirt() {
        assert_eq!(booked(0.0, 0.0).balance().unwrap().dirt_share, None);
    }
}
