//! The pages used in the office: a job's details, limits, money and card; families; the shop's settings, people, gauges and tablets.
//!
//! One file a page, each with its own `routes()`. A page asks [`Shop`] for a view and shows it; a form goes to one action
//! of [`Shop`]. Nothing is worked out here.

mod calendar;
mod card;
mod card_issues;
mod charges;
mod details;
mod ending;
mod expansions;
mod families;
mod family_changes;
mod family_hours;
mod gauges;
mod inspect;
mod invoices;
mod keep_family;
mod limits;
mod made;
mod money;
mod money_settings;
mod on_job;
mod orders;
mod part_choices;
mod parts;
mod people;
mod plan;
mod quicker;
mod quote;
mod receiving;
mod search;
mod sent_out;
mod settle;
mod shop;
mod step_plan;
mod studies;
mod study;
mod suppliers;
mod tablets;

use axum::Router;

use crate::work::Shop;
pub use tablets::network;

/// Every page of the office.
pub fn routes() -> Router<Shop> {
    Router::new()
        .merge(details::routes())
        .merge(ending::routes())
        .merge(limits::routes())
        .merge(parts::routes())
        .merge(made::routes())
        .merge(inspect::routes())
        .merge(sent_out::routes())
        .merge(plan::routes())
        .merge(step_plan::routes())
        .merge(quote::routes())
        .merge(charges::routes())
        .merge(invoices::routes())
        .merge(settle::routes())
        .merge(money::routes())
        .merge(money_settings::routes())
        .merge(card::routes())
        .merge(card_issues::routes())
        .merge(families::routes())
        .merge(family_changes::routes())
        .merge(family_hours::routes())
        .merge(keep_family::routes())
        .merge(search::routes())
        .merge(shop::routes())
        .merge(calendar::routes())
        .merge(people::routes())
        .merge(gauges::routes())
        .merge(expansions::routes())
        .merge(studies::routes())
        .merge(study::routes())
        .merge(suppliers::routes())
        .merge(orders::routes())
        .merge(receiving::routes())
        .merge(tablets::routes())
}
