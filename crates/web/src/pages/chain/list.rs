//! Every pattern, to be picked by its picture.

use askama::Template;
use axum::extract::State;
use axum::response::Html;
use linkwright_answers::chain::PatternListed;
use linkwright_linkage::pattern::Kind;

use crate::error::PageError;
use crate::frame::Frame;
use crate::patterns::known_patterns;
use crate::state::App;

#[derive(Template)]
#[template(path = "pages/chain/list.html")]
struct List {
    frame: Frame,
    /// Heading and patterns of each kind.
    kinds: Vec<(&'static str, Vec<Card>)>,
}

struct Card {
    name: String,
    title: String,
    about: String,
    is_own: bool,
}

impl Card {
    fn of(pattern: &PatternListed) -> Card {
        let sizes = match pattern.sizes {
            1 => String::new(),
            sizes => format!(", {sizes} ring sizes"),
        };
        let about = match pattern.aspect_ratio_min {
            Some(least) => format!("from aspect ratio {least:.2}{sizes}"),
            None => format!("solved when asked for{sizes}"),
        };
        Card {
            name: pattern.name.clone(),
            title: capital(&pattern.title),
            about,
            is_own: pattern.is_own,
        }
    }
}

/// With a capital first letter.
pub(super) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    let first: String = letters.next().iter().flat_map(|letter| letter.to_uppercase()).collect();
    first + letters.as_str()
}

pub(super) async fn show(State(app): State<App>) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let (frame, listed) = app
        .read(move |view| Ok((Frame::of(&at, view, "chain")?, known_patterns(view)?.listed())))
        .await?;
    let of = |kind: Kind| {
        let chosen = listed.iter().filter(|pattern| pattern.kind == kind);
        chosen.map(Card::of).collect::<Vec<_>>()
    };
    let kinds = vec![
        ("Chains", of(Kind::Chain)),
        ("Sheets", of(Kind::Sheet)),
        ("Rosettes", of(Kind::Cluster)),
    ];
    Ok(Html(List { frame, kinds }.render()?))
}
