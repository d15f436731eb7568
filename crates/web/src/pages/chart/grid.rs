//! The chart itself: wires down, rods across.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Query, State};
use axum::response::Html;
use linkwright_answers::printout::{SIZE_PLACES, both_lengths, inches_and_gauge, short_mm};
use linkwright_answers::published::DO_NOT_CUT;
use linkwright_calc::quantity::Length;
use linkwright_store::View;
use linkwright_trials::Cell;

use super::asked::{Asked, Look};
use super::believed::{Believed, Outlook, percent};
use super::bench::ChartBench;
use super::decided::{Decided, all_sizes, whole_chart};
use super::others::with_others;
use crate::error::PageError;
use crate::frame::Frame;
use crate::learning::{SEED, Taught};
use crate::planning::metal_name;
use crate::state::App;

#[derive(Template)]
#[template(path = "pages/chart/grid.html")]
struct Grid {
    frame: Frame,
    look: &'static str,
    /// Word in the address, words on the page, whether it is the one that is shown.
    looks: Vec<(&'static str, &'static str, bool)>,
    metal: String,
    temper: String,
    metals: Vec<(String, String)>,
    tempers: Vec<String>,
    kinds: Vec<(String, String)>,
    blade: String,
    with: String,
    measured: bool,
    /// Each rod as its column is headed, and in both systems.
    rods: Vec<(String, String)>,
    rows: Arc<Vec<Row>>,
    coils: usize,
    notes: Vec<String>,
    is_former: bool,
    /// What decisions by money rest on.
    basis: String,
    is_priced: bool,
    others: String,
    left_out: Vec<(&'static str, usize)>,
}

struct Row {
    wire: String,
    also: String,
    cells: Vec<Option<Shown>>,
}

/// One place of the chart, and the page of its cell.
struct Shown {
    address: String,
    contents: Contents,
}

/// What stands in one place.
#[derive(Clone)]
struct Contents {
    outlook: Option<Outlook>,
    first: String,
    lines: Vec<String>,
    tried: bool,
}

pub(super) async fn show(
    State(app): State<App>,
    Query(asked): Query<Asked>,
) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            let taught = at.taught(view)?;
            let bench = ChartBench::of(view, &taught, &asked)?;
            let frame = Frame::of(&at, view, "chart")?;
            Grid::of(view, frame, &asked, &bench, &taught)
        })
        .await?;
    Ok(Html(page.render()?))
}

impl Grid {
    fn of(
        view: &View<'_>,
        frame: Frame,
        asked: &Asked,
        bench: &ChartBench,
        taught: &Taught,
    ) -> Result<Grid, PageError> {
        let look = asked.look();
        let kind = |asked: &str, place: usize| {
            let found = bench.kinds.iter().position(|kind| *kind.blade.name == *asked);
            found.or_else(|| (place < bench.kinds.len()).then_some(place))
        };
        let (one, two) = (kind(&asked.blade, 0), kind(&asked.with, 1));
        let mut metals: Vec<(String, String)> = Vec::new();
        let mut tempers: Vec<String> = Vec::new();
        for (metal, temper) in &bench.known {
            if metals.iter().all(|(key, _)| key != metal) {
                metals.push((metal.clone(), metal_name(&bench.metals, metal)));
            }
            if *metal == bench.metal && !tempers.contains(temper) {
                tempers.push(temper.clone());
            }
        }
        let here =
            Asked { metal: bench.metal.clone(), temper: bench.temper.clone(), ..asked.clone() };
        let name =
            |kind: Option<usize>| kind.map_or("", |kind| &*bench.kinds[kind].blade.name).to_owned();
        let shown = format!("rows of the chart by lessons {} {here:?}", taught.number);
        Ok(Grid {
            rows: view.worked_out(&shown, || rows(view, bench, taught, &here, [one, two]))?,
            notes: taught.notes(),
            is_former: taught.is_former,
            basis: bench.pricing.basis(&bench.metal),
            is_priced: bench.pricing.is_said(),
            look: look.words(),
            looks: Look::ALL.map(|(at, word, words)| (word, words, at == look)).to_vec(),
            metal: bench.metal.clone(),
            temper: bench.temper.clone(),
            metals,
            tempers,
            kinds: bench
                .kinds
                .iter()
                .map(|kind| (kind.blade.name.to_string(), kind.called.clone()))
                .collect(),
            blade: name(one),
            with: name(two),
            measured: bench.axis.is_some(),
            rods: bench
                .rods_mm
                .iter()
                .map(|mm| (short_mm(*mm, SIZE_PLACES), both_lengths(*mm)))
                .collect(),
            coils: taught.lessons.coils.len(),
            others: with_others(&taught.others),
            left_out: taught.lessons.left_out.iter().map(|(why, n)| (*why, *n)).collect(),
            frame,
        })
    }
}

