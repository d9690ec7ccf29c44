//! How engines behave: one file per subject, pure functions on SI numbers, each with formula, source and valid range.

pub mod balance;
pub mod bearing;
pub mod bore;
pub mod compression;
pub mod crank;
pub mod deck_matching;
pub mod film;
pub mod iso_fits;
pub mod matching;
pub mod motion;
pub mod oil;
pub mod press_fit;
pub mod ring;
pub mod routes;
pub mod selection;
pub mod shim;
pub mod thermal;
