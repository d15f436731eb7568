//! The check list before power: its items in the order of the work.

/// One item of the list; common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Check {
    /// The word it is kept as.
    pub(crate) word: &'static str,
    /// What is ticked.
    pub(crate) text: &'static str,
}

/// The item that comes first and cannot be gone without.
pub(crate) const DRIVE: &str = "drive";

/// The item that is ticked by measuring.
pub(crate) const PROJECTION: &str = "projection";

/// What is ticked when clamping: tape round the coil; common practice, no source.
pub(crate) const TAPE: &str = "tape";

/// All items, in order.
pub(crate) const CHECKS: [Check; 9] = [
    Check { word: DRIVE, text: "Handpiece separated from the drive, or plug out" },
    Check { word: "flat", text: "Blade flat and uncracked" },
    Check { word: "teeth", text: "Teeth point the way they cut" },
    Check { word: "slot", text: "Blade in line with the slot of the cover" },
    Check { word: "screw", text: "Screw tight, turns free by hand, key removed" },
    Check { word: PROJECTION, text: "Projection measured" },
    Check { word: "lubricant", text: "Teeth lubricated" },
    Check { word: "guard", text: "Guard and cover in place" },
    Check { word: "eyes", text: "Eye protection on, nobody in the blade's line" },
];

/// The item kept as this word.
pub(crate) fn check(word: &str) -> Option<Check> {
    CHECKS.into_iter().find(|check| check.word == word)
}
