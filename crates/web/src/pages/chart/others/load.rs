//! Files of other workshops, sent in a form and kept; all of them or none.

use axum::extract::multipart::{Field, MultipartError};
use axum::extract::{Multipart, State};
use axum::response::{IntoResponse, Redirect, Response};
use linkwright_answers::pool::{FILE_BYTES_MOST, read_workshop};
use linkwright_store::records::OtherWorkshop;

use super::super::asked::Asked;
use super::changes::counted;
use super::show::{own, page};
use crate::error::PageError;
use crate::form::Token;
use crate::state::App;

/// Files of one form at most.
const FILES_MOST: usize = 60;
/// Files kept at most; a prior of as many is worked out in a few seconds.
const KEPT_MOST: usize = 500;
/// Letters of a file's name that are kept.
const NAME_CHARS: usize = 100;

/// A file as it was sent.
struct Sent {
    name: String,
    bytes: Vec<u8>,
}

pub(super) async fn load(State(app): State<App>, form: Multipart) -> Result<Response, PageError> {
    let (token, sent) = read(&app, form).await?;
    let today = app.clock().today().to_string();
    let mut complaints = Vec::new();
    let mut files: Vec<OtherWorkshop> = Vec::new();
    if sent.is_empty() {
        complaints.push("choose a file first".to_owned());
    }
    for file in sent {
        match kept(&file, &today) {
            Ok(file) if files.iter().any(|other| other.content == file.content) => complaints
                .push(format!("{}: it says the same as another of these files", file.name)),
            Ok(file) => files.push(file),
            Err(why) => complaints.push(format!("{}: {why}", file.name)),
        }
    }
    if complaints.is_empty() {
        let (at, asked) = (app.clone(), files.clone());
        complaints = app.read(move |view| against(&at, view, &asked)).await?;
    }
    if !complaints.is_empty() {
        return page(&app, Asked::default(), complaints).await;
    }
    let what = format!("Loaded {} of other workshops", counted(files.len(), "file"));
    app.act(&token, what, move |act| {
        for file in &files {
            act.add(file)?;
        }
        Ok(())
    })
    .await?;
    Ok(Redirect::to("/chart/others").into_response())
}

/// The token, which stands first so that no file is read for a stranger, and the files.
async fn read(app: &App, mut form: Multipart) -> Result<(Token, Vec<Sent>), PageError> {
    let first = form.next_field().await.map_err(unreadable)?.ok_or(PageError::NotOurForm)?;
    if first.name() != Some("token") {
        return Err(PageError::NotOurForm);
    }
    let token = first.text().await.map_err(unreadable)?;
    let token = app.tokens().vouch(&token).ok_or(PageError::NotOurForm)?;
    let mut sent = Vec::new();
    while let Some(field) = form.next_field().await.map_err(unreadable)? {
        if field.name() != Some("files") {
            continue;
        }
        let name: String =
            field.file_name().unwrap_or("").trim().chars().take(NAME_CHARS).collect();
        let bytes = bytes(field).await?;
        // A browser sends a nameless empty file when none was chosen.
        if name.is_empty() && bytes.is_empty() {
            continue;
        }
        if sent.len() == FILES_MOST {
            return Err(PageError::Unreadable(format!(
                "more than {FILES_MOST} files at once; send them in two goes"
            )));
        }
        let name = if name.is_empty() { "file without a name".to_owned() } else { name };
        sent.push(Sent { name, bytes });
    }
    Ok((token, sent))
}

/// A file, cut off one byte past what is read of any.
async fn bytes(mut field: Field<'_>) -> Result<Vec<u8>, PageError> {
    let mut kept = Vec::new();
    while let Some(chunk) = field.chunk().await.map_err(unreadable)? {
        let room = (FILE_BYTES_MOST + 1).saturating_sub(kept.len());
        kept.extend_from_slice(&chunk[..chunk.len().min(room)]);
    }
    Ok(kept)
}

fn unreadable(error: MultipartError) -> PageError {
    PageError::Unreadable(error.body_text())
}

/// The record of a file, set aside at first; or why it will not do.
fn kept(file: &Sent, today: &str) -> Result<OtherWorkshop, String> {
    let workshop = read_workshop(&file.bytes).map_err(|error| error.to_string())?;
    let content = String::from_utf8(file.bytes.clone()).map_err(|error| error.to_string())?;
    let count = |number: usize| u32::try_from(number).unwrap_or(u32::MAX);
    Ok(OtherWorkshop {
        name: file.name.clone(),
        loaded_on: today.to_owned(),
        trials: count(workshop.trials()),
        cells: count(workshop.cells()),
        in_use: false,
        content: content.trim().to_owned(),
    })
}

/// What stands against keeping them: trials that would count twice, or too many files.
fn against(
    app: &App,
    view: &linkwright_store::View<'_>,
    files: &[OtherWorkshop],
) -> Result<Vec<String>, PageError> {
    let there = view.all::<OtherWorkshop>()?;
    let taught = app.taught_by_all(view)?;
    let own = if taught.lessons.coils.is_empty() { None } else { Some(own(view, &taught)?) };
    let mut complaints = Vec::new();
    for file in files {
        if let Some(other) = there.iter().find(|other| other.record.content == file.content) {
            complaints.push(format!("{}: it is here already, as {}", file.name, other.record.name));
        } else if own.as_ref().is_some_and(|own| own.trim() == file.content) {
            complaints.push(format!(
                "{}: it is this workshop's own; its trials would count twice",
                file.name
            ));
        }
    }
    if there.len() + files.len() > KEPT_MOST {
        complaints.push(format!(
            "{} are here and at most {KEPT_MOST} are kept; remove some first",
            counted(there.len(), "file")
        ));
    }
    Ok(complaints)
}
