//! A build as one JSON document, out of the record.

mod job;

pub use job::{JobDocument, job};
