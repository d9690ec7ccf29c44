//! The pages used in the office: a job's details, limits, money and card; families; the shop's settings, people, gauges and tablets.
//!
//! One file a page, each with its own `routes()`. A page asks [`Shop`] for a view and shows it; a form goes to one action
//! of [`Shop`]. Nothing is worked out here.

mod card;
mod card_issues;
mod charges;
mod details;
mod expansions;
mod families;
mod family_changes;
mod gauges;
mod invoices;
mod keep_family;
mod limits;
mod money;
mod money_settings;
mod on_job;
mod part_choices;
mod parts;
mod people;
mod quicker;
mod quote;
mod sent_out;
mod shop;
mod studies;
mod study;
mod tablets;

use axum::Router;

use crate::work::Shop;
pub use tablets::network;

/// Every page of the office.
pub fn routes() -> Router<Shop> {
    Router::new()
        .merge(details::routes())
        .merge(limits::routes())
        .merge(parts::routes())
        .merge(sent_out::routes())
        .merge(quote::routes())
        .merge(charges::routes())
        .merge(invoices::routes())
        .merge(money::routes())
        .merge(money_settings::routes())
        .merge(card::routes())
        .merge(card_issues::routes())
        .merge(families::routes())
        .merge(family_changes::routes())
        .merge(keep_family::routes())
        .merge(shop::routes())
        .merge(people::routes())
        .merge(gauges::routes())
        .merge(expansions::routes())
        .merge(studies::routes())
        .merge(study::routes())
        .merge(tablets::routes())
}
