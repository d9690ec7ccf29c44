//! What routes that disagree say together: whether all bearings are off alike, or one, or by the walls of other shells.

use super::Finding;
use crate::engine::FindingKey;
use crate::mechanics::routes::{Cause, Disagreement, causes};
use crate::metrology::Measured;

/// Housing and shells less shells fitted, at one bearing, and the key of the finding that compares its routes.
pub(super) struct Compared {
    pub key: FindingKey,
    pub difference: Measured,
}

/// Adds to the findings that compare routes what the bearings say together. `wall_differences_m` are between the shells
/// counted on and those read.
pub(super) fn explain(
    findings: &mut [Finding],
    compared: &[Compared],
    wall_differences_m: &[f64],
    small: &dyn Fn(f64) -> String,
) {
    let told: Vec<Disagreement> = compared
        .iter()
        .map(|one| Disagreement { difference_m: one.difference.value(), expanded_m: one.difference.expanded(2.0) })
        .collect();
    for cause in causes(&told, wall_differences_m) {
        let (at, said) = match cause {
            Cause::ZeroOrTorque { mean_m } => (
                None,
                format!(
                    "all bearings are off alike, by {}: look at the gauge’s zero and the torque first; in a soft housing crush opens the fitted bore",
                    small(mean_m)
                ),
            ),
            Cause::OneBearing { bearing } => (
                Some(bearing),
                "this bearing alone is off: look for dirt under a shell, a cap turned or from elsewhere, a lip at the joint".to_owned(),
            ),
            Cause::OtherShell { bearing, wall_difference_m } => (
                Some(bearing),
                format!(
                    "off by twice {}: shells of another family, or a coating counted wrongly",
                    small(wall_difference_m.abs())
                ),
            ),
            Cause::Unclear => continue,
        };
        let meant = |finding: &&mut Finding| match at {
            None => compared.iter().any(|one| one.key == finding.key),
            Some(bearing) => compared.get(bearing).is_some_and(|one| one.key == finding.key),
        };
        for finding in findings.iter_mut().filter(meant) {
            finding.remarks.push(said.clone());
        }
    }
}
