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
