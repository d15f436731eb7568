//! The ask on one screen: a new order, a changed one, an old one repeated.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use linkwright_store::records::{OrderLine, RingOrder};
use linkwright_store::{Act, Id, StoreError, View};
use serde::Deserialize;

use super::form::{OrderForm, Typed, Wanted};
use super::read::{Read, read, taken};
use super::ring_sizes::{PatternOffered, offered};
use super::shown::{Field, LineView};
use crate::error::PageError;
use crate::form::{Complaints, Sent};
use crate::frame::Frame;
use crate::patterns::known_patterns;
use crate::planning::catalogue;
use crate::state::App;

#[derive(Template)]
#[template(path = "pages/order_form.html")]
struct FormPage {
    frame: Frame,
    /// Where the form is sent.
    address: String,
    heading: String,
    back: (String, String),
    form: OrderForm,
    complaints: Complaints,
    offers: Arc<Offers>,
}

/// What the fields offer to choose from; anything else may be typed.
#[derive(Default)]
struct Offers {
    metals: Vec<String>,
    tempers: Vec<String>,
    /// Size and name of each wire and each rod.
    wires: Vec<(String, String)>,
    rods: Vec<(String, String)>,
    patterns: Vec<PatternOffered>,
}

impl FormPage {
    fn field(&self, name: &'static str) -> Field {
        self.form.field(name, &self.complaints)
    }

    fn lines(&self) -> Vec<LineView<'_>> {
        (1..)
            .zip(&self.form.lines)
            .map(|(number, form)| LineView {
                number,
                form,
                complaints: &self.complaints,
                sizes: self.offers.sizes_of(form.at("pattern")),
            })
            .collect()
    }
}

impl Offers {
    /// What the ring sizes of a pattern are called; one without a name where none is chosen.
    fn sizes_of(&self, pattern: &str) -> Vec<&str> {
        match self.patterns.iter().find(|offered| offered.key == pattern) {
            Some(offered) if offered.sizes.len() > 1 => {
                offered.sizes.iter().map(String::as_str).collect()
            }
            _ => vec![""],
        }
    }

    fn of(view: &View<'_>) -> Result<Arc<Offers>, PageError> {
        view.worked_out("offers of the order form", || Offers::from_records(view))
    }

    fn from_records(view: &View<'_>) -> Result<Offers, PageError> {
        let bench = view.bench(None)?;
        let metals = catalogue(&bench.metals)?;
        let mut tempers: Vec<String> = Vec::new();
        for temper in metals.metals().iter().flat_map(|metal| metal.tempers()) {
            let name = temper.name().to_string();
            if !tempers.contains(&name) {
                tempers.push(name);
            }
        }
        tempers.sort();
        let size = |typed: &str, measured: Option<&String>| {
            measured.map_or_else(|| typed.to_owned(), Clone::clone)
        };
        Ok(Offers {
            patterns: offered(&*known_patterns(view)?),
            metals: metals.metals().iter().map(|metal| metal.trade_name().to_string()).collect(),
            tempers,
            wires: bench
                .wire
                .iter()
                .map(|shelf| &shelf.lot.record)
                .map(|lot| {
                    let typed = &lot.diameter_typed;
                    let words = format!("{}, {} {}", lot.name, lot.metal, lot.temper);
                    (size(typed, lot.measured_diameter_typed.as_ref()), words)
                })
                .collect(),
            rods: bench
                .rods
                .iter()
                .map(|rod| &rod.record)
                .map(|rod| {
                    (
                        size(&rod.marked_typed, rod.measured_typed.as_ref()),
                        format!("rod {}", rod.name),
                    )
                })
                .collect(),
        })
    }
}

/// A blank form, or one begun as a link asks.
pub(super) async fn blank(
    State(app): State<App>,
    Query(asked): Query<Typed>,
) -> Result<Response, PageError> {
    let at = app.clone();
    let today = app.clock().today().to_string();
    let page = app
        .read(move |view| {
            let form = OrderForm::blank(view.next_order_number()?.to_string(), today);
            let form = form.begun_with(&asked);
            page_of(&at, view, None, form, Complaints::default())
        })
        .await?;
    Ok(Html(page.render()?).into_response())
}

/// The form of an order that is kept.
pub(super) async fn show(
    State(app): State<App>,
    Path(order): Path<i64>,
) -> Result<Response, PageError> {
    let at = app.clone();
    let id = Id::<RingOrder>::new(order);
    let page = app
        .read(move |view| {
            let form = OrderForm::kept(&view.get(id)?, &view.lines_in_full(id)?);
            page_of(&at, view, Some(id), form, Complaints::default())
        })
        .await?;
    Ok(Html(page.render()?).into_response())
}

fn page_of(
    app: &App,
    view: &View<'_>,
    id: Option<Id<RingOrder>>,
    form: OrderForm,
    complaints: Complaints,
) -> Result<FormPage, PageError> {
    let (address, heading, back) = match id {
        None => (
            "/orders/new".to_owned(),
            "New order".to_owned(),
            ("/orders".to_owned(), "Orders".to_owned()),
        ),
        Some(id) => {
            let order = view.get(id)?;
            (
                format!("/orders/{id}/edit"),
                format!("Change order {}", order.name),
                (format!("/orders/{id}"), format!("Order {}", order.name)),
            )
        }
    };
    let offers = Offers::of(view)?;
    Ok(FormPage {
        frame: Frame::of(app, view, "orders")?,
        address,
        heading,
        back,
        form: form.with_sizes(&offers.patterns),
        complaints,
        offers,
    })
}

