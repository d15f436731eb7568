//! Starting other programs from the root of the workspace.

use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread;

use anyhow::{Context, Result, bail, ensure};

/// The root of the workspace.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// Where cargo puts what it builds.
pub fn target() -> PathBuf {
    let told = std::env::var_os("CARGO_TARGET_DIR");
    root().join(told.map_or_else(|| PathBuf::from("target"), PathBuf::from))
}

/// Whether this is the automatic run, where nothing may be skipped.
pub fn in_ci() -> bool {
    std::env::var("CI").is_ok_and(|value| value == "true")
}

/// The cargo that started us.
pub fn cargo() -> Command {
    program(std::env::var("CARGO").as_deref().unwrap_or("cargo"))
}

/// A program, to be started at the root of the workspace without standard input.
pub fn program(name: impl AsRef<std::ffi::OsStr>) -> Command {
    let mut command = Command::new(name);
    command.current_dir(root()).stdin(Stdio::null());
    command
}

/// Whether a program can be started at all and does not fail.
pub fn works(mut command: Command) -> bool {
    command
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|status| status.success())
}

/// Runs to the end; an error unless it succeeded.
pub fn run(command: &mut Command) -> Result<()> {
    let said = words(command);
    let status = command.status().with_context(|| format!("cannot start `{said}`"))?;
    ensure!(status.success(), "`{said}` failed");
    Ok(())
}

/// Runs to the end and gives back what it printed.
pub fn output(command: &mut Command) -> Result<String> {
    let said = words(command);
    let output = command
        .stderr(Stdio::inherit())
        .output()
        .with_context(|| format!("cannot start `{said}`"))?;
    ensure!(output.status.success(), "`{said}` failed");
    String::from_utf8(output.stdout).with_context(|| format!("`{said}` did not print text"))
}

/// Runs to the end, showing both of its streams as they come, and gives their lines back with
/// whether it succeeded.
pub fn watched(command: &mut Command) -> Result<(bool, Vec<String>)> {
    let said = words(command);
    let mut child = command
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .with_context(|| format!("cannot start `{said}`"))?;
    let (Some(out), Some(err)) = (child.stdout.take(), child.stderr.take()) else {
        bail!("`{said}` has no streams");
    };
    let errors = thread::spawn(move || shown(err, |line| eprintln!("{line}")));
    let mut lines = shown(out, |line| println!("{line}"));
    lines.extend(errors.join().unwrap_or_default());
    Ok((child.wait()?.success(), lines))
}

fn shown(stream: impl Read, show: impl Fn(&str)) -> Vec<String> {
    let mut lines = Vec::new();
    let mut reader = BufReader::new(stream);
    let mut raw = Vec::new();
    while reader.read_until(b'\n', &mut raw).is_ok_and(|read| read > 0) {
        let line = String::from_utf8_lossy(&raw).trim_end().to_owned();
        show(&line);
        lines.push(line);
        raw.clear();
    }
    lines
}

fn words(command: &Command) -> String {
    std::iter::once(command.get_program())
        .chain(command.get_args())
        .map(|word| word.to_string_lossy())
        .collect::<Vec<_>>()
        .join(" ")
}
