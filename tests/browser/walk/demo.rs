//! The demonstration shop, page by page: whatever its links lead to is answered soon, and looks as it should.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::time::{Duration, Instant};

use crate::chromium::{Light, Screen};
use crate::long::is_long;
use crate::page::{Page, Touch};
use crate::shop::Shop;

/// How many pages of one kind are asked for.
const ENOUGH: usize = 12;
/// No page takes longer, even in a build that is not optimised, on a machine that runs other tests beside.
const SLOWEST: Duration = Duration::from_secs(5);

/// A kind of page by the fullest of its pages.
struct Fullest {
    address: String,
    length: usize,
}

/// Follows the links from the floor: every kind of page ("/jobs/*/sheets/pistons?at") with the fullest of it.
#[allow(clippy::disallowed_methods, reason = "how long a page takes is what is asked")]
async fn kinds(shop: &Shop) -> BTreeMap<String, Fullest> {
    let mut fullest: BTreeMap<String, Fullest> = BTreeMap::new();
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    let mut known = BTreeSet::from(["/".to_owned()]);
    let mut to_ask = VecDeque::from(["/".to_owned()]);
    while let Some(address) = to_ask.pop_front() {
        let kind = kind(&address);
        let count = seen.entry(kind.clone()).or_default();
        *count += 1;
        if *count > ENOUGH {
            continue;
        }
        let asked = Instant::now();
        let page = String::from_utf8(shop.bytes(&address).await).unwrap_or_else(|_| panic!("{address}: no text"));
        assert!(asked.elapsed() < SLOWEST, "{address}: {:?}", asked.elapsed());
        to_ask.extend(links(&page).filter(|link| known.insert(link.clone())));
        if fullest.get(&kind).is_none_or(|known| known.length < page.len()) {
            fullest.insert(kind, Fullest { address, length: page.len() });
        }
    }
    fullest
}

/// Where a page leads to: other pages of the shop, without the place on them.
fn links(page: &str) -> impl Iterator<Item = String> {
    let targets = page.split("href=\"").skip(1).filter_map(|rest| rest.split('"').next());
    let pages = targets.map(|target| target.replace("&#38;", "&").split('#').next().unwrap_or_default().to_owned());
    let is_page = |target: &String| {
        let stays = target.starts_with('/') && !target.contains("?back=");
        stays && !["/static/", "/files/", ".pdf"].iter().any(|part| target.contains(part))
    };
    pages.filter(is_page)
}

/// An address without what tells one of its kind from another: numbers, ids, the values asked for.
fn kind(address: &str) -> String {
    let (path, query) = address.split_once('?').unwrap_or((address, ""));
    let is_name = |part: &&str| part.chars().all(|c| c.is_ascii_lowercase() || c == '-');
    let path: Vec<&str> = path.split('/').map(|part| if is_name(&part) { part } else { "*" }).collect();
    let asked: Vec<&str> =
        query.split('&').filter_map(|pair| pair.split('=').next()).filter(|name| !name.is_empty()).collect();
    let step = path.iter().position(|part| ["steps", "plan"].contains(part));
    let path =
        path.iter().enumerate().map(|(at, part)| if step.is_some_and(|step| at == step + 1) { "*" } else { part });
    [path.collect::<Vec<_>>().join("/"), asked.join("&")].join(if asked.is_empty() { "" } else { "?" })
}

/// A kind as a picture's name: "jobs-sheets-pistons-at".
fn picture(kind: &str) -> String {
    let words = kind.split(|c: char| !c.is_ascii_lowercase()).filter(|word| !word.is_empty());
    format!("demo-{}", words.collect::<Vec<_>>().join("-"))
}

/// Every kind of page looked over on one screen in one light; in the long form in the other light too. Where things stand does
/// not hang on the light, nor a colour on the screen: the narrowest in the bright and the desk in the dark see both.
async fn look_over_all(screen: Screen, light: Light, which: &str) {
    let shop = Shop::demonstration().await;
    let kinds = kinds(&shop).await;
    assert!(kinds.len() > 20, "{:?}", kinds.keys());
    let page = Page::open(&shop.address, screen, light).await;
    for (kind, Fullest { address, .. }) in &kinds {
        page.go(address).await;
        let touch = if page.is_at_the_bench().await { Touch::Bench } else { Touch::Office };
        page.look_over(&format!("{}-{which}", picture(kind)), touch).await;
        if is_long() {
            page.inspect_in_other_light(&format!("{}-{which}-other-light", picture(kind))).await;
        }
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn every_kind_of_page_is_right_on_the_smallest_screen() {
    look_over_all(Screen::Narrowest, Light::Bright, "narrow").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn every_kind_of_page_is_right_at_a_desk_in_the_dark() {
    look_over_all(Screen::Desk, Light::Dark, "desk").await;
}

/// What must be read at the bench, on the sheet of the demonstration with the most of it, by eyes of every kind that
/// Chromium knows. Blurred vision is left out: it has no contrast of its own.
#[tokio::test(flavor = "multi_thread")]
async fn verdicts_and_readings_are_legible_to_all_eyes() {
    let shop = Shop::demonstration().await;
    for light in [Light::Bright, Light::Dark] {
        let page = Page::open(&shop.address, Screen::Tablet, light).await;
        page.go("/jobs/2/sheets/main-bearings").await;
        for eyes in ["none", "achromatopsia", "deuteranopia", "protanopia", "tritanopia"] {
            for (what, least) in [
                (".finding .verdict", 7.0),
                (".finding-value strong", 10.0),
                (".slot-value strong", 10.0),
                (".job-title", 7.0),
            ] {
                let seen = page.contrasts_seen_with(eyes, what).await;
                assert!(!seen.is_empty(), "{what}: none on the screen");
                let worst = seen.iter().copied().fold(f64::INFINITY, f64::min);
                assert!(worst >= least, "{light:?}, {eyes}, {what}: {worst:.1}:1");
            }
        }
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn it_needs_little_memory() {
    let shop = Shop::demonstration().await;
    kinds(&shop).await;
    // An optimised build needs about half of it; with plan, parts and money it was 80 MB as built for tests.
    if let Some(megabytes) = shop.megabytes() {
        assert!(megabytes < 96.0, "{megabytes} MB");
    }
}

#[test]
fn pages_of_a_kind_are_told_by_their_address() {
    assert_eq!(kind("/jobs/3/steps/check-in/accept?finding=a%40b"), "/jobs/*/steps/*/accept?finding");
    assert_eq!(kind("/jobs/3/sheets/pistons?at=cylinder.0.1&round=2"), "/jobs/*/sheets/pistons?at&round");
    assert_eq!(kind("/"), "/");
    let page =
        r##"<a href="/jobs/1?a=b&#38;c=d#here"> <a href="/who?back=/"> <a href="/files/0/thumb"> <a href="#x">"##;
    assert_eq!(links(page).collect::<Vec<_>>(), ["/jobs/1?a=b&c=d"]);
}
