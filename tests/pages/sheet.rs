//! A sheet at the bench: its addresses, what each place shows, and entry without a script and with one.

use serde_json::Value;

use crate::asked::{Answer, ask, noon, post};
use crate::measured::measured;
use crate::shop::{House, encoded};

const MAINS: &str = "/jobs/1/sheets/main-bearings";
const VERTICAL: &str = "main-clearance-vertical@main.0";

/// Posts a reading as the form of the page does.
async fn enter(house: &House, slot: &str, value: &str, more: &[(&str, &str)]) -> Answer {
    let fields = [&[("slot", slot), ("value", value)], more].concat();
    house.send(&format!("{MAINS}/readings"), &fields).await
}

/// Posts a reading as the script does.
async fn enter_by_script(house: &House, slot: &str, value: &str, more: &[(&str, &str)]) -> (u16, Value) {
    let fields = [&[("slot", slot), ("value", value)], more].concat();
    let request = post(&format!("{MAINS}/readings")).header("accept", "application/json");
    let answer = ask(&house.router, request, encoded(&fields)).await;
    (answer.status.as_u16(), serde_json::from_str(&answer.text).expect("JSON"))
}

/// What a hidden field of the entry form says.
fn hidden<'a>(page: &'a str, name: &str) -> &'a str {
    let form = page.split("data-entry").nth(1).expect("an entry form");
    let from = form.split(&format!("name=\"{name}\" value=\"")).nth(1).expect(name);
    from.split('"').next().expect("a quoted value")
}

#[tokio::test]
async fn every_sheet_opens_empty_and_teaches() {
    let house = House::with_a_job().await;
    for (sheet, title, slot) in [
        ("pistons", "Pistons and pins", "skirt@cylinder.0.0"),
        ("cylinder-bores", "Cylinder bores", "bore-top-thrust@cylinder.0.0"),
        ("main-bearings", "Main bearings", VERTICAL),
    ] {
        let page = house.see(&format!("/jobs/1/sheets/{sheet}")).await;
        assert_eq!(page.status, 200, "{sheet}");
        assert!(page.text.contains(&format!("<h1>{title}</h1>")) && page.text.contains("Nothing read yet"), "{sheet}");
        assert_eq!(hidden(&page.text, "slot"), slot, "entry begins at the first slot");
        assert!(page.text.contains("at once") && page.text.contains("class=\"caution\""), "{sheet}");
        assert!(page.text.contains("job-number\"><span class=\"unseen\">Job </span>1"), "whose engine it is");
        assert!(!page.text.contains(" style=") && !page.text.contains("<style") && !page.text.contains("onclick"));
    }
}

#[tokio::test]
async fn what_is_not_there_is_not_found() {
    let house = House::with_a_job().await;
    house.take(1, VERTICAL, "2.5").await;
    for address in [
        "/jobs/9/sheets/main-bearings",
        "/jobs/1/sheets/valves",
        "/jobs/1/sheets/main-bearings?at=main.9",
        "/jobs/1/sheets/main-bearings?at=%3Cb%3E",
        "/jobs/1/sheets/main-bearings?slot=bore-top-thrust@cylinder.0.0",
        "/jobs/1/sheets/main-bearings?slot=nonsense",
        "/jobs/1/sheets/main-bearings?round=7",
        "/jobs/1/sheets/main-bearings?round=one",
        "/jobs/99999999999999999999/sheets/main-bearings",
    ] {
        assert_eq!(house.see(address).await.status, 404, "{address}");
    }
    for address in [&format!("{MAINS}?kept=99"), &format!("{MAINS}?kept=x"), &format!("{MAINS}?round=1")] {
        assert_eq!(house.see(address).await.status, 200, "{address}");
    }
    assert_eq!(house.see(&format!("{MAINS}/readings")).await.status, 405);
    for (address, fields) in [
        (format!("{MAINS}/readings"), [("slot", "nonsense"), ("value", "2")]),
        (format!("{MAINS}/readings"), [("slot", "skirt@cylinder.0.0"), ("value", "2")]),
        ("/jobs/1/sheets/valves/readings".to_owned(), [("slot", VERTICAL), ("value", "2")]),
        ("/jobs/9/sheets/main-bearings/readings".to_owned(), [("slot", VERTICAL), ("value", "2")]),
        (format!("{MAINS}/rounds/9/count"), [("key", ""), ("", "")]),
        ("/jobs/9/sheets/main-bearings/rounds".to_owned(), [("kind", "trial"), ("", "")]),
    ] {
        assert_eq!(house.send(&address, &fields).await.status, 404, "{address} {fields:?}");
    }
}

