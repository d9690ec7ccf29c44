//! The temperatures a round is read at: noted in one tap, and what follows from them.

use witnessmark::work::ShopSettings;

use crate::shop::House;

const MAINS: &str = "/jobs/1/sheets/main-bearings";
const VERTICAL: &str = "main-clearance-vertical@main.0";
const JOURNAL: &str = "main-journal-front-0@main.0";
const SHELLS_IN: &str = "main-shell-bore-vertical@main.0";

async fn of_aluminium() -> House {
    let house = House::with_a_job().await;
    let view = house.shop.job_form(1, crate::asked::noon()).await.expect("a form");
    let form = witnessmark::work::JobForm { block_material: "cast_aluminium".into(), ..view.form };
    house.shop.change_job(&house.doing(), 1, &form).await.expect("changed");
    house
}

/// 2.7508 in at 86 °F (30 °C) is 2.7508·(1 + 11.5·10⁻⁵)/(1 + 21.5·10⁻⁵) = 2.75052 in at 20 °C: 3.0 thou of clearance are 2.7.
#[tokio::test]
async fn one_tap_brings_what_was_read_to_20_degrees() {
    let house = of_aluminium().await;
    house.take(1, JOURNAL, "2.7478").await;
    house.take(1, SHELLS_IN, "2.7508").await;
    let page = house.see(&format!("{MAINS}?at=main.0")).await.text;
    assert!(page.contains("Not noted: sizes stand as they were read.") && page.contains("84\u{a0}°F"), "{page}");
    let noted = house.send(&format!("{MAINS}/temperatures"), &[("usual", "86\u{a0}°F"), ("slot", VERTICAL)]).await;
    assert_eq!(noted.header("location"), format!("{MAINS}?slot={VERTICAL}#entry"));
    let page = house.see(&format!("{MAINS}?at=main.0")).await.text;
    assert!(page.contains("parts 30.0\u{a0}°C"), "{page}");
    assert!(page.contains("brought to 20 °C; as read 3.0\u{a0}thou") && page.contains("2.7 <span"), "{page}");
}

#[tokio::test]
async fn part_and_gauge_apart_and_every_fault_at_once() {
    let house = House::with_a_job().await;
    let address = format!("{MAINS}/temperatures");
    let apart = [("parts_at", "24 °C"), ("gauge_at", "21,5 °C")];
    assert_eq!(house.send(&address, &apart).await.status, 303);
    let page = house.see(MAINS).await.text;
    assert!(page.contains("parts 24.0\u{a0}°C, gauge 21.5\u{a0}°C"), "{page}");
    assert!(page.contains("as received, round 1"), "the round begins with it: {page}");
    let wrong = house.send(&address, &[("parts_at", "<hot>"), ("gauge_at", "400 °C")]).await;
    assert_eq!(wrong.status, 422);
    for words in ["#field-parts_at", "#field-gauge_at", "&#60;hot&#62;"] {
        assert!(wrong.text.contains(words), "{words}: {}", wrong.text);
    }
    let alone = house.send(&address, &[("gauge_at", "21 °C")]).await;
    assert!(alone.status == 422 && alone.text.contains("beside the gauge"), "{}", alone.text);
    assert_eq!(house.send(&address, &[]).await.status, 303, "nothing noted any more");
    assert!(house.see(MAINS).await.text.contains("Not noted"));
    assert_eq!(house.send("/jobs/9/sheets/main-bearings/temperatures", &apart).await.status, 404);
}

#[tokio::test]
async fn a_new_round_is_read_at_the_shops_temperature() {
    let house = House::with_a_job().await;
    let settings = house.shop.settings().await.expect("settings");
    let saw = house.shop.settings_seen().await.expect("seen");
    let warm = ShopSettings { temperature: "75 °F".into(), ..settings.clone() };
    house.shop.change_settings(&house.doing(), saw, &warm).await.expect("changed");
    house.take(1, VERTICAL, "2.4").await;
    assert!(house.see(MAINS).await.text.contains("parts 23.9\u{a0}°C"));
    let own = [("kind", "trial"), ("temperature", "20 °C")];
    assert_eq!(house.send(&format!("{MAINS}/rounds"), &own).await.status, 303);
    assert!(house.see(MAINS).await.text.contains("parts 20.0\u{a0}°C"));
    let page = house.send("/shop", &[("temperature", "a summer’s day"), ("zone", "UTC"), ("paper", "a4")]).await;
    assert!(page.status == 422 && page.text.contains("href=\"#field-temperature\""), "{}", page.text);
}
