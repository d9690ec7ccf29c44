//! `/jobs/{n}/details`: everything that comes later, as one form.

use witnessmark::work::JobForm;

use crate::asked::{Answer, noon};
use crate::shop::{House, full};

/// What a form would send that changes nothing: its fields as the record has them.
async fn as_it_stands(house: &House, job: i64) -> Vec<(String, String)> {
    let view = house.shop.job_form(job, noon()).await.expect("the form");
    let JobForm { title, wants, customer, phone, email, address, unit, rule, numbering, firing_order, .. } = view.form;
    let own = [
        ("saw", view.form.saw.to_string()),
        ("title", title),
        ("wants", wants),
        ("customer", customer),
        ("phone", phone),
        ("email", email),
        ("address", address),
        ("unit", unit),
        ("rule", rule),
        ("numbering", numbering),
        ("firing_order", firing_order),
        ("block_material", view.form.block_material),
        ("head_material", view.form.head_material),
    ];
    let mut fields: Vec<(String, String)> = own.into_iter().map(|(name, text)| (name.to_owned(), text)).collect();
    fields.extend(view.serials.into_iter().map(|serial| (serial.id, serial.serial)));
    fields.extend(view.targets.into_iter().map(|target| (target.key, target.typed)));
    fields.extend(view.facts.into_iter().map(|(fact, text)| (fact.key.to_owned(), text)));
    fields
}

fn with(mut fields: Vec<(String, String)>, typed: &[(&str, &str)]) -> Vec<(String, String)> {
    for (name, text) in typed {
        match fields.iter_mut().find(|(known, _)| known == name) {
            Some((_, value)) => (*text).clone_into(value),
            None => fields.push(((*name).to_owned(), (*text).to_owned())),
        }
    }
    fields
}

async fn send(house: &House, job: i64, fields: &[(String, String)]) -> Answer {
    let fields: Vec<(&str, &str)> = fields.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    house.send(&format!("/jobs/{job}/details"), &fields).await
}

/// Changes what is typed and leaves the rest as it stands.
pub async fn change(house: &House, job: i64, typed: &[(&str, &str)]) -> Answer {
    send(house, job, &with(as_it_stands(house, job).await, typed)).await
}

#[tokio::test]
async fn what_comes_later_is_kept_and_shown_again() {
    let house = House::with_a_job().await;
    let page = house.see("/jobs/1/details").await;
    assert_eq!(page.status, 200);
    for part in ["Serial, crank", "main journal, main by main", "Firing order", "Oil pressure, hot idle", "Guarded"] {
        assert!(page.text.contains(part), "{part}: {}", page.text);
    }
    let typed = [
        ("email", "quill@mail.example"),
        ("firing_order", "1-3-4-2"),
        ("block_material", "grey_iron"),
        ("rule", "guarded"),
        ("bore@cylinders", "3.505"),
        ("main-clearance@mains", ".0023"),
        ("main-journal@main.2", "10 under"),
        ("oil", "10W-40 <zinc>"),
    ];
    // "10 under" needs a size to be under, which stands in the same form.
    let refused = send(&house, 1, &with(as_it_stands(&house, 1).await, &typed)).await;
    assert_eq!(refused.status, 422);
    assert!(refused.text.contains("href=\"#field-main-journal@main.2\""), "{}", refused.text);
    let typed = [typed.as_slice(), &[("main-journal@main.2", "2.4275")]].concat();
    let saved = send(&house, 1, &with(as_it_stands(&house, 1).await, &typed)).await;
    assert_eq!((saved.status.as_u16(), saved.header("location")), (303, "/jobs/1/details?kept=yes"));
    let page = house.see("/jobs/1/details?kept=yes").await.text;
    for part in
        ["value=\"3.505\"", "value=\".0023\"", "value=\"10W-40 &#60;zinc&#62;\"", "firing order 1-3-4-2", "Kept."]
    {
        assert!(page.contains(part), "{part}: {page}");
    }
    assert!(page.contains("<details class=\"whole\" open><summary>main journal"), "a target of one main is unfolded");
    let targets = house.shop.job_form(1, noon()).await.unwrap().targets;
    let clearance = targets.iter().find(|target| target.key == "main-clearance@mains").unwrap();
    assert_eq!(clearance.shown, "2.3\u{a0}thou", "a bare clearance below 0.1 is inches, as at the bench");
}

#[tokio::test]
async fn every_fault_is_said_at_once_and_what_was_typed_is_kept() {
    let house = House::with_a_job().await;
    let typed = [
        ("title", " "),
        ("customer", ""),
        ("unit", "cubit"),
        ("rule", "lenient"),
        ("numbering", "one two"),
        ("firing_order", "1-3-4"),
        ("block_material", "cheese"),
        ("bore@cylinders", "wide <open>"),
        ("stroke@engine", "-3"),
        ("oil", &"x".repeat(700)),
    ];
    let page = send(&house, 1, &with(as_it_stands(&house, 1).await, &typed)).await;
    assert_eq!(page.status, 422);
    for (field, _) in typed {
        assert!(page.text.contains(&format!("<a href=\"#field-{field}\">")), "{field}: {}", page.text);
        assert!(page.text.contains(&format!("id=\"field-{field}\"")), "{field}");
    }
    assert!(page.text.contains("<title>Error: Details") && page.text.contains("value=\"wide &#60;open&#62;\""));
    assert_eq!(house.shop.job(1, noon()).await.unwrap().head.title, "Inline four, 1.6", "nothing of it was kept");
}

