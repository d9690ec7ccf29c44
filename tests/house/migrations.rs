//! Whether a migration explains its tables and columns.
//!
//! A table is explained by the comment line before it; a column by a comment on its own line or on the line before, one that
//! is added later by a comment on its own line.

/// Names of tables and columns ("job.number") without a comment. One column stands on a line.
pub fn unexplained(sql: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut table: Option<String> = None;
    let mut depth = 0_i32;
    let mut explained_before = false;
    let mut begins_a_part = false;
    for line in sql.lines() {
        let (code, comment) = line.split_once("--").map_or((line, None), |(code, comment)| (code, Some(comment)));
        let code = code.trim();
        let says = comment.is_some_and(|comment| !comment.trim().is_empty());
        if code.is_empty() {
            explained_before = says || (explained_before && line.trim_start().starts_with("--"));
            continue;
        }
        match &table {
            None => {
                if let Some(name) = created_table(code) {
                    if !explained_before {
                        found.push(name.clone());
                    }
                    table = Some(name);
                } else if let Some(column) = added_column(code)
                    && !says
                {
                    found.push(column);
                }
            }
            Some(table) if depth == 1 && begins_a_part => {
                if let Some(column) = column(code)
                    && !says
                    && !explained_before
                {
                    found.push(format!("{table}.{column}"));
                }
            }
            Some(_) => {}
        }
        if table.is_some() {
            depth += count(code, '(') - count(code, ')');
            begins_a_part = depth == 1 && (code.ends_with(',') || code.ends_with('('));
            if depth == 0 && code.ends_with(';') {
                table = None;
            }
        }
        explained_before = false;
    }
    found
}

fn count(code: &str, wanted: char) -> i32 {
    i32::try_from(code.matches(wanted).count()).expect("a line of a migration")
}

/// The name of the table a line begins to create.
fn created_table(code: &str) -> Option<String> {
    let mut words = code.split([' ', '(']).filter(|word| !word.is_empty());
    let starts = words.next()?.eq_ignore_ascii_case("create") && words.next()?.eq_ignore_ascii_case("table");
    starts.then(|| words.find(|word| !["if", "not", "exists"].contains(&word.to_lowercase().as_str())))?.map(Into::into)
}

/// The column a line adds to a table: "job.number". Its comment stands on the same line.
fn added_column(code: &str) -> Option<String> {
    let rest = code.strip_prefix("ALTER TABLE ")?;
    let (table, rest) = rest.split_once(" ADD COLUMN ")?;
    Some(format!("{table}.{}", rest.split(' ').next()?))
}

/// The name of the column a part of a table begins with; a constraint has none.
fn column(code: &str) -> Option<&str> {
    let first = code.split([' ', '(', ',']).next()?;
    let constraint = ["constraint", "primary", "foreign", "unique", "check", ")"];
    (!constraint.contains(&first.to_lowercase().as_str())).then_some(first)
}

#[test]
fn a_table_and_a_column_without_a_comment_are_found() {
    let sql = "
        -- The jobs of the shop.
        CREATE TABLE job (
            id INTEGER PRIMARY KEY, -- by which all else names it
            -- as the shop counts them
            number INTEGER NOT NULL
                CHECK (number > 0),
            owner TEXT NOT NULL,
            state TEXT NOT NULL CHECK (state IN ('open', 'closed')), --
            note TEXT, -- free
            UNIQUE (number)
        ) STRICT;

        CREATE TABLE IF NOT EXISTS person (
            name TEXT -- as said
        );
        CREATE INDEX job_owner ON job (owner);
        ALTER TABLE job ADD COLUMN due TEXT; -- civil date
        ALTER TABLE job ADD COLUMN paid INTEGER;
    ";
    assert_eq!(unexplained(sql), ["job.owner", "job.state", "person", "job.paid"]);
}
