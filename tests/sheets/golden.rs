//! Findings of each sheet's example, pinned with its edition: who changes what follows from the same readings raises the
//! edition, and writes them anew with `cargo test --test sheets write_golden -- --ignored`.

use std::path::PathBuf;

use serde_json::Value;
use witnessmark::engine::SheetKey;
use witnessmark::exchange::{SheetInput, sheet_example, work_out};
use witnessmark::sheets::sheet;

fn file(key: SheetKey) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(format!("tests/sheets/golden/{}.json", key.key()))
}

fn worked_out(key: SheetKey) -> String {
    let input = SheetInput::read(sheet_example(key)).unwrap_or_else(|faults| panic!("{faults:?}"));
    serde_json::to_string_pretty(&work_out(key, &input)).expect("JSON") + "\n"
}

#[test]
fn the_same_readings_give_the_same_findings() {
    for key in SheetKey::ALL {
        let (pinned, found) = (std::fs::read_to_string(file(key)).expect("a golden file"), worked_out(key));
        let differs: Vec<String> = pinned
            .lines()
            .zip(found.lines())
            .enumerate()
            .filter(|(_, (pinned, found))| pinned != found)
            .map(|(line, (pinned, found))| format!("line {}:\n  pinned {pinned}\n  found  {found}", line + 1))
            .collect();
        assert!(
            pinned == found,
            "{}: {} lines pinned, {} found\n{}",
            key.key(),
            pinned.lines().count(),
            found.lines().count(),
            differs.join("\n")
        );
    }
}

#[test]
fn the_pinned_edition_is_the_sheets_own() {
    for key in SheetKey::ALL {
        let text = std::fs::read_to_string(file(key)).expect("a golden file");
        let pinned: Value = serde_json::from_str(&text).expect("JSON");
        assert_eq!(pinned["edition"], sheet(key).edition, "{}", key.key());
    }
}

#[test]
#[ignore = "writes the golden files anew: look at the difference before it is kept"]
fn write_golden() {
    for key in SheetKey::ALL {
        std::fs::write(file(key), worked_out(key)).expect("a golden file");
    }
}
