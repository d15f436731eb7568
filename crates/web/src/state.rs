//! What every request can reach.

use std::collections::HashSet;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use axum::body::Body;
use linkwright_store::export::ExportError;
use linkwright_store::records::Workshop;
use linkwright_store::{Act, Moment, Store, StoreError, View};
use tokio::sync::{OwnedSemaphorePermit, Semaphore, broadcast, watch};

use crate::choices::Choices;
use crate::clock::Clock;
use crate::error::PageError;
use crate::form::Token;
use crate::form::Tokens;
use crate::learning;
use crate::pieces::Pieces;

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
    pages: Arc<Semaphore>,
    files: Arc<Semaphore>,
    writing: Arc<Semaphore>,
    chosen: Mutex<Chosen>,
    under_way: Mutex<HashSet<&'static str>>,
    saved: broadcast::Sender<()>,
    stopping: watch::Sender<bool>,
}

/// Whether a workshop is known to have been chosen, and how often one may have been taken away: a
/// look that began before must not say that it is there.
#[derive(Default)]
struct Chosen {
    known: bool,
    taken_away: u64,
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
        let (pages, files, writing) = (queue(pages_at_once()), queue(1), queue(1));
        let chosen = Mutex::new(Chosen::default());
        let learning = learning::Kept::default();
        let inner = Inner {
            store,
            clock,
            tokens,
            learning,
            pages,
            files,
            writing,
            chosen,
            under_way: Mutex::default(),
            saved,
            stopping,
        };
        Ok(App { inner: Arc::new(inner) })
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

    /// What the trials on record teach, for a page that must not wait: of many trials it may be
    /// what was known before the last change.
    ///
    /// # Errors
    /// [`PageError::BeingWorkedOut`] if many trials are learned from for the first time.
    pub(crate) fn taught(&self, view: &View<'_>) -> Result<Arc<learning::Taught>, PageError> {
        self.taught_at_hand(view)?.ok_or(PageError::BeingWorkedOut {
            what: "What your trials teach",
            takes: "some seconds with thousands of trials, once after each start",
        })
    }

    /// The same for what a page can do without.
    pub(crate) fn taught_at_hand(
        &self,
        view: &View<'_>,
    ) -> Result<Option<Arc<learning::Taught>>, StoreError> {
        self.inner.learning.at_hand(view, || self.learn_beside())
    }

    /// The same for what is saved or printed for good: it waits until all is learned.
    pub(crate) fn taught_by_all(
        &self,
        view: &View<'_>,
    ) -> Result<Arc<learning::Taught>, StoreError> {
        self.inner.learning.learned_now(view)
    }

    fn learn_beside(&self) {
        self.beside("learning", |app, view| app.taught_by_all(view).map(|_| true));
    }

