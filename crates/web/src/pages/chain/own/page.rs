//! The page of one's own patterns: those that are kept, and the form for one more or for one changed.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Path, State};
use axum::response::Html;
use linkwright_answers::chain::ground_in_words;
use linkwright_answers::printout::{both_lengths, significant};
use linkwright_linkage::pattern::Kind;
use linkwright_store::records::KeptPattern;
use linkwright_store::{Id, Saved, View};

use super::files::EXAMPLES;
use crate::error::PageError;
use crate::frame::Frame;
use crate::pages::chain::address_of;
use crate::pages::chain::list::capital;
use crate::patterns::tried::{Outcome, Tried, Wrong, picture_of, stands, start_picture};
use crate::state::App;

/// Letters of a wrong value that are shown.
const GIVEN_CHARS: usize = 80;
/// Letters of a line of the text that are shown.
const LINE_CHARS: usize = 120;

/// What the page shows beside the patterns that are kept.
pub(super) struct Page {
    /// The pattern that is to be replaced.
    pub(super) id: Option<Id<KeptPattern>>,
    pub(super) text: String,
    pub(super) found: Option<Found>,
}

/// What came of trying a text.
pub(super) struct Found {
    pub(super) outcome: Outcome,
    /// Whether the form was to be kept without saying which chain is meant.
    pub(super) is_which_wanted: bool,
}

impl Found {
    pub(super) fn of(outcome: Outcome) -> Found {
        Found { outcome, is_which_wanted: false }
    }
}

