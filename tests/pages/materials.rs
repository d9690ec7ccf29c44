//! `/shop/materials`: how materials expand, and the shop's own figures.

use crate::shop::House;

const PAGE: &str = "/shop/materials/piston_alloy_4032";

#[tokio::test]
async fn a_coefficient_is_changed_with_its_source_and_put_back() {
    let house = House::staffed().await;
    let list = house.see("/shop/materials").await.text;
    assert!(list.contains("grey iron") && list.contains("Callister") && !list.contains("the shop’s own"), "{list}");
    let own = [("per_kelvin", "19,8"), ("low", "19.6"), ("high", "20"), ("source", "maker’s <sheet>"), ("saw", "0")];
    assert_eq!(house.send(PAGE, &own).await.header("location"), "/shop/materials");
    let list = house.see("/shop/materials").await.text;
    assert!(
        list.contains("19.8") && list.contains("the shop’s own") && list.contains("maker’s &#60;sheet&#62;"),
        "{list}"
    );
    let late = house.send(PAGE, &own).await;
    assert_eq!(late.status, 409);
    assert!(late.text.contains("19.8"), "{}", late.text);
    let page = house.see(PAGE).await.text;
    let saw = page.split("name=\"saw\" value=\"").nth(1).and_then(|rest| rest.split('"').next()).expect("what it saw");
    assert_eq!(house.send(PAGE, &[("per_kelvin", ""), ("saw", saw)]).await.status, 303);
    assert!(!house.see("/shop/materials").await.text.contains("the shop’s own"));
}

#[tokio::test]
async fn every_fault_of_a_coefficient_is_said_at_once() {
    let house = House::staffed().await;
    let wrong = house.send(PAGE, &[("per_kelvin", "NaN"), ("low", "-3"), ("high", "1e9"), ("source", " ")]).await;
    assert_eq!(wrong.status, 422);
    for field in ["per_kelvin", "low", "high", "source"] {
        assert!(wrong.text.contains(&format!("<a href=\"#field-{field}\">")), "{field}: {}", wrong.text);
    }
    let crossed = [("per_kelvin", "19"), ("low", "20"), ("high", "21"), ("source", "x")];
    assert_eq!(house.send(PAGE, &crossed).await.status, 422);
    for unknown in ["cheese", "%00"] {
        assert_eq!(house.see(&format!("/shop/materials/{unknown}")).await.status, 404);
        assert_eq!(house.send(&format!("/shop/materials/{unknown}"), &crossed).await.status, 404);
    }
}
