//! What goes wrong with a request: an outside half that is shown, an inside half that is logged.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use linkwright_store::{Conflict, StoreError};
use thiserror::Error;

use crate::frame::{being_worked_out, error_page};
use crate::planning::Obstacle;

/// A request that cannot be answered as asked.
#[derive(Debug, Error)]
#[non_exhaustive]
pub(crate) enum PageError {
    /// There is no such page or record.
    #[error("there is no {what} here; it may have been removed")]
    NotFound {
        /// What was looked for.
        what: &'static str,
    },
    /// There is no such place, as the words say.
    #[error("{0}")]
    Nowhere(String),
    /// The form is not ours, or too old.
    #[error(
        "this form was not made by this app, or the page is too old; open the page again and repeat the last entry"
    )]
    NotOurForm,
    /// More was sent than a form may hold.
    #[error("what was sent is too large, so nothing was saved; send less at a time")]
    TooLarge,
    /// What was sent cannot be read.
    #[error("{0}")]
    Unreadable(String),
    /// What was typed or tapped will not do; the page is shown again with the words beside the field.
    #[error("{said}")]
    WillNotDo {
        /// The field.
        field: &'static str,
        /// What is wrong and what would do.
        said: String,
    },
    /// The data file refuses.
    #[error("{0}")]
    Refused(Conflict),
    /// An order cannot be worked out, so nothing can be started from it.
    #[error("{}", _0.sentence())]
    CannotPlan(#[from] Box<Obstacle>),
    /// It is being worked out beside the pages; the page asks again by itself.
    #[error("{what} is being worked out; that takes {takes}")]
    BeingWorkedOut {
        /// What is, as a sentence begins.
        what: &'static str,
        /// How long that takes.
        takes: &'static str,
    },
    /// Something inside failed; the text is for the log only.
    #[error("something went wrong inside; nothing was saved")]
    Inside(#[source] Box<dyn std::error::Error + Send + Sync>),
}

impl PageError {
    fn status(&self) -> StatusCode {
        match self {
            PageError::NotFound { .. } | PageError::Nowhere(_) => StatusCode::NOT_FOUND,
            PageError::NotOurForm => StatusCode::FORBIDDEN,
            PageError::TooLarge => StatusCode::PAYLOAD_TOO_LARGE,
            PageError::Unreadable(_) => StatusCode::BAD_REQUEST,
            PageError::WillNotDo { .. } => StatusCode::UNPROCESSABLE_ENTITY,
            PageError::Refused(_) => StatusCode::CONFLICT,
            PageError::CannotPlan(_) => StatusCode::UNPROCESSABLE_ENTITY,
            PageError::BeingWorkedOut { .. } => StatusCode::ACCEPTED,
            PageError::Inside(_) => StatusCode::INTERNAL_SERVER_ERROR,
        }
    }
}

impl From<StoreError> for PageError {
    fn from(error: StoreError) -> PageError {
        match error {
            StoreError::NotFound { record, .. } => PageError::NotFound { what: record },
            StoreError::Conflict(conflict) => PageError::Refused(conflict),
            other => PageError::Inside(Box::new(other)),
        }
    }
}

impl From<Obstacle> for PageError {
    fn from(obstacle: Obstacle) -> PageError {
        PageError::CannotPlan(Box::new(obstacle))
    }
}

impl From<tokio::task::JoinError> for PageError {
    fn from(error: tokio::task::JoinError) -> PageError {
        PageError::Inside(Box::new(error))
    }
}

impl From<askama::Error> for PageError {
    fn from(error: askama::Error) -> PageError {
        PageError::Inside(Box::new(error))
    }
}

impl IntoResponse for PageError {
    fn into_response(self) -> Response {
        if let PageError::Inside(source) = &self {
            tracing::error!(error = %source, "a request failed");
        }
        if let PageError::BeingWorkedOut { .. } = &self {
            return being_worked_out(self.status(), &self.to_string());
        }
        error_page(self.status(), &self.to_string())
    }
}
