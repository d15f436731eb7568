//! Today: what is open, what is in hand, what runs low, what was done last.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::response::Html;
use axum::routing::get;
use linkwright_answers::printout::{both_lengths, significant};
use linkwright_store::{ActionDone, BatchSearch, View};

use crate::clock::Clock;
use crate::error::PageError;
use crate::frame::Frame;
use crate::pages::chart::{ToTry, first_to_try};
use crate::pages::runs::place_in_words;
use crate::planning::{catalogue_or_built_in, metal_name, stock_named, stocks};
use crate::state::App;

/// How many of each are shown; the pages they lead to show all.
const SHOWN_MOST: usize = 6;

/// Wire is low when less than this share of what was bought is left: common practice, no source.
const LOW_SHARE: f64 = 0.2;

pub(crate) fn routes() -> Router<App> {
    Router::new().route("/", get(today))
}

#[derive(Template)]
#[template(path = "pages/today.html")]
struct Today {
    frame: Frame,
    date: String,
    orders: Vec<OpenOrder>,
    orders_more: usize,
    runs: Vec<RunInHand>,
    low_wire: Vec<LowWire>,
    has_wire: bool,
    has_rods: bool,
    batches: Vec<NewBatch>,
    /// The test coil that tells most for its cost.
    to_try: Option<ToTry>,
    actions: Vec<(String, ActionDone)>,
}

struct OpenOrder {
    address: String,
    name: String,
    due: String,
    is_late: bool,
    progress: String,
}

struct RunInHand {
    address: String,
    name: String,
    /// The step, and the coil where it is a step of one.
    step: String,
    good: u32,
}

struct LowWire {
    name: String,
    left_g: String,
    left_share: String,
}

struct NewBatch {
    address: String,
    code: String,
    rings: u32,
    about: String,
}

async fn today(State(app): State<App>) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app.read(move |view| Today::of(&at, view)).await?;
    Ok(Html(page.render()?))
}

impl Today {
    fn of(app: &App, view: &View<'_>) -> Result<Today, PageError> {
        let date = app.clock().today().to_string();
        let all_orders = view.find_orders(&[], true)?;
        let orders_more = all_orders.len().saturating_sub(SHOWN_MOST);
        let orders = all_orders
            .into_iter()
            .take(SHOWN_MOST)
            .map(|listed| {
                let order = listed.order.record;
                OpenOrder {
                    address: format!("/orders/{}", listed.order.id),
                    is_late: order.due_on.as_ref().is_some_and(|due| *due < date),
                    due: order.due_on.unwrap_or_else(|| "no date".to_owned()),
                    name: order.name,
                    progress: format!("good rings so far: {}; runs: {}", listed.good, listed.runs),
                }
            })
            .collect();
        let runs = view.runs_in_hand()?.into_iter().map(|listed| RunInHand {
            address: format!("/runs/{}", listed.run.id),
            step: place_in_words(&listed.run.record, listed.coils),
            name: listed.run.record.name,
            good: listed.made.good,
        });
        let metals = catalogue_or_built_in(&view.all()?);
        let batches = view.batches(&BatchSearch::default(), 0, 5)?.into_iter();
        let batches = batches.map(|batch| {
            let record = batch.record;
            let inside = record.inside_mm.map(|mm| format!("inside {}", both_lengths(mm)));
            NewBatch {
                address: format!("/rings/{}", batch.id),
                code: record.code,
                rings: record.rings,
                about: [
                    Some(format!(
                        "{} of {}",
                        record.wire_typed,
                        metal_name(&metals, &record.metal)
                    )),
                    inside,
                ]
                .into_iter()
                .flatten()
                .collect::<Vec<_>>()
                .join(", "),
            }
        });
        let lots = view.lots_in_use()?;
        Ok(Today {
            frame: Frame::of(app, view, "today")?,
            orders,
            orders_more,
            runs: runs.collect(),
            low_wire: low_wire(view)?,
            has_wire: !lots.is_empty(),
            has_rods: view.count::<linkwright_store::records::Rod>()? > 0,
            batches: batches.collect(),
            to_try: first_to_try(app, view)?,
            actions: dated(app.clock(), view.last_actions(5)?),
            date,
        })
    }
}

/// Lots of which little is left, worked out from what runs weighed in.
fn low_wire(view: &View<'_>) -> Result<Vec<LowWire>, PageError> {
    let stocks = stocks(view)?;
    let mut low = Vec::new();
    for lot in view.lots_in_use()? {
        let taken_g = view.wire_taken_g(lot.id)?;
        let stock = stock_named(&stocks, &lot.record.name);
        let Some(stock) = stock.filter(|_| taken_g > 0.0) else {
            continue;
        };
        let left_g = stock.lot.mass_on_hand().value.g();
        let left_share = left_g / (left_g + taken_g);
        if left_share < LOW_SHARE {
            low.push(LowWire {
                name: lot.record.name,
                left_g: significant(left_g, 3),
                left_share: format!("{:.0} %", 100.0 * left_share),
            });
        }
    }
    Ok(low)
}

/// Actions with their time where the workshop is.
pub(super) fn dated(clock: &Clock, actions: Vec<ActionDone>) -> Vec<(String, ActionDone)> {
    actions.into_iter().map(|action| (clock.shown(action.at), action)).collect()
}
