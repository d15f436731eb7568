//! Style, behaviour and pictures, built into the program.

use axum::Router;
use axum::extract::Path;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE, ETAG, IF_NONE_MATCH};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use rust_embed::RustEmbed;

use crate::state::App;

#[derive(RustEmbed)]
#[folder = "assets"]
struct Assets;

pub(crate) fn routes() -> Router<App> {
    Router::new().route("/assets/{*name}", get(asset))
}

async fn asset(Path(name): Path<String>, headers: HeaderMap) -> Response {
    let Some(file) = Assets::get(&name) else {
        return StatusCode::NOT_FOUND.into_response();
    };
    let tag = file.metadata.sha256_hash().iter().fold(String::from("\""), |mut tag, byte| {
        use std::fmt::Write as _;
        let _ = write!(tag, "{byte:02x}");
        tag
    }) + "\"";
    if headers.get(IF_NONE_MATCH).is_some_and(|known| known.as_bytes() == tag.as_bytes()) {
        return StatusCode::NOT_MODIFIED.into_response();
    }
    let kind = file.metadata.mimetype().to_owned();
    let headers = [(CONTENT_TYPE, kind), (CACHE_CONTROL, "no-cache".to_owned()), (ETAG, tag)];
    (headers, file.data.into_owned()).into_response()
}
