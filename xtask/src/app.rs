//! The app, started as its user starts it and ended when dropped.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, ChildStdout, Stdio};

use anyhow::{Context, Result, bail, ensure};

use crate::process::{program, run};

/// A running app.
pub struct App {
    child: Child,
    /// Where it answers, without a slash at the end.
    pub address: String,
    /// Kept open: a program whose words nobody can hear may end.
    _output: BufReader<ChildStdout>,
}

impl App {
    /// Starts the program on a data file, at any free port, and waits until it says where it is.
    pub fn start(built: &Path, data: &Path) -> Result<App> {
        let mut child = program(built)
            .args(["--no-browser", "--port", "0", "--data"])
            .arg(data)
            .stdout(Stdio::piped())
            .spawn()
            .context("the app does not start")?;
        let Some(stdout) = child.stdout.take() else { bail!("the app has no output") };
        let mut output = BufReader::new(stdout);
        let mut line = String::new();
        while output.read_line(&mut line)? > 0 {
            if let Some(at) = line.find("http://127.0.0.1:") {
                let address = line[at..].split_whitespace().next().unwrap_or_default();
                let address = address.trim_end_matches('/').to_owned();
                return Ok(App { child, address, _output: output });
            }
            line.clear();
        }
        bail!("the app does not say where it is")
    }

    /// Its host and port.
    pub fn host(&self) -> &str {
        self.address.trim_start_matches("http://")
    }

    /// Tells it to stop and waits until it has.
    pub fn stop(mut self) -> Result<()> {
        run(program("kill").arg(self.child.id().to_string()))?;
        ensure!(self.child.wait()?.success(), "the app does not end well");
        Ok(())
    }

    /// What it holds in memory now and held at most, in MB; `None` where the system does not say.
    pub fn memory_mb(&self) -> Option<(f64, f64)> {
        let status = std::fs::read_to_string(format!("/proc/{}/status", self.child.id())).ok()?;
        let of = |name: &str| {
            let line = status.lines().find_map(|line| line.strip_prefix(name))?;
            let kib: f64 = line.split_whitespace().next()?.parse().ok()?;
            Some(kib * 1024.0 / 1e6)
        };
        Some((of("VmRSS:")?, of("VmHWM:")?))
    }
}

impl Drop for App {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
