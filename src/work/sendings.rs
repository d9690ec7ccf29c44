//! Work sent out, as its pages show it: what was asked, and what came back held against it.

use super::doing::{Done, Refused};
use super::floor::StepLink;
use super::job::{JobHead, JobLook};
use super::keep_sending::SendingForm;
use super::when::civil;
use super::{PhotoView, Shop};
use crate::drawing::Mark;
use crate::engine::{FindingFeature, SheetKey};
use crate::metrology::{Band, judge};
use crate::record::rounds::Round;
use crate::record::sendings::{self, Asked, Sending};
use crate::record::suppliers::{self, Supplier};
use crate::record::{Connection, settings};
use crate::sheets::{Finding, Standing, Words, mark_of, sheet};
use jiff::Timestamp;
use jiff::civil::Date;
use std::collections::BTreeMap;

use super::money::Purse;

/// Work sent out, in a list.
#[derive(Clone, Debug)]
pub struct SendingRow {
    pub public_id: String,
    pub what: String,
    pub supplier: Option<String>,
    /// "here still", "away since 3 June 2026, due 12 June 2026", "back 12 June 2026".
    pub stands: String,
    pub late: bool,
    pub is_back: bool,
    pub step: Option<StepLink>,
    /// Of what was asked and came back otherwise: how many.
    pub out: usize,
}

/// The page of a job's work sent out.
#[derive(Clone, Debug)]
pub struct SendingsView {
    pub head: JobHead,
    pub rows: Vec<SendingRow>,
    pub choices: SendingChoices,
}

/// What the form offers: key and word.
#[derive(Clone, Debug)]
pub struct SendingChoices {
    pub suppliers: Vec<(String, String)>,
    pub steps: Vec<(String, String)>,
    pub sheets: Vec<(String, String)>,
    pub currency: &'static str,
}

