//! How engines behave: one file per subject, pure functions on SI numbers, each with formula, source and valid range.

pub mod bearing;
pub mod bore;
pub mod crank;
