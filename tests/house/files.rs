//! The files of the house, read from the checkout.

use std::fs;
use std::path::{Path, PathBuf};

/// A file of src with the room and the module it is.
pub struct Source {
    /// From the top of the checkout: `src/quantity/unit.rs`.
    pub path: String,
    /// `quantity`; the command line is `main`.
    pub room: String,
    /// `["quantity", "unit"]`
    pub module: Vec<String>,
    pub text: String,
}

impl Source {
    fn new(path: String, text: String) -> Self {
        let mut module: Vec<String> =
            path.trim_start_matches("src/").trim_end_matches(".rs").split('/').map(String::from).collect();
        if module.last().is_some_and(|name| name == "mod") {
            module.pop();
        }
        let room = match module.first().map(String::as_str) {
            Some("command") | None => "main".into(),
            Some(room) => room.into(),
        };
        if room == "lib" || module == ["main"] {
            module.clear();
        }
        Self { path, room, module, text }
    }
}

/// The top of the checkout.
pub fn top() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every source, but for those that are a room's own tests.
pub fn sources() -> Vec<Source> {
    texts_under("src", "rs")
        .into_iter()
        .map(|(path, text)| Source::new(path, text))
        .filter(|source| source.module.last().is_none_or(|name| name != "tests"))
        .collect()
}

/// Path and text of every file with this extension in a folder at the top, in order of path.
pub fn texts_under(folder: &str, extension: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    if top().join(folder).exists() {
        collect(&top().join(folder), extension, &mut found);
    }
    found.sort();
    found
        .into_iter()
        .map(|path| {
            let name = path.strip_prefix(top()).expect("inside the checkout").to_string_lossy().replace('\\', "/");
            let text = fs::read_to_string(&path).unwrap_or_else(|error| panic!("{name}: {error}"));
            (name, text)
        })
        .collect()
}

fn collect(folder: &Path, extension: &str, found: &mut Vec<PathBuf>) {
    let entries = fs::read_dir(folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display()));
    for path in entries.map(|entry| entry.expect("a readable folder").path()) {
        if path.is_dir() {
            collect(&path, extension, found);
        } else if path.extension().is_some_and(|found| found == extension) {
            found.push(path);
        }
    }
}

#[test]
fn a_file_knows_its_room_and_module() {
    let of = |path: &str| {
        let source = Source::new(path.into(), String::new());
        (source.room, source.module.join("::"))
    };
    assert_eq!(of("src/quantity/unit.rs"), ("quantity".into(), "quantity::unit".into()));
    assert_eq!(of("src/quantity/mod.rs"), ("quantity".into(), "quantity".into()));
    assert_eq!(of("src/plan.rs"), ("plan".into(), "plan".into()));
    assert_eq!(of("src/main.rs"), ("main".into(), String::new()));
    assert_eq!(of("src/lib.rs"), ("lib".into(), String::new()));
    assert_eq!(of("src/command/serve.rs"), ("main".into(), "command::serve".into()));
}
