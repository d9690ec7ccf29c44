//! A job's money at the page: a quote, a change agreed by phone, hours and a part, an invoice, what was paid.

use super::{begin_as, take_in};
use crate::chromium::{Light, Screen};
use crate::page::{Page, Touch};

/// 85.00 an hour, parts at a fifth more than they cost, tax of 8.875 %.
async fn prices(page: &Page) {
    page.go("/shop/money").await;
    page.fill("Labour, an hour", "85").await;
    page.fill("Mark-up on parts, %", "20").await;
    page.press("Save").await;
    page.go("/shop/money").await;
    page.fill("What your books call it", "standard").await;
    page.fill("On the paper", "Sales tax").await;
    page.fill("Rate, %", "190").await;
    page.press("Add this rate").await;
    page.see("A tax of 190").await;
    page.fill("Rate, %", "8.875").await;
    page.press("Add this rate").await;
    page.see("Sales tax, 8.875").await;
    page.look_over("money-settings", Touch::Office).await;
}

/// 4 h at 85.00 are 340.00, and a part of 100.00 at a fifth more 120.00: 460.00; tax of 8.875 % is 40.825, so 40.83; in all
/// 500.83, and 300.83 after a deposit of 200.00.
#[tokio::test(flavor = "multi_thread")]
async fn from_the_quote_to_the_payment() {
    let (_shop, page) = begin_as("Bente", Screen::Desk).await;
    take_in(&page, "Mira Holt", "Vee eight for the hill climb").await;
    prices(&page).await;

    page.go("/jobs/1").await;
    page.press("Quote").await;
    page.pick("Step", "Tear down").await;
    page.fill("Hours", "4.1").await;
    page.press("Add it").await;
    page.see("is no whole quarter of an hour").await;
    page.fill("Hours", "4").await;
    page.press("Add it").await;
    page.see("340.00").await;
    page.press("Say what happened").await;
    page.within("His answer").await.choose("He agreed").await;
    page.within("His answer").await.pick("How he answered", "by phone").await;
    page.within("His answer").await.press("Keep it").await;
    page.see("by phone").await;
    page.press("Propose a change").await;
    page.fill("What was found", "two bolts are stretched").await;
    page.fill("What you propose", "new rod bolts").await;
    page.fill("What it costs", "120").await;
    page.press("Write it down").await;
    page.press("Text to send, and his answer").await;
    let change = page.within("new rod bolts").await;
    change.choose("He agreed").await;
    change.pick("How he answered", "by phone").await;
    change.press("Keep it").await;
    page.look_over("quote", Touch::Office).await;

    page.go("/jobs/1/time").await;
    page.fill("Hours", "4").await;
    page.pick("Step", "Tear down").await;
    page.press("Keep it").await;
    page.see("4 h Bente").await;
    page.go("/jobs/1/parts").await;
    page.fill("What it is", "Rod bolts").await;
    page.fill("Cost of one", "100").await;
    page.press("Write it down").await;
    page.press("Rod bolts").await;
    page.pick("It was", "received").await;
    page.press("Note it").await;
    page.see("1 here").await;

    page.go("/jobs/1/charges").await;
    page.see("Not on the list yet").await;
    page.press("Put all of it on the list").await;
    page.see("500.83").await;
    page.press("Keep a payment").await;
    page.pick("It is", "deposit, comes back if he cancels").await;
    let paid = page.within("Paid").await;
    paid.fill("Amount", "200").await;
    paid.press("Keep it").await;
    page.see("200.00").await;
    page.look_over("charges", Touch::Office).await;

    page.press("Draw up an invoice").await;
    page.choose("Issue it all the same: I have looked at what is asked").await;
    page.press("Issue 20").await;
    page.see("Paid already").await;
    page.see("300.83").await;
    page.look_over("invoice", Touch::Office).await;
    page.inspect_on(Screen::Phone, Light::Dark, "invoice-phone-dark").await;

    page.go("/jobs/1/charges").await;
    page.press("Keep a payment").await;
    page.pick("It is", "on an invoice").await;
    let paid = page.within("Paid").await;
    paid.fill("Amount", "900").await;
    paid.press("Keep it").await;
    page.see("is the amount right").await;
    let paid = page.within("Paid").await;
    paid.fill("Amount", "300.83").await;
    paid.press("Keep it").await;
    page.go("/money").await;
    page.see("500.83").await;
    page.look_over("money", Touch::Office).await;
}
