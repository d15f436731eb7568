//! Truth from outside and our own past output never share a file.

use super::File;

/// Snapshots among the references, and reference files without a source.
pub fn findings(files: &[File]) -> Vec<String> {
    let mut found = Vec::new();
    for file in files {
        let reference = file.path.contains("/tests/references/");
        if reference && file.path.contains("/pins/") {
            found.push(format!("{}: a pin among the references", file.path));
        }
        if !file.is_rust() || !reference || file.path.ends_with("/main.rs") {
            continue;
        }
        if let Some(line) =
            file.text.lines().position(|line| SNAPSHOTS.iter().any(|s| line.contains(s)))
        {
            let number = line + 1;
            found.push(format!(
                "{}:{number}: our own past output among the references; move it to pins/",
                file.path
            ));
        }
        if !file.text.to_lowercase().contains("source") {
            found.push(format!("{}: a reference that names no source", file.path));
        }
    }
    found
}

const SNAPSHOTS: [&str; 3] = ["assert_snapshot", "insta::", "expect_test"];

#[cfg(test)]
mod tests {
    use super::findings;
    use crate::tidy::one;

    #[test]
    fn a_snapshot_among_the_references_is_found() {
        let text = "//! Source: a book.\nfn f() { insta::assert_snapshot!(1); }";
        let found = findings(&one("crates/calc/tests/references/book.rs", text));
        assert_eq!(found.len(), 1);
        assert!(found[0].contains("book.rs:2:"));
        assert!(findings(&one("crates/calc/tests/pins/page.rs", text)).is_empty());
    }

    #[test]
    fn a_reference_without_a_source_is_found() {
        assert_eq!(findings(&one("crates/calc/tests/references/a.rs", "//! A book.")).len(), 1);
        assert!(
            findings(&one("crates/calc/tests/references/a.rs", "//! Source: a book.")).is_empty()
        );
    }

    #[test]
    fn a_pin_in_the_references_folder_is_found() {
        assert_eq!(findings(&one("crates/calc/tests/references/pins/a.csv", "1")).len(), 1);
    }
}
