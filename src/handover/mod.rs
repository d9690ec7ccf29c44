//! The papers that leave with an engine: contents and a time in, bytes out.
//!
//! [`contents`] says what stands on a card; [`card()`] sets it: blocks of type (`block`), labelled lines (`lines`) and tables
//! (`table`), poured down the pages (`pour`) and painted as a PDF ([`paint`]). [`tag`] is for an engine's stand, [`label`] for what was refused, [`invoice`] for what it costs. Nothing here reads a clock, so the same contents give the same bytes,
//! and an issued card can be checked by its digest.

mod block;
mod card;
pub mod contents;
mod face;
pub mod invoice;
pub mod label;
mod lines;
mod page;
pub mod paint;
mod pour;
mod table;
pub mod tag;

pub use card::card;
pub use contents::Card;
pub use paint::PaintFault;