#[tokio::test]
async fn entry_walks_on_in_bench_order_without_a_script() {
    let house = House::with_a_job().await;
    let mut address = MAINS.to_owned();
    for (slot, figure) in [
        (VERTICAL, "2.4"),
        ("main-clearance-parting@main.0", "2.6"),
        ("main-clearance-vertical@main.1", ".0025"),
        ("main-clearance-parting@main.1", "0.064 mm"),
    ] {
        let page = house.see(&address).await.text;
        assert_eq!(hidden(&page, "slot"), slot);
        let answer = enter(&house, slot, figure, &[("key", hidden(&page, "key")), ("saw", hidden(&page, "saw"))]).await;
        assert_eq!(answer.status, 303, "{}", answer.text);
        answer.header("location").split('#').next().expect("an address").clone_into(&mut address);
    }
    assert_eq!(address, format!("{MAINS}?slot=main-clearance-vertical@main.2&kept=4"));
    let page = house.see(&address).await.text;
    assert!(page.contains("Kept: main 2, clearance, near the parting line, <strong>2.52\u{a0}thou</strong>"), "{page}");
    assert!(page.contains("autofocus"), "the field takes the focus");
    let at_two = house.see(&format!("{MAINS}?at=main.1")).await.text;
    assert!(at_two.contains("<u>2.5</u>") && at_two.contains("<q class=\"as-typed\">.0025</q>"), "{at_two}");
    assert!(at_two.contains("64\u{a0}µm") && at_two.contains("2 of 2"), "{at_two}");
}

#[tokio::test]
async fn all_mains_at_once_take_one_form() {
    let house = House::with_a_job().await;
    let page = house.see(MAINS).await.text;
    assert!(page.contains("id=\"field-whole\"") && page.contains("value=\"main-clearance@mains\""), "{page}");
    let answer = enter(&house, "main-clearance@mains", "2.1–2.4, all five", &[]).await;
    assert_eq!(answer.header("location"), format!("{MAINS}?at=mains&kept=1#entry"));
    let page = house.see(&format!("{MAINS}?at=main.3")).await.text;
    assert!(page.contains("2.1 to 2.4\u{a0}thou"), "{page}");
    assert_eq!(page.matches("class=\"verdict good\"").count(), 2, "the place and its finding");
    let checked = enter(&house, "main-clearance@main.4", "by feel and strip", &[("checked", "true")]).await;
    assert_eq!(checked.status, 303);
    let page = house.see(&format!("{MAINS}?at=main.4")).await.text;
    assert!(page.contains("checked: by feel and strip") && page.contains("checked good"), "{page}");
}

#[tokio::test]
async fn all_but_those_named_take_one_form() {
    let house = House::with_a_job().await;
    for (text, said) in [
        ("2.3 except 7: 2.2", "there is no 7 among main 1 to main 5"),
        ("2.3 except 3", "enter which one, a colon and its figure"),
        ("2.3 except 3: 2.2 psi", "pressure"),
        ("2.3 except 3: 2.2; 3: 2.1", "is excepted twice"),
    ] {
        let answer = enter(&house, "main-clearance@mains", text, &[]).await;
        assert_eq!(answer.status, 422, "{text}");
        assert!(
            answer.text.contains(said) && answer.text.contains(&format!("value=\"{text}\"")),
            "{text}: {}",
            answer.text
        );
    }
    let answer = enter(&house, "main-clearance@mains", "by feel except 3: 2.2", &[("checked", "true")]).await;
    assert_eq!(answer.status, 303);
    let page = house.see(&format!("{MAINS}?at=main.2")).await.text;
    assert!(page.contains("2.2\u{a0}thou"), "{page}");
    let page = house.see(&format!("{MAINS}?at=main.3")).await.text;
    assert!(page.contains("checked: by feel") && !page.contains("except 3"), "{page}");
}

