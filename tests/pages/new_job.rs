//! `/jobs/new`: a job opened as on the phone.

use crate::shop::House;

const ON_THE_PHONE: [(&str, &str); 7] = [
    ("name", "R. Quill"),
    ("phone", "555 0101"),
    ("title", "Vee eight, 5 litres"),
    ("wants", "Quiet <and> strong"),
    ("layout", "vee"),
    ("cylinders", "8"),
    ("mains", "5"),
];

#[tokio::test]
async fn the_page_asks_and_a_job_is_opened() {
    let house = House::staffed().await;
    let page = house.see("/jobs/new").await;
    assert_eq!(page.status, 200);
    for part in
        ["name=\"title\"", "value=\"opposed\"", "name=\"cylinders\" value=\"12\"", "name=\"unit\"", "type=\"tel\""]
    {
        assert!(page.text.contains(part), "{part}");
    }
    let opened = house.send("/jobs/new", &ON_THE_PHONE).await;
    assert_eq!((opened.status.as_u16(), opened.header("location")), (303, "/jobs/1"));
    let job = house.see("/jobs/1").await.text;
    for part in ["Vee eight, 5 litres", "R. Quill", "555 0101", "vee 8, 5 mains", "Quiet &#60;and&#62; strong"] {
        assert!(job.contains(part), "{part}: {job}");
    }
}

#[tokio::test]
async fn every_fault_is_said_at_once_and_what_was_typed_is_kept() {
    let house = House::staffed().await;
    let typed = [("name", "R. Quill"), ("cylinders", "none"), ("unit", "cubit"), ("engine_of", ""), ("kind", "sale")];
    let page = house.send("/jobs/new", &typed).await;
    assert_eq!(page.status, 422);
    for field in ["title", "layout", "cylinders", "mains", "unit", "kind"] {
        assert!(page.text.contains(&format!("href=\"#field-{field}\"")), "{field}: {}", page.text);
        assert!(page.text.contains(&format!("id=\"field-{field}\"")), "{field}");
    }
    assert!(page.text.contains("value=\"R. Quill\"") && page.text.contains("<title>Error: New job"), "{}", page.text);
    assert!(house.shop.floor("", crate::asked::noon()).await.unwrap().rows.is_empty());
}

#[tokio::test]
async fn another_number_than_those_to_tap_can_be_typed() {
    let house = House::staffed().await;
    let typed = [("title", "Nine"), ("layout", "inline"), ("other_cylinders", "9"), ("cylinders", "4"), ("mains", "9")];
    assert_eq!(house.send("/jobs/new", &typed).await.status, 303);
    assert!(house.see("/jobs/1").await.text.contains("inline 9, 9 mains"));
    let typed = [("title", "Odd vee"), ("layout", "vee"), ("other_cylinders", "7"), ("mains", "4")];
    let refused = house.send("/jobs/new", &typed).await;
    assert_eq!(refused.status, 422);
    assert!(refused.text.contains("href=\"#field-cylinders\"") && refused.text.contains("value=\"7\""));
}

#[tokio::test]
async fn the_same_form_sent_twice_opens_one_job() {
    let house = House::staffed().await;
    let key = "a".repeat(32);
    let form: Vec<_> = ON_THE_PHONE.into_iter().chain([("key", &*key)]).collect();
    let sent = [house.send("/jobs/new", &form).await, house.send("/jobs/new", &form).await];
    assert!(sent.iter().all(|answer| answer.status == 303 && answer.header("location") == "/jobs/1"));
    assert_eq!(house.shop.floor("", crate::asked::noon()).await.unwrap().rows.len(), 1);
}

#[tokio::test]
async fn an_engine_comes_back_for_a_refresh() {
    let house = House::with_a_job().await;
    let page = house.see("/jobs/new?engine_of=1&kind=refresh").await.text;
    assert!(page.contains("value=\"1\"") && page.contains("<details open>"), "{page}");
    let opened = house.send("/jobs/new", &[("title", "Again"), ("engine_of", "1"), ("kind", "refresh")]).await;
    assert_eq!(opened.header("location"), "/jobs/2");
    assert!(house.see("/jobs/2").await.text.contains("inline 4, 5 mains"));
    let nowhere = house.send("/jobs/new", &[("title", "Again"), ("engine_of", "99"), ("kind", "refresh")]).await;
    assert_eq!(nowhere.status, 422);
    assert!(nowhere.text.contains("href=\"#field-engine_of\""));
}
