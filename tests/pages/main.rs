//! The real router, as a browser meets it: every address, valid and invalid.

mod asked;
mod shell;
mod style;
