//! `/shop/gauges/{id}/studies` and `/shop/studies/{id}`.

use witnessmark::work::{StudyEntry, StudyForm};

use crate::shop::{House, full};
use crate::statements::statements;

/// The public id of the shop's only gauge.
pub async fn gauge(house: &House) -> String {
    house.shop.gauges(crate::asked::noon()).await.unwrap().remove(0).id
}

/// A study of the full shop's gauge by two people, and its public id.
pub async fn planned(house: &House, parts: &str, trials: &str) -> String {
    let hands = house.shop.hands().await.unwrap();
    let form = StudyForm {
        measured: "Wrist pins <new>".into(),
        unit: "in".into(),
        tolerance: "0.0005".into(),
        people: hands.iter().take(2).map(|hand| hand.id.clone()).collect(),
        parts: parts.into(),
        trials: trials.into(),
    };
    house.shop.plan_study(&house.doing(), &gauge(house).await, &form).await.expect("a study")
}

/// Reads every place that is still open: parts a tenth apart, trials and people wander by half of it.
pub async fn read_all(house: &House, study: &str) {
    let view = house.shop.study(study, crate::asked::noon()).await.unwrap();
    for spot in view.spots.iter().filter(|spot| spot.reading.is_none()) {
        let tenths = spot.part * 20 + spot.place * 2 + (spot.part + spot.trial) % 3;
        let entry = StudyEntry {
            spot: spot.key.clone(),
            text: format!("0.{}", 86_600 + tenths),
            saw: None,
            why: String::new(),
        };
        house.shop.take_in_study(&house.doing(), study, &entry).await.expect("a reading");
    }
}

#[tokio::test]
async fn a_study_is_planned_read_and_says_what_it_found() {
    let house = full().await;
    let gauge = gauge(&house).await;
    let list = format!("/shop/gauges/{gauge}/studies");
    assert!(house.see(&format!("/shop/gauges/{gauge}")).await.text.contains(&format!("href=\"{list}\"")));
    let page = house.see(&list).await.text;
    assert!(page.contains("No study of this gauge yet.") && page.contains("value=\"10\""), "{page}");

    let tick = format!("person-{}", house.hand);
    let plan = [("measured", "Pins <b>"), ("unit", "in"), ("parts", "2"), ("trials", "2"), (&*tick, "yes")];
    let planned = house.send(&list, &plan).await;
    let address = planned.header("location").to_owned();
    assert!(planned.status == 303 && address.starts_with("/shop/studies/"), "{}", planned.text);
    assert!(
        house
            .see(&list)
            .await
            .text
            .contains("Pins &#60;b&#62;</a> <span class=\"soft\">1 person × 2 parts × 2 trials; 0 of 4")
    );

    let page = house.see(&address).await.text;
    assert!(page.contains("Pins &#60;b&#62;") && page.contains("0 of 4 taken") && page.contains("autofocus"), "{page}");
    for (spot, value) in [("1.1.1", "0.8661"), ("2.1.1", "0.8671"), ("1.1.2", "0.8663")] {
        let kept = house.send(&address, &[("spot", spot), ("value", value)]).await;
        assert_eq!((kept.status.as_u16(), kept.header("location")), (303, &*format!("{address}?kept={spot}#entry")));
    }
    let page = house.see(&format!("{address}?kept=1.1.2")).await.text;
    assert!(
        page.contains("Kept: part 1") && page.contains("0.8663\u{a0}in") && page.contains("reads part 2"),
        "{page}"
    );
    assert!(
        !page.contains("0.8661") && !page.contains("What it says"),
        "figures are hidden until all are taken: {page}"
    );
    house.send(&address, &[("spot", "2.1.2"), ("value", "0.8671")]).await;
    let page = house.see(&address).await.text;
    // Deviations −0.1, 0.1, 0, 0 thou in two cells: √(0.02 / 2) thou with two degrees of freedom.
    for part in [
        "What it says",
        "repeats to 0.100\u{a0}thou (standard deviation, 2 degrees of freedom)",
        "0.8661",
        "<svg",
        "One person read",
    ] {
        assert!(page.contains(part), "{part}: {page}");
    }
}

#[tokio::test]
async fn a_whole_study_shows_both_methods_and_its_tolerance() {
    let house = full().await;
    let study = planned(&house, "3", "3").await;
    let address = format!("/shop/studies/{study}");
    read_all(&house, &study).await;
    let page = house.see(&address).await.text;
    for part in [
        "Wrist pins &#60;new&#62;",
        "tolerance 0.0005\u{a0}in",
        "by analysis of variance",
        "by average and range",
        "of the tolerance",
        "classes of these parts",
        "Where the scatter comes from",
        "The working",
        "from memory",
    ] {
        assert!(page.contains(part), "{part}: {page}");
    }
}

#[tokio::test]
async fn every_fault_of_a_plan_is_said_at_once() {
    let house = full().await;
    let list = format!("/shop/gauges/{}/studies", gauge(&house).await);
    let wrong =
        [("measured", ""), ("unit", "furlong"), ("parts", "<script>"), ("trials", "1"), ("person-nobody", "yes")];
    let page = house.send(&list, &wrong).await;
    assert_eq!(page.status, 422);
    for field in ["measured", "unit", "people", "parts", "trials"] {
        assert!(page.text.contains(&format!("<a href=\"#field-{field}\">")), "{field}: {}", page.text);
        assert!(page.text.contains(&format!("id=\"field-{field}\"")), "{field}");
    }
    assert!(page.text.contains("value=\"&#60;script&#62;\""), "typed text is kept");
    let tick = format!("person-{}", house.hand);
    for tolerance in ["-1", "0", "wide", "1 g"] {
        let plan = [("measured", "x"), ("unit", "mm"), ("tolerance", tolerance), ("parts", "2"), ("trials", "2")];
        let page = house.send(&list, &[plan.as_slice(), &[(&*tick, "yes")]].concat()).await;
        assert_eq!(page.status, 422, "{tolerance}");
        assert!(page.text.contains("<a href=\"#field-tolerance\">") && page.text.contains("checked"), "{}", page.text);
    }
}

