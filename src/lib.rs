//! Witnessmark: a custom engine builder's record of each engine.

pub mod quantity;
