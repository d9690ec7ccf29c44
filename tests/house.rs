//! The walls of the house, as a test: which room may use which, and what the files of the house look like.
//!
//! Start with [`WALLS`] and [`OUTSIDE`]. A fault names the file, what it reaches for, and why that is not its to use. The
//! same checks run on small wrong examples at the end of each file in tests/house/, so that they are known to be able to fail.

#[path = "house/files.rs"]
mod files;
#[path = "house/migrations.rs"]
mod migrations;
#[path = "house/paths.rs"]
mod paths;
#[path = "house/templates.rs"]
mod templates;
#[path = "house/words.rs"]
mod words;

/// A room and the rooms it may name.
struct Wall {
    room: &'static str,
    may_use: &'static [&'static str],
    why: &'static str,
}

/// The rooms from the ground up; `#[cfg(test)]` items are not bound by them.
const WALLS: &[Wall] = &[
    Wall { room: "quantity", may_use: &[], why: "numbers and units stand by themselves" },
    Wall { room: "metrology", may_use: &["quantity"], why: "how well a value is known does not depend on the engine" },
    Wall { room: "mechanics", may_use: &[], why: "formulas are plain f64 in SI, to be checked against a book" },
    Wall { room: "drawing", may_use: &["quantity"], why: "a picture knows lengths, not what it depicts" },
    Wall { room: "engine", may_use: &["quantity", "metrology"], why: "what is being built, not what follows from it" },
    Wall {
        room: "sheets",
        may_use: &["engine", "mechanics", "metrology", "quantity", "drawing"],
        why: "a sheet turns readings into findings; where they are kept is not its concern",
    },
    Wall { room: "plan", may_use: &["quantity", "engine"], why: "steps wait for each other by their identifiers" },
    Wall { room: "charges", may_use: &["quantity", "engine"], why: "money names what it is for by its identifiers" },
    Wall {
        room: "handover",
        may_use: &["engine", "sheets", "charges", "drawing", "quantity"],
        why: "a document is made of contents handed in",
    },
    Wall {
        room: "record",
        may_use: &["quantity", "metrology", "mechanics", "drawing", "engine", "sheets", "plan", "charges"],
        why: "what is kept does not know what is done with it",
    },
    Wall {
        room: "work",
        may_use: &[
            "quantity",
            "metrology",
            "mechanics",
            "drawing",
            "engine",
            "sheets",
            "plan",
            "charges",
            "handover",
            "record",
        ],
        why: "an action of the shop knows everything but the pages that ask for it",
    },
    Wall { room: "web", may_use: &["drawing", "quantity", "metrology"], why: "what all pages share knows no page" },
    Wall { room: "bench", may_use: &["web", "work"], why: "a page asks work and shows what work returns" },
    Wall { room: "office", may_use: &["web", "work"], why: "a page asks work and shows what work returns" },
    Wall {
        room: "exchange",
        may_use: &["quantity", "metrology", "engine", "sheets", "record", "work", "handover"],
        why: "a document of a build or a sheet is written in the words of what is built",
    },
    Wall { room: "upkeep", may_use: &["work", "record", "handover"], why: "care of the record goes through work" },
];

/// Something of the world outside, and the only rooms that may name it.
struct Outside {
    what: &'static str,
    only: &'static [&'static str],
    why: &'static str,
}

/// The command line (src/main.rs and src/command/) is one room here: `main`.
const OUTSIDE: &[Outside] = &[
    Outside { what: "sqlx", only: &["record"], why: "the only SQL in the house stands in record" },
    Outside { what: "axum", only: SERVED, why: "only pages know the web framework" },
    Outside { what: "axum_extra", only: PAGES, why: "only pages know the web framework" },
    Outside { what: "tower", only: PAGES, why: "only pages know the web framework" },
    Outside { what: "tower_http", only: PAGES, why: "only pages know the web framework" },
    Outside { what: "askama", only: PAGES, why: "only pages are rendered from templates" },
    Outside { what: "printpdf", only: &["handover"], why: "only the documents that leave know PDF" },
    Outside { what: "lopdf", only: &["handover"], why: "only the documents that leave know PDF" },
    Outside { what: "qrcodegen", only: &["drawing"], why: "a code is a drawing, for page and paper alike" },
    Outside { what: "statrs", only: &["metrology", "plan"], why: "distributions belong to readings and to dates" },
    Outside { what: "argon2", only: &["work"], why: "the PIN is checked in one place" },
    Outside { what: "csv", only: &["work"], why: "what a spreadsheet takes for a formula is guarded in one place" },
    Outside { what: "if_addrs", only: &["main"], why: "the machine's addresses are read in one place" },
    Outside { what: "mdns_sd", only: &["main"], why: "nothing below the command line speaks to the network" },
    Outside { what: "clap", only: &["main"], why: "the command line is read in one place" },
    Outside { what: "std::env", only: &["main"], why: "arguments and environment are read in one place" },
    Outside { what: "std::process", only: &["main"], why: "nothing below the command line ends or starts a process" },
    Outside { what: "std::time::SystemTime", only: &["main"], why: "the time comes in as an argument" },
    Outside { what: "std::time::Instant", only: &["main"], why: "the time comes in as an argument" },
    Outside { what: "jiff::Timestamp::now", only: &["main"], why: "the time comes in as an argument" },
    Outside { what: "jiff::ZonedDateTime::now", only: &["main"], why: "the time comes in as an argument" },
    Outside { what: "jiff::tz::TimeZone::system", only: &["main"], why: "the shop's zone is a setting" },
    Outside { what: "std::fs", only: KEEPERS, why: "files are kept by record and cared for by upkeep" },
    Outside { what: "tokio::fs", only: KEEPERS, why: "files are kept by record and cared for by upkeep" },
    Outside { what: "std::net", only: &["web", "main"], why: "addresses are the server's" },
    Outside { what: "tokio", only: FROM_RECORD_UP, why: "rooms below record are pure: nothing in them waits" },
    Outside { what: "getrandom", only: FROM_RECORD_UP, why: "rooms below record are pure: same in, same out" },
];