#[tokio::test]
async fn somebody_quicker_is_shown_beside_what_was_typed() {
    let house = House::with_a_job().await;
    let mine = with(as_it_stands(&house, 1).await, &[("wants", "Loud"), ("oil", "20W-50")]);
    let theirs = with(as_it_stands(&house, 1).await, &[("wants", "Quieter still"), ("fuel", "95 RON")]);
    assert_eq!(send(&house, 1, &theirs).await.status, 303);
    let page = send(&house, 1, &mine).await;
    assert_eq!(page.status, 409);
    let (both, form) = page.text.split_once("<form").expect("a form");
    for part in ["someone was quicker", "Quieter still", "Loud", "95 RON", "href=\"#field-wants\""] {
        assert!(both.contains(part), "{part}: {both}");
    }
    assert!(form.contains("Loud") && form.contains("20W-50") && !form.contains("95 RON"), "what was typed is kept");
    let saw = page.text.split_once("name=\"saw\" value=\"").and_then(|(_, rest)| rest.split_once('"')).unwrap().0;
    assert_eq!(send(&house, 1, &with(mine, &[("saw", saw)])).await.status, 303, "having seen both, one may save");
    assert_eq!(house.shop.job(1, noon()).await.unwrap().wants, "Loud");
}

#[tokio::test]
async fn the_same_form_sent_twice_is_one_act() {
    let house = House::with_a_job().await;
    let form = with(as_it_stands(&house, 1).await, &[("wants", "Loud"), ("key", &"b".repeat(32))]);
    for _ in 0..2 {
        assert_eq!(send(&house, 1, &form).await.status, 303);
    }
}

#[tokio::test]
async fn an_engine_leaves_the_shop_and_can_come_back() {
    let house = House::with_a_job().await;
    let left = house.send("/jobs/1/close", &[]).await;
    assert_eq!((left.status.as_u16(), left.header("location")), (303, "/jobs/1"));
    assert!(house.see("/jobs/1").await.text.contains("This engine has left the shop."));
    assert!(house.see("/jobs/1/details").await.text.contains("It is in the shop after all"));
    assert_eq!(house.send("/jobs/1/reopen", &[]).await.header("location"), "/jobs/1/details");
    assert!(!house.see("/jobs/1").await.text.contains("has left the shop"));
}

#[tokio::test]
async fn an_unknown_job_or_hostile_text_breaks_nothing() {
    let house = full().await;
    for number in ["9", "0", "-1", "9223372036854775808", "one", "%00"] {
        for page in ["details", "limits", "card", "family", "card/preview/owner.pdf", "card/issues/1.pdf"] {
            let address = format!("/jobs/{number}/{page}");
            assert_eq!(house.see(&address).await.status, 404, "{address}");
        }
        // A form sent to an address that cannot be read is itself unreadable.
        let status = if number.parse::<i64>().is_ok() { 404 } else { 400 };
        for action in ["details", "limits", "close", "reopen", "card/lines", "card/preset", "family"] {
            let address = format!("/jobs/{number}/{action}");
            let fields = [("title", "x"), ("feature", "bore-size"), ("name", "x")];
            assert_eq!(house.send(&address, &fields).await.status, status, "{address}");
        }
    }
    let hostile = "'; DROP TABLE build; --<script>alert(1)</script>\u{202e}\u{0}\u{7}";
    let fields =
        with(as_it_stands(&house, 2).await, &[("wants", hostile), ("owner-note", hostile), ("email", hostile)]);
    assert_eq!(send(&house, 2, &fields).await.status, 303);
    let page = house.see("/jobs/2/details").await.text;
    assert!(page.contains("&#60;script&#62;alert(1)") && !page.contains("<script>alert"), "{page}");
    let long = with(as_it_stands(&house, 2).await, &[("wants", &"long ".repeat(200_000))]);
    assert_eq!(send(&house, 2, &long).await.status, 422);
}

#[tokio::test]
async fn nothing_inline_stands_in_a_page_of_the_office() {
    let house = full().await;
    for page in
        ["/jobs/2/details", "/jobs/2/limits?on=bore-size", "/jobs/2/card", "/jobs/2/family", "/families", "/shop"]
    {
        let page = house.see(page).await.text;
        assert!(page.contains("<body class=\"office\">"), "{page}");
        assert!(!page.contains(" style=") && !page.contains("<style") && !page.contains(" onclick"), "{page}");
    }
}
