//! Runs the real binary.

use std::io::Write;
use std::process::{Command, Stdio};

/// What became of a run.
pub struct Ran {
    pub code: i32,
    pub out: String,
    pub err: String,
}

pub fn witnessmark(arguments: &[&str]) -> Ran {
    witnessmark_given(arguments, "")
}

pub fn witnessmark_given(arguments: &[&str], input: &str) -> Ran {
    let mut child = Command::new(env!("CARGO_BIN_EXE_witnessmark"))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the binary");
    // It may end without reading what it was given.
    let _ = child.stdin.take().expect("its input").write_all(input.as_bytes());
    let done = child.wait_with_output().expect("its output");
    let text = |bytes| String::from_utf8(bytes).expect("UTF-8");
    Ran { code: done.status.code().expect("an exit code"), out: text(done.stdout), err: text(done.stderr) }
}

#[test]
fn without_a_command_it_is_wrong_use() {
    let ran = witnessmark(&[]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(ran.err.contains("Usage: witnessmark"), "{}", ran.err);
}

#[test]
fn an_unknown_command_is_wrong_use() {
    let ran = witnessmark(&["weld"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("weld"), "{}", ran.err);
}

#[test]
fn help_names_every_command_and_the_exit_codes() {
    let ran = witnessmark(&["--help"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    for said in ["demo", "serve", "sheet", "card", "export", "0 done, 1 failed, 2 wrong use"] {
        assert!(ran.out.contains(said), "{said} in {}", ran.out);
    }
    assert!(witnessmark(&["--version"]).out.starts_with("witnessmark "));
}

#[test]
fn help_of_each_command_shows_an_example() {
    for command in ["demo", "serve", "sheet", "card", "export"] {
        let ran = witnessmark(&[command, "--help"]);
        assert_eq!(ran.code, 0, "{command}");
        let example = ran.out.split("Example:").nth(1).unwrap_or_else(|| panic!("{command}: {}", ran.out));
        assert!(example.trim_start().starts_with(&format!("witnessmark {command}")), "{example}");
    }
}
