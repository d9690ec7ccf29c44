//! How far off a day is, as it is said.

use jiff::civil::Date;

use super::calendar::days_between;

const NUMBERS: [&str; 13] =
    ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
/// Below two weeks days are said, below twelve weeks weeks, then months.
const DAYS_SAID: i64 = 14;
const WEEKS_SAID: i64 = 84;
/// A twelfth of a year, in tenths of a day.
const MONTH_TENTHS: i64 = 304;

/// "today", "tomorrow", "six weeks", "four days late".
pub fn how_far_off(today: Date, due: Date) -> String {
    match days_between(today, due) {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        days if days < 0 => format!("{} late", span(-days)),
        days => span(days),
    }
}

/// A number of days, rounded to what one would say.
fn span(days: i64) -> String {
    let (count, unit) = match days {
        ..DAYS_SAID => (days, "day"),
        DAYS_SAID..WEEKS_SAID => ((days + 3) / 7, "week"),
        _ => ((days * 10 + MONTH_TENTHS / 2) / MONTH_TENTHS, "month"),
    };
    let number = usize::try_from(count).ok().and_then(|count| NUMBERS.get(count));
    let number = number.map_or_else(|| count.to_string(), |&word| word.to_owned());
    format!("{number} {unit}{}", if count == 1 { "" } else { "s" })
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn days_then_weeks_then_months() {
        let said = |due| how_far_off(date(2026, 3, 2), due);
        assert_eq!(said(date(2026, 3, 2)), "today");
        assert_eq!(said(date(2026, 3, 3)), "tomorrow");
        assert_eq!(said(date(2026, 3, 4)), "two days");
        assert_eq!(said(date(2026, 3, 15)), "13 days");
        assert_eq!(said(date(2026, 3, 16)), "two weeks");
        assert_eq!(said(date(2026, 3, 19)), "two weeks");
        assert_eq!(said(date(2026, 3, 20)), "three weeks");
        assert_eq!(said(date(2026, 4, 13)), "six weeks");
        assert_eq!(said(date(2026, 5, 24)), "twelve weeks");
        assert_eq!(said(date(2026, 5, 25)), "three months");
        assert_eq!(said(date(2028, 3, 2)), "24 months");
        assert_eq!(said(date(2026, 3, 1)), "one day late");
        assert_eq!(said(date(2026, 1, 26)), "five weeks late");
    }
}
