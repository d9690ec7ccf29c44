//! Second readings taken without seeing the first: covered until both stand, then held against each other.
//!
//! Two takes agree where they differ by no more than the gauge can tell of a difference: twice its standard uncertainty,
//! 2·√2·u of one reading (what both share, as the gauge's setting, cancels). Of more than two the ones that agree with the
//! middle take count.

use super::{Basis, Book, Finding, Slot, Take, TakeValue, Taken, TakenValue};
use crate::engine::Setup;
use crate::metrology::{self, Measured};

/// What is still wanted of a slot that is to be read twice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// The second: until then the first is covered.
    Second,
    /// Another: no two of those taken agree.
    Another,
}

/// A slot that is to be read once more before anything follows from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Pending {
    pub wanted: Wanted,
    pub label: &'static str,
    /// Ids of the takes that stand.
    pub takes: Vec<String>,
}

/// The takes that agree, or what is still wanted. What is no figure is not read twice.
pub(super) fn agreeing(setup: &Setup, slot: &Slot, round: &str, takes: &[Take]) -> Result<Vec<Take>, Wanted> {
    let mut figures: Vec<(&Take, Measured)> =
        takes.iter().filter_map(|take| Some((take, figure(setup, slot, round, take)?))).collect();
    if figures.len() < takes.len() || figures.is_empty() {
        return Ok(takes.to_vec());
    }
    if figures.len() == 1 {
        return Err(Wanted::Second);
    }
    figures.sort_by(|one, other| one.1.value().total_cmp(&other.1.value()));
    // Of an even number either of the middle two may be the one that is right.
    let middles = [(figures.len() - 1) / 2, figures.len() / 2].map(|at| &figures[at].1);
    let agree = |with: &Measured| -> Vec<Take> {
        let these = figures.iter().filter(|(_, figure)| told_alike(figure, with));
        these.map(|(take, _)| (*take).clone()).collect()
    };
    let most = middles.map(agree).into_iter().max_by_key(Vec::len).filter(|agree| agree.len() > 1);
    let mut agree = most.ok_or(Wanted::Another)?;
    let taken = |take: &Take| takes.iter().position(|other| other.id == take.id);
    agree.sort_by_key(taken);
    Ok(agree)
}

fn figure(setup: &Setup, slot: &Slot, round: &str, take: &Take) -> Option<Measured> {
    let TakeValue::Figure(_) = take.value else { return None };
    match Taken::join(setup, slot, round, std::slice::from_ref(take)).ok()??.value {
        TakenValue::Figure(figure) => Some(figure),
        _ => None,
    }
}

fn told_alike(one: &Measured, other: &Measured) -> bool {
    // Typed to a last digit, equal steps do not come out equal to the last bit.
    metrology::difference(one, other).is_ok_and(|apart| apart.value().abs() <= apart.expanded(2.0) + 1e-12)
}

/// What rests on a slot still to be read once more is missing, whatever it would have said. `uncovered` has the findings as
/// they would be if nothing were covered.
pub(super) fn cover(book: &Book, findings: &mut Vec<Finding>, uncovered: &[Finding]) {
    for open in uncovered {
        let rests_on = |pending: &Pending| pending.takes.iter().any(|take| open.readings.contains(take));
        let pending: Vec<String> = book
            .pending()
            .filter(|(_, pending)| rests_on(pending))
            .map(|(key, pending)| {
                let which = match pending.wanted {
                    Wanted::Second => "second reading wanted",
                    Wanted::Another => "the readings differ by more than the gauge can tell, another wanted",
                };
                format!("{which}: {}, {}", book.setup.architecture.label(key.place), pending.label)
            })
            .collect();
        if pending.is_empty() {
            continue;
        }
        let missing = Basis::Missing { missing: pending.join("; ") };
        let mut missing = Finding::new(open.key.feature.clone(), open.key.place, missing);
        match findings.iter_mut().find(|finding| finding.key == open.key) {
            Some(finding) => {
                missing.target = finding.target;
                missing.band = finding.band;
                missing.limit_source = std::mem::take(&mut finding.limit_source);
                *finding = missing;
            }
            None => findings.push(missing),
        }
    }
}
