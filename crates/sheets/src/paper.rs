//! The two sizes of paper.

/// A size of paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Paper {
    /// ISO 216, 210 x 297 mm.
    #[default]
    A4,
    /// ANSI letter, 8.5 x 11 in.
    Letter,
}

impl Paper {
    /// Both sizes.
    pub const ALL: [Paper; 2] = [Paper::A4, Paper::Letter];

    /// The paper of a name as people type it; `None` if it is neither.
    #[must_use]
    pub fn named(typed: &str) -> Option<Paper> {
        Paper::ALL.into_iter().find(|paper| paper.name().eq_ignore_ascii_case(typed.trim()))
    }

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Paper::A4 => "A4",
            Paper::Letter => "Letter",
        }
    }

    /// Its name in the typesetter.
    pub(crate) const fn set_as(self) -> &'static str {
        match self {
            Paper::A4 => "a4",
            Paper::Letter => "us-letter",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Paper;

    #[test]
    fn a_paper_is_known_by_its_name_however_it_is_typed() {
        assert_eq!(Paper::named(" letter "), Some(Paper::Letter));
        assert_eq!(Paper::named("a4"), Some(Paper::A4));
        assert_eq!(Paper::named("a5"), None);
    }
}
