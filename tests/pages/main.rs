//! The real router, as a browser meets it: every address, valid and invalid.

mod asked;
mod call;
mod floor;
mod job;
mod new_job;
mod notes;
mod photos;
mod shell;
mod shop;
mod statements;
mod step;
mod style;
mod who;