#[tokio::test]
async fn what_cannot_be_is_said_beside_the_field_with_what_was_typed() {
    let house = House::with_a_job().await;
    for (text, said) in [
        ("", "Enter"),
        ("<script>alert(1)</script>", "no number"),
        ("2.5 psi", "pressure"),
        ("4.3775 in", "cannot be read here"),
        ("-2", "below zero"),
        ("NaN", "no number"),
        ("2.1-2.4", "one figure belongs here"),
    ] {
        let answer = enter(&house, VERTICAL, text, &[]).await;
        assert_eq!(answer.status, 422, "{text}");
        assert!(answer.text.contains("<title>Error: Main bearings"), "{text}");
        assert!(answer.text.contains("<a href=\"#field-value\">") && answer.text.contains("aria-invalid"), "{text}");
        let fault = answer.text.split("id=\"field-value-fault\"").nth(1).expect("a fault").split("</p>").next();
        assert!(fault.expect("its words").to_lowercase().contains(&said.to_lowercase()), "{text}: {fault:?}");
        assert!(!answer.text.contains("<script>alert"), "{text}");
        assert_eq!(hidden(&answer.text, "slot"), VERTICAL);
    }
    let kept = enter(&house, VERTICAL, "2.5 psi", &[]).await.text;
    assert!(kept.contains("name=\"value\" value=\"2.5 psi\""), "{kept}");
    let long = enter(&house, VERTICAL, &"9".repeat(1_000_000), &[]).await;
    assert_eq!(long.status, 422);
    assert!(house.see(MAINS).await.text.contains("Nothing read yet"));
}

#[tokio::test]
async fn the_odd_is_asked_about_and_kept_as_read() {
    let house = House::with_a_job().await;
    for (main, figure) in ["2.4", "2.5", "2.3"].into_iter().enumerate() {
        house.take(1, &format!("main-clearance-vertical@main.{main}"), figure).await;
    }
    let slot = "main-clearance-vertical@main.3";
    let asked = enter(&house, slot, "25", &[]).await;
    assert_eq!(asked.status, 200);
    assert!(asked.text.contains("Not kept yet") && asked.text.contains("Keep 25 as read"), "{}", asked.text);
    assert!(asked.text.contains("main 4") && asked.text.contains("Read again"), "{}", asked.text);
    assert!(!asked.text.contains("<title>Error"), "a question is no error");
    let key = asked.text.split("class=\"ask\"").nth(1).and_then(|form| form.split("name=\"key\" value=\"").nth(1));
    let key = key.and_then(|key| key.split('"').next()).expect("the form's key");
    let kept = enter(&house, slot, "25", &[("key", key), ("asked", "25")]).await;
    assert_eq!(kept.status, 303);
    let page = house.see(&format!("{MAINS}?at=main.3")).await.text;
    assert!(page.contains("looked odd, kept as read") && page.contains("<u>25.0</u>"), "{page}");
}

/// Read again and the same: the page still knows what it asked, and does not ask twice.
#[tokio::test]
async fn what_was_asked_about_and_read_again_the_same_is_kept() {
    let house = House::with_a_job().await;
    for (main, figure) in ["2.4", "2.5", "2.3"].into_iter().enumerate() {
        house.take(1, &format!("main-clearance-vertical@main.{main}"), figure).await;
    }
    let slot = "main-clearance-vertical@main.3";
    let asked = enter(&house, slot, "25", &[]).await.text;
    assert!(
        asked.contains(&format!("href=\"{MAINS}?slot={}&amp;asked=25#entry\"", slot.replace('@', "%40"))),
        "{asked}"
    );
    let page = house.see(&format!("{MAINS}?slot={slot}&asked=25")).await.text;
    assert_eq!(hidden(&page, "asked"), "25");
    assert_eq!(enter(&house, slot, "24", &[("asked", "25")]).await.status, 200, "another value is another question");
    assert_eq!(enter(&house, slot, "25", &[("asked", "25")]).await.status, 303);
    let (_, answer) = enter_by_script(&house, "main-clearance-vertical@main.4", "26", &[("asked", "26")]).await;
    assert_eq!(answer["took"], "kept", "a script says what was asked, too");
}

