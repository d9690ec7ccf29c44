//! `/enter` on a tablet, and `/shop/tablets` on the shop's computer.

use axum::http::Method;
use tokio::task::JoinSet;

use crate::lan::{LAN, Networked, PIN, asked};
use crate::shop::House;

#[tokio::test]
async fn without_a_pin_no_tablet_comes_in() {
    let networked = Networked::with_a_job().await;
    let mut tablet = networked.tablet(30);
    let page = tablet.see("/enter").await;
    assert!(page.text.contains("No PIN is set yet") && !page.text.contains("name=\"pin\""), "{}", page.text);
    for pin in ["", "0000", &networked.code()] {
        let sent = tablet.enter(pin).await;
        assert_eq!((sent.status.as_u16(), sent.cookie("witnessmark-session")), (200, None), "{pin}");
    }
    assert_eq!(tablet.see("/").await.status, 303);
}

#[tokio::test]
async fn the_shops_computer_shows_the_address_as_text_and_as_a_code() {
    let networked = Networked::with_a_job().await;
    let page = networked.house.see("/shop/tablets").await;
    assert_eq!(page.status, 200);
    for address in [format!("http://{LAN}/"), "http://witnessmark.local:8040/".to_owned()] {
        assert!(page.text.contains(&format!("<strong>{address}</strong>")), "{}", page.text);
        assert!(page.text.contains(&format!("It says: {address}</desc>")), "{address}");
    }
    assert!(page.text.contains("None is set yet") && !page.text.contains(&networked.code()), "{}", page.text);
    assert!(networked.house.see("/shop").await.text.contains("href=\"/shop/tablets\""));
}

#[tokio::test]
async fn the_first_pin_asks_for_the_code_of_the_start() {
    let networked = Networked::with_a_job().await;
    let code = networked.code();
    for proof in ["", "0000 0000", &code[..8]] {
        let refused = networked.house.send("/shop/tablets/pin", &[("proof", proof), ("pin", PIN)]).await;
        assert_eq!(refused.status, 422, "{proof}");
        assert!(refused.text.contains("href=\"#field-proof\"") && refused.text.contains("id=\"field-proof\""));
    }
    for (pin, said) in [("", "4 to 12 digits"), ("12345678901234", "4 to 12 digits"), ("7777", "not all the same")] {
        let refused = networked.house.send("/shop/tablets/pin", &[("proof", &code), ("pin", pin)]).await;
        assert_eq!(refused.status, 422, "{pin}");
        assert!(refused.text.contains("href=\"#field-pin\"") && refused.text.contains(said), "{}", refused.text);
    }
    assert!(!networked.house.shop.has_pin().await.unwrap());
    let (typed, key) = (code.replace(' ', ""), "0".repeat(32));
    let twice = [("key", &*key), ("proof", &typed), ("pin", " 2580 ")];
    for _ in 0..2 {
        let set = networked.house.send("/shop/tablets/pin", &twice).await;
        assert_eq!((set.status.as_u16(), set.header("location")), (303, "/shop/tablets?kept=yes"));
    }
    assert!(networked.house.see("/shop/tablets?kept=yes").await.text.contains("The PIN is set."));
    assert_eq!(networked.tablet(30).enter("2580").await.status, 303);
    let again = networked.house.send("/shop/tablets/pin", &[("proof", &code), ("pin", "8642")]).await;
    assert_eq!(again.status, 422, "the code works once");
}

#[tokio::test]
async fn a_pin_is_changed_by_who_knows_it() {
    let networked = Networked::with_a_pin().await;
    let mut inside = networked.tablet(30);
    assert_eq!(inside.enter(PIN).await.status, 303);
    let refused = networked.house.send("/shop/tablets/pin", &[("proof", "9999"), ("pin", "8642")]).await;
    assert!(refused.status == 422 && refused.text.contains("href=\"#field-proof\""), "{}", refused.text);
    let changed = networked.house.send("/shop/tablets/pin", &[("proof", PIN), ("pin", "8642")]).await;
    assert_eq!(changed.status, 303);
    assert_eq!(inside.see("/").await.status, 200, "who is in stays in");
    let mut late = networked.tablet(31);
    assert_eq!((late.enter(PIN).await.status.as_u16(), late.enter("8642").await.status.as_u16()), (422, 303));
}

