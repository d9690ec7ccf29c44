//! The diary of the demonstration shop: who does what on which working day, each act through the shop's own actions.

use super::scatter::Scatter;
use crate::work::{
    Audience, Corrected, Doing, FindingKey, JobForm, JobFormView, LimitForm, NewCall, NewCorrection, NewEntry, NewJob,
    Photo, RecordError, Refused, RoundForm, SettingForm, SheetKey, Shop, SlotKey, TighteningForm, Took,
};
use jiff::civil::{Date, Weekday};
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp, ToSpan};
use std::collections::BTreeMap;
use std::fmt::Display;
use std::io;
use std::path::PathBuf;

/// Why the demonstration shop could not be laid out: what was being done, and what the shop said to it.
#[derive(Debug, thiserror::Error)]
pub enum NotLaidOut {
    #[error("{act}: {refused} ({refused:?})")]
    Refused { act: String, refused: Refused },
    #[error("{act}: taken otherwise than meant: {took:?}")]
    Took { act: String, took: Took },
    #[error("{act}: asked about: {question}")]
    Asked { act: String, question: String },
    #[error("{what} is not in the record")]
    Missing { what: String },
    #[error("{}: {why}", folder.display())]
    Folder { folder: PathBuf, why: io::Error },
    #[error(transparent)]
    Record(#[from] RecordError),
}

pub(super) type Done<T> = Result<T, NotLaidOut>;

/// Names what was being done when the shop refuses it.
pub(super) fn refused(act: impl Display) -> impl FnOnce(Refused) -> NotLaidOut {
    move |refused| NotLaidOut::Refused { act: act.to_string(), refused }
}

/// A seed as good as any: the shop's telephone number.
const SEED: u64 = 5_550_142;

/// Where things are done.
pub(super) const OFFICE: &str = "office";
pub(super) const TABLET: &str = "tablet by the bench";
pub(super) const OTHER_TABLET: &str = "tablet by the hone";

pub(super) struct Diary<'a> {
    pub shop: &'a Shop,
    pub scatter: Scatter,
    /// Public ids of the hands and the gauges by name.
    pub hands: BTreeMap<&'static str, String>,
    pub gauges: BTreeMap<String, String>,
    now: Timestamp,
    zone: TimeZone,
    at: Timestamp,
    acts: u32,
    hand: Option<&'static str>,
    device: &'static str,
    gauge: Option<String>,
}

impl<'a> Diary<'a> {
    pub fn new(shop: &'a Shop, zone: TimeZone, now: Timestamp) -> Self {
        Self {
            shop,
            scatter: Scatter::new(SEED),
            hands: BTreeMap::new(),
            gauges: BTreeMap::new(),
            now,
            zone,
            at: Timestamp::UNIX_EPOCH,
            acts: 0,
            hand: None,
            device: OFFICE,
            gauge: None,
        }
    }

    /// Turns to a time of an earlier working day, `back` of them before today; somebody is there, at some device.
    pub fn on(&mut self, back: u32, (hour, minute): (i8, i8), hand: &'static str, device: &'static str) {
        let day = working_day_before(self.now.to_zoned_datetime(self.zone.clone()).date(), back);
        let at = day.at(hour, minute, 0, 0).to_zoned_datetime(self.zone.clone());
        // No zone leaves out an hour of the working day; where one does, the act is a little later.
        self.turn_to(at.map_or(self.at, |at| at.timestamp()));
        (self.hand, self.device) = (Some(hand), device);
    }

    /// Turns to some minutes before now.
    pub fn just_now(&mut self, minutes: i64, hand: &'static str, device: &'static str) {
        self.turn_to(self.now.saturating_sub(SignedDuration::from_mins(minutes)).unwrap_or(self.at));
        (self.hand, self.device) = (Some(hand), device);
    }

    fn turn_to(&mut self, at: Timestamp) {
        debug_assert!(at > self.at, "the diary is written forward: {at} is before {}", self.at);
        self.at = at.max(self.at);
        self.gauge = None;
    }

    /// A civil day, so many days from now, as a form takes it.
    pub fn day_from_now(&self, days: i32) -> String {
        let today = self.now.to_zoned_datetime(self.zone.clone()).date();
        today.saturating_add(days.days()).to_string()
    }

    /// Somebody else comes to do the next things.
    pub fn hands_over(&mut self, hand: &'static str, device: &'static str) {
        (self.hand, self.device) = (Some(hand), device);
    }

    /// Takes up a gauge for the readings that follow.
    pub fn takes_up(&mut self, gauge: &str) {
        self.gauge = self.gauges.get(gauge).cloned();
    }

