//! What stands around every page: headers, door, errors, assets, the tablet's own choices.

use axum::Router;
use axum::routing::{get as on_get, post as on_post};
use axum_extra::extract::Form;
use witnessmark::web::errors::Conflict;
use witnessmark::web::{Door, PageError, server};

use crate::asked::{Answer, HOST, ask, get, noon, post};

/// The shell around pages that go wrong in each way.
fn shell() -> Router {
    let conflict = Conflict {
        about: "the note".into(),
        theirs: "cap 3 <tight>".into(),
        yours: "cap 3 & 4 tight".into(),
        address: "/jobs/1".into(),
    };
    let pages = Router::new()
        .route("/panics", on_get(async || -> &'static str { panic!("no oil") }))
        .route("/fails", on_get(async || PageError::failed("disk full at sector 9")))
        .route("/refuses", on_get(async || PageError::Refused("Choose a photo first".into())))
        .route("/conflicts", on_get(async move || PageError::Conflict(Box::new(conflict))))
        .route("/counts", on_post(async |Form(form): Form<Vec<(String, String)>>| form.len().to_string()))
        .route(
            "/jobs/{number}",
            on_get(async |axum::extract::Path(number): axum::extract::Path<i64>| number.to_string()),
        );
    server::house(pages, Door::at_home(), noon)
}

async fn see(address: &str) -> Answer {
    ask(&shell(), get(address), "").await
}

/// A page with a title, a way back and nothing of the server's insides.
fn is_a_page_with_a_way_back(answer: &Answer, title: &str) {
    assert!(answer.header("content-type").starts_with("text/html"), "{}", answer.text);
    assert!(answer.text.contains(&format!("<h1>{title}</h1>")), "{}", answer.text);
    assert!(answer.text.contains("href=\"/\""), "{}", answer.text);
}

#[tokio::test]
async fn every_answer_states_its_policy() {
    for address in ["/theme", "/nowhere", "/static/witness.css", "/panics"] {
        let answer = see(address).await;
        let policy = answer.header("content-security-policy");
        for part in [
            "default-src 'self'",
            "object-src 'none'",
            "base-uri 'none'",
            "form-action 'self'",
            "frame-ancestors 'self'",
        ] {
            assert!(policy.contains(part), "{address}: {policy}");
        }
        assert!(!policy.contains("unsafe"), "{policy}");
        assert_eq!(answer.header("x-content-type-options"), "nosniff", "{address}");
        assert_eq!(answer.header("referrer-policy"), "same-origin", "{address}");
    }
}

#[tokio::test]
async fn nothing_inline_stands_in_a_page() {
    for address in ["/theme", "/nowhere", "/conflicts"] {
        let page = see(address).await.text;
        assert!(!page.contains(" style=") && !page.contains("<style") && !page.contains(" onclick"), "{page}");
        assert!(page.starts_with("<!doctype html>\n<html lang=\"en\""), "{page}");
    }
}

#[tokio::test]
async fn an_unknown_address_is_a_page_with_a_way_back() {
    for address in
        ["/nowhere", "/jobs/99999999999999999999999", "/jobs/%00", "/static/nothing.css", "/static/../Cargo.toml"]
    {
        let answer = see(address).await;
        assert_eq!(answer.status, 404, "{address}");
        is_a_page_with_a_way_back(&answer, "There is nothing here");
    }
}

#[tokio::test]
async fn a_failure_is_numbered_and_keeps_its_details_to_the_log() {
    for (address, secret) in [("/panics", "no oil"), ("/fails", "sector 9")] {
        let answer = see(address).await;
        assert_eq!(answer.status, 500);
        is_a_page_with_a_way_back(&answer, "Something failed here");
        assert!(answer.text.contains(answer.header("x-request-id")), "{}", answer.text);
        assert_eq!(answer.header("x-request-id").len(), 8);
        assert!(!answer.text.contains(secret), "{}", answer.text);
    }
}

#[tokio::test]
async fn a_conflict_shows_both_texts() {
    let answer = see("/conflicts").await;
    assert_eq!(answer.status, 409);
    assert!(
        answer.text.contains("cap 3 &#60;tight&#62;") && answer.text.contains("cap 3 &#38; 4 tight"),
        "{}",
        answer.text
    );
    assert!(answer.text.contains("href=\"/jobs/1\""));
}

#[tokio::test]
async fn a_script_is_answered_in_json() {
    let answer = ask(&shell(), get("/refuses").header("accept", "application/json"), "").await;
    assert_eq!(answer.status, 422);
    assert!(answer.text.starts_with("{\"title\":\"Not saved\",\"said\":\"Choose a photo first\""), "{}", answer.text);
}

#[tokio::test]
async fn the_door_refuses_other_names_and_other_sites() {
    let by_name = axum::http::Request::get("/theme").header("host", "shop.example");
    let answer = ask(&shell(), by_name, "").await;
    assert_eq!(answer.status, 421);
    assert!(answer.text.contains("Not by this name"));
    let unsaid = || {
        let request = axum::http::Request::post("/theme").header("host", HOST);
        request.header("content-type", "application/x-www-form-urlencoded")
    };
    for sent in [unsaid().header("origin", "http://shop.example"), unsaid()] {
        let answer = ask(&shell(), sent, "theme=dark").await;
        assert_eq!(answer.status, 403);
        assert_eq!(answer.cookie("witnessmark-theme"), None);
        is_a_page_with_a_way_back(&answer, "Sent from another site");
    }
}

#[tokio::test]
async fn what_a_layer_refuses_is_a_page_too() {
    let large = "a=".to_owned() + &"x".repeat(server::FORM + 1);
    let answer = ask(&shell(), post("/counts"), large).await;
    assert_eq!(answer.status, 413);
    is_a_page_with_a_way_back(&answer, "That is too large");
    let answer = ask(&shell(), get("/counts"), "").await;
    assert_eq!(answer.status, 405);
    is_a_page_with_a_way_back(&answer, "This page takes nothing in");
    let not_a_form =
        axum::http::Request::post("/counts").header("host", HOST).header("origin", format!("http://{HOST}"));
    let answer = ask(&shell(), not_a_form, "{}").await;
    assert_eq!(answer.status, 400);
    is_a_page_with_a_way_back(&answer, "That could not be read");
    assert_eq!(ask(&shell(), post("/counts"), "a=1&a=2&b=").await.text, "3");
}

#[tokio::test]
async fn a_tablet_keeps_its_name() {
    let first = see("/theme").await;
    let set = first.headers.get("set-cookie").expect("a cookie").to_str().expect("ASCII");
    assert!(set.contains("HttpOnly") && set.contains("SameSite=Strict") && set.contains("Path=/"), "{set}");
    let device = first.cookie("witnessmark-device").expect("a device");
    assert_eq!(device.len(), "witnessmark-device=".len() + 32);
    let again = ask(&shell(), get("/theme").header("cookie", &device), "").await;
    assert!(again.headers.get("set-cookie").is_none());
    let forged = ask(&shell(), get("/theme").header("cookie", "witnessmark-device=../../etc"), "").await;
    assert!(forged.cookie("witnessmark-device").is_some());
}

#[tokio::test]
async fn the_light_is_chosen_and_kept() {
    let page = see("/theme?back=/jobs/3").await;
    assert_eq!(page.status, 200);
    assert!(page.text.contains("data-theme=\"device\"") && page.text.contains("value=\"/jobs/3\""), "{}", page.text);
    let chosen = ask(&shell(), post("/theme"), "theme=dark&back=%2Fjobs%2F3").await;
    assert_eq!((chosen.status.as_u16(), chosen.header("location")), (303, "/jobs/3"));
    let kept = chosen.cookie("witnessmark-theme").expect("a theme");
    let after = ask(&shell(), get("/nowhere").header("cookie", kept), "").await;
    assert!(after.text.contains("data-theme=\"dark\""), "{}", after.text);
    let outside = ask(&shell(), post("/theme"), "theme=dark&back=%2F%2Fshop.example").await;
    assert_eq!(outside.header("location"), "/");
}

#[tokio::test]
async fn a_refused_form_says_so_first_and_links_to_its_field() {
    let answer = ask(&shell(), post("/theme"), "theme=%3Cb%3Epink&back=%2F").await;
    assert_eq!(answer.status, 422);
    assert!(answer.text.contains("<title>Error: Light"), "{}", answer.text);
    assert!(
        answer.text.contains("<a href=\"#field-theme\">Choose bright, dark or by the device</a>"),
        "{}",
        answer.text
    );
    assert!(answer.text.contains("id=\"field-theme\"") && !answer.text.contains("<b>pink"), "{}", answer.text);
}

#[tokio::test]
async fn assets_are_kept_by_their_contents() {
    let page = see("/theme").await.text;
    let at = page.find("/static/witness.css?v=").expect("the stylesheet");
    let address = page[at..].split('"').next().expect("a quoted address");
    let style = see(address).await;
    assert_eq!((style.status.as_u16(), style.header("content-type")), (200, "text/css"));
    assert!(style.header("cache-control").contains("immutable"));
    let known = ask(&shell(), get("/static/witness.css").header("if-none-match", style.header("etag")), "").await;
    assert_eq!((known.status.as_u16(), known.header("cache-control"), known.text.len()), (304, "no-cache", 0));
    let packed = ask(&shell(), get(address).header("accept-encoding", "gzip"), "").await;
    assert_eq!(packed.header("content-encoding"), "gzip");
}
