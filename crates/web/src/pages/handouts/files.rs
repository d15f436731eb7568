//! A version of the blade chart as a file: PDF on either paper, page, spreadsheet, text, data.

use axum::extract::{Path, State};
use axum::http::header::{CACHE_CONTROL, CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use linkwright_answers::published::PublishedChart;
use linkwright_sheets::{BladeChart, Paper};
use linkwright_store::records::Handout;
use linkwright_store::spreadsheet::{to_csv, to_xlsx};
use linkwright_store::{Id, StoreError};

use crate::error::PageError;
use crate::pages::chart::publish::kept;
use crate::pages::paper::printed;
use crate::state::App;

/// What each file is called after the address of its version, and in words.
pub(super) const FILES: [(&str, &str); 10] = [
    ("a4.pdf", "PDF on A4"),
    ("letter.pdf", "PDF on Letter"),
    ("chart.html", "one page that works offline"),
    ("chart.xlsx", "xlsx"),
    ("chart.csv", "csv"),
    ("chart.json", "json"),
    ("student-a4.pdf", "student copy with pencil boxes, A4"),
    ("student-letter.pdf", "student copy with pencil boxes, Letter"),
    ("student.xlsx", "student copy as xlsx, with an empty sheet of trials"),
    ("trials.csv", "empty table of trials as csv"),
];

pub(super) async fn file(
    State(app): State<App>,
    Path((id, name)): Path<(i64, String)>,
) -> Result<Response, PageError> {
    let id = Id::<Handout>::new(id);
    let handout = app.read(move |view| Ok(view.get(id)?)).await?;
    let chart = kept(&handout).ok_or(PageError::NotFound { what: "blade chart" })?;
    let paper = |student: bool, paper: Paper| {
        let sheet = BladeChart { chart: chart.clone(), student };
        let name = format!("{} {} {}", chart.title(), chart.version, paper.name());
        async move { printed(&name, paper, move |paper| sheet.pdf(paper)).await }
    };
    match name.as_str() {
        "a4.pdf" => return paper(false, Paper::A4).await,
        "letter.pdf" => return paper(false, Paper::Letter).await,
        "student-a4.pdf" => return paper(true, Paper::A4).await,
        "student-letter.pdf" => return paper(true, Paper::Letter).await,
        _ => {}
    }
    let (media, bytes) = tokio::task::spawn_blocking(move || made(&chart, &name)).await??;
    let headers = [
        (CONTENT_TYPE, media.to_owned()),
        (CONTENT_DISPOSITION, format!("attachment; filename=\"{}\"", saved_as(&handout, media))),
        (CACHE_CONTROL, "no-store".to_owned()),
    ];
    Ok((headers, bytes).into_response())
}

/// The kind of the file and what is in it.
fn made(chart: &PublishedChart, name: &str) -> Result<(&'static str, Vec<u8>), PageError> {
    let xlsx = |student| Ok::<_, StoreError>((XLSX, to_xlsx(&book(chart, student))?));
    Ok(match name {
        "chart.html" => (HTML, chart.html()?.into_bytes()),
        "chart.xlsx" => xlsx(false)?,
        "student.xlsx" => xlsx(true)?,
        "chart.csv" => (CSV, to_csv(&chart.rows())?),
        "trials.csv" => (CSV, to_csv(&PublishedChart::empty_trials())?),
        "chart.json" => (JSON, format!("{}\n", chart.as_json()).into_bytes()),
        _ => return Err(PageError::NotFound { what: "such file" }),
    })
}

const HTML: &str = "text/html; charset=utf-8";
const XLSX: &str = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";
const CSV: &str = "text/csv; charset=utf-8";
const JSON: &str = "application/json";

/// The sheets of a spreadsheet of the chart.
/// One for whoever only looks, with an empty sheet of trials for a student.
pub fn book(chart: &PublishedChart, student: bool) -> Vec<(&'static str, Vec<Vec<String>>)> {
    let mut book = vec![("Chart", chart.rows()), ("About", chart.about())];
    if student {
        // First, so that whoever opens or imports it finds it.
        book.insert(0, ("Trials", PublishedChart::empty_trials()));
    }
    book
}

/// "blade-chart-version-3.csv".
fn saved_as(handout: &Handout, media: &str) -> String {
    let ending = match media {
        HTML => "html",
        XLSX => "xlsx",
        CSV => "csv",
        _ => "json",
    };
    format!("{}-version-{}.{ending}", handout.kind, handout.version)
}
