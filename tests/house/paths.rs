//! Every path a source names, and whether its room may name it.
//!
//! Imports, types, expressions, attributes and the insides of macros all count; what is marked `#[cfg(test)]` does not.
//! `super` and `self` are followed to the room they lead to, and a name brought in by `use` to where it comes from.

use std::collections::HashMap;
use syn::visit::{self, Visit};
use syn::{Attribute, ItemExternCrate, ItemFn, ItemImpl, ItemMod, ItemUse, Macro, Meta, UseTree};

use crate::{OUTSIDE, WALLS};

/// A path in full: `["crate", "record", "Row"]` inside the house, `["std", "env", "var"]` outside it.
pub type FullPath = Vec<String>;

/// What is wrong with this room naming this path, if anything.
pub fn fault(room: &str, path: &FullPath) -> Option<String> {
    if room == "main" || room == "lib" {
        return None;
    }
    let shown = path.join("::");
    if path[0] == "crate" {
        let wall = WALLS.iter().find(|wall| wall.room == room)?;
        let target = path.get(1).map_or("", String::as_str);
        let allowed = target == room || wall.may_use.contains(&target);
        return (!allowed).then(|| match wall.may_use {
            [] => format!("`{shown}`: `{room}` may use nothing of ours, because {}", wall.why),
            rooms => format!("`{shown}`: `{room}` may use {}, because {}", rooms.join(", "), wall.why),
        });
    }
    OUTSIDE
        .iter()
        .find(|outside| reaches(path, outside.what) && !outside.only.contains(&room))
        .map(|outside| format!("`{shown}` is only for {}, because {}", outside.only.join(", "), outside.why))
}

/// Whether the path is this or inside it, or a `*` that brings it in.
fn reaches(path: &FullPath, what: &str) -> bool {
    let shown = path.join("::");
    let glob = shown.strip_suffix("::*").is_some_and(|from| what.starts_with(&format!("{from}::")));
    shown == what || shown.starts_with(&format!("{what}::")) || glob
}

/// Every path the source of this module names, in full, each once.
pub fn named_in(module: &[String], source: &str) -> Vec<FullPath> {
    let file = syn::parse_file(source).unwrap_or_else(|error| panic!("{}: {error}", module.join("::")));
    let mut reader = Reader { module: module.to_vec(), named: Vec::new(), imports: HashMap::new() };
    reader.visit_file(&file);
    let mut paths: Vec<FullPath> = reader.named.iter().map(|path| reader.follow(path)).collect();
    paths.sort();
    paths.dedup();
    paths
}

struct Reader {
    /// Where we are.
    module: Vec<String>,
    /// Paths, with `self` and `super` already followed.
    named: Vec<FullPath>,
    /// What a name brought in by `use` stands for.
    imports: HashMap<String, FullPath>,
}

impl Reader {
    fn name(&mut self, path: &[String]) {
        let path = self.whole(path);
        self.named.push(path);
    }

    /// The path with its leading `self` and `super` resolved against where we are.
    fn whole(&self, path: &[String]) -> FullPath {
        let climbs = path.iter().take_while(|name| *name == "super").count();
        let relative = climbs > 0 || path.first().is_some_and(|name| name == "self");
        if !relative {
            return path.to_vec();
        }
        let rest = path.iter().skip_while(|name| *name == "super" || *name == "self");
        let kept = self.module.len().saturating_sub(climbs);
        std::iter::once(&"crate".to_string()).chain(&self.module[..kept]).chain(rest).cloned().collect()
    }

    /// The path with a first name that was imported replaced by what was imported.
    fn follow(&self, path: &FullPath) -> FullPath {
        match self.imports.get(&path[0]) {
            Some(origin) if origin[0] != path[0] => origin.iter().chain(&path[1..]).cloned().collect(),
            _ => path.clone(),
        }
    }

    fn import(&mut self, before: &[String], tree: &UseTree) {
        let with = |name: String| before.iter().cloned().chain([name]).collect::<Vec<_>>();
        match tree {
            UseTree::Path(part) => self.import(&with(part.ident.to_string()), &part.tree),
            UseTree::Group(group) => group.items.iter().for_each(|item| self.import(before, item)),
            UseTree::Glob(_) => self.name(&with("*".into())),
            UseTree::Name(leaf) if leaf.ident == "self" => self.bring_in(before, before[before.len() - 1].clone()),
            UseTree::Name(leaf) => self.bring_in(&with(leaf.ident.to_string()), leaf.ident.to_string()),
            UseTree::Rename(leaf) if leaf.ident == "self" => self.bring_in(before, leaf.rename.to_string()),
            UseTree::Rename(leaf) => self.bring_in(&with(leaf.ident.to_string()), leaf.rename.to_string()),
        }
    }

    fn bring_in(&mut self, path: &[String], as_name: String) {
        self.name(path);
        self.imports.insert(as_name, self.whole(path));
    }

    /// Paths of two names or more in the text of tokens, where nothing says what is syntax.
    fn read_tokens(&mut self, tokens: &str) {
        const JOIN: char = '\u{1}';
        let joined = tokens.replace("::", "\u{1}").replace(" \u{1}", "\u{1}").replace("\u{1} ", "\u{1}");
        for piece in joined.split(|c: char| !c.is_alphanumeric() && c != '_' && c != JOIN) {
            let path: Vec<String> = piece.split(JOIN).filter(|name| !name.is_empty()).map(String::from).collect();
            if path.len() > 1 {
                self.name(&path);
            }
        }
    }
}

