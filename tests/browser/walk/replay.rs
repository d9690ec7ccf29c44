//! Readings typed as fast as a gauge does, through bad wireless and killed tabs: none lost, none doubled, none in a wrong
//! slot.
//!
//! The short form types 192 readings on two tablets; the long form 10,080 on six, with 50 answers or so that take 30 s.

use std::collections::BTreeMap;
use std::time::Duration;

use serde_json::Value;

use super::take_in;
use crate::chromium::{Light, Screen};
use crate::deviates::Deviates;
use crate::long::is_long;
use crate::page::Page;
use crate::shop::Shop;
use crate::wireless::Wireless;

const SHEET: &str = "sheets/cylinder-bores";
/// The bores of eight cylinders at three heights, both ways.
const SLOTS: usize = 48;

/// What was typed: job, slot, figure.
type Typed = Vec<(i64, String, String)>;

#[tokio::test(flavor = "multi_thread")]
async fn no_reading_is_lost_doubled_or_put_elsewhere() {
    let (tablets, jobs_each, stalls) = if is_long() { (6, 35, 300.0) } else { (2, 2, 150.0) };
    let shop = Shop::empty().await;
    let wireless = Wireless::before(&shop.address, 41, stalls).await;
    let at_work = (0..tablets).map(|tablet| tokio::spawn(work(wireless.address.clone(), tablet, jobs_each)));
    let (mut typed, mut killed) = (Typed::new(), 0);
    for tablet in at_work.collect::<Vec<_>>() {
        let (of_tablet, killed_there) = tablet.await.expect("a tablet's work");
        typed.extend(of_tablet);
        killed += killed_there;
    }

    let mut kept = Vec::new();
    for job in 1..=i64::from(tablets * jobs_each) {
        kept.extend(readings(&shop.export(job), job));
    }
    let said = wireless.troubled();
    println!("{} readings on {tablets} tablets, {killed} tabs killed, {said:?}", typed.len());
    assert_eq!(typed.len(), SLOTS * usize::try_from(tablets * jobs_each).expect("a small count"));
    assert!(
        said.failed > 20 && said.stalled > 0 && killed > 2,
        "the wireless was good: {said:?}, {killed} tabs killed"
    );
    kept.sort();
    typed.sort();
    assert_eq!(kept, typed);
}

/// What one tablet types, on so many jobs of its own one after the other; how many of its tabs are killed.
async fn work(address: String, tablet: u32, jobs: u32) -> (Typed, u32) {
    let page = Page::open(&address, Screen::Tablet, Light::Bright).await;
    page.go("/who").await;
    page.fill("Name, as called in the shop", &format!("Hand {tablet}")).await;
    // The button's word hangs on whether another tablet was sooner.
    page.type_keys("\n").await;
    page.see(&format!("Hand {tablet}")).await;
    let mut chance = Deviates(42 + u64::from(tablet));
    let (mut typed, mut killed) = (Typed::new(), 0);
    for nth in 1..=jobs {
        take_in(&page, "Mira Holt", &format!("Engine {nth} of hand {tablet}")).await;
        let path = page.path().await;
        let job = path.rsplit('/').next().and_then(|number| number.parse().ok()).expect("the job's number");
        page.go(&format!("/jobs/{job}/{SHEET}")).await;
        killed += type_all(&page, job, &mut chance, &mut typed).await;
    }
    page.all_is_saved(Duration::from_mins(2)).await;
    (typed, killed)
}

/// Types every bore of a job, two to six readings at a time, and now and then kills the tab while some are on their way.
/// The count of tabs killed.
async fn type_all(page: &Page, job: i64, chance: &mut Deviates, typed: &mut Typed) -> u32 {
    let mut killed = 0;
    let mut figures = 0..SLOTS;
    loop {
        if figures.is_empty() {
            return killed;
        }
        let mut ahead = page.walk_ahead().await;
        // In bench order, but for what is typed already.
        ahead.retain(|slot| !typed.iter().any(|(other, typed, _)| *other == job && typed == slot));
        assert!(!ahead.is_empty(), "nothing is armed on job {job} with {} to read", figures.len());
        ahead.truncate(2 + chance.below(5));
        let mut keys = String::new();
        for slot in ahead {
            let Some(nth) = figures.next() else { break };
            let figure = format!("4.375{nth:02}");
            keys.push_str(&figure);
            keys.push(chance.one_of(&['\n', '\n', '\n', '\t']));
            typed.push((job, slot, figure));
        }
        let gaps: Vec<Duration> =
            keys.chars().map(|_| Duration::from_secs_f64(chance.between(3.0, 20.0) / 1000.0)).collect();
        page.gauge(&keys, &gaps).await;
        if !figures.is_empty() && chance.uniform() < 0.12 {
            page.kill_tab_and_open(&format!("/jobs/{job}/{SHEET}")).await;
            killed += 1;
        }
    }
}

/// The readings of a job's bores as its record has them, whatever became of them.
fn readings(document: &Value, job: i64) -> Vec<(i64, String, String)> {
    let text = |value: &Value| value.as_str().expect("a text").to_owned();
    let all = document["readings"].as_array().expect("readings");
    let states: BTreeMap<_, usize> = all.iter().fold(BTreeMap::new(), |mut states, reading| {
        *states.entry(text(&reading["state"])).or_default() += 1;
        states
    });
    assert_eq!(states.len(), 1, "job {job}: {states:?}");
    all.iter().map(|reading| (job, text(&reading["slot"]), text(&reading["typed"]))).collect()
}