#[tokio::test]
async fn a_whole_set_is_asked_about_and_answered_in_one_tap() {
    let house = House::with_a_job().await;
    assert!(
        house
            .see(MAINS)
            .await
            .text
            .contains("id=\"part-doubts\" data-part aria-label=\"Questions about whole sets\" hidden")
    );
    for main in 0..5 {
        for spot in ["vertical", "parting"] {
            house.take(1, &format!("main-housing-{spot}@main.{main}"), "2.6902").await;
        }
    }
    let page = house.see(MAINS).await.text;
    let question = "All 10 read 2.6902\u{a0}in, the same to the last digit: was each of them measured?";
    assert!(page.contains(question) && page.contains("It is right as read"), "{page}");
    let doubt = "same:main-housing-vertical@main.0";
    assert!(page.contains(&format!("name=\"doubt\" value=\"{doubt}\"")), "{page}");
    let answer = format!("{MAINS}/rounds/1/answer");
    assert_eq!(house.send(&answer, &[("doubt", "same:nothing")]).await.status, 404);
    assert_eq!(house.send(&format!("{MAINS}/rounds/9/answer"), &[("doubt", doubt)]).await.status, 404);
    assert_eq!(house.send(&answer, &[("doubt", doubt)]).await.header("location"), format!("{MAINS}?round=1"));
    assert!(!house.see(MAINS).await.text.contains(question));
}

#[tokio::test]
async fn a_first_reading_is_covered_until_the_second() {
    let house = House::with_a_job().await;
    let ticked = house.send("/jobs/1/limits/second", &[("second", "main-clearance-vertical")]).await;
    assert_eq!(ticked.header("location"), "/jobs/1/limits?kept=yes#second");
    let limits = house.see("/jobs/1/limits").await.text;
    assert!(limits.contains("value=\"main-clearance-vertical\" checked") && limits.contains("1 chosen"), "{limits}");
    enter(&house, VERTICAL, "2.4", &[]).await;
    let page = house.see(&format!("{MAINS}?at=main.0&kept=1")).await.text;
    assert!(page.contains("taken, covered until the second"), "{page}");
    assert!(!page.contains("<u>2.4</u>") && !page.contains("2.4\u{a0}thou"), "{page}");
    assert!(page.contains("second reading wanted: main 1"), "{page}");
    enter(&house, VERTICAL, "2.9", &[("saw", "1")]).await;
    let page = house.see(&format!("{MAINS}?at=main.0")).await.text;
    assert!(page.contains("<u>2.4</u>") && page.contains("<u>2.9</u>"), "{page}");
    assert!(page.contains("they differ by more than the gauge can tell: read it once more"), "{page}");
    enter(&house, VERTICAL, "2.4", &[("saw", "2")]).await;
    let page = house.see(&format!("{MAINS}?at=main.0")).await.text;
    assert!(page.contains("3 readings: the mean of those that agree counts"), "{page}");
}

#[tokio::test]
async fn two_tablets_leave_a_choice() {
    let house = House::with_a_job().await;
    house.take(1, VERTICAL, "2.4").await;
    let answer = enter(&house, VERTICAL, "2.2", &[("saw", "")]).await;
    assert_eq!(answer.header("location"), format!("{MAINS}?slot={VERTICAL}#entry"));
    let page = house.see(&format!("{MAINS}?slot={VERTICAL}")).await.text;
    assert!(page.contains("Which counts?") && page.contains("undecided"), "{page}");
    for rival in [1, 2] {
        assert!(page.contains(&format!("action=\"/jobs/1/readings/{rival}/choose\"")), "{page}");
    }
    let chosen = house.send("/jobs/1/readings/2/choose", &[]).await;
    assert_eq!(chosen.header("location"), format!("{MAINS}?at=main.0#slot-{VERTICAL}"));
    let page = house.see(&format!("{MAINS}?at=main.0")).await.text;
    assert!(!page.contains("Which counts?") && page.contains("not chosen"), "{page}");
    let late = house.send("/jobs/1/readings/1/choose", &[]).await;
    assert_eq!(late.status, 409);
    assert!(late.text.contains("Choose this reading") && late.text.contains("/jobs/1/readings/1"), "{}", late.text);
}

