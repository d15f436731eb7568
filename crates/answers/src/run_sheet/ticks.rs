//! What to tick before power is on.

/// Set-up ticks, in the order of the work. Common practice, no source.
pub const SET_UP_TICKS: [&str; 8] = [
    "handpiece separated from the drive, or plug out",
    "blade flat and uncracked, teeth pointing the way they cut",
    "screw tight, blade turns free by hand, key removed",
    "blade in line with the slot of the cover",
    "projection measured",
    "coil taped, seated, clamped no harder than the sheet says",
    "teeth lubricated",
    "eye protection on, bystanders out of the blade's line",
];
