//! Runs the built program.

use std::io::Write;
use std::process::{Command, Output, Stdio};

use serde_json::Value;

/// Runs `linkwright` with these words and waits for it.
pub fn linkwright(words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_linkwright")).args(words).output().expect("it starts")
}

/// What a run printed on standard output.
pub fn stdout(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("UTF-8")
}

/// What a run printed on standard error.
pub fn stderr(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("UTF-8")
}

/// Gives `linkwright batch` these bytes and returns the lines it answers.
pub fn batch(input: impl Into<Vec<u8>>) -> Vec<Value> {
    let mut child = Command::new(env!("CARGO_BIN_EXE_linkwright"))
        .arg("batch")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("it starts");
    let mut stdin = child.stdin.take().expect("piped");
    let input = input.into();
    let writer = std::thread::spawn(move || stdin.write_all(&input));
    let output = child.wait_with_output().expect("it ends");
    writer.join().expect("no panic").expect("all lines are read");
    assert!(output.status.success(), "{output:?}");
    stdout(&output)
        .lines()
        .map(|line| serde_json::from_str(line).unwrap_or_else(|error| panic!("{error}: {line}")))
        .collect()
}

/// The answer to one line.
pub fn ask(line: &str) -> Value {
    let mut answers = batch(line);
    assert_eq!(answers.len(), 1, "{line}");
    answers.remove(0)
}
