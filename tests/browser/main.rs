//! A real Chromium does the job as a person would: by the words on the page, on a tablet and at a desk, bright and dark.
//!
//! These tests need Debian's chromium and chromium-driver, and axe-core in target/axe: `tests/run` installs them. Without
//! them they fail. What was seen is left in target/screenshots.

mod axe;
mod chromium;
#[path = "../support/contrast.rs"]
mod contrast;
#[allow(dead_code, reason = "its normal deviates are for the sheets")]
#[path = "../support/deviates.rs"]
mod deviates;
#[path = "../support/long.rs"]
mod long;
mod page;
mod pictures;
mod proof;
mod shop;
mod walk;
mod wireless;
