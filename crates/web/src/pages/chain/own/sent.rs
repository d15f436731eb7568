//! The form as it came back: a file or its text, which chain is meant, and which button was pressed.

use axum::extract::Multipart;
use axum::extract::multipart::{Field, MultipartError};
use axum::http::StatusCode;

use crate::error::PageError;
use crate::form::Token;
use crate::state::App;

/// Bytes a pattern file may have: sixty rings with all they pass through take some ten thousand.
pub(super) const TEXT_BYTES_MOST: usize = 64 * 1024;
/// Bytes of a text or another field that are kept, so that a text too long is shown again with what is wrong.
const FIELD_BYTES_MOST: usize = 1024 * 1024;

/// What came back.
pub(super) struct Sent {
    pub(super) token: Token,
    /// The text, of the file that was chosen, or else as typed.
    pub(super) text: String,
    /// Why the file that was chosen cannot be read.
    pub(super) unreadable: Option<String>,
    /// Which of several chains is meant, from 1.
    pub(super) which: Option<usize>,
    /// Whether it is to be kept, and not only checked.
    pub(super) is_to_keep: bool,
}

impl Sent {
    /// Reads the form; the token stands first, so that nothing is read for a stranger.
    pub(super) async fn read(app: &App, mut form: Multipart) -> Result<Sent, PageError> {
        let first = form.next_field().await.map_err(unreadable)?.ok_or(PageError::NotOurForm)?;
        if first.name() != Some("token") {
            return Err(PageError::NotOurForm);
        }
        let token = first.text().await.map_err(unreadable)?;
        let token = app.tokens().vouch(&token).ok_or(PageError::NotOurForm)?;
        let mut sent =
            Sent { token, text: String::new(), unreadable: None, which: None, is_to_keep: false };
        let mut file = None;
        while let Some(field) = form.next_field().await.map_err(unreadable)? {
            let name = field.name().unwrap_or_default().to_owned();
            let most = if name == "file" { TEXT_BYTES_MOST } else { FIELD_BYTES_MOST };
            let read = Read::of(field, most).await?;
            if name == "file" {
                // A browser sends an empty file when none was chosen.
                file = (read.all > 0).then(|| read.plain_text());
                continue;
            }
            if read.all > FIELD_BYTES_MOST {
                return Err(PageError::TooLarge);
            }
            let text = String::from_utf8_lossy(&read.kept);
            match name.as_str() {
                "text" => sent.text = with_plain_line_ends(&text),
                "which" => sent.which = text.trim().parse().ok().filter(|which| *which > 0),
                "do" => sent.is_to_keep = text == "keep",
                _ => {}
            }
        }
        match file {
            Some(Ok(text)) => sent.text = text,
            Some(Err(said)) => sent.unreadable = Some(said),
            None => {}
        }
        Ok(sent)
    }
}

/// A field as it came: its first bytes, and how many there were.
struct Read {
    kept: Vec<u8>,
    all: usize,
}

impl Read {
    /// Reads to the end, whatever is chosen by mistake, so that the fields after it are heard too.
    async fn of(mut field: Field<'_>, most: usize) -> Result<Read, PageError> {
        let mut read = Read { kept: Vec::new(), all: 0 };
        while let Some(chunk) = field.chunk().await.map_err(unreadable)? {
            let room = most.saturating_sub(read.kept.len());
            read.kept.extend_from_slice(&chunk[..chunk.len().min(room)]);
            read.all += chunk.len();
        }
        Ok(read)
    }

    /// The text of a file that was chosen, or in a sentence why it is none.
    fn plain_text(&self) -> Result<String, String> {
        let bytes = &self.kept;
        if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
            return Err(
                "the file is text in UTF-16; save it anew as plain text in UTF-8".to_owned()
            );
        }
        let is_of_text = |byte: &u8| *byte >= b' ' || b"\t\n\x0c\r".contains(byte);
        if !bytes.iter().all(is_of_text) {
            let said = "the file is no plain text but a picture, a table or a program, or text in \
                        UTF-16; choose a pattern file (TOML, in UTF-8)";
            return Err(said.to_owned());
        }
        if self.all > TEXT_BYTES_MOST {
            return Err(format!(
                "the file has {} bytes; at most {TEXT_BYTES_MOST} are taken",
                self.all
            ));
        }
        let text = std::str::from_utf8(bytes).map_err(|error| {
            let before = &bytes[..error.valid_up_to()];
            let line = before.iter().filter(|byte| **byte == b'\n').count() + 1;
            format!(
                "line {line} of the file has a letter that is not in UTF-8; save the file anew as plain \
                 text in UTF-8"
            )
        })?;
        Ok(with_plain_line_ends(text))
    }
}

/// Browsers end the lines of a text in two signs; files may begin with a mark that no one sees.
fn with_plain_line_ends(text: &str) -> String {
    text.strip_prefix('\u{feff}').unwrap_or(text).replace("\r\n", "\n")
}

fn unreadable(error: MultipartError) -> PageError {
    if error.status() == StatusCode::PAYLOAD_TOO_LARGE {
        return PageError::TooLarge;
    }
    PageError::Unreadable(error.body_text())
}
