//! All orders: open ones by the day they are due, closed ones, found by any clue.

use askama::Template;
use axum::extract::{Query, State};
use axum::response::Html;
use linkwright_calc::quantity::parse_length;
use linkwright_store::records::{LineKind, OrderLine};
use linkwright_store::{LineInFull, OrderClue, OrderOnList, View};
use serde::Deserialize;

use crate::error::PageError;
use crate::frame::Frame;
use crate::state::App;

#[derive(Deserialize)]
pub(super) struct Asked {
    #[serde(default)]
    q: String,
    #[serde(default)]
    show: String,
}

#[derive(Template)]
#[template(path = "pages/orders.html")]
struct Orders {
    frame: Frame,
    q: String,
    open: bool,
    orders: Vec<Row>,
    /// Whether there is any order at all.
    any: bool,
}

struct Row {
    address: String,
    name: String,
    buyer: String,
    lines: Vec<String>,
    due: String,
    /// The due day has passed.
    late: bool,
    state: String,
    state_kind: &'static str,
}

/// The list.
pub(super) async fn show(
    State(app): State<App>,
    Query(asked): Query<Asked>,
) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let today = app.clock().today().to_string();
    let page = app
        .read(move |view| {
            let open = asked.show != "closed";
            let found = view.find_orders(&clues(&asked.q), open)?;
            let any =
                !found.is_empty() || view.count::<linkwright_store::records::RingOrder>()? > 0;
            let orders =
                found.into_iter().map(|one| row(view, one, &today)).collect::<Result<_, _>>()?;
            Ok(Orders { frame: Frame::of(&at, view, "orders")?, q: asked.q, open, orders, any })
        })
        .await?;
    Ok(Html(page.render()?))
}

/// What was typed as clues: two words that are a size together count as one.
fn clues(typed: &str) -> Vec<OrderClue> {
    let words: Vec<&str> = typed.split_whitespace().take(12).collect();
    let mut clues = Vec::new();
    let mut at = 0;
    while let Some(word) = words.get(at) {
        let pair = words.get(at + 1).map(|next| format!("{word} {next}"));
        let size = |text: &str| parse_length(text).ok().map(|length| length.value().mm());
        if let Some((pair, mm)) = pair.and_then(|pair| size(&pair).map(|mm| (pair, mm))) {
            clues.push(OrderClue::Size { words: pair, mm });
            at += 2;
            continue;
        }
        clues.push(match size(word) {
            Some(mm) => OrderClue::Size { words: (*word).to_owned(), mm },
            None => OrderClue::Words((*word).to_owned()),
        });
        at += 1;
    }
    clues
}

fn row(view: &View<'_>, one: OrderOnList, today: &str) -> Result<Row, PageError> {
    let (state, state_kind) = state(&one);
    let lines = view.lines_in_full(one.order.id)?;
    let order = one.order.record;
    Ok(Row {
        address: format!("/orders/{}", one.order.id),
        late: order.closed_on.is_none() && order.due_on.as_deref().is_some_and(|due| due < today),
        due: order.due_on.unwrap_or_default(),
        name: order.name,
        buyer: order.buyer,
        lines: lines.iter().map(|line| format!("{}: {}", line.line.name, in_short(line))).collect(),
        state,
        state_kind,
    })
}

/// How far an order has come, and the look of the word.
pub(super) fn state(one: &OrderOnList) -> (String, &'static str) {
    let of = if one.asked_more { "more than " } else { "" };
    let made = format!("made {} of {of}{} rings", one.good, one.asked);
    if one.order.record.closed_on.is_some() {
        ("closed".to_owned(), "off")
    } else if one.runs == 0 {
        ("nothing started".to_owned(), "")
    } else if one.in_hand > 0 {
        (format!("run in hand, {made}"), "warn")
    } else {
        (made, if one.good >= one.asked && !one.asked_more { "good" } else { "" })
    }
}

/// What a line of an order asks for, in one line.
pub(super) fn in_short(LineInFull { line, further, .. }: &LineInFull) -> String {
    let kept = |kept: &Option<String>| kept.clone().unwrap_or_default();
    let what = match line.kind {
        LineKind::Rings => format!("{} rings", line.rings.unwrap_or(0)),
        LineKind::Kits if line.pattern.is_some() => format!(
            "{} kits of {} + {} spare",
            line.kits.unwrap_or(0),
            piece(line),
            line.spare_each.unwrap_or(0)
        ),
        LineKind::Chain => piece(line),
        LineKind::Kits => format!(
            "{} kits of {} rings + {} spare",
            line.kits.unwrap_or(0),
            line.rings_each.unwrap_or(0),
            line.spare_each.unwrap_or(0)
        ),
    };
    let ring = |ring: &Option<String>, rod: &Option<String>| match ring {
        Some(ring) => format!("ring {ring}"),
        None => format!("on rod {}", kept(rod)),
    };
    let own = ring(&line.ring_typed, &line.rod_typed);
    let mut told = format!("{what}, {} {} {}, {own}", line.metal, line.temper, line.wire_typed);
    for size in further {
        let ring = ring(&size.ring_typed, &size.rod_typed);
        told.push_str(&format!("; ring size {}: {}, {ring}", size.size, size.wire_typed));
    }
    told
}

/// A chain or a sheet, by its pattern where it has one.
fn piece(line: &OrderLine) -> String {
    let kept = |kept: &Option<String>| kept.clone().unwrap_or_default();
    let pattern = line.pattern.as_deref().unwrap_or("chain");
    match (&line.across_typed, &line.girth_typed, &line.chain_length_typed) {
        (Some(across), ..) => format!("{pattern} of {} x {across}", kept(&line.chain_length_typed)),
        (None, Some(girth), _) => format!("{pattern} round {girth}"),
        (None, None, Some(length)) => format!("{pattern} of {length}"),
        (None, None, None) => pattern.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use linkwright_store::OrderClue;

    use super::clues;

    #[test]
    fn a_size_among_the_clues_is_found_however_it_is_typed() {
        let found = clues("copper 14 awg");
        assert_eq!(found[0], OrderClue::Words("copper".to_owned()));
        let OrderClue::Size { words, mm } = &found[1] else { panic!("{found:?}") };
        assert_eq!(words, "14 awg");
        // ASTM B258, from memory: 14 AWG is 1.628 mm.
        assert!((mm - 1.628).abs() < 0.0005, "{mm}");
    }
}
