//! The stream of events that keeps open windows in step.

use std::convert::Infallible;

use axum::Router;
use axum::extract::State;
use axum::response::Sse;
use axum::response::sse::{Event, KeepAlive};
use axum::routing::get;
use tokio_stream::wrappers::{BroadcastStream, WatchStream};
use tokio_stream::{Stream, StreamExt};

use crate::state::App;

pub(crate) fn routes() -> Router<App> {
    Router::new().route("/live", get(live))
}

/// What an open window may hear of.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Heard {
    Saved,
    Stopping,
}

/// One event for every saved action; the stream ends when the program stops, which would
/// otherwise wait for it.
async fn live(State(app): State<App>) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    // Too slow a listener is told once that it missed something, which is all it needs to know.
    let saved = BroadcastStream::new(app.listen()).map(|_| Heard::Saved);
    let stopping = WatchStream::new(app.stopping()).filter(|stopping| *stopping);
    let heard = saved.merge(stopping.map(|_| Heard::Stopping));
    let events = heard
        .take_while(|heard| *heard == Heard::Saved)
        .map(|_| Ok(Event::default().event("saved").data("1")));
    Sse::new(events).keep_alive(KeepAlive::default())
}
