//! When the shop works: hours at the bench for each day of the week, and the days it is closed.

use jiff::SignedDuration;
use jiff::civil::Date;
use thiserror::Error;

/// How far ahead is reckoned: twenty years. Nothing is planned beyond.
const DAYS_AHEAD: usize = 7305;
/// A few thousandths of a second: what sums of hours differ by is no new day.
const SAME_HOUR: f64 = 1e-6;
const HOURS_OF_A_DAY: f64 = 24.0;
const SECONDS_OF_A_DAY: i64 = 86_400;

/// Why a shop's hours do not do.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum CalendarFault {
    #[error("a day has 0 to 24 working hours")]
    Hours,
    #[error("the shop works on no day of the week: nothing would ever be done")]
    NeverOpen,
    #[error("this would not be done in twenty years at the hours the shop keeps")]
    Beyond,
}

/// The working hours of one pair of hands.
#[derive(Clone, Debug, PartialEq)]
pub struct Calendar {
    week: [f64; 7],
    closed: Vec<Date>,
}

impl Calendar {
    /// Hours from Monday to Sunday, and the days on which nobody works.
    pub fn new(week: [f64; 7], closed: impl IntoIterator<Item = Date>) -> Result<Self, CalendarFault> {
        if week.iter().any(|hours| !(0.0..=HOURS_OF_A_DAY).contains(hours)) {
            return Err(CalendarFault::Hours);
        }
        if week.iter().all(|&hours| hours == 0.0) {
            return Err(CalendarFault::NeverOpen);
        }
        let mut closed: Vec<Date> = closed.into_iter().collect();
        closed.sort_unstable();
        closed.dedup();
        Ok(Self { week, closed })
    }

    /// Working hours of a day.
    pub fn hours_on(&self, date: Date) -> f64 {
        if self.closed.binary_search(&date).is_ok() { 0.0 } else { self.week[weekday(date)] }
    }

    /// Working hours of an average day, the days off among them.
    pub fn hours_a_day(&self) -> f64 {
        self.week.iter().sum::<f64>() / 7.0
    }

    /// The day on which the last of so many hours is worked, begun when the shop opens on `start` or next after.
    ///
    /// No hours at all are done on `start` itself.
    pub fn end_of(&self, start: Date, hours: f64) -> Result<Date, CalendarFault> {
        let ahead = Ahead::new(self, start);
        ahead.day_of(hours).map(|day| ahead.date(day)).ok_or(CalendarFault::Beyond)
    }

    /// Working hours from the opening of `start` to the closing of `end`; none where `end` is before.
    pub fn hours_to(&self, start: Date, end: Date) -> Result<f64, CalendarFault> {
        let Ok(day) = usize::try_from(days_between(start, end)) else { return Ok(0.0) };
        Ahead::new(self, start).closing(day).ok_or(CalendarFault::Beyond)
    }
}

/// Calendar days from one date to another, below zero where that is earlier.
pub fn days_between(from: Date, to: Date) -> i64 {
    from.duration_until(to).as_secs() / SECONDS_OF_A_DAY
}

fn weekday(date: Date) -> usize {
    usize::try_from(date.weekday().to_monday_zero_offset()).unwrap_or_default()
}

/// The calendar from a day on, reckoned once: day 0 is that day, hours count from its opening.
#[derive(Clone, Debug)]
pub struct Ahead {
    start: Date,
    /// Hours worked by the end of each day.
    closing: Vec<f64>,
}

impl Ahead {
    pub fn new(calendar: &Calendar, start: Date) -> Self {
        let first = weekday(start);
        let mut hours: Vec<f64> = (0..DAYS_AHEAD).map(|day| calendar.week[(first + day) % 7]).collect();
        for &date in &calendar.closed {
            let closed = usize::try_from(days_between(start, date)).ok().and_then(|day| hours.get_mut(day));
            if let Some(closed) = closed {
                *closed = 0.0;
            }
        }
        let mut worked = 0.0;
        for hours in &mut hours {
            worked += *hours;
            *hours = worked;
        }
        Self { start, closing: hours }
    }

