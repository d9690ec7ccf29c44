//! `/jobs/{n}/invoices`: drawn up, issued, looked at, for the books, credited; its paper says what the record says.

use std::io::Write;
use std::process::{Command, Stdio};

use crate::money::charging;
use crate::shop::House;

const INVOICES: &str = "/jobs/1/invoices";

async fn with_a_line() -> House {
    let house = charging().await;
    house
        .send(
            "/shop",
            &[("saw", "0"), ("name", "Thimble & Ring"), ("paper", "a4"), ("zone", "UTC"), ("rule", "simple")],
        )
        .await;
    let part = [("description", "Bearing shells"), ("maker", "Northfell"), ("quantity", "1"), ("cost", "100")];
    house.send("/jobs/1/parts", &part).await;
    let list = house.see("/jobs/1/parts").await.text;
    let from = list.find("href=\"/jobs/1/parts/").expect("a row") + 6;
    let address = list[from..].split('"').next().expect("an address");
    house.send(&format!("{address}/moves"), &[("kind", "received"), ("of", "1"), ("day", "2026-03-01")]).await;
    house.send("/jobs/1/charges/list", &[]).await;
    house
}

/// The words of a PDF, spaces and line breaks apart.
fn words(bytes: &[u8]) -> String {
    let mut reader = Command::new("pdftotext")
        .args(["-layout", "-", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("pdftotext is needed for this test");
    reader.stdin.take().expect("its input").write_all(bytes).expect("it reads");
    let text = String::from_utf8(reader.wait_with_output().expect("its words").stdout).expect("text");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[tokio::test]
async fn an_invoice_is_issued_looked_at_and_credited() {
    let house = with_a_line().await;
    let page = house.see(INVOICES).await.text;
    assert!(page.contains("Draw up 2026-0001") && page.contains("name=\"line-1\" value=\"yes\" checked"), "{page}");
    let none = house.send(INVOICES, &[("day", "2026-03-02")]).await;
    assert_eq!(none.status, 422);
    assert!(none.text.contains("choose at least one line") || none.text.contains("Choose at least one line"));
    let ask = house.send(INVOICES, &[("line-1", "yes"), ("day", "2026-03-05")]).await;
    assert_eq!(ask.status, 422);
    for said in ["is not agreed", "not come yet", "value=\"2026-03-05\"", "name=\"line-1\" value=\"yes\" checked"] {
        assert!(ask.text.contains(said), "{said}: {}", ask.text);
    }
    let issued = house.send(INVOICES, &[("line-1", "yes"), ("sure", "yes")]).await;
    assert_eq!((issued.status.as_u16(), issued.header("location")), (303, "/jobs/1/invoices/2026-0001"));
    let one = house.see("/jobs/1/invoices/2026-0001").await.text;
    for said in ["Northfell Bearing shells", "148.75\u{a0}EUR", "SHA-256", "Quill &#38; Sons"] {
        assert!(one.contains(said), "{said}: {one}");
    }
    assert!(!one.contains("Paid already"), "{one}");
    let twice = house.send(INVOICES, &[("line-1", "yes"), ("sure", "yes")]).await;
    assert_eq!(twice.status, 422);
    assert!(twice.text.contains("credit 2026-0001 first"), "{}", twice.text);
    let line = house.see("/jobs/1/charges/1").await.text;
    assert!(line.contains("credit 2026-0001, then invoice anew") && !line.contains("Save the line"), "{line}");
    let saw = [("saw", "0"), ("text", "Bearing shells"), ("how_many", "1"), ("each", "1"), ("priced", "charged")];
    for (address, form) in [("/jobs/1/charges/1", &saw[..]), ("/jobs/1/charges/1/withdraw", &[])] {
        let refused = house.send(address, form).await;
        assert_eq!(refused.status, 422, "{address}");
        assert!(
            refused.text.contains("stays as issued") && refused.text.contains("credit 2026-0001"),
            "{}",
            refused.text
        );
    }
    let early = [("paid", "on-invoice"), ("amount", "148.75"), ("paid_on", "2026-03-01"), ("paid_words", "<cash>")];
    let early = house.send("/jobs/1/payments", &early).await;
    assert_eq!(early.status, 422);
    for said in ["are both right?", "value=\"&#60;cash&#62;\"", "value=\"2026-03-01\""] {
        assert!(early.text.contains(said), "{said}: {}", early.text);
    }
    let line = [("kind", "other"), ("text", "Loan of a stand"), ("how_many", "1"), ("each", "10")];
    assert_eq!(house.send("/jobs/1/charges", &line).await.status, 303);
    let before = house.send(INVOICES, &[("line-2", "yes"), ("day", "2026-02-20")]).await;
    assert_eq!(before.status, 422);
    assert!(before.text.contains("is of 2 March 2026, and this one of 20 February 2026"), "{}", before.text);
    let csv = house.see("/jobs/1/invoices/2026-0001/rows.csv").await;
    assert!(csv.text.contains("2026-0001,2026-03-02,,1,part,,Northfell Bearing shells,1,pc,125.00"), "{}", csv.text);
    let credit = "/jobs/1/invoices/2026-0001/credit";
    assert_eq!(house.send(credit, &[("reason", "")]).await.status, 422);
    let credited = house.send(credit, &[("reason", "wrong <part>")]).await;
    assert_eq!(credited.header("location"), "/jobs/1/invoices/2026-0002");
    let page = house.see("/jobs/1/invoices/2026-0002").await.text;
    assert!(page.contains("wrong &#60;part&#62;") && page.contains("\u{2212}148.75"), "{page}");
    assert_eq!(house.see("/jobs/1/invoices/2026-0009").await.status, 404);
    assert_eq!(house.see("/jobs/1/invoices/2026-0009/paper.pdf").await.status, 404);
}

#[tokio::test]
async fn its_paper_says_what_the_record_says_and_no_cost() {
    let house = with_a_line().await;
    house.send(INVOICES, &[("line-1", "yes"), ("sure", "yes")]).await;
    let text = words(&house.shop.invoice_pdf(1, "2026-0001").await.expect("a paper"));
    for said in [
        "Thimble & Ring",
        "Invoice",
        "2026-0001",
        "2 March 2026",
        "Quill & Sons <of Harrow Lane>",
        "Inline four, 1.6",
        "Northfell Bearing shells",
        "1 pc",
        "125.00",
        "19 %",
        "Sales tax <of the land> 19 % on 125.00",
        "23.75",
        "148.75 EUR",
        "Prices are before tax. Tax is worked out on the total of each rate.",
    ] {
        assert!(text.contains(said), "{said}: {text}");
    }
    assert!(!text.contains("100.00"), "what it cost the shop: {text}");
}
