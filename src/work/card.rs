//! The spec card: what it shows by the builder's choice, its preview, and its issues, frozen.

use super::Shop;
use super::card_lines::{self, CardLine, CardSection, MEASURED, Sources, lines};
use super::doing::{Doing, Done, Refused};
use super::findings::{FindingView, stands};
use super::job::{JobHead, JobLook};
use super::{sheet_pictures, shop_settings};
use crate::engine::{Audience, FindingFeature};
use crate::handover;
use crate::handover::contents::{
    Align, Card, Cell, Column, Deviation, Line, MadeAt, OwnerNote, Paper, Section, ShopHead, SignOff, Table,
};
use crate::record::cards::{self, CardIssue, NewCardIssue};
use crate::record::files::{self, NewFile};
use crate::record::{acts, facts, families, settings};
use crate::sheets::Standing;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use std::collections::BTreeMap;

const ISSUE: &str = "issue card";

/// A card as issued.
#[derive(Clone, Debug)]
pub struct CardIssueView {
    pub number: i64,
    pub audience: Audience,
    pub replaces: Option<i64>,
    pub sha256: String,
    pub when: String,
}

/// The page on which a card is made.
#[derive(Clone, Debug)]
pub struct CardView {
    pub head: JobHead,
    pub lines: Vec<CardLine>,
    pub issues: Vec<CardIssueView>,
    /// The number the next issue will have.
    pub next: i64,
    /// The record was changed after the newest issue.
    pub changed_since: bool,
}

/// Everything a card is made of.
struct Material {
    look: JobLook,
    lines: Vec<CardLine>,
    findings: Vec<FindingView>,
    issues: Vec<CardIssue>,
    shop: super::ShopSettings,
    newest: i64,
}

impl Shop {
    async fn card_material(&self, job: i64, now: Timestamp) -> Done<Material> {
        let look = self.look_at_job(job, now).await?;
        let mut db = self.record.look().await?;
        let shop = shop_settings::read(&settings::all(&mut db).await?);
        let wording = look.wording();
        let findings: Vec<FindingView> = look.findings.all().map(|finding| wording.view(finding)).collect();
        let family = match look.job.engine.family {
            Some(id) => families::by_id(&mut db, id).await?.map(|family| family.name),
            None => None,
        };
        let sources = Sources {
            facts: facts::of_build(&mut db, job).await?,
            presets: cards::presets(&mut db).await?,
            choices: cards::choices(&mut db, job).await?,
            family,
            shop_warranty: shop.warranty.clone(),
            findings: findings.clone(),
            look: &look,
        };
        Ok(Material {
            lines: lines(&sources),
            issues: cards::issues(&mut db, job).await?,
            newest: acts::newest_of_except(&mut db, job, ISSUE).await?,
            findings,
            shop,
            look,
        })
    }

    /// The page on which a job's card is made.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job.
    pub async fn card(&self, job: i64, now: Timestamp) -> Done<CardView> {
        let material = self.card_material(job, now).await?;
        let view = |issue: &CardIssue| CardIssueView {
            number: issue.number,
            audience: issue.audience,
            replaces: issue.replaces,
            sha256: issue.sha256.clone(),
            when: material.look.when.stamp(&issue.stamp),
        };
        let last = material.issues.last();
        Ok(CardView {
            head: material.look.head(),
            issues: material.issues.iter().map(view).collect(),
            next: last.map_or(0, |issue| issue.number) + 1,
            changed_since: last.is_some_and(|issue| material.newest > issue.record_act),
            lines: material.lines,
        })
    }

    /// Says for whom lines are, on this job's cards.
    ///
    /// # Errors
    /// Where the record cannot be written.
    pub async fn choose_card_lines(&self, doing: &Doing, job: i64, chosen: &BTreeMap<String, Audience>) -> Done<()> {
        let material = self.card_material(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "choose card lines", Some(job)).await? else { return Ok(()) };
        for line in &material.lines {
            match chosen.get(&line.key) {
                Some(&audience) if audience != line.audience => {
                    cards::put_choice(&mut w, job, &line.key, audience).await?;
                }
                _ => {}
            }
        }
        Ok(w.commit().await?)
    }

    /// Makes what this job chose the shop's preset.
    ///
    /// # Errors
    /// Where the record cannot be written.
    pub async fn keep_card_preset(&self, doing: &Doing, job: i64) -> Done<()> {
        let material = self.card_material(job, doing.at).await?;
        let Some(mut w) = self.begin(doing, "keep card preset", None).await? else { return Ok(()) };
        for line in material.lines.iter().filter(|line| line.audience != line.preset) {
            cards::put_preset(&mut w, &line.key, line.audience).await?;
        }
        Ok(w.commit().await?)
    }

