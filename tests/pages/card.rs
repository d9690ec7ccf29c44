//! `/jobs/{n}/card`: for whom each line is, what each reader would get, and what was issued, byte for byte.

use std::collections::BTreeMap;
use std::process::Command;

use sha2::{Digest, Sha256};
use witnessmark::work::{Audience, NewEntry, SheetKey, ShopSettings, SlotKey};

use crate::asked::{get, noon};
use crate::shop::{House, full};

/// What a program says about a PDF; it must be content with it.
fn said(program: &str, arguments: &[&str], pdf: &[u8]) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("card.pdf");
    std::fs::write(&path, pdf).expect("a file");
    let mut command = Command::new(program);
    command.args(arguments).arg(&path);
    if program == "pdftotext" {
        command.arg("-");
    }
    let output = command.output().unwrap_or_else(|error| panic!("{program} is needed for this test: {error}"));
    assert!(output.status.success(), "{program}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("text")
}

/// The words of a PDF, spaced by single spaces.
fn words(pdf: &[u8]) -> String {
    said("pdftotext", &["-layout"], pdf).split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The document behind an address.
async fn document(house: &House, address: &str) -> (String, String, Vec<u8>) {
    use axum::body::{Body, to_bytes};
    use tower::ServiceExt;
    let request = get(address).body(Body::empty()).expect("a request");
    let response = house.router.clone().oneshot(request).await.expect("an answer");
    assert_eq!(response.status(), 200, "{address}");
    let header = |name: &str| response.headers()[name].to_str().expect("ASCII").to_owned();
    let (kind, disposition) = (header("content-type"), header("content-disposition"));
    (kind, disposition, to_bytes(response.into_body(), usize::MAX).await.expect("a body").to_vec())
}

async fn preview(house: &House, job: i64, reader: &str) -> Vec<u8> {
    document(house, &format!("/jobs/{job}/card/preview/{reader}.pdf")).await.2
}

/// An inline four with all that a card can say: every reading of its mains and bores, one main out and accepted.
async fn rich() -> House {
    let house = House::with_a_job().await;
    let shop = &house.shop;
    let settings = ShopSettings {
        name: "Thimble & Ring".into(),
        address: "14 Millrace Yard".into(),
        phone: "555 0142".into(),
        paper: "letter".into(),
        zone: "UTC".into(),
        warranty: "Twelve months on our work.".into(),
        temperature: String::new(),
        rule: "simple".into(),
    };
    shop.change_settings(&house.doing(), 0, &settings).await.expect("settings");
    let view = shop.job_form(1, noon()).await.expect("a form");
    let mut form = view.form.clone();
    form.firing_order = "1-3-4-2".into();
    form.serials.insert(view.serials[0].id.clone(), "WD4-0117é".into());
    for (key, typed) in [("bore@cylinders", "3.5"), ("stroke@engine", "3.25"), ("main-journal@mains", "2.4375")] {
        form.targets.insert(key.into(), typed.into());
    }
    for (key, text) in
        [("oil", "10W-40, 5.5 L"), ("timing", "34° ± 1°"), ("run-in-1", "Prime first."), ("run-in-2", "Half throttle.")]
    {
        form.facts.insert(key.into(), text.into());
    }
    shop.change_job(&house.doing(), 1, &form).await.expect("details");
    for (main, figure) in ["2.2", "2.3", "2.4", "3.1"].iter().enumerate() {
        house.take(1, &format!("main-clearance-vertical@main.{main}"), figure).await;
    }
    for height in ["top", "middle", "bottom"] {
        for (way, size) in [("thrust", "3.5012"), ("pin", "3.5010")] {
            let entry = NewEntry {
                sheet: SheetKey::CylinderBores,
                slot: SlotKey::parse(&format!("bore-{height}-{way}@cylinder.0.0")),
                text: size.into(),
                checked: false,
                saw: None,
                as_read: true,
                gauge: None,
            };
            shop.take(&house.doing(), 1, &entry).await.expect("a reading");
        }
    }
    let key = witnessmark::work::FindingKey::parse("main-clearance-vertical@main.3");
    let call = witnessmark::work::NewCall {
        because: "the crank is nitrided".into(),
        for_owner: "Main 4 runs a little wide, by choice.".into(),
    };
    shop.accept(&house.doing(), 1, &key, &call).await.expect("a call");
    shop.sign_step(&house.doing(), 1, "check-in", None, "").await.expect("signed");
    house
}

#[tokio::test]
async fn every_line_says_its_words_or_where_to_enter_them() {
    let page = rich().await.see("/jobs/1/card").await;
    assert_eq!(page.status, 200);
    for part in [
        "10W-40, 5.5 L",
        "125.1\u{a0}in³",
        "not known yet: <a href=\"/jobs/1/details#field-fuel\">",
        "not known yet: <a href=\"/jobs/1/sheets/pistons\">",
        "name=\"line.oil\" value=\"owner\" checked",
        "name=\"line.measured-mains\" value=\"shop\" checked",
        "src=\"/jobs/1/card/preview/owner.pdf\"",
        "No card has left the shop yet.",
        "Issue number 1",
    ] {
        assert!(page.text.contains(part), "{part}: {}", page.text);
    }
    let details = rich().await.see("/jobs/1/details").await.text;
    for line in page.text.split("/details#").skip(1) {
        let target = line.split('"').next().unwrap();
        assert!(details.contains(&format!("id=\"{target}\"")), "{target} is not on the page of details");
    }
}

#[tokio::test]
async fn a_choice_is_kept_for_the_job_or_for_the_shop() {
    let house = rich().await;
    let kept = house.send("/jobs/1/card/lines", &[("line.oil", "shop"), ("reader", "tuner")]).await;
    assert_eq!((kept.status.as_u16(), kept.header("location")), (303, "/jobs/1/card?reader=tuner&kept=lines"));
    let page = house.see("/jobs/1/card?reader=tuner&kept=lines").await.text;
    assert!(
        page.contains("name=\"line.oil\" value=\"shop\" checked") && page.contains("the shop's preset: owner"),
        "{page}"
    );
    assert!(page.contains("src=\"/jobs/1/card/preview/tuner.pdf\""));
    let other = house.open("Another", "inline", 4, 5).await;
    let line = async |key: &str| {
        let card = house.shop.card(other, noon()).await.unwrap();
        card.lines.into_iter().find(|line| line.key == key).unwrap().audience
    };
    assert_eq!(line("oil").await, Audience::Owner);
    let preset = house.send("/jobs/1/card/preset", &[("line.oil", "shop"), ("line.plugs", "tuner")]).await;
    assert_eq!(preset.header("location"), "/jobs/1/card?reader=owner&kept=preset");
    assert_eq!((line("oil").await, line("plugs").await), (Audience::Shop, Audience::Tuner));
}

#[tokio::test]
async fn a_wrong_reader_is_refused() {
    let house = rich().await;
    let page = house.send("/jobs/1/card/lines", &[("line.oil", "everyone"), ("line.fuel", "tuner")]).await;
    assert_eq!(page.status, 422);
    assert!(
        page.text.contains("href=\"#field-line.oil\"") && page.text.contains("id=\"field-line.oil\""),
        "{}",
        page.text
    );
    assert!(page.text.contains("name=\"line.fuel\" value=\"tuner\" checked"), "what was chosen is kept");
    let card = house.shop.card(1, noon()).await.unwrap();
    assert!(card.lines.iter().all(|line| line.audience == line.preset), "nothing of it was kept");
    assert_eq!(house.send("/jobs/1/card/issue", &[("reader", "everyone")]).await.status, 422);
    for address in ["card?reader=everyone", "card/preview/everyone.pdf", "card/preview/owner", "card/preview/owner.txt"]
    {
        assert_eq!(house.see(&format!("/jobs/1/{address}")).await.status, 404, "{address}");
    }
    assert!(house.shop.card(1, noon()).await.unwrap().issues.is_empty());
}

#[tokio::test]
async fn the_owners_card_says_what_is_his_and_nothing_else() {
    let house = rich().await;
    let owner = words(&preview(&house, 1, "owner").await);
    for part in [
        "Thimble & Ring",
        "555 0142",
        "Inline four, 1.6",
        "Quill & Sons <of Harrow",
        "WD4-0117é",
        "125.1 in³",
        "3.50 × 3.25 in",
        "firing order 1-3-4-2",
        "10W-40, 5.5 L",
        "34° ± 1°",
        "Prime first.",
        "Twelve months on our work.",
        "Main 4 runs a little wide, by choice.",
        "The makers' instructions, local codes",
        "for the owner",
        "Page 1 of 1",
    ] {
        assert!(owner.contains(part), "{part}: {owner}");
    }
    for hidden in ["limit", "clearance", "verdict", "thou", "good", "nitrided", "accepted", "Renée", "3.5012", "Fuel"]
    {
        assert!(!owner.contains(hidden), "{hidden}: {owner}");
    }
}

#[tokio::test]
async fn the_shops_card_has_the_figures_of_the_record() {
    let house = rich().await;
    let shop = words(&preview(&house, 1, "shop").await);
    for part in [
        "for the shop only",
        "Main bearing clearance",
        "vertical, thou",
        "limits 2.0–2.6",
        "the crank is nitrided",
        "3.1 thou, limit 2.0 to 2.6",
        "Check in Renée Øst 2 March 2026",
        "out, accepted",
        "Largest less smallest",
    ] {
        assert!(shop.to_lowercase().contains(&part.to_lowercase()), "{part}: {shop}");
    }
    // Each main in its row, by hand: a journal of 2.4375 in, 2.2 thou over it is 0.90 thou/in.
    for row in ["1 2.2 0.90", "2 2.3 0.94", "3 2.4 0.98", "4 3.1 1.27"] {
        assert!(shop.contains(row), "{row}: {shop}");
    }
    // The bore's mean of 3.5012 thrice and 3.5010 thrice, and a fifth of a thou out of round.
    assert!(shop.contains("1 3.5011 0.2 0.0"), "{shop}");
    assert!(!shop.contains("within limits"), "{shop}");
}

#[tokio::test]
async fn a_hidden_figure_is_left_out_and_never_changed() {
    let house = rich().await;
    let chosen = [("line.measured-mains", "owner"), ("line.timing", "shop"), ("line.firing-order", "shop")];
    let chosen: BTreeMap<String, Audience> = chosen
        .into_iter()
        .map(|(line, word)| (line["line.".len()..].to_owned(), Audience::from_word(word).unwrap()))
        .collect();
    house.shop.choose_card_lines(&house.doing(), 1, &chosen).await.unwrap();
    let owner = words(&preview(&house, 1, "owner").await);
    assert!(owner.contains("4 3.1 1.27"), "{owner}");
    for hidden in ["2.0–2.6", "limits", "verdict", "out,", "34°", "1-3-4-2", "firing order"] {
        assert!(!owner.contains(hidden), "{hidden}: {owner}");
    }
}

#[tokio::test]
async fn a_card_is_a_sound_document_and_always_the_same() {
    let house = full().await;
    for job in [1, 2, 3] {
        for reader in ["owner", "tuner", "shop"] {
            let pdf = preview(&house, job, reader).await;
            assert!(said("qpdf", &["--check"], &pdf).contains("No syntax or stream encoding errors found"));
            let fonts = said("pdffonts", &[], &pdf);
            assert!(fonts.lines().skip(2).all(|font| font.contains("yes yes yes")), "{fonts}");
            assert!(pdf == preview(&house, job, reader).await, "job {job}, {reader}: other bytes");
        }
    }
    let (kind, disposition, _) = document(&house, "/jobs/2/card/preview/tuner.pdf").await;
    assert_eq!(kind, "application/pdf");
    assert_eq!(disposition, "inline; filename=\"job-2-card-preview-tuner.pdf\"");
}

#[tokio::test]
async fn an_issued_card_is_frozen_and_names_the_one_before() {
    let house = rich().await;
    let key = "d".repeat(32);
    for _ in 0..2 {
        let issued = house.send("/jobs/1/card/issue", &[("reader", "owner"), ("key", &key)]).await;
        assert_eq!(issued.header("location"), "/jobs/1/card?reader=owner&kept=issue#issues");
    }
    assert_eq!(house.shop.card(1, noon()).await.unwrap().issues.len(), 1, "sent twice, it is one issue");
    let (kind, disposition, first) = document(&house, "/jobs/1/card/issues/1.pdf").await;
    assert_eq!(kind, "application/pdf");
    assert_eq!(disposition, "attachment; filename=\"job-1-card-1-owner.pdf\"");
    let page = house.see("/jobs/1/card").await.text;
    let digest = Sha256::digest(&first).iter().fold(String::new(), |text, byte| text + &format!("{byte:02x}"));
    assert!(page.contains(&digest) && page.contains("as the record stands") && !page.contains("has changed since"));

    house.take(1, "main-clearance-vertical@main.4", "2.5").await;
    let page = house.see("/jobs/1/card").await.text;
    assert!(page.contains("The record has changed since number 1, for the owner, was issued."), "{page}");
    assert_eq!(house.send("/jobs/1/card/issue", &[("reader", "owner")]).await.status, 303);
    let page = house.see("/jobs/1/card").await.text;
    assert!(page.contains("takes the place of number 1") && !page.contains("has changed since"), "{page}");
    let (_, _, second) = document(&house, "/jobs/1/card/issues/2.pdf").await;
    assert!(words(&second).contains("number 2") && words(&second).contains("takes the place of number 1"));
    assert!(document(&house, "/jobs/1/card/issues/1.pdf").await.2 == first, "byte for byte");
}

#[tokio::test]
async fn an_issue_of_one_reader_says_nothing_of_another() {
    let house = rich().await;
    house.send("/jobs/1/card/issue", &[("reader", "owner")]).await;
    house.take(1, "main-clearance-vertical@main.4", "2.5").await;
    house.send("/jobs/1/card/issue", &[("reader", "tuner")]).await;
    let page = house.see("/jobs/1/card").await.text;
    assert!(page.contains("has changed since number 1, for the owner"), "{page}");
    assert!(!page.contains("has changed since number 2") && !page.contains("takes the place"), "{page}");
}

#[tokio::test]
async fn an_unknown_issue_is_not_found_and_a_spoilt_file_not_handed_out() {
    let house = rich().await;
    house.send("/jobs/1/card/issue", &[("reader", "shop")]).await;
    for file in ["0.pdf", "2.pdf", "-1.pdf", "1", "one.pdf", "1.PDF", "99999999999999999999.pdf", "..%2F1.pdf"] {
        assert_eq!(house.see(&format!("/jobs/1/card/issues/{file}")).await.status, 404, "{file}");
    }
    let sha256 = house.shop.card(1, noon()).await.unwrap().issues[0].sha256.clone();
    let path = house.folder.path().join("files").join(&sha256[..2]).join(&sha256);
    let mut bytes = std::fs::read(&path).unwrap();
    bytes[100] ^= 1;
    std::fs::write(&path, bytes).unwrap();
    assert_eq!(house.see("/jobs/1/card/issues/1.pdf").await.status, 500, "not as it was issued");
}
