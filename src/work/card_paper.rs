//! What a reader's card says: the lines that are for him, in their places, and what was measured, accepted and signed.

use super::card::Material;
use super::card_lines::{self, CardLine, CardSection, DRAWN};
use super::card_measured::MEASURED;
use super::card_tables::measured;
use super::changed::changed_since;
use super::findings::stands;
use super::job::JobLook;
use super::{sheet_pictures, tightenings};
use crate::engine::Audience;
use crate::handover::contents::{Card, Deviation, Line, MadeAt, OwnerNote, Paper, Section, ShopHead, SignOff};
use crate::record::steps::StepState;
use crate::record::tightenings::Tightening;
use jiff::Timestamp;
use jiff::tz::TimeZone;

/// The lines that a reader's card shows.
struct Shown<'a> {
    lines: Vec<&'a CardLine>,
}

impl<'a> Shown<'a> {
    fn find(&self, key: &str) -> Option<&'a CardLine> {
        self.lines.iter().find(|line| line.key == key).copied()
    }

    fn has(&self, key: &str) -> bool {
        self.find(key).is_some()
    }

    /// The lines of a section, but for those that stand in a place of their own.
    fn of(&self, section: CardSection) -> Vec<Line> {
        let drawn = |key: &str| DRAWN.contains(&key) || (key == card_lines::FIRING_ORDER && self.has(card_lines::PLAN));
        let own = |line: &&&CardLine| line.section == section && !drawn(&line.key);
        let set = |line: &&CardLine| Line {
            label: line.title.clone(),
            value: line.value.clone(),
            beneath: Some(line.beneath.clone()).filter(|text| !text.is_empty()),
        };
        self.lines.iter().filter(own).map(set).collect()
    }
}

/// The card of a reader as it would be issued now.
pub(super) fn contents(material: &Material, audience: Audience, now: Timestamp) -> Card {
    let shown = Shown { lines: material.lines.iter().filter(|line| line.is_for(audience)).collect() };
    let look = &material.look;
    let number = |number: i64| u32::try_from(number).unwrap_or(u32::MAX);
    let mut sections = vec![Section {
        title: CardSection::Engine.title().to_owned(),
        lines: shown.of(CardSection::Engine),
        ..Section::default()
    }];
    let with_limits = shown.has(card_lines::LIMITS);
    for together in MEASURED.chunk_by(|one, next| one.together == next.together) {
        let groups: Vec<_> = together.iter().filter(|group| shown.has(group.key)).collect();
        let [first, ..] = groups[..] else { continue };
        let title = if groups.len() == 1 { first.title } else { first.together };
        let features: Vec<_> = groups.iter().flat_map(|group| group.features).collect();
        sections.extend(measured(look, title, &features, with_limits));
    }
    if shown.has(card_lines::TIGHTENED) {
        sections.push(tightened(look));
    }
    Card {
        paper: if material.shop.paper == "a4" { Paper::A4 } else { Paper::Letter },
        kind_title: "Spec card".to_owned(),
        shop: ShopHead {
            name: material.shop.name.clone(),
            address_lines: material.shop.address.lines().map(str::to_owned).collect(),
            phone: material.shop.phone.clone(),
        },
        audience,
        number: number(material.next()),
        replaces: material.replaced(audience).map(number),
        job: look.job.build.id.to_string(),
        date: look.when.day(now),
        made_at: made_at(now),
        heading: look.job.build.title.clone(),
        sections,
        set_to: shown.of(CardSection::SetTo),
        plan: shown
            .has(card_lines::PLAN)
            .then(|| sheet_pictures::numbering(&look.job.engine.architecture, shown.has(card_lines::FIRING_ORDER))),
        run_in: shown.of(CardSection::RunIn).into_iter().map(|line| line.value).collect(),
        notes: notes(look, &shown),
        cautions: if shown.has(card_lines::CAUTIONS) { cautions() } else { Vec::new() },
        warranty: shown.find("warranty").map(|line| line.value.clone()),
        deviations: if shown.has(card_lines::DEVIATIONS) { deviations(look) } else { Vec::new() },
        sign_offs: if shown.has(card_lines::SIGN_OFFS) { sign_offs(look) } else { Vec::new() },
        head_hash: None,
    }
}