    /// Works something out while pages are answered, unless that is under way. Open windows hear of
    /// it when it is done, if `work` says that there is something to see.
    pub(crate) fn beside(
        &self,
        what: &'static str,
        work: impl FnOnce(&App, &View<'_>) -> Result<bool, StoreError> + Send + 'static,
    ) {
        if !locked(&self.inner.under_way).insert(what) {
            return;
        }
        let under_way = UnderWay { app: self.clone(), what };
        tokio::task::spawn_blocking(move || {
            let app = &under_way.app;
            let worked_out = app.store().read(|view| work(app, view));
            // Whoever asks from now on finds it done.
            locked(&app.inner.under_way).remove(what);
            match worked_out {
                Ok(true) => app.tell(),
                Ok(false) => {}
                Err(error) => tracing::error!(%error, what, "not worked out"),
            }
        });
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

    /// Reads from one consistent look at the data file for a page, off the threads that serve.
    ///
    /// Only as many look at once as there is room to work; the others wait their turn, which is
    /// over sooner than if all went on together, and each look keeps memory of its own.
    pub(crate) async fn read<T: Send + 'static>(
        &self,
        look: impl FnOnce(&View<'_>) -> Result<T, PageError> + Send + 'static,
    ) -> Result<T, PageError> {
        let (app, choices) = (self.clone(), Choices::of_this_request());
        in_turn(&self.inner.pages, move || choices.around(|| app.store().read(look))).await
    }

    /// Answers with a file that is sent while it is written; one at a time, and no page waits for
    /// it.
    pub(crate) async fn send_file(
        &self,
        write: impl FnOnce(&View<'_>, &mut Pieces) -> Result<(), ExportError> + Send + 'static,
    ) -> Result<Body, PageError> {
        let turn = turn_in(&self.inner.files).await?;
        let (app, (mut pieces, body)) = (self.clone(), Pieces::new());
        tokio::task::spawn_blocking(move || {
            let written = app.store().read(|view| write(view, &mut pieces));
            match written.and_then(|()| Ok(pieces.end()?)) {
                // Whoever asked has hung up.
                Ok(()) | Err(ExportError::Write(_)) => {}
                Err(error) => tracing::error!(%error, "a file broke off"),
            }
            drop(turn);
        });
        Ok(body)
    }

    /// Whether a workshop was chosen. Asked before every page, so the answer is kept; whatever may
    /// take a workshop away has it asked again.
    pub(crate) async fn has_workshop(&self) -> Result<bool, PageError> {
        let taken_away = {
            let chosen = self.chosen();
            if chosen.known {
                return Ok(true);
            }
            chosen.taken_away
        };
        let is_there = self.read(|view| Ok(view.count::<Workshop>()? > 0)).await?;
        let mut chosen = self.chosen();
        chosen.known = is_there && chosen.taken_away == taken_away;
        Ok(is_there)
    }

    fn chosen(&self) -> MutexGuard<'_, Chosen> {
        locked(&self.inner.chosen)
    }

    /// Something was saved: every open window hears of it.
    fn tell(&self) {
        // Nobody listening is no fault.
        let _ = self.inner.saved.send(());
    }

    /// The workshop itself may be gone.
    fn tell_of_taking_away(&self) {
        let mut chosen = self.chosen();
        chosen.known = false;
        chosen.taken_away += 1;
        drop(chosen);
        self.tell();
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
        in_turn(&self.inner.writing, move || {
            let now: Moment = app.clock().now();
            let done = app.store().act_once(now, &what, token.text(), doing)?;
            app.tell();
            Ok(done)
        })
        .await
    }

    /// Removes the sample workshop with all its records, keeping a copy of the file.
    pub(crate) async fn remove_sample(&self) -> Result<(), PageError> {
        let app = self.clone();
        in_turn(&self.inner.writing, move || {
            app.store().remove_sample(app.clock().now())?;
            app.tell_of_taking_away();
            Ok(())
        })
        .await
    }

    /// Takes the last action back, once however often the button is sent; `None` if it had been.
    pub(crate) async fn undo_last(&self, token: &Token) -> Result<Option<String>, PageError> {
        let (app, token) = (self.clone(), token.clone());
        in_turn(&self.inner.writing, move || {
            let what = app.store().undo_last_once(app.clock().now(), token.text())?;
            app.tell_of_taking_away();
            Ok(what)
        })
        .await
    }
}

/// Something that is being worked out beside the pages; what broke off may be begun again.
struct UnderWay {
    app: App,
    what: &'static str,
}

impl Drop for UnderWay {
    fn drop(&mut self) {
        locked(&self.app.inner.under_way).remove(self.what);
    }
}

/// The lock, also after a thread that held it panicked: nothing behind one is left half changed.
pub(crate) fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Works when its turn has come. Whoever asked may hang up: the turn is given back only when the
/// work is done.
async fn in_turn<T: Send + 'static>(
    queue: &Arc<Semaphore>,
    work: impl FnOnce() -> Result<T, PageError> + Send + 'static,
) -> Result<T, PageError> {
    let turn = turn_in(queue).await?;
    tokio::task::spawn_blocking(move || {
        let outcome = work();
        drop(turn);
        outcome
    })
    .await?
}

async fn turn_in(queue: &Arc<Semaphore>) -> Result<OwnedSemaphorePermit, PageError> {
    let turn = Arc::clone(queue).acquire_owned().await;
    // No queue is ever closed.
    turn.map_err(|error| PageError::Inside(Box::new(error)))
}

fn queue(at_once: usize) -> Arc<Semaphore> {
    Arc::new(Semaphore::new(at_once))
}

/// One look for each core, and never so few that one slow page holds up all others.
fn pages_at_once() -> usize {
    std::thread::available_parallelism().map_or(2, |cores| cores.get().clamp(2, 8))
}
