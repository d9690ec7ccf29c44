//! What is known of a gauge, at `/shop/gauges/{id}`, and what it does at the bench.

use witnessmark::work::{GaugeForm, LimitForm, SettingForm};

use crate::asked::{ask, get, noon};
use crate::shop::{House, picture};

const MAINS: &str = "/jobs/1/sheets/main-bearings";
const VERTICAL: &str = "main-clearance-vertical@main.0";

/// A gauge in the register; its public id.
async fn kept(house: &House, form: GaugeForm) -> String {
    let name = form.name.clone();
    house.shop.keep_gauge(&house.doing(), None, &form).await.expect("a gauge");
    house.shop.gauges(noon()).await.expect("gauges").into_iter().find(|gauge| gauge.name == name).expect("it").id
}

fn bore_gauge() -> GaugeForm {
    GaugeForm { name: "Dial".into(), kind: "bore_gauge".into(), step: "tenth".into(), ..GaugeForm::default() }
}

#[tokio::test]
async fn the_papers_of_a_gauge_are_kept_and_shown() {
    let house = House::staffed().await;
    let fields = [
        ("name", "Micrometer"),
        ("kind", "outside_micrometer"),
        ("step", "tenth"),
        ("range_low", "2 in"),
        ("range_high", "3"),
        ("resolution", "1 tenth"),
        ("permissible_error", "0.0001"),
        ("calibrated", "2025-11-01"),
        ("due", "2026-11-01"),
    ];
    assert_eq!(house.send("/shop/gauges", &fields).await.status, 303);
    let page = house.see("/shop/gauges").await.text;
    for words in
        ["2\u{a0}in to 3\u{a0}in", "reads to 0.0001\u{a0}in", "error at most ± 0.0001\u{a0}in", "1 November 2026"]
    {
        assert!(page.contains(words), "{words}: {page}");
    }
    let gauge = house.shop.gauges(noon()).await.unwrap().remove(0);
    let form = house.see(&format!("/shop/gauges/{}", gauge.id)).await.text;
    for value in ["2\u{a0}in", "0.0001\u{a0}in", "2025-11-01", "2026-11-01"] {
        assert!(form.contains(&format!("value=\"{value}\"")), "{value}: {form}");
    }
}

#[tokio::test]
async fn every_fault_of_its_papers_is_said_at_once() {
    let house = House::staffed().await;
    let fields = [
        ("name", "Scale"),
        ("kind", "scale"),
        ("step", "thou"),
        ("range_low", "3 g"),
        ("range_high", "2 g"),
        ("resolution", "0"),
        ("permissible_error", "0.1 mm"),
        ("calibrated", "last spring"),
        ("due", "2026-02-30"),
    ];
    let page = house.send("/shop/gauges", &fields).await;
    assert_eq!(page.status, 422);
    for field in ["range_high", "resolution", "permissible_error", "calibrated", "due"] {
        assert!(page.text.contains(&format!("<a href=\"#field-{field}\">")), "{field}: {}", page.text);
    }
    let backwards =
        [("name", "x"), ("kind", "scale"), ("step", "thou"), ("calibrated", "2026-02-02"), ("due", "2026-01-01")];
    let page = house.send("/shop/gauges", &backwards).await;
    assert!(page.status == 422 && page.text.contains("a day after the calibration"), "{}", page.text);
}

#[tokio::test]
async fn a_certificate_is_a_pdf_or_a_picture_and_nothing_else() {
    let house = House::staffed().await;
    let id = kept(&house, bore_gauge()).await;
    let (page, address) = (format!("/shop/gauges/{id}"), format!("/shop/gauges/{id}/certificate"));
    for (name, bytes) in [("words.txt", &b"calibrated, honestly"[..]), ("", b"")] {
        let refused = house.send_files(&address, &[], "certificate", &[(name, bytes)]).await;
        assert_eq!(refused.status, 422, "{name}");
        assert!(refused.text.contains("href=\"#field-certificate\"") && refused.text.contains("None kept."), "{name}");
    }
    let pdf = b"%PDF-1.7 a certificate";
    let done = house.send_files(&address, &[], "certificate", &[("c.pdf", pdf)]).await;
    assert_eq!(done.header("location"), page);
    let text = house.see(&page).await.text;
    let file = text.split("href=\"/files/").nth(1).and_then(|rest| rest.split('"').next()).expect("a link");
    let answer = ask(&house.router, get(&format!("/files/{file}")), "").await;
    assert_eq!(
        (answer.header("content-type"), answer.header("content-disposition")),
        ("application/pdf", "attachment")
    );
    let form = [("name", "Dial"), ("kind", "bore_gauge"), ("step", "thou"), ("saw", "0")];
    assert_eq!(house.send(&page, &form).await.status, 409, "keeping the certificate changed the gauge");
    assert_eq!(house.send_files(&address, &[], "certificate", &[("c.jpg", &picture())]).await.status, 303);
    let unknown = "/shop/gauges/ffffffffffffffffffffffffffffffff/certificate";
    assert_eq!(house.send_files(unknown, &[], "certificate", &[("c.pdf", pdf)]).await.status, 404);
}