    fn after(&mut self, least: f64, most: f64) -> Doing {
        let seconds = self.scatter.seconds(least, most);
        self.at += SignedDuration::from_secs_f64(seconds);
        self.acts += 1;
        Doing {
            person: self.hand.and_then(|hand| self.hands.get(hand)).cloned(),
            device: self.device.to_owned(),
            key: format!("demonstration {}", self.acts),
            at: self.at,
        }
    }

    /// The next act, one to four minutes after the one before.
    pub fn next(&mut self) -> Doing {
        self.after(60.0, 240.0)
    }

    pub async fn opens(&mut self, new: &NewJob) -> Done<i64> {
        let doing = self.next();
        self.shop.open_job(&doing, new).await.map_err(refused(&new.title))
    }

    /// Fills in the form of a job's details.
    pub async fn fills_in(&mut self, job: i64, fill: impl FnOnce(&mut JobForm, &JobFormView)) -> Done<()> {
        let doing = self.next();
        let act = format!("details of job {job}");
        let view = self.shop.job_form(job, doing.at).await.map_err(refused(&act))?;
        let mut form = view.form.clone();
        fill(&mut form, &view);
        self.shop.change_job(&doing, job, &form).await.map_err(refused(act))
    }

    pub async fn limits(&mut self, job: i64, limits: impl IntoIterator<Item = LimitForm>) -> Done<()> {
        for limit in limits {
            let doing = self.next();
            let act = format!("limit on {} of job {job}", limit.feature);
            self.shop.set_limit(&doing, job, &limit).await.map_err(refused(act))?;
        }
        Ok(())
    }

    pub async fn sets_gauge(&mut self, job: i64, gauge: &str, zeroed_on: &str, set_to: &str) -> Done<()> {
        let doing = self.next();
        let form = SettingForm {
            gauge: self.gauges.get(gauge).cloned().unwrap_or_default(),
            zeroed_on: zeroed_on.to_owned(),
            set_to: set_to.to_owned(),
            ..SettingForm::default()
        };
        self.shop.set_gauge(&doing, job, &form).await.map_err(refused(format!("setting of {gauge}")))
    }

    pub async fn begins(&mut self, job: i64, sheet: SheetKey, round: RoundForm) -> Done<()> {
        let doing = self.next();
        self.shop.begin_round(&doing, job, sheet, &round).await.map_err(refused("round"))
    }

    pub async fn lets_count(&mut self, job: i64, sheet: SheetKey, round: i64) -> Done<()> {
        let doing = self.next();
        self.shop.let_round_count(&doing, job, sheet, round).await.map_err(refused("round that counts"))
    }

    /// Takes a reading in a slot where none stands; its number.
    pub async fn reads(&mut self, job: i64, sheet: SheetKey, slot: &str, text: &str) -> Done<i64> {
        self.reads_again(job, sheet, slot, text, None).await
    }

    /// Repeats a reading, having seen the one that stands.
    pub async fn reads_again(
        &mut self,
        job: i64,
        sheet: SheetKey,
        slot: &str,
        text: &str,
        saw: Option<i64>,
    ) -> Done<i64> {
        self.keeps(job, NewEntry { saw, ..self.entry(sheet, slot, text) }).await
    }

    /// Takes a reading that is asked about, and keeps it as read all the same.
    pub async fn keeps_as_read(&mut self, job: i64, sheet: SheetKey, slot: &str, text: &str) -> Done<i64> {
        self.keeps(job, NewEntry { as_read: true, ..self.entry(sheet, slot, text) }).await
    }

    /// Takes a reading on a page that has not seen the one that stands: two for somebody to choose between.
    pub async fn reads_as_rival(&mut self, job: i64, sheet: SheetKey, slot: &str, text: &str) -> Done<()> {
        match self.takes(job, self.entry(sheet, slot, text)).await? {
            Took::Rival { .. } => Ok(()),
            took => Err(NotLaidOut::Took { act: format!("{slot} of job {job}: {text}"), took }),
        }
    }

    /// Finds a place good without a figure.
    pub async fn checks(&mut self, job: i64, sheet: SheetKey, slot: &str, how: &str) -> Done<()> {
        self.takes(job, NewEntry { checked: true, ..self.entry(sheet, slot, how) }).await.map(|_| ())
    }

    /// What is typed at a slot where nothing stands.
    fn entry(&self, sheet: SheetKey, slot: &str, text: &str) -> NewEntry {
        NewEntry {
            sheet,
            slot: SlotKey::parse(slot),
            text: text.to_owned(),
            checked: false,
            saw: None,
            as_read: false,
            gauge: self.gauge.clone(),
        }
    }

    async fn keeps(&mut self, job: i64, entry: NewEntry) -> Done<i64> {
        let act = format!("{} of job {job}: {}", entry.slot, entry.text);
        match self.takes(job, entry).await? {
            Took::Kept { number, .. } => Ok(number),
            took => Err(NotLaidOut::Took { act, took }),
        }
    }