/// Keeps a new order.
pub(super) async fn add(State(app): State<App>, sent: Sent<Typed>) -> Result<Response, PageError> {
    keep(app, None, sent).await
}

/// Keeps a changed order.
pub(super) async fn change(
    State(app): State<App>,
    Path(order): Path<i64>,
    sent: Sent<Typed>,
) -> Result<Response, PageError> {
    keep(app, Some(Id::new(order)), sent).await
}

async fn keep(
    app: App,
    id: Option<Id<RingOrder>>,
    sent: Sent<Typed>,
) -> Result<Response, PageError> {
    let form = OrderForm::sent(&sent.typed);
    let wanted = Wanted::of(&sent.typed);
    if wanted != Wanted::Save {
        return again(app, id, form.with(wanted), Complaints::default(), StatusCode::OK).await;
    }
    let typed = form.clone();
    let read = app
        .read(move |view| {
            let metals = catalogue(&view.all()?)?;
            let patterns = known_patterns(view)?;
            let offers = Offers::of(view)?;
            Ok(read(&typed.with_sizes(&offers.patterns), &metals, &patterns))
        })
        .await?;
    let read = match read {
        Ok(read) => read,
        Err(complaints) => return refused(app, id, form, complaints).await,
    };
    let name = read.order.name.clone();
    let what = match id {
        None => format!("Added order {name}"),
        Some(_) => format!("Changed order {name}"),
    };
    let kept = app
        .act(&sent.token, what, move |act| {
            let kept = match id {
                None => add_all(act, &read),
                Some(id) => change_all(act, id, read).map(|()| id),
            };
            match kept {
                Ok(id) => Ok(id),
                // Nothing is saved; the form says why.
                Err(error) => Err(PageError::from(error)),
            }
        })
        .await;
    match kept {
        Ok(Some(id)) => Ok(Redirect::to(&format!("/orders/{id}")).into_response()),
        Ok(None) => {
            let to = app
                .read(move |view| {
                    Ok(view.all::<RingOrder>()?.into_iter().find(|order| order.record.name == name))
                })
                .await?;
            let to = to.map_or("/orders".to_owned(), |order| format!("/orders/{}", order.id));
            Ok(Redirect::to(&to).into_response())
        }
        Err(PageError::Refused(conflict)) => match taken(StoreError::Conflict(conflict)) {
            Ok(complaints) => refused(app, id, form, complaints).await,
            Err(error) => Err(error.into()),
        },
        Err(error) => Err(error),
    }
}

async fn refused(
    app: App,
    id: Option<Id<RingOrder>>,
    form: OrderForm,
    complaints: Complaints,
) -> Result<Response, PageError> {
    again(app, id, form, complaints, StatusCode::UNPROCESSABLE_ENTITY).await
}

async fn again(
    app: App,
    id: Option<Id<RingOrder>>,
    form: OrderForm,
    complaints: Complaints,
    status: StatusCode,
) -> Result<Response, PageError> {
    let at = app.clone();
    let page = app.read(move |view| page_of(&at, view, id, form, complaints)).await?;
    Ok((status, Html(page.render()?)).into_response())
}

fn add_all(act: &Act<'_>, read: &Read) -> Result<Id<RingOrder>, StoreError> {
    let order_id = act.add(&read.order)?;
    for read in &read.lines {
        let line = act.add(&OrderLine { order_id, ..read.line.clone() })?;
        act.keep_further(line, &read.further)?;
    }
    Ok(order_id)
}

/// Changes an order; lines keep their numbers, so that each keeps its own history.
fn change_all(act: &Act<'_>, id: Id<RingOrder>, read: Read) -> Result<(), StoreError> {
    let before = act.get(id)?;
    let order = RingOrder { closed_on: before.closed_on.clone(), ..read.order };
    if order != before {
        act.change(id, &order)?;
    }
    let kept = act.lines_of(id)?;
    let stays = |line: Id<OrderLine>| read.lines.iter().any(|read| read.id == Some(line));
    for line in kept.iter().filter(|line| !stays(line.id)) {
        act.remove_line(line.id)?;
    }
    // Lines only ever move up, so each place is free before it is taken.
    for read in &read.lines {
        let line = OrderLine { order_id: id, ..read.line.clone() };
        let number = match kept.iter().find(|kept| Some(kept.id) == read.id) {
            Some(kept) => {
                if kept.record != line {
                    act.change(kept.id, &line)?;
                }
                kept.id
            }
            None => act.add(&line)?,
        };
        act.keep_further(number, &read.further)?;
    }
    Ok(())
}

#[derive(Deserialize)]
pub(super) struct Nothing {}

/// The same again: a new order with the lines of an old one, asked for today.
pub(super) async fn repeat(
    State(app): State<App>,
    Path(order): Path<i64>,
    sent: Sent<Nothing>,
) -> Result<Redirect, PageError> {
    let id = Id::<RingOrder>::new(order);
    let today = app.clock().today().to_string();
    let old = app.read(move |view| Ok(view.get(id)?)).await?;
    let what = format!("Repeated order {}", old.name);
    let made = app
        .act(&sent.token, what, move |act| {
            let name = act.next_order_number()?.to_string();
            let note = format!("like order {}", old.name);
            let order =
                RingOrder { name, asked_on: today, due_on: None, note, closed_on: None, ..old };
            let order_id = act.add(&order)?;
            for old in act.lines_in_full(id)? {
                let line = act.add(&OrderLine { order_id, ..old.line })?;
                act.keep_further(line, &old.further)?;
            }
            Ok(order_id)
        })
        .await?;
    Ok(Redirect::to(&made.map_or("/orders".to_owned(), |made| format!("/orders/{made}/edit"))))
}
