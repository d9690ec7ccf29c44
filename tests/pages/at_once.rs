//! What is said of many things at once: fasteners tightened on a step's page, and "as round 1, checked again" on a sheet's.

use crate::shop::House;

const STEP: &str = "/jobs/1/steps/bearings";
const MAINS: &str = "/jobs/1/sheets/main-bearings";

#[tokio::test]
async fn fasteners_tightened_are_said_kept_and_withdrawn() {
    let house = House::with_a_job().await;
    let caps = [
        ("fasteners", "caps <of the mains>"),
        ("to", "70"),
        ("steps", "30, 50, 70"),
        ("in_order", "yes"),
        ("exceptions", "bolt 4: 65, thread pulled"),
    ];
    let kept = house.send(&format!("{STEP}/tightened"), &caps).await;
    assert_eq!((kept.status.as_u16(), kept.header("location")), (303, "/jobs/1/steps/bearings#tightened"));
    let page = house.see(STEP).await.text;
    let said = "70\u{a0}lbf·ft (95\u{a0}N·m) in 3 steps: 30\u{a0}lbf·ft, 50\u{a0}lbf·ft, 70\u{a0}lbf·ft; in the order specified";
    for part in
        ["caps &#60;of the mains&#62;", said, "except bolt 4: 65\u{a0}lbf·ft, thread pulled", "lubricant not said"]
    {
        assert!(page.contains(part), "{part}: {page}");
    }
    assert_eq!(house.send(&format!("{STEP}/tightened/withdraw"), &[("id", "1")]).await.status, 303);
    assert!(!house.see(STEP).await.text.contains("except bolt 4"));
    assert_eq!(house.send(&format!("{STEP}/tightened/withdraw"), &[("id", "1")]).await.status, 404);
}

#[tokio::test]
async fn every_fault_of_a_tightening_is_said_at_once() {
    let house = House::with_a_job().await;
    let wrong = [("to", "very tight"), ("exceptions", "bolt <4>"), ("gauge", "none such")];
    let page = house.send(&format!("{STEP}/tightened"), &wrong).await;
    assert_eq!(page.status, 422);
    for field in ["fasteners", "to", "exceptions"] {
        assert!(page.text.contains(&format!("<a href=\"#field-{field}\">")), "{field}: {}", page.text);
    }
    assert!(page.text.contains("value=\"very tight\"") && page.text.contains("value=\"bolt &#60;4&#62;\""));
    assert_eq!(house.send("/jobs/1/steps/none/tightened", &wrong).await.status, 404);
}

#[tokio::test]
async fn a_round_is_as_the_one_before() {
    let house = House::with_a_job().await;
    house.take(1, "main-clearance-vertical@main.0", "2.4").await;
    assert!(!house.see(MAINS).await.text.contains("checked again"), "there is no earlier round yet");
    assert_eq!(house.send(&format!("{MAINS}/rounds"), &[("kind", "final")]).await.status, 303);
    assert!(house.see(MAINS).await.text.contains("All as round 1, checked again"));
    let again = house.send(&format!("{MAINS}/rounds/2/recheck"), &[("earlier", "1"), ("place", "main.0")]).await;
    assert_eq!((again.status.as_u16(), again.header("location")), (303, &*format!("{MAINS}?round=2#except")));
    let page = house.see(&format!("{MAINS}?at=main.0")).await.text;
    assert!(page.contains("as round 1, checked again") && page.contains("2.4\u{a0}thou"), "{page}");
    for wrong in [
        [("earlier", "7"), ("place", "")],
        [("earlier", "1"), ("place", "main.77")],
        [("earlier", "1"), ("place", "x")],
    ] {
        assert_eq!(house.send(&format!("{MAINS}/rounds/2/recheck"), &wrong).await.status, 404, "{wrong:?}");
    }
    assert_eq!(house.send(&format!("{MAINS}/rounds/2/recheck/back"), &[("id", "1")]).await.status, 303);
    assert_eq!(house.send(&format!("{MAINS}/rounds/2/recheck/back"), &[("id", "1")]).await.status, 404);
    assert!(!house.see(&format!("{MAINS}?at=main.0")).await.text.contains("2.4\u{a0}thou"));
}
