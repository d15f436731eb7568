//! Every module has its sentence, and every formula of `calc` says its units and its source.

use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{Attribute, Block, Expr, Meta, Visibility};

use super::File;

/// Modules without a sentence, and public functions of `calc` without `# Units` or `# Source`.
pub fn findings(files: &[File]) -> Vec<String> {
    let mut found = Vec::new();
    for file in files.iter().filter(|file| file.is_rust()) {
        let parsed = match syn::parse_file(&file.text) {
            Ok(parsed) => parsed,
            Err(error) => {
                found.push(format!("{}: does not parse: {error}", file.path));
                continue;
            }
        };
        if !has_sentence(&parsed.attrs) {
            found.push(format!("{}:1: the module lacks its one sentence of purpose", file.path));
        }
        if file.path.starts_with("crates/calc/src/") {
            let mut formulas = Formulas { path: &file.path, found: &mut found };
            formulas.visit_file(&parsed);
        }
    }
    found
}

/// Whether the first paragraph of the documentation is a sentence.
fn has_sentence(attributes: &[Attribute]) -> bool {
    let lines = doc_lines(attributes);
    let paragraph: Vec<&str> =
        lines.iter().map(|line| line.trim()).take_while(|line| !line.is_empty()).collect();
    paragraph.last().is_some_and(|line| line.ends_with(['.', ':']))
}

fn doc_lines(attributes: &[Attribute]) -> Vec<String> {
    attributes
        .iter()
        .filter(|attribute| attribute.path().is_ident("doc"))
        .filter_map(|attribute| match &attribute.meta {
            Meta::NameValue(pair) => match &pair.value {
                Expr::Lit(syn::ExprLit { lit: syn::Lit::Str(text), .. }) => Some(text.value()),
                _ => None,
            },
            _ => None,
        })
        .flat_map(|text| text.lines().map(str::to_owned).collect::<Vec<_>>())
        .collect()
}

struct Formulas<'a> {
    path: &'a str,
    found: &'a mut Vec<String>,
}

impl Formulas<'_> {
    fn check(
        &mut self,
        attributes: &[Attribute],
        visibility: &Visibility,
        signature: &syn::Signature,
        body: &Block,
    ) {
        if !matches!(visibility, Visibility::Public(_)) || !computes(signature, body) {
            return;
        }
        let lines = doc_lines(attributes);
        for section in ["# Units", "# Source"] {
            if !lines.iter().any(|line| line.trim() == section) {
                let name = &signature.ident;
                let line = name.span().start().line;
                self.found.push(format!("{}:{line}: `{name}` lacks `{section}`", self.path));
            }
        }
    }
}

impl<'ast> Visit<'ast> for Formulas<'_> {
    fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
        self.check(&item.attrs, &item.vis, &item.sig, &item.block);
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        self.check(&item.attrs, &item.vis, &item.sig, &item.block);
    }

    fn visit_item_mod(&mut self, item: &'ast syn::ItemMod) {
        if !item.attrs.iter().any(is_test_only) {
            visit::visit_item_mod(self, item);
        }
    }
}

fn is_test_only(attribute: &Attribute) -> bool {
    attribute.path().is_ident("cfg")
        && attribute.meta.require_list().is_ok_and(|list| list.tokens.to_string() == "test")
}

/// Whether a body does more than read a field, name a case, build a value or change its unit.
///
/// A reader or constructor is one expression that calls nothing with arguments but constructors,
/// and whose arithmetic, if any, is one product or quotient with a constant. What takes nothing
/// but `self` may also combine two of its own parts, or hand them to a method.
fn computes(signature: &syn::Signature, body: &Block) -> bool {
    let [syn::Stmt::Expr(expression, _)] = body.stmts.as_slice() else {
        return true;
    };
    let own = signature.receiver().is_some() && signature.inputs.len() == 1;
    let mut work = Work { own, steps: 0, found: false };
    work.visit_expr(expression);
    work.found || work.steps > 1
}

struct Work {
    /// Whether all that goes in is the value itself.
    own: bool,
    steps: usize,
    found: bool,
}

impl<'ast> Visit<'ast> for Work {
    fn visit_expr(&mut self, expression: &'ast Expr) {
        use syn::BinOp::{Add, AddAssign, Div, DivAssign, Mul, MulAssign, Rem, Sub, SubAssign};
        match expression {
            Expr::Binary(binary) => match binary.op {
                Mul(_) | Div(_) if is_constant(&binary.left) || is_constant(&binary.right) => {
                    self.steps += 1;
                }
                Add(_) | Sub(_) | Mul(_) | Div(_) | Rem(_) if self.own => self.steps += 1,
                Add(_) | Sub(_) | Mul(_) | Div(_) | Rem(_) | AddAssign(_) | SubAssign(_)
                | MulAssign(_) | DivAssign(_) => self.found = true,
                _ => {}
            },
            Expr::Call(call) if !call.args.is_empty() && !is_constructor(&call.func) => {
                self.found = true;
            }
            Expr::MethodCall(call) if !call.args.is_empty() && !self.own => {
                self.found |= !is_lookup(&call.method) || !call.args.iter().all(is_plain);
            }
            Expr::Loop(_) | Expr::While(_) | Expr::ForLoop(_) | Expr::Try(_) => self.found = true,
            _ => {}
        }
        visit::visit_expr(self, expression);
    }
}