    async fn takes(&mut self, job: i64, entry: NewEntry) -> Done<Took> {
        let doing = self.after(12.0, 40.0);
        let act = format!("{} of job {job}: {}", entry.slot, entry.text);
        self.shop.take(&doing, job, &entry).await.map_err(refused(act))
    }

    pub async fn corrects(&mut self, job: i64, number: i64, text: &str, why: &str) -> Done<()> {
        let doing = self.after(20.0, 60.0);
        let new = NewCorrection { text: text.to_owned(), why: why.to_owned(), as_read: false };
        let act = format!("correction to {text}");
        match self.shop.correct(&doing, job, number, &new).await.map_err(refused(&act))? {
            Corrected::Kept => Ok(()),
            Corrected::Odd { question } => Err(NotLaidOut::Asked { act, question }),
        }
    }

    pub async fn accepts(&mut self, job: i64, finding: &str, because: &str, for_owner: &str) -> Done<()> {
        let doing = self.next();
        let call = NewCall { because: because.to_owned(), for_owner: for_owner.to_owned() };
        self.shop.accept(&doing, job, &FindingKey::parse(finding), &call).await.map_err(refused(finding))
    }

    pub async fn signs(&mut self, job: i64, steps: &[&str]) -> Done<()> {
        for step in steps {
            let doing = self.next();
            self.shop
                .sign_step(&doing, job, step, None, "")
                .await
                .map_err(refused(format!("signing {step} of job {job}")))?;
        }
        Ok(())
    }

    pub async fn tightens(&mut self, job: i64, step: &str, form: TighteningForm) -> Done<()> {
        let doing = self.next();
        let act = format!("tightening {}", form.fasteners);
        self.shop.tighten(&doing, job, step, &form).await.map_err(refused(act))
    }

    pub async fn leaves_out(&mut self, job: i64, steps: &[&str]) -> Done<()> {
        for step in steps {
            let doing = self.next();
            self.shop.set_step_aside(&doing, job, step, None, None).await.map_err(refused(step))?;
        }
        Ok(())
    }

    pub async fn done_elsewhere(&mut self, job: i64, step: &str, by_whom: &str) -> Done<()> {
        let doing = self.next();
        self.shop.set_step_aside(&doing, job, step, None, Some(by_whom)).await.map_err(refused(step))
    }

    pub async fn stops(&mut self, job: i64, step: &str, stopped_at: &str) -> Done<()> {
        let doing = self.next();
        self.shop.stop_here(&doing, job, step, stopped_at).await.map_err(refused(step))
    }

    pub async fn notes(&mut self, job: i64, step: Option<&str>, text: &str) -> Done<()> {
        let doing = self.next();
        self.shop.add_note(&doing, job, step, text).await.map_err(refused("note"))
    }

    /// Photographs something; the name is the file's.
    pub async fn photographs(
        &mut self,
        job: i64,
        step: &str,
        pictures: Vec<(&str, Vec<u8>)>,
        caption: &str,
    ) -> Done<()> {
        let doing = self.next();
        let photo = |(name, bytes): (&str, Vec<u8>)| Photo { name: name.to_owned(), bytes };
        let photos = pictures.into_iter().map(photo).collect();
        self.shop.add_photos(&doing, job, Some(step), photos, caption).await.map_err(refused(caption))
    }

    pub async fn issues(&mut self, job: i64, audience: Audience) -> Done<i64> {
        let doing = self.next();
        self.shop.issue_card(&doing, job, audience).await.map_err(refused("card"))
    }
}

/// A limit for every place, by its least and most as typed.
pub(super) fn limit(
    feature: &str,
    (least, most): (&str, &str),
    condition: &str,
    source: &str,
    reason: &str,
) -> LimitForm {
    LimitForm {
        feature: feature.to_owned(),
        least: least.to_owned(),
        most: most.to_owned(),
        condition: condition.to_owned(),
        source: source.to_owned(),
        reason: reason.to_owned(),
        ..LimitForm::default()
    }
}

/// The day that lies a number of working days before another.
fn working_day_before(mut day: Date, mut back: u32) -> Date {
    while back > 0 {
        let Ok(before) = day.yesterday() else { return day };
        day = before;
        if !matches!(day.weekday(), Weekday::Saturday | Weekday::Sunday) {
            back -= 1;
        }
    }
    day
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weekends_are_free() {
        let monday: Date = "2026-03-02".parse().unwrap();
        assert_eq!(working_day_before(monday, 1).to_string(), "2026-02-27");
        assert_eq!(working_day_before(monday, 6).to_string(), "2026-02-20");
        let sunday = monday.yesterday().unwrap();
        assert_eq!(working_day_before(sunday, 1).to_string(), "2026-02-27");
        assert_eq!(working_day_before(monday, 0), monday);
    }
}
