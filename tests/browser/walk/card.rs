//! The spec card: chosen line by line, looked at, issued, fetched again, and issued anew when the record has changed.

use std::fs;
use std::path::Path;
use std::process::Command;

use sha2::{Digest, Sha256};

use super::{begin_as, enter, limit, take_in};
use crate::chromium::Screen;
use crate::page::Touch;
use crate::shop::Shop;

/// What a reader finds on an issued card, and its digest.
async fn issued(shop: &Shop, number: u32) -> (String, String) {
    let bytes = shop.bytes(&format!("/jobs/1/card/issues/{number}.pdf")).await;
    let digest = Sha256::digest(&bytes).iter().map(|byte| format!("{byte:02x}")).collect::<Vec<_>>().concat();
    (printed(&shop.file("card.pdf"), &bytes), digest)
}

fn printed(file: &Path, bytes: &[u8]) -> String {
    fs::write(file, bytes).expect("a card");
    let said = Command::new("pdftotext").arg("-layout").arg(file).arg("-").output().expect("pdftotext");
    String::from_utf8_lossy(&said.stdout).split_whitespace().collect::<Vec<_>>().join(" ")
}

#[tokio::test(flavor = "multi_thread")]
async fn a_card_is_chosen_issued_and_issued_anew() {
    let (shop, page) = begin_as("Bente", Screen::Desk).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    page.press("Details").await;
    page.fill("Serial, block", "WB 4417").await;
    page.fill("bore", "4.375").await;
    page.fill("stroke", "4.25").await;
    page.fill("Oil", "10W-40 with zinc").await;
    page.press("Save the details").await;
    page.see("Kept.").await;
    limit(&page, "main clearance, vertical", "2.2", "2.9").await;
    page.go("/jobs/1/sheets/main-bearings").await;
    enter(&page, "main 1 clearance, vertical", "2.5").await;
    page.see("Kept: main 1, clearance, vertical, 2.5").await;

    page.go("/jobs/1/card").await;
    page.see("No card has left the shop yet").await;
    page.look_over("card-maker", Touch::Office).await;
    page.press("Issue for the owner").await;
    page.see("Issued and frozen").await;
    page.see("Number 1, for the owner").await;
    let (card, digest) = issued(&shop, 1).await;
    page.see(&digest).await;
    for words in ["Mira Holt", "WB 4417", "511.1", "10W-40 with zinc"] {
        assert!(card.contains(words), "{words:?} not in {card}");
    }
    assert!(!card.contains("2.5 thou") && !card.contains("2.2 to 2.9"), "figures that nobody ticked: {card}");

    page.within("Main bearing clearance").await.choose("owner").await;
    page.press("Keep these choices").await;
    page.see("Kept for this job's cards").await;
    page.go("/jobs/1/details").await;
    page.fill("Oil", "15W-50 with zinc").await;
    page.press("Save the details").await;
    page.see("Kept.").await;
    page.press("To the card").await;
    page.see("The record has changed since number 1").await;
    page.look_over("card-outgrown", Touch::Office).await;
    page.press("Issue for the owner").await;
    page.see("Number 2, for the owner").await;
    page.see("takes the place of number 1").await;
    let (second, _) = issued(&shop, 2).await;
    for words in ["15W-50 with zinc", "2.5"] {
        assert!(second.contains(words), "{words:?} not in {second}");
    }
    assert_eq!(issued(&shop, 1).await, (card, digest), "what was issued stays as it was");
    page.look_over("card-issued", Touch::Office).await;
}
