//! Why a blade is out, in a sentence a jeweller can act on.

use std::fmt;

use crate::slit::Finding;

use super::WhyOut;

impl fmt::Display for WhyOut {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            WhyOut::Depth(finding) => f.write_str(&depth(finding)),
            WhyOut::HeadStartShort { needed_mm, given_mm } => write!(
                f,
                "it needs {needed_mm:.1} mm clear before the coil and has {given_mm:.1} mm"
            ),
            WhyOut::NothingLeft { turns, lost } => {
                write!(f, "of {turns} turns in a full coil {lost} are lost, so none is left")
            }
            WhyOut::TooFewGood { coils, turns } => write!(
                f,
                "by what was tried even {coils} coils of {turns} turns are likely to give too few good rings"
            ),
            WhyOut::NoRod => f.write_str("with its kerf no rod gives the closed ring"),
        }
    }
}

fn depth(finding: Finding) -> String {
    match finding {
        Finding::AboveCoil { gap_mm } => {
            format!("it ends {gap_mm:.2} mm above the coil; lower it or take a larger blade")
        }
        Finding::DoesNotReach { short_by_mm } => {
            format!(
                "it does not part the wire, {short_by_mm:.2} mm short; lower it or take a larger blade"
            )
        }
        Finding::LeavesRim { short_by_mm } => {
            format!("it leaves a rim at the edges of the slot, {short_by_mm:.3} mm short")
        }
        Finding::ReachesFarWall { over_by_mm } => {
            format!("it nicks the far side by {over_by_mm:.2} mm; raise it or take a smaller blade")
        }
        Finding::MarginThin { left_mm, wanted_mm } => format!(
            "it clears the far side by {left_mm:.2} mm, less than the {wanted_mm:.2} mm wanted"
        ),
        Finding::HubTouches { over_by_mm } => {
            format!("its hub touches, {over_by_mm:.2} mm too deep; raise it")
        }
        Finding::PastBladeCentre { over_by_mm } => {
            format!("it would work {over_by_mm:.2} mm past its own centre; raise it")
        }
    }
}