/// One size asked, with what was read before and after.
#[derive(Clone, Debug)]
pub struct AskedView {
    pub id: i64,
    pub title: String,
    pub place: String,
    /// "4.3770 to 4.3775 in".
    pub asked: String,
    pub before: Option<String>,
    pub after: Option<String>,
    /// How it came back; none while it was not read.
    pub came_back: Option<(Mark, &'static str)>,
}

/// The page of one sending.
#[derive(Clone, Debug)]
pub struct SendingView {
    pub head: JobHead,
    pub row: SendingRow,
    pub form: SendingForm,
    pub sheet: Option<(SheetKey, &'static str)>,
    /// "fasteners": "1/2 in studs"; "torque": "70 lbf·ft".
    pub condition: Vec<(&'static str, String)>,
    pub words: String,
    pub asked: Vec<AskedView>,
    /// What can be asked: a finding's key and title.
    pub features: Vec<(String, String)>,
    pub places: Vec<(String, String)>,
    /// Rounds of the sheet: number and words; the empty one is none.
    pub rounds: Vec<(String, String)>,
    /// What coming back may have changed: key and words.
    pub changes: Vec<(&'static str, &'static str)>,
    pub choices: SendingChoices,
    pub photos: Vec<PhotoView>,
    pub today: Date,
    pub act: i64,
}

/// Work sent out with who does it, for the pages of a job.
pub(super) struct Out {
    pub sendings: Vec<Sending>,
    pub asked: Vec<Asked>,
    pub suppliers: Vec<Supplier>,
    pub purse: Purse,
}

impl Out {
    pub async fn load(db: &mut Connection, job: i64) -> Done<Self> {
        Ok(Self {
            sendings: sendings::of(db, Some(job)).await?.into_iter().filter(|one| !one.withdrawn).collect(),
            asked: sendings::asked(db, job).await?,
            suppliers: suppliers::all(db).await?,
            purse: Purse::of(&settings::all(db).await?),
        })
    }

    pub fn find(&self, public_id: &str) -> Done<&Sending> {
        self.sendings.iter().find(|one| one.public_id == public_id).ok_or(Refused::NotFound)
    }

    pub fn asked_of(&self, sending: i64) -> impl Iterator<Item = &Asked> {
        self.asked.iter().filter(move |asked| asked.sending == sending)
    }
}

/// Whether something sent out is late on a day.
pub(super) fn is_late(sending: &Sending, today: Date) -> bool {
    let said = &sending.said;
    said.sent.is_some() && said.back.is_none() && said.due.is_some_and(|due| due < today)
}

/// "away since 3 June 2026, due 12 June 2026".
pub(super) fn stands(sending: &Sending) -> String {
    let said = &sending.said;
    let due = said.due.map_or_else(String::new, |due| format!(", due {}", civil(due)));
    match (said.sent, said.back) {
        (_, Some(back)) => format!("back {}", civil(back)),
        (Some(sent), None) => format!("away since {}{due}", civil(sent)),
        (None, None) => format!("here still{due}"),
    }
}

impl JobLook {
    fn sending_row(&self, out: &Out, sending: &Sending) -> SendingRow {
        let said = &sending.said;
        let after = self.findings_of_round(said.sheet, said.after_round);
        let wrong = out.asked_of(sending.id).filter(|asked| came_back(self, asked, &after).is_some_and(|(_, out)| out));
        SendingRow {
            public_id: sending.public_id.clone(),
            what: said.what.clone(),
            supplier: out.suppliers.iter().find(|one| Some(one.id) == said.supplier).map(|one| one.said.name.clone()),
            stands: stands(sending),
            late: is_late(sending, self.when.today()),
            is_back: said.back.is_some(),
            step: self.steps.iter().find(|step| Some(step.id) == said.step).map(StepLink::to),
            out: wrong.count(),
        }
    }

    /// What a sheet finds in one of its rounds.
    fn findings_of_round(&self, of: Option<SheetKey>, round: Option<i64>) -> BTreeMap<String, Finding> {
        let (Some(key), Some(round)) = (of, round.and_then(|id| self.job.round(id))) else { return BTreeMap::new() };
        let book = self.job.book_of_round(round);
        book.findings(key).iter().map(|finding| (finding.key.to_string(), finding.clone())).collect()
    }

    fn asked_view(
        &self,
        asked: &Asked,
        before: &BTreeMap<String, Finding>,
        after: &BTreeMap<String, Finding>,
    ) -> AskedView {
        let words = Words { unit: self.job.build.unit };
        let unit = self.job.build.unit.of(asked.finding.feature.measure());
        let read = |of: &BTreeMap<String, Finding>| {
            let value = of.get(&asked.finding.to_string())?.value.as_ref()?;
            Some(unit.show(value.value(), unit.usual_decimals()))
        };
        AskedView {
            id: asked.id,
            title: asked.finding.feature.title().to_owned(),
            place: self.job.engine.architecture.label(asked.finding.place),
            asked: words.limits(unit, asked.least, asked.most),
            before: read(before),
            after: read(after),
            came_back: came_back(self, asked, after).map(|(standing, _)| (mark_of(standing), standing.word())),
        }
    }

    pub(super) fn sending_choices(&self, out: &Out) -> SendingChoices {
        let none = |word: &str| std::iter::once((String::new(), word.to_owned()));
        let suppliers = out.suppliers.iter().filter(|supplier| !supplier.withdrawn);
        let sheets = SheetKey::ALL.into_iter().map(|key| (key.key().to_owned(), sheet(key).title.to_owned()));
        SendingChoices {
            suppliers: none("not chosen yet")
                .chain(suppliers.map(|one| (one.public_id.clone(), one.said.name.clone())))
                .collect(),
            steps: none("none waits")
                .chain(self.steps.iter().map(|step| (step.key.clone(), step.title.clone())))
                .collect(),
            sheets: none("nothing is measured").chain(sheets).collect(),
            currency: out.purse.currency.code(),
        }
    }
}

/// How what was asked came back, and whether it is out; none while it was not read.
fn came_back(look: &JobLook, asked: &Asked, after: &BTreeMap<String, Finding>) -> Option<(Standing, bool)> {
    let value = after.get(&asked.finding.to_string())?.value.as_ref()?;
    let band = Band::new(asked.least, asked.most).ok()?;
    let judgement = judge(value, &band, look.job.build.rule);
    let standing = Standing::of(judgement.verdict);
    Some((standing, standing == Standing::Out))
}

/// "2 back from machining".
fn round_words(round: &Round) -> String {
    format!("{} {}", round.number, round.kind.word())
}

impl Shop {
    /// The work a job sent out.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job.
    pub async fn sendings(&self, job: i64, now: Timestamp) -> Done<SendingsView> {
        let look = self.look_at_job(job, now).await?;
        let out = Out::load(&mut *self.record.look().await?, job).await?;
        Ok(SendingsView {
            head: look.head(),
            rows: out.sendings.iter().rev().map(|sending| look.sending_row(&out, sending)).collect(),
            choices: look.sending_choices(&out),
        })
    }

    /// The page of work sent out.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where the job sent out no such work.
    pub async fn sending(&self, job: i64, public_id: &str, now: Timestamp) -> Done<SendingView> {
        let look = self.look_at_job(job, now).await?;
        let out = Out::load(&mut *self.record.look().await?, job).await?;
        let sending = out.find(public_id)?;
        let said = &sending.said;
        let before = look.findings_of_round(said.sheet, said.before_round);
        let after = look.findings_of_round(said.sheet, said.after_round);
        let of_sheet = |feature: &FindingFeature| crate::sheets::home_of(feature) == said.sheet && said.sheet.is_some();
        let features = FindingFeature::all().filter(|(_, feature)| feature.takes_limit() && of_sheet(feature));
        let rounds = look.job.rounds.iter().filter(|round| Some(round.sheet) == said.sheet);
        let condition = &said.condition;
        let conditions = [
            ("plate", &condition.plate),
            ("fasteners", &condition.fasteners),
            ("lubricant", &condition.lubricant),
            ("torque", &condition.torque),
            ("shells in", &condition.shells),
        ];
        Ok(SendingView {
            head: look.head(),
            row: look.sending_row(&out, sending),
            form: SendingForm::of(&look, &out, sending),
            sheet: said.sheet.map(|key| (key, sheet(key).title)),
            condition: conditions
                .into_iter()
                .filter(|(_, text)| !text.is_empty())
                .map(|(what, text)| (what, text.clone()))
                .collect(),
            words: said.words.clone(),
            asked: out.asked_of(sending.id).map(|asked| look.asked_view(asked, &before, &after)).collect(),
            features: features.map(|(key, feature)| (key.to_owned(), feature.title().to_owned())).collect(),
            places: super::changes::places_of_change(&look),
            rounds: std::iter::once((String::new(), "none".to_owned()))
                .chain(rounds.map(|round| (round.number.to_string(), round_words(round))))
                .collect(),
            changes: std::iter::once(("", "nothing that was measured"))
                .chain(super::changes::kinds_of_change())
                .collect(),
            choices: look.sending_choices(&out),
            photos: look.photos_of(None, Some(sending.id)),
            today: look.when.today(),
            act: sending.act,
        })
    }
}
