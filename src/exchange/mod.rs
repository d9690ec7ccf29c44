//! What goes out and comes in as a document: a build out of the record; the input and the result of one sheet, for scripts
//! and for checking.
//!
//! | file | what is in it |
//! |---|---|
//! | `job.rs`, `job_parts.rs`, `job_beside.rs`, `job_endings.rs`, `job_settling.rs` | a build, whole |
//! | `sheet_input.rs` | a sheet's input: its fields, read into a [`SheetInput`] |
//! | `sheet_readings.rs` | the readings, gauges and limits of an input |
//! | `sheet_result.rs` | what follows from it |
//! | `sheet_choice.rs` | what can be chosen on it |
//! | `faults.rs` | what is wrong with a document, every fault with its path |
//! | `sheet_examples/` | a complete input of each sheet |

mod faults;
mod job;
mod job_beside;
mod job_charges;
mod job_endings;
mod job_gauges;
mod job_made;
mod job_parts;
mod job_said;
mod job_settling;
mod job_supply;
mod sheet_choice;
mod sheet_gauges;
mod sheet_input;
mod sheet_readings;
mod sheet_result;

pub use faults::InputFault;
pub use job::{JobDocument, job};
pub use sheet_choice::{ChoiceResult, ChosenResult, SheetChoices, choose};
pub use sheet_input::{FORMAT, SheetInput, sheet_example};
pub use sheet_result::{FindingResult, LimitResult, OddResult, SheetResult, work_out};
