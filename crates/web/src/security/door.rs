//! The door: requests are answered only under this computer's own names and our port.
//!
//! Without it, a page of some other site could have its name point at this computer and read
//! our pages as if they were its own.

use axum::Router;
use axum::extract::{Request, State};
use axum::http::header::HOST;
use axum::http::uri::Authority;
use axum::http::{HeaderMap, StatusCode};
use axum::middleware::{Next, from_fn_with_state, map_response};
use axum::response::Response;

use super::headers;
use crate::frame::error_page;

/// Names under which only this computer reaches itself.
const OWN_NAMES: [&str; 3] = ["127.0.0.1", "localhost", "[::1]"];

/// Port of addresses that name none.
const PORT_OF_HTTP: u16 = 80;

/// Answers only requests addressed to this computer at this port.
pub(crate) fn only_at_port(pages: Router, port: u16) -> Router {
    pages.layer(from_fn_with_state(port, check)).layer(map_response(headers::add))
}

async fn check(State(port): State<u16>, request: Request, next: Next) -> Response {
    let named_in_line = request.uri().authority();
    if names_us(request.headers(), port) && named_in_line.is_none_or(|named| is_ours(named, port)) {
        next.run(request).await
    } else {
        error_page(
            StatusCode::MISDIRECTED_REQUEST,
            "this app answers on this computer only, under the address it printed when it started",
        )
    }
}

fn names_us(headers: &HeaderMap, port: u16) -> bool {
    let mut hosts = headers.get_all(HOST).iter();
    let (Some(host), None) = (hosts.next(), hosts.next()) else {
        return false;
    };
    let named = host.to_str().ok().and_then(|host| host.parse::<Authority>().ok());
    named.is_some_and(|named| is_ours(&named, port))
}

fn is_ours(named: &Authority, port: u16) -> bool {
    let is_own_name = OWN_NAMES.iter().any(|own| named.host().eq_ignore_ascii_case(own));
    is_own_name && !named.as_str().contains('@') && named.port_u16().unwrap_or(PORT_OF_HTTP) == port
}

#[cfg(test)]
mod tests {
    use axum::http::HeaderMap;
    use axum::http::HeaderValue;

    use super::names_us;

    fn is_let_in(host: &'static str) -> bool {
        let mut headers = HeaderMap::new();
        headers.insert("host", HeaderValue::from_static(host));
        names_us(&headers, 8040)
    }

    #[test]
    fn only_this_computers_names_with_our_port_are_let_in() {
        for own in ["127.0.0.1:8040", "localhost:8040", "LOCALHOST:8040", "[::1]:8040"] {
            assert!(is_let_in(own), "{own}");
        }
        for other in [
            "127.0.0.1",
            "127.0.0.1:8041",
            "example.org:8040",
            "localhost.example.org:8040",
            "127.0.0.1:8040@example.org",
            "someone@127.0.0.1:8040",
            "",
            "bench.local:8040",
        ] {
            assert!(!is_let_in(other), "{other}");
        }
    }

    #[test]
    fn a_request_with_no_host_or_two_is_not_let_in() {
        let mut headers = HeaderMap::new();
        assert!(!names_us(&headers, 8040));
        headers.append("host", HeaderValue::from_static("127.0.0.1:8040"));
        headers.append("host", HeaderValue::from_static("example.org"));
        assert!(!names_us(&headers, 8040));
    }
}
