//! A chain or sheet to measure: wanted width, mass or money -> the wires, rings and patterns of this
//! workshop that come nearest.

mod form;

mod card;

mod missing;

use std::sync::Arc;

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use linkwright_answers::chain::design::{OwnRings, Repertoire, design};
use linkwright_answers::chain::listed;
use linkwright_linkage::pattern::Kind;
use linkwright_store::{StoreError, View};

use super::list::capital;
use crate::error::PageError;
use crate::form::Complaints;
use crate::frame::Frame;
use crate::measured::chain_corrections;
use crate::patterns::known_patterns;
use crate::planning::workshop;
use crate::state::App;
use card::CardView;
use form::{SHOWN, ToMeasure};
use missing::{Missing, missing};

#[derive(Template)]
#[template(path = "pages/chain/to_measure.html")]
struct Page {
    frame: Frame,
    asked: ToMeasure,
    complaints: Complaints,
    /// Key and name of every metal on the shelf.
    metals: Vec<(String, String)>,
    /// Heading, and key and name of every pattern of that kind.
    patterns: Vec<(&'static str, Vec<(String, String)>)>,
    /// What the workshop lacks for any answer.
    missing: Vec<Missing>,
    answer: Option<Answer>,
}

struct Answer {
    /// What was asked, in words; it stands on paper in place of the form.
    wanted: String,
    cards: Vec<CardView>,
    looked_at: usize,
    /// Address that shows more, if there are more.
    more: Option<String>,
    left_out: Vec<String>,
    /// Wires on rods that give no ring.
    no_ring: Vec<String>,
    is_sheet: bool,
}

/// Answers shown at most.
const MOST: usize = 40;

pub(in crate::pages::chain) async fn show(
    State(app): State<App>,
    Query(typed): Query<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let asked = ToMeasure::of(&typed);
    let at = app.clone();
    let page = app.read(move |view| Page::of(&at, view, asked)).await?;
    let refused = !page.complaints.is_empty();
    let status = if refused { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK };
    Ok((status, Html(page.render()?)).into_response())
}

/// Everything this workshop can link, worked out once while no record changes; a sentence while something
/// stands in the way.
fn repertoire(view: &View<'_>) -> Result<Arc<Result<Repertoire, String>>, StoreError> {
    view.worked_out("everything that can be linked", || {
        Ok(match workshop(view)? {
            Err(why) => Err(why),
            Ok((workshop, metals)) => {
                let rings = OwnRings::of(&workshop, &metals);
                let all = Repertoire::of(rings, chain_corrections(view)?);
                Ok(all.beside(known_patterns(view)?.own()))
            }
        })
    })
}

impl Page {
    fn of(app: &App, view: &View<'_>, asked: ToMeasure) -> Result<Page, PageError> {
        let all = repertoire(view)?;
        let (metals, rings) = match &*all {
            Ok(all) => (all.rings().metals(), all.rings().count()),
            Err(_) => (Vec::new(), 0),
        };
        let missing =
            if rings == 0 { missing(view, all.as_ref().as_ref().err())? } else { Vec::new() };
        let (mut complaints, mut answer) = (Complaints::default(), None);
        if asked.is_asked() {
            match (asked.read(&metals), &*all) {
                (Err(wrong), _) => complaints = wrong,
                (Ok(read), Ok(all)) if rings > 0 => {
                    let most = asked.shown().min(MOST);
                    let designs = design(&read.wanted, all, most);
                    let more = designs.looked_at > most && most < MOST;
                    answer = Some(Answer {
                        wanted: asked.in_words(&read, &metals),
                        looked_at: designs.looked_at,
                        more: more.then(|| asked.address(most + 2 * SHOWN)),
                        is_sheet: read.wanted.kind == Kind::Sheet,
                        left_out: designs.left_out.sentences(),
                        no_ring: designs.left_out.no_ring.clone(),
                        cards: designs
                            .found
                            .iter()
                            .zip(1..)
                            .map(|(design, place)| CardView::of(design, place, &asked, read.piece))
                            .collect(),
                    });
                }
                _ => {}
            }
        }
        let of = |kind: Kind| {
            let chosen = listed().into_iter().filter(move |pattern| pattern.kind == kind);
            chosen.map(|pattern| (pattern.name, capital(&pattern.title))).collect::<Vec<_>>()
        };
        Ok(Page {
            frame: Frame::of(app, view, "chain")?,
            asked,
            complaints,
            metals,
            patterns: vec![("Chains and strips", of(Kind::Chain)), ("Sheets", of(Kind::Sheet))],
            missing,
            answer,
        })
    }

    fn about(&self, field: &str) -> &str {
        self.complaints.about(field)
    }

    fn is_wrong(&self, field: &str) -> bool {
        !self.about(field).is_empty()
    }
}
