//! One order: its lines, how they are made together, what was started, what it was before.

use askama::Template;
use axum::extract::{Path, State};
use axum::response::{Html, Redirect};
use linkwright_answers::run_sheet::view::WorkView;
use linkwright_store::records::{FurtherRing, LineKind, OrderLine, RingOrder, Run};
use linkwright_store::{Act, Id, LineInFull, PhotoShown, Record, StoreError, View};

use super::edit::Nothing;
use super::list::in_short;
use super::sheet::SheetOfLine;
use super::sizes;
use crate::clock::Clock;
use crate::error::PageError;
use crate::form::Sent;
use crate::frame::Frame;
use crate::learning::Taught;
use crate::pages::history::{Teller, column_in_words};
use crate::patterns::is_changed_since_ordered;
use crate::planning::{Frozen, Obstacle, Planned, at_hand, plan_order, plan_sheet};
use crate::state::App;

#[derive(Template)]
#[template(path = "pages/order.html")]
struct OrderPage {
    frame: Frame,
    id: Id<RingOrder>,
    order: RingOrder,
    late: bool,
    lines: Vec<LineRow>,
    /// How the lines are made together; absent where they cannot be.
    work: Option<WorkView>,
    minutes: Option<String>,
    /// What stands in the way of the whole order.
    obstacle: Option<ObstacleView>,
    runs: Vec<RunRow>,
    photos: Vec<PhotoShown>,
    history: Vec<Former>,
}

/// What stands in the way, and where it is put right.
pub(super) struct ObstacleView {
    pub(super) sentence: String,
    pub(super) way: (String, String),
}

struct LineRow {
    id: Id<OrderLine>,
    name: String,
    short: String,
    /// Sizes in both systems.
    sizes: Vec<(String, String)>,
    /// Whether it asks for kits, which have a sheet of their own.
    kits: bool,
    /// Its run sheets, one for each ring size.
    sheets: Vec<SheetOfLine>,
    obstacle: Option<ObstacleView>,
    /// The pattern of one's own that was replaced since; "" if none was.
    replaced: String,
}

struct RunRow {
    id: Id<Run>,
    name: String,
    sheet: i64,
    state: &'static str,
    good: u32,
    asked: u32,
}

struct Former {
    at: String,
    what: String,
    before: Vec<(String, String)>,
}

impl ObstacleView {
    pub(super) fn of(obstacle: &Obstacle, order: Id<RingOrder>) -> ObstacleView {
        let way = if obstacle.is_in_workshop() {
            ("/workshop".to_owned(), "Put it right in the workshop".to_owned())
        } else {
            (format!("/orders/{order}/edit"), "Change the order".to_owned())
        };
        ObstacleView { sentence: obstacle.sentence(), way }
    }
}

/// The page of an order.
pub(super) async fn show(
    State(app): State<App>,
    Path(order): Path<i64>,
) -> Result<Html<String>, PageError> {
    let (at, id) = (app.clone(), Id::<RingOrder>::new(order));
    let today = app.clock().today().to_string();
    let page = app.read(move |view| page(&at, view, id, &today)).await?;
    Ok(Html(page.render()?))
}

fn page(
    app: &App,
    view: &View<'_>,
    id: Id<RingOrder>,
    today: &str,
) -> Result<OrderPage, PageError> {
    let order = view.get(id)?;
    let lines = view.lines_in_full(id)?;
    let taught = app.taught(view)?;
    at_hand(app, view, &taught, id)?;
    let planned = plan_order(view, &taught, id)?;
    let whole_fails = planned.is_err() && lines.len() > 1;
    let lines = lines
        .iter()
        .map(|line| line_row(view, &taught, id, line, &planned, whole_fails))
        .collect::<Result<_, _>>()?;
    let (work, minutes, obstacle) = match &planned {
        Ok(planned) => {
            let plan = &planned.plan;
            let minutes = linkwright_answers::printout::significant(plan.minutes, 4);
            ((plan.sheets.len() > 1).then(|| WorkView::of(plan)), Some(minutes), None)
        }
        // Trouble with one line stands beside that line.
        Err(obstacle) if obstacle.line().is_some() => (None, None, None),
        Err(obstacle) => (None, None, Some(ObstacleView::of(obstacle, id))),
    };
    Ok(OrderPage {
        frame: Frame::of(app, view, "orders")?,
        id,
        late: order.closed_on.is_none() && order.due_on.as_deref().is_some_and(|due| due < today),
        lines,
        work,
        minutes,
        obstacle,
        runs: runs(view, id)?,
        photos: view.photos_of(RingOrder::TABLE, id.number())?,
        history: history(app.clock(), view, id)?,
        order,
    })
}

fn line_row(
    view: &View<'_>,
    taught: &Taught,
    order: Id<RingOrder>,
    line: &LineInFull,
    planned: &Result<Planned, Obstacle>,
    whole_fails: bool,
) -> Result<LineRow, PageError> {
    let replaced = match &line.line.pattern {
        Some(name) if is_changed_since_ordered(view, line)? => name.clone(),
        _ => String::new(),
    };
    let obstacle = match planned {
        Ok(_) => None,
        Err(_) if whole_fails => plan_sheet(view, taught, order, &line.line.name)?.err(),
        Err(obstacle) if obstacle.line().is_some() => {
            let obstacle = Some(ObstacleView::of(obstacle, order));
            return Ok(LineRow { obstacle, replaced, ..row(line) });
        }
        Err(_) => None,
    };
    let obstacle = obstacle
        .filter(|obstacle| obstacle.line().is_some())
        .map(|obstacle| ObstacleView::of(&obstacle, order));
    Ok(LineRow { obstacle, replaced, ..row(line) })
}

