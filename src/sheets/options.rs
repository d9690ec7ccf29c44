//! What can be chosen on a sheet: worked out on demand, from what stands in the book and what is typed beside it.

use super::Book;
use crate::engine::Place;

/// A question that a sheet can answer by trying every choice.
pub struct Options {
    /// "Choose shells".
    pub title: &'static str,
    pub purpose: &'static str,
    /// What is to be typed, such as the walls of the shells on the shelf; none where the readings are enough.
    pub asks: Option<&'static str>,
    /// The choices, the best first.
    pub work_out: fn(&Book, &str) -> Result<Vec<Choice>, String>,
}

/// One choice for all its places.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// "The best there is", "as it stands".
    pub title: String,
    /// What goes where, and what it gives.
    pub rows: Vec<(Place, String)>,
    /// What it comes to in all.
    pub said: String,
}
