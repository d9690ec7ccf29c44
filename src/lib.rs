//! Witnessmark: a custom engine builder's record of each engine.

pub mod drawing;
pub mod handover;
pub mod metrology;
pub mod quantity;
pub mod web;
