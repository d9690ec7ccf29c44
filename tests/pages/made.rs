//! `/jobs/{n}/parts/{part}/made`: what is asked of a part made in the shop, read of it, and who carries one.

use crate::shop::House;

/// The address of the only part of job 1, which is made here.
async fn plate(house: &House) -> String {
    let form = [("description", "Torque plate"), ("quantity", "1"), ("origin", "made")];
    assert_eq!(house.send("/jobs/1/parts", &form).await.status, 303);
    let list = house.see("/jobs/1/parts").await.text;
    let from = list.find("href=\"/jobs/1/parts/").expect("a row") + 6;
    list[from..].split('"').next().expect("an address").to_owned()
}

/// The address under which the first dimension is read.
fn read_at(page: &str) -> String {
    let until = page.find("/readings\">").expect("a dimension") + "/readings".len();
    let from = page[..until].rfind('"').expect("an address") + 1;
    page[from..until].to_owned()
}

#[tokio::test]
async fn a_dimension_is_asked_read_and_judged_by_what_the_gauge_can_tell() {
    let house = House::with_a_job().await;
    let part = plate(&house).await;
    let made = format!("{part}/made");
    let page = house.see(&made).await;
    assert!(page.text.contains("No dimension is written down") && page.text.contains("Attach the drawing"));
    let bad = house.send(&made, &[("name", ""), ("size", "wide"), ("over", "2"), ("under", "-1")]).await;
    assert_eq!(bad.status, 422);
    for kept in ["Say what is measured", "value=\"wide\"", "value=\"-1\"", "id=\"field-under-fault\"", "<title>Error: "]
    {
        assert!(bad.text.contains(kept), "{kept}: {}", bad.text);
    }
    let good = [("name", "Register <1>"), ("size", "4.250"), ("over", "2 thou"), ("under", "0")];
    assert_eq!(house.send(&made, &good).await.header("location"), made);
    let page = house.see(&made).await.text;
    assert!(page.contains("Register &#60;1&#62;") && page.contains("4.2500 to 4.2520\u{a0}in"), "{page}");
    let address = read_at(&page);
    let size = address.split('/').nth(6).expect("a number");
    let [read, sure] = ["read", "sure"].map(|field| format!("{field}-{size}"));
    for (typed, said) in [("", "nothing"), ("wide", "value=\"wide\""), ("3.1", "is far from the 4.250")] {
        let bad = house.send(&address, &[(&*read, typed)]).await;
        assert!(bad.status == 422 && bad.text.contains(said), "{typed}: {}", bad.text);
    }
    for (typed, verdict) in [("4.2510", ">good<"), ("4.2530", ">out<"), ("4.25195", "on the line")] {
        assert_eq!(house.send(&address, &[(&*read, typed)]).await.status, 303, "{typed}");
        let page = house.see(&made).await.text;
        let newest = page.split("class=\"stale-row\"").nth(1).expect("a reading");
        assert!(newest.contains(verdict), "{typed}: {newest}");
    }
    assert_eq!(house.send(&address, &[(&*read, "3.1"), (&*sure, "yes")]).await.status, 303);
    let page = house.see(&part).await.text;
    assert!(page.contains("1 dimension: 1 out"), "{page}");
    let page = house.see(&made).await.text;
    let until = page.find("/withdraw\"").expect("a reading") + "/withdraw".len();
    let from = page[..until].rfind("action=\"").expect("an address") + "action=\"".len();
    assert_eq!(house.send(&page[from..until], &[]).await.status, 303);
    assert!(!house.see(&made).await.text.contains("3.1000"));
    assert_eq!(house.send(&format!("{made}/{size}/withdraw"), &[]).await.status, 303);
    assert!(house.see(&part).await.text.contains("no dimension is written down"));
    assert_eq!(house.send(&format!("{made}/{size}/withdraw"), &[]).await.status, 404);
}

#[tokio::test]
async fn who_carries_one_is_seen_from_the_part_and_from_the_job() {
    let house = House::with_a_job().await;
    house.open("Second four", "inline", 4, 5).await;
    let part = plate(&house).await;
    let bad = house.send(&format!("{part}/carried"), &[("by", "1"), ("words", "left <side>")]).await;
    assert_eq!(bad.status, 422);
    assert!(bad.text.contains("Choose the job") && bad.text.contains("value=\"left &#60;side&#62;\""), "{}", bad.text);
    let carried = [("by", "2"), ("words", "marked A")];
    assert_eq!(house.send(&format!("{part}/carried"), &carried).await.status, 303);
    let twice = house.send(&format!("{part}/carried"), &carried).await;
    assert!(twice.text.contains("carry one already"), "{}", twice.text);
    assert!(house.see(&part).await.text.contains("Carried by <a class=\"plain\" href=\"/jobs/2/parts\">2 "));
    let of_the_job = house.see("/jobs/2/parts").await.text;
    assert!(
        of_the_job.contains("Made for other jobs") && of_the_job.contains("made for job 1; marked A"),
        "{of_the_job}"
    );
    assert_eq!(house.send(&format!("{part}/carried/1/withdraw"), &[]).await.status, 303);
    assert_eq!(house.send(&format!("{part}/carried/1/withdraw"), &[]).await.status, 404);
    assert!(!house.see("/jobs/2/parts").await.text.contains("marked A"));
}
