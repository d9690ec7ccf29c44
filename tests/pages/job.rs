//! `/jobs/{n}`: a job with its steps, notes and photos.

use crate::shop::{House, full};

#[tokio::test]
async fn the_steps_say_how_far_they_are_and_what_they_wait_for() {
    let page = full().await.see("/jobs/2").await;
    assert_eq!(page.status, 200);
    for part in [
        ">Go on: Fit main bearings</a>",
        "5 of 18 done",
        "signed by Renée Øst, today 12:00",
        "done elsewhere by Harrow Lane Crack Testing",
        "not on this job",
        "waits for Order and check parts, Main line and housings",
        "main cap 3, second torque step",
        "href=\"/jobs/2/sheets/main-bearings\"",
        "href=\"/jobs/2/details\"",
        "href=\"/jobs/2/limits\"",
        "href=\"/jobs/2/card\"",
        "He calls on Tuesdays.",
        "Ask &#60;Harrow Lane&#62; whether",
        "alt=\"Cap 3 from the left, with the feeler in\"",
    ] {
        assert!(page.text.contains(part), "{part}: {}", page.text);
    }
    let open = page.text.matches("class=\"step-row open\"").count();
    assert_eq!(open, 4, "several steps are open at once");
}

#[tokio::test]
async fn a_job_just_opened_teaches() {
    let page = House::with_a_job().await.see("/jobs/1").await.text;
    for part in ["Nothing noted yet.", "No photo yet", ">Go on: Check in</a>", "0 of 18 done"] {
        assert!(page.contains(part), "{part}: {page}");
    }
}

#[tokio::test]
async fn an_unknown_job_is_not_found() {
    let house = House::with_a_job().await;
    for number in ["2", "0", "-1", "9223372036854775807", "9223372036854775808", "1.5", "one", "%00", "1%20", "١"] {
        for page in ["", "/steps/bearings", "/notes", "/photos", "/steps/bearings/accept?finding=x"] {
            let answer = house.see(&format!("/jobs/{number}{page}")).await;
            assert_eq!(answer.status, 404, "/jobs/{number}{page}");
            assert!(answer.text.contains("There is nothing here"), "{}", answer.text);
        }
    }
    for page in ["/jobs/1/steps/", "/jobs/1/steps/nothing", "/jobs/1/steps/%3Cb%3E", "/jobs/1/notes?step=nothing"] {
        assert_eq!(house.see(page).await.status, 404, "{page}");
    }
}

#[tokio::test]
async fn nothing_inline_stands_in_a_page_of_the_bench() {
    let house = full().await;
    for page in [
        "/",
        "/who",
        "/jobs/new",
        "/jobs/2",
        "/jobs/2/steps/bearings",
        "/jobs/2/steps/check-in",
        "/jobs/2/notes",
        "/jobs/2/photos",
        "/jobs/2/steps/bearings/accept?finding=main-clearance-vertical%40main.2",
    ] {
        let answer = house.see(page).await;
        assert_eq!(answer.status, 200, "{page}");
        for inline in [" style=", "<style", " onclick", " onchange", "javascript:"] {
            assert!(!answer.text.contains(inline), "{page}: {inline}");
        }
        let ids: Vec<&str> = answer.text.split(" id=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect();
        let mut unique = ids.clone();
        unique.sort_unstable();
        unique.dedup();
        assert_eq!(unique.len(), ids.len(), "{page}: an id stands twice in {ids:?}");
    }
}
