//! A sheet's input as a document: read whole, every fault named at once with its path.

use serde_json::{Value, json};
use witnessmark::engine::SheetKey;
use witnessmark::exchange::{SheetInput, SheetResult, sheet_example, work_out};
use witnessmark::sheets::{Basis, Standing};

use crate::bench::{THOU, close};

fn engine() -> Value {
    json!({ "layout": "inline", "cylinders": 4, "mains": 5 })
}

fn with(readings: &Value) -> Value {
    json!({ "format": 1, "engine": engine(), "settings": { "unit": "inch" }, "readings": readings })
}

#[track_caller]
fn bearings(input: &Value) -> SheetResult {
    worked(SheetKey::MainBearings, input)
}

#[track_caller]
fn worked(key: SheetKey, input: &Value) -> SheetResult {
    let input = SheetInput::read(&input.to_string()).unwrap_or_else(|faults| panic!("{faults:?}"));
    work_out(key, &input)
}

#[track_caller]
fn faults(text: &str) -> Vec<String> {
    let Err(faults) = SheetInput::read(text) else { panic!("read without a fault") };
    faults.iter().map(ToString::to_string).collect()
}

/// That there is a fault at each path which says so, and no other.
#[track_caller]
fn refused(input: &Value, expected: &[(&str, &str)]) {
    let faults = faults(&input.to_string());
    for (path, says) in expected {
        let found = faults.iter().find(|fault| fault.starts_with(&format!("{path}: ")));
        assert!(found.is_some_and(|fault| fault.contains(says)), "no “{says}” at {path} in {faults:#?}");
    }
    assert_eq!(faults.len(), expected.len(), "{faults:#?}");
}

#[test]
fn every_example_is_complete() {
    for key in SheetKey::ALL {
        let text = sheet_example(key);
        let document: Value = serde_json::from_str(text).expect("JSON");
        for field in ["format", "engine", "items", "settings", "gauges", "limits", "readings"] {
            assert!(document.get(field).is_some(), "{} shows no {field}", key.key());
        }
        let result = worked(key, &document);
        for finding in &result.findings {
            assert_ne!(finding.standing, Standing::Missing, "{}: {}", key.key(), finding.key);
        }
        assert!(result.findings.iter().any(|finding| finding.limit.is_some()), "{}", key.key());
        assert!(result.odd.is_empty(), "{}: {:?}", key.key(), result.odd);
    }
}

/// Together the examples show every field there is.
#[test]
fn the_examples_show_every_field() {
    let all: String = SheetKey::ALL.into_iter().map(sheet_example).collect();
    let fields = [
        "layout",
        "cylinders",
        "mains",
        "numbering",
        "firing_order",
        "block_material",
        "targets",
        "feature",
        "place",
        "value",
        "kind",
        "serial",
        "note",
        "unit",
        "rule",
        "rounds",
        "name",
        "step",
        "settings",
        "zeroed_on",
        "set_to",
        "finding",
        "min",
        "max",
        "condition",
        "source",
        "slot",
        "round",
        "take",
        "gauge_setting",
        "temperature",
    ];
    for field in fields {
        assert!(all.contains(&format!("\"{field}\":")), "{field}");
    }
}

