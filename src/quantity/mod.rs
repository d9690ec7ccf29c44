//! What a machinist types, as a dimensioned value, and back.
//!
//! A [`Quantity`] is a number in SI with its [`Dimension`]; a [`Unit`] says how it is typed and shown; [`read()`] turns
//! what was typed into an [`Entry`] and keeps the text. Nothing is rounded before it is shown by [`Unit::show`].
//!
//! | file | what is in it |
//! |---|---|
//! | `unit.rs` | dimensions, units, exact factors |
//! | `show.rs` | SI to text |
//! | `spelling.rs` | how units are written |
//! | `said.rs` | the grammar: text to what was said, not yet what it means |
//! | `read.rs` | what it means here: bare figures, deviations from a set size, sizes named by their grade |
//! | `fault.rs` | what cannot be read, and what to enter instead |

mod fault;
mod read;
mod said;
mod show;
mod spelling;
mod unit;

pub use fault::Fault;
pub use read::{Entry, HowRead, Typed, read};
pub use unit::{Dimension, NotFinite, Quantity, Unit};