#[tokio::test]
async fn a_tablet_enters_once_and_goes_on_to_where_it_was_going() {
    let networked = Networked::with_a_pin().await;
    let mut tablet = networked.tablet(30);
    let sent_away = tablet.see("/jobs/1/steps/check-in?a=1&b=2+3%25").await;
    assert_eq!(sent_away.header("location"), "/enter?back=/jobs/1/steps/check-in?a=1%26b=2%2B3%2525");
    let page = tablet.see(sent_away.header("location")).await;
    assert_eq!(page.status, 200);
    assert!(page.text.contains("value=\"/jobs/1/steps/check-in?a=1&#38;b=2+3%25\""), "{}", page.text);
    assert!(page.text.contains("inputmode=\"numeric\"") && page.text.contains("<label for=\"field-pin\">PIN</label>"));
    assert!(!page.text.contains("onpaste") && !page.text.contains("disabled"), "{}", page.text);
    let fields = [("pin", " 2580 "), ("name", "Bench <left>"), ("back", "/jobs/1")];
    let entered = tablet.send("/enter", &fields).await;
    assert_eq!((entered.status.as_u16(), entered.header("location")), (303, "/jobs/1"));
    let set = entered.headers.get_all("set-cookie").iter().map(|set| set.to_str().unwrap());
    let set = set.into_iter().find(|set| set.starts_with("witnessmark-session=")).expect("a session");
    for part in ["HttpOnly", "SameSite=Strict", "Path=/", "Max-Age="] {
        assert!(set.contains(part), "{part}: {set}");
    }
    assert_eq!(tablet.see("/jobs/1").await.status, 200);
    assert_eq!(tablet.see("/enter?back=/jobs/1").await.header("location"), "/jobs/1");
    let list = networked.house.see("/shop/tablets").await.text;
    assert!(list.contains("Bench &#60;left&#62;") && list.contains("last seen today 12:00"), "{list}");
    for back in ["//shop.example", "https://shop.example", "/\\shop.example", ""] {
        let entered = networked.tablet(31).send("/enter", &[("pin", PIN), ("back", back)]).await;
        assert_eq!(entered.header("location"), "/", "{back}");
    }
}

#[tokio::test]
async fn a_session_belongs_to_its_device() {
    let networked = Networked::with_a_pin().await;
    let (mut tablet, mut thief) = (networked.tablet(30), networked.tablet(31));
    assert_eq!(tablet.enter(PIN).await.status, 303);
    assert_eq!(thief.see("/enter").await.status, 200);
    thief.copy("witnessmark-session", &tablet);
    assert_eq!(thief.see("/").await.status, 303);
    for forged in ["0", &"0".repeat(32), "' OR 1=1 --"] {
        let request = asked(Method::GET, "/").header("cookie", format!("witnessmark-session={forged}"));
        assert_eq!(networked.tablet(32).ask(request, "").await.status, 303, "{forged}");
    }
    assert_eq!(tablet.see("/").await.status, 200);
}

#[tokio::test]
async fn a_wrong_pin_and_a_long_name_are_said_beside_their_fields() {
    let networked = Networked::with_a_pin().await;
    let mut tablet = networked.tablet(30);
    let wrong = tablet.enter("<b>2581").await;
    assert_eq!((wrong.status.as_u16(), wrong.cookie("witnessmark-session")), (422, None));
    assert!(
        wrong.text.contains("<title>Error: ")
            && wrong.text.contains("Not let in yet")
            && wrong.text.contains("href=\"#field-pin\""),
        "{}",
        wrong.text
    );
    assert!(wrong.text.contains("id=\"field-pin\"") && !wrong.text.contains("<b>2581"));
    let long = tablet.send("/enter", &[("pin", PIN), ("name", &"x".repeat(41))]).await;
    assert_eq!((long.status.as_u16(), long.cookie("witnessmark-session")), (422, None));
    assert!(long.text.contains("href=\"#field-name\"") && long.text.contains("at most 40"), "{}", long.text);
    let large = tablet.send("/enter", &[("pin", &"1".repeat(9_000))]).await;
    assert_eq!(large.status, 413);
}

#[tokio::test]
async fn guesses_are_counted_and_slowed() {
    let networked = Networked::with_a_pin().await;
    let mut guesser = networked.tablet(30);
    for guess in ["1111", "1112", "1113", "1114", "1115"] {
        assert_eq!(guesser.enter(guess).await.status, 422, "{guess}");
    }
    for guess in ["1116", PIN] {
        let slowed = guesser.enter(guess).await;
        assert_eq!((slowed.status.as_u16(), slowed.header("retry-after")), (429, "30"), "{guess}");
        assert!(slowed.text.contains("wait 30 s and try again") && slowed.text.contains("id=\"field-pin\""));
        assert_eq!(slowed.cookie("witnessmark-session"), None);
    }
    let page = networked.house.see("/shop/tablets").await.text;
    assert!(page.contains("<strong>5 wrong tries</strong>"), "{page}");
    assert_eq!(networked.tablet(31).enter(PIN).await.status, 303, "another is let in meanwhile");
    assert_eq!(guesser.enter(PIN).await.status, 429, "which helps the guesser nothing");
}