/// A literal, or a name in capitals.
fn is_constant(expression: &Expr) -> bool {
    let Expr::Path(path) = expression else {
        return false;
    };
    path.path.segments.last().is_some_and(|last| {
        let name = last.ident.to_string();
        name.len() > 1
            && name.chars().all(|c| c.is_ascii_uppercase() || c.is_ascii_digit() || c == '_')
    })
}

/// `Some(..)`, `Basis::Assumed(..)`, `Box::new(..)`, `Length::from_mm(..)`.
fn is_constructor(function: &Expr) -> bool {
    let Expr::Path(path) = function else {
        return false;
    };
    path.path.segments.last().is_some_and(|last| {
        let name = last.ident.to_string();
        name == "new"
            || name.starts_with("from_")
            || name.starts_with("try_from")
            || name.starts_with(|c: char| c.is_ascii_uppercase())
    })
}

/// Methods that look something up or pass it on, and compute nothing.
fn is_lookup(method: &syn::Ident) -> bool {
    ["map", "map_or", "get", "find", "filter", "any", "all", "contains", "unwrap_or"]
        .iter()
        .any(|name| method == name)
}

fn is_plain(argument: &Expr) -> bool {
    matches!(
        argument,
        Expr::Path(_) | Expr::Lit(_) | Expr::Field(_) | Expr::Reference(_) | Expr::Closure(_)
    ) && argument.span().source_text().is_none_or(|text| text.len() < 80)
}

#[cfg(test)]
mod tests {
    use super::findings;
    use crate::tidy::one;

    const FILE: &str = "crates/calc/src/a.rs";

    fn of(function: &str) -> Vec<String> {
        findings(&one(FILE, &format!("//! A module.\n{function}")))
    }

    #[test]
    fn a_formula_without_units_or_source_is_found() {
        let found = of("/// Twice.\n/// # Units\n/// mm\npub fn twice(x: f64) -> f64 { x + x }");
        assert_eq!(found, ["crates/calc/src/a.rs:5: `twice` lacks `# Source`"]);
        assert_eq!(of("impl A { pub fn area(&self) -> f64 { area(self.d) } }").len(), 2);
        assert_eq!(
            of("impl A { pub fn mean(self) -> f64 { self.a / (self.a + self.b) } }").len(),
            2
        );
        assert_eq!(of("pub fn wound() -> f64 { let a = 1.0; a }").len(), 2);
    }

    #[test]
    fn a_documented_formula_passes() {
        let text = "/// Twice.\n/// # Units\n/// mm\n/// # Source\n/// Sum.\npub fn twice(x: f64) -> f64 { x + x }";
        assert!(of(text).is_empty());
    }

    #[test]
    fn readers_constructors_and_unit_changes_need_neither() {
        for plain in [
            "pub const fn mm(self) -> f64 { self.mm }",
            "pub fn new(x: f64) -> A { A { x } }",
            "pub fn boxed(x: f64) -> A { A::Boxed(Box::new(x)) }",
            "pub const fn ratio(self) -> f64 { self.inside / self.wire }",
            "pub fn radius(self) -> f64 { self.inside.mean_radius(self.wire) }",
            "pub const fn inches(self) -> f64 { self.mm() / MM_PER_INCH }",
            "pub const fn word(&self) -> &'static str { match self { A::B => \"b\" } }",
            "fn private(x: f64) -> f64 { x * x }",
            "pub(crate) fn inside(x: f64) -> f64 { x * x }",
            "#[cfg(test)] mod tests { pub fn at(x: f64) -> f64 { x * x } }",
        ] {
            assert!(of(&format!("/// Doc.\n{plain}")).is_empty(), "{plain}");
        }
    }

    #[test]
    fn a_module_without_a_sentence_is_found() {
        assert_eq!(findings(&one("xtask/src/a.rs", "fn f() {}")).len(), 1);
        assert_eq!(findings(&one("xtask/src/a.rs", "//! Just words\nfn f() {}")).len(), 1);
        assert!(
            findings(&one("xtask/src/a.rs", "//! A sentence\n//! over two lines.\nfn f() {}"))
                .is_empty()
        );
    }
}
