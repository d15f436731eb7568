//! The page: this workshop's own file, the files of others, and what they change.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::http::header::{CACHE_CONTROL, CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{Html, IntoResponse, Response};
use linkwright_answers::pool::{condense, write_workshop};
use linkwright_store::records::OtherWorkshop;
use linkwright_store::{Saved, StoreError, View};
use linkwright_trials::{Learned, Prior};

use super::super::asked::Asked;
use super::super::bench::ChartBench;
use super::changes::{Changes, counted};
use crate::error::PageError;
use crate::frame::Frame;
use crate::learning::{Taught, prior_of, trials};
use crate::planning::metal_name;
use crate::state::App;

/// Coils below which the file still shows roughly what was cut.
const FEW_COILS: usize = 20;

#[derive(Template)]
#[template(path = "pages/chart/others.html")]
struct Others {
    frame: Frame,
    coils: usize,
    few: bool,
    files: Vec<File>,
    /// Metal and temper whose chart is compared.
    of: String,
    /// The files in use and what they change; nothing if none is in use.
    used: Option<Effect>,
    /// The files set aside and what they would change.
    aside: Option<Effect>,
    complaints: Vec<String>,
}

struct File {
    number: i64,
    name: String,
    loaded_on: String,
    learned_from: String,
    in_use: bool,
}

/// Some files, and what they change.
struct Effect {
    /// "the trials of 3 other workshops (310 coils)".
    what: String,
    /// Nothing where there is no chart yet.
    changes: Option<Vec<String>>,
}

pub(super) async fn show(
    State(app): State<App>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    page(&app, asked, Vec::new()).await
}

/// The page, with what is wrong with the files that were sent.
pub(super) async fn page(
    app: &App,
    asked: Asked,
    complaints: Vec<String>,
) -> Result<Response, PageError> {
    let status =
        if complaints.is_empty() { StatusCode::OK } else { StatusCode::UNPROCESSABLE_ENTITY };
    let at = app.clone();
    let page = app
        .read(move |view| {
            let taught = at.taught(view)?;
            let bench = ChartBench::of(view, &taught, &asked)?;
            let files = view.all::<OtherWorkshop>()?;
            let coils = taught.lessons.coils.len();
            Ok(Others {
                frame: Frame::of(&at, view, "chart")?,
                coils,
                few: coils < FEW_COILS,
                of: format!("{}, {}", metal_name(&bench.metals, &bench.metal), bench.temper),
                used: used(view, &taught, &bench)?,
                aside: aside(view, &taught, &bench, &files)?,
                files: files.into_iter().map(File::of).collect(),
                complaints,
            })
        })
        .await?;
    Ok((status, Html(page.render()?)).into_response())
}

impl File {
    fn of(saved: Saved<OtherWorkshop>) -> File {
        let OtherWorkshop { name, loaded_on, trials, cells, in_use, .. } = saved.record;
        let count = |number: u32| usize::try_from(number).unwrap_or(usize::MAX);
        File {
            number: saved.id.number(),
            name,
            loaded_on,
            learned_from: format!(
                "{} of {}",
                counted(count(trials), "coil"),
                counted(count(cells), "cell")
            ),
            in_use,
        }
    }
}

fn used(
    view: &View<'_>,
    taught: &Taught,
    bench: &ChartBench,
) -> Result<Option<Effect>, StoreError> {
    if taught.others.workshops == 0 {
        return Ok(None);
    }
    let alone = view.worked_out("what this workshop's trials teach alone", || {
        let alone = Learned::fit(&taught.lessons.coils, &Prior::geometry());
        Ok::<_, StoreError>(taught.believing(alone))
    })?;
    let changes = Changes::between(bench, &alone, taught);
    Ok(Some(Effect { what: taught.others.in_words(), changes: changes.map(Changes::in_words) }))
}

fn aside(
    view: &View<'_>,
    taught: &Taught,
    bench: &ChartBench,
    files: &[Saved<OtherWorkshop>],
) -> Result<Option<Effect>, StoreError> {
    let aside: Vec<Saved<OtherWorkshop>> =
        files.iter().filter(|file| !file.record.in_use).cloned().collect();
    if aside.is_empty() {
        return Ok(None);
    }
    let all: Arc<Taught> = view.worked_out("what all loaded files would teach", || {
        let prior = prior_of(files)?;
        let all = Learned::fit(&taught.lessons.coils, &prior.prior);
        Ok::<_, StoreError>(taught.believing(all))
    })?;
    let coils: usize =
        aside.iter().map(|file| usize::try_from(file.record.trials).unwrap_or(usize::MAX)).sum();
    let changes = Changes::between(bench, taught, &all);
    Ok(Some(Effect {
        what: format!("{} ({})", counted(aside.len(), "file"), counted(coils, "coil")),
        changes: changes.map(Changes::in_words),
    }))
}

/// This workshop's own file, for others; it changes with every trial.
pub(super) async fn own_file(State(app): State<App>) -> Result<Response, PageError> {
    let at = app.clone();
    let file = app
        .read(move |view| {
            let taught = at.taught_by_all(view)?;
            if taught.lessons.coils.is_empty() {
                return Err(PageError::NotFound { what: "trial to share" });
            }
            Ok(own(view, &taught)?)
        })
        .await?;
    let headers = [
        (CONTENT_TYPE, "application/json"),
        (CONTENT_DISPOSITION, "attachment; filename=\"shared-trials.json\""),
        (CACHE_CONTROL, "no-store"),
    ];
    Ok((headers, (*file).clone()).into_response())
}

/// This workshop's own file.
pub(super) fn own(view: &View<'_>, taught: &Taught) -> Result<Arc<String>, StoreError> {
    view.worked_out("this workshop's trials condensed", || {
        // Others may learn from all of them.
        match taught.lessons.newest {
            None => Ok(write_workshop(&condense(&taught.lessons.coils))),
            Some(_) => Ok(write_workshop(&condense(&trials(view)?))),
        }
    })
}