#[tokio::test]
async fn of_a_hundred_guesses_at_once_five_are_looked_at() {
    let networked = Networked::with_a_pin().await;
    let mut guesses = JoinSet::new();
    for guess in 0..100 {
        let mut guesser = networked.tablet(30);
        guesses.spawn(async move { guesser.enter(&format!("{}", 3000 + guess)).await.status.as_u16() });
    }
    let statuses = guesses.join_all().await;
    let count = |wanted| statuses.iter().filter(|status| **status == wanted).count();
    assert_eq!((count(422), count(429)), (5, 95));
}

#[tokio::test]
async fn one_is_ended_or_all_are() {
    let networked = Networked::with_a_pin().await;
    let mut tablets = [networked.tablet(30), networked.tablet(31), networked.tablet(32)];
    for tablet in &mut tablets {
        assert_eq!(tablet.enter(PIN).await.status, 303);
    }
    let page = networked.house.see("/shop/tablets").await.text;
    for name in ["Tablet 1", "Tablet 2", "Tablet 3"] {
        assert!(page.contains(name), "{name}: {page}");
    }
    assert_eq!(networked.house.send("/shop/tablets/2/end", &[]).await.header("location"), "/shop/tablets");
    let mut seen = Vec::new();
    for tablet in &mut tablets {
        seen.push(tablet.see("/").await.status.as_u16());
    }
    assert_eq!(seen, [200, 303, 200]);
    assert!(!networked.house.see("/shop/tablets").await.text.contains("Tablet 2"));
    for id in ["2", "99", "x", "-1"] {
        assert_eq!(
            networked.house.send(&format!("/shop/tablets/{id}/end"), &[]).await.status.as_u16(),
            match id {
                "x" => 400,
                _ => 404,
            },
            "{id}"
        );
    }
    assert_eq!(networked.house.send("/shop/tablets/end", &[]).await.status, 303);
    assert_eq!(tablets[0].see("/").await.status, 303);
    assert_eq!(tablets[1].enter(PIN).await.status, 303);
    assert!(networked.house.see("/shop/tablets").await.text.contains("Tablet 4"));
}

#[tokio::test]
async fn a_tablet_rules_over_no_tablets() {
    let networked = Networked::with_a_pin().await;
    let mut tablet = networked.tablet(30);
    assert_eq!(tablet.enter(PIN).await.status, 303);
    let rows = networked.rows().await;
    let page = tablet.see("/shop/tablets").await;
    assert!(page.status == 403 && page.text.contains("On the shop&#39;s computer only"), "{}", page.text);
    for address in ["/shop/tablets/pin", "/shop/tablets/end", "/shop/tablets/1/end"] {
        let sent = tablet.send(address, &[("proof", PIN), ("pin", "8642")]).await;
        assert_eq!(sent.status, 403, "{address}");
    }
    assert_eq!(networked.rows().await, rows);
    assert_eq!(networked.house.see("/enter").await.header("location"), "/shop/tablets");
}

#[tokio::test]
async fn at_home_the_page_says_how_to_let_tablets_in() {
    let house = House::staffed().await;
    let page = house.see("/shop/tablets").await;
    assert!(page.status == 200 && page.text.contains("--lan") && !page.text.contains("name=\"pin\""), "{}", page.text);
    assert_eq!(house.send("/shop/tablets/pin", &[("proof", "x"), ("pin", PIN)]).await.status, 404);
}

/// Who reads the record's file finds a slow hash of the PIN and digests of the sessions.
#[tokio::test]
async fn neither_pin_nor_session_is_kept_as_it_is() {
    let networked = Networked::with_a_pin().await;
    let changed = networked.house.send("/shop/tablets/pin", &[("proof", PIN), ("pin", "864297531864")]).await;
    assert_eq!(changed.status, 303);
    let entered = networked.tablet(30).enter("864297531864").await;
    let token =
        entered.cookie("witnessmark-session").expect("a session").split_once('=').expect("a value").1.to_owned();
    let mut look = networked.house.shop.record().look().await.unwrap();
    let (hash,): (String,) = sqlx::query_as("SELECT hash FROM shop_pin").fetch_one(&mut *look).await.unwrap();
    assert!(hash.starts_with("$argon2id$v=19$m="), "{hash}");
    let (session,): (String,) = sqlx::query_as("SELECT session FROM tablet").fetch_one(&mut *look).await.unwrap();
    assert!(session.len() == 64 && session != token);
    let past: Vec<(Option<String>, Option<String>)> =
        sqlx::query_as("SELECT before, after FROM history").fetch_all(&mut *look).await.unwrap();
    let past = format!("{past:?}");
    assert!(!past.contains("argon2") && !past.contains(&session), "{past}");
    drop(look);
    networked.house.shop.close().await;
    for file in std::fs::read_dir(networked.house.folder.path()).unwrap() {
        let path = file.unwrap().path();
        if path.is_file() {
            let bytes = std::fs::read(&path).unwrap();
            for secret in [token.as_bytes(), b"864297531864"] {
                assert!(!bytes.windows(secret.len()).any(|part| part == secret), "{}", path.display());
            }
        }
    }
}
