//! `/jobs/{n}/steps/{key}` and what is done there.

use witnessmark::work::{PersonForm, StepState};

use crate::asked::{ask, get, noon, post};
use crate::shop::{HAND, House, encoded, full};

async fn state(house: &House, step: &str) -> StepState {
    house.shop.step(1, step, noon()).await.unwrap().row.state
}

#[tokio::test]
async fn the_page_says_what_is_open_and_how_far_out() {
    let page = full().await.see("/jobs/2/steps/bearings").await;
    assert_eq!(page.status, 200);
    for part in [
        "Clearances at every main",
        "main cap 3, second torque step",
        "Go on from here",
        "href=\"/jobs/2/sheets/main-bearings\"",
        "3.4\u{a0}thou",
        "2.0 to 2.6\u{a0}thou",
        "−0.8\u{a0}thou",
        "aria-labelledby=\"strip-main-clearance-vertical@main.2-title",
        "My call, because</strong>",
        "larger, and main 2 feeds nothing else",
        "Sign as Renée Øst",
        "Bartholomew Featherstonehaugh-Cholmondeley",
        "href=\"/jobs/2/photos?step=bearings\"",
    ] {
        assert!(page.text.contains(part), "{part}: {}", page.text);
    }
}

#[tokio::test]
async fn what_is_missing_is_counted_and_folded_away() {
    let page = full().await.see("/jobs/2/steps/bore").await.text;
    let (before, folded) = page.split_once("<details class=\"missing\">").expect("a fold");
    assert!(folded.contains("24 missing</span></summary>") || folded.contains(" missing</span>"), "{folded}");
    assert!(!before.contains("/accept?finding="), "nothing missing floods the page");
    assert!(folded.matches("/accept?finding=").count() >= 24, "each place can be called");
    let caution = page.find("keep hands out of a turning hone").expect("the caution");
    assert!(caution < page.find("Sheets</h2>").expect("sheets"), "the caution stands before the work");
}

#[tokio::test]
async fn a_step_is_signed_in_one_tap_and_the_next_is_offered() {
    let house = House::with_a_job().await;
    let signed = house.send("/jobs/1/steps/check-in/sign", &[("person", &house.hand)]).await;
    assert_eq!((signed.status.as_u16(), signed.header("location")), (303, "/jobs/1/steps/check-in"));
    let page = house.see("/jobs/1/steps/check-in").await.text;
    assert!(page.contains("href=\"/jobs/1/steps/tear-down\">Next: Tear down</a>"), "{page}");
    assert!(page.contains(HAND) && page.contains("today 12:00") && !page.contains("Sign as"), "{page}");
    let check = house.send("/jobs/1/steps/check-in/check", &[("person", &house.hand)]).await;
    assert_eq!(check.status, 422);
    assert!(
        check.text.contains("href=\"#field-check\"") && check.text.contains("look again tomorrow"),
        "{}",
        check.text
    );
    let again = house.send("/jobs/1/steps/check-in/sign", &[("person", &house.hand)]).await;
    assert_eq!(again.status, 409);
    assert!(
        again.text.contains("Check in is signed already") && again.text.contains("href=\"/jobs/1/steps/check-in\"")
    );
}

#[tokio::test]
async fn nobody_signs_without_a_name() {
    let house = House::with_a_job().await;
    let alone = ask(&house.router, get("/jobs/1/steps/check-in"), "").await.text;
    assert!(alone.contains(&format!("Sign as {HAND}")), "one person works here, and signs in one tap: {alone}");
    let form = PersonForm { name: "Ida".into(), phone: String::new() };
    house.shop.add_hand(&house.doing(), &form).await.expect("a hand");
    let nobody = ask(&house.router, get("/jobs/1/steps/check-in"), "").await.text;
    assert!(nobody.contains("Tap your name to sign.") && nobody.contains(&house.hand), "{nobody}");
    for person in ["", "ffffffffffffffffffffffffffffffff", "'; --"] {
        let refused = house.send("/jobs/1/steps/check-in/sign", &[("person", person)]).await;
        assert_eq!(refused.status, 422, "{person}");
        assert!(refused.text.contains("href=\"#field-person\"") && refused.text.contains("id=\"field-person\""));
    }
    assert_eq!(state(&house, "check-in").await, StepState::Ahead);
}

#[tokio::test]
async fn a_signed_step_says_when_it_no_longer_stands_as_signed() {
    let house = House::with_a_job().await;
    house.take(1, "main-clearance-vertical@main.0", "2.3").await;
    house.send("/jobs/1/steps/bearings/sign", &[("person", &house.hand)]).await;
    assert!(!house.see("/jobs/1/steps/bearings").await.text.contains("Changed since signed"));
    house.take(1, "main-clearance-vertical@main.1", "2.5").await;
    for page in ["/jobs/1/steps/bearings", "/jobs/1"] {
        assert!(house.see(page).await.text.contains("Changed since signed: readings changed"), "{page}");
    }
}