pub(super) fn made_at(now: Timestamp) -> MadeAt {
    let utc = now.to_zoned_datetime(TimeZone::UTC);
    MadeAt {
        year: utc.year(),
        month: utc.month(),
        day: utc.day(),
        hour: utc.hour(),
        minute: utc.minute(),
        second: utc.second(),
    }
}

/// The builder's own words: his note, and what he says of what he accepted.
fn notes(look: &JobLook, shown: &Shown) -> Vec<OwnerNote> {
    let own = shown
        .find("owner-note")
        .map(|line| OwnerNote { title: "From your builder".to_owned(), text: line.value.clone() });
    let told = shown.has(card_lines::TOLD);
    let accepted = look.calls.iter().filter(|call| told && !call.for_owner.is_empty()).map(|call| OwnerNote {
        title: format!("About {}", look.job.engine.architecture.label(call.finding.place)),
        text: call.for_owner.clone(),
    });
    own.into_iter().chain(accepted).collect()
}

/// Common practice, no source; in our own words.
fn cautions() -> Vec<String> {
    [
        "The makers' instructions, local codes and licensed practice come before this card.",
        "Check oil and coolant before every start. No oil pressure: stop at once.",
        "Let it cool before you open the cooling system. Keep clear of belts and fans.",
    ]
    .map(str::to_owned)
    .to_vec()
}

/// How fasteners were tightened, a line for each set of them.
fn tightened(look: &JobLook) -> Section {
    let line = |one: &Tightening| {
        let view = tightenings::view(look, one);
        let except = view.exceptions.iter().map(|exception| format!("; except {exception}"));
        let with = view.wrench.map(
            |(name, was_due)| {
                if was_due { format!("{name}, past its date of calibration") } else { name }
            },
        );
        let beneath: Vec<String> =
            with.into_iter().chain(Some(view.lubricant).filter(|text| !text.is_empty())).collect();
        Line {
            label: view.fasteners,
            value: std::iter::once(view.to).chain(except).collect(),
            beneath: Some(beneath.join("; ")).filter(|text| !text.is_empty()),
        }
    };
    let standing = look.tightened.iter().filter(|one| one.withdrawn.is_none());
    Section { title: "Tightened".to_owned(), lines: standing.map(line).collect(), ..Section::default() }
}

fn deviations(look: &JobLook) -> Vec<Deviation> {
    let wording = look.wording();
    look.calls
        .iter()
        .filter_map(|call| {
            let finding = look.findings.find(&call.finding)?;
            let view = wording.view(finding);
            let limit = view.limit.as_ref().map(|limit| format!(", limit {limit}")).unwrap_or_default();
            let found = view.value.clone().unwrap_or_else(|| view.basis.clone());
            let changed = if stands(call, finding) { "" } else { "; changed since it was accepted" };
            Some(Deviation {
                what: format!("{}, {}", view.place, view.title),
                found: format!("{found}{limit}{changed}"),
                reason: call.because.clone(),
                by: call.person.clone(),
                on: look.when.day(call.stamp.at),
            })
        })
        .collect()
}

fn sign_offs(look: &JobLook) -> Vec<SignOff> {
    let signed = look.signs.iter().filter(|sign| !sign.reopened).filter_map(|sign| {
        let step = look.steps.iter().find(|step| step.id == sign.step)?;
        let changed = changed_since(&sign.seen, &look.job, &look.findings, step);
        let changed = changed.map(|what| format!("changed since signed: {what}"));
        let checks = look.checks.iter().filter(|check| check.sign_off == sign.id);
        let checked =
            checks.map(|check| format!("checked again by {}, {}", check.person, look.when.day(check.stamp.at)));
        let remarks: Vec<String> = checked.chain(changed).collect();
        Some(SignOff {
            step: step.title.clone(),
            by: sign.person.clone(),
            on: look.when.day(sign.stamp.at),
            remark: Some(remarks.join("; ")).filter(|remark| !remark.is_empty()),
        })
    });
    let elsewhere = look.steps.iter().filter_map(|step| match &step.state {
        StepState::Elsewhere(whom) => Some(SignOff {
            step: step.title.clone(),
            by: whom.clone(),
            remark: Some("done elsewhere".to_owned()),
            ..SignOff::default()
        }),
        _ => None,
    });
    signed.chain(elsewhere).collect()
}
