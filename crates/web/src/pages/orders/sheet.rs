//! The run sheet of a line, worked out as the workshop stands now, and the start at the bench.

use askama::Template;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{Html, IntoResponse, Redirect, Response};
use linkwright_answers::chain::name_of_size;
use linkwright_answers::run_sheet::Money;
use linkwright_answers::run_sheet::html::{self, STYLE};
use linkwright_answers::run_sheet::view::PlanView;
use linkwright_calc::plan::RunSheet;
use linkwright_store::records::{OrderLine, RingOrder};
use linkwright_store::{Id, LineInFull, View};
use serde::Deserialize;

use super::form::LETTERS_MOST;
use super::one::ObstacleView;
use crate::error::PageError;
use crate::form::{Complaints, Sent};
use crate::frame::Frame;
use crate::planning::{BladeAnyway, at_hand, plan_sheet, start_run, start_run_anyway};
use crate::state::App;

/// What is missing where an address or a form names no line.
const LINE: &str = "line of an order";

#[derive(Clone, Default, Deserialize)]
pub(super) struct Asked {
    /// Number of the line; the first if absent.
    #[serde(default)]
    line: Option<i64>,
    /// Which ring size of its pattern; the first if absent.
    #[serde(default)]
    size: Option<u32>,
    /// "hidden" while a customer looks.
    #[serde(default)]
    money: String,
}

#[derive(Clone, Default, Deserialize)]
pub(super) struct Start {
    line: String,
    /// Which ring size of its pattern; "" for the first.
    #[serde(default)]
    size: String,
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
    of: SheetOfLine,
    /// The sheets of the order.
    tabs: Vec<SheetOfLine>,
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

/// A ring size of a line, which has a run sheet of its own.
#[derive(Clone, PartialEq)]
pub(super) struct SheetOfLine {
    pub(super) line: Id<OrderLine>,
    /// Its place in the pattern, from 1.
    pub(super) size: u32,
    /// Name of the sheet.
    pub(super) name: String,
}

impl SheetOfLine {
    /// All sizes of a line.
    pub(super) fn all(line: &LineInFull) -> Vec<SheetOfLine> {
        let further = line.further.iter().map(|ring| ring.size);
        std::iter::once(1).chain(further).map(|size| SheetOfLine::of(line, size)).collect()
    }

    fn of(line: &LineInFull, size: u32) -> SheetOfLine {
        let name = name_of_size(&line.line.name, size as usize);
        SheetOfLine { line: line.id, size, name }
    }

    /// Of an address or a form; the first size where it says none.
    fn asked(lines: &[LineInFull], line: Option<i64>, size: Option<u32>) -> Option<SheetOfLine> {
        let line = match line {
            None => lines.first(),
            Some(number) => lines.iter().find(|line| line.id.number() == number),
        };
        let size = size.unwrap_or(1);
        SheetOfLine::all(line?).into_iter().find(|sheet| sheet.size == size)
    }

    /// What stands behind the question mark of its address.
    pub(super) fn query(&self) -> String {
        match self.size {
            1 => format!("line={}", self.line),
            size => format!("line={}&size={size}", self.line),
        }
    }

    /// Address of one of its sheets as PDF, such as its run sheet.
    pub(super) fn pdf(&self, sheet: &str, without_costs: bool) -> String {
        let size = (self.size > 1).then(|| format!("size={}", self.size));
        let costs = without_costs.then(|| "costs=without".to_owned());
        let asked: Vec<String> = size.into_iter().chain(costs).collect();
        let mark = if asked.is_empty() { "" } else { "?" };
        format!("/paper/{sheet}/{}{mark}{}", self.line, asked.join("&"))
    }
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
            let lines = view.lines_in_full(id)?;
            let of = SheetOfLine::asked(&lines, asked.line, asked.size);
            let of = of.ok_or(PageError::NotFound { what: LINE })?;
            let shown = Shown::of(&at, view, id, &of.name, asked.money == "hidden")?;
            Ok(SheetPage {
                frame: Frame::of(&at, view, "orders")?,
                id,
                order: view.get(id)?.name,
                of,
                tabs: lines.iter().flat_map(SheetOfLine::all).collect(),
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
        name: &str,
        money_hidden: bool,
    ) -> Result<Shown, PageError> {
        let taught = app.taught(view)?;
        at_hand(app, view, &taught, id)?;
        let planned = match plan_sheet(view, &taught, id, name)? {
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
    let nowhere = || PageError::NotFound { what: LINE };
    let number: i64 = start.line.parse().map_err(|_| nowhere())?;
    let size = match start.size.as_str() {
        "" => None,
        size => Some(size.parse::<u32>().map_err(|_| nowhere())?),
    };
    let anyway = match anyway(&start) {
        Ok(anyway) => anyway,
        Err(complaints) => {
            let asked = Asked { line: Some(number), size, money: String::new() };
            return page(app, id, asked, start, complaints).await;
        }
    };
    let (order, lines) = app.read(move |view| Ok((view.get(id)?, view.lines_in_full(id)?))).await?;
    let sheet = SheetOfLine::asked(&lines, Some(number), size).ok_or_else(nowhere)?;
    let now = app.clock().now();
    let what = format!("Started a run of {}, order {}", sheet.name, order.name);
    let at = app.clone();
    let run = app
        .act(&sent.token, what, move |act| {
            let taught = at.taught_by_all(act)?;
            match &anyway {
                None => start_run(act, &taught, id, &sheet.name, now, String::new()),
                Some(anyway) => start_run_anyway(act, &taught, id, &sheet.name, now, anyway),
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
