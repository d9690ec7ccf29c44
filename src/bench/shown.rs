//! Drawings and counts as the templates of the bench show them.

use crate::web::svg;
use crate::work::{FindingView, Mark, Standing};

/// A verdict's mark beside a count: "3 out".
#[expect(clippy::trivially_copy_pass_by_ref, reason = "a template hands over references")]
pub(super) fn counted(kind: Mark, count: &usize, words: &str) -> String {
    svg::worded(kind, &format!("{count} {words}"))
}

/// A finding on its limit strip.
pub(super) fn strip(finding: &FindingView) -> String {
    svg::to_svg(&finding.strip, &format!("strip-{}", finding.key), &|_| None)
}

/// A finding's verdict: its mark and its word.
pub(super) fn verdict(finding: &FindingView) -> String {
    match finding.standing {
        Standing::NoFigure => svg::worded(finding.mark, &finding.word),
        _ => svg::verdict(finding.mark),
    }
}

/// A figure with its mark behind it, as a table has room for.
pub(super) fn marked((figure, kind): &(String, Mark)) -> String {
    svg::behind(figure, *kind)
}

/// A value's number.
pub(super) fn number(value: &str) -> &str {
    value.split_once(NO_BREAK).map_or(value, |(number, _)| number)
}

/// A value's unit, which a no-break space holds to its number.
pub(super) fn unit(value: &str) -> &str {
    value.split_once(NO_BREAK).map_or("", |(_, unit)| unit)
}

const NO_BREAK: char = '\u{a0}';
