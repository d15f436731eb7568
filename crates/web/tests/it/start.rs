//! The first start, the sample and its removal, serving and stopping.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::Duration;

use axum::body::Body;
use axum::http::{Request, StatusCode};
use linkwright_store::records::{Blade, Rod, Workshop};
use linkwright_web::{serve, served};
use tokio::net::TcpListener;
use tokio::sync::oneshot;
use tower::ServiceExt;

use crate::bench::Bench;

async fn leads_to(bench: &Bench, path: &str) -> Option<String> {
    let request = Request::get(path).header("host", "127.0.0.1:8040").body(Body::empty());
    let answer = served(&bench.app, 8040).oneshot(request.expect("a request")).await;
    let answer = answer.expect("answered");
    answer.headers().get("location").map(|to| to.to_str().expect("text").to_owned())
}

#[tokio::test]
async fn every_page_leads_to_the_welcome_page_until_a_workshop_is_chosen() {
    let bench = Bench::new();
    for path in ["/", "/orders", "/trials/new", "/history"] {
        assert_eq!(leads_to(&bench, path).await.as_deref(), Some("/welcome"), "{path}");
    }
    assert_eq!(leads_to(&bench, "/help/glossary").await, None);
    let nameless = bench.submit("/welcome", "/welcome", &[("name", " ")]).await;
    assert_eq!(nameless.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(nameless.words(".field.wrong .complaint").len(), 1);
    let named = bench.submit("/welcome", "/welcome", &[("name", "Mill Lane bench")]).await;
    assert_eq!(named.location.as_deref(), Some("/"));
    assert_eq!(bench.all::<Workshop>()[0].record.name, "Mill Lane bench");
    assert_eq!(leads_to(&bench, "/").await, None);
    assert_eq!(leads_to(&bench, "/welcome").await.as_deref(), Some("/"));
}

#[tokio::test]
async fn a_name_that_was_typed_comes_back_with_the_complaint() {
    let bench = Bench::new();
    let page = bench.get("/welcome").await;
    assert_eq!(page.attribute("#name", "value"), "");
    assert!(page.words(".chip").iter().all(|chip| chip == "assumed"));
}

#[tokio::test]
async fn the_sample_says_so_on_every_page_and_goes_in_one_step_with_a_backup() {
    let bench = Bench::new();
    bench.submit("/welcome", "/welcome/sample", &[]).await;
    assert!(bench.all::<Workshop>()[0].record.sample);
    for path in ["/", "/history", "/help"] {
        assert_eq!(bench.get(path).await.words("p.sample").len(), 1, "{path}");
    }
    let gone = bench.submit("/workshop/sample", "/workshop/sample", &[]).await;
    assert_eq!(gone.location.as_deref(), Some("/welcome"));
    assert!(bench.all::<Workshop>().is_empty());
    assert!(bench.all::<Rod>().is_empty() && bench.all::<Blade>().is_empty());
    let backups = linkwright_store::backups_of(bench.app.store().path()).expect("listed");
    assert_eq!(backups.len(), 1);
    assert!(bench.get("/history").await.words("tbody tr").is_empty());
}

#[tokio::test]
async fn a_workshop_of_ones_own_is_not_removed_in_one_step() {
    let bench = Bench::with_workshop();
    let asked = bench.get("/workshop/sample").await;
    assert_eq!(asked.location.as_deref(), Some("/workshop"));
    let sent = bench.submit("/help/choices", "/workshop/sample", &[]).await;
    assert_eq!(sent.status, StatusCode::CONFLICT);
    assert_eq!(bench.all::<Workshop>().len(), 1);
}

#[tokio::test(flavor = "multi_thread")]
async fn the_program_stops_within_a_second_though_a_window_is_listening() {
    let bench = Bench::with_workshop();
    let listener = TcpListener::bind("127.0.0.1:0").await.expect("a port");
    let address = listener.local_addr().expect("an address");
    let (stop, stopped) = oneshot::channel::<()>();
    let shutdown = async move {
        let _ = stopped.await;
    };
    let serving = tokio::spawn(serve(bench.app.clone(), listener, shutdown));
    let mut window = TcpStream::connect(address).expect("connected");
    window.set_read_timeout(Some(Duration::from_secs(2))).expect("patience");
    let asked = format!("GET /live HTTP/1.1\r\nhost: {address}\r\n\r\n");
    window.write_all(asked.as_bytes()).expect("sent");
    let mut heard = vec![0; 4096];
    let count = window.read(&mut heard).expect("heard");
    assert!(String::from_utf8_lossy(&heard[..count]).contains("text/event-stream"));

    bench
        .submit(
            "/help/choices",
            "/workshop/rods/new",
            &[("name", "4.0"), ("marked", "4.00 mm"), ("measured", ""), ("note", "")],
        )
        .await;
    let count = window.read(&mut heard).expect("heard within two seconds");
    assert!(String::from_utf8_lossy(&heard[..count]).contains("event: saved"));

    stop.send(()).expect("still serving");
    let ended = tokio::time::timeout(Duration::from_secs(1), serving).await;
    ended.expect("within a second").expect("no panic").expect("a clean end");
}

#[tokio::test]
async fn a_listener_that_others_could_reach_is_refused() {
    let bench = Bench::with_workshop();
    let listener = TcpListener::bind("0.0.0.0:0").await.expect("a port");
    let refused = serve(bench.app.clone(), listener, std::future::pending()).await;
    assert_eq!(refused.expect_err("refused").kind(), std::io::ErrorKind::InvalidInput);
}