    /// The card as it would be issued now.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job.
    pub async fn preview_card(&self, job: i64, audience: Audience, now: Timestamp) -> Done<Vec<u8>> {
        let material = self.card_material(job, now).await?;
        pdf(&material, audience, now)
    }

    /// Issues a card: stored with its digest, frozen; it names the issue it replaces. Its number.
    ///
    /// # Errors
    /// Where the disk or the record cannot keep it.
    pub async fn issue_card(&self, doing: &Doing, job: i64, audience: Audience) -> Done<i64> {
        let material = self.card_material(job, doing.at).await?;
        let number = material.issues.last().map_or(0, |issue| issue.number) + 1;
        let bytes = pdf(&material, audience, doing.at)?;
        let sha256 = self.record.files.store(&bytes)?;
        let Some(mut w) = self.begin(doing, ISSUE, Some(job)).await? else {
            return material.issues.last().map(|issue| issue.number).ok_or(Refused::NotFound);
        };
        let file = files::insert(
            &mut w,
            &NewFile {
                sha256,
                media_type: "application/pdf".to_owned(),
                bytes: i64::try_from(bytes.len()).unwrap_or(i64::MAX),
                width: None,
                height: None,
                preview_sha256: None,
                thumb_sha256: None,
            },
        )
        .await?;
        let issue = NewCardIssue {
            number,
            audience,
            replaces: replaced(&material.issues, audience),
            file,
            record_act: material.newest,
        };
        cards::insert(&mut w, job, &issue).await?;
        w.commit().await?;
        Ok(number)
    }

    /// An issued card, byte for byte.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such issue.
    pub async fn issued_card(&self, job: i64, number: i64) -> Done<Vec<u8>> {
        let issues = cards::issues(&mut *self.record.look().await?, job).await?;
        let issue = issues.iter().find(|issue| issue.number == number).ok_or(Refused::NotFound)?;
        self.record.files.read(&issue.sha256)?.ok_or(Refused::NotFound)
    }
}

/// The newest issue for the same reader.
fn replaced(issues: &[CardIssue], audience: Audience) -> Option<i64> {
    issues.iter().rev().find(|issue| issue.audience == audience).map(|issue| issue.number)
}

fn pdf(material: &Material, audience: Audience, now: Timestamp) -> Done<Vec<u8>> {
    handover::card(&contents(material, audience, now))
        .map_err(|why| Refused::Record(crate::record::Error::File(std::io::Error::other(why.to_string()))))
}

fn contents(material: &Material, audience: Audience, now: Timestamp) -> Card {
    let shown = |key: &str| material.lines.iter().any(|line| line.key == key && line.is_for(audience));
    let of = |section: CardSection| -> Vec<Line> {
        material
            .lines
            .iter()
            .filter(|line| line.section == section && line.is_for(audience))
            .filter(|line| !DRAWN.contains(&line.key.as_str()))
            .map(|line| Line {
                label: line.title.clone(),
                value: line.value.clone(),
                beneath: Some(line.beneath.clone()).filter(|text| !text.is_empty()),
            })
            .collect()
    };
    let text = |key: &str| {
        material.lines.iter().find(|line| line.key == key && line.is_for(audience)).map(|line| line.value.clone())
    };
    let look = &material.look;
    let utc = now.to_zoned_datetime(TimeZone::UTC);
    let next = material.issues.last().map_or(0, |issue| issue.number) + 1;
    let mut notes: Vec<OwnerNote> =
        text("owner-note").map(|text| OwnerNote { title: "From your builder".to_owned(), text }).into_iter().collect();
    notes.extend(look.calls.iter().filter(|call| !call.for_owner.is_empty()).map(|call| OwnerNote {
        title: look.job.engine.architecture.label(call.finding.place),
        text: call.for_owner.clone(),
    }));
    let mut sections = vec![Section {
        title: CardSection::Engine.title().to_owned(),
        lines: of(CardSection::Engine),
        ..Section::default()
    }];
    for (key, title, features) in MEASURED {
        if shown(key) {
            sections.push(measured(material, title, features, shown(card_lines::LIMITS)));
        }
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
        number: u32::try_from(next).unwrap_or(u32::MAX),
        replaces: replaced(&material.issues, audience).and_then(|number| u32::try_from(number).ok()),
        job: look.job.build.id.to_string(),
        date: look.when.day(now),
        made_at: MadeAt {
            year: utc.year(),
            month: utc.month(),
            day: utc.day(),
            hour: utc.hour(),
            minute: utc.minute(),
            second: utc.second(),
        },
        heading: look.job.build.title.clone(),
        sections,
        set_to: of(CardSection::SetTo),
        plan: shown(card_lines::PLAN).then(|| sheet_pictures::numbering(&look.job.engine.architecture)),
        run_in: of(CardSection::RunIn).into_iter().map(|line| line.value).collect(),
        notes,
        cautions: if shown(card_lines::CAUTIONS) { cautions() } else { Vec::new() },
        warranty: text("warranty"),
        deviations: if shown(card_lines::DEVIATIONS) { deviations(material) } else { Vec::new() },
        sign_offs: if shown(card_lines::SIGN_OFFS) { sign_offs(look) } else { Vec::new() },
        head_hash: None,
    }
}

