//! The twelve marks that tell engines in the shop apart, by their outlines: a printed tag has no colour.
//!
//! The stylesheet draws the same outlines in colour on top of every page of a job.

use super::{Point, Role, Shape, arc, at};

/// The mark of the job of this number, 0 to 11: the twelve newest jobs all differ.
#[must_use]
pub const fn mark_of(number: i64) -> i64 {
    number.rem_euclid(12)
}

/// The corners of each mark, per cent of its box from the top left corner; a disc has none.
pub const OUTLINES: [&[(f64, f64)]; 12] = [
    &[],
    &[(4.0, 4.0), (96.0, 4.0), (96.0, 96.0), (4.0, 96.0)],
    &[(50.0, 2.0), (100.0, 94.0), (0.0, 94.0)],
    &[(50.0, 0.0), (100.0, 50.0), (50.0, 100.0), (0.0, 50.0)],
    &[
        (34.0, 0.0),
        (66.0, 0.0),
        (66.0, 34.0),
        (100.0, 34.0),
        (100.0, 66.0),
        (66.0, 66.0),
        (66.0, 100.0),
        (34.0, 100.0),
        (34.0, 66.0),
        (0.0, 66.0),
        (0.0, 34.0),
        (34.0, 34.0),
    ],
    &[(25.0, 6.0), (75.0, 6.0), (100.0, 50.0), (75.0, 94.0), (25.0, 94.0), (0.0, 50.0)],
    &[(0.0, 6.0), (100.0, 6.0), (50.0, 98.0)],
    &[
        (50.0, 0.0),
        (61.0, 35.0),
        (98.0, 35.0),
        (68.0, 57.0),
        (79.0, 91.0),
        (50.0, 70.0),
        (21.0, 91.0),
        (32.0, 57.0),
        (2.0, 35.0),
        (39.0, 35.0),
    ],
    &[(0.0, 30.0), (100.0, 30.0), (100.0, 70.0), (0.0, 70.0)],
    &[(0.0, 0.0), (45.0, 0.0), (100.0, 50.0), (45.0, 100.0), (0.0, 100.0), (55.0, 50.0)],
    &[
        (0.0, 0.0),
        (38.0, 0.0),
        (38.0, 100.0),
        (0.0, 100.0),
        (0.0, 0.0),
        (62.0, 0.0),
        (100.0, 0.0),
        (100.0, 100.0),
        (62.0, 100.0),
        (62.0, 0.0),
    ],
    &[(0.0, 0.0), (100.0, 0.0), (50.0, 50.0), (100.0, 100.0), (0.0, 100.0), (50.0, 50.0)],
];

/// The mark of a job in ink, in a box of this side, mm.
#[must_use]
pub fn job_mark(number: i64, corner: Point, side_mm: f64) -> Shape {
    let outline = usize::try_from(mark_of(number)).ok().and_then(|mark| OUTLINES.get(mark)).copied().unwrap_or(&[]);
    let points = match outline {
        [] => arc(at(corner.x + side_mm / 2.0, corner.y + side_mm / 2.0), side_mm / 2.0, 0.0, 355.0),
        corners => {
            corners.iter().map(|(x, y)| at(corner.x + x * side_mm / 100.0, corner.y + y * side_mm / 100.0)).collect()
        }
    };
    Shape::area(points, Role::Ink)
}
