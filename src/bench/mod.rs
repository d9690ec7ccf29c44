//! The pages used at the bench: the floor, a job, its steps, notes and photos, the sheets and their readings.
//!
//! One file a page, each with its own `routes()`. A page asks [`Shop`] for a view and shows it; a form goes to one action
//! of [`Shop`]. Nothing is worked out here.

mod on_job;
mod refused;

use axum::Router;

use crate::work::Shop;

/// Every page of the bench.
pub fn routes() -> Router<Shop> {
    Router::new()
}
