//! The built program, and copies of the examples with something changed.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use serde_json::Value;

/// The folder of examples.
pub fn examples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples")
}

/// What the program did: exit code, standard output, standard error.
pub struct Outcome {
    pub code: i32,
    pub stdout: String,
    pub stderr: String,
}

/// Runs `run-sheet` on an order.
pub fn run_sheet(order: &Path, options: &[&str]) -> Outcome {
    let output = Command::new(env!("CARGO_BIN_EXE_linkwright"))
        .arg("run-sheet")
        .arg(order)
        .args(options)
        .output()
        .expect("the program runs");
    let text = |bytes| String::from_utf8(bytes).expect("UTF-8");
    Outcome {
        code: output.status.code().expect("no signal"),
        stdout: text(output.stdout),
        // A long sentence is broken to 80 columns; here it is one line again.
        stderr: text(output.stderr).replace("\n  ", " "),
    }
}

/// The plan of an order, or what the program said instead.
pub fn plan_at(order: &Path) -> Result<Value, String> {
    let Outcome { code, stdout, stderr } = run_sheet(order, &["--json"]);
    let said: Value = serde_json::from_str(&stdout)
        .unwrap_or_else(|error| panic!("no JSON ({error}): {stdout}{stderr}"));
    if code == 0 {
        Ok(said["answer"].clone())
    } else {
        assert_eq!(code, 1, "a refusal: {said}");
        Err(said["error"]["message"].as_str().expect("a message").to_owned())
    }
}

/// The plan of an example order.
pub fn planned(order: &str) -> Result<Value, String> {
    plan_at(&examples().join(order))
}

/// The first sheet of an example order.
pub fn first_sheet(order: &str) -> Value {
    planned(order).expect("the example can be planned")["sheets"][0].clone()
}

/// An example order and its workshop in a folder of their own, both changed.
pub struct Changed {
    folder: tempfile::TempDir,
    order: String,
}

impl Changed {
    pub fn new(
        order: &str,
        change_order: impl Fn(String) -> String,
        workshop: &str,
        change_workshop: impl Fn(String) -> String,
    ) -> Changed {
        let folder = tempfile::tempdir().expect("a folder");
        let read = |name: &str| fs::read_to_string(examples().join(name)).expect("read");
        fs::write(folder.path().join(workshop), change_workshop(read(workshop))).expect("written");
        fs::write(folder.path().join(order), change_order(read(order))).expect("written");
        Changed { folder, order: order.to_owned() }
    }

    pub fn order(&self) -> PathBuf {
        self.folder.path().join(&self.order)
    }

    pub fn plan(&self) -> Result<Value, String> {
        plan_at(&self.order())
    }
}

/// Leaves a text as it is.
pub fn same(text: String) -> String {
    text
}

/// What `batch` answers to one line.
pub fn batch(line: &Value) -> Value {
    let mut child = Command::new(env!("CARGO_BIN_EXE_linkwright"))
        .arg("batch")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program runs");
    let mut stdin = child.stdin.take().expect("a pipe");
    writeln!(stdin, "{line}").expect("written");
    drop(stdin);
    let output = child.wait_with_output().expect("it ends");
    serde_json::from_slice(&output.stdout).expect("one line of JSON")
}
