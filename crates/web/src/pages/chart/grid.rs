//! The chart itself: wires down, rods across.

use askama::Template;
use axum::extract::{Query, State};
use axum::response::Html;
use linkwright_answers::printout::{SIZE_PLACES, both_lengths, short_mm};
use linkwright_calc::gauge::nearest;
use linkwright_calc::quantity::Length;
use linkwright_trials::{Belief, Cell};

use super::SEED;
use super::asked::{Asked, Look};
use super::believed::{Believed, Outlook, percent};
use super::bench::ChartBench;
use crate::error::PageError;
use crate::frame::Frame;
use crate::learning::{BladeKind, Taught};
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
    rows: Vec<Row>,
    coils: usize,
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
            Ok(Grid::of(frame, &asked, &bench, &taught))
        })
        .await?;
    Ok(Html(page.render()?))
}

impl Grid {
    fn of(frame: Frame, asked: &Asked, bench: &ChartBench, taught: &Taught) -> Grid {
        let look = asked.look();
        let kind = |asked: &str, place: usize| {
            let found = bench.kinds.iter().find(|kind| *kind.blade.name == *asked);
            found.or_else(|| bench.kinds.get(place))
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
        let name = |kind: Option<&BladeKind>| kind.map_or("", |kind| &*kind.blade.name).to_owned();
        Grid {
            rows: rows(bench, taught, &here, look, one.zip(two), one),
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
            left_out: taught.lessons.left_out.iter().map(|(why, n)| (*why, *n)).collect(),
            frame,
        }
    }
}

/// Every row of the chart. All cells are asked for in one go, since plays are shared.
fn rows(
    bench: &ChartBench,
    taught: &Taught,
    here: &Asked,
    look: Look,
    pair: Option<(&BladeKind, &BladeKind)>,
    one: Option<&BladeKind>,
) -> Vec<Row> {
    let kinds: Vec<&BladeKind> = match (look, one, pair) {
        (Look::Blade, Some(kind), _) => vec![kind],
        (Look::Difference, _, Some((one, two))) => vec![one, two],
        (Look::Difference, ..) => Vec::new(),
        _ => bench.kinds.iter().collect(),
    };
    // The blades of one wire and rod stand side by side; a place without all of them shows nothing.
    let mut cells: Vec<Cell> = Vec::new();
    let mut places = Vec::new();
    for wire_mm in &bench.wires_mm {
        for rod_mm in &bench.rods_mm {
            let of_kinds = kinds.iter().map(|kind| bench.cell(*wire_mm, *rod_mm, kind));
            let here: Option<Vec<Cell>> = of_kinds.collect();
            let here = here.filter(|here| !here.is_empty());
            places.push(here.is_some());
            cells.extend(here.into_iter().flatten());
        }
    }
    let mut shown = shown_cells(taught, look, &kinds, &cells).into_iter();
    let mut places = places.into_iter();
    let mut rows = Vec::new();
    for wire_mm in &bench.wires_mm {
        let of_rod = |rod_mm: &f64| {
            let contents = places.next().filter(|is_there| *is_there).and_then(|_| shown.next())?;
            Some(Shown { address: here.cell(*wire_mm, *rod_mm), contents })
        };
        let cells = bench.rods_mm.iter().map(of_rod).collect();
        let wire = Length::from_mm(*wire_mm);
        let also = format!("{:.4} in, near {}", wire.inches(), nearest(wire).awg);
        rows.push(Row { wire: short_mm(*wire_mm, SIZE_PLACES), also, cells });
    }
    rows
}

/// What stands in each place, from the cells of its kinds of blade.
fn shown_cells(taught: &Taught, look: Look, kinds: &[&BladeKind], cells: &[Cell]) -> Vec<Contents> {
    let here = kinds.len().max(1);
    if look == Look::Difference {
        let shares = taught.learned.good_shares(cells, SEED);
        let places = cells.chunks(here).zip(shares.chunks(here));
        return places
            .map(|(cells, shares)| {
                let tried = cells.iter().any(|cell| taught.learned.trials_in(&cell.key()) > 0);
                compared([&kinds[0].called, &kinds[1].called], &shares[0], &shares[1], tried)
            })
            .collect();
    }
    let beliefs = taught.learned.beliefs(cells, SEED);
    let of_place = |beliefs: &[Belief]| {
        let of_kinds = kinds.iter().zip(beliefs);
        one_place(look, of_kinds.map(|(kind, belief)| Believed::of(&kind.called, belief)).collect())
    };
    beliefs.chunks(here).map(of_place).collect()
}

fn one_place(look: Look, mut believed: Vec<Believed>) -> Contents {
    believed.sort_by(|a, b| b.by_share(a));
    let tried: usize = believed.iter().map(Believed::tried).sum();
    let best = &believed[0];
    let (first, lines) = match look {
        Look::Doubt => (best.doubt(), vec![best.called.clone(), best.share()]),
        Look::Tried => {
            let of_each = believed.iter().filter(|one| one.tried() > 0);
            let lines = of_each.map(|one| format!("{}: {}", one.called, one.tried_words()));
            let first = if tried == 0 { "not tried".to_owned() } else { format!("{tried} coils") };
            (first, lines.collect())
        }
        _ => (best.called.clone(), vec![best.share(), best.tried_words()]),
    };
    let outlook = (look != Look::Tried).then(|| best.outlook());
    Contents { outlook, first, lines, tried: tried > 0 }
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