impl<'ast> Visit<'ast> for Reader {
    fn visit_item_mod(&mut self, item: &'ast ItemMod) {
        if !is_for_tests(&item.attrs) {
            self.module.push(item.ident.to_string());
            visit::visit_item_mod(self, item);
            self.module.pop();
        }
    }

    fn visit_item_fn(&mut self, item: &'ast ItemFn) {
        if !is_for_tests(&item.attrs) {
            visit::visit_item_fn(self, item);
        }
    }

    fn visit_item_impl(&mut self, item: &'ast ItemImpl) {
        if !is_for_tests(&item.attrs) {
            visit::visit_item_impl(self, item);
        }
    }

    fn visit_item_use(&mut self, item: &'ast ItemUse) {
        if !is_for_tests(&item.attrs) {
            self.import(&[], &item.tree);
        }
    }

    fn visit_item_extern_crate(&mut self, item: &'ast ItemExternCrate) {
        self.name(&[item.ident.to_string()]);
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        if path.segments.len() > 1 {
            self.name(&path.segments.iter().map(|segment| segment.ident.to_string()).collect::<Vec<_>>());
        }
        visit::visit_path(self, path);
    }

    fn visit_macro(&mut self, item: &'ast Macro) {
        self.read_tokens(&item.tokens.to_string());
        visit::visit_macro(self, item);
    }

    fn visit_attribute(&mut self, attribute: &'ast Attribute) {
        if let Meta::List(list) = &attribute.meta {
            self.read_tokens(&list.tokens.to_string());
        }
        visit::visit_attribute(self, attribute);
    }
}

/// Whether this is compiled for tests only.
pub fn is_for_tests(attributes: &[Attribute]) -> bool {
    attributes.iter().any(|attribute| match &attribute.meta {
        Meta::Path(path) => path.is_ident("test"),
        Meta::List(list) => list.path.is_ident("cfg") && list.tokens.to_string() == "test",
        Meta::NameValue(_) => false,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The faults of a source that stands in this module.
    fn faults(module: &[&str], source: &str) -> Vec<String> {
        let module: Vec<String> = module.iter().map(ToString::to_string).collect();
        named_in(&module, source).iter().filter_map(|path| fault(&module[0], path)).collect()
    }

    #[test]
    fn what_a_wall_allows_is_no_fault() {
        let sheet = "use crate::engine::Layout; use super::Finding; use self::parts::Part; use std::fmt;
            fn work_out(l: crate::mechanics::Crank) -> Finding { crate::metrology::judge(l) }";
        assert_eq!(faults(&["sheets", "bores"], sheet), Vec::<String>::new());
    }

    #[test]
    fn a_forbidden_room_is_found_wherever_it_is_named() {
        for source in [
            "use crate::record::Row;",
            "use crate::{engine::Layout, record::{self, Row}};",
            "use crate::record as kept;",
            "use super::super::record::Row;",
            "use crate::*;",
            "fn f(row: &crate::record::Row) {}",
            "fn f() -> Option<crate::record::Row> { None }",
            "fn f() { crate::record::open(); }",
            "fn f() { let x = super::super::record::open(); }",
            "mod inner { fn f() { super::super::super::record::open(); } }",
            "fn f() { println!(\"{}\", crate::record::name()); }",
            "fn f() { println!(\"{x}\", x = (1, crate::record::name())); }",
            "fn f() { assert!(g(crate::record::open())?); }",
            "#[derive(Debug, crate::record::Row)] struct S;",
            "impl crate::record::Kept for S {}",
        ] {
            assert!(!faults(&["sheets", "bores"], source).is_empty(), "{source}");
        }
    }

    #[test]
    fn the_clock_and_the_rest_of_the_world_are_found() {
        for source in [
            "use std::time::Instant;",
            "use std::time::*;",
            "use std::fs::File;",
            "fn f() { std::env::var(\"HOME\"); }",
            "use jiff::Timestamp; fn f() -> Timestamp { Timestamp::now() }",
            "use jiff::{Timestamp as Moment}; fn f() -> Moment { Moment::now() }",
            "use std as s; fn f() { s::env::args(); }",
            "fn f() { sqlx::query!(\"SELECT 1\"); }",
            "fn f() { vec![getrandom::u64()]; }",
            "#[derive(askama::Template)] struct Page;",
            "extern crate tokio;",
        ] {
            assert!(!faults(&["engine", "layout"], source).is_empty(), "{source}");
        }
        assert!(faults(&["engine"], "use jiff::Timestamp; fn f(t: Timestamp) -> Timestamp { t }").is_empty());
    }

    #[test]
    fn a_fault_says_who_may_and_why() {
        assert_eq!(
            faults(&["mechanics", "crank"], "use crate::quantity::Unit;"),
            [
                "`crate::quantity::Unit`: `mechanics` may use nothing of ours, because formulas are plain f64 in SI, to be \
              checked against a book"
            ]
        );
        assert_eq!(
            faults(&["work"], "use sqlx::Pool;"),
            ["`sqlx::Pool` is only for record, because the only SQL in the house stands in record"]
        );
    }

    #[test]
    fn tests_inside_a_room_may_use_more() {
        let source = "#[cfg(test)] mod tests { use crate::record::Row; } #[cfg(test)] use crate::record;
            #[test] fn f() { std::fs::read(\"\"); }";
        assert_eq!(faults(&["engine"], source), Vec::<String>::new());
    }
}
