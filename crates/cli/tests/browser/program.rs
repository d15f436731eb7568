//! The built program, started on a data file of its own.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, ChildStdout, Command, Stdio};
use std::time::Duration;

/// The program serving one data file; it is killed when dropped.
pub struct Program {
    /// The running program.
    pub child: Child,
    /// Where its pages are, without a slash at the end.
    pub address: String,
    /// Kept open: a program whose words nobody can hear may end.
    _output: BufReader<ChildStdout>,
}

impl Program {
    /// Starts it on `data` at a free port and waits until it says where it is.
    pub fn start(data: &Path) -> Program {
        Program::start_with(data, "0")
    }

    /// Starts it again where it was before.
    pub fn start_at(data: &Path, address: &str) -> Program {
        let port = address.rsplit(':').next().expect("a port");
        Program::start_with(data, port)
    }

    fn start_with(data: &Path, port: &str) -> Program {
        let mut child = Command::new(env!("CARGO_BIN_EXE_linkwright"))
            .args(["--no-browser", "--port", port, "--data"])
            .arg(data)
            .stdout(Stdio::piped())
            .spawn()
            .expect("it starts");
        let mut output = BufReader::new(child.stdout.take().expect("piped"));
        let mut said = String::new();
        let address = loop {
            let before = said.len();
            let read = output.read_line(&mut said).expect("text");
            assert!(read > 0, "it does not say where it is:\n{said}");
            if let Some(at) = said[before..].find("http://127.0.0.1:") {
                let words = said[before + at..].split_whitespace().next().expect("an address");
                break words.trim_end_matches(['/', '.', ',']).to_owned();
            }
        };
        Program { child, address, _output: output }
    }

    /// Ends it at once, as a power cut would.
    pub fn kill(mut self) {
        self.child.kill().expect("killed");
        self.child.wait().expect("gone");
    }
}

impl Drop for Program {
    fn drop(&mut self) {
        // It may be gone already.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// How long a page may take to show what it should before a test gives up.
pub const PATIENCE: Duration = Duration::from_secs(10);
