//! Cards: what is hidden is left out, what is issued is frozen, a changed record needs a new issue.

use crate::setting::Bench;
use std::collections::BTreeMap;
use witnessmark::work::{Audience, CardLine, ShopSettings};

fn line<'a>(lines: &'a [CardLine], key: &str) -> &'a CardLine {
    lines.iter().find(|line| line.key == key).unwrap_or_else(|| panic!("{key}"))
}

async fn with_targets(bench: &Bench) -> i64 {
    let job = bench.inline_four().await;
    let mut form = bench.shop.job_form(job, bench.now()).await.unwrap().form;
    form.targets.insert("bore@cylinders".into(), "3.5".into());
    form.targets.insert("stroke@engine".into(), "3.25".into());
    form.facts.insert("oil".into(), "10W-40".into());
    bench.shop.change_job(&bench.doing(), job, &form).await.unwrap();
    job
}

#[tokio::test]
async fn lines_come_from_the_record_and_hold_back_measured_figures_by_default() {
    let bench = Bench::open().await;
    let job = with_targets(&bench).await;
    bench.take(job, "main-clearance-vertical@main.0", "2.5 thou", None).await;
    let card = bench.shop.card(job, bench.now()).await.unwrap();
    // 4 × π/4 × 3.5² × 3.25 = 125.07 in³
    assert_eq!(line(&card.lines, "displacement").value, "125.1\u{a0}in³");
    assert!(line(&card.lines, "oil").is_for(Audience::Owner));
    assert!(!line(&card.lines, "measured-mains").is_for(Audience::Tuner));
    assert!(line(&card.lines, "measured-mains").is_for(Audience::Shop));
}

#[tokio::test]
async fn a_choice_holds_for_the_job_and_can_become_the_preset() {
    let bench = Bench::open().await;
    let job = with_targets(&bench).await;
    let chosen = BTreeMap::from([("oil".to_owned(), Audience::Shop)]);
    bench.shop.choose_card_lines(&bench.doing(), job, &chosen).await.unwrap();
    assert!(!line(&bench.shop.card(job, bench.now()).await.unwrap().lines, "oil").is_for(Audience::Owner));
    bench.shop.keep_card_preset(&bench.doing(), job).await.unwrap();
    let other = with_targets(&bench).await;
    assert_eq!(line(&bench.shop.card(other, bench.now()).await.unwrap().lines, "oil").audience, Audience::Shop);
}

#[tokio::test]
async fn an_issue_is_frozen_and_the_next_names_it() {
    let bench = Bench::open().await;
    let job = with_targets(&bench).await;
    assert_eq!(bench.shop.issue_card(&bench.doing(), job, Audience::Owner).await.unwrap(), 1);
    let first = bench.shop.issued_card(job, 1).await.unwrap().bytes;
    assert!(first.starts_with(b"%PDF-1.7"));
    assert!(!bench.shop.card(job, bench.now()).await.unwrap().changed_since);
    bench.shop.add_note(&bench.doing(), job, None, "lash checked hot").await.unwrap();
    assert!(bench.shop.card(job, bench.now()).await.unwrap().changed_since);
    assert_eq!(bench.shop.issue_card(&bench.doing(), job, Audience::Owner).await.unwrap(), 2);
    let card = bench.shop.card(job, bench.now()).await.unwrap();
    assert_eq!((card.issues[1].replaces, card.next), (Some(1), 3));
    assert_eq!(bench.shop.issued_card(job, 1).await.unwrap().bytes, first, "byte for byte");
}

#[tokio::test]
async fn what_the_shop_says_of_itself_on_a_card_outgrows_it() {
    let bench = Bench::open().await;
    let job = with_targets(&bench).await;
    let change = async |change: fn(&mut ShopSettings)| {
        let mut settings = bench.shop.settings().await.unwrap();
        change(&mut settings);
        let saw = bench.shop.settings_seen().await.unwrap();
        bench.shop.change_settings(&bench.doing(), saw, &settings).await.unwrap();
    };
    let outgrown = async || bench.shop.card(job, bench.now()).await.unwrap().changed_since;
    change(|shop| shop.name = "Harrow Lane Engines".into()).await;
    bench.shop.issue_card(&bench.doing(), job, Audience::Owner).await.unwrap();
    assert!(!outgrown().await, "changed before it was issued");
    change(|shop| shop.zone = "Europe/Paris".into()).await;
    assert!(!outgrown().await, "no card names the zone");
    let changes: [fn(&mut ShopSettings); 4] = [
        |shop| shop.name = "Harrow Lane Engine Works".into(),
        |shop| shop.address = "2 Harrow Lane".into(),
        |shop| shop.phone = "555 0142".into(),
        |shop| shop.warranty = "Two years.".into(),
    ];
    for changed in changes {
        change(changed).await;
        assert!(outgrown().await, "{:?}", bench.shop.settings().await);
        bench.shop.issue_card(&bench.doing(), job, Audience::Owner).await.unwrap();
        assert!(!outgrown().await);
    }
    let mut form = bench.shop.job_form(job, bench.now()).await.unwrap().form;
    form.facts.insert("warranty".into(), "Three years.".into());
    bench.shop.change_job(&bench.doing(), job, &form).await.unwrap();
    bench.shop.issue_card(&bench.doing(), job, Audience::Owner).await.unwrap();
    change(|shop| shop.warranty = "One year.".into()).await;
    assert!(!outgrown().await, "this card has a warranty of its own");
}

#[tokio::test]
async fn the_same_record_at_the_same_time_gives_the_same_bytes() {
    let bench = Bench::open().await;
    let job = with_targets(&bench).await;
    let one = bench.shop.preview_card(job, Audience::Shop, bench.now()).await.unwrap();
    let other = bench.shop.preview_card(job, Audience::Shop, bench.now()).await.unwrap();
    assert!(one == other);
}
