//! The real router, as a browser meets it: every address, valid and invalid.

mod asked;
mod at_once;
mod call;
mod card;
mod charges;
mod closed;
#[path = "../support/contrast.rs"]
mod contrast;
mod covered;
mod details;
mod families;
mod floor;
mod gauges;
mod invoice;
mod job;
mod lan;
mod limits;
#[path = "../support/long.rs"]
mod long;
mod materials;
mod measured;
mod money;
mod new_job;
mod notes;
mod options;
mod parts;
mod photos;
mod quote;
mod races;
mod reading;
mod routes;
mod sheet;
mod shell;
mod shop;
mod statements;
mod step;
mod study;
mod style;
mod tablets;
mod temperatures;
mod the_shop;
mod time;
mod who;