#[tokio::test]
async fn a_script_is_told_what_became_of_each_reading() {
    let house = House::with_a_job().await;
    let key = ("key", "0123456789abcdef0123456789abcdef");
    let (status, kept) = enter_by_script(&house, VERTICAL, "2.4", &[key]).await;
    assert_eq!((status, &kept["took"], &kept["number"]), (200, &Value::from("kept"), &Value::from(1)));
    assert_eq!(kept["next"], "main-clearance-parting@main.0");
    assert_eq!(enter_by_script(&house, VERTICAL, "2.4", &[key]).await.1, kept, "sent again with the same key");
    assert_eq!(enter_by_script(&house, VERTICAL, "2.2", &[]).await.1["took"], "rival");
    for main in 1..4 {
        house.take(1, &format!("main-clearance-vertical@main.{main}"), "2.4").await;
    }
    let (_, odd) = enter_by_script(&house, "main-clearance-vertical@main.4", "24", &[]).await;
    assert_eq!(odd["took"], "odd");
    assert!(odd["question"].as_str().is_some_and(|question| question.contains("main 5")), "{odd}");
    let (status, refused) = enter_by_script(&house, VERTICAL, "many", &[]).await;
    assert_eq!((status, &refused["took"]), (422, &Value::from("refused")));
    assert!(refused["said"].as_str().is_some_and(|said| said.contains("many")), "{refused}");
    let (status, lost) = enter_by_script(&house, "nonsense", "2", &[]).await;
    assert_eq!(status, 404);
    assert!(lost["said"].is_string(), "{lost}");
}

#[tokio::test]
async fn the_walk_names_each_slot_of_the_route_with_its_intervals() {
    let house = House::with_a_job().await;
    house.take(1, VERTICAL, "2.4").await;
    let page = house.see(MAINS).await.text;
    let walk = page.split("data-walk=\"").nth(1).and_then(|walk| walk.split('"').next()).expect("a walk");
    let walk: Vec<Value> = serde_json::from_str(&walk.replace("&#34;", "\"")).expect("JSON");
    assert_eq!(walk.len(), 10, "two slots at five mains");
    assert_eq!((&walk[0]["open"], &walk[0]["saw"]), (&Value::from(false), &Value::from(1)));
    let accept = walk[2]["accept"].as_array().expect("an interval");
    let thou = |at: usize| accept[at].as_f64().expect("metres") / 2.54e-5;
    assert!((thou(0) - 2.0).abs() < 1e-9 && (thou(1) - 2.6).abs() < 1e-9, "{accept:?}");
    assert_eq!((walk[2]["plus"].as_str(), walk[2]["unit"].as_str()), (Some("2\u{a0}thou"), Some("thou")));
}

#[tokio::test]
async fn rounds_are_begun_compared_and_let_count() {
    let house = House::with_a_job().await;
    house.take(1, VERTICAL, "2.4").await;
    let rounds = format!("{MAINS}/rounds");
    let refused = house.send(&rounds, &[("kind", "sideways"), ("temperature", "hot"), ("torque", "70 <lbf>")]).await;
    assert_eq!(refused.status, 422);
    for field in ["kind", "temperature"] {
        assert!(refused.text.contains(&format!("<a href=\"#field-{field}\">")), "{field}: {}", refused.text);
    }
    assert!(refused.text.contains("value=\"70 &#60;lbf&#62;\""), "what was typed is kept");
    let begun = house.send(&rounds, &[("kind", "trial"), ("torque", "70 lbf·ft"), ("temperature", "70 F")]).await;
    assert_eq!((begun.status.as_u16(), begun.header("location")), (303, MAINS));
    let page = house.see(MAINS).await.text;
    assert!(page.contains("trial, round 2") && page.contains("torque: 70 lbf·ft; parts 21.1"), "{page}");
    enter(&house, VERTICAL, "2.7", &[]).await;
    let page = house.see(MAINS).await.text;
    assert!(page.contains("<table class=\"compared\">") && page.contains("main clearance, vertical, thou"), "{page}");
    let old = house.see(&format!("{MAINS}?round=1")).await.text;
    assert!(
        old.contains("does not count") && old.contains("Let round 1 count") && !old.contains("data-entry"),
        "{old}"
    );
    assert_eq!(house.send(&format!("{rounds}/1/count"), &[]).await.status, 303);
    assert!(house.see(MAINS).await.text.contains("as received, round 1"));
}

