//! What keeps the app to this computer, request by request.

use axum::body::Body;
use axum::http::{HeaderMap, Request, StatusCode};
use http_body_util::BodyExt;
use linkwright_web::served;
use tower::ServiceExt;

use crate::bench::Bench;

const PORT: u16 = 8040;

/// Sends a request through the door; status, headers, text.
async fn through_the_door(
    bench: &Bench,
    request: Request<Body>,
) -> (StatusCode, HeaderMap, String) {
    let answer = served(&bench.app, PORT).oneshot(request).await.expect("answered");
    let (parts, body) = answer.into_parts();
    let bytes = body.collect().await.expect("whole").to_bytes();
    (parts.status, parts.headers, String::from_utf8_lossy(&bytes).into_owned())
}

fn get(path: &str) -> Request<Body> {
    let request = Request::get(path).header("host", "127.0.0.1:8040");
    request.body(Body::empty()).expect("a request")
}

#[tokio::test]
async fn every_answer_carries_the_guards_also_a_refusal() {
    let bench = Bench::with_workshop();
    let foreign = Request::get("/").header("host", "example.org:8040").body(Body::empty());
    let wrong_method =
        Request::delete("/help").header("host", "localhost:8040").body(Body::empty());
    for request in [
        get("/"),
        get("/no-such-page"),
        get("/assets/app.css"),
        get("/assets/none.css"),
        get("/history/rod/not-a-number"),
        foreign.expect("a request"),
        wrong_method.expect("a request"),
    ] {
        let asked = format!("{} {}", request.method(), request.uri());
        let (_, headers, _) = through_the_door(&bench, request).await;
        let policy = headers["content-security-policy"].to_str().expect("text");
        for rule in ["default-src 'none'", "script-src 'self'", "frame-ancestors 'none'"] {
            assert!(policy.contains(rule), "{asked}: {policy}");
        }
        assert!(!policy.contains("unsafe"), "{asked}: {policy}");
        assert_eq!(headers["x-content-type-options"], "nosniff", "{asked}");
        assert_eq!(headers["referrer-policy"], "same-origin", "{asked}");
        assert_eq!(headers["cross-origin-opener-policy"], "same-origin", "{asked}");
    }
}

#[tokio::test]
async fn another_name_for_this_computer_is_turned_away() {
    let bench = Bench::with_workshop();
    for host in ["example.org:8040", "127.0.0.1:9", "127.0.0.1"] {
        let request = Request::get("/").header("host", host).body(Body::empty());
        let (status, _, text) = through_the_door(&bench, request.expect("a request")).await;
        assert_eq!(status, StatusCode::MISDIRECTED_REQUEST, "{host}");
        assert!(!text.contains("Done last"), "{host}");
    }
    assert_eq!(through_the_door(&bench, get("/")).await.0, StatusCode::OK);
}

#[tokio::test]
async fn a_form_of_another_site_or_without_a_token_changes_nothing() {
    let bench = Bench::with_workshop();
    let page = bench.get("/help/choices").await;
    let token = page.attribute("input[name=token]", "value");
    let form = |body: String| {
        Request::post("/help/choices")
            .header("host", "127.0.0.1:8040")
            .header("content-type", "application/x-www-form-urlencoded")
            .body(Body::from(body))
            .expect("a request")
    };
    let whole = format!("token={token}&scheme=dark&hand=left");
    for (name, value) in [
        ("origin", "http://example.org"),
        ("sec-fetch-site", "cross-site"),
        ("sec-fetch-site", "same-site"),
    ] {
        let mut foreign = form(whole.clone());
        foreign.headers_mut().insert(name, value.parse().expect("a value"));
        let (status, headers, _) = through_the_door(&bench, foreign).await;
        assert_eq!(status, StatusCode::FORBIDDEN, "{name}: {value}");
        assert!(!headers.contains_key("set-cookie"));
    }
    let (status, ..) = through_the_door(&bench, form("scheme=dark&hand=left".to_owned())).await;
    assert_eq!(status, StatusCode::FORBIDDEN);
    let (status, headers, _) = through_the_door(&bench, form(whole)).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    let cookie = headers["set-cookie"].to_str().expect("text");
    assert!(cookie.starts_with("looks=dark.left;") && cookie.contains("HttpOnly"), "{cookie}");
}

#[tokio::test]
async fn what_cannot_be_read_gets_our_page_with_ways_on() {
    let bench = Bench::with_workshop();
    let urlencoded = "application/x-www-form-urlencoded";
    let refused = [
        (bench.get("/no-such-page").await, StatusCode::NOT_FOUND),
        (bench.get("/assets/none.js").await, StatusCode::NOT_FOUND),
        (bench.get("/history/rod/x").await, StatusCode::BAD_REQUEST),
        (bench.get("/history?before=x").await, StatusCode::BAD_REQUEST),
        (bench.get("/undo").await, StatusCode::METHOD_NOT_ALLOWED),
        (
            bench.post_as("/undo", urlencoded, "a".repeat(300 * 1024)).await,
            StatusCode::PAYLOAD_TOO_LARGE,
        ),
        (bench.post_as("/undo", "text/plain", "token=x").await, StatusCode::BAD_REQUEST),
        (bench.post_as("/undo", urlencoded, "%ff=%00").await, StatusCode::FORBIDDEN),
    ];
    for (answer, status) in refused {
        assert_eq!(answer.status, status, "{}", answer.text);
        assert_eq!(answer.words("h1"), ["That did not work"]);
        assert!(answer.words("main li a").contains(&"Orders".to_owned()), "{}", answer.text);
    }
}

#[test]
fn nothing_that_is_served_names_an_address_elsewhere() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let answers = root.join("../answers/templates");
    let mut folders = vec![root.join("assets"), root.join("templates"), answers];
    let mut looked_at = 0;
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            let text = std::fs::read_to_string(&path).expect("text");
            // A namespace is a name, not an address that is fetched.
            let text = text.replace("http://www.w3.org/2000/svg", "");
            let text = text.replace("http://www.w3.org/1999/xlink", "");
            let text = text.replace("http://www.w3.org/1999/xhtml", "");
            for scheme in ["http://", "https://", "src=\"//", "href=\"//", "url(//"] {
                assert!(!text.contains(scheme), "{} holds {scheme}", path.display());
            }
            looked_at += 1;
        }
    }
    assert!(looked_at > 20, "only {looked_at} files");
}
