//! The built program, started on a data file of its own.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

/// The program serving one data file; it is killed when dropped.
pub struct Program {
    child: Child,
    /// Where its pages are, without a slash at the end.
    pub address: String,
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
        let stdout = child.stdout.take().expect("piped");
        let mut said = String::new();
        let address = BufReader::new(stdout)
            .lines()
            .map_while(Result::ok)
            .inspect(|line| {
                said.push_str(line);
                said.push('\n');
            })
            .find_map(|line| {
                let start = line.find("http://127.0.0.1:")?;
                let address = line[start..].split_whitespace().next()?;
                Some(address.trim_end_matches(['/', '.', ',']).to_owned())
            });
        let address = address.unwrap_or_else(|| panic!("it does not say where it is:\n{said}"));
        Program { child, address }
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
