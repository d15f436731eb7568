//! The batch questions: one a request, or many as lines.

use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use axum::Router;
use axum::body::{Body, Bytes};
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use axum::routing::post;
use linkwright_answers::batch::{answer_lines_until, answer_text, questions};
use serde_json::{Map, Value};
use tokio::sync::Semaphore;

use super::refused;
use crate::error::PageError;
use crate::patterns::known_patterns;
use crate::state::App;

pub(crate) fn routes() -> Router<App> {
    Router::new().route("/api/batch", post(batch)).route("/api/ask/{question}", post(ask))
}

/// JSON lines in, JSON lines out, as the `batch` command.
async fn batch(State(app): State<App>, lines: Bytes) -> Result<Response, PageError> {
    let patterns = app.read(|view| Ok(known_patterns(view)?)).await?;
    let answered = beside_the_pages(is_long(&lines), move |stop| {
        let mut output = Vec::new();
        answer_lines_until(stop, lines.as_ref(), &mut output, &patterns).map(|()| output)
    })
    .await?;
    Ok(([(CONTENT_TYPE, "application/x-ndjson")], Body::from(answered)).into_response())
}

/// One question: its inputs as a JSON object in, one answer or refusal out.
async fn ask(
    State(app): State<App>,
    Path(question): Path<String>,
    body: Bytes,
) -> Result<Response, PageError> {
    if !questions().any(|(name, _)| name == question) {
        let known: Vec<&str> = questions().map(|(name, _)| name).collect();
        let message = format!("there is no ask {question}; the asks are {}", known.join(", "));
        return Ok(refused(StatusCode::NOT_FOUND, "ask", &message));
    }
    let Ok(text) = std::str::from_utf8(&body) else {
        return Ok(refused(StatusCode::BAD_REQUEST, "line", "the body is not UTF-8 text"));
    };
    let Some(inputs) = text.trim().strip_prefix('{') else {
        let message = "the body is not a JSON object of the question's inputs";
        return Ok(refused(StatusCode::BAD_REQUEST, "line", message));
    };
    // Read by the same reader as a line, so that a key given twice is refused here too.
    let name = Value::from(question.as_str());
    let comma = if inputs.trim_start().starts_with('}') { "" } else { "," };
    let line = format!("{{\"ask\":{name}{comma}{inputs}");
    let patterns = app.read(|view| Ok(known_patterns(view)?)).await?;
    let long = is_long(line.as_bytes());
    let answering = move |stop: &AtomicBool| answer_text(&one_line(&line), &patterns, stop);
    let (answered, mut answer) = beside_the_pages(long, answering).await?;
    answer.push('\n');
    let status = if answered { StatusCode::OK } else { StatusCode::UNPROCESSABLE_ENTITY };
    Ok((status, [(CONTENT_TYPE, "application/json")], answer).into_response())
}

/// Long questions are answered one request at a time, so that pages keep a core of their own.
static LONG: Semaphore = Semaphore::const_new(1);

/// Whether a question among these may be one that is solved on the spot: any that names a pattern.
fn is_long(lines: &[u8]) -> bool {
    const KEY: &[u8] = b"\"pattern\"";
    lines.windows(KEY.len()).any(|word| word == KEY)
}

/// Works where no page waits for it, until whoever asked has gone.
async fn beside_the_pages<T: Send + 'static>(
    long: bool,
    work: impl FnOnce(&AtomicBool) -> io::Result<T> + Send + 'static,
) -> Result<T, PageError> {
    let inside = |error| PageError::Inside(Box::new(error));
    let turn = if long {
        let turn = LONG.acquire().await;
        Some(turn.map_err(|error| PageError::Inside(Box::new(error)))?)
    } else {
        None
    };
    let stop = Arc::new(AtomicBool::new(false));
    let gone = Gone(Arc::clone(&stop));
    let worked = tokio::task::spawn_blocking(move || {
        let worked = work(&stop);
        drop(turn);
        worked
    });
    let worked = worked.await?.map_err(inside);
    drop(gone);
    worked
}

/// Dropped with the request; says then that nobody waits any more.
struct Gone(Arc<AtomicBool>);

impl Drop for Gone {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Relaxed);
    }
}

/// The object without line breaks; inside its words JSON allows none.
fn one_line(object: &str) -> String {
    object.replace(['\n', '\r'], " ")
}

/// An example of every question, for the description; from `docs/batch.md`.
pub(super) fn examples() -> Map<String, Value> {
    let page = include_str!("../../../../docs/batch.md");
    page.lines()
        .filter(|line| line.starts_with("{\"ask\""))
        .filter_map(|line| serde_json::from_str::<Map<String, Value>>(line).ok())
        .filter_map(|mut question| {
            let name = question.remove("ask")?.as_str()?.to_owned();
            Some((name, Value::Object(question)))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::{AtomicBool, Ordering};
    use std::time::Duration;

    use tokio::sync::oneshot;

    use super::{beside_the_pages, is_long};

    #[tokio::test]
    async fn work_is_told_when_whoever_asked_has_gone() {
        let ((begun, begins), (told, hears)) = (oneshot::channel(), oneshot::channel());
        let asking = tokio::spawn(beside_the_pages(true, move |stop: &AtomicBool| {
            begun.send(()).ok();
            // Some seconds at most, so that the test fails and does not hang.
            let stopped = (0..10_000).any(|_| {
                std::thread::sleep(Duration::from_millis(1));
                stop.load(Ordering::Relaxed)
            });
            told.send(stopped).ok();
            Ok(())
        }));
        begins.await.expect("begun");
        asking.abort();
        assert!(hears.await.expect("told"));
        // The turn is free again for the next.
        beside_the_pages(true, |_| Ok(())).await.expect("answered");
    }

    #[test]
    fn a_question_that_names_a_pattern_may_take_long() {
        assert!(is_long(br#"{"ask": "chain", "pattern": "box"}"#));
        assert!(!is_long(br#"{"ask": "gauge", "system": "awg", "number": 18}"#));
    }
}
