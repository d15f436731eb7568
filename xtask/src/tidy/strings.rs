//! What a user reads never calls a job safe: that verdict is not ours to give.

use proc_macro2::{TokenStream, TokenTree};
use syn::visit::{self, Visit};

use super::File;

/// The verdict in string literals of the product, in templates and in data that reaches a page.
pub fn findings(files: &[File]) -> Vec<String> {
    let mut found = Vec::new();
    for file in files {
        let lines =
            if file.path.starts_with("crates/") && file.path.contains("/src/") && file.is_rust() {
                literal_lines(&file.text)
            } else if is_shown(&file.path) {
                (1..).zip(file.text.lines().map(str::to_owned)).collect()
            } else {
                continue;
            };
        for (number, line) in lines {
            if gives_the_verdict(&line) {
                found.push(format!("{}:{number}: text for a user says \"{VERDICT}\"", file.path));
            }
        }
    }
    found
}

const VERDICT: &str = "safe";

/// Files whose text reaches a page or a sheet as it stands.
fn is_shown(path: &str) -> bool {
    let ends = [".html", ".csv", ".toml", ".txt", ".typ"];
    let folders = ["crates/", "data/", "examples/"];
    ends.iter().any(|end| path.ends_with(end))
        && folders.iter().any(|folder| path.starts_with(folder))
        && !path.contains("/tests/")
}

/// Whether the word stands alone in the line; a template's filter and the screen's inset are code.
fn gives_the_verdict(line: &str) -> bool {
    line.to_lowercase()
        .replace(concat!("|", "safe"), "")
        .replace(concat!("| ", "safe"), "")
        .replace(concat!("safe", "-area-inset"), "")
        .split(|c: char| !c.is_alphanumeric())
        .any(|word| word == VERDICT)
}

/// The string literals of a Rust file with their lines; documentation is not among them.
fn literal_lines(text: &str) -> Vec<(usize, String)> {
    let mut literals = Literals::default();
    if let Ok(parsed) = syn::parse_file(text) {
        literals.visit_file(&parsed);
    }
    literals.found
}

#[derive(Default)]
struct Literals {
    found: Vec<(usize, String)>,
}

impl<'ast> Visit<'ast> for Literals {
    fn visit_lit_str(&mut self, literal: &'ast syn::LitStr) {
        self.found.push((literal.span().start().line, literal.value()));
    }

    fn visit_macro(&mut self, of: &'ast syn::Macro) {
        self.tokens(of.tokens.clone());
    }

    fn visit_attribute(&mut self, attribute: &'ast syn::Attribute) {
        // `#[error("...")]` is read by a user, `#[doc = "..."]` is not.
        if attribute.path().is_ident("error")
            && let syn::Meta::List(list) = &attribute.meta
        {
            self.tokens(list.tokens.clone());
        }
        visit::visit_attribute(self, attribute);
    }

    fn visit_meta(&mut self, _: &'ast syn::Meta) {}
}

impl Literals {
    fn tokens(&mut self, tokens: TokenStream) {
        let mut after_hash = false;
        for token in tokens {
            match token {
                // The tokens after a `#` are an attribute, such as a doc comment.
                TokenTree::Group(group) if !after_hash => self.tokens(group.stream()),
                TokenTree::Literal(literal) => {
                    let line = literal.span().start().line;
                    if let Ok(text) = syn::parse_str::<syn::LitStr>(&literal.to_string()) {
                        self.found.push((line, text.value()));
                    }
                }
                TokenTree::Punct(punct) if punct.as_char() == '#' => {
                    after_hash = true;
                    continue;
                }
                _ => {}
            }
            after_hash = false;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::findings;
    use crate::tidy::one;

    const FILE: &str = "crates/cli/src/a.rs";

    #[test]
    fn the_verdict_is_found_in_literals_macros_and_errors() {
        let text = "/// Thread safe.\n\
            fn f() -> &'static str { \"this is Safe.\" }\n\
            fn g() { println!(\"it is safe to cut\") }\n\
            #[derive(Error)]\n\
            #[error(\"not safe: {0}\")]\n\
            struct E(u8);\n";
        let found = findings(&one(FILE, text));
        let lines: Vec<_> = found.iter().map(|f| f.split(':').nth(1).unwrap()).collect();
        assert_eq!(lines, ["2", "3", "5"]);
    }

    #[test]
    fn safety_glasses_are_not_a_verdict() {
        assert!(
            findings(&one(FILE, "fn f() -> &'static str { \"wear safety glasses\" }")).is_empty()
        );
    }

    #[test]
    fn templates_and_data_are_read_and_filters_are_not() {
        let path = "crates/cli/templates/sheet.html";
        assert_eq!(findings(&one(path, "<p>safe</p>")).len(), 1);
        assert!(findings(&one(path, "{{ svg|safe }}")).is_empty());
        assert_eq!(findings(&one("data/metals.toml", "note = \"safe to heat\"")).len(), 1);
    }
}
