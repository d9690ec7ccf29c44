//! How far a step is, in a word; each word has a mark of its own outline in the stylesheet.

use crate::work::{StepRow, StepState};

/// The word, which is also the class of its mark where its spaces are hyphens.
pub(super) fn word(row: &StepRow) -> &'static str {
    match row.state {
        StepState::Ahead if row.waits_for.is_empty() && row.needs.is_empty() => "ready",
        StepState::Ahead => "waiting",
        StepState::Begun => "begun",
        StepState::Signed => "signed",
        StepState::Elsewhere(_) => "done elsewhere",
        StepState::NotOnJob => "not on this job",
    }
}

pub(super) fn class(row: &StepRow) -> String {
    word(row).replace(' ', "-")
}

/// Whether work on it can go on now.
pub(super) fn is_open(row: &StepRow) -> bool {
    matches!(word(row), "ready" | "begun")
}
