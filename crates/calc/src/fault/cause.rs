//! Symptoms and their possible causes, each with a check and a remedy.

use super::table::SYMPTOMS;

/// How much work a check is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Effort {
    /// A look or a touch.
    Look,
    /// A measuring tool.
    Measure,
    /// Stripping or sorting.
    Strip,
    /// About an hour.
    Hour,
    /// A day, or outside help.
    Day,
}

impl Effort {
    /// Minutes the check takes, by and large.
    pub const fn minutes(self) -> f64 {
        match self {
            Effort::Look => 0.5,
            Effort::Measure => 3.0,
            Effort::Strip => 15.0,
            Effort::Hour => 60.0,
            Effort::Day => 480.0,
        }
    }

    /// The work in words.
    pub const fn words(self) -> &'static str {
        match self {
            Effort::Look => "a look or a touch",
            Effort::Measure => "a measuring tool",
            Effort::Strip => "stripping or sorting",
            Effort::Hour => "about an hour",
            Effort::Day => "a day, or outside help",
        }
    }
}

/// One possible cause of a symptom.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cause {
    /// Its code, which records keep, such as "F06d".
    pub code: &'static str,
    /// In words.
    pub words: &'static str,
    /// Its share among the causes of the symptom before anything was recorded, percent; a judgement.
    pub share_percent: f64,
    /// How much work the check is.
    pub effort: Effort,
    /// How to check for it.
    pub check: &'static str,
    /// What to do if it is this.
    pub remedy: &'static str,
}

/// Something that goes wrong.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Symptom {
    /// Its code, which records keep, such as "F06".
    pub code: &'static str,
    /// In words.
    pub words: &'static str,
    /// Its possible causes, in the order in which they were first listed.
    pub causes: &'static [Cause],
}

/// All symptoms, in the order of the work.
pub const fn symptoms() -> &'static [Symptom] {
    SYMPTOMS
}

/// The symptom with this code.
///
/// # Units
/// None.
/// # Validity
/// Codes of `data/faults.csv`.
/// # Source
/// `data/faults.csv`; trade judgement, see `data/SOURCES.md`.
///
/// ```
/// use linkwright_calc::fault::symptom;
/// assert_eq!(symptom("F06").unwrap().words, "Rings uncut at the stop end");
/// assert!(symptom("F99").is_none());
/// ```
pub fn symptom(code: &str) -> Option<&'static Symptom> {
    SYMPTOMS.iter().find(|symptom| symptom.code == code)
}

#[cfg(test)]
mod tests {
    use super::symptoms;

    #[test]
    fn the_shares_of_every_symptom_add_to_a_hundred() {
        assert_eq!(symptoms().len(), 22);
        for symptom in symptoms() {
            let sum: f64 = symptom.causes.iter().map(|cause| cause.share_percent).sum();
            assert!((sum - 100.0).abs() < 1e-9, "{}: {sum}", symptom.code);
        }
    }

    #[test]
    fn a_cause_is_named_after_its_symptom_and_no_two_alike() {
        for symptom in symptoms() {
            for (at, cause) in symptom.causes.iter().enumerate() {
                assert!(cause.code.starts_with(symptom.code), "{}", cause.code);
                let again = symptom.causes[..at].iter().any(|other| other.code == cause.code);
                assert!(!again, "{}", cause.code);
            }
        }
    }
}