#[test]
fn a_reading_becomes_a_finding_with_all_that_is_known_of_it() {
    let mut input =
        with(&json!([{ "slot": "main-clearance-vertical@main.0", "value": "2.5 thou", "condition": "dry" }]));
    input["limits"] =
        json!([{ "finding": "main-clearance-vertical", "min": "2", "max": "3.0 thou", "source": "ours" }]);
    let result = serde_json::to_value(bearings(&input)).expect("JSON");
    let finding = &result["findings"][0];
    assert_eq!(finding["key"], "main-clearance-vertical@main.0");
    assert_eq!((&finding["place"], &finding["unit"], &finding["k"]), (&json!("main 1"), &json!("m"), &json!(2.0)));
    close(finding["value"].as_f64().expect("a value"), 2.5 * THOU, 1e-15);
    // √(1.3² + 1.5² + 2.54²/12) µm.
    close(finding["u"].as_f64().expect("u"), 2.116_042e-6, 1e-11);
    close(finding["U"].as_f64().expect("U"), 4.232_084e-6, 1e-11);
    close(finding["limit"]["min"].as_f64().expect("a limit"), 2.0 * THOU, 1e-15);
    assert_eq!(finding["limit"]["source"], "ours");
    assert_eq!((&finding["verdict"], &finding["standing"]), (&json!("good"), &json!("good")));
    assert_eq!(finding["working"], json!(["read 2.5\u{a0}thou with the gauge zeroed on the journal"]));
    assert_eq!((&finding["readings"], &finding["conditions"]), (&json!(["readings[0]"]), &json!(["dry"])));
    let missing = &result["findings"][1];
    assert_eq!((&missing["standing"], &missing["missing"]), (&json!("missing"), &json!("clearance of main 2")));
    assert!(missing["value"].is_null() && missing["U"].is_null() && missing["verdict"].is_null());
}

#[test]
fn the_three_depths() {
    let result = bearings(&with(&json!([
        { "slot": "main-clearance@mains", "value": "2.5–2.8 thou" },
        { "slot": "main-clearance@main.1", "value": "checked: turns by hand" },
        { "slot": "main-clearance-vertical@main.2", "value": "2.6" },
    ])));
    let basis = |place| {
        let key = format!("main-clearance-vertical@{place}");
        result.findings.iter().find(|finding| finding.key.to_string() == key).expect("a finding").basis.clone()
    };
    assert_eq!(basis("main.0"), Basis::Stated);
    assert_eq!(basis("main.1"), Basis::Checked { how: "turns by hand".into() });
    assert_eq!(basis("main.2"), Basis::Readings);
}

#[test]
fn a_bare_deviation_goes_by_its_gauge_and_what_it_was_set_to() {
    let mut input = with(&json!([
        { "slot": "main-shell-bore-vertical@main.0", "value": "+2", "gauge_setting": "tenths" },
        { "slot": "main-journal-front-0@main.0", "value": "-1", "gauge_setting": "thou" },
    ]));
    let setting = |name| json!([{ "name": name, "zeroed_on": "a ring", "set_to": "2.5000 in" }]);
    input["gauges"] = json!([
        { "name": "a", "kind": "bore_gauge", "step": "tenth", "settings": setting("tenths") },
        { "name": "b", "kind": "outside_micrometer", "settings": setting("thou") },
    ]);
    let clearance = bearings(&input).findings[0].value.expect("a clearance");
    close(clearance, 1.2 * THOU, 1e-12);
}

/// Two settings of one gauge do not share an error; one does.
#[test]
fn readings_of_one_setting_share_its_error() {
    let read = |second| {
        let mut input = with(&json!([
            { "slot": "bore-top-thrust@cylinder.0.0", "value": "4.3775", "gauge_setting": "morning" },
            { "slot": "bore-top-pin@cylinder.0.0", "value": "4.3765", "gauge_setting": second },
        ]));
        let settings = json!([{ "name": "morning", "zeroed_on": "ring" }, { "name": "evening", "zeroed_on": "ring" }]);
        input["gauges"] = json!([{ "name": "bore gauge", "kind": "bore_gauge", "settings": settings }]);
        let result = worked(SheetKey::CylinderBores, &input);
        let key = "bore-out-of-round@cylinder.0.0";
        result.findings.iter().find(|finding| finding.key.to_string() == key).and_then(|finding| finding.u)
    };
    let (one, two) = (read("morning").expect("u"), read("evening").expect("u"));
    close(two * two - one * one, 2.0 * 1.5e-6 * 1.5e-6, 1e-17);
}

