//! Why an order cannot be worked out, and where to put it right.

use std::sync::Arc;

use linkwright_answers::files::document::FileError;
use linkwright_answers::files::metals_toml::MetalsFileError;
use linkwright_calc::plan::{LineRefused, PlanError};
use thiserror::Error;

/// What stands in the way of a plan.
#[derive(Clone, Debug, Error)]
#[non_exhaustive]
pub(crate) enum Obstacle {
    /// The workshop has no name and no habits yet.
    #[error("the workshop is not set up yet: say what a coil loses and how long it takes")]
    NoWorkshop,
    /// No holder is in use.
    #[error("no holder is in use: say how long a coil yours takes")]
    NoHolder,
    /// The blade whose projection was measured is retired.
    #[error(
        "the blade whose projection was measured is retired: fit another, measure how far it \
         reaches, and note it with the holder"
    )]
    BladeRetired,
    /// There is no such line in the plan.
    #[error("the order has no line \"{line}\"; it may have been renamed")]
    NoSuchLine {
        /// What was looked for.
        line: String,
    },
    /// A value of the order is wrong.
    #[error("{field}: {said}")]
    InOrder {
        /// The line, if it is in one.
        line: Option<String>,
        /// Field as in the order file, such as `wire` or `chain.length`.
        field: String,
        /// What is wrong and what would do.
        said: String,
    },
    /// A value of the workshop is wrong.
    #[error("{field}: {said}")]
    InWorkshop {
        /// Field as in the workshop file, such as `holder length`.
        field: String,
        /// What is wrong and what would do.
        said: String,
    },
    /// One of the workshop's own metals is wrong.
    #[error(transparent)]
    Metals(Arc<MetalsFileError>),
    /// A line cannot be made with what there is.
    #[error(transparent)]
    Line(#[from] LineRefused),
}

impl From<MetalsFileError> for Obstacle {
    fn from(error: MetalsFileError) -> Obstacle {
        Obstacle::Metals(Arc::new(error))
    }
}

impl Obstacle {
    pub(crate) fn in_order(error: FileError) -> Obstacle {
        let (line, field) = match error.field() {
            None => (None, "order".to_owned()),
            Some(field) => in_line(field),
        };
        Obstacle::InOrder { line, field, said: error.said() }
    }

    pub(super) fn in_workshop(error: FileError) -> Obstacle {
        let field = error.field().unwrap_or("workshop").to_owned();
        Obstacle::InWorkshop { field, said: error.said() }
    }

    /// The line it is about, if it is about one.
    pub(crate) fn line(&self) -> Option<&str> {
        match self {
            Obstacle::InOrder { line, .. } => line.as_deref(),
            Obstacle::Line(refused) => Some(&refused.line),
            _ => None,
        }
    }

    /// The field of the order's form it is about, as the order file calls it.
    pub(crate) fn field(&self) -> &str {
        match self {
            Obstacle::InOrder { field, .. } => field,
            Obstacle::Line(LineRefused { problem, .. }) => match problem {
                PlanError::Metal(_) => "metal",
                PlanError::NoRod(_) | PlanError::RingsDoNotLink { .. } => "ring",
                PlanError::RingSizesDoNotSuit { .. }
                | PlanError::NoPieceOfPattern { .. }
                | PlanError::PieceOfOtherRings { .. } => "pattern",
                PlanError::TakesNoSet { .. } => "rod",
                _ => "",
            },
            _ => "",
        }
    }

    /// What is wrong, without where.
    pub(crate) fn said(&self) -> String {
        match self {
            Obstacle::InOrder { said, .. } | Obstacle::InWorkshop { said, .. } => said.clone(),
            other => other.to_string(),
        }
    }

    /// Whether it is put right in the workshop rather than in the order.
    pub(crate) fn is_in_workshop(&self) -> bool {
        match self {
            Obstacle::NoWorkshop
            | Obstacle::NoHolder
            | Obstacle::BladeRetired
            | Obstacle::InWorkshop { .. }
            | Obstacle::Metals(_) => true,
            Obstacle::Line(LineRefused { problem, .. }) => {
                matches!(problem, PlanError::NoBlade | PlanError::NoProjection)
            }
            _ => false,
        }
    }

    /// What is wrong, as a sentence that begins like one.
    pub(crate) fn sentence(&self) -> String {
        let said = match self {
            Obstacle::Line(refused) => match &refused.problem {
                // These two speak of keys of a file; the app has a page for them.
                PlanError::NoBlade => {
                    "the workshop has no blade: add one with its diameter and kerf".to_owned()
                }
                PlanError::NoProjection => "no projection is measured: set one blade, measure how \
                     far it reaches below the top of the coil, and note it with the holder"
                    .to_owned(),
                problem => problem.to_string(),
            },
            other => other.to_string(),
        };
        let mut letters = said.chars();
        letters
            .next()
            .map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
    }
}

/// `line "necklace" wire` as the line and the field.
fn in_line(field: &str) -> (Option<String>, String) {
    let apart = field.strip_prefix("line \"").and_then(|rest| rest.rsplit_once("\" "));
    match apart {
        Some((line, field)) => (Some(line.to_owned()), field.to_owned()),
        None => (None, field.to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::in_line;

    #[test]
    fn a_field_of_the_order_file_is_taken_apart_into_line_and_field() {
        assert_eq!(
            in_line("line \"a \"b\" c\" wire"),
            (Some("a \"b\" c".to_owned()), "wire".to_owned())
        );
        assert_eq!(in_line("date"), (None, "date".to_owned()));
    }
}
