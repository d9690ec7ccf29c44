//! The shop's time at the bench: hours of each weekday, hands, closed days; and how long a step is expected to take.
//!
//! What nobody said is guessed, and whoever shows it says so.

use super::doing::Done;
use super::took::Learned;
use crate::plan::{self, Calendar, ThreePoint};
use crate::record::closed_days::{self, ClosedDay};
use crate::record::step_hours::Hours;
use crate::record::steps::Step;
use crate::record::{Connection, settings};
use std::collections::BTreeMap;
use std::num::NonZeroUsize;

/// Keys of the settings: seven figures from Monday to Sunday; a count.
pub(super) const WEEK: &str = "bench-hours";
pub(super) const HANDS: &str = "bench-hands";

/// Our own guess, no source: a shop of one, eight hours from Monday to Friday.
pub(super) const USUAL_WEEK: [f64; 7] = [8.0, 8.0, 8.0, 8.0, 8.0, 0.0, 0.0];

/// When the shop works, and how many at the bench.
#[derive(Clone, Debug)]
pub(super) struct BenchTime {
    pub calendar: Calendar,
    pub week: [f64; 7],
    pub hands: NonZeroUsize,
    pub closed: Vec<ClosedDay>,
    /// Nobody said the hours of the week, or how many hands.
    pub guessed: bool,
}

impl BenchTime {
    pub async fn load(db: &mut Connection) -> Done<Self> {
        Ok(Self::of(&settings::all(db).await?, closed_days::all(db).await?))
    }

    fn of(kept: &BTreeMap<String, String>, closed: Vec<ClosedDay>) -> Self {
        let week = kept.get(WEEK).and_then(|text| week_of(text));
        let hands = kept.get(HANDS).and_then(|text| text.parse().ok());
        let days = || closed.iter().map(|closed| closed.day);
        let usual = || Calendar::new(USUAL_WEEK, days()).expect("the usual week has hours");
        // What was kept was understood before.
        let said = week.and_then(|week| Some((week, Calendar::new(week, days()).ok()?)));
        let guessed = said.is_none() || hands.is_none();
        let (week, calendar) = said.unwrap_or_else(|| (USUAL_WEEK, usual()));
        Self { calendar, week, hands: hands.unwrap_or(NonZeroUsize::MIN), closed, guessed }
    }
}

/// The seven figures of a kept week.
fn week_of(text: &str) -> Option<[f64; 7]> {
    let hours: Vec<f64> = text.split(' ').map(str::parse).collect::<Result<_, _>>().ok()?;
    hours.try_into().ok()
}

/// A week as it is kept.
pub(super) fn week_text(week: [f64; 7]) -> String {
    week.map(|hours| hours.to_string()).join(" ")
}

/// Our own guess, no source: hours at the bench that each step of the default list is likely to take on a four or an eight;
/// any other step takes half a day.
const LIKELY: [(&str, f64); 18] = [
    ("check-in", 2.0),
    ("tear-down", 8.0),
    ("cracks", 8.0),
    ("agree", 2.0),
    ("parts", 6.0),
    ("main-line", 6.0),
    ("crank", 4.0),
    ("bore", 10.0),
    ("deck", 6.0),
    ("wash", 5.0),
    ("bearings", 6.0),
    ("mock-up", 10.0),
    ("balance", 8.0),
    ("short-block", 10.0),
    ("top-end", 10.0),
    ("prime", 3.0),
    ("run-in", 8.0),
    ("hand-over", 3.0),
];
const ANY_OTHER: f64 = 4.0;

/// How long a step is expected to take, and what says so.
#[derive(Clone, Copy, Debug)]
pub(super) struct Expected<'a> {
    pub hours: ThreePoint,
    pub by: By<'a>,
}

/// What says how long a step takes.
#[derive(Clone, Copy, Debug)]
pub(super) enum By<'a> {
    Builder,
    /// What such steps took before.
    Earlier(&'a Learned),
    Guess,
}

impl Expected<'_> {
    pub fn guessed(&self) -> bool {
        matches!(self.by, By::Guess)
    }

    /// "three engines took 9 to 14 h"; none where the builder said it, or we guess.
    pub fn earlier(&self) -> Option<String> {
        match self.by {
            By::Earlier(learned) => Some(learned.words()),
            By::Builder | By::Guess => None,
        }
    }

    /// What is left of it after so many hours.
    pub fn left(&self, worked: f64) -> plan::Hours {
        let whole = match self.by {
            By::Earlier(learned) => learned.curve().cloned(),
            By::Builder | By::Guess => None,
        };
        let whole = whole.unwrap_or_else(|| plan::Hours::pert(&self.hours));
        if worked > 0.0 { whole.rest_after(worked).unwrap_or(whole) } else { whole }
    }
}

/// As the builder says, else as such steps took before, else as we guess.
pub(super) fn expected<'a>(step: &Step, said: &BTreeMap<i64, Hours>, earlier: Option<&'a Learned>) -> Expected<'a> {
    let said = said.get(&step.id).and_then(|said| ThreePoint::new(said.least, said.likely, said.most).ok());
    if let Some(hours) = said {
        return Expected { hours, by: By::Builder };
    }
    if let Some((hours, learned)) = earlier.and_then(|learned| Some((learned.hours()?, learned))) {
        return Expected { hours, by: By::Earlier(learned) };
    }
    let likely = LIKELY.iter().find(|(key, _)| *key == step.key).map_or(ANY_OTHER, |(_, likely)| *likely);
    Expected { hours: ThreePoint::around(likely).expect("a guess is above zero"), by: By::Guess }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::DEFAULT_STEPS;

    #[test]
    fn every_step_of_the_default_list_has_a_guess() {
        for step in &DEFAULT_STEPS {
            assert!(LIKELY.iter().any(|(key, likely)| *key == step.key && *likely > 0.0), "{}", step.key);
        }
    }

    #[test]
    fn a_week_is_kept_and_read_again() {
        let week = [8.0, 8.0, 7.5, 8.0, 6.0, 0.25, 0.0];
        assert_eq!(week_of(&week_text(week)), Some(week));
        assert_eq!(week_of("8 8 8"), None);
    }

    #[test]
    fn what_nobody_said_is_guessed_and_says_so() {
        let nothing = BenchTime::of(&BTreeMap::new(), Vec::new());
        assert!(nothing.guessed && nothing.week == USUAL_WEEK && nothing.hands.get() == 1);
        let said = [(WEEK, "9 9 9 9 0 0 0"), (HANDS, "2")].map(|(key, text)| (key.to_owned(), text.to_owned()));
        let said = BenchTime::of(&said.into_iter().collect(), Vec::new());
        assert!(!said.guessed && said.hands.get() == 2);
        assert!((said.calendar.hours_a_day() - 36.0 / 7.0).abs() < 1e-12);
    }
}
