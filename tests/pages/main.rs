//! The real router, as a browser meets it: every address, valid and invalid.

mod asked;
mod call;
mod floor;
mod job;
mod measured;
mod new_job;
mod notes;
mod photos;
mod reading;
mod sheet;
mod shell;
mod shop;
mod statements;
mod step;
mod style;
mod who;
