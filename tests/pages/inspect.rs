//! `/jobs/{n}/parts/{part}/inspect` and its label: every point answered, the wrong ones put apart with a label, the rest
//! inspected.

use crate::shop::House;

/// The address of eight rod bolts of job 1, all of them here.
async fn bolts(house: &House) -> String {
    house.send("/jobs/1/parts", &[("description", "Rod bolts <8>"), ("quantity", "8")]).await;
    let list = house.see("/jobs/1/parts").await.text;
    let from = list.find("href=\"/jobs/1/parts/").expect("a row") + 6;
    let part = list[from..].split('"').next().expect("an address").to_owned();
    assert_eq!(house.send(&format!("{part}/inspect"), &[]).await.status, 422, "nothing of it is here");
    let came = [("kind", "received"), ("of", "8"), ("day", "2026-02-01")];
    assert_eq!(house.send(&format!("{part}/moves"), &came).await.status, 303);
    part
}

/// Every point as the page has it, answered good but for one.
fn answered(page: &str, not_so: Option<(&str, &str)>) -> Vec<(String, String)> {
    let points = page.split("name=\"what-").skip(1).map(|rest| {
        let (place, rest) = rest.split_once("\" value=\"").expect("a place");
        (place.to_owned(), rest.split('"').next().expect("its words").to_owned())
    });
    points
        .flat_map(|(place, words)| {
            let wrong = not_so.filter(|(point, _)| *point == words).map(|(_, why)| why.to_owned());
            let is = if wrong.is_some() { "not-so" } else { "good" };
            [
                (format!("what-{place}"), words),
                (format!("is-{place}"), is.to_owned()),
                (format!("word-{place}"), wrong.unwrap_or_default()),
            ]
        })
        .collect()
}

async fn send(house: &House, address: &str, fields: &[(String, String)]) -> crate::asked::Answer {
    let fields: Vec<(&str, &str)> = fields.iter().map(|(name, text)| (&**name, &**text)).collect();
    house.send(address, &fields).await
}

#[tokio::test]
async fn what_is_wrong_is_put_apart_with_a_label_and_the_rest_is_inspected() {
    let house = House::with_a_job().await;
    let part = bolts(&house).await;
    assert!(house.see("/receiving").await.text.contains(&format!("{part}/inspect")));
    assert!(house.see(&part).await.text.contains("Look over the 8 that came"));
    assert_eq!(house.see(&format!("{part}/label")).await.status, 404, "nothing lies apart");
    let inspect = format!("{part}/inspect");
    let page = house.see(&inspect).await.text;
    for point in ["Count", "Part number", "Undamaged in transit", "Length and thread", "Certificate", "for fasteners"] {
        assert!(page.contains(point), "{point}: {page}");
    }
    let mut fields = answered(&page, Some(("Part number", "")));
    fields.retain(|(name, text)| !(name.starts_with("is-") && text == "good"));
    fields.push(("wrong".to_owned(), "nine & more".to_owned()));
    let bad = send(&house, &inspect, &fields).await;
    assert_eq!(bad.status, 422);
    for said in [
        "Count: say whether it is good or not so",
        "Part number: say what is wrong with it",
        "enter how many are put apart, from 0 to 8",
        "value=\"nine &#38; more\"",
        "<title>Error: ",
    ] {
        assert!(bad.text.contains(said), "{said}: {}", bad.text);
    }
    let mut fields = answered(&page, Some(("Part number", "RB-7 <short>")));
    fields.push(("wrong".to_owned(), "2".to_owned()));
    assert_eq!(send(&house, &inspect, &fields).await.header("location"), part);
    let page = house.see(&part).await.text;
    for said in ["2 refused, apart", "Part number: RB-7 &#60;short&#62;", "6 inspected", "Quarantine label"] {
        assert!(page.contains(said), "{said}: {page}");
    }
    let page = house.see(&inspect).await.text;
    assert!(page.contains("Nothing to look at") && page.contains("not so"), "{page}");
    assert!(house.see("/receiving").await.text.contains(&format!("{part}/label")));
    let page = house.see(&format!("{part}/label")).await.text;
    for said in ["DO NOT FIT", "2 × Rod bolts", "Part number: RB-7", "by Renée Øst"] {
        assert!(page.contains(said), "{said}: {page}");
    }
    let paper = house.see(&format!("{part}/label.pdf")).await;
    assert_eq!((paper.status.as_u16(), paper.header("content-type")), (200, "application/pdf"));
}

#[tokio::test]
async fn a_shop_looks_at_what_it_says_in_its_own_words() {
    let house = House::with_a_job().await;
    let part = bolts(&house).await;
    let (inspect, points) = (format!("{part}/inspect"), format!("{part}/inspect/points"));
    for (point, said) in [("", "Say what is looked at"), ("certificate", "This is looked at already")] {
        let bad = house.send(&points, &[("point", point)]).await;
        assert!(bad.status == 422 && bad.text.contains(said), "{point}: {}", bad.text);
    }
    assert_eq!(house.send(&points, &[("point", "stretch <marked>")]).await.header("location"), inspect);
    assert_eq!(house.send(&points, &[("point", "smell"), ("any", "yes")]).await.status, 303);
    let page = house.see(&inspect).await.text;
    let fields = answered(&page, None);
    assert!(page.contains("stretch &#60;marked&#62;") && fields.len() == 3 * 8, "{page}");
    assert_eq!(house.send(&format!("{points}/1/withdraw"), &[]).await.status, 303);
    assert_eq!(house.send(&format!("{points}/1/withdraw"), &[]).await.status, 404);
    let page = house.see(&inspect).await.text;
    assert!(!page.contains("stretch") && page.contains("smell"), "{page}");
    assert_eq!(send(&house, &inspect, &answered(&page, None)).await.status, 303);
    assert!(house.see(&part).await.text.contains("here, inspected"));
}
