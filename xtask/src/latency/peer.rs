//! The named peer: Python's own file server, giving out the same bytes with no work at all.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, ChildStdout, Stdio};

use anyhow::{Context, Result};

use crate::process::program;

/// `http.server` of the Python that is there, with connections that stay open like ours.
const SERVER: &str = "
import sys, http.server
class Quiet(http.server.SimpleHTTPRequestHandler):
    protocol_version = 'HTTP/1.1'
    def log_message(self, *_): pass
class Many(http.server.ThreadingHTTPServer):
    request_queue_size = 128
server = Many(('127.0.0.1', 0), Quiet)
print(server.server_port, flush=True)
server.serve_forever()
";

/// A file server, ended when dropped.
pub struct Peer {
    child: Child,
    /// Its host and port.
    pub host: String,
    _output: BufReader<ChildStdout>,
}

impl Peer {
    /// Serves a folder.
    pub fn of(folder: &Path) -> Result<Peer> {
        let mut child = program("python3")
            .args(["-c", SERVER])
            .current_dir(folder)
            .stdout(Stdio::piped())
            .spawn()
            .context("there is no python3")?;
        let mut output = BufReader::new(child.stdout.take().context("no output")?);
        let mut port = String::new();
        output.read_line(&mut port)?;
        Ok(Peer { child, host: format!("127.0.0.1:{}", port.trim()), _output: output })
    }
}

impl Drop for Peer {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
