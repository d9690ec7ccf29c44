//! `/jobs/{n}/limits`: what holds, where it comes from, what was set before.

use crate::asked::noon;
use crate::shop::House;

const ON_BORES: [(&str, &str); 6] = [
    ("feature", "bore-size"),
    ("least", "3.505"),
    ("most", "3.5055 in"),
    ("source", "piston <maker>"),
    ("condition", "20 °C"),
    ("reason", "first set"),
];

#[tokio::test]
async fn without_limits_the_page_teaches() {
    let house = House::staffed().await;
    let new = witnessmark::work::NewJob {
        title: "One".into(),
        layout: "inline".into(),
        cylinders: "1".into(),
        mains: "2".into(),
        ..Default::default()
    };
    house.shop.open_job(&house.doing(), &new).await.unwrap();
    let page = house.see("/jobs/1/limits").await;
    assert_eq!(page.status, 200);
    for part in ["No limit is set on this job.", "Nothing is adopted silently", "href=\"/jobs/1/limits?on=bore-size\""]
    {
        assert!(page.text.contains(part), "{part}: {}", page.text);
    }
    assert!(!page.text.contains("action=\"/jobs/1/limits\""), "nothing is being set: {}", page.text);
}

#[tokio::test]
async fn a_limit_is_set_changed_and_lifted_and_its_past_stays() {
    let house = House::with_a_job().await;
    let form = house.see("/jobs/1/limits?on=bore-size").await.text;
    assert!(form.contains("A bare figure is in.") && form.contains("cylinder 4</option>"), "{form}");
    let set = house.send("/jobs/1/limits", &ON_BORES).await;
    assert_eq!((set.status.as_u16(), set.header("location")), (303, "/jobs/1/limits?kept=yes"));
    let page = house.see("/jobs/1/limits?kept=yes").await.text;
    for part in ["3.5050 to 3.5055\u{a0}in", "piston &#60;maker&#62;", "20 °C", "first set", "today 12:00 by Renée Øst"]
    {
        assert!(page.contains(part), "{part}: {page}");
    }
    let change = house.see("/jobs/1/limits?on=bore-size&place=").await.text;
    assert!(change.contains("value=\"3.5050 in\"") && change.contains("Lift it"), "{change}");
    let place = [("feature", "bore-size"), ("place", "cylinder.0.2"), ("most", "3.50575"), ("reason", "sleeved")];
    assert_eq!(house.send("/jobs/1/limits", &place).await.status, 303);
    let lift = [
        ("feature", "bore-size"),
        ("place", ""),
        ("least", "rubbish"),
        ("reason", "sheet was wrong"),
        ("deed", "lift"),
    ];
    assert_eq!(house.send("/jobs/1/limits", &lift).await.status, 303, "figures do not count where it is lifted");
    let limits = house.shop.limits(1, noon()).await.unwrap();
    let of_bores: Vec<_> = limits.limits.iter().filter(|limit| limit.title == "bore size").collect();
    assert_eq!(of_bores.len(), 1);
    assert_eq!((&*of_bores[0].place, &*of_bores[0].figures), ("cylinder 3", "at most 3.50575\u{a0}in"));
    assert_eq!(limits.past.len(), 4, "with the one the job began with");
    let page = house.see("/jobs/1/limits").await.text;
    assert!(page.contains("sheet was wrong") && page.contains("<strong>lifted</strong>"), "{page}");
}

#[tokio::test]
async fn a_clearance_can_be_limited_by_journal_diameter() {
    let house = House::with_a_job().await;
    let form = house.see("/jobs/1/limits?on=main-clearance-vertical&place=main.1").await.text;
    assert!(
        form.contains("by journal diameter, thou/in") && form.contains("<option value=\"main.1\" selected>"),
        "{form}"
    );
    let limit = [
        ("feature", "main-clearance-vertical"),
        ("place", "main.1"),
        ("by", "diameter"),
        ("least", "0.75"),
        ("most", "1"),
        ("reason", "my practice"),
    ];
    assert_eq!(house.send("/jobs/1/limits", &limit).await.status, 303);
    assert!(house.see("/jobs/1/limits").await.text.contains("0.75 to 1.00\u{a0}thou/in"));
}

