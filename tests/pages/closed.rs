//! `/jobs/closed`: every engine that has left the shop, found again by a few words.

use crate::asked::noon;
use crate::shop::House;

/// Jobs 1 to 4, of which 1, 3 and 2 have left in this order; the block of 2 has a serial.
async fn three_left() -> House {
    let house = House::with_a_job().await;
    for title in ["Vee eight, 5.0 <b>", "Flat six", "Straight six"] {
        house.open(title, "inline", 6, 7).await;
    }
    let shown = house.shop.job_form(2, noon()).await.expect("a form");
    let mut form = shown.form;
    form.serials.insert(shown.serials[0].id.clone(), "EK-20417".into());
    house.shop.change_job(&house.doing(), 2, &form).await.expect("a serial");
    for job in [1, 3, 2] {
        house.shop.close_job(&house.doing(), job).await.expect("closed");
    }
    house
}

fn jobs(page: &str) -> Vec<&str> {
    page.split("class=\"wall-engine\" href=\"/jobs/").skip(1).filter_map(|rest| rest.split('"').next()).collect()
}

#[tokio::test]
async fn the_floor_leads_to_what_was_closed_the_newest_first() {
    let house = three_left().await;
    let floor = house.see("/").await.text;
    assert!(floor.contains("href=\"/jobs/closed\">Closed</a>") && floor.contains("3 engines have left"), "{floor}");
    let page = house.see("/jobs/closed").await.text;
    assert_eq!(jobs(&page), ["2", "3", "1"]);
    for part in ["Vee eight, 5.0 &#60;b&#62;", "Quill &#38; Sons", "EK-20417", "left today 12:00 by Renée Øst"] {
        assert!(page.contains(part), "{part}: {page}");
    }
    assert!(house.see("/jobs/2").await.text.contains("href=\"/jobs/2/details#leaving\""));
}

#[tokio::test]
async fn every_word_must_stand_in_the_line() {
    let house = three_left().await;
    for (find, found) in [
        ("ek-20417", vec!["2"]),
        ("SIX", vec!["3"]),
        ("flat+quill", vec!["3"]),
        ("harrow", vec!["2", "3", "1"]),
        ("%25_", vec![]),
        ("flat+four", vec![]),
    ] {
        let page = house.see(&format!("/jobs/closed?find={find}")).await;
        assert_eq!((page.status.as_u16(), jobs(&page.text)), (200, found), "{find}");
    }
    let nothing = house.see("/jobs/closed?find=%3Cscript%3E").await.text;
    assert!(nothing.contains("None of the 3") && nothing.contains("value=\"&#60;script&#62;\""), "{nothing}");
}

#[tokio::test]
async fn before_any_has_left_it_says_what_will_be_here() {
    let house = House::with_a_job().await;
    assert!(house.see("/jobs/closed").await.text.contains("No engine has left the shop yet."));
    assert!(!house.see("/").await.text.contains("/jobs/closed"));
}
