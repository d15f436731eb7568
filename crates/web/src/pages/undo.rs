//! Taking the last action back, from any page.

use axum::Router;
use axum::extract::State;
use axum::http::HeaderMap;
use axum::http::header::REFERER;
use axum::response::Redirect;
use axum::routing::post;
use serde::Deserialize;

use crate::error::PageError;
use crate::form::Sent;
use crate::state::App;

pub(crate) fn routes() -> Router<App> {
    Router::new().route("/undo", post(undo))
}

#[derive(Deserialize)]
struct Nothing {}

async fn undo(
    State(app): State<App>,
    headers: HeaderMap,
    form: Sent<Nothing>,
) -> Result<Redirect, PageError> {
    app.undo_last(&form.token).await?;
    Ok(Redirect::to(&path_of(headers.get(REFERER).and_then(|from| from.to_str().ok()))))
}

/// The path of an address on this app; the front page if there is none.
fn path_of(address: Option<&str>) -> String {
    let path = address.and_then(|address| {
        let (_, after_scheme) = address.split_once("://")?;
        let (_, path) = after_scheme.split_once('/')?;
        Some(format!("/{path}"))
    });
    path.filter(|path| !path.starts_with("//")).unwrap_or_else(|| "/".to_owned())
}

#[cfg(test)]
mod tests {
    use super::path_of;

    #[test]
    fn undo_leads_back_to_the_page_it_was_pressed_on_and_nowhere_else() {
        assert_eq!(path_of(Some("http://127.0.0.1:8040/orders/3?x=1")), "/orders/3?x=1");
        assert_eq!(path_of(Some("http://127.0.0.1:8040//elsewhere")), "/");
        assert_eq!(path_of(None), "/");
    }
}
