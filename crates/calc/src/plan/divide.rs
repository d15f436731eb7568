//! How many coils, and how many turns in each: alike, or full with one shorter at the end.

/// One or more coils wound alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CoilGroup {
    /// Coils of this kind.
    pub coils: u32,
    /// Good rings counted on from each.
    pub good_each: u32,
}

/// Two ways to make the same rings in the same number of coils.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Division {
    /// All coils alike.
    pub alike: CoilGroup,
    /// Coils as full as those alike, and a shorter one last; none if the division is even.
    pub shorter_last: Option<(CoilGroup, CoilGroup)>,
}

/// Divides good rings over the fewest coils, as evenly as whole rings allow.
///
/// `coils = ceil(rings / most)`, `good each = ceil(rings / coils)`, and the last coil of the second
/// way makes only what is missing. `None` if a coil cannot give a single good ring.
///
/// # Units
/// Good rings in, coils and good rings out.
/// # Validity
/// Any counts.
/// # Source
/// Arithmetic; own choice to keep coils alike, see `DECISIONS.md`.
///
/// ```
/// use linkwright_calc::plan::{divide, CoilGroup};
/// // 118 rings, at most 44 from a coil: three coils of 40.
/// assert_eq!(divide(118, 44).unwrap().alike, CoilGroup { coils: 3, good_each: 40 });
/// // 1,326 rings, at most 45 from a coil: 30 coils, the last with 21.
/// let (full, last) = divide(1326, 45).unwrap().shorter_last.unwrap();
/// assert_eq!((full.coils, full.good_each, last.good_each), (29, 45, 21));
/// assert_eq!(divide(10, 0), None);
/// ```
#[must_use]
pub fn divide(rings: u32, most_good_each: u32) -> Option<Division> {
    if most_good_each == 0 || rings == 0 {
        return None;
    }
    let coils = rings.div_ceil(most_good_each);
    let good_each = rings.div_ceil(coils);
    // With the fewest coils the last one always has something to make, see the property test.
    let last_good = rings - good_each * (coils - 1);
    Some(Division {
        alike: CoilGroup { coils, good_each },
        shorter_last: (last_good < good_each).then(|| {
            (
                CoilGroup { coils: coils - 1, good_each },
                CoilGroup { coils: 1, good_each: last_good },
            )
        }),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_division_makes_at_least_the_rings_and_no_coil_is_overfull(
            rings in 1_u32..5000, most in 1_u32..200,
        ) {
            let division = divide(rings, most).unwrap();
            prop_assert!(division.alike.coils * division.alike.good_each >= rings);
            prop_assert!(division.alike.good_each <= most);
            if let Some((full, last)) = division.shorter_last {
                prop_assert_eq!(full.coils * full.good_each + last.good_each, rings);
                prop_assert!(last.good_each < full.good_each);
            }
        }
    }

    #[test]
    fn an_even_division_has_no_shorter_coil() {
        assert_eq!(divide(120, 40).unwrap().shorter_last, None);
    }
}
