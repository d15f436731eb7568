//! The run sheet of a line, worked out as the workshop stands now, and the start at the bench.

use askama::Template;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{Html, IntoResponse, Redirect, Response};
use linkwright_answers::run_sheet::Money;
use linkwright_answers::run_sheet::html::{self, STYLE};
use linkwright_answers::run_sheet::view::PlanView;
use linkwright_calc::plan::RunSheet;
use linkwright_store::records::{OrderLine, RingOrder};
use linkwright_store::{Id, Saved, View};
use serde::Deserialize;

use super::form::LETTERS_MOST;
use super::one::ObstacleView;
use crate::error::PageError;
use crate::form::{Complaints, Sent};
use crate::frame::Frame;
use crate::planning::{BladeAnyway, plan_sheet, start_run, start_run_anyway};
use crate::state::App;

/// What is missing where an address or a form names no line.
const LINE: &str = "line of an order";

#[derive(Clone, Default, Deserialize)]
pub(super) struct Asked {
    /// Number of the line; the first if absent.
    #[serde(default)]
    line: Option<i64>,
    /// "hidden" while a customer looks.
    #[serde(default)]
    money: String,
}

#[derive(Clone, Default, Deserialize)]
pub(super) struct Start {
    line: String,
    /// A refused blade that is used all the same; "" for none.
    #[serde(default)]
    blade: String,
    #[serde(default)]
    because: String,
}

#[derive(Template)]
#[template(path = "pages/order_sheet.html")]
struct SheetPage {
    frame: Frame,
    id: Id<RingOrder>,
    order: String,
    line: Id<OrderLine>,
    name: String,
    /// The other lines of the order.
    tabs: Vec<(Id<OrderLine>, String)>,
    money_hidden: bool,
    has_money: bool,
    /// The sheet as it is shown; absent where it cannot be made.
    sheet: Option<String>,
    obstacle: Option<ObstacleView>,
    /// Blades the sheet refuses, with the first reason.
    refused: Vec<(String, String)>,
    start: Start,
    complaints: Complaints,
}

/// How a run sheet looks.
pub(super) async fn style() -> Response {
    let headers = [(CONTENT_TYPE, "text/css; charset=utf-8"), (CACHE_CONTROL, "no-cache")];
    (headers, STYLE).into_response()
}

/// The sheet of a line.
pub(super) async fn show(
    State(app): State<App>,
    Path(order): Path<i64>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    page(app, Id::new(order), asked, Start::default(), Complaints::default()).await
}

async fn page(
    app: App,
    id: Id<RingOrder>,
    asked: Asked,
    start: Start,
    complaints: Complaints,
) -> Result<Response, PageError> {
    let at = app.clone();
    let refused = !complaints.is_empty();
    let page = app
        .read(move |view| {
            let lines = view.lines_of(id)?;
            let line = match asked.line {
                None => lines.first(),
                Some(number) => lines.iter().find(|line| line.id.number() == number),
            };
            let line = line.ok_or(PageError::NotFound { what: LINE })?;
            let tabs = lines.iter().map(|line| (line.id, line.record.name.clone())).collect();
            let shown = Shown::of(&at, view, id, line, asked.money == "hidden")?;
            Ok(SheetPage {
                frame: Frame::of(&at, view, "orders")?,
                id,
                order: view.get(id)?.name,
                line: line.id,
                name: line.record.name.clone(),
                tabs,
                money_hidden: asked.money == "hidden",
                has_money: shown.has_money,
                sheet: shown.html,
                obstacle: shown.obstacle,
                refused: shown.refused,
                start,
                complaints,
            })
        })
        .await?;
    let status = if refused { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK };
    Ok((status, Html(page.render()?)).into_response())
}

/// A sheet in HTML, or what stands in its way.
#[derive(Default)]
struct Shown {
    html: Option<String>,
    has_money: bool,
    refused: Vec<(String, String)>,
    obstacle: Option<ObstacleView>,
}

impl Shown {
    fn of(
        app: &App,
        view: &View<'_>,
        id: Id<RingOrder>,
        line: &Saved<OrderLine>,
        money_hidden: bool,
    ) -> Result<Shown, PageError> {
        let name = &line.record.name;
        let planned = match plan_sheet(view, &*app.taught(view)?, id, name)? {
            Ok(planned) => planned,
            Err(obstacle) => {
                let obstacle = Some(ObstacleView::of(&obstacle, id));
                return Ok(Shown { obstacle, ..Shown::default() });
            }
        };
        let money = if money_hidden { Money::LeftOut } else { Money::Shown };
        let shown = PlanView::of_line(&planned.plan, name, planned.inputs.date(), money);
        let sheet = planned.sheet(name);
        Ok(Shown {
            html: shown.map(html::part).transpose()?,
            has_money: sheet.is_some_and(|sheet| sheet.cost.is_some()),
            refused: sheet.map_or_else(Vec::new, refused_blades),
            obstacle: None,
        })
    }
}

fn refused_blades(sheet: &RunSheet) -> Vec<(String, String)> {
    let blades = sheet.blades.iter();
    blades.filter_map(|blade| Some((blade.name.clone(), blade.out.first()?.to_string()))).collect()
}

/// Freezes the sheet and starts a run from it.
pub(super) async fn start(
    State(app): State<App>,
    Path(order): Path<i64>,
    sent: Sent<Start>,
) -> Result<Response, PageError> {
    let id = Id::<RingOrder>::new(order);
    let start = sent.typed;
    let number: i64 = start.line.parse().map_err(|_| PageError::NotFound { what: LINE })?;
    let anyway = match anyway(&start) {
        Ok(anyway) => anyway,
        Err(complaints) => {
            let asked = Asked { line: Some(number), money: String::new() };
            return page(app, id, asked, start, complaints).await;
        }
    };
    let line = Id::<OrderLine>::new(number);
    let (order, line) = app.read(move |view| Ok((view.get(id)?, view.get(line)?))).await?;
    if line.order_id != id {
        return Err(PageError::NotFound { what: LINE });
    }
    let now = app.clock().now();
    let what = format!("Started a run of {}, order {}", line.name, order.name);
    let at = app.clone();
    let run = app
        .act(&sent.token, what, move |act| {
            let taught = at.taught_by_all(act)?;
            match &anyway {
                None => start_run(act, &taught, id, &line.name, now, String::new()),
                Some(anyway) => start_run_anyway(act, &taught, id, &line.name, now, anyway),
            }
        })
        .await?;
    let to = run.map_or_else(|| format!("/orders/{id}"), |run| format!("/runs/{run}"));
    Ok(Redirect::to(&to).into_response())
}

fn anyway(start: &Start) -> Result<Option<BladeAnyway>, Complaints> {
    let (blade, because) = (start.blade.trim(), start.because.trim());
    let mut complaints = Complaints::default();
    if because.chars().count() > LETTERS_MOST {
        complaints.add("because", format!("at most {LETTERS_MOST} letters are kept here"));
    } else if blade.is_empty() && !because.is_empty() {
        complaints.add("blade", "choose the blade that is used all the same");
    } else if !blade.is_empty() && because.is_empty() {
        complaints.add("because", "say why the blade is used although the sheet refuses it");
    }
    if !complaints.is_empty() {
        return Err(complaints);
    }
    let (blade, because) = (blade.to_owned(), because.to_owned());
    Ok((!blade.is_empty()).then_some(BladeAnyway { blade, because }))
}
