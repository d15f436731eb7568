//! Serving on this computer until told to stop.

use std::future::Future;
use std::io;
use std::time::Duration;

use axum::Router;
use tokio::net::TcpListener;

use crate::security::only_at_port;
use crate::state::App;
use crate::welcome;

/// Requests still under way when the program is told to stop have this long.
const GRACE: Duration = Duration::from_millis(500);

/// The app as it is served at a port of this computer: behind its door, and with the first start.
pub fn served(app: &App, port: u16) -> Router {
    only_at_port(welcome::first(app, crate::app(app.clone())), port)
}

/// Serves until `shutdown` is done, then ends open event streams and returns within a second.
///
/// # Errors
/// If the listener is not on a loopback address, or fails.
pub async fn serve(
    app: App,
    listener: TcpListener,
    shutdown: impl Future<Output = ()> + Send + 'static,
) -> io::Result<()> {
    let address = listener.local_addr()?;
    if !address.ip().is_loopback() {
        return Err(io::Error::new(
            io::ErrorKind::InvalidInput,
            "the app serves this computer only: bind a loopback address",
        ));
    }
    let pages = served(&app, address.port());
    let mut stopping = app.stopping();
    let serving = axum::serve(listener, pages).with_graceful_shutdown(async move {
        shutdown.await;
        app.stop();
    });
    let grace_is_over = async move {
        // The sender lives as long as the app, so this waits for the signal.
        let _ = stopping.wait_for(|stopping| *stopping).await;
        tokio::time::sleep(GRACE).await;
    };
    tokio::select! {
        ended = serving => ended,
        () = grace_is_over => Ok(()),
    }
}
