//! What tells one version of a public sheet from another.

use serde::Serialize;

/// What the foot of a public sheet says: which version it is, of when, and what it rests on.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Edition {
    /// The day it was made, as 2026-11-25.
    pub date: String,
    /// Which version it is, such as "Version 3" or "Draft".
    pub version: String,
    /// How many trials it rests on.
    pub trials: u32,
}

impl Edition {
    /// As one line.
    pub(crate) fn line(&self) -> String {
        let trials = match self.trials {
            0 => "rests on no trials".to_owned(),
            1 => "rests on 1 trial".to_owned(),
            trials => format!("rests on {trials} trials"),
        };
        format!("{}, {}; {trials}", self.version, self.date)
    }
}

#[cfg(test)]
mod tests {
    use super::Edition;

    #[test]
    fn the_line_says_version_day_and_trials() {
        let edition = Edition { date: "2026-11-25".into(), version: "Version 3".into(), trials: 1 };
        assert_eq!(edition.line(), "Version 3, 2026-11-25; rests on 1 trial");
    }
}
