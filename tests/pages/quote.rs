//! `/jobs/{n}/quote`: lines, exclusions, the customer's answer, and changes to it.

use crate::money::charging;

const QUOTE: &str = "/jobs/1/quote";

#[tokio::test]
async fn a_quote_is_drawn_up_sent_and_agreed() {
    let house = charging().await;
    assert!(house.see(QUOTE).await.text.contains("Nothing is offered yet."));
    assert_eq!(house.see("/jobs/9/quote").await.status, 404);
    let bad = house.send(QUOTE, &[("text", "Bore & hone"), ("hours", "1.1"), ("step", "nowhere")]).await;
    assert_eq!(bad.status, 422);
    for said in ["enter 1 or 1.25", "from the list", "value=\"Bore &#38; hone\"", "value=\"1.1\""] {
        assert!(bad.text.contains(said), "{said}: {}", bad.text);
    }
    assert_eq!(house.send(QUOTE, &[("text", "Bore & hone"), ("hours", "2.5")]).await.status, 303);
    let page = house.see(QUOTE).await.text;
    assert!(page.contains("Bore &#38; hone") && page.contains("200.00"), "{page}");
    let one = house.see("/jobs/1/quote?line=1").await.text;
    assert!(one.contains("value=\"2.5\"") && one.contains("Save the line"), "{one}");
    let terms = format!("{QUOTE}/terms");
    let bad = house.send(&terms, &[("saw_terms", "0"), ("exclusions", "cracks"), ("without_calling", "a lot")]).await;
    assert_eq!(bad.status, 422);
    assert!(bad.text.contains("cracks</textarea>") && bad.text.contains("value=\"a lot\""), "{}", bad.text);
    let good = [("saw_terms", "0"), ("exclusions", "cracks in the block"), ("without_calling", "150")];
    assert_eq!(house.send(&terms, &good).await.status, 303);
    assert_eq!(house.send(&terms, &good).await.status, 409);
    let answer = format!("{QUOTE}/answer");
    assert_eq!(house.send(&answer, &[("kind", "sent")]).await.status, 303);
    let bad = house.send(&answer, &[("kind", "agreed"), ("day", "2026-04-01")]).await;
    assert_eq!(bad.status, 422);
    for said in ["how he answered", "his own words", "not come yet"] {
        assert!(bad.text.contains(said), "{said}: {}", bad.text);
    }
    let yes = [("kind", "agreed"), ("how", "phone"), ("words", "Yes, <go>")];
    assert_eq!(house.send(&answer, &yes).await.status, 303);
    let page = house.see(QUOTE).await.text;
    for said in ["agreed 2 March 2026, by phone", "“Yes, &#60;go&#62;”", "cracks in the block", "150.00\u{a0}EUR"] {
        assert!(page.contains(said), "{said}: {page}");
    }
    let late = house.send(QUOTE, &[("text", "More"), ("amount", "5")]).await;
    assert_eq!(late.status, 422);
    assert!(late.text.contains("write what is different as a change below"), "{}", late.text);
}

#[tokio::test]
async fn a_change_has_its_text_to_send() {
    let house = charging().await;
    let changes = format!("{QUOTE}/changes");
    let bad = house.send(&changes, &[("proposing", "yes"), ("why", "A <crack>"), ("days", "soon")]).await;
    assert_eq!(bad.status, 422);
    for said in ["Say what is proposed", "Enter what it costs", "Enter whole days", "value=\"A &#60;crack&#62;\""] {
        assert!(bad.text.contains(said), "{said}: {}", bad.text);
    }
    let good = [("why", "A <crack>"), ("proposed", "Sleeve it"), ("price", "140"), ("days", "1")];
    assert_eq!(house.send(&changes, &good).await.status, 303);
    let page = house.see(QUOTE).await.text;
    for said in ["This costs 140.00\u{a0}EUR more. The engine is ready 1 day later.", "not sent yet"] {
        assert!(page.contains(said), "{said}: {page}");
    }
    let answer = format!("{changes}/1/answer");
    assert_eq!(house.send(&answer, &[("kind", "sent")]).await.status, 303);
    let bad = house.send(&answer, &[("kind", "declined"), ("words", "No & no")]).await;
    assert_eq!(bad.status, 422);
    assert!(bad.text.contains("value=\"No &#38; no\""), "{}", bad.text);
    let no = [("kind", "declined"), ("how", "message"), ("words", "No")];
    assert_eq!(house.send(&answer, &no).await.status, 303);
    assert!(house.see(QUOTE).await.text.contains("declined 2 March 2026, by message"));
    assert_eq!(house.send(&format!("{changes}/7/answer"), &no).await.status, 404);
}