#[test]
fn the_round_named_last_counts_unless_another_is_chosen() {
    let mut input = with(&json!([
        { "slot": "main-clearance-vertical@main.0", "value": "1.5", "round": "trial" },
        { "slot": "main-clearance-vertical@main.0", "value": "2.5", "round": "final" },
        { "slot": "skirt@cylinder.0.0", "value": "4.3725", "round": "received" },
    ]));
    let value = |input: &Value| bearings(input).findings[0].value.expect("a clearance");
    close(value(&input), 2.5 * THOU, 1e-15);
    assert_eq!(bearings(&input).rounds["pistons"], "received");
    input["settings"]["rounds"] = json!({ "main-bearings": "trial" });
    close(value(&input), 1.5 * THOU, 1e-15);
    input["settings"]["rounds"] = json!({ "main-bearings": "second trial", "valves": "x" });
    refused(
        &input,
        &[
            ("settings.rounds.main-bearings", "no reading is of round “second trial”"),
            (
                "settings.rounds.valves",
                "is no sheet: write block, crankshaft, rods, pistons, press-fits, cylinder-bores",
            ),
        ],
    );
}

/// Takes are joined in their own order, not in the order they stand: the latest check goes before earlier figures.
#[test]
fn takes_go_by_their_number() {
    let result = bearings(&with(&json!([
        { "slot": "main-clearance@main.0", "value": "checked: by hand", "take": 1 },
        { "slot": "main-clearance@main.0", "value": "2.4", "take": 3 },
        { "slot": "main-clearance@main.0", "value": "2.6", "take": 2 },
    ])));
    assert_eq!(result.findings[0].readings, ["readings[2]", "readings[1]"]);
    close(result.findings[0].value.expect("the mean"), 2.5 * THOU, 1e-12);
    refused(
        &with(&json!([
            { "slot": "main-clearance@main.0", "value": "2.4" },
            { "slot": "main-clearance@main.0", "value": "2.6", "take": 1 },
        ])),
        &[("readings[1].take", "take 1 of this slot and round is there already")],
    );
}

#[test]
fn what_looks_odd_is_told_and_worked_with_all_the_same() {
    let result = bearings(&with(&json!([
        { "slot": "main-clearance-vertical@main.0", "value": "2.5" },
        { "slot": "main-clearance-vertical@main.1", "value": "2.6" },
        { "slot": "main-clearance-vertical@main.2", "value": "26" },
    ])));
    let odd: Vec<(&str, &str)> = result.odd.iter().map(|odd| (&*odd.reading, &*odd.from)).collect();
    assert_eq!(odd, [("readings[2]", "its neighbours")]);
    close(result.findings[2].value.expect("a value"), 26.0 * THOU, 1e-12);
}

#[test]
fn what_is_no_document() {
    assert!(faults("").iter().any(|fault| fault.contains("line 1")));
    assert!(faults("{ \"format\": 1, }").iter().any(|fault| fault.contains("column")));
    assert!(faults("[]")[0].contains("expected a map"));
    let missing = faults("{}");
    assert_eq!(missing, ["format: is missing", "engine: is missing", "settings: is missing"]);
}

#[test]
fn another_format_is_refused() {
    let mut input = with(&json!([]));
    input["format"] = json!(2);
    refused(&input, &[("format", "2 is not known here: write 1")]);
}