    pub fn start(&self) -> Date {
        self.start
    }

    /// The first day by the end of which so many hours are worked; none beyond what is reckoned.
    pub fn day_of(&self, hours: f64) -> Option<usize> {
        let day = self.closing.partition_point(|closing| closing + SAME_HOUR < hours);
        (day < self.closing.len()).then_some(day)
    }

    /// Hours worked by the end of a day; none beyond what is reckoned.
    pub fn closing(&self, day: usize) -> Option<f64> {
        self.closing.get(day).copied()
    }

    /// The date of a day; the last there is, where dates end.
    pub fn date(&self, day: usize) -> Date {
        let days = i64::try_from(day.min(DAYS_AHEAD)).unwrap_or_default();
        self.start.saturating_add(SignedDuration::from_secs(days * SECONDS_OF_A_DAY))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    /// Eight hours on weekdays, four on Saturday; closed on Wednesday 24 December 2025 and the two days after.
    fn shop() -> Calendar {
        let closed = [date(2025, 12, 26), date(2025, 12, 24), date(2025, 12, 25)];
        Calendar::new([8.0, 8.0, 8.0, 8.0, 8.0, 4.0, 0.0], closed).expect("a calendar")
    }

    #[test]
    fn work_ends_on_the_day_its_last_hour_is_worked() {
        let monday = date(2025, 12, 22);
        let ends = |hours| shop().end_of(monday, hours).expect("a day");
        assert_eq!(ends(0.0), monday);
        assert_eq!(ends(8.0), monday);
        assert_eq!(ends(8.01), date(2025, 12, 23));
        assert_eq!(ends(16.01), date(2025, 12, 27), "the closed days are passed over");
        assert_eq!(ends(20.5), date(2025, 12, 29), "and Sunday");
        assert_eq!(shop().end_of(date(2025, 12, 28), 1.0), Ok(date(2025, 12, 29)), "begun on a Sunday");
    }

    #[test]
    fn sums_that_differ_in_the_last_place_are_no_new_day() {
        assert_eq!(shop().end_of(date(2025, 12, 22), (0..80).map(|_| 0.1).sum()), Ok(date(2025, 12, 22)));
    }

    #[test]
    fn hours_between_two_days() {
        let monday = date(2025, 12, 22);
        assert_eq!(shop().hours_to(monday, date(2025, 12, 29)), Ok(28.0));
        assert_eq!(shop().hours_to(monday, monday), Ok(8.0));
        assert_eq!(shop().hours_to(monday, date(2025, 12, 21)), Ok(0.0));
        assert_eq!((shop().hours_on(date(2025, 12, 25)), shop().hours_on(date(2025, 12, 27))), (0.0, 4.0));
    }

    #[test]
    fn a_shop_that_never_works_is_refused() {
        assert_eq!(Calendar::new([0.0; 7], []), Err(CalendarFault::NeverOpen));
        for wrong in [-1.0, 24.5, f64::NAN] {
            assert_eq!(Calendar::new([8.0, 8.0, wrong, 8.0, 8.0, 0.0, 0.0], []), Err(CalendarFault::Hours));
        }
    }

    #[test]
    fn what_takes_decades_has_no_day() {
        let rare = Calendar::new([0.0, 0.5, 0.0, 0.0, 0.0, 0.0, 0.0], []).expect("a calendar");
        assert_eq!(rare.end_of(date(2026, 1, 1), 1000.0), Err(CalendarFault::Beyond));
        assert_eq!(rare.hours_to(date(2026, 1, 1), date(2060, 1, 1)), Err(CalendarFault::Beyond));
        assert!(rare.end_of(Date::MAX, 1.0).is_ok(), "where dates end the last one stands");
    }

    #[test]
    fn a_leap_day_is_a_day() {
        assert_eq!(days_between(date(2028, 2, 28), date(2028, 3, 1)), 2);
        assert_eq!(days_between(date(2026, 3, 1), date(2026, 2, 28)), -1);
    }
}