const PAGES: &[&str] = &["web", "bench", "office"];
/// The command line starts the server that the pages stand in.
const SERVED: &[&str] = &["web", "bench", "office", "main"];
const KEEPERS: &[&str] = &["record", "upkeep", "main"];
const FROM_RECORD_UP: &[&str] = &["record", "work", "web", "bench", "office", "exchange", "upkeep", "main"];

/// Lines a file in src may have above its own tests: what one sitting reads. A longer one holds two subjects, and is split.
const LONGEST_FILE: usize = 400;

/// Names that say nothing of what is inside, so that everything ends up inside.
const NO_NAMES_FOR_A_ROOM: &[&str] = &["utils", "util", "helpers", "helper", "manager", "common", "misc"];

#[test]
fn every_room_uses_only_what_its_wall_allows() {
    none(files::sources().iter().flat_map(|source| {
        paths::named_in(&source.module, &source.text)
            .into_iter()
            .filter_map(|path| paths::fault(&source.room, &path))
            .map(|fault| format!("{}: {fault}", source.path))
    }));
}

#[test]
fn every_room_has_a_wall() {
    let known = |room: &str| room == "main" || room == "lib" || WALLS.iter().any(|wall| wall.room == room);
    none(
        files::sources()
            .iter()
            .filter(|source| !known(&source.room))
            .map(|source| format!("{}: the room `{}` has no wall in tests/house.rs", source.path, source.room)),
    );
}

#[test]
fn the_front_door_only_lists_the_rooms() {
    let lib = files::sources().into_iter().find(|source| source.path == "src/lib.rs").expect("src/lib.rs");
    none(words::more_than_modules(&lib.text));
}

#[test]
fn every_source_says_at_its_top_what_it_is_for() {
    none(
        files::sources()
            .iter()
            .filter(|source| !source.text.starts_with("//!"))
            .map(|source| format!("{}: begins without `//!`", source.path)),
    );
}

#[test]
fn no_source_is_longer_than_one_sitting() {
    none(
        files::sources()
            .iter()
            .map(|source| (source, source.text.lines().take_while(|line| *line != "#[cfg(test)]").count()))
            .filter(|&(_, lines)| lines > LONGEST_FILE)
            .map(|(source, lines)| format!("{}: {lines} lines, at most {LONGEST_FILE}", source.path)),
    );
}

#[test]
fn no_module_has_a_name_that_holds_everything() {
    none(
        files::sources()
            .iter()
            .filter(|source| source.module.iter().any(|name| NO_NAMES_FOR_A_ROOM.contains(&name.as_str())))
            .map(|source| format!("{}: name it after its subject", source.path)),
    );
}

#[test]
fn no_trait_has_fewer_than_two_implementations() {
    let texts: Vec<String> = files::sources().into_iter().map(|source| source.text).collect();
    none(words::lonely_traits(&texts));
}

#[test]
fn no_sql_computes_on_what_was_measured() {
    none(files::sources().iter().filter(|source| source.room == "record").flat_map(|source| {
        words::sql_arithmetic(&source.text)
            .into_iter()
            .map(|sql| format!("{}: multiplies or divides in SQL: {sql}", source.path))
    }));
}

#[test]
fn every_table_and_column_is_explained() {
    let migrations = files::texts_under("migrations", "sql");
    assert!(!migrations.is_empty(), "no migration found");
    none(migrations.iter().flat_map(|(path, sql)| {
        migrations::unexplained(sql).into_iter().map(move |name| format!("{path}: {name} has no comment"))
    }));
}

#[test]
fn every_template_is_rendered_by_its_room() {
    none(templates::misplaced(&files::texts_under("templates", "html"), &files::sources()));
}

#[test]
fn no_template_computes() {
    none(files::texts_under("templates", "html").iter().flat_map(|(path, text)| {
        templates::arithmetic(text).into_iter().map(move |found| format!("{path}: computes in `{found}`"))
    }));
}

#[test]
fn the_readme_begins_with_the_two_commands() {
    let readme = std::fs::read_to_string(files::top().join("README.md")).expect("README.md");
    assert_eq!(words::commands(&readme).take(2).collect::<Vec<_>>(), ["cargo run --release -- demo", "tests/run"]);
}

/// Fails with every fault, one a line.
#[track_caller]
fn none(faults: impl IntoIterator<Item = String>) {
    let faults: Vec<String> = faults.into_iter().collect();
    assert!(faults.is_empty(), "\n{}\n", faults.join("\n"));
}
