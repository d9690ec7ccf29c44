//! Proof that the eyes of these tests see: a small page with known faults, and every way of using it.

use axum::Router;
use axum::extract::RawForm;
use axum::response::Html;
use axum::routing::get;

use crate::chromium::{Light, Screen};
use crate::page::Page;

const GOOD: &str = r#"<!doctype html><html lang="en"><head><title>Proof</title><link rel="icon" href="data:,">
<meta name="viewport" content="width=device-width">
<style>body { font: 20px sans-serif } button, input, select, a, label { min-height: 64px; min-width: 64px; margin: 8px; display: inline-block }
@media (prefers-color-scheme: dark) { :root { background: #000; color: #fff } a { color: #fff } }
@media (pointer: coarse) { #mouse { display: none } } @media not (pointer: coarse) { #finger { display: none } }
</style></head>
<body><main><h1>Proof page</h1><p>Touched <span id="finger">by finger</span> <span id="mouse">by mouse</span></p>
<form method="post" action="/" enctype="application/x-www-form-urlencoded">
<fieldset><legend>First</legend><label for="n1">Name</label><input id="n1" name="first"></fieldset>
<fieldset><legend>Second</legend><label for="n2">Name</label><input id="n2" name="second"></fieldset>
<label for="l">Layout</label><select id="l" name="layout"><option>inline</option><option>vee</option></select>
<label><input type="radio" name="way" value="bench"> At the bench</label>
<label><input type="checkbox" name="tick"> With the plate</label>
<label for="p">Photos</label><input id="p" type="file" name="photo" multiple>
<button>Keep it</button></form><a href="/?away">Go away</a></main></body></html>"#;

const FAULTY: &str = r#"<!doctype html><html lang="en"><head><title>Faulty</title><link rel="icon" href="data:,"></head>
<body><main><h1>Faulty page</h1><p style="color: #666; background: #fff">Grey words, 5.7 to one.</p>
<button style="width: 12px; height: 12px; padding: 0">a</button><button style="width: 12px; height: 12px; padding: 0">b</button>
<div style="width: 3000px">wide</div><img src="data:,"></main>
<script>console.error("something went wrong")</script></body></html>"#;

/// A server with the good page at `/`, answering a form with what it was sent, and the faulty one at `/faulty`.
async fn server() -> String {
    let app = Router::new()
        .route(
            "/",
            get(async || Html(GOOD)).post(async |RawForm(form): RawForm| {
                Html(format!("<!doctype html><title>Kept</title><p>Kept: {}", String::from_utf8_lossy(&form)))
            }),
        )
        .route("/faulty", get(async || Html(FAULTY)));
    let listener = tokio::net::TcpListener::bind("127.0.0.1:0").await.expect("a port");
    let address = format!("http://{}", listener.local_addr().expect("its address"));
    tokio::spawn(async move { axum::serve(listener, app).await });
    address
}

#[tokio::test(flavor = "multi_thread")]
async fn a_page_is_used_by_the_words_on_it() {
    let page = Page::open(&server().await, Screen::Tablet, Light::Bright).await;
    page.see("touched by finger").await;
    page.within("First").await.fill("Name", "bore 1 & 2").await;
    page.within("Second").await.fill("Name", "x").await;
    page.within("Second").await.fill("Name", "y").await;
    page.pick("Layout", "vee").await;
    page.choose("At the bench").await;
    page.choose("With the plate").await;
    let photo = tempfile::Builder::new().suffix(".png").tempfile().expect("a file");
    page.upload("Photos", &[photo.path()]).await;
    assert_eq!(page.within("First").await.field("Name").await, "bore 1 & 2");
    page.press("Keep it").await;
    page.see("first=bore+1+%26+2&second=y&layout=vee&way=bench&tick=on&photo=").await;
    page.see(".png").await;
    page.see_no("Proof page").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_gauge_types_into_what_has_the_focus() {
    let page = Page::open(&server().await, Screen::Desk, Light::Bright).await;
    page.see("touched by mouse").await;
    page.within("First").await.fill("Name", "").await;
    page.type_keys("4.3775\n").await;
    page.see("first=4.3775").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_good_page_passes_everywhere() {
    let page = Page::open(&server().await, Screen::Tablet, Light::Bright).await;
    page.inspect("proof").await;
    page.inspect_on(Screen::Phone, Light::Dark, "proof-phone-dark").await;
    page.inspect_on(Screen::UprightTablet, Light::Bright, "proof-upright").await;
    assert_eq!(page.smaller_than(64).await, Vec::<String>::new());
    page.press("Go away").await;
    assert_eq!(page.path().await, "/?away");
}

#[tokio::test(flavor = "multi_thread")]
async fn every_fault_of_a_bad_page_is_found() {
    let page = Page::open(&server().await, Screen::Tablet, Light::Bright).await;
    page.go("/faulty").await;
    assert!(page.console_errors().await.iter().any(|error| error.contains("something went wrong")));
    assert_eq!(page.smaller_than(64).await.len(), 2);
    let seen = tokio::spawn(async move { page.inspect("proof-faulty").await }).await.expect_err("faults").into_panic();
    let seen = seen.downcast_ref::<String>().expect("words");
    for fault in ["color-contrast-enhanced", "target-size", "image-alt", "px wider than its screen"] {
        assert!(seen.contains(fault), "{fault} not in {seen}");
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn what_is_not_there_fails() {
    let page = Page::open(&server().await, Screen::Desk, Light::Dark).await;
    let missing = page.clone();
    tokio::spawn(async move { missing.see("no such words").await }).await.expect_err("not to be seen");
    let twice = page.clone();
    tokio::spawn(async move { twice.fill("Name", "which?").await }).await.expect_err("two fields of one name");
}

#[tokio::test(flavor = "multi_thread")]
async fn the_wireless_can_be_cut() {
    let page = Page::open(&server().await, Screen::Tablet, Light::Bright).await;
    let cut = page.clone();
    cut.wireless(false).await;
    tokio::spawn(async move { cut.go("/faulty").await }).await.expect_err("no page without the wireless");
    page.wireless(true).await;
    page.go("/faulty").await;
    page.see("Faulty page").await;
}
