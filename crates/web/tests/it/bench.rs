//! An app over a data file of its own, and what it answers.

use std::time::Duration;

use axum::Router;
use axum::body::Body;
use axum::http::{Request, StatusCode};
use axum::response::Response;
use http_body_util::BodyExt;
use linkwright_store::records::Workshop;
use linkwright_store::{Id, Moment, Record, Saved, Store, StoreError};
use linkwright_web::{App, Clock, app};
use scraper::{Html, Selector};
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
    /// Seconds after which the page asks for itself again.
    pub refresh: Option<String>,
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

    /// The page once it is there, and how often it was not.
    pub async fn once_there(&self, path: &str) -> (Answer, u32) {
        for asked in 0..600 {
            let page = self.get(path).await;
            if page.status != StatusCode::ACCEPTED {
                return (page, asked);
            }
            tokio::time::sleep(Duration::from_millis(100)).await;
        }
        panic!("{path} is never worked out");
    }

    /// The same with a workshop in it that has habits and nothing else.
    pub fn with_workshop() -> Bench {
        let bench = Bench::new();
        let workshop = Workshop {
            name: "Test bench".to_owned(),
            confidence: "95 %".to_owned(),
            end_turns: 2,
            stop_turns: Some(3),
            tails: "40 mm".to_owned(),
            packing: 1.01,
            set_up_minutes: 20.0,
            per_coil_minutes: 8.5,
            sample: false,
            hour_cost_typed: None,
            ring_worth_typed: None,
            scrap_paid_typed: None,
        };
        bench.keep(&workshop);
        bench
    }

    /// Adds a record past the pages.
    pub fn keep<T: Record>(&self, record: &T) -> Id<T> {
        let now = self.app.clock().now();
        let kept: Result<Id<T>, StoreError> =
            self.app.store().act(now, "Kept for a test", |act| act.add(record));
        kept.expect("saved")
    }

    /// All records of a kind.
    pub fn all<T: Record>(&self) -> Vec<Saved<T>> {
        let all: Result<_, StoreError> = self.app.store().read(|view| view.all());
        all.expect("read")
    }

    /// Fills in a form of the page at `path` and sends it to `action`, as its button would.
    pub async fn submit(&self, path: &str, action: &str, fields: &[(&str, &str)]) -> Answer {
        let page = self.get(path).await;
        let token = page.attribute("input[name=token]", "value");
        let mut all = vec![("token", token.as_str())];
        all.extend_from_slice(fields);
        let body = serde_urlencoded::to_string(all).expect("a form");
        self.post_as(action, "application/x-www-form-urlencoded", body).await
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
        let header = |name| {
            let value = response.headers().get(name);
            value.map(|value| value.to_str().expect("plain").to_owned())
        };
        let (location, refresh) = (header("location"), header("refresh"));
        let bytes = response.into_body().collect().await.expect("a whole answer").to_bytes();
        Answer { status, location, refresh, text: String::from_utf8_lossy(&bytes).into_owned() }
    }

    /// The words of every element that matches.
    pub fn words(&self, css: &str) -> Vec<String> {
        let page = Html::parse_document(&self.text);
        let wanted = Selector::parse(css).expect("a selector");
        page.select(&wanted)
            .map(|element| element.text().collect::<String>())
            .map(|text| text.split_whitespace().collect::<Vec<_>>().join(" "))
            .collect()
    }

    /// An attribute of the first element that matches.
    pub fn attribute(&self, css: &str, name: &str) -> String {
        let page = Html::parse_document(&self.text);
        let wanted = Selector::parse(css).expect("a selector");
        let found = page.select(&wanted).next();
        let element = found.unwrap_or_else(|| panic!("no {css} on the page: {}", self.text));
        element.value().attr(name).unwrap_or_default().to_owned()
    }

    /// The answer as JSON.
    pub fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.text).unwrap_or_else(|error| panic!("{error}: {}", self.text))
    }
}
