//! The date as it is told: "mid-June, not before the 3rd".

use jiff::civil::Date;

use super::calendar::days_between;
use super::simulate::Forecast;

/// Within so many days a third of a month says too little: the day itself is told.
const DAY_ITSELF: i64 = 10;
const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// The dates a promise is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Promise {
    /// Half of all trials are done by then: earlier than this nobody should ask.
    pub even: Date,
    /// Four of five.
    pub given: Date,
    /// Nineteen of twenty.
    pub safe: Date,
}

impl Promise {
    pub fn of(forecast: &Forecast) -> Self {
        Self { even: forecast.quantile(0.5), given: forecast.quantile(0.8), safe: forecast.quantile(0.95) }
    }

    /// What to tell: the third of the month that the 80 % date is in, and not before the 50 % date.
    ///
    /// Early is up to the 10th, mid up to the 20th, late to the end. A date of the next ten days is told itself. The year is
    /// said where it is not this one or the two differ, and the month of "not before" where it is not the one just said.
    pub fn words(&self, today: Date) -> String {
        let near = days_between(today, self.given) <= DAY_ITSELF;
        let told = match self.given.day() {
            day if near => format!("{day} {}", month(self.given)),
            ..=10 => format!("early {}", month(self.given)),
            11..=20 => format!("mid-{}", month(self.given)),
            _ => format!("late {}", month(self.given)),
        };
        let told = told + &year(self.given, today);
        if self.even >= self.given && near {
            return told;
        }
        let even = self.even.min(self.given);
        let same_month = (even.year(), even.month()) == (self.given.year(), self.given.month());
        let not_before = if same_month {
            format!("the {}", ordinal(even.day()))
        } else {
            let same = if even.year() == self.given.year() { today } else { self.given };
            format!("{} {}{}", even.day(), month(even), year(even, same))
        };
        format!("{told}, not before {not_before}")
    }
}

fn month(date: Date) -> &'static str {
    usize::try_from(date.month() - 1).ok().and_then(|month| MONTHS.get(month)).copied().unwrap_or_default()
}

fn year(date: Date, today: Date) -> String {
    if date.year() == today.year() { String::new() } else { format!(" {}", date.year()) }
}

fn ordinal(day: i8) -> String {
    let ending = match day {
        11..=13 => "th",
        _ if day % 10 == 1 => "st",
        _ if day % 10 == 2 => "nd",
        _ if day % 10 == 3 => "rd",
        _ => "th",
    };
    format!("{day}{ending}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn words(today: Date, even: Date, given: Date) -> String {
        Promise { even, given, safe: given }.words(today)
    }

    #[test]
    fn the_third_of_the_month_and_not_before() {
        let today = date(2026, 3, 2);
        assert_eq!(words(today, date(2026, 6, 3), date(2026, 6, 14)), "mid-June, not before the 3rd");
        assert_eq!(words(today, date(2026, 5, 29), date(2026, 6, 1)), "early June, not before 29 May");
        assert_eq!(words(today, date(2026, 6, 1), date(2026, 6, 10)), "early June, not before the 1st");
        assert_eq!(words(today, date(2026, 6, 2), date(2026, 6, 11)), "mid-June, not before the 2nd");
        assert_eq!(words(today, date(2026, 6, 11), date(2026, 6, 20)), "mid-June, not before the 11th");
        assert_eq!(words(today, date(2026, 6, 13), date(2026, 6, 21)), "late June, not before the 13th");
        assert_eq!(words(today, date(2026, 6, 22), date(2026, 6, 30)), "late June, not before the 22nd");
        assert_eq!(words(today, date(2026, 5, 31), date(2026, 5, 31)), "late May, not before the 31st");
    }

    #[test]
    fn another_year_is_said() {
        let today = date(2026, 11, 2);
        assert_eq!(
            words(today, date(2026, 12, 28), date(2027, 1, 8)),
            "early January 2027, not before 28 December 2026"
        );
        assert_eq!(words(today, date(2027, 1, 5), date(2027, 1, 18)), "mid-January 2027, not before the 5th");
        assert_eq!(words(today, date(2027, 2, 26), date(2027, 3, 1)), "early March 2027, not before 26 February 2027");
        assert_eq!(words(today, date(2026, 6, 20), date(2027, 6, 20)), "mid-June 2027, not before 20 June 2026");
    }

    #[test]
    fn the_next_days_are_said_themselves() {
        let today = date(2026, 12, 24);
        assert_eq!(words(today, date(2027, 1, 1), date(2027, 1, 3)), "3 January 2027, not before the 1st");
        assert_eq!(words(today, date(2026, 12, 30), date(2027, 1, 3)), "3 January 2027, not before 30 December 2026");
        assert_eq!(words(today, date(2027, 1, 3), date(2027, 1, 3)), "3 January 2027");
        assert_eq!(words(today, date(2027, 1, 3), date(2027, 1, 4)), "early January 2027, not before the 3rd");
        assert_eq!(words(today, today, today), "24 December");
    }
}
