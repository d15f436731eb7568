//! Every name in the architecture page exists.

use std::collections::HashSet;

use proc_macro2::{TokenStream, TokenTree};
use syn::visit::{self, Visit};

use super::File;

const PAGE: &str = "ARCHITECTURE.md";

/// Names in code spans of the page that look like an item or a path and are not there.
pub fn findings(files: &[File]) -> Vec<String> {
    let Some(page) = files.iter().find(|file| file.path == PAGE) else {
        return vec![format!("{PAGE}: is missing")];
    };
    let names = names(files);
    let mut found = Vec::new();
    let mut fenced = false;
    for (index, line) in page.text.lines().enumerate() {
        if line.trim_start().starts_with("```") {
            fenced = !fenced;
            continue;
        }
        if fenced {
            continue;
        }
        for span in line.split('`').skip(1).step_by(2) {
            if !exists(span.trim(), files, &names) {
                found.push(format!("{PAGE}:{}: `{span}` does not exist", index + 1));
            }
        }
    }
    found
}

/// Whether a span names something that is there, or is not a name at all.
fn exists(span: &str, files: &[File], names: &HashSet<String>) -> bool {
    if span.contains([' ', '<', '*', '=', '"', '$', '{']) || span.starts_with(['-', '/', '#', '.'])
    {
        return true; // a command, a pattern, an option
    }
    if looks_like_a_path(span) {
        let wanted = span.trim_end_matches('/');
        // From the root or from a crate, as `tests/references` is.
        let (inside, at_end) = (format!("/{wanted}/"), format!("/{wanted}"));
        return files.iter().any(|file| {
            let path = format!("/{}", file.path);
            path.contains(&inside) || path.ends_with(&at_end)
        });
    }
    let item = span.trim_end_matches("()").trim_end_matches('!');
    if !looks_like_an_item(item) {
        return true;
    }
    item.split("::").all(|part| names.contains(part) || is_outside(part))
}

fn looks_like_a_path(span: &str) -> bool {
    let ends = [".rs", ".md", ".toml", ".csv", ".json", ".html", ".py", ".lock"];
    !span.contains("::") && (span.contains('/') || ends.iter().any(|end| span.ends_with(end)))
}

/// `a::b`, `CamelCase`, `snake_case`; a single plain word may be anything.
fn looks_like_an_item(span: &str) -> bool {
    let is_name = |part: &str| {
        part.starts_with(|c: char| c.is_ascii_alphabetic() || c == '_')
            && part.chars().all(|c| c.is_ascii_alphanumeric() || c == '_')
    };
    let camel = span.starts_with(|c: char| c.is_ascii_uppercase())
        && span.contains(|c: char| c.is_ascii_lowercase());
    span.split("::").all(is_name) && (span.contains("::") || span.contains('_') || camel)
}

/// Names of the language and of the libraries that the page may use.
fn is_outside(name: &str) -> bool {
    [
        "std",
        "crate",
        "f64",
        "f32",
        "u32",
        "i64",
        "u64",
        "Result",
        "Option",
        "String",
        "Vec",
        "Box",
        "From",
        "Deref",
        "Add",
        "Sub",
        "Display",
        "Instant",
        "SystemTime",
        "usize",
        "new",
    ]
    .contains(&name)
}

/// Every name that a Rust source defines, a macro is given, or a folder or file bears.
fn names(files: &[File]) -> HashSet<String> {
    let mut names = Names::default();
    for file in files {
        for part in file.path.split('/') {
            names.0.insert(part.trim_end_matches(".rs").replace('-', "_"));
        }
        if file.is_rust()
            && let Ok(parsed) = syn::parse_file(&file.text)
        {
            names.visit_file(&parsed);
        }
    }
    names.0
}

#[derive(Default)]
struct Names(HashSet<String>);

impl<'ast> Visit<'ast> for Names {
    fn visit_item(&mut self, item: &'ast syn::Item) {
        let name = match item {
            syn::Item::Const(item) => Some(&item.ident),
            syn::Item::Enum(item) => Some(&item.ident),
            syn::Item::Fn(item) => Some(&item.sig.ident),
            syn::Item::Macro(item) => item.ident.as_ref(),
            syn::Item::Mod(item) => Some(&item.ident),
            syn::Item::Static(item) => Some(&item.ident),
            syn::Item::Struct(item) => Some(&item.ident),
            syn::Item::Trait(item) => Some(&item.ident),
            syn::Item::Type(item) => Some(&item.ident),
            _ => None,
        };
        self.0.extend(name.map(ToString::to_string));
        visit::visit_item(self, item);
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        self.0.insert(item.sig.ident.to_string());
    }

    fn visit_field(&mut self, field: &'ast syn::Field) {
        self.0.extend(field.ident.as_ref().map(ToString::to_string));
    }

    fn visit_variant(&mut self, variant: &'ast syn::Variant) {
        self.0.insert(variant.ident.to_string());
        visit::visit_variant(self, variant);
    }

    fn visit_macro(&mut self, of: &'ast syn::Macro) {
        self.tokens(of.tokens.clone());
    }
}

impl Names {
    fn tokens(&mut self, tokens: TokenStream) {
        for token in tokens {
            match token {
                TokenTree::Group(group) => self.tokens(group.stream()),
                TokenTree::Ident(name) => {
                    self.0.insert(name.to_string());
                }
                _ => {}
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{PAGE, findings};
    use crate::tidy::File;

    fn page(text: &str) -> Vec<String> {
        let file = |path: &str, text: &str| File { path: path.to_owned(), text: text.to_owned() };
        findings(&[
            file(PAGE, text),
            file(
                "crates/calc/src/wire.rs",
                "pub struct Wire { diameter_mm: f64 } enum A { BigOne } make!(Length, from_mm);",
            ),
        ])
    }

    #[test]
    fn names_that_are_gone_are_found() {
        for gone in [
            "Coil",
            "wire::Coil",
            "crates/calc/src/coil.rs",
            "crates/gone",
            "turn_length",
            "NOTES.md",
        ] {
            assert_eq!(
                page(&format!("\nsee `{gone}`")),
                [format!("{PAGE}:2: `{gone}` does not exist")]
            );
        }
    }

    #[test]
    fn names_that_exist_pass() {
        for there in [
            "Wire",
            "wire::Wire",
            "BigOne",
            "diameter_mm",
            "Length",
            "from_mm()",
            "crates/calc",
            "crates/calc/src/wire.rs",
        ] {
            assert!(page(&format!("see `{there}`")).is_empty(), "{there}");
        }
    }

    #[test]
    fn commands_and_plain_words_are_not_names() {
        assert!(page("`cargo xtask test`, `--json`, `calc`, `wind`\n```\nGone\n```").is_empty());
    }

    #[test]
    fn a_missing_page_is_found() {
        assert_eq!(findings(&[]).len(), 1);
    }
}