#[tokio::test]
async fn a_gauge_is_taken_and_zeroed() {
    let house = measured().await;
    let page = house.see("/jobs/2/sheets/cylinder-bores").await.text;
    assert!(
        page.contains("<strong class=\"huge\" data-armed=\"plus\">refused</strong>"),
        "nothing to add +2 to: {page}"
    );
    let gauges = house.shop.gauges(noon()).await.expect("gauges");
    let dial = &gauges.iter().find(|gauge| gauge.name == "Old dial").expect("a gauge").id;
    let slot = "bore-top-pin@cylinder.0.1";
    let address = "/jobs/2/sheets/cylinder-bores/gauge";
    let refused = house.send(address, &[("gauge", "none"), ("set_to", "large"), ("slot", slot)]).await;
    assert_eq!(refused.status, 422);
    assert_eq!(refused.text.matches("<li><a href=\"#field-").count(), 3, "{}", refused.text);
    let fields = [("gauge", &**dial), ("zeroed_on", "ring <A>"), ("set_to", "3.0000"), ("slot", slot)];
    let set = house.send(address, &fields).await;
    assert_eq!(set.header("location"), format!("/jobs/2/sheets/cylinder-bores?slot={slot}#entry"));
    let page = house.see("/jobs/2/sheets/cylinder-bores").await.text;
    assert!(page.contains("2\u{a0}thou</strong>") && page.contains("over 3.0000\u{a0}in"), "{page}");
    assert!(page.contains("Old dial") && page.contains("ring &#60;A&#62;"), "{page}");
    let hostile = [("gauge", &**dial), ("zeroed_on", "ring"), ("set_to", ""), ("slot", "x\r\nset-cookie: a=b")];
    assert_eq!(house.send(address, &hostile).await.header("location"), "/jobs/2/sheets/cylinder-bores");
}

#[tokio::test]
async fn a_full_sheet_shows_what_follows_and_what_was_struck_out() {
    let house = measured().await;
    let page = house.see(&format!("{MAINS}?at=main.1")).await.text;
    assert!(page.contains("<del>3.0\u{a0}thou</del>") && page.contains("read on the wrong edge"), "{page}");
    assert!(page.contains("2 readings: their mean counts"), "{page}");
    assert!(page.contains("2.75200") || page.contains("2.7520</u>\u{2007}"), "decimal marks stand in line: {page}");
    for words in ["agree within what they can tell", "to the limit", "bearing maker", "± 0.2\u{a0}thou", "53\u{a0}µm"]
    {
        assert!(page.contains(words), "{words}: {page}");
    }
    let accepted = house.see(&format!("{MAINS}?at=main.3")).await.text;
    assert!(accepted.contains("Feeds nothing else") && accepted.contains("class=\"verdict out\""), "{accepted}");
    let bore = house.see("/jobs/1/sheets/cylinder-bores?at=cylinder.1.3").await.text;
    assert!(bore.contains("Shape of cylinder 8") && bore.contains("All of it is read"), "{bore}");
    assert!(bore.contains("accept?finding=bore-size%40cylinder.1.3"), "a finding out leads to a call: {bore}");
    assert!(bore.matches("class=\"touch\"").count() == 12, "every cylinder can be touched");
    assert_eq!(bore.matches("aria-current=\"true\"").count(), 2, "where one is: on the plan, among the rounds");
}

