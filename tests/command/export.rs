//! `witnessmark export`: the whole job as one document.

use serde_json::{Value, json};
use sha2::{Digest, Sha256};

use crate::kept::{HAND, Kept, PHONE, SESSION};
use crate::line::witnessmark;

fn exported(kept: &Kept) -> (Value, String) {
    let ran = witnessmark(&["export", "1", "--data", kept.data()]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    (serde_json::from_str(&ran.out).expect("JSON"), ran.out)
}

#[test]
fn everything_of_a_job_is_in_it() {
    let kept = Kept::with_a_job();
    let (job, _) = exported(&kept);
    assert_eq!((&job["format"], &job["job"], &job["title"]), (&json!(1), &json!(1), &json!("Inline four")));
    assert_eq!((&job["unit"], &job["rule"], &job["engine"]["mains"]), (&json!("inch"), &json!("simple"), &json!(5)));
    assert!(job["items"].as_array().is_some_and(|items| items.iter().any(|item| item["kind"] == "crank")));

    let limits = job["limits"].as_array().expect("limits");
    assert_eq!(limits.len(), 1, "only the newest holds: {limits:?}");
    let reasons: Vec<&Value> = job["limits_past"].as_array().expect("limits").iter().map(|l| &l["reason"]).collect();
    assert_eq!(reasons, ["up to 2.8", "up to 2.6"]);

    let readings = job["readings"].as_array().expect("readings");
    let states: Vec<(&Value, &Value, &Value)> =
        readings.iter().map(|r| (&r["typed"], &r["state"], &r["corrects"])).collect();
    assert_eq!(
        states,
        [
            (&json!("+2"), &json!("stands"), &Value::Null),
            (&json!("3.1"), &json!("corrected"), &Value::Null),
            (&json!("3.2"), &json!("stands"), &json!(2)),
        ]
    );
    assert_eq!((&readings[2]["why"], &readings[2]["taken"]["by"]), (&json!("read upside down"), &json!(HAND)));
    // 4.3770 in and two tenths.
    assert!((readings[0]["figure"].as_f64().expect("a figure") - 4.3772 * 0.0254).abs() < 1e-12);

    let setting = job["gauge_settings"].as_array().expect("settings").iter().find(|s| s["typed"] == "4.3770");
    let setting = setting.expect("the one of the ring");
    assert_eq!(readings[0]["gauge_setting"], setting["id"]);
    assert_eq!(setting["zeroed_on"], "4.3770 in ring");
    let gauge = job["gauges"].as_array().expect("gauges").iter().find(|gauge| gauge["id"] == setting["gauge"]);
    assert_eq!(gauge.expect("it was used")["name"], "bore gauge 2");

    let check_in = &job["steps"][0];
    assert_eq!((&check_in["key"], &check_in["signed"][0]["signed"]["by"]), (&json!("check-in"), &json!(HAND)));
    assert!(check_in["signed"][0]["seen"].is_object(), "what was seen stands as it was kept");
    assert_eq!(job["stopped"][0]["stopped_at"], "main cap 3");
    assert_eq!((&job["notes"][1]["step"], &job["files"][1]["name"]), (&json!("check-in"), &json!("cap3.jpg")));
    assert_eq!((&job["calls"][0]["because"], &job["cards"][0]["number"]), (&json!("the pump is larger"), &json!(1)));
}

/// What lets a tablet in stays at home.
#[test]
fn neither_pin_nor_sessions_leave_with_a_job() {
    let kept = Kept::with_a_job();
    let record = std::fs::read(std::path::Path::new(kept.data()).join("record.db")).expect("the record");
    let (_, text) = exported(&kept);
    for secret in ["$argon2", SESSION, "Bench by the window"] {
        assert!(record.windows(secret.len()).any(|part| part == secret.as_bytes()), "{secret} is in the record");
        assert!(!text.contains(secret), "{secret}");
    }
}

/// What was withdrawn is in the document too, and says so; on the job's page it is not.
#[test]
fn withdrawn_notes_and_files_say_who_withdrew_them_and_when() {
    let kept = Kept::with_a_job();
    let (job, _) = exported(&kept);
    for (kind, said, withdrawn, stands) in [
        ("notes", "text", "Of another engine.", "Cap 3 sits proud on the left."),
        ("files", "name", "cap4.jpg", "cap3.jpg"),
    ] {
        let of_kind = job[kind].as_array().expect(kind);
        let one = |text: &str| of_kind.iter().find(|out| out[said] == text).unwrap_or_else(|| panic!("{of_kind:?}"));
        assert_eq!(of_kind.len(), 2);
        assert_eq!(one(stands)["withdrawn"], Value::Null);
        assert_eq!(one(withdrawn)["withdrawn"]["by"], HAND);
        assert!(one(withdrawn)["withdrawn"]["at"].as_str().is_some_and(|at| at.starts_with("2026-03-02T08:")));
    }
}

/// A file is named by its digest, under which its bytes lie in the folder.
#[test]
fn files_are_named_by_their_digest() {
    let kept = Kept::with_a_job();
    let (job, _) = exported(&kept);
    for sha256 in [&job["files"][0]["sha256"], &job["cards"][0]["sha256"]] {
        let sha256 = sha256.as_str().expect("a digest");
        let path = std::path::Path::new(kept.data()).join("files").join(&sha256[..2]).join(sha256);
        let bytes = std::fs::read(&path).unwrap_or_else(|why| panic!("{}: {why}", path.display()));
        let digest: Vec<String> = Sha256::digest(&bytes).iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(digest.concat(), sha256);
    }
}

/// People by public id and name; nothing else of them.
#[test]
fn people_by_id_and_name_only() {
    let kept = Kept::with_a_job();
    let (job, text) = exported(&kept);
    assert_eq!(job["people"], json!([{ "id": kept.hand, "name": HAND }]));
    assert_eq!(job["customer"]["name"], "R. Quill");
    assert!(!text.contains(PHONE) && !text.contains("555 0199"), "a telephone number");
}

#[test]
fn the_same_record_gives_the_same_document() {
    let kept = Kept::with_a_job();
    assert_eq!(exported(&kept).1, exported(&kept).1);
}

#[test]
fn an_unknown_job_or_folder_fails_and_begins_nothing() {
    let kept = Kept::with_a_job();
    let ran = witnessmark(&["export", "77", "--data", kept.data()]);
    assert_eq!((ran.code, ran.out.as_str()), (1, ""));
    assert!(ran.err.contains("there is no job 77"), "{}", ran.err);
    let empty = tempfile::tempdir().expect("a folder");
    let elsewhere = empty.path().join("nothing");
    let ran = witnessmark(&["export", "1", "--data", elsewhere.to_str().expect("UTF-8")]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("there is no record in"), "{}", ran.err);
    assert!(!elsewhere.exists(), "nothing was begun");
    assert_eq!(witnessmark(&["export", "one"]).code, 2);
}

/// Every table of the record that a job's document says something of: where it stands, and whether the job of these tests fills it.
const IN_THE_DOCUMENT: [(&str, &str, bool); 29] = [
    ("person", "people", true),
    ("engine", "engine", true),
    ("build", "job", true),
    ("item", "items", true),
    ("fitting", "items", true),
    ("target", "targets", false),
    ("limit_on_finding", "limits_past", true),
    ("step", "steps", true),
    ("step_after", "steps", true),
    ("step_sheet", "steps", true),
    ("round", "rounds", true),
    ("gauge", "gauges", true),
    ("gauge_setting", "gauge_settings", true),
    ("reading", "readings", true),
    ("note", "notes", true),
    ("file", "files", true),
    ("attachment", "files", true),
    ("stop_mark", "stopped", true),
    ("sign_off", "steps", true),
    ("acceptance", "calls", true),
    ("fact", "facts", false),
    ("card_issue", "cards", true),
    ("tightening", "tightened", true),
    ("recheck", "rechecks", true),
    ("second_reading", "second_readings", true),
    ("second_check", "steps", true),
    ("supplier", "suppliers", false),
    ("ending", "endings", true),
    ("ending_thing", "endings", true),
];

/// Those that it says something of and that the job of these tests leaves empty, or that stand within others.
const WITHIN: [(&str, &str); 39] = [
    ("part", "parts"),
    ("part_move", "parts"),
    ("made_size", "parts"),
    ("made_reading", "parts"),
    ("part_carried", "parts"),
    ("part_looked_at", "parts"),
    ("sending", "sent_out"),
    ("sending_asked", "sent_out"),
    ("change_made", "changes"),
    ("change_checked", "changes"),
    ("wait", "waits"),
    ("step_hours", "hours"),
    ("promise", "promises"),
    ("decision", "decisions"),
    ("set_answer", "set_answers"),
    ("expansion", "expansions"),
    ("study", "gauges"),
    ("study_person", "gauges"),
    ("study_reading", "gauges"),
    ("tax_rate", "tax_rates"),
    ("worked", "time_worked"),
    ("work_clock", "clocks"),
    ("quote_line", "quote"),
    ("quote_terms", "quote"),
    ("quote_answer", "quote"),
    ("agreed_change", "agreed_changes"),
    ("agreed_change_answer", "agreed_changes"),
    ("charge_line", "charges"),
    ("charge_line_worked", "charges"),
    ("discount", "discounts"),
    ("deposit_asked", "deposits_asked"),
    ("payment", "payments"),
    ("invoice", "invoices"),
    ("invoice_line", "invoices"),
    ("invoice_discount", "invoices"),
    ("thing_gone", "endings"),
    ("storage_span", "storage"),
    ("settlement", "settlements"),
    ("core_fate", "cores"),
];

/// Tables that a job's document leaves out, and why.
const LEFT_OUT: [(&str, &str); 16] = [
    ("inspection_point", "the shop's, of no single job"),
    ("family_change", "as its family"),
    ("closed_day", "the shop's, of no single job"),
    ("act", "who did what when stands beside everything that was done"),
    ("history", "what a row was before it changed is the record's own; what was read or said is never changed"),
    ("setting", "the shop's, of no single job"),
    ("shop_pin", "the shop's door, of no job"),
    ("tablet", "the shop's door, of no job"),
    ("family", "of many jobs; what this one took from it stands in its targets, limits and steps"),
    ("family_target", "as its family"),
    ("family_limit", "as its family"),
    ("family_step", "as its family"),
    ("family_second_reading", "as its family"),
    ("card_preset", "the shop's, of no single job"),
    ("card_choice", "how a card was set up; the card as issued stands in its file"),
    ("_sqlx_migrations", "how far the tables have come"),
];

/// A table made later is in the document, or somebody says here why it is not.
#[test]
fn every_table_is_in_it_or_left_out_for_a_reason() {
    let kept = Kept::with_a_job();
    let (job, _) = exported(&kept);
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("migrations");
    let mut made = vec!["_sqlx_migrations".to_owned()];
    for entry in std::fs::read_dir(folder).expect("migrations") {
        let sql = std::fs::read_to_string(entry.expect("a file").path()).expect("SQL");
        let tables = sql.lines().filter_map(|line| line.strip_prefix("CREATE TABLE ")?.split([' ', '(']).next());
        made.extend(tables.map(str::to_owned));
    }
    let mut said: Vec<&str> = IN_THE_DOCUMENT.iter().map(|(table, ..)| *table).collect();
    said.extend(WITHIN.iter().map(|(table, _)| *table).chain(LEFT_OUT.iter().map(|(table, _)| *table)));
    said.sort_unstable();
    made.sort_unstable();
    assert_eq!(said, made, "each table once, in one of the lists above");
    let is_empty = |value: &Value| value.as_array().is_some_and(Vec::is_empty);
    for (table, key, filled) in IN_THE_DOCUMENT {
        assert!(!job[key].is_null() && (!filled || !is_empty(&job[key])), "{table}: {key}");
    }
    for (table, key) in WITHIN {
        assert!(!job[key].is_null(), "{table}: {key}");
    }
    assert!(LEFT_OUT.iter().all(|(_, why)| !why.is_empty()));
}

#[test]
fn what_was_taken_back_or_gone_on_with_says_so() {
    let kept = Kept::with_a_job();
    let (job, _) = exported(&kept);
    let resumed = job["stopped"].as_array().expect("marks").iter().find(|mark| mark["stopped_at"] == "head gasket");
    assert_eq!(resumed.expect("the one resumed")["resumed"]["by"], HAND);
    assert_eq!(job["stopped"][0]["resumed"], Value::Null);
    let calls = job["calls"].as_array().expect("calls");
    assert_eq!(calls.len(), 2);
    assert_eq!((&calls[0]["withdrawn"], &calls[1]["withdrawn"]["by"]), (&Value::Null, &json!(HAND)));
}

#[test]
fn gauges_have_their_papers_and_studies() {
    let kept = Kept::with_a_job();
    let (job, _) = exported(&kept);
    let gauge = job["gauges"].as_array().expect("gauges").iter().find(|gauge| gauge["name"] == "bore gauge 2");
    let gauge = gauge.expect("it was used");
    assert_eq!((&gauge["due"], &gauge["studies"][0]["measured"]), (&json!("2027-01-31"), &json!("ring, 4.377 in")));
    assert!((gauge["resolution"].as_f64().expect("a step") - 2.54e-6).abs() < 1e-12);
    let read = &gauge["studies"][0]["readings"][0];
    assert_eq!((&read["part"], &read["person"], &read["trial"]), (&json!(1), &json!(1), &json!(1)));
    assert_eq!(gauge["studies"][0]["people"], json!([HAND]));
}

#[test]
fn what_was_said_at_once_is_in_it_typed() {
    let kept = Kept::with_a_job();
    let (job, _) = exported(&kept);
    let caps = &job["tightened"][0];
    assert_eq!(
        (&caps["fasteners"], &caps["step_count"], &caps["in_order"]),
        (&json!("main caps"), &json!(3), &json!(true))
    );
    // 70 lbf·ft.
    assert!((caps["steps"][2]["si"].as_f64().expect("N·m") - 94.907_256).abs() < 1e-5);
    assert_eq!(caps["exceptions"][0]["words"], "thread pulled");
    let again = &job["rechecks"][0];
    assert_eq!((&again["place"], &again["said"]["by"]), (&Value::Null, &json!(HAND)));
    let second = &job["second_readings"][0];
    assert_eq!((&second["feature"], &second["wanted"]), (&json!("skirt"), &json!(true)));
}

#[test]
fn an_ending_says_what_went_where() {
    let kept = Kept::with_a_job();
    let (job, _) = exported(&kept);
    let ending = &job["endings"][0];
    assert_eq!((&ending["kind"], &ending["withdrawn"]), (&json!("cancelled"), &json!(true)));
    let block = ending["things"].as_array().expect("things").iter().find(|thing| thing["what"] == "block");
    assert_eq!(block.expect("it goes too")["whither"], "customer");
    assert!(job["items"].as_array().expect("items").iter().any(|item| item["id"] == block.expect("it")["item"]));
}
