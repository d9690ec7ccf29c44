//! One reading's page: corrected, withdrawn, moved; what stays of it, and what is refused.

use crate::shop::House;

const PAGE: &str = "/jobs/1/readings/1";
const SLOT: &str = "main-clearance-vertical@main.1";

async fn with_a_reading() -> House {
    let house = House::with_a_job().await;
    house.take(1, SLOT, "2.4").await;
    house
}

#[tokio::test]
async fn a_reading_has_a_page() {
    let house = with_a_reading().await;
    let page = house.see(PAGE).await;
    assert_eq!(page.status, 200);
    for words in
        ["<h1>main 2, clearance, vertical</h1>", "2.4\u{a0}thou", "61\u{a0}µm", "as received, round 1", "today"]
    {
        assert!(page.text.contains(words), "{words}: {}", page.text);
    }
    for address in ["/jobs/1/readings/2", "/jobs/9/readings/1", "/jobs/1/readings/x", "/jobs/1/readings/0"] {
        assert_eq!(house.see(address).await.status, 404, "{address}");
    }
    for act in ["correct", "choose", "withdraw", "move"] {
        let fields = [("value", "2.5"), ("why", "x"), ("to", "1")];
        assert_eq!(house.send(&format!("/jobs/1/readings/9/{act}"), &fields).await.status, 404, "{act}");
    }
}

#[tokio::test]
async fn a_correction_strikes_the_old_figure_and_keeps_it() {
    let house = with_a_reading().await;
    let refused = house.send(&format!("{PAGE}/correct"), &[("value", "many <b>"), ("why", "")]).await;
    assert_eq!(refused.status, 422);
    for field in ["value", "why"] {
        assert!(refused.text.contains(&format!("<a href=\"#field-{field}\">")), "{field}: {}", refused.text);
    }
    assert!(refused.text.contains("value=\"many &#60;b&#62;\""), "what was typed is kept: {}", refused.text);
    let done = house.send(&format!("{PAGE}/correct"), &[("value", "2.6"), ("why", "thimble <misread>")]).await;
    assert_eq!(done.header("location"), format!("/jobs/1/sheets/main-bearings?at=main.1#slot-{SLOT}"));
    let sheet = house.see("/jobs/1/sheets/main-bearings?at=main.1").await.text;
    assert!(sheet.contains("<del>2.4\u{a0}thou</del>") && sheet.contains("thimble &#60;misread&#62;"), "{sheet}");
    let old = house.see(PAGE).await.text;
    assert!(old.contains("<del>2.4\u{a0}thou</del>") && !old.contains("/correct\""), "{old}");
    let new = house.see("/jobs/1/readings/2").await.text;
    assert!(new.contains("href=\"/jobs/1/readings/1\"") && new.contains("thimble &#60;misread&#62;"), "{new}");
    let late = house.send(&format!("{PAGE}/correct"), &[("value", "2.9"), ("why", "again")]).await;
    assert_eq!(late.status, 409);
    assert!(late.text.contains("2.6\u{a0}thou") && late.text.contains("2.9"), "both texts: {}", late.text);
}

#[tokio::test]
async fn an_odd_correction_is_asked_about_once() {
    let house = with_a_reading().await;
    house.take(1, "main-clearance-vertical@main.2", "2.5").await;
    house.take(1, "main-clearance-vertical@main.3", "2.4").await;
    let fields = [("value", "25"), ("why", "read again")];
    let asked = house.send(&format!("{PAGE}/correct"), &fields).await;
    assert_eq!(asked.status, 200, "a question is no error");
    for words in ["Not corrected yet", "its decimal point one place from", "Keep 25 as read", "value=\"read again\""] {
        assert!(asked.text.contains(words), "{words}: {}", asked.text);
    }
    assert_eq!(house.see("/jobs/1/readings/4").await.status, 404, "nothing is kept yet");
    let kept = house.send(&format!("{PAGE}/correct"), &[fields[0], fields[1], ("asked", "25")]).await;
    assert_eq!(kept.status, 303);
    assert!(house.see("/jobs/1/readings/4").await.text.contains("25.0"), "kept as read");
}

#[tokio::test]
async fn the_same_correction_sent_twice_is_one() {
    let house = with_a_reading().await;
    let fields = [("key", "0123456789abcdef0123456789abcdef"), ("value", "2.6"), ("why", "misread")];
    house.send(&format!("{PAGE}/correct"), &fields).await;
    let again = house.send(&format!("{PAGE}/correct"), &fields).await;
    assert_eq!(again.status, 303, "{}", again.text);
    assert_eq!(house.see("/jobs/1/readings/3").await.status, 404);
}

#[tokio::test]
async fn a_withdrawn_reading_stays_to_be_seen() {
    let house = with_a_reading().await;
    assert_eq!(house.send(&format!("{PAGE}/withdraw"), &[]).await.status, 303);
    let sheet = house.see("/jobs/1/sheets/main-bearings?at=main.1").await.text;
    assert!(sheet.contains("1 struck out") && sheet.contains("withdrawn"), "{sheet}");
    assert_eq!(house.send(&format!("{PAGE}/withdraw"), &[]).await.status, 409);
}

#[tokio::test]
async fn a_reading_on_the_wrong_job_is_moved() {
    let house = with_a_reading().await;
    house.open("Another four", "inline", 4, 5).await;
    house.open("A small one", "inline", 1, 1).await;
    for (to, why, faults) in [("", "", 2), ("x", "y", 1), ("99", "", 2), ("1", "y", 1), ("3", "y", 1)] {
        let refused = house.send(&format!("{PAGE}/move"), &[("to", to), ("why_moved", why)]).await;
        assert_eq!(refused.status, 422, "{to:?} {why:?}");
        assert_eq!(refused.text.matches("<li><a href=\"#field-").count(), faults, "{to:?} {why:?}: {}", refused.text);
    }
    let moved = house.send(&format!("{PAGE}/move"), &[("to", " 2 "), ("why_moved", "typed on the wrong tablet")]).await;
    assert_eq!(moved.header("location"), PAGE);
    let left = house.see(PAGE).await.text;
    assert!(left.contains("moved to another job") && left.contains("2/1"), "{left}");
    let there = house.see("/jobs/2/sheets/main-bearings?at=main.1").await.text;
    assert!(there.contains("moved here from job 1/1: typed on the wrong tablet"), "{there}");
}
