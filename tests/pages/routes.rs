//! Every address the house answers to, read from its sources, so that a new one cannot be forgotten.

use std::fs;
use std::path::Path;

use syn::visit::{self, Visit};
use syn::{Expr, ExprLit, ExprMethodCall, Lit};

/// Addresses as the sources state them, "/jobs/{number}", each once.
pub fn stated() -> Vec<String> {
    let mut found = Found(Vec::new());
    read(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut found);
    found.0.sort();
    found.0.dedup();
    found.0
}

/// The same with a number in place of what varies: those of the first of everything.
pub fn of_the_first() -> Vec<String> {
    let filled = |route: String| {
        let parts = route.split('/').map(|part| if part.starts_with('{') { "1" } else { part });
        parts.collect::<Vec<_>>().join("/")
    };
    stated().into_iter().map(filled).collect()
}

fn read(folder: &Path, found: &mut Found) {
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            read(&path, found);
        } else if path.extension().is_some_and(|kind| kind == "rs") {
            let text = fs::read_to_string(&path).expect("a source");
            found.visit_file(&syn::parse_file(&text).expect("a source that compiles"));
        }
    }
}

struct Found(Vec<String>);

impl<'ast> Visit<'ast> for Found {
    fn visit_expr_method_call(&mut self, call: &'ast ExprMethodCall) {
        if call.method == "route" && call.args.len() == 2 {
            let Expr::Lit(ExprLit { lit: Lit::Str(address), .. }) = &call.args[0] else {
                panic!("a route is stated by a text, so that it can be found: {:?}", call.args[0]);
            };
            self.0.push(address.value());
        }
        visit::visit_expr_method_call(self, call);
    }
}

#[test]
fn routes_are_found_in_the_sources() {
    let stated = stated();
    for known in ["/", "/who", "/enter", "/jobs/new", "/jobs/{number}", "/shop/tablets", "/theme", "/static/{*name}"] {
        assert!(stated.iter().any(|route| route == known), "{known} in {stated:?}");
    }
    assert!(stated.len() > 60, "{}", stated.len());
}
