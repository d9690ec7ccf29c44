//! On the shop's network: the PIN is set on its computer, and a tablet enters it once.

use crate::chromium::{Light, Screen};
use crate::page::{Page, Touch};
use crate::shop::Shop;

#[tokio::test(flavor = "multi_thread")]
async fn a_tablet_is_let_in_by_the_pin_and_shown_out_on_the_computer() {
    let shop = Shop::on_the_network().await;
    let computer = Page::open(&shop.address, Screen::Desk, Light::Bright).await;
    computer.go("/shop/tablets").await;
    computer.see("None is set yet").await;
    computer.look_over("tablets", Touch::Office).await;
    computer.inspect_in_other_light("tablets-other-light").await;
    computer.fill("One-time code", &shop.code()).await;
    computer.fill("New PIN", "2580").await;
    computer.press("Set the PIN").await;
    computer.see_no("None is set yet").await;

    let Some(address) = shop.address_on_the_network() else {
        println!("this machine is on no network: no tablet can reach it");
        return;
    };
    let tablet = Page::open(&address, Screen::Tablet, Light::Bright).await;
    tablet.go("/jobs/new").await;
    tablet.look_over("enter", Touch::Bench).await;
    tablet.inspect_in_other_light("enter-other-light").await;
    tablet.fill("PIN", "1111").await;
    tablet.press("Enter").await;
    tablet.see("Not let in yet").await;
    tablet.look_over("enter-refused", Touch::Bench).await;
    tablet.fill("PIN", "2580").await;
    tablet.press("Enter").await;
    tablet.see("Whose engine").await;

    computer.go("/shop/tablets").await;
    computer.look_over("tablets-let-in", Touch::Office).await;
    computer.press("End : Tablet 1").await;
    computer.see_no("Tablet 1").await;
    tablet.go("/").await;
    tablet.see("Name of this tablet").await;
}
