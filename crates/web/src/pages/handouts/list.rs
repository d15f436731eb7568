//! All sheets, their versions, and making a new one.

use askama::Template;
use axum::extract::State;
use axum::response::Html;

use super::sheet::Kind;
use crate::error::PageError;
use crate::frame::Frame;
use crate::state::App;

#[derive(Template)]
#[template(path = "pages/handouts/list.html")]
struct List {
    frame: Frame,
    sheets: Vec<Row>,
    kit_lines: Vec<(i64, String)>,
}

struct Row {
    kind: Kind,
    pdf: Option<&'static str>,
    versions: Vec<Version>,
}

struct Version {
    number: i64,
    title: String,
    version: u32,
    made_on: String,
    trials: u32,
    /// Class and day.
    classes: Vec<(String, String)>,
}

pub(super) async fn list(State(app): State<App>) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            let kept = view.handouts()?;
            let sheets = Kind::ALL
                .into_iter()
                .map(|kind| {
                    let of_kind = kept.iter().filter(|handout| handout.record.kind == kind.word());
                    let versions = of_kind.map(|handout| {
                        let given = view.classes_with(handout.id)?;
                        Ok(Version {
                            number: handout.id.number(),
                            title: handout.record.title.clone(),
                            version: handout.record.version,
                            made_on: handout.record.made_on.clone(),
                            trials: handout.record.trials,
                            classes: given
                                .into_iter()
                                .map(|given| (given.record.class_name, given.record.given_on))
                                .collect(),
                        })
                    });
                    let pdf = match kind {
                        Kind::WallChart => Some("/paper/wall-chart"),
                        Kind::TrialCard => Some("/paper/trial-card"),
                        Kind::Cautions => Some("/paper/cautions"),
                        Kind::Kit | Kind::BladeChart => None,
                    };
                    Ok(Row { kind, pdf, versions: versions.collect::<Result<_, PageError>>()? })
                })
                .collect::<Result<_, PageError>>()?;
            let lines = view.kit_lines()?;
            let named = lines.into_iter().map(|line| {
                let order = view.get(line.record.order_id)?;
                let words = format!("{}, order {}", line.record.name, order.name);
                Ok((line.id.number(), words))
            });
            let kit_lines = named.collect::<Result<_, PageError>>()?;
            Ok(List { frame: Frame::of(&at, view, "handouts")?, sheets, kit_lines })
        })
        .await?;
    Ok(Html(page.render()?))
}
