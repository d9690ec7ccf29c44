//! The spec card: what it shows by the builder's choice, its preview, and its issues, frozen.

use super::card_lines::{CardLine, Sources, lines};
use super::card_paper::contents;
use super::doing::{Doing, Done, Refused};
use super::job::{JobHead, JobLook};
use super::money::OF_MONEY;
use super::{Shop, shop_settings};
use crate::engine::Audience;
use crate::handover;
use crate::record::cards::{self, CardIssue, NewCardIssue};
use crate::record::files::{self, NewFile};
use crate::record::{acts, facts, families, settings};
use jiff::Timestamp;
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
    /// No later issue takes its place.
    pub newest: bool,
    /// The record was changed after it.
    pub changed_since: bool,
}

/// An issued card to hand out.
#[derive(Clone, Debug)]
pub struct IssuedCard {
    pub audience: Audience,
    /// The PDF, byte for byte as it was issued.
    pub bytes: Vec<u8>,
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
    /// How many findings rest on readings taken before something was changed.
    pub stale: usize,
}

/// Everything a card is made of.
pub(super) struct Material {
    pub look: JobLook,
    pub lines: Vec<CardLine>,
    pub issues: Vec<CardIssue>,
    pub shop: super::ShopSettings,
    /// The newest act that changed the job before it was looked at.
    newest: i64,
    /// The newest act that changed what the shop says of itself on this card.
    settings: i64,
}

impl Material {
    /// The number the next issue will have.
    pub fn next(&self) -> i64 {
        self.issues.last().map_or(0, |issue| issue.number) + 1
    }

    /// The newest issue for a reader, which the next one for him takes the place of.
    pub fn replaced(&self, audience: Audience) -> Option<i64> {
        self.issues.iter().rev().find(|issue| issue.audience == audience).map(|issue| issue.number)
    }

    /// Whether the job, or what the shop says of itself, was changed after a card was issued.
    fn outgrew(&self, issue: &CardIssue) -> bool {
        self.newest > issue.record_act || self.settings > issue.act
    }

    fn pdf(&self, audience: Audience, now: Timestamp) -> Done<Vec<u8>> {
        handover::card(&contents(self, audience, now))
            .map_err(|why| Refused::Record(crate::record::Error::File(std::io::Error::other(why.to_string()))))
    }
}

impl Shop {
    async fn card_material(&self, job: i64, now: Timestamp) -> Done<Material> {
        let beside = [&[ISSUE][..], OF_MONEY].concat();
        let newest = acts::newest_of_except(&mut *self.record.look().await?, job, &beside).await?;
        let look = self.look_at_job(job, now).await?;
        let mut db = self.record.look().await?;
        let shop = shop_settings::read(&settings::all(&mut db).await?);
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
            look: &look,
        };
        let settings = shop_settings::newest_on_cards(&mut db, sources.facts.contains_key("warranty")).await?;
        Ok(Material {
            lines: lines(&sources),
            issues: cards::issues(&mut db, job).await?,
            newest,
            settings,
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
            newest: material.replaced(issue.audience) == Some(issue.number),
            changed_since: material.outgrew(issue),
        };
        let last = material.issues.last();
        Ok(CardView {
            head: material.look.head(),
            issues: material.issues.iter().map(view).collect(),
            next: material.next(),
            changed_since: last.is_some_and(|issue| material.outgrew(issue)),
            stale: material.look.findings.tally(material.look.findings.begun(), &[]).stale,
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
        material.pdf(audience, now)
    }

    /// Issues a card: stored with its digest, frozen; it names the issue it replaces. Its number.
    ///
    /// # Errors
    /// Where the disk or the record cannot keep it.
    pub async fn issue_card(&self, doing: &Doing, job: i64, audience: Audience) -> Done<i64> {
        let (material, number, bytes, mut w) = loop {
            let material = self.card_material(job, doing.at).await?;
            let bytes = material.pdf(audience, doing.at)?;
            let number = material.next();
            let Some(mut w) = self.begin(doing, ISSUE, Some(job)).await? else {
                return self.card_issued_by(job, &doing.key).await;
            };
            // Another tablet may have taken the number on the card meanwhile, or changed what the shop says of itself.
            let taken = cards::issues(&mut w, job).await?.last().map_or(0, |issue| issue.number);
            if taken + 1 == number && shop_settings::read(&settings::all(&mut w).await?) == material.shop {
                break (material, number, bytes, w);
            }
        };
        let sha256 = self.record.files.store(&bytes)?;
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
        let issue =
            NewCardIssue { number, audience, replaces: material.replaced(audience), file, record_act: material.newest };
        cards::insert(&mut w, job, &issue).await?;
        w.commit().await?;
        Ok(number)
    }

    /// The number of the card that an act issued.
    async fn card_issued_by(&self, job: i64, key: &str) -> Done<i64> {
        let mut look = self.record.look().await?;
        let act = acts::by_key(&mut look, key).await?.ok_or(Refused::NotFound)?;
        cards::issued_by(&mut look, job, act).await?.ok_or(Refused::NotFound)
    }

    /// An issued card, byte for byte.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such issue.
    pub async fn issued_card(&self, job: i64, number: i64) -> Done<IssuedCard> {
        let issues = cards::issues(&mut *self.record.look().await?, job).await?;
        let issue = issues.iter().find(|issue| issue.number == number).ok_or(Refused::NotFound)?;
        let bytes = self.record.files.read(&issue.sha256)?.ok_or(Refused::NotFound)?;
        Ok(IssuedCard { audience: issue.audience, bytes })
    }
}
