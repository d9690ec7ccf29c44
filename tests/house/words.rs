//! What stands inside single files: traits, SQL, the front door, the readme.

use std::collections::BTreeMap;
use syn::visit::{self, Visit};
use syn::{Item, ItemImpl, ItemTrait, LitStr};

use crate::paths::is_for_tests;

/// What the front door holds besides the list of rooms.
pub fn more_than_modules(source: &str) -> Vec<String> {
    let file = syn::parse_file(source).expect("src/lib.rs");
    let is_listing =
        |item: &&Item| matches!(item, Item::Mod(room) if room.content.is_none() || is_for_tests(&room.attrs));
    let others = file.items.iter().filter(|item| !is_listing(item)).count();
    (others > 0).then(|| format!("src/lib.rs: {others} items that are no `mod name;`")).into_iter().collect()
}

/// Traits with fewer than two implementations over all sources.
pub fn lonely_traits(sources: &[String]) -> Vec<String> {
    let mut traits = Traits::default();
    for source in sources {
        traits.visit_file(&syn::parse_file(source).expect("a source that compiles"));
    }
    let count = |name: &String| traits.implemented.get(name).copied().unwrap_or_default();
    traits
        .declared
        .iter()
        .filter(|name| count(name) < 2)
        .map(|name| format!("trait `{name}` has {} implementation(s): use the type itself", count(name)))
        .collect()
}

#[derive(Default)]
struct Traits {
    declared: Vec<String>,
    implemented: BTreeMap<String, usize>,
}

impl<'ast> Visit<'ast> for Traits {
    fn visit_item_trait(&mut self, item: &'ast ItemTrait) {
        self.declared.push(item.ident.to_string());
    }

    fn visit_item_impl(&mut self, item: &'ast ItemImpl) {
        let name = item.trait_.as_ref().and_then(|(_, path, _)| path.segments.last());
        if let Some(name) = name {
            *self.implemented.entry(name.ident.to_string()).or_default() += 1;
        }
    }
}

/// SQL texts in a source that multiply or divide.
///
/// The checked queries take an expression's type from one operand and then read it without a check: with 10.3 kept,
/// `nominal * 2` comes back as 20. So SQL only fetches, and the rooms compute.
pub fn sql_arithmetic(source: &str) -> Vec<String> {
    let mut texts = Texts::default();
    texts.visit_file(&syn::parse_file(source).expect("a source that compiles"));
    texts.0.into_iter().filter(|text| is_sql(text) && multiplies(text)).collect()
}

/// Every string of a file, those inside macros too.
#[derive(Default)]
struct Texts(Vec<String>);

impl<'ast> Visit<'ast> for Texts {
    fn visit_lit_str(&mut self, text: &'ast LitStr) {
        self.0.push(text.value());
    }

    fn visit_macro(&mut self, item: &'ast syn::Macro) {
        for token in item.tokens.clone() {
            if let Ok(text) = syn::parse_str::<LitStr>(&token.to_string()) {
                self.0.push(text.value());
            }
        }
        visit::visit_macro(self, item);
    }
}

fn is_sql(text: &str) -> bool {
    let first = text.split_whitespace().next().unwrap_or_default().to_uppercase();
    ["SELECT", "INSERT", "UPDATE", "DELETE", "WITH"].contains(&first.as_str())
}

/// Whether a `*` or `/` stands between two operands; `SELECT *`, `count(*)` and `table.*` are no products.
fn multiplies(sql: &str) -> bool {
    sql.char_indices().filter(|(_, c)| matches!(c, '*' | '/')).any(|(at, _)| {
        let before = sql[..at].trim_end();
        let word = before.rsplit(|c: char| !c.is_alphanumeric() && c != '_').next().unwrap_or_default();
        let closes = before.ends_with([')', '?', '"']);
        closes || !(word.is_empty() || ["SELECT", "DISTINCT", "ALL"].contains(&word.to_uppercase().as_str()))
    })
}

/// The lines of a text's fenced code blocks.
pub fn commands(markdown: &str) -> impl Iterator<Item = &str> {
    let mut inside = false;
    markdown.lines().map(str::trim).filter(move |line| {
        let fence = line.starts_with("```");
        inside ^= fence;
        inside && !fence && !line.is_empty()
    })
}

#[test]
fn a_front_door_with_furniture_is_found() {
    assert_eq!(more_than_modules("pub mod quantity; pub mod engine;"), Vec::<String>::new());
    assert_eq!(more_than_modules("pub mod engine; pub use engine::Layout;").len(), 1);
    assert_eq!(more_than_modules("pub mod engine { pub struct Layout; }").len(), 1);
}

#[test]
fn a_trait_with_one_implementation_is_found() {
    let one = "trait Store { fn f(); } impl Store for A {} trait Show {} impl Show for A {}".to_string();
    let two = "impl super::Show for B {} impl std::fmt::Debug for B {}".to_string();
    assert_eq!(lonely_traits(&[one, two]), ["trait `Store` has 1 implementation(s): use the type itself"]);
}

#[test]
fn arithmetic_in_sql_is_found() {
    let found = |sql: &str| sql_arithmetic(&format!("fn f() {{ sqlx::query!(\"{sql}\", 1 * 2); }}")).len();
    assert_eq!(found("SELECT nominal * 2 FROM target"), 1);
    assert_eq!(found("SELECT (a + b)/2 FROM target"), 1);
    assert_eq!(found("SELECT total(si) / count(*) FROM reading"), 1);
    assert_eq!(found("SELECT * FROM t"), 0);
    assert_eq!(found("SELECT count(*), t.* FROM t WHERE seq = ? + 1"), 0);
    assert_eq!(found("ask half * of it"), 0);
}

#[test]
fn commands_are_the_lines_of_code_blocks() {
    let text = "# Name\n\nWords.\n\n```sh\none\n\n```\nbetween\n```\ntwo # why\n```\n";
    assert_eq!(commands(text).collect::<Vec<_>>(), ["one", "two # why"]);
}
