//! The papers that leave with an engine: contents and a time in, bytes out.
//!
//! [`contents`] says what stands on a card. Nothing here reads a clock, so the same contents give the same bytes, and an
//! issued card can be checked by its digest.

pub mod contents;

pub use contents::Card;
