//! The form as it came back: a file or its text, which chain is meant, and which button was pressed.

use axum::extract::Multipart;
use axum::extract::multipart::MultipartError;
use axum::http::StatusCode;

use crate::error::PageError;
use crate::form::Token;
use crate::state::App;

/// Bytes a pattern file may have: sixty rings with all they pass through take some ten thousand.
pub(super) const TEXT_BYTES_MOST: usize = 64 * 1024;

/// What came back.
pub(super) struct Sent {
    pub(super) token: Token,
    /// The text, of the file that was chosen, or else as typed.
    pub(super) text: String,
    /// Why the file that was chosen cannot be read.
    pub(super) unreadable: Option<&'static str>,
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
            let bytes = field.bytes().await.map_err(unreadable)?;
            let text = || String::from_utf8_lossy(&bytes).into_owned();
            match name.as_str() {
                "text" => sent.text = with_plain_line_ends(&text()),
                // A browser sends an empty file when none was chosen.
                "file" if !bytes.is_empty() => file = Some(String::from_utf8(bytes.to_vec())),
                "which" => sent.which = text().trim().parse().ok().filter(|which| *which > 0),
                "do" => sent.is_to_keep = text() == "keep",
                _ => {}
            }
        }
        match file {
            Some(Ok(text)) => sent.text = with_plain_line_ends(&text),
            Some(Err(_)) => {
                sent.unreadable = Some("the file is no text; choose a pattern file (TOML, UTF-8)");
            }
            None => {}
        }
        Ok(sent)
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