fn row(in_full: &LineInFull) -> LineRow {
    let line = &in_full.line;
    let mut sizes = Vec::new();
    ring_in_both(
        &mut sizes,
        "",
        &line.wire_typed,
        [&line.ring_typed, &line.tolerance_typed, &line.rod_typed],
    );
    for ring in &in_full.further {
        ring_in_both(
            &mut sizes,
            &format!("ring size {}, ", ring.size),
            &ring.wire_typed,
            [&ring.ring_typed, &ring.tolerance_typed, &ring.rod_typed],
        );
    }
    for (what, typed) in [("chain", &line.chain_length_typed), ("clasp", &line.clasp_typed)] {
        if let Some(typed) = typed {
            sizes.push((format!("{what} {typed}"), sizes::length(typed)));
        }
    }
    LineRow {
        id: in_full.id,
        name: line.name.clone(),
        short: in_short(in_full),
        sizes,
        kits: line.kind == LineKind::Kits,
        sheets: SheetOfLine::all(in_full),
        obstacle: None,
        replaced: String::new(),
    }
}

/// Wire and ring of a size as typed, and in both systems.
fn ring_in_both(
    sizes: &mut Vec<(String, String)>,
    of: &str,
    wire: &str,
    [ring, tolerance, rod]: [&Option<String>; 3],
) {
    sizes.push((format!("{of}wire {wire}"), sizes::wire(wire)));
    if let Some(ring) = ring {
        sizes.push((format!("{of}ring {ring}"), sizes::ring(ring)));
    }
    for (what, typed) in [("rod", rod), ("tolerance", tolerance)] {
        if let Some(typed) = typed {
            sizes.push((format!("{of}{what} {typed}"), sizes::length(typed)));
        }
    }
}

fn runs(view: &View<'_>, id: Id<RingOrder>) -> Result<Vec<RunRow>, PageError> {
    let mut rows = Vec::new();
    for (run, sheet) in view.runs_of(id)? {
        let asked = Frozen::of(&sheet).map_or(0, |frozen| frozen.to_make.good_rings);
        rows.push(RunRow {
            id: run.id,
            name: sheet.line_name,
            sheet: run.record.frozen_sheet_id.number(),
            state: match &run.record {
                Run { called_off_why: Some(_), .. } => "called off",
                Run { finished_at: Some(_), .. } => "finished",
                _ => "in hand",
            },
            good: view.made_in_run(run.id)?.good,
            asked,
        });
    }
    Ok(rows)
}

fn history(clock: &Clock, view: &View<'_>, id: Id<RingOrder>) -> Result<Vec<Former>, StoreError> {
    let teller = Teller::new(clock, view);
    let mut all = view.former_values(id)?;
    for line in view.lines_of(id)? {
        all.extend(view.former_values(line.id)?);
        for ring in view.further_of::<FurtherRing>(line.id)? {
            all.extend(view.former_values(ring.id)?);
        }
    }
    all.sort_by_key(|former| std::cmp::Reverse(former.action.number));
    Ok(all
        .into_iter()
        .map(|former| Former {
            at: clock.shown(former.action.at),
            what: former.action.what,
            before: former
                .former
                .iter()
                .flatten()
                .filter(|(column, value)| !value.is_null() && !column.ends_with("id"))
                .map(|(column, value)| (column_in_words(column), teller.value(column, Some(value))))
                .collect(),
        })
        .collect())
}

/// Closes an order, or opens it again.
pub(super) async fn close(
    State(app): State<App>,
    Path(order): Path<i64>,
    sent: Sent<Nothing>,
) -> Result<Redirect, PageError> {
    let id = Id::<RingOrder>::new(order);
    let today = app.clock().today().to_string();
    let before = app.read(move |view| Ok(view.get(id)?)).await?;
    let did = if before.closed_on.is_some() { "Opened again" } else { "Closed" };
    let what = format!("{did}: order {}", before.name);
    app.act(&sent.token, what, move |act| {
        let order = act.get(id)?;
        let closed_on = if order.closed_on.is_some() { None } else { Some(today) };
        Ok(act.change(id, &RingOrder { closed_on, ..order })?)
    })
    .await?;
    Ok(Redirect::to(&format!("/orders/{id}")))
}

/// Removes an order that nothing was started from.
pub(super) async fn remove(
    State(app): State<App>,
    Path(order): Path<i64>,
    sent: Sent<Nothing>,
) -> Result<Redirect, PageError> {
    let id = Id::<RingOrder>::new(order);
    let before = app.read(move |view| Ok(view.get(id)?)).await?;
    app.act(&sent.token, format!("Removed order {}", before.name), move |act| remove_all(act, id))
        .await?;
    Ok(Redirect::to("/orders"))
}

fn remove_all(act: &Act<'_>, id: Id<RingOrder>) -> Result<(), PageError> {
    for line in act.lines_of(id)? {
        act.remove_line(line.id)?;
    }
    Ok(act.remove(id)?)
}
