//! `/jobs/{n}/notes`: notes to a job or a step.

use crate::asked::noon;
use crate::shop::House;

#[tokio::test]
async fn a_note_is_kept_as_written_and_can_be_withdrawn() {
    let house = House::with_a_job().await;
    for (step, leads_to) in [("", "/jobs/1"), ("bearings", "/jobs/1/steps/bearings")] {
        let text = format!("<script>alert('{step}')</script>\nsecond line");
        let kept = house.send("/jobs/1/notes", &[("step", step), ("text", &text)]).await;
        assert_eq!((kept.status.as_u16(), kept.header("location")), (303, leads_to));
        let page = house.see(leads_to).await.text;
        assert!(page.contains("&#60;script&#62;alert") && !page.contains("<script>alert"), "{page}");
    }
    assert!(house.see("/jobs/1/notes?step=bearings").await.text.contains("Notes: Fit main bearings"));
    let note = house.shop.job(1, noon()).await.unwrap().notes[0].id;
    let withdrawn = house.send(&format!("/jobs/1/notes/{note}/withdraw"), &[]).await;
    assert_eq!(withdrawn.status, 303);
    assert_eq!(house.shop.job(1, noon()).await.unwrap().notes.len(), 1);
    for unknown in ["999", "0", "-1", &note.to_string()] {
        assert_eq!(house.send(&format!("/jobs/1/notes/{unknown}/withdraw"), &[]).await.status, 404, "{unknown}");
    }
}

#[tokio::test]
async fn an_empty_or_endless_note_is_refused_with_its_text() {
    let house = House::with_a_job().await;
    let empty = house.send("/jobs/1/notes", &[("text", " \n ")]).await;
    assert_eq!(empty.status, 422);
    assert!(empty.text.contains("href=\"#field-text\"") && empty.text.contains("id=\"field-text\""), "{}", empty.text);
    let megabyte = "µ".repeat(500_000);
    let long = house.send("/jobs/1/notes", &[("step", "bearings"), ("text", &megabyte)]).await;
    // Percent-encoded it is three times as long: more than a page takes in.
    assert_eq!(long.status, 413);
    let megabyte = "x".repeat(1_000_000);
    let long = house.send("/jobs/1/notes", &[("step", "bearings"), ("text", &megabyte)]).await;
    assert_eq!(long.status, 422);
    assert!(long.text.contains(&megabyte) && long.text.contains("Notes: Fit main bearings"), "the text is not lost");
    assert!(house.shop.job(1, noon()).await.unwrap().notes.is_empty());
    let unknown = house.send("/jobs/1/notes", &[("step", "nothing"), ("text", "x")]).await;
    assert_eq!(unknown.status, 404);
}

#[tokio::test]
async fn the_same_note_sent_twice_is_kept_once() {
    let house = House::with_a_job().await;
    let key = "b".repeat(32);
    for _ in 0..2 {
        assert_eq!(house.send("/jobs/1/notes", &[("key", &key), ("text", "once")]).await.status, 303);
    }
    assert_eq!(house.shop.job(1, noon()).await.unwrap().notes.len(), 1);
    for _ in 0..2 {
        house.send("/jobs/1/notes", &[("key", "no key of ours"), ("text", "twice")]).await;
    }
    assert_eq!(house.shop.job(1, noon()).await.unwrap().notes.len(), 3, "a foreign key is replaced, nothing is lost");
}
