//! The pages used at the bench: the floor, a job, its steps, notes and photos, the sheets and their readings.
//!
//! One file a page, each with its own `routes()`. A page asks [`Shop`] for a view and shows it; a form goes to one action
//! of [`Shop`]. Nothing is worked out here.

mod armed;
mod attached;
mod call;
mod changes;
mod closed;
mod columns;
mod day;
mod doubts;
mod enter;
mod entry;
mod except;
mod files;
mod floor;
mod gauge;
mod job;
mod new_job;
mod notes;
mod on_job;
mod options;
mod photos;
mod reading;
mod ready;
mod refused;
mod rounds;
mod sheet;
mod sheet_paper;
mod shown;
mod slot_shown;
mod step;
mod step_acts;
mod step_state;
mod tag;
mod tightenings;
mod time;
mod waits;
mod who;

use axum::Router;

use crate::work::Shop;

/// Every page of the bench.
pub fn routes() -> Router<Shop> {
    Router::new()
        .merge(floor::routes())
        .merge(ready::routes())
        .merge(enter::routes())
        .merge(who::routes())
        .merge(new_job::routes())
        .merge(closed::routes())
        .merge(job::routes())
        .merge(step::routes())
        .merge(step_acts::routes())
        .merge(tightenings::routes())
        .merge(waits::routes())
        .merge(time::routes())
        .merge(day::routes())
        .merge(call::routes())
        .merge(changes::routes())
        .merge(notes::routes())
        .merge(photos::routes())
        .merge(tag::routes())
        .merge(files::routes())
        .merge(sheet::routes())
        .merge(sheet_paper::routes())
        .merge(options::routes())
        .merge(entry::routes())
        .merge(except::routes())
        .merge(rounds::routes())
        .merge(doubts::routes())
        .merge(gauge::routes())
        .merge(reading::routes())
}
