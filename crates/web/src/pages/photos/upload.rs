//! A photo as it is sent: the form's token first, then the words, then the picture.

use axum::extract::Multipart;
use axum::extract::multipart::Field;

use super::picture::BYTES_MAX;
use crate::error::PageError;
use crate::form::{Token, Tokens};

/// A form with a picture that came back.
pub(super) struct Upload {
    pub(super) token: Token,
    pub(super) taken_on: String,
    pub(super) caption: String,
    /// The picture, cut off one byte past what is read.
    pub(super) picture: Vec<u8>,
}

/// Letters kept of a field that is words.
const WORDS_BYTES_MAX: usize = 4000;

impl Upload {
    /// Reads it; nothing after the first field is read unless that is a token of ours.
    pub(super) async fn read(tokens: &Tokens, mut form: Multipart) -> Result<Upload, PageError> {
        let first = form.next_field().await.map_err(unreadable)?.ok_or(PageError::NotOurForm)?;
        if first.name() != Some("token") {
            return Err(PageError::NotOurForm);
        }
        let token = tokens.vouch(&words(first).await?).ok_or(PageError::NotOurForm)?;
        let mut upload =
            Upload { token, taken_on: String::new(), caption: String::new(), picture: Vec::new() };
        while let Some(field) = form.next_field().await.map_err(unreadable)? {
            match field.name() {
                Some("taken_on") => upload.taken_on = words(field).await?,
                Some("caption") => upload.caption = words(field).await?,
                Some("picture") => upload.picture = bytes(field, BYTES_MAX + 1).await?,
                _ => {}
            }
        }
        Ok(upload)
    }
}

async fn words(field: Field<'_>) -> Result<String, PageError> {
    let text = bytes(field, WORDS_BYTES_MAX).await?;
    Ok(String::from_utf8_lossy(&text).trim().to_owned())
}

/// The first bytes of a field. The rest is read and forgotten, so that the browser, which sends
/// all before it listens, can be told what was wrong.
async fn bytes(mut field: Field<'_>, bytes_max: usize) -> Result<Vec<u8>, PageError> {
    let mut kept = Vec::new();
    while let Some(chunk) = field.chunk().await.map_err(unreadable)? {
        let room = bytes_max.saturating_sub(kept.len());
        kept.extend_from_slice(&chunk[..chunk.len().min(room)]);
    }
    Ok(kept)
}

fn unreadable(error: axum::extract::multipart::MultipartError) -> PageError {
    PageError::Unreadable(error.body_text())
}
