//! What every request can reach.

use std::sync::Arc;

use linkwright_store::{Act, Moment, Store, StoreError, View};
use tokio::sync::{broadcast, watch};

use crate::choices::Choices;
use crate::clock::Clock;
use crate::error::PageError;
use crate::form::Token;
use crate::form::Tokens;
use crate::learning;

/// The app over one data file; a clone is the same app.
#[derive(Clone)]
pub struct App {
    inner: Arc<Inner>,
}

struct Inner {
    store: Store,
    clock: Clock,
    tokens: Tokens,
    learning: learning::Kept,
    saved: broadcast::Sender<()>,
    stopping: watch::Sender<bool>,
}

/// Signals a slow listener may miss before it is told to look afresh.
const SIGNALS_KEPT: usize = 64;

impl App {
    /// The app over an opened data file.
    ///
    /// # Errors
    /// If the file cannot be read or written.
    pub fn new(store: Store, clock: Clock) -> Result<App, StoreError> {
        let tokens = Tokens::of(&store)?;
        let (saved, _) = broadcast::channel(SIGNALS_KEPT);
        let (stopping, _) = watch::channel(false);
        Ok(App {
            inner: Arc::new(Inner {
                store,
                clock,
                tokens,
                learning: learning::Kept::default(),
                saved,
                stopping,
            }),
        })
    }

    /// The data file.
    #[must_use]
    pub fn store(&self) -> &Store {
        &self.inner.store
    }

    /// The clock.
    #[must_use]
    pub fn clock(&self) -> &Clock {
        &self.inner.clock
    }

    /// What the trials on record teach.
    pub(crate) fn taught(&self, view: &View<'_>) -> Result<learning::Taught, StoreError> {
        self.inner.learning.taught(view)
    }

    /// What vouches for forms.
    pub(crate) fn tokens(&self) -> &Tokens {
        &self.inner.tokens
    }

    /// Hears of every saved action, whichever window did it.
    pub(crate) fn listen(&self) -> broadcast::Receiver<()> {
        self.inner.saved.subscribe()
    }

    /// Tells every open stream that the program stops.
    pub(crate) fn stop(&self) {
        self.inner.stopping.send_replace(true);
    }

    /// Turns true when the program stops.
    pub(crate) fn stopping(&self) -> watch::Receiver<bool> {
        self.inner.stopping.subscribe()
    }

    /// Reads from one consistent look at the data file, off the threads that serve.
    pub(crate) async fn read<T: Send + 'static>(
        &self,
        look: impl FnOnce(&View<'_>) -> Result<T, PageError> + Send + 'static,
    ) -> Result<T, PageError> {
        let (app, choices) = (self.clone(), Choices::of_this_request());
        tokio::task::spawn_blocking(move || choices.around(|| app.store().read(look))).await?
    }

    /// Does what a form asks, once however often it is sent; `None` if it had been done before.
    /// All of it is on the disk when this returns.
    pub(crate) async fn act<T: Send + 'static>(
        &self,
        token: &Token,
        what: String,
        doing: impl FnOnce(&Act<'_>) -> Result<T, PageError> + Send + 'static,
    ) -> Result<Option<T>, PageError> {
        let (app, token) = (self.clone(), token.clone());
        tokio::task::spawn_blocking(move || {
            let now: Moment = app.clock().now();
            let done = app.store().act_once(now, &what, token.text(), doing)?;
            // Nobody listening is no fault.
            let _ = app.inner.saved.send(());
            Ok(done)
        })
        .await?
    }

    /// Removes the sample workshop with all its records, keeping a copy of the file.
    pub(crate) async fn remove_sample(&self) -> Result<(), PageError> {
        let app = self.clone();
        tokio::task::spawn_blocking(move || {
            app.store().remove_sample(app.clock().now())?;
            let _ = app.inner.saved.send(());
            Ok(())
        })
        .await?
    }

    /// Takes the last action back, once however often the button is sent; `None` if it had been.
    pub(crate) async fn undo_last(&self, token: &Token) -> Result<Option<String>, PageError> {
        let (app, token) = (self.clone(), token.clone());
        tokio::task::spawn_blocking(move || {
            let what = app.store().undo_last_once(app.clock().now(), token.text())?;
            let _ = app.inner.saved.send(());
            Ok(what)
        })
        .await?
    }
}
