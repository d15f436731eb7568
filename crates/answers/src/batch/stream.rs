//! The loop over lines: each line in gives one line out, flushed before the next is read.

use std::io::{self, BufRead, BufWriter, Write};
use std::sync::atomic::{AtomicBool, Ordering};

use crate::batch::asks;
use crate::batch::line::Line;
use crate::batch::reply::{write_refusal, write_reply};
use crate::chain::KnownPatterns;
use crate::refusal::Refusal;

/// The longest line read; a question takes a few hundred bytes.
const LINE_LIMIT_BYTES: usize = 1 << 20;

const BYTE_ORDER_MARK: &[u8] = b"\xef\xbb\xbf";

/// Answers every line of `input` on `output` where these patterns are known.
pub fn answer_lines(
    input: impl BufRead,
    output: impl Write,
    patterns: &KnownPatterns,
) -> io::Result<()> {
    answer_lines_until(&AtomicBool::new(false), input, output, patterns)
}

/// The same until `stop` is set: no further line is read then, and one that is being solved is given up.
pub fn answer_lines_until(
    stop: &AtomicBool,
    mut input: impl BufRead,
    output: impl Write,
    patterns: &KnownPatterns,
) -> io::Result<()> {
    let mut output = BufWriter::new(output);
    let mut bytes = Vec::new();
    let mut first = true;
    loop {
        if stop.load(Ordering::Relaxed) {
            return Ok(());
        }
        let text = match read_line(&mut input, &mut bytes)? {
            Read::End => return Ok(()),
            Read::TooLong => Err(Refusal::LineTooLong { limit_bytes: LINE_LIMIT_BYTES }),
            Read::Line => as_text(&bytes, first),
        };
        first = false;
        answer_line(text, patterns, stop, &mut output)?;
        output.write_all(b"\n")?;
        output.flush()?;
    }
}

/// Answers one question, unless `stop` is set meanwhile, and says whether it was answered rather than
/// refused.
pub fn answer_text(
    question: &str,
    patterns: &KnownPatterns,
    stop: &AtomicBool,
) -> io::Result<(bool, String)> {
    let mut output = Vec::new();
    let answered = answer_line(Ok(question), patterns, stop, &mut output)?;
    Ok((answered, String::from_utf8_lossy(&output).into_owned()))
}

/// Writes one line and says whether the question was answered rather than refused.
fn answer_line(
    text: Result<&str, Refusal>,
    patterns: &KnownPatterns,
    stop: &AtomicBool,
    output: &mut impl Write,
) -> io::Result<bool> {
    let line = match text.and_then(Line::read) {
        Ok(line) => line,
        Err(refusal) => {
            write_refusal(output, None, None, &refusal)?;
            return Ok(false);
        }
    };
    match line.check().and_then(|()| asks::answer(&line, patterns, stop)) {
        Ok(reply) => {
            write_reply(output, line.id(), line.ask_as_written(), &reply)?;
            Ok(true)
        }
        Err(refusal) => {
            write_refusal(output, line.id(), line.ask_as_written(), &refusal)?;
            Ok(false)
        }
    }
}

fn as_text(bytes: &[u8], first: bool) -> Result<&str, Refusal> {
    let bytes = match bytes.strip_prefix(BYTE_ORDER_MARK) {
        Some(rest) if first => rest,
        _ => bytes,
    };
    std::str::from_utf8(bytes).map_err(|error| Refusal::NotUtf8 { at_byte: error.valid_up_to() })
}

enum Read {
    Line,
    TooLong,
    End,
}

/// Reads up to the next line feed into `line`, keeping no more than the limit in memory.
fn read_line(input: &mut impl BufRead, line: &mut Vec<u8>) -> io::Result<Read> {
    line.clear();
    let mut read_any = false;
    let mut too_long = false;
    loop {
        let chunk = match input.fill_buf() {
            Ok(chunk) => chunk,
            Err(error) if error.kind() == io::ErrorKind::Interrupted => continue,
            Err(error) => return Err(error),
        };
        read_any |= !chunk.is_empty();
        let feed = chunk.iter().position(|byte| *byte == b'\n');
        let part = &chunk[..feed.unwrap_or(chunk.len())];
        too_long |= line.len() + part.len() > LINE_LIMIT_BYTES;
        if !too_long {
            line.extend_from_slice(part);
        }
        let at_end = chunk.is_empty();
        let taken = feed.map_or(chunk.len(), |at| at + 1);
        input.consume(taken);
        if feed.is_some() || at_end {
            return Ok(match (read_any, too_long) {
                (false, _) => Read::End,
                (true, true) => Read::TooLong,
                (true, false) => Read::Line,
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answers(input: &[u8]) -> Vec<String> {
        let mut output = Vec::new();
        answer_lines(input, &mut output, &KnownPatterns::built_in()).unwrap();
        String::from_utf8(output).unwrap().lines().map(str::to_owned).collect()
    }

    #[test]
    fn a_last_line_without_a_line_feed_is_answered() {
        assert_eq!(answers(b"[]\n[]").len(), 2);
        assert_eq!(answers(b"[]\n[]\n").len(), 2);
        assert_eq!(answers(b"").len(), 0);
    }

    #[test]
    fn a_line_over_the_limit_is_refused_and_the_next_one_read() {
        let mut input = vec![b' '; LINE_LIMIT_BYTES + 1];
        input.extend_from_slice(b"\n[]\n");
        let lines = answers(&input);
        assert_eq!(lines.len(), 2);
        assert!(lines[0].contains("longer than 1048576 bytes"), "{}", lines[0]);
        assert!(lines[1].contains("not a JSON object"), "{}", lines[1]);
    }

    #[test]
    fn a_line_at_the_limit_is_read() {
        let mut input = vec![b' '; LINE_LIMIT_BYTES];
        input.push(b'\n');
        assert!(answers(&input)[0].contains("blank"));
    }

    #[test]
    fn what_is_stopped_reads_no_further_line_and_solves_no_further() {
        let stop = AtomicBool::new(true);
        let mut output = Vec::new();
        let patterns = KnownPatterns::built_in();
        answer_lines_until(&stop, &b"{}\n"[..], &mut output, &patterns).unwrap();
        assert_eq!(output, b"");
        // Two sizes whose limit is solved on the spot.
        let question = r#"{"ask": "chain", "pattern": "large_and_small_pairs", "wire_diameter_mm": 1,
            "closed_inside_diameter_mm": 6, "other_rings":
            [{"wire_diameter_mm": 0.8, "closed_inside_diameter_mm": 3.5}]}"#;
        let (answered, said) = answer_text(question, &patterns, &stop).unwrap();
        assert!(!answered && said.contains("stopped before the answer was found"), "{said}");
        let (answered, said) = answer_text(question, &patterns, &AtomicBool::new(false)).unwrap();
        assert!(answered, "{said}");
    }

    #[test]
    fn a_byte_order_mark_is_allowed_on_the_first_line_only() {
        let lines = answers(b"\xef\xbb\xbf{}\n\xef\xbb\xbf{}\n");
        assert!(lines[0].contains("ask is missing"), "{}", lines[0]);
        assert!(lines[1].contains("not JSON"), "{}", lines[1]);
    }
}
