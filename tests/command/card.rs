//! `witnessmark card`: the spec card as a PDF.

use crate::kept::Kept;
use crate::line::witnessmark;

#[test]
fn a_card_is_written_for_each_reader() {
    let kept = Kept::with_a_job();
    let out = tempfile::tempdir().expect("a folder");
    let write = |reader: &str| {
        let file = out.path().join(format!("{reader}.pdf"));
        let to = file.to_str().expect("UTF-8");
        let ran = witnessmark(&["card", "1", "--data", kept.data(), "--for", reader, "--out", to]);
        assert_eq!((ran.code, ran.out.as_str(), ran.err.as_str()), (0, "", ""));
        std::fs::read(file).expect("a card")
    };
    let cards = ["owner", "tuner", "shop"].map(write);
    assert!(cards.iter().all(|card| card.starts_with(b"%PDF-1.")));
    assert_ne!(cards[0], cards[2], "the shop's card shows more");
}

#[test]
fn what_cannot_be_written_fails() {
    let kept = Kept::with_a_job();
    let ran = witnessmark(&["card", "1", "--data", kept.data(), "--out", "/nowhere/at/all.pdf"]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("cannot write /nowhere/at/all.pdf"), "{}", ran.err);
    let ran = witnessmark(&["card", "8", "--data", kept.data(), "--out", "/nowhere/at/all.pdf"]);
    assert!(ran.code == 1 && ran.err.contains("there is no job 8"), "{}", ran.err);
}

#[test]
fn wrong_use() {
    for arguments in [&["card"][..], &["card", "1"], &["card", "1", "--out", "x.pdf", "--for", "press"]] {
        assert_eq!(witnessmark(arguments).code, 2, "{arguments:?}");
    }
}
