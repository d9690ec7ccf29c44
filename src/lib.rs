//! Witnessmark: a custom engine builder's record of each engine.

pub mod bench;
pub mod charges;
pub mod drawing;
pub mod engine;
pub mod exchange;
pub mod handover;
pub mod mechanics;
pub mod metrology;
pub mod office;
pub mod plan;
pub mod quantity;
pub mod record;
pub mod sheets;
pub mod upkeep;
pub mod web;
pub mod work;
