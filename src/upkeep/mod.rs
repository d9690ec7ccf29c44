//! Care of the record: the demonstration shop, laid out on an empty one.

pub mod demo;