/// Unknown fields are refused by name wherever they stand, and one fault does not hide another.
#[test]
fn every_fault_at_once() {
    let mut input = with(&json!([
        { "slot": "main-clearance-vertical@main.0", "value": "2.5", "tool": "gauge" },
        { "slot": "main-clearance-vertical@main.9", "value": "2.5" },
        { "slot": "main-clearance-vertical@main.1", "value": "2.5 N·m" },
        { "slot": "main-clearance-vertical@main.2", "value": "-1" },
        { "slot": "main-clearance-vertical@main.3", "value": "2.5 to 2.8" },
        { "slot": "bore-top-pin@cylinder.0.0", "value": "checked: by eye" },
        { "slot": "main-clearance@mains", "value": "checked" },
        { "slot": "skirt@cylinder.0.0", "value": "4.3725", "temperature": "400 °C", "gauge_setting": "none such" },
        { "slot": "skirt@cylinder.0.1", "value": 4.3725 },
    ]));
    input["colour"] = json!("blue");
    input["engine"]["targets"] = json!([
        { "feature": "bore", "value": "4.375 s" },
        { "feature": "bore", "place": "main.0", "value": "4.375" },
    ]);
    input["items"] = json!([{ "kind": "piston", "place": "cylinder.0.7" }, { "kind": "wheel" }]);
    input["gauges"] = json!([
        { "name": " ", "kind": "bore_gauge", "step": "inch", "settings": [{ "name": "a", "zeroed_on": "" }] },
        { "name": "b", "kind": "bore_gauge", "settings": [{ "name": "a", "zeroed_on": "ring", "set_to": "2–3" }] },
        { "name": "c", "kind": "eye" },
    ]);
    input["limits"] = json!([
        { "finding": "main-routes", "max": "1" },
        { "finding": "bore-size", "min": "4.38", "max": "4.37" },
        { "finding": "bore-taper", "kind": "per_diameter", "max": "1" },
        { "finding": "bore-taper" },
        { "finding": "bore-taper", "place": "main.0", "max": "much" },
    ]);
    refused(
        &input,
        &[
            ("colour", "unknown field; known are format, engine"),
            ("engine.targets[0].value", "4.375 s"),
            ("engine.targets[1].place", "is no place of this target"),
            ("items[0].place", "is not on this engine"),
            ("items[1]", "unknown variant `wheel`"),
            ("gauges[0].name", "say what the gauge is called"),
            ("gauges[0].step", "write thou, tenth, micrometre"),
            ("gauges[0].settings[0].zeroed_on", "say what it was zeroed on"),
            ("gauges[1].settings[0].set_to", "one figure belongs here"),
            ("gauges[1].settings[0].name", "another setting has this name"),
            ("gauges[2]", "unknown variant `eye`"),
            ("limits[0].finding", "no limit can be set on this"),
            ("limits[1]", "the lowest figure is above the highest"),
            ("limits[2]", "belongs to a bearing’s clearance"),
            ("limits[3]", "enter a lowest figure, a highest, or both"),
            ("limits[4].place", "is no place of this finding"),
            ("limits[4].max", "is no number"),
            ("readings[0]", "unknown field `tool`"),
            ("readings[1].slot", "“main-clearance-vertical@main.9” is no reading of this engine"),
            ("readings[2].value", "a torque"),
            ("readings[3].value", "it cannot be below zero"),
            ("readings[4].value", "a range is given for a place as a whole"),
            ("readings[5].value", "“checked” is said of a place as a whole"),
            ("readings[6].value", "say how it was checked"),
            ("readings[7].temperature", "no temperature of a part in a workshop"),
            ("readings[7].gauge_setting", "no gauge has a setting “none such”"),
            ("readings[8]", "expected a string"),
        ],
    );
}

#[test]
fn an_engine_that_cannot_be_is_named_by_its_field() {
    for (field, value, says) in [
        ("cylinders", json!(17), "between 1 and 16"),
        ("mains", json!(0), "between 1 and 17"),
        ("numbering", json!([1, 2, 3, 3]), "lists each cylinder once"),
        ("firing_order", json!([1, 3, 4]), "1-3-4-2"),
    ] {
        let mut input = with(&json!([]));
        input["engine"][field] = value;
        refused(&input, &[(&format!("engine.{field}"), says)]);
    }
    let mut input = with(&json!([]));
    input["engine"]["colour"] = json!("red");
    refused(&input, &[("engine", "unknown field `colour`")]);
}