#[tokio::test]
async fn every_fault_is_said_at_once_and_what_was_typed_is_kept() {
    let house = House::with_a_job().await;
    let wrong = [
        ("feature", "main-clearance-vertical"),
        ("place", "cylinder.0.0"),
        ("least", "plenty"),
        ("most", "2.0 to 2.6 thou"),
        ("source", "<i>me</i>"),
        ("reason", " "),
    ];
    let page = house.send("/jobs/1/limits", &wrong).await;
    assert_eq!(page.status, 422);
    for field in ["place", "least", "most", "reason"] {
        assert!(page.text.contains(&format!("<a href=\"#field-{field}\">")), "{field}: {}", page.text);
        assert!(page.text.contains(&format!("id=\"field-{field}\"")), "{field}");
    }
    assert!(page.text.contains("value=\"plenty\"") && page.text.contains("value=\"&#60;i&#62;me&#60;/i&#62;\""));
    for (wrong, field) in [
        (vec![("feature", "bore-size"), ("reason", "x")], "least"),
        (vec![("feature", "bore-size"), ("least", "4"), ("most", "3"), ("reason", "x")], "least"),
        (vec![("feature", "bore-size"), ("least", "-1"), ("reason", "x")], "least"),
        (vec![("feature", "bore-taper"), ("by", "diameter"), ("most", "1"), ("reason", "x")], "least"),
        (vec![("feature", "bore-spread"), ("place", "cylinder.0.0"), ("most", "1"), ("reason", "x")], "place"),
        (vec![("feature", "bore-size"), ("deed", "lift")], "reason"),
    ] {
        let page = house.send("/jobs/1/limits", &wrong).await;
        assert_eq!(page.status, 422, "{wrong:?}");
        assert!(page.text.contains(&format!("<a href=\"#field-{field}\">")), "{wrong:?}: {}", page.text);
    }
    assert_eq!(house.shop.limits(1, noon()).await.unwrap().past.len(), 1, "nothing of it was kept");
}

#[tokio::test]
async fn what_takes_no_limit_is_refused() {
    let house = House::with_a_job().await;
    for on in ["main-routes", "oil-flow", "%3Cb%3E"] {
        assert_eq!(house.see(&format!("/jobs/1/limits?on={on}")).await.status, 404, "{on}");
    }
    for feature in ["", "main-routes", "<b>"] {
        let page = house.send("/jobs/1/limits", &[("feature", feature), ("most", "1"), ("reason", "x")]).await;
        assert_eq!(page.status, 422, "{feature}");
        assert!(page.text.contains("Choose what the limit is on"), "{}", page.text);
    }
}

/// A piston may stand above the deck, a pin be held: their limits and targets take a sign, a clearance's does not.
#[tokio::test]
async fn what_may_be_below_zero_takes_a_limit_and_a_target_below_it() {
    let house = House::with_a_job().await;
    let set =
        |feature, least| [("feature", feature), ("least", least), ("most", "5 thou"), ("reason", "maker's sheet")];
    assert_eq!(house.send("/jobs/1/limits", &set("deck-clearance", "-2 thou")).await.status, 303);
    assert!(house.see("/jobs/1/limits").await.text.contains("−2.0 to 5.0\u{a0}thou"));
    assert_eq!(house.send("/jobs/1/limits", &set("piston-clearance", "-2 thou")).await.status, 422);
    let view = house.shop.job_form(1, noon()).await.expect("its details");
    let mut form = view.form;
    form.targets.insert("deck-clearance@cylinders".to_owned(), "-2.5".to_owned());
    house.shop.change_job(&house.doing(), 1, &form).await.expect("a target below zero");
    let shown = house.shop.job_form(1, noon()).await.expect("its details").targets;
    let deck = shown.iter().find(|target| target.key == "deck-clearance@cylinders").expect("the target");
    assert_eq!(deck.shown, "−2.5\u{a0}thou");
}
