//! The calendar of the bench as it is set: hours of each weekday, how many hands, days on which the shop is closed.

use super::Shop;
use super::bench_time::{BenchTime, HANDS, WEEK, week_text};
use super::doing::{Doing, Done, FieldFault, Refused};
use super::move_part::day;
use super::when::{When, civil};
use crate::plan::Calendar;
use crate::record::closed_days::{self, ClosedDay};
use crate::record::{Connection, settings};
use jiff::Timestamp;
use jiff::civil::Date;
use std::num::NonZeroUsize;

/// The days of the week: the field's name and the word.
pub const WEEKDAYS: [(&str, &str); 7] = [
    ("monday", "Monday"),
    ("tuesday", "Tuesday"),
    ("wednesday", "Wednesday"),
    ("thursday", "Thursday"),
    ("friday", "Friday"),
    ("saturday", "Saturday"),
    ("sunday", "Sunday"),
];
/// More at the bench than in any shop of this kind.
const MOST_HANDS: usize = 50;
/// Closed for so many days at once, at most.
const LONGEST_CLOSURE: i32 = 92;

/// What is typed of the week.
#[derive(Clone, Debug, Default)]
pub struct WeekForm {
    /// Hours from Monday to Sunday; empty for none.
    pub hours: [String; 7],
    pub hands: String,
}

/// What is typed of days on which the shop is closed.
#[derive(Clone, Debug, Default)]
pub struct ClosureForm {
    pub from: String,
    /// The last of them; empty for one day.
    pub until: String,
    pub words: String,
}

/// The calendar's page.
#[derive(Clone, Debug)]
pub struct CalendarView {
    pub week: WeekForm,
    /// Nobody said the hours or the hands: what stands is our guess.
    pub guessed: bool,
    /// Days closed from today on: the day as kept, in words, and why.
    pub closed: Vec<(String, String, String)>,
    /// The act that last changed the week: what its form saw, 0 for none.
    pub saw: i64,
}

/// The act that last changed hours or hands, 0 for none.
async fn newest(db: &mut Connection) -> Done<i64> {
    let acts = settings::acts(db).await?;
    Ok(acts.into_iter().filter(|(key, _)| [WEEK, HANDS].contains(&&**key)).map(|(_, act)| act).max().unwrap_or(0))
}

impl WeekForm {
    fn understood(&self) -> Done<([f64; 7], NonZeroUsize)> {
        let mut faults = Vec::new();
        let mut week = [0.0; 7];
        for ((hours, typed), (field, _)) in week.iter_mut().zip(&self.hours).zip(WEEKDAYS) {
            match hours_typed(typed) {
                Some(figure) if figure <= 24.0 => *hours = figure,
                _ => faults.push(FieldFault::new(field, "a day has 0 to 24 working hours: enter such as 8 or 7.5")),
            }
        }
        if faults.is_empty()
            && let Err(why) = Calendar::new(week, [])
        {
            faults.push(FieldFault::new("monday", why));
        }
        let hands = self.hands.trim().parse::<NonZeroUsize>().ok().filter(|hands| hands.get() <= MOST_HANDS);
        if hands.is_none() {
            faults.push(FieldFault::new("hands", format!("enter how many work at the bench, 1 to {MOST_HANDS}")));
        }
        match hands {
            Some(hands) if faults.is_empty() => Ok((week, hands)),
            _ => Err(Refused::Faults(faults)),
        }
    }
}

/// Hours as typed, none below zero; an empty field is none at all.
pub(super) fn hours_typed(typed: &str) -> Option<f64> {
    let typed = typed.trim().replace(',', ".");
    if typed.is_empty() {
        return Some(0.0);
    }
    typed.parse::<f64>().ok().filter(|hours| hours.is_finite() && *hours >= 0.0)
}

/// Hours as they are shown and typed: to the hundredth, "7.5".
pub(super) fn hours_text(hours: f64) -> String {
    let text = format!("{hours:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

impl ClosureForm {
    /// Each day with why.
    fn understood(&self) -> Done<Vec<ClosedDay>> {
        let mut faults = Vec::new();
        let mut on = |field: &str, typed: &str| day(field, typed).map_err(|why| faults.push(why)).ok().flatten();
        let (from, until) = (on("from", &self.from), on("until", &self.until));
        faults.extend(FieldFault::too_long("words", &self.words, 120));
        if faults.is_empty() && from.is_none() {
            faults.push(FieldFault::new("from", "enter the day on which the shop is closed"));
        }
        let days = from.map_or(0, |from| until.map_or(0, |until| (until - from).get_days()));
        if days < 0 {
            faults.push(FieldFault::new("until", "this is before the first day: enter the last day, or none"));
        }
        if days >= LONGEST_CLOSURE {
            faults.push(FieldFault::new("until", format!("enter at most {LONGEST_CLOSURE} days at once")));
        }
        match from {
            Some(from) if faults.is_empty() => {
                let closed = from.series(jiff::Span::new().days(1)).take(usize::try_from(days + 1).unwrap_or(1));
                Ok(closed.map(|day| ClosedDay { day, words: self.words.trim().to_owned() }).collect())
            }
            _ => Err(Refused::Faults(faults)),
        }
    }
}

impl Shop {
    /// The calendar of the bench.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn bench_calendar(&self, now: Timestamp) -> Done<CalendarView> {
        let mut db = self.record.look().await?;
        let time = BenchTime::load(&mut db).await?;
        let today = When::new(&super::shop_settings::zone(&settings::all(&mut db).await?), now).today();
        let ahead = time.closed.iter().filter(|closed| closed.day >= today);
        Ok(CalendarView {
            week: WeekForm { hours: time.week.map(hours_text), hands: time.hands.to_string() },
            guessed: time.guessed,
            closed: ahead.map(|closed| (closed.day.to_string(), civil(closed.day), closed.words.clone())).collect(),
            saw: newest(&mut db).await?,
        })
    }

    /// Keeps the hours of the week and the hands; `saw` is the act that had last changed them when the form was shown.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, or a conflict where somebody changed them after the form was shown.
    pub async fn keep_week(&self, doing: &Doing, saw: i64, form: &WeekForm) -> Done<()> {
        let (week, hands) = form.understood()?;
        let Some(mut w) = self.begin(doing, "set bench hours", None).await? else { return Ok(()) };
        if newest(&mut w).await? != saw {
            return Err(Refused::Conflict { stands: "the hours at the bench were changed meanwhile".to_owned() });
        }
        settings::put(&mut w, WEEK, &week_text(week)).await?;
        settings::put(&mut w, HANDS, &hands.to_string()).await?;
        Ok(w.commit().await?)
    }

    /// Closes the shop on some days.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what is no day.
    pub async fn close_days(&self, doing: &Doing, form: &ClosureForm) -> Done<()> {
        let days = form.understood()?;
        let Some(mut w) = self.begin(doing, "close shop", None).await? else { return Ok(()) };
        for day in &days {
            closed_days::close(&mut w, day).await?;
        }
        Ok(w.commit().await?)
    }

    /// Opens the shop on a day after all.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where it is not closed on that day.
    pub async fn open_day(&self, doing: &Doing, day: &str) -> Done<()> {
        let day: Date = day.parse().map_err(|_| Refused::NotFound)?;
        let Some(mut w) = self.begin(doing, "open shop", None).await? else { return Ok(()) };
        if !closed_days::all(&mut w).await?.iter().any(|closed| closed.day == day) {
            return Err(Refused::NotFound);
        }
        closed_days::open(&mut w, day).await?;
        Ok(w.commit().await?)
    }
}
