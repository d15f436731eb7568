//! An app over a data file of its own, and what it answers.

use axum::Router;
use axum::body::Body;
use axum::http::{Request, StatusCode};
use axum::response::Response;
use http_body_util::BodyExt;
use linkwright_store::{Moment, Store};
use linkwright_web::{App, Clock, app};
use tempfile::TempDir;
use tower::ServiceExt;

/// The app at half past eight on a November day; its data file goes with it.
pub struct Bench {
    pub app: App,
    router: Router,
    _folder: TempDir,
}

/// What a request got.
pub struct Answer {
    pub status: StatusCode,
    pub location: Option<String>,
    pub text: String,
}

impl Bench {
    /// An app over a fresh data file.
    pub fn new() -> Bench {
        let folder = tempfile::tempdir().expect("a folder");
        let store = Store::open(&folder.path().join("bench.linkwright")).expect("opens");
        let now = Moment::parse("2026-11-25T08:30:00Z").expect("a moment");
        let app = App::new(store, Clock::standing_at(now)).expect("an app");
        Bench { router: self::app(app.clone()), app, _folder: folder }
    }

    /// Sends a request as a browser on this computer would.
    pub async fn send(&self, request: Request<Body>) -> Answer {
        let (mut parts, body) = request.into_parts();
        parts.headers.entry("host").or_insert("127.0.0.1:8040".parse().expect("a host"));
        let request = Request::from_parts(parts, body);
        Answer::of(self.router.clone().oneshot(request).await.expect("answered")).await
    }

    /// Gets a page.
    pub async fn get(&self, path: &str) -> Answer {
        self.send(Request::get(path).body(Body::empty()).expect("a request")).await
    }

    /// Posts text of a kind.
    pub async fn post_as(&self, path: &str, kind: &str, body: impl Into<Body>) -> Answer {
        let request = Request::post(path).header("content-type", kind).body(body.into());
        self.send(request.expect("a request")).await
    }
}

impl Answer {
    async fn of(response: Response) -> Answer {
        let status = response.status();
        let location = response.headers().get("location");
        let location = location.map(|to| to.to_str().expect("an address").to_owned());
        let bytes = response.into_body().collect().await.expect("a whole answer").to_bytes();
        Answer { status, location, text: String::from_utf8_lossy(&bytes).into_owned() }
    }

    /// The answer as JSON.
    pub fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.text).unwrap_or_else(|error| panic!("{error}: {}", self.text))
    }
}