#[tokio::test]
async fn every_fault_of_a_reading_is_said_and_its_text_kept() {
    let house = full().await;
    let address = format!("/shop/studies/{}", planned(&house, "2", "2").await);
    for value in ["", "<img src=x>", "1 to 2", "3 g", "1e400"] {
        let page = house.send(&address, &[("spot", "1.1.1"), ("value", value)]).await;
        assert_eq!(page.status, 422, "{value}");
        assert!(page.text.contains("<a href=\"#field-value\">") && !page.text.contains("<img"), "{}", page.text);
    }
    for spot in ["", "3.1.1", "1.3.1", "1.1.3", "0.1.1", "x", "1.1.99999999999999999999"] {
        let answer = house.send(&address, &[("spot", spot), ("value", "1")]).await;
        assert_eq!(answer.status, 404, "{spot}");
        assert_eq!(house.see(&format!("{address}?at={spot}")).await.status == 404, !spot.is_empty(), "{spot}");
    }
}

#[tokio::test]
async fn a_correction_keeps_the_old_figure_and_two_tablets_do_not_overwrite_each_other() {
    let house = full().await;
    let address = format!("/shop/studies/{}", planned(&house, "2", "2").await);
    assert_eq!(house.send(&address, &[("spot", "1.1.1"), ("value", "0.8661")]).await.status, 303);
    let late = house.send(&address, &[("spot", "1.1.1"), ("value", "0.8669")]).await;
    assert_eq!(late.status, 409);
    assert!(late.text.contains("0.8661") && late.text.contains("0.8669"), "{}", late.text);
    let page = house.see(&format!("{address}?at=1.1.1")).await.text;
    assert!(page.contains("name=\"saw\" value=\"1\"") && page.contains("It says <strong>0.8661"), "{page}");
    let unreasoned = house.send(&address, &[("spot", "1.1.1"), ("value", "x"), ("saw", "1")]).await;
    assert_eq!(unreasoned.status, 422);
    assert!(unreasoned.text.contains("#field-why") && unreasoned.text.contains("#field-value"), "both faults at once");
    let correction = [("spot", "1.1.1"), ("value", "+2"), ("saw", "1"), ("why", "dial <misread>")];
    assert_eq!(house.send(&address, &correction).await.status, 303);
    let page = house.see(&address).await.text;
    assert!(
        page.contains("<del>0.8661\u{a0}in</del> <strong>0.0002\u{a0}in</strong>"),
        "a bare +2 is two tenths: {page}"
    );
    assert!(page.contains("dial &#60;misread&#62;"));
}

#[tokio::test]
async fn the_same_post_twice_is_one_reading() {
    let house = full().await;
    let study = planned(&house, "2", "2").await;
    let address = format!("/shop/studies/{study}");
    let post = [("key", "00112233445566778899aabbccddeeff"), ("spot", "1.1.1"), ("value", "0.8661")];
    for _ in 0..2 {
        assert_eq!(house.send(&address, &post).await.status, 303);
    }
    let view = house.shop.study(&study, crate::asked::noon()).await.unwrap();
    assert_eq!((view.read(), view.corrected.len()), (1, 0));
}

#[tokio::test]
async fn a_withdrawn_study_leaves_the_list_and_takes_nothing() {
    let house = full().await;
    let study = planned(&house, "2", "2").await;
    let address = format!("/shop/studies/{study}");
    assert_eq!(house.send(&format!("{address}/withdraw"), &[]).await.status, 303);
    assert!(house.see(&address).await.text.contains("This study is withdrawn."));
    assert_eq!(house.send(&address, &[("spot", "1.1.1"), ("value", "1")]).await.status, 404);
    let list = format!("/shop/gauges/{}/studies", gauge(&house).await);
    assert!(!house.see(&list).await.text.contains("Wrist pins"));
}

#[tokio::test]
async fn an_unknown_study_is_not_found() {
    let house = full().await;
    for id in ["ffffffffffffffffffffffffffffffff", "1", "%00", "<script>"] {
        let id = id.replace('<', "%3C").replace('>', "%3E");
        for address in [format!("/shop/studies/{id}"), format!("/shop/gauges/{id}/studies")] {
            assert_eq!(house.see(&address).await.status, 404, "{address}");
            assert_eq!(house.send(&address, &[("spot", "1.1.1"), ("value", "1")]).await.status, 404, "{address}");
        }
        assert_eq!(house.send(&format!("/shop/studies/{id}/withdraw"), &[]).await.status, 404);
    }
}

#[tokio::test]
async fn a_long_study_asks_no_more_of_the_record_than_a_short_one() {
    let (small, large) = (full().await, full().await);
    let (short, long) = (planned(&small, "2", "2").await, planned(&large, "12", "3").await);
    for _ in 0..5 {
        planned(&large, "4", "2").await;
    }
    read_all(&large, &long).await;
    let list = async |house: &House| format!("/shop/gauges/{}/studies", gauge(house).await);
    for (of_small, of_large, most) in [
        (format!("/shop/studies/{short}"), format!("/shop/studies/{long}"), 7),
        (list(&small).await, list(&large).await, 7),
    ] {
        let (few, many) = (statements(&small, &of_small).await, statements(&large, &of_large).await);
        assert!(few > 0, "{of_small}: the counter counts nothing");
        assert_eq!(few, many, "{of_large} asks more of a long study");
        assert!(many <= most, "{of_large}: {many} statements");
    }
}
