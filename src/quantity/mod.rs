//! What a machinist types, as a dimensioned value, and back.
//!
//! A [`Quantity`] is a number in SI with its [`Dimension`]; a [`Unit`] says how it is typed and shown; [`read()`] turns
//! what was typed into an [`Entry`] and keeps the text. Nothing is rounded before it is shown by [`Unit::show`].

mod read;
mod unit;

pub use read::{Entry, Fault, HowRead, Typed, read};
pub use unit::{Dimension, Quantity, Unit};
