//! Saying in a pattern file which of several chains is meant.

use super::described::Described;

impl Described {
    /// The text of the file with `which` saying that chain, counted from 1, and nothing else changed.
    pub fn text_saying_which(&self, which: usize) -> String {
        let text = self.document.text();
        let (before, said, after) = match &self.file.which {
            Some(typed) => {
                let span = typed.span();
                (&text[..span.start], which.to_string(), &text[span.end..])
            }
            // A line of its own after that of the key, which stands before any part of the file.
            None => {
                let end = self.file.pattern.span().end;
                let rest = text[end..].find('\n').map_or(text.len(), |at| end + at);
                (&text[..rest], format!("\nwhich = {which}"), &text[rest..])
            }
        };
        format!("{before}{said}{after}")
    }
}
