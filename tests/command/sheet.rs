//! `witnessmark sheet`.

use witnessmark::engine::SheetKey;
use witnessmark::exchange::{SheetInput, sheet_example, work_out};

use crate::line::{witnessmark, witnessmark_given};

#[test]
fn the_list_names_key_title_edition_and_purpose() {
    let ran = witnessmark(&["sheet", "--list"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let lines: Vec<&str> = ran.out.lines().collect();
    assert_eq!(lines.len(), 1 + SheetKey::ALL.len());
    for (line, key) in lines.iter().skip(1).zip(SheetKey::ALL) {
        let of = witnessmark::sheets::sheet(key);
        assert!(line.starts_with(key.key()) && line.contains(of.title) && line.ends_with(of.purpose), "{line}");
    }
}

/// What an example prints, worked out by the binary, is what the library finds.
#[test]
fn every_example_runs() {
    for key in SheetKey::ALL {
        let example = witnessmark(&["sheet", key.key(), "--example"]);
        assert_eq!((example.code, example.out.as_str()), (0, sheet_example(key)));
        let ran = witnessmark_given(&["sheet", key.key()], &example.out);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""));
        let input = SheetInput::read(&example.out).unwrap_or_else(|faults| panic!("{faults:?}"));
        assert_eq!(ran.out, serde_json::to_string_pretty(&work_out(key, &input)).expect("JSON") + "\n");
    }
}

#[test]
fn faults_go_to_standard_error_and_nothing_to_standard_output() {
    let ran = witnessmark_given(&["sheet", "main-bearings"], r#"{"format": 1, "engine": {"mains": 5}, "colour": 1}"#);
    assert_eq!((ran.code, ran.out.as_str()), (1, ""));
    for said in ["witnessmark: engine: missing field", "witnessmark: settings: is missing", "witnessmark: colour: "] {
        assert!(ran.err.contains(said), "{said} in {}", ran.err);
    }
    assert_eq!(witnessmark_given(&["sheet", "pistons"], "{").code, 1);
}

#[test]
fn wrong_use() {
    for arguments in [
        &["sheet"][..],
        &["sheet", "valves"],
        &["sheet", "--example"],
        &["sheet", "pistons", "--list"],
        &["sheet", "pistons", "--wide"],
    ] {
        let ran = witnessmark(arguments);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{arguments:?}");
    }
    assert!(witnessmark(&["sheet", "valves"]).err.contains("pistons, press-fits, cylinder-bores, rings"));
}

/// The example's mains by nominal halves; then from a shelf too small for them.
#[test]
fn what_can_be_chosen_is_worked_out_from_the_same_input() {
    let example = sheet_example(SheetKey::MainBearings);
    let ran = witnessmark_given(&["sheet", "main-bearings", "--choose"], example);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let found: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    assert_eq!(found["title"], "Choose shells");
    assert_eq!(found["choices"][0]["places"].as_array().map(Vec::len), Some(7));
    assert_eq!(found["choices"][0]["places"][0]["place"], "main.0");
    let few = witnessmark_given(&["sheet", "main-bearings", "--choose", "0.0957"], example);
    assert_eq!((few.code, few.out.as_str()), (1, ""));
    let nothing = witnessmark_given(&["sheet", "motion", "--choose"], sheet_example(SheetKey::Motion));
    assert!(nothing.code == 1 && nothing.err.contains("nothing is chosen on Motion and load"), "{}", nothing.err);
}
