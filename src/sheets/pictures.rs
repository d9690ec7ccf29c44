//! The pictures of a sheet, drawn from its findings: the same on page and paper.

use super::Standing;
use crate::drawing::Mark;

/// The mark of a standing. What has no figure leaves the same gap as what is missing; its word tells them apart.
pub fn mark_of(standing: Standing) -> Mark {
    match standing {
        Standing::Good => Mark::Good,
        Standing::Out => Mark::Out,
        Standing::OnTheLine => Mark::OnTheLine,
        Standing::Checked => Mark::Checked,
        Standing::Figure => Mark::Taken,
        Standing::Missing | Standing::NoFigure => Mark::Missing,
    }
}
