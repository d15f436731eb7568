//! Labels for batches as a printed page, each with a code that opens its batch.

use askama::Template;
use axum::extract::{Query, State};
use axum::http::HeaderMap;
use axum::http::header::HOST;
use axum::response::Html;
use linkwright_store::Id;
use linkwright_store::records::{Batch, WireLot};
use qrcode::{Color, EcLevel, QrCode};

use super::words;
use crate::error::PageError;
use crate::frame::Frame;
use crate::state::App;

/// More labels than anybody cuts out at a time.
const LABELS_MOST: usize = 500;
/// White modules that a reader wants round the code. Source: ISO/IEC 18004, from memory.
const QUIET_MODULES: usize = 4;

#[derive(Template)]
#[template(path = "pages/rings/labels.html")]
struct Labels {
    frame: Frame,
    labels: Vec<Label>,
    ids: String,
    letter: bool,
    /// Whether only this computer can open the addresses.
    only_here: bool,
}

struct Label {
    code: String,
    metal: String,
    temper: String,
    lot: String,
    wire: String,
    inside: String,
    ratio_wound: Option<String>,
    ratio_closed: Option<String>,
    rings: String,
    made_on: String,
    picture: Picture,
}

/// A code to be read by a camera: its width in modules with the quiet zone, and its dark parts.
struct Picture {
    modules: usize,
    path: String,
    address: String,
}

pub(super) async fn labels(
    State(app): State<App>,
    headers: HeaderMap,
    Query(asked): Query<Vec<(String, String)>>,
) -> Result<Html<String>, PageError> {
    let ids = asked
        .iter()
        .filter(|(name, _)| name == "ids")
        .flat_map(|(_, text)| text.split(','))
        .map(str::trim)
        .filter(|number| !number.is_empty())
        .map(|number| {
            let not_one = || PageError::Unreadable(format!("\"{number}\" is no number of a batch"));
            number.parse().map_err(|_| not_one())
        })
        .collect::<Result<Vec<Id<Batch>>, _>>()?;
    if ids.len() > LABELS_MOST {
        let told =
            format!("{} labels are too many at a time; {LABELS_MOST} is the most", ids.len());
        return Err(PageError::Unreadable(told));
    }
    let letter = asked.iter().any(|(name, text)| name == "paper" && text == "letter");
    // The address by which this page was asked for is the one by which the batch can be found.
    let host = headers.get(HOST).and_then(|host| host.to_str().ok()).unwrap_or("localhost");
    let host = host.to_owned();
    let at = app.clone();
    let page = app
        .read(move |view| {
            let metals = words::metals(view)?;
            let mut labels = Vec::new();
            for id in &ids {
                let batch = view.get(*id)?;
                let lot = batch.wire_lot_id.map(|lot| view.get::<WireLot>(lot)).transpose()?;
                labels.push(Label {
                    picture: picture(format!(
                        "http://{host}/b/{}",
                        words::in_address(&batch.code)
                    ))?,
                    metal: words::metal_name(&metals, &batch.metal),
                    lot: lot.map(|lot| lot.name).unwrap_or_default(),
                    wire: words::wire(&batch),
                    inside: words::inside(&batch),
                    ratio_wound: words::ratio(&batch, batch.inside_mm),
                    ratio_closed: words::ratio(&batch, batch.closed_inside_mm),
                    rings: words::count(&batch),
                    code: batch.code,
                    temper: batch.temper,
                    made_on: batch.made_on,
                });
            }
            let ids: Vec<String> = ids.iter().map(ToString::to_string).collect();
            let only_here =
                ["127.", "localhost", "[::1]"].iter().any(|here| host.starts_with(here));
            let frame = Frame::of(&at, view, "rings")?;
            Ok(Labels { frame, labels, ids: ids.join(","), letter, only_here })
        })
        .await?;
    Ok(Html(page.render()?))
}

fn picture(address: String) -> Result<Picture, PageError> {
    let code = QrCode::with_error_correction_level(&address, EcLevel::M)
        .map_err(|error| PageError::Inside(Box::new(error)))?;
    let width = code.width();
    let mut path = String::new();
    for (at, color) in code.to_colors().into_iter().enumerate() {
        if color == Color::Dark {
            let (x, y) = (at % width + QUIET_MODULES, at / width + QUIET_MODULES);
            path.push_str(&format!("M{x} {y}h1v1h-1z"));
        }
    }
    Ok(Picture { modules: width + 2 * QUIET_MODULES, path, address })
}
