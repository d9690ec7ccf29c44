//! Instants and days as the shop reads them, in its own zone.

use super::doing::FieldFault;
use crate::record::Stamp;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// The shop's zone, and now.
#[derive(Clone, Debug)]
pub(super) struct When {
    zone: TimeZone,
    now: Timestamp,
}

impl When {
    /// An unknown zone's name stands for UTC.
    pub fn new(zone: &str, now: Timestamp) -> Self {
        Self { zone: TimeZone::get(zone).unwrap_or(TimeZone::UTC), now }
    }

    pub fn now(&self) -> Timestamp {
        self.now
    }

    /// "today 14:05", "23 November 14:05", "23 November 2025".
    pub fn at(&self, instant: Timestamp) -> String {
        let (then, now) = (instant.to_zoned_datetime(self.zone.clone()), self.now.to_zoned_datetime(self.zone.clone()));
        if then.date() == now.date() {
            then.strftime("today %H:%M").to_string()
        } else if then.year() == now.year() {
            then.strftime("%-d %B %H:%M").to_string()
        } else {
            then.strftime("%-d %B %Y").to_string()
        }
    }

    /// The day it is now.
    pub fn today(&self) -> Date {
        self.date(self.now)
    }

    /// The day it was then.
    pub fn date(&self, instant: Timestamp) -> Date {
        instant.to_zoned_datetime(self.zone.clone()).date()
    }

    /// The minutes of the day an instant falls on, from midnight.
    pub fn minute_of(&self, instant: Timestamp) -> u16 {
        let time = instant.to_zoned_datetime(self.zone.clone()).time();
        u16::try_from(i32::from(time.hour()) * 60 + i32::from(time.minute())).unwrap_or_default()
    }

    /// The instants a day begins and ends at.
    pub fn bounds(&self, day: Date) -> Option<(Timestamp, Timestamp)> {
        let midnight = |day: Date| Some(day.to_zoned_datetime(self.zone.clone()).ok()?.timestamp());
        Some((midnight(day)?, midnight(day.tomorrow().ok()?)?))
    }

    /// "23 November 2025".
    pub fn day(&self, instant: Timestamp) -> String {
        instant.to_zoned_datetime(self.zone.clone()).strftime("%-d %B %Y").to_string()
    }

    /// "today 14:05 by Ada".
    pub fn stamp(&self, stamp: &Stamp) -> String {
        match &stamp.by {
            Some(by) => format!("{} by {by}", self.at(stamp.at)),
            None => self.at(stamp.at),
        }
    }
}

/// A day as typed: 2027-03-01; none where nothing was.
pub(super) fn typed_day(field: &str, text: &str) -> Result<Option<Date>, FieldFault> {
    match text.trim() {
        "" => Ok(None),
        text => text.parse().map(Some).map_err(|_| FieldFault::new(field, "enter a day as 2027-03-01")),
    }
}

/// A day on which something was done: typed, and not in the future.
pub(super) fn day_done(field: &str, text: &str, today: Date) -> Result<Date, FieldFault> {
    match typed_day(field, text)? {
        None => Err(FieldFault::new(field, "enter the day, such as 2027-03-01")),
        Some(day) if day > today => Err(FieldFault::new(field, "enter today or an earlier day")),
        Some(day) => Ok(day),
    }
}

/// "23 November 2025".
pub(super) fn civil(day: Date) -> String {
    day.strftime("%-d %B %Y").to_string()
}
