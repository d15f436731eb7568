//! One client: requests over one connection that stays open, as a browser's does.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::time::Duration;

use anyhow::{Context, Result, bail, ensure};

/// Longer than the app itself lets an answer take.
const PATIENCE: Duration = Duration::from_secs(90);

/// A connection to a server.
pub struct Client {
    host: String,
    /// What the client says it takes, beside the page itself.
    accepts: &'static str,
    stream: BufReader<TcpStream>,
}

/// An answer as it came over the wire.
pub struct Answer {
    pub status: u16,
    pub body: Vec<u8>,
}

impl Client {
    /// Connects as a browser that takes compressed pages.
    pub fn browser(host: &str) -> Result<Client> {
        Client::connected(host, "Accept-Encoding: gzip, deflate, br\r\n")
    }

    /// Connects as a program that takes pages as they are.
    pub fn plain(host: &str) -> Result<Client> {
        Client::connected(host, "")
    }

    fn connected(host: &str, accepts: &'static str) -> Result<Client> {
        let stream = TcpStream::connect(host).with_context(|| format!("nobody at {host}"))?;
        stream.set_nodelay(true)?;
        stream.set_read_timeout(Some(PATIENCE))?;
        Ok(Client { host: host.to_owned(), accepts, stream: BufReader::new(stream) })
    }

    /// Asks for a page.
    pub fn get(&mut self, path: &str) -> Result<Answer> {
        let (host, accepts) = (&self.host, self.accepts);
        let request = format!("GET {path} HTTP/1.1\r\nHost: {host}\r\n{accepts}\r\n");
        self.send(&request).with_context(|| format!("GET {path}"))
    }

    /// Whom it asks.
    pub fn host(&self) -> &str {
        &self.host
    }

    /// Asks for a page that must be there; what came is thrown away.
    pub fn visit(&mut self, path: &str) -> Result<()> {
        let answer = self.get(path)?;
        ensure!(answer.status == 200, "{path} is answered with {}", answer.status);
        Ok(())
    }

    /// The same, refused unless it is there, as text.
    pub fn text(&mut self, path: &str) -> Result<String> {
        let answer = self.get(path)?;
        ensure!(answer.status == 200, "{path} is answered with {}", answer.status);
        Ok(String::from_utf8(answer.body)?)
    }

    /// Sends a form.
    pub fn post(&mut self, path: &str, form: &str) -> Result<Answer> {
        let (host, length) = (&self.host, form.len());
        let request = format!(
            "POST {path} HTTP/1.1\r\nHost: {host}\r\nContent-Length: {length}\r\n\
             Content-Type: application/x-www-form-urlencoded\r\n\r\n{form}"
        );
        self.send(&request).with_context(|| format!("POST {path}"))
    }

    fn send(&mut self, request: &str) -> Result<Answer> {
        self.stream.get_mut().write_all(request.as_bytes())?;
        let status = self.line()?;
        let status = status.split(' ').nth(1).context("no status")?.parse()?;
        let (mut length, mut chunked) = (None, false);
        loop {
            let line = self.line()?.to_ascii_lowercase();
            if line.is_empty() {
                break;
            }
            if let Some(bytes) = line.strip_prefix("content-length:") {
                length = Some(bytes.trim().parse::<usize>()?);
            }
            chunked |= line.starts_with("transfer-encoding:") && line.ends_with("chunked");
        }
        let mut body = Vec::new();
        match length {
            Some(bytes) => self.take(bytes, &mut body)?,
            None if chunked => self.chunks(&mut body)?,
            None => ensure!(matches!(status, 204 | 304), "an answer without a length"),
        }
        Ok(Answer { status, body })
    }

    fn chunks(&mut self, body: &mut Vec<u8>) -> Result<()> {
        loop {
            let bytes = usize::from_str_radix(self.line()?.trim(), 16)?;
            self.take(bytes, body)?;
            ensure!(self.line()?.is_empty(), "a chunk is longer than it says");
            if bytes == 0 {
                return Ok(());
            }
        }
    }

    fn take(&mut self, bytes: usize, body: &mut Vec<u8>) -> Result<()> {
        let from = body.len();
        body.resize(from + bytes, 0);
        Ok(self.stream.read_exact(&mut body[from..])?)
    }

    fn line(&mut self) -> Result<String> {
        let mut line = String::new();
        if self.stream.read_line(&mut line)? == 0 {
            bail!("the server hung up");
        }
        Ok(line.trim_end_matches(['\r', '\n']).to_owned())
    }
}
