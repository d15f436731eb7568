//! Requests that change something come from a page of ours.

use axum::extract::Request;
use axum::http::header::{HOST, ORIGIN};
use axum::http::{HeaderMap, Method};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use crate::error::PageError;

/// Lets a request through unless its browser says that another site sent it.
pub(super) async fn check(request: Request, next: Next) -> Response {
    let only_looks = matches!(*request.method(), Method::GET | Method::HEAD | Method::OPTIONS);
    if only_looks || comes_from_us(request.headers()) {
        next.run(request).await
    } else {
        PageError::NotOurForm.into_response()
    }
}

/// Browsers send both headers with every form; a program that sends neither is no browser, and
/// still needs a token from one of our pages.
fn comes_from_us(headers: &HeaderMap) -> bool {
    let text = |name: &str| headers.get(name).map(|value| value.to_str().unwrap_or("?"));
    let fetched_by_us = match text("sec-fetch-site") {
        None | Some("same-origin" | "none") => true,
        Some(_) => false,
    };
    let sent_by_us = match text(ORIGIN.as_str()) {
        None => true,
        Some(origin) => {
            let authority = origin.split_once("://").map(|(_, authority)| authority);
            authority.is_some() && authority == text(HOST.as_str())
        }
    };
    fetched_by_us && sent_by_us
}

#[cfg(test)]
mod tests {
    use axum::http::{HeaderMap, HeaderName, HeaderValue};

    use super::comes_from_us;

    fn headers(pairs: &[(&'static str, &'static str)]) -> HeaderMap {
        let pairs = pairs.iter();
        pairs
            .map(|(name, value)| (HeaderName::from_static(name), HeaderValue::from_static(value)))
            .collect()
    }

    #[test]
    fn a_form_of_another_site_is_known_by_either_header() {
        let host = ("host", "127.0.0.1:8040");
        for foreign in [
            [host, ("sec-fetch-site", "cross-site")],
            [host, ("sec-fetch-site", "same-site")],
            [host, ("origin", "http://example.org")],
            [host, ("origin", "http://127.0.0.1:9999")],
            [host, ("origin", "null")],
            [("accept", "*/*"), ("origin", "http://127.0.0.1:8040")],
        ] {
            assert!(!comes_from_us(&headers(&foreign)), "{foreign:?}");
        }
        let ours = [host, ("origin", "http://127.0.0.1:8040"), ("sec-fetch-site", "same-origin")];
        assert!(comes_from_us(&headers(&ours)));
    }
}
