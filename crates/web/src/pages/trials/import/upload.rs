//! The first step: a file is sent.

use askama::Template;
use axum::extract::{Multipart, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use linkwright_store::spreadsheet::{ROWS_MOST, SpreadsheetError, Tables, read};
use linkwright_store::trials::import::{Staged, heading_row};

use crate::error::PageError;
use crate::frame::Frame;
use crate::state::App;

#[derive(Template)]
#[template(path = "pages/trials/import_upload.html")]
struct UploadPage {
    frame: Frame,
    complaint: String,
}

/// Shows the form.
pub(in crate::pages::trials) async fn show(State(app): State<App>) -> Result<Response, PageError> {
    page(&app, String::new()).await
}

async fn page(app: &App, complaint: String) -> Result<Response, PageError> {
    let at = app.clone();
    let frame = app.read(move |view| Ok(Frame::of(&at, view, "trials")?)).await?;
    let status =
        if complaint.is_empty() { StatusCode::OK } else { StatusCode::UNPROCESSABLE_ENTITY };
    Ok((status, Html(UploadPage { frame, complaint }.render()?)).into_response())
}

/// Takes the file and keeps it for the next steps, or says why it cannot be used.
pub(in crate::pages::trials) async fn take(
    State(app): State<App>,
    mut parts: Multipart,
) -> Result<Response, PageError> {
    let unreadable = |error: &dyn std::fmt::Display| PageError::Unreadable(error.to_string());
    let mut vouched = false;
    while let Some(part) = parts.next_field().await.map_err(|error| unreadable(&error))? {
        match part.name() {
            // The token stands first in the form, so no file is read for a stranger.
            Some("token") => {
                let text = part.text().await.map_err(|error| unreadable(&error))?;
                vouched = app.tokens().vouch(&text).is_some();
            }
            Some("file") if vouched => {
                let name: String = part.file_name().unwrap_or("table").chars().take(100).collect();
                let Ok(bytes) = part.bytes().await else {
                    return page(&app, SpreadsheetError::TooLarge.to_string()).await;
                };
                return keep(&app, name, bytes.to_vec()).await;
            }
            _ => return Err(PageError::NotOurForm),
        }
    }
    if !vouched {
        return Err(PageError::NotOurForm);
    }
    page(&app, "choose a file first".to_owned()).await
}

async fn keep(app: &App, name: String, bytes: Vec<u8>) -> Result<Response, PageError> {
    if bytes.is_empty() {
        return page(app, "choose a file that is not empty".to_owned()).await;
    }
    let at = app.clone();
    let now = app.clock().now();
    let staged = tokio::task::spawn_blocking(move || {
        let tables = read(&bytes).and_then(within_rows).map_err(|error| error.to_string());
        tables.map(|tables| at.store().stage(now, &Staged { name, tables }))
    })
    .await?;
    match staged {
        Ok(number) => Ok(Redirect::to(&format!("/trials/import/{}", number?)).into_response()),
        Err(complaint) => page(app, complaint).await,
    }
}

fn within_rows(tables: Tables) -> Result<Tables, SpreadsheetError> {
    for sheet in &tables.sheets {
        let rows = sheet.rows.len() - 1 - heading_row(sheet).min(sheet.rows.len() - 1);
        if rows > ROWS_MOST {
            return Err(SpreadsheetError::TooManyRows { sheet: sheet.name.clone(), rows });
        }
    }
    Ok(tables)
}