#[derive(Template)]
#[template(path = "pages/chain/own.html")]
struct OwnPage {
    frame: Frame,
    /// Where the form is sent, and what it is about.
    address: String,
    heading: String,
    own: Vec<OwnRow>,
    text: String,
    wrong: Option<WrongShown>,
    stands: Option<Stands>,
    examples: [(&'static str, &'static str, &'static str); 2],
}

/// A pattern that is kept.
struct OwnRow {
    number: i64,
    name: String,
    title: String,
    about: String,
    address: String,
    /// Why it cannot be used.
    wrong: String,
    orders: u32,
}

/// What is wrong, with the lines of the text it stands in.
struct WrongShown {
    place: String,
    given: String,
    said: String,
    lines: Vec<LineShown>,
}

struct LineShown {
    number: usize,
    text: String,
    is_it: bool,
}

/// What a text that stands describes.
struct Stands {
    title: String,
    picture: String,
    rows: Vec<(&'static str, String)>,
    cautions: Vec<String>,
    chains: Vec<ChainShown>,
    is_which_wanted: bool,
}

struct ChainShown {
    which: usize,
    least: String,
    times: String,
    picture: String,
    is_taken: bool,
}

pub(super) async fn all(State(app): State<App>) -> Result<Html<String>, PageError> {
    shown(&app, Page { id: None, text: String::new(), found: None }).await
}

pub(super) async fn one(
    State(app): State<App>,
    Path(id): Path<i64>,
) -> Result<Html<String>, PageError> {
    let id = Id::<KeptPattern>::new(id);
    let kept = app.read(move |view| Ok(view.get(id)?)).await?;
    shown(&app, Page { id: Some(id), text: kept.text, found: None }).await
}

pub(super) async fn shown(app: &App, page: Page) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app.read(move |view| OwnPage::of(&at, view, page)).await?;
    Ok(Html(page.render()?))
}

/// The picture of a pattern of one's own; `None` if there is none of that key that can be used.
pub(in crate::pages::chain) async fn own_picture(
    app: &App,
    name: String,
) -> Result<Option<String>, PageError> {
    app.read(move |view| {
        let all = view.all::<KeptPattern>()?;
        let kept = all.into_iter().find(|kept| kept.record.name == name);
        Ok(kept.and_then(|kept| drawn(&kept.record)))
    })
    .await
}

fn drawn(kept: &KeptPattern) -> Option<String> {
    let own = stands(&kept.name, &kept.text, kept.start.as_deref()).ok()?;
    let placed = kept.shown.as_deref().and_then(|shown| own.placed_as_shown(shown));
    Some(match placed {
        Some((pose, wire)) => picture_of(&pose, wire.mm(), own.pattern.kind()),
        None => start_picture(&own.pattern),
    })
}

impl OwnPage {
    fn of(app: &App, view: &View<'_>, page: Page) -> Result<OwnPage, PageError> {
        let kept = view.all::<KeptPattern>()?;
        let replaced = page.id.and_then(|id| kept.iter().find(|kept| kept.id == id));
        let heading = match replaced {
            Some(kept) => format!("Replace: {}", kept.record.title),
            None => "Bring one in".to_owned(),
        };
        let address = page.id.map_or("/chain/own".to_owned(), |id| format!("/chain/own/{id}"));
        let own = kept.iter().map(|kept| OwnRow::of(view, kept)).collect::<Result<_, _>>()?;
        let (wrong, stands) = match page.found {
            None => (None, None),
            Some(Found { outcome: Err(wrong), .. }) => {
                (Some(WrongShown::of(wrong, &page.text)), None)
            }
            Some(Found { outcome: Ok(tried), is_which_wanted }) => {
                (None, Some(Stands::of(&tried, is_which_wanted)))
            }
        };
        Ok(OwnPage {
            frame: Frame::of(app, view, "chain")?,
            address,
            heading,
            own,
            text: page.text,
            wrong,
            stands,
            examples: EXAMPLES,
        })
    }
}

impl OwnRow {
    fn of(view: &View<'_>, kept: &Saved<KeptPattern>) -> Result<OwnRow, PageError> {
        let record = &kept.record;
        let wrong = stands(&record.name, &record.text, record.start.as_deref()).err();
        Ok(OwnRow {
            number: kept.id.number(),
            name: record.name.clone(),
            title: capital(&record.title),
            about: format!("from aspect ratio {:.2}", record.aspect_ratio_min),
            address: address_of(&record.name),
            wrong: wrong.map_or_else(String::new, |error| error.to_string()),
            orders: view.open_orders_in_pattern(&record.name)?,
        })
    }
}

impl WrongShown {
    fn of(wrong: Wrong, text: &str) -> WrongShown {
        let place = match (wrong.line, wrong.field.as_str()) {
            (Some(line), "") => format!("Line {line}"),
            (Some(line), field) => format!("Line {line}: {field}"),
            (None, field) => capital(field),
        };
        let about = |line: usize| line.saturating_sub(2)..line + 1;
        let lines = wrong.line.map(|at| {
            let numbered = text.lines().enumerate().take(about(at).end).skip(about(at).start);
            numbered.map(move |(index, line)| LineShown {
                number: index + 1,
                text: shortened(line, LINE_CHARS),
                is_it: index + 1 == at,
            })
        });
        WrongShown {
            place,
            given: shortened(&wrong.given, GIVEN_CHARS),
            lines: lines.into_iter().flatten().collect(),
            said: wrong.said,
        }
    }
}

fn shortened(text: &str, most: usize) -> String {
    let mut short: String = text.chars().take(most).collect();
    if text.chars().nth(most).is_some() {
        short.push('\u{2026}');
    }
    short
}

impl Stands {
    fn of(tried: &Arc<Tried>, is_which_wanted: bool) -> Stands {
        let (spec, linked) = (tried.own.pattern.spec(), &tried.linked);
        let kind = match tried.own.pattern.kind() {
            Kind::Chain => "a chain",
            Kind::Sheet => "a sheet",
            Kind::Cluster => "a piece that does not repeat",
        };
        let rings = spec.rings.len();
        let counted = |count: usize, what: &str| {
            if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
        };
        let mut rows = vec![
            ("Key", spec.name.clone()),
            ("What it is", format!("{kind}, {} a repeat", counted(rings, "ring"))),
            (
                "Smallest aspect ratio",
                format!(
                    "{} ({})",
                    significant(linked.aspect_ratio_min, 4),
                    ground_in_words(linked.limit_ground)
                ),
            ),
        ];
        let spare = both_lengths(linked.inside_to_spare.mm().abs());
        let with = significant(linked.aspect_ratio, 4);
        rows.push((
            "With the file's rings",
            if linked.possible() {
                format!("possible: aspect ratio {with}, {spare} of inside diameter to spare")
            } else {
                format!("not possible: aspect ratio {with}, {spare} of inside diameter missing")
            },
        ));
        if let Some(per_cm) = linked.rings_per_cm() {
            rows.push(("Rings per cm", significant(per_cm, 4)));
        }
        if let Some(per_cm2) = linked.rings_per_cm2() {
            rows.push(("Rings per cm2", significant(per_cm2, 4)));
        }
        let search = tried.own.search.as_ref();
        if let Some(search) = search {
            rows.push(("Looked for", search.told()));
        }
        let several = search.filter(|search| search.chains.len() > 1);
        let chains = several.into_iter().flat_map(|search| {
            let shown = search.chains.iter().zip(&tried.chains).zip(1..);
            shown.map(|((chain, drawn), which)| ChainShown {
                which,
                least: significant(chain.aspect_ratio_min, 4),
                times: counted(chain.times as usize, "time"),
                picture: drawn.picture.clone(),
                is_taken: search.is_said && search.taken + 1 == which,
            })
        });
        Stands {
            title: capital(&spec.title),
            picture: tried.picture.clone(),
            rows,
            cautions: linked.cautions().iter().map(ToString::to_string).collect(),
            chains: chains.collect(),
            is_which_wanted,
        }
    }
}
