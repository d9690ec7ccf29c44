//! `/search`: any job by a name, a telephone number, a serial, a part number, a note.

use crate::asked::{get, noon};
use crate::shop::{House, encoded};
use axum::http::StatusCode;

fn jobs(page: &str) -> Vec<&str> {
    page.split("class=\"wall-engine\" href=\"/jobs/").skip(1).filter_map(|rest| rest.split('"').next()).collect()
}

async fn find(house: &House, typed: &str) -> String {
    let page = house.see(&format!("/search?{}", encoded(&[("q", typed)]))).await;
    assert_eq!(page.status, 200, "{typed}");
    page.text
}

/// Jobs 1 and 2 of one customer, 2 has left; a serial, a note and a file's name in each way of writing.
async fn furnished() -> House {
    let house = House::with_a_job().await;
    house.open("Flat six, “Señorita”", "opposed", 6, 7).await;
    let shown = house.shop.job_form(1, noon()).await.expect("a form");
    let mut form = shown.form;
    form.serials.insert(shown.serials[0].id.clone(), "EK-204 17".into());
    house.shop.change_job(&house.doing(), 1, &form).await.expect("a serial");
    let note = "Line bored at <Harrow> on a Tuesday, cap 3 proud";
    house.shop.add_note(&house.doing(), 2, None, note).await.expect("a note");
    house.shop.close_job(&house.doing(), 2).await.expect("closed");
    house
}

#[tokio::test]
async fn the_floor_has_a_field_and_an_empty_search_says_what_to_type() {
    let house = furnished().await;
    let floor = house.see("/").await.text;
    assert!(floor.contains("action=\"/search\"") && floor.contains("type=\"search\" id=\"q\""), "{floor}");
    for typed in ["", "  ", "\"", "*"] {
        assert!(find(&house, typed).await.contains("Type what you know of it."), "{typed}");
    }
    assert_eq!(house.see("/search").await.status, 200);
}

#[tokio::test]
async fn a_job_is_found_by_whatever_is_known_of_it() {
    let house = furnished().await;
    for (typed, found, said) in [
        ("EK-20417", vec!["1"], "<dt>serial</dt><dd><mark>EK-204 17</mark>"),
        ("ek20417", vec!["1"], "<mark>EK-204 17</mark>"),
        ("ek204", vec!["1"], "<mark>EK-204</mark> 17"),
        ("senorita", vec!["2"], "Flat six, “<mark>Señorita</mark>”"),
        ("harrow tues", vec!["2"], "at &#60;<mark>Harrow</mark>&#62; on a <mark>Tuesday</mark>"),
        ("quill flat", vec!["2"], "<dt>customer</dt><dd><mark>Quill</mark> &#38; Sons"),
        ("555 0101", vec!["2", "1"], "<mark>555</mark> <mark>0101</mark>"),
        ("5550101", vec!["2", "1"], "<mark>555 0101</mark>"),
        ("0101", vec!["2", "1"], "<mark>0101</mark>"),
        ("+44 (0) 555-0101", vec!["2", "1"], "<mark>555 0101</mark>"),
        ("flat zeppelin", vec![], "Nothing has all of this."),
    ] {
        let page = find(&house, typed).await;
        assert_eq!(jobs(&page), found, "{typed}: {page}");
        assert!(page.contains(said), "{typed}: {said}: {page}");
    }
    assert!(find(&house, "flat").await.contains("; has left the shop"));
}

#[tokio::test]
async fn a_bare_number_finds_that_job_first() {
    let house = furnished().await;
    house.shop.add_note(&house.doing(), 2, None, "1 shim beneath").await.expect("a note");
    for typed in ["1", "#1", "job 1"] {
        assert_eq!(jobs(&find(&house, typed).await)[0], "1", "{typed}");
    }
    assert_eq!(jobs(&find(&house, "2").await)[0], "2");
    assert_eq!(find(&house, "77").await.matches("wall-engine").count(), 0);
}

#[tokio::test]
async fn people_and_families_are_found_beside_the_jobs() {
    let house = furnished().await;
    let page = find(&house, "quill").await;
    assert!(page.contains("<h2 id=\"people\">People</h2>") && page.contains("href=\"/jobs/2\">Job 2</a>"), "{page}");
}

#[tokio::test]
async fn nothing_that_is_typed_is_an_operator() {
    let house = furnished().await;
    let long = "long ".repeat(500);
    for typed in [
        "\"",
        "'",
        "a\" OR \"b",
        "NEAR(a b)",
        "text: cap",
        "^cap",
        "cap -note",
        "AND",
        "OR",
        "NOT",
        "cap*",
        "(",
        ")",
        "{a b}: c",
        "-",
        "--",
        "; DROP TABLE found",
        "\u{0}cap",
        "\u{301}",
        "<script>alert(1)</script>",
        "%",
        "_",
        "?",
        "\\",
        "99999999999999999999",
        "-1",
        "🛠",
        &long,
    ] {
        let page = find(&house, typed).await;
        assert!(!page.contains("<script>alert"), "{page}");
    }
    assert_eq!(house.see("/search?q=%FF%FE").await.status, StatusCode::OK);
    assert_eq!(crate::asked::ask(&house.router, get("/search?q=cap"), "").await.status, 200);
}

#[tokio::test]
async fn what_is_withdrawn_or_changed_is_not_found_any_more() {
    let house = furnished().await;
    let note = house.shop.job(2, noon()).await.unwrap().notes[0].id;
    house.shop.withdraw_note(&house.doing(), 2, note).await.expect("withdrawn");
    assert_eq!(jobs(&find(&house, "tuesday").await), Vec::<&str>::new());
    let mut form = house.shop.job_form(1, noon()).await.unwrap().form;
    (form.phone, form.title) = ("555 0177".into(), "Another name".into());
    house.shop.change_job(&house.doing(), 1, &form).await.expect("changed");
    for (typed, found) in [("inline", vec![]), ("another", vec!["1"]), ("5550177", vec!["2", "1"]), ("5550101", vec![])]
    {
        assert_eq!(jobs(&find(&house, typed).await), found, "{typed}");
    }
}