#[tokio::test]
async fn a_gauge_past_its_date_is_said_where_it_is_used() {
    let house = House::with_a_job().await;
    let due = GaugeForm { calibrated: "2020-01-01".into(), due: "2021-01-01".into(), ..bore_gauge() };
    kept(&house, due).await;
    assert!(house.see("/shop/gauges").await.text.contains("was due 1 January 2021"));
    let page = house.see(MAINS).await.text;
    assert!(page.contains("past its date of calibration"), "at the entry: {page}");
    house.take(1, VERTICAL, "2.4").await;
    let page = house.see(&format!("{MAINS}?at=main.0")).await.text;
    assert!(page.contains("Dial was past its date of calibration"), "on the finding: {page}");
}

#[tokio::test]
async fn a_gauge_too_coarse_for_the_whole_limit_is_refused_with_the_way_round() {
    let house = House::with_a_job().await;
    kept(&house, GaugeForm { resolution: "1 thou".into(), ..bore_gauge() }).await;
    let refused = house.send(&format!("{MAINS}/readings"), &[("slot", VERTICAL), ("value", "2.4")]).await;
    assert_eq!(refused.status, 422);
    assert!(
        refused.text.contains("Dial reads to 1\u{a0}thou") && refused.text.contains("checked good"),
        "{}",
        refused.text
    );
    let fine = kept(&house, GaugeForm { name: "Fine".into(), resolution: "0.1 thou".into(), ..bore_gauge() }).await;
    let set = SettingForm { gauge: fine, zeroed_on: "ring".into(), ..SettingForm::default() };
    house.shop.set_gauge(&house.doing(), 1, &set).await.expect("a setting");
    assert_eq!(house.send(&format!("{MAINS}/readings"), &[("slot", VERTICAL), ("value", "2.4")]).await.status, 303);
    let page = house.see(MAINS).await.text;
    assert!(
        page.contains("Fine was read to 0.1\u{a0}thou, and the tightest limit it feeds is 0.6\u{a0}thou wide"),
        "{page}"
    );
}

#[tokio::test]
async fn a_gauge_is_named_for_the_first_time_at_the_bench_and_zeroed_in_another() {
    let house = House::with_a_job().await;
    let master =
        kept(&house, GaugeForm { name: "Micrometer".into(), kind: "outside_micrometer".into(), ..bore_gauge() }).await;
    let address = format!("{MAINS}/gauge");
    let fields = [("new_name", "Dial <3>"), ("new_kind", "bore_gauge"), ("zeroed_on", "2.7500"), ("master", &*master)];
    assert_eq!(house.send(&address, &fields).await.status, 303);
    let gauges = house.shop.gauges(noon()).await.unwrap();
    let dial = gauges.iter().find(|gauge| gauge.name == "Dial <3>").expect("the new one");
    assert_eq!(dial.kind.key(), "bore_gauge");
    let in_itself = [("gauge", &*dial.id), ("zeroed_on", "x"), ("master", &*dial.id)];
    let refused = house.send(&address, &in_itself).await;
    assert!(refused.status == 422 && refused.text.contains("href=\"#field-master\""), "{}", refused.text);
    let nothing = house.send(&address, &[("zeroed_on", ""), ("master", "nobody")]).await;
    assert_eq!(nothing.text.matches("<li><a href=\"#field-").count(), 3, "{}", nothing.text);
}

#[tokio::test]
async fn a_finding_says_what_it_is_good_to_and_what_would_settle_it() {
    let house = House::with_a_job().await;
    let limit = LimitForm {
        feature: "main-journal-taper".into(),
        most: "0.3".into(),
        reason: "first set".into(),
        ..LimitForm::default()
    };
    house.shop.set_limit(&house.doing(), 1, &limit).await.expect("a limit");
    house.take(1, VERTICAL, "2.58").await;
    let page = house.see(&format!("{MAINS}?at=main.0")).await.text;
    assert!(page.contains("What these figures are good to, and why") && page.contains("(k = 2): "), "{page}");
    assert!(page.contains("probability of conformity") && page.contains("would settle it"), "{page}");
}
