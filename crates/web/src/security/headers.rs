//! Headers that tell the browser what a page of ours never does.

use axum::http::header::{
    CACHE_CONTROL, CONTENT_SECURITY_POLICY, REFERRER_POLICY, X_CONTENT_TYPE_OPTIONS,
    X_FRAME_OPTIONS,
};
use axum::http::{HeaderName, HeaderValue};
use axum::response::Response;

const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; \
    img-src 'self' data:; connect-src 'self'; form-action 'self'; frame-ancestors 'none'; \
    base-uri 'none'";

const ALWAYS: [(HeaderName, &str); 7] = [
    (CONTENT_SECURITY_POLICY, POLICY),
    (X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (X_FRAME_OPTIONS, "DENY"),
    (REFERRER_POLICY, "same-origin"),
    (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
    (
        HeaderName::from_static("permissions-policy"),
        "screen-wake-lock=(self), camera=(), microphone=(), geolocation=(), usb=(), payment=()",
    ),
];

/// Adds them to an answer, whatever it is.
pub(super) async fn add(mut answer: Response) -> Response {
    let headers = answer.headers_mut();
    for (name, value) in ALWAYS {
        headers.insert(name, HeaderValue::from_static(value));
    }
    // A page shows the data file as it is now; what the back button brings may be older.
    headers.entry(CACHE_CONTROL).or_insert(HeaderValue::from_static("no-cache"));
    answer
}
