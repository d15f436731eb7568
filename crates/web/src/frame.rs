//! What stands round every page.

use askama::Template;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};

use linkwright_store::records::Workshop;
use linkwright_store::{Id, StoreError, View};

use crate::choices::Choices;
use crate::state::App;

/// What stands round every page: where we are, whose workshop it is, what can be undone.
pub(crate) struct Frame {
    /// The page in the main list that is marked, such as "orders"; "" for none.
    pub(crate) place: &'static str,
    /// Name of the workshop.
    pub(crate) workshop: String,
    /// Whether this is the invented sample workshop.
    pub(crate) sample: bool,
    /// The action that Undo would take back.
    pub(crate) undoable: Option<String>,
    /// Token for the forms of this page.
    pub(crate) token: String,
    /// How this device wants the pages shown.
    pub(crate) choices: Choices,
}

/// A page of the main list: address, mark, words.
pub(crate) type Place = (&'static str, &'static str, &'static str);

/// How many places fit side by side under a thumb, "More" being one more.
const AT_THE_THUMB: usize = 4;

/// The main list, the pages of every day first.
pub(crate) const PLACES: &[Place] = &[
    ("/", "today", "Today"),
    ("/orders", "orders", "Orders"),
    ("/runs", "runs", "Run"),
    ("/trials", "trials", "Trials"),
    ("/chart", "chart", "Chart"),
    ("/chain", "chain", "Chain"),
    ("/rings", "rings", "Rings"),
    ("/workshop", "workshop", "Workshop"),
    ("/faults", "faults", "Faults"),
    ("/handouts", "handouts", "Handouts"),
    ("/help", "help", "Help"),
];

impl Frame {
    /// The frame of a page at `place`.
    pub(crate) fn of(app: &App, view: &View<'_>, place: &'static str) -> Result<Frame, StoreError> {
        let workshop = match view.get(Id::<Workshop>::new(1)) {
            Ok(workshop) => Some(workshop),
            Err(StoreError::NotFound { .. }) => None,
            Err(error) => return Err(error),
        };
        Ok(Frame {
            place,
            sample: workshop.as_ref().is_some_and(|workshop| workshop.sample),
            workshop: workshop.map_or_else(String::new, |workshop| workshop.name),
            undoable: view.undoable()?.map(|action| action.what),
            token: app.tokens().fresh().text().to_owned(),
            choices: Choices::of_this_request(),
        })
    }

    /// The main list, for the template.
    pub(crate) fn places(&self) -> &'static [Place] {
        PLACES
    }

    /// The first places of the list, which a phone shows under the thumb.
    pub(crate) fn at_the_thumb(&self) -> &'static [Place] {
        &PLACES[..AT_THE_THUMB]
    }

    /// The other places, which a phone shows behind "More".
    pub(crate) fn behind_more(&self) -> &'static [Place] {
        &PLACES[AT_THE_THUMB..]
    }

    /// Whether this page is one of those behind "More".
    pub(crate) fn is_elsewhere(&self) -> bool {
        self.behind_more().iter().any(|(_, mark, _)| *mark == self.place)
    }
}

#[derive(Template)]
#[template(path = "error.html")]
struct ErrorPage<'a> {
    status: u16,
    message: &'a str,
    choices: Choices,
    places: &'static [Place],
}

/// A page for a request that cannot be answered, with ways on.
pub(crate) fn error_page(status: StatusCode, message: &str) -> Response {
    let page = ErrorPage {
        status: status.as_u16(),
        message,
        choices: Choices::of_this_request(),
        places: PLACES,
    };
    let html = page.render().unwrap_or_else(|_| message.to_owned());
    (status, Html(html)).into_response()
}

#[derive(Template)]
#[template(path = "being_worked_out.html")]
struct BeingWorkedOut {
    said: String,
    choices: Choices,
    places: &'static [Place],
}

/// Seconds after which a page that is being worked out is asked for again.
const AGAIN_AFTER: &str = "2";

/// A page that is being worked out: it asks again by itself, with or without scripts.
pub(crate) fn being_worked_out(status: StatusCode, said: &str) -> Response {
    let page = BeingWorkedOut {
        said: said.to_owned(),
        choices: Choices::of_this_request(),
        places: PLACES,
    };
    let html = page.render().unwrap_or_default();
    let again = [("refresh", AGAIN_AFTER), ("retry-after", AGAIN_AFTER)];
    (status, again, Html(html)).into_response()
}