#[tokio::test]
async fn stopped_here_stands_until_somebody_goes_on() {
    let house = House::with_a_job().await;
    let refused = house.send("/jobs/1/steps/check-in/stop", &[("stopped_at", " ")]).await;
    assert_eq!(refused.status, 422);
    assert!(refused.text.contains("href=\"#field-stopped_at\""), "{}", refused.text);
    let stopped = house.send("/jobs/1/steps/check-in/stop", &[("stopped_at", "<b>cap 3</b>")]).await;
    assert_eq!(stopped.status, 303);
    for page in ["/", "/jobs/1", "/jobs/1/steps/check-in"] {
        assert!(house.see(page).await.text.contains("&#60;b&#62;cap 3"), "{page}");
    }
    let mark = house.shop.step(1, "check-in", noon()).await.unwrap().stopped[0].0;
    for other in ["0", "999"] {
        let unknown = house.send("/jobs/1/steps/check-in/resume", &[("mark", other)]).await;
        assert_eq!(unknown.status, 404, "{other}");
    }
    assert!(house.see("/").await.text.contains("cap 3"));
    house.send("/jobs/1/steps/check-in/resume", &[("mark", &mark.to_string())]).await;
    assert!(!house.see("/").await.text.contains("cap 3"));
}

#[tokio::test]
async fn a_step_is_reopened_with_a_reason_only() {
    let house = House::with_a_job().await;
    house.send("/jobs/1/steps/check-in/sign", &[("person", &house.hand)]).await;
    let refused = house.send("/jobs/1/steps/check-in/reopen", &[("why", "")]).await;
    assert_eq!(refused.status, 422);
    assert!(
        refused.text.contains("href=\"#field-why\"") && refused.text.contains("<details open>"),
        "{}",
        refused.text
    );
    assert_eq!(state(&house, "check-in").await, StepState::Signed);
    let open = house.send("/jobs/1/steps/check-in/reopen", &[("why", "a serial was misread")]).await;
    assert_eq!(open.status, 303);
    let page = house.see("/jobs/1/steps/check-in").await.text;
    assert!(page.contains("a serial was misread") && page.contains("Sign as"), "{page}");
}

#[tokio::test]
async fn a_step_is_set_aside_or_done_elsewhere_by_somebody() {
    let house = House::with_a_job().await;
    let nobody = house.send("/jobs/1/steps/cracks/aside", &[("done", "elsewhere"), ("by_whom", " ")]).await;
    assert_eq!(nobody.status, 422);
    assert!(
        nobody.text.contains("href=\"#field-by_whom\"") && nobody.text.contains("<details open>"),
        "{}",
        nobody.text
    );
    house.send("/jobs/1/steps/cracks/aside", &[("done", "elsewhere"), ("by_whom", "Harrow & Sons")]).await;
    assert_eq!(state(&house, "cracks").await, StepState::Elsewhere("Harrow & Sons".into()));
    house.send("/jobs/1/steps/deck/aside", &[("done", "not")]).await;
    assert_eq!(state(&house, "deck").await, StepState::NotOnJob);
    assert!(house.see("/jobs/1/steps/deck").await.text.contains("not on this job"));
    house.send("/jobs/1/steps/check-in/sign", &[("person", &house.hand)]).await;
    let signed = house.send("/jobs/1/steps/check-in/aside", &[("done", "elsewhere"), ("by_whom", "Ida")]).await;
    assert_eq!(signed.status, 409);
    assert!(
        signed.text.contains("reopen it first") && signed.text.contains("Done elsewhere by Ida"),
        "{}",
        signed.text
    );
}

/// The forms carry what they saw: one tablet leaves the step out, the other signs it as it was.
#[tokio::test]
async fn two_tablets_on_one_step_are_told_of_each_other() {
    let house = House::with_a_job().await;
    let page = house.see("/jobs/1/steps/deck").await.text;
    let saw = house.shop.step(1, "deck", noon()).await.unwrap().act.to_string();
    let carried = format!("name=\"saw\" value=\"{saw}\"");
    assert_eq!(page.matches(&carried).count(), 3, "signing, done elsewhere, not on this job: {page}");
    house.send("/jobs/1/steps/deck/aside", &[("saw", &saw), ("done", "not")]).await;
    let quicker = house.send("/jobs/1/steps/deck/sign", &[("saw", &saw), ("person", &house.hand)]).await;
    assert_eq!(quicker.status, 409);
    for part in ["is not on this job", "Your name under this step", "href=\"/jobs/1/steps/deck\""] {
        assert!(quicker.text.contains(part), "{part}: {}", quicker.text);
    }
    assert_eq!(state(&house, "deck").await, StepState::NotOnJob);
    assert!(house.see("/jobs/1/steps/deck").await.text.contains("name=\"saw\""), "opening it again carries it too");
}

#[tokio::test]
async fn what_is_sent_to_an_unknown_step_is_not_found_and_a_megabyte_is_no_failure() {
    let house = House::with_a_job().await;
    for act in ["sign", "stop", "resume", "reopen", "aside", "accept", "accept/withdraw"] {
        let fields = [
            ("person", &*house.hand),
            ("stopped_at", "x"),
            ("why", "x"),
            ("because", "x"),
            ("finding", "bore-size@main.1"),
        ];
        for at in ["/jobs/1/steps/nothing", "/jobs/7/steps/bearings"] {
            let answer = house.send(&format!("{at}/{act}"), &fields).await;
            assert_eq!(answer.status, 404, "{at}/{act}: {}", answer.text);
        }
        let text = "x".repeat(1_000_000);
        let long =
            [("stopped_at", &*text), ("why", &text), ("by_whom", &text), ("done", "elsewhere"), ("because", &text)];
        let answer = ask(&house.router, post(&format!("/jobs/1/steps/deck/{act}")), encoded(&long)).await;
        assert!(!answer.status.is_server_error(), "{act}: {}", answer.status);
        let shown = house.see("/jobs/1/steps/deck").await;
        assert_eq!(shown.status, 200, "{act}");
    }
}