/// Every row of the chart.
fn rows(
    view: &View<'_>,
    bench: &ChartBench,
    taught: &Taught,
    here: &Asked,
    kinds: [Option<usize>; 2],
) -> Result<Vec<Row>, PageError> {
    let contents: Vec<Option<Contents>> = match (here.look(), kinds) {
        (Look::Difference, [Some(one), Some(two)]) => differences(bench, taught, [one, two]),
        (Look::Difference, _) => vec![None; all_sizes(bench).len()],
        (look, [one, _]) => whole_chart(view, bench, taught)?
            .iter()
            .map(|place| Some(one_place(bench, look, one, place.as_ref()?)))
            .collect(),
    };
    let mut contents = contents.into_iter();
    let row = |wire_mm: &f64| {
        let of_rod = |rod_mm: &f64| {
            let contents = contents.next().flatten()?;
            Some(Shown { address: here.cell(*wire_mm, *rod_mm), contents })
        };
        let cells = bench.rods_mm.iter().map(of_rod).collect();
        let also = inches_and_gauge(Length::from_mm(*wire_mm));
        Row { wire: short_mm(*wire_mm, SIZE_PLACES), also, cells }
    };
    Ok(bench.wires_mm.iter().map(row).collect())
}

/// What stands in each place when two blades are compared.
fn differences(bench: &ChartBench, taught: &Taught, pair: [usize; 2]) -> Vec<Option<Contents>> {
    let kinds = pair.map(|kind| &bench.kinds[kind]);
    let asked: Vec<Option<[Cell; 2]>> = all_sizes(bench)
        .into_iter()
        .map(|(wire, rod)| bench.cell(wire, rod, kinds[0]).zip(bench.cell(wire, rod, kinds[1])))
        .map(|pair| pair.map(<[Cell; 2]>::from))
        .collect();
    let cells: Vec<Cell> = asked.iter().flatten().flatten().cloned().collect();
    let shares = taught.learned.good_shares(&cells, SEED);
    let mut pairs = shares.chunks_exact(2);
    let of_place = |cells: Option<[Cell; 2]>| {
        let (cells, shares) = cells.zip(pairs.next())?;
        let tried = cells.iter().any(|cell| taught.learned.trials_in(&cell.key()) > 0);
        Some(compared([&kinds[0].called, &kinds[1].called], &shares[0], &shares[1], tried))
    };
    asked.into_iter().map(of_place).collect()
}

/// What stands in one place.
fn one_place(bench: &ChartBench, look: Look, one: Option<usize>, place: &Decided) -> Contents {
    let believed = |kind: usize| Believed::of(&bench.kinds[kind].called, &place.beliefs[kind]);
    let tried: usize = place.beliefs.iter().map(|belief| belief.trials_here).sum();
    if look == Look::Tried {
        let of_each = (0..place.beliefs.len()).map(believed).filter(|one| one.tried() > 0);
        let lines = of_each.map(|one| format!("{}: {}", one.called, one.tried_words()));
        let first = if tried == 0 { "not tried".to_owned() } else { format!("{tried} coils") };
        return Contents { outlook: None, first, lines: lines.collect(), tried: tried > 0 };
    }
    let kind = match (look, one) {
        (Look::Blade, Some(one)) => one,
        _ => place.spoken_of(),
    };
    let shown = believed(kind);
    let (first, lines) = match look {
        Look::Doubt => (shown.doubt(), vec![shown.called.clone(), shown.share()]),
        Look::Best if place.decision.choice.is_none() => {
            let lines = vec![format!("at best {}", shown.share()), shown.tried_words()];
            (DO_NOT_CUT.to_owned(), lines)
        }
        _ => {
            let mut lines = vec![shown.share(), shown.tried_words()];
            let cost = bench.pricing.amount_a_ring(place.decision.blades[kind].ring_cost);
            lines.extend(cost.map(|cost| format!("{cost} a ring")));
            (shown.called.clone(), lines)
        }
    };
    Contents { outlook: Some(shown.outlook()), first, lines, tried: shown.tried() > 0 }
}

/// Two blades in one place, play against play.
fn compared(called: [&str; 2], one: &[f64], two: &[f64], tried: bool) -> Contents {
    let plays = f64::from(u32::try_from(one.len()).unwrap_or(u32::MAX).max(1));
    let points = 100.0 * one.iter().zip(two).map(|(a, b)| a - b).sum::<f64>() / plays;
    let wins = one.iter().zip(two).filter(|(a, b)| a > b).count();
    let chance = f64::from(u32::try_from(wins).unwrap_or(u32::MAX)) / plays;
    let (better, points, chance) = if points >= 0.0 {
        (called[0], points, chance)
    } else {
        (called[1], -points, 1.0 - chance)
    };
    Contents {
        outlook: None,
        first: if points < 0.5 { "alike".to_owned() } else { better.to_owned() },
        lines: vec![
            format!("better by {points:.0} points"),
            format!("chance of it {}", percent(chance)),
        ],
        tried,
    }
}
