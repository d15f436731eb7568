//! The first start: until a workshop is chosen, every page leads to the welcome page.

use axum::Router;
use axum::extract::{Request, State};
use axum::middleware::{Next, from_fn_with_state};
use axum::response::{IntoResponse, Redirect, Response};

use crate::state::App;

/// Where a workshop is chosen.
pub(crate) const ADDRESS: &str = "/welcome";

/// Addresses that make sense without a workshop.
const OPEN_TO_ALL: [&str; 5] = [ADDRESS, "/assets/", "/help", "/api/", "/live"];

/// Leads to the welcome page while the data file holds no workshop.
pub(crate) fn first(app: &App, pages: Router) -> Router {
    pages.layer(from_fn_with_state(app.clone(), lead))
}

async fn lead(State(app): State<App>, request: Request, next: Next) -> Response {
    if OPEN_TO_ALL.iter().any(|open| request.uri().path().starts_with(open)) {
        return next.run(request).await;
    }
    match app.has_workshop().await {
        Ok(true) => next.run(request).await,
        Ok(false) => Redirect::to(ADDRESS).into_response(),
        Err(error) => error.into_response(),
    }
}
