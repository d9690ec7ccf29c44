//! The real router, as a browser meets it: every address, valid and invalid.

mod asked;
mod at_once;
mod calendar;
mod call;
mod card;
mod closed;
#[path = "../support/contrast.rs"]
mod contrast;
mod covered;
mod details;
mod ending;
mod families;
mod floor;
mod gauges;
mod job;
mod lan;
mod limits;
#[path = "../support/long.rs"]
mod long;
mod materials;
mod measured;
mod new_job;
mod notes;
mod options;
mod orders;
mod parts;
mod photos;
mod plan;
mod races;
mod reading;
mod ready;
mod routes;
mod search;
mod sheet;
mod shell;
mod shop;
mod statements;
mod step;
mod study;
mod style;
mod suppliers;
mod tablets;
mod temperatures;
mod the_shop;
mod who;
