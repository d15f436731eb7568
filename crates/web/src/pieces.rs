//! A file that is sent piece by piece while it is written, so that a long one takes no memory.

use std::io::{self, ErrorKind, Write};

use axum::body::Body;
use tokio::sync::mpsc::{Sender, channel};
use tokio_stream::wrappers::ReceiverStream;

/// Bytes of a piece, and pieces on their way at most.
const PIECE_BYTES: usize = 64 * 1024;
const PIECES_WAITING: usize = 4;

/// Where the file is written, off the threads that serve. Let go before its end, the answer breaks
/// off as a broken connection does, so that half a file never looks whole.
pub(crate) struct Pieces {
    to: Sender<io::Result<Vec<u8>>>,
    piece: Vec<u8>,
    is_whole: bool,
}

impl Pieces {
    /// Where to write, and the body of the answer that takes it.
    pub(crate) fn new() -> (Pieces, Body) {
        let (to, from) = channel(PIECES_WAITING);
        let pieces = Pieces { to, piece: Vec::with_capacity(PIECE_BYTES), is_whole: false };
        (pieces, Body::from_stream(ReceiverStream::new(from)))
    }

    /// The file is whole; an error if nobody takes it any more.
    pub(crate) fn end(mut self) -> io::Result<()> {
        self.send()?;
        self.is_whole = true;
        Ok(())
    }

    fn send(&mut self) -> io::Result<()> {
        if self.piece.is_empty() {
            return Ok(());
        }
        let piece = std::mem::replace(&mut self.piece, Vec::with_capacity(PIECE_BYTES));
        self.to.blocking_send(Ok(piece)).map_err(|_| io::Error::from(ErrorKind::BrokenPipe))
    }
}

impl Write for Pieces {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.piece.extend_from_slice(bytes);
        if self.piece.len() >= PIECE_BYTES {
            self.send()?;
        }
        Ok(bytes.len())
    }

    /// Pieces go when they are full; a small one would only cost a round.
    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl Drop for Pieces {
    fn drop(&mut self) {
        if !self.is_whole {
            // Nobody listening needs no telling.
            drop(self.to.blocking_send(Err(io::Error::from(ErrorKind::UnexpectedEof))));
        }
    }
}

#[cfg(test)]
mod tests {
    use std::io::Write;

    use http_body_util::BodyExt;

    use super::Pieces;

    #[tokio::test(flavor = "multi_thread")]
    async fn what_is_written_arrives_and_what_breaks_off_does_not_look_whole() {
        for ends in [true, false] {
            let (mut pieces, body) = Pieces::new();
            let writing = tokio::task::spawn_blocking(move || {
                for _ in 0..50_000 {
                    write!(pieces, "0123456789").expect("taken");
                }
                if ends {
                    pieces.end().expect("taken");
                }
            });
            let arrived = body.collect().await.map(|body| body.to_bytes().len());
            writing.await.expect("no panic");
            assert_eq!(arrived.ok(), ends.then_some(500_000));
        }
    }

    #[tokio::test(flavor = "multi_thread")]
    async fn the_writer_hears_that_nobody_takes_the_file() {
        let (mut pieces, body) = Pieces::new();
        drop(body);
        let written = tokio::task::spawn_blocking(move || pieces.write_all(&[b'x'; 200_000]));
        assert!(written.await.expect("no panic").is_err());
    }
}
