//! Words that must not be committed: machine paths, registry hosts, notes to self, switched-off tests.

use super::File;

/// A piece of text, where it counts, and what to say of it. The pieces are joined from halves, so
/// that this file does not find itself.
struct Forbidden {
    text: &'static str,
    place: Place,
    why: &'static str,
}

enum Place {
    /// Anywhere.
    Anywhere,
    /// Where a path begins, so that a folder of the same name further down does not count.
    PathStart,
    /// In Rust sources.
    Rust,
}

const fn forbidden(text: &'static str, place: Place, why: &'static str) -> Forbidden {
    Forbidden { text, place, why }
}

const PATH: &str = "a path of one machine";
const HOST: &str = "a registry's host";
const NOTE: &str = "a note to self; file an issue or do it";
const OFF: &str = "a test that does not test; assert what is so today and say why";
const PAPER: &str = "a working paper that is not in this repository";

const FORBIDDEN: &[Forbidden] = &[
    forbidden(concat!("/", "tmp/"), Place::PathStart, PATH),
    forbidden(concat!("/", "work/"), Place::PathStart, PATH),
    forbidden(concat!("/", "root/"), Place::PathStart, PATH),
    forbidden(concat!("/", "home/"), Place::PathStart, PATH),
    forbidden(concat!("/", "Users/"), Place::PathStart, PATH),
    forbidden(concat!("C:", "\\Users"), Place::Anywhere, PATH),
    forbidden(concat!("pypi", ".org"), Place::Anywhere, HOST),
    forbidden(concat!("python", "hosted.org"), Place::Anywhere, HOST),
    forbidden(concat!("npmjs", ".org"), Place::Anywhere, HOST),
    forbidden(concat!("crates.io", "-index"), Place::Anywhere, HOST),
    forbidden(concat!("//crates", ".io"), Place::Anywhere, HOST),
    forbidden(concat!("static.", "crates.io"), Place::Anywhere, HOST),
    forbidden(concat!("deb.", "debian.org"), Place::Anywhere, HOST),
    forbidden(concat!("TO", "DO"), Place::Anywhere, NOTE),
    forbidden(concat!("FIX", "ME"), Place::Anywhere, NOTE),
    forbidden(concat!("#[", "ignore"), Place::Rust, OFF),
    forbidden(concat!("#[", "should_panic"), Place::Rust, OFF),
    forbidden(concat!("mechanics", ".md"), Place::Anywhere, PAPER),
    forbidden(concat!("shared/", "reference"), Place::Anywhere, PAPER),
    forbidden(concat!("shared/", "design"), Place::Anywhere, PAPER),
];

/// Each forbidden piece, with its line. The lock file names its registry of itself.
pub fn findings(files: &[File]) -> Vec<String> {
    let mut found = Vec::new();
    for file in files.iter().filter(|file| !file.path.ends_with("Cargo.lock")) {
        for (index, line) in file.text.lines().enumerate() {
            for forbidden in FORBIDDEN.iter().filter(|forbidden| forbidden.is_in(file, line)) {
                found.push(format!(
                    "{}:{}: `{}` is {}",
                    file.path,
                    index + 1,
                    forbidden.text,
                    forbidden.why
                ));
            }
        }
    }
    found
}

impl Forbidden {
    fn is_in(&self, file: &File, line: &str) -> bool {
        match self.place {
            Place::Anywhere => line.contains(self.text),
            Place::Rust => file.is_rust() && line.trim_start().starts_with(self.text),
            Place::PathStart => line.match_indices(self.text).any(|(at, _)| {
                !line[..at].ends_with(|before: char| {
                    before.is_alphanumeric() || "._-}/*>".contains(before)
                })
            }),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{FORBIDDEN, findings};
    use crate::tidy::one;

    #[test]
    fn each_forbidden_piece_is_found() {
        for forbidden in FORBIDDEN {
            let found = findings(&one("a.rs", &format!("fine\n{} x", forbidden.text)));
            assert!(found.iter().any(|f| f.starts_with("a.rs:2:")), "{}", forbidden.text);
        }
    }

    #[test]
    fn a_folder_of_the_repository_is_not_a_machine_path() {
        assert!(findings(&one("a.md", concat!("see docs/", "work/plan"))).is_empty());
    }

    #[test]
    fn the_lock_file_may_name_its_registry() {
        assert!(findings(&one("Cargo.lock", concat!("crates.io", "-index"))).is_empty());
    }
}