#[tokio::test]
async fn a_sheet_is_light() {
    use axum::http::header::ACCEPT_ENCODING;
    let house = measured().await;
    let address = "/jobs/1/sheets/cylinder-bores?at=cylinder.1.3";
    let packed = ask(&house.router, crate::asked::get(address).header(ACCEPT_ENCODING, "gzip"), "").await;
    assert_eq!(packed.header("content-encoding"), "gzip");
    let style = ask(&house.router, crate::asked::get("/static/witness.css").header(ACCEPT_ENCODING, "gzip"), "").await;
    let mut scripts = 0;
    for name in ["shop.js", "sheet.js"] {
        let script =
            ask(&house.router, crate::asked::get(&format!("/static/{name}")).header(ACCEPT_ENCODING, "gzip"), "").await;
        assert_eq!(script.header("content-encoding"), "gzip");
        scripts += script.bytes;
    }
    assert!(scripts <= 15_000, "{scripts} bytes of script");
    assert!(packed.bytes + scripts + style.bytes < 50_000, "{} bytes", packed.bytes + scripts + style.bytes);
    let page = house.see(address).await.text;
    assert_eq!(page.matches("<script ").count(), 2);
    assert_eq!(
        page.matches("<script ").count(),
        page.matches("<script defer src=\"/static/").count(),
        "nothing inline"
    );
}

#[tokio::test]
async fn hostile_words_stay_words() {
    let house = House::with_a_job().await;
    enter(&house, "main-clearance@mains", "<img src=x onerror=alert(1)>\"'", &[("checked", "true")]).await;
    for at in ["mains", "main.0"] {
        let page = house.see(&format!("{MAINS}?at={at}")).await.text;
        assert!(!page.contains("<img src=x") && page.contains("&#60;img src=x"), "{page}");
    }
}

/// Heights and volumes may each be stated for all pistons: each says what it is of.
#[tokio::test]
async fn what_is_stated_at_once_says_of_what() {
    let house = House::with_a_job().await;
    let address = "/jobs/1/sheets/pistons";
    let page = house.see(address).await.text;
    for of in ["skirt", "compression height", "crown volume"] {
        assert!(page.contains(&format!("<span class=\"capital\">{of}</span>: a figure or a range")), "{of}: {page}");
    }
    let form = [("slot", "piston-volume-stated@cylinders"), ("value", "-5.0"), ("saw", "")];
    assert_eq!(house.send(&format!("{address}/readings"), &form).await.status, 303);
    let page = house.see(address).await.text;
    assert!(page.contains("<span class=\"capital\">crown volume</span> <strong>−5.0\u{a0}cm³</strong>"), "{page}");
}

/// Several forms stand on a sheet's page: a label that is touched must lead to its own field.
#[tokio::test]
async fn every_id_stands_once() {
    let house = measured().await;
    for page in [MAINS, "/jobs/1/sheets/cylinder-bores", "/jobs/1/sheets/pistons"] {
        let text = house.see(page).await.text;
        let mut ids: Vec<&str> = text.split(" id=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect();
        ids.sort_unstable();
        let twice: Vec<_> = ids.windows(2).filter(|pair| pair[0] == pair[1]).map(|pair| pair[0]).collect();
        assert!(twice.is_empty(), "{page}: {twice:?}");
    }
}

#[tokio::test]
async fn a_sheet_is_printed_filled_and_blank() {
    let house = House::with_a_job().await;
    house.take(1, VERTICAL, "2.53").await;
    let filled = house.see(&format!("{MAINS}/paper")).await.text;
    assert!(filled.contains("2.53") && filled.contains("What follows") && filled.contains("main clearance, vertical"));
    let blank = house.see(&format!("{MAINS}/paper?blank=yes")).await.text;
    assert!(!blank.contains("2.53") && !blank.contains("What follows"), "{blank}");
    assert!(blank.contains("Gauge, zeroed on") && blank.contains("class=\"caution\""));
    for way in ["gauge zeroed on the journal", "shells in, cap down", "housing and shells", "plastic strip"] {
        assert!(blank.contains(&format!("aria-label=\"{way}\"")), "{way}");
    }
    assert_eq!(house.see("/jobs/9/sheets/main-bearings/paper").await.status, 404);
    assert_eq!(house.see("/jobs/1/sheets/valves/paper").await.status, 404);
    assert_eq!(house.see(&format!("{MAINS}/paper?round=7")).await.status, 404);
}