/// Lines that the card draws or words in a place of their own.
const DRAWN: [&str; 3] = [card_lines::PLAN, "warranty", "owner-note"];

/// Common practice, no source; in our own words.
fn cautions() -> Vec<String> {
    [
        "Where this card and a part maker's instructions, a local code or a licensed practice differ, those come first.",
        "Check oil and coolant before every start; stop at once if oil pressure does not come up.",
        "Let it cool before opening the cooling system or touching exhaust, and keep clear of belts and fans.",
    ]
    .map(str::to_owned)
    .to_vec()
}

fn measured(material: &Material, title: &str, features: &[FindingFeature], with_limits: bool) -> Section {
    let mut columns = vec![
        Column { title: "place".to_owned(), align: Align::Left },
        Column { title: "what".to_owned(), align: Align::Left },
        Column { title: "measured".to_owned(), align: Align::Decimal },
        Column { title: "good to".to_owned(), align: Align::Decimal },
    ];
    if with_limits {
        columns.extend([
            Column { title: "limit".to_owned(), align: Align::Left },
            Column { title: "verdict".to_owned(), align: Align::Left },
        ]);
    }
    let of_group = |view: &&FindingView| features.contains(&view.key.feature) && view.standing != Standing::Missing;
    let rows = material.findings.iter().filter(of_group).map(|view| row(view, with_limits)).collect();
    Section { title: title.to_owned(), table: Some(Table { columns, rows }), ..Section::default() }
}

fn row(view: &FindingView, with_limits: bool) -> Vec<Cell> {
    let value = view.value.clone().unwrap_or_else(|| view.basis.clone());
    let mut cells = vec![
        Cell::of(view.place.clone()),
        Cell::of(view.title.clone()),
        Cell { text: value, beneath: view.other.clone(), ..Cell::default() },
        Cell::of(view.good_to.clone().unwrap_or_default()),
    ];
    if with_limits {
        let beside = view.beside.as_ref().map(|beside| format!(", {beside}")).unwrap_or_default();
        let accepted = view.call.as_ref().filter(|call| !call.changed_since).map_or("", |_| ", accepted");
        cells.push(Cell::of(view.limit.clone().unwrap_or_else(|| "none set".to_owned())));
        cells.push(Cell {
            text: format!("{}{beside}{accepted}", view.word),
            mark: Some(view.mark),
            strip: view.limit.is_some().then(|| view.strip.clone()),
            ..Cell::default()
        });
    }
    cells
}

fn deviations(material: &Material) -> Vec<Deviation> {
    let look = &material.look;
    look.calls
        .iter()
        .filter_map(|call| {
            let view = material.findings.iter().find(|view| view.key == call.finding)?;
            let live = look.findings.find(&call.finding).is_some_and(|finding| stands(call, finding));
            let limit = view.limit.as_ref().map(|limit| format!(", limit {limit}")).unwrap_or_default();
            let found = view.value.clone().unwrap_or_else(|| view.basis.clone());
            let changed = if live { "" } else { " (changed since)" };
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
    use crate::record::steps::StepState;
    let signed = look.signs.iter().filter(|sign| !sign.reopened).filter_map(|sign| {
        let step = look.steps.iter().find(|step| step.id == sign.step)?;
        let changed = sign.seen != super::steps::seen_at_sign_off(&look.job, &look.findings, step);
        Some(SignOff {
            step: step.title.clone(),
            by: sign.person.clone(),
            on: look.when.day(sign.stamp.at),
            remark: changed.then(|| "changed since signed".to_owned()),
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
