//! House rules that no compiler knows.

mod architecture;
mod document;
mod outside;
mod size;
mod strings;
mod words;

use anyhow::{Result, bail};

use crate::process::{output, program, root};

/// One committed file: its path from the root, with `/`, and its text.
struct File {
    path: String,
    text: String,
}

/// One rule: it looks at all files and says what it finds, as `path:line: what is wrong`.
type Rule = fn(&[File]) -> Vec<String>;

const RULES: &[Rule] = &[
    document::findings,
    architecture::findings,
    size::findings,
    strings::findings,
    words::findings,
    outside::findings,
];

/// Checks every rule over every file that is or would be committed.
pub fn run(_: &[String]) -> Result<()> {
    let files = committed()?;
    let findings: Vec<String> = RULES.iter().flat_map(|rule| rule(&files)).collect();
    for finding in &findings {
        eprintln!("{finding}");
    }
    if !findings.is_empty() {
        bail!("{} of the house rules' checks failed", findings.len());
    }
    Ok(())
}

/// Every text file that git knows or would add; pictures and fonts are left out.
fn committed() -> Result<Vec<File>> {
    let listed =
        output(program("git").args(["ls-files", "--cached", "--others", "--exclude-standard"]))?;
    Ok(listed
        .lines()
        .filter_map(|path| {
            let text = std::fs::read_to_string(root().join(path)).ok()?;
            Some(File { path: path.to_owned(), text })
        })
        .collect())
}

impl File {
    fn is_rust(&self) -> bool {
        self.path.ends_with(".rs")
    }

    /// Whether a chore wrote it; such a file says so in its first lines.
    fn is_generated(&self) -> bool {
        self.text.lines().take(5).any(|line| line.contains("enerated by `cargo xtask"))
    }
}

#[cfg(test)]
fn one(path: &str, text: &str) -> [File; 1] {
    [File { path: path.to_owned(), text: text.to_owned() }]
}
