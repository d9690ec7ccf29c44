//! What steps really took: hours worked on those signed, of the same family or else of the whole shop, and how long such a
//! step is expected to take by them.

use super::bench_calendar::hours_text;
use super::doing::Done;
use crate::plan::{Hours, ThreePoint, Worked, bench_hours};
use crate::record::worked::StepTook;
use crate::record::{Connection, worked};
use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

/// What so far was signed after hours were written down for it.
#[derive(Debug, Default)]
pub(super) struct Took {
    /// The newest act that could change it.
    as_of: i64,
    by_family: BTreeMap<(i64, String), Learned>,
    by_key: BTreeMap<String, Learned>,
}

/// What steps of one kind took.
#[derive(Debug)]
pub(super) struct Learned {
    /// In hours, one for each job.
    took: Vec<f64>,
    of_family: bool,
    expected: OnceLock<Option<(ThreePoint, Hours)>>,
}

impl Took {
    /// As it is now; what is known already is kept where nothing could have changed it.
    pub async fn load(db: &mut Connection, known: Option<&Arc<Self>>) -> Done<Arc<Self>> {
        let as_of = worked::newest_change(db).await?;
        if let Some(known) = known.filter(|known| known.as_of == as_of) {
            return Ok(Arc::clone(known));
        }
        Ok(Arc::new(Self::of(as_of, worked::took(db).await?)))
    }

    fn of(as_of: i64, all: Vec<StepTook>) -> Self {
        let mut of_family: BTreeMap<(i64, String), Vec<f64>> = BTreeMap::new();
        let mut of_shop: BTreeMap<String, Vec<f64>> = BTreeMap::new();
        for StepTook { key, family, hours } in all {
            let hours = f64::from(hours.0) / 4.0;
            if let Some(family) = family {
                of_family.entry((family, key.clone())).or_default().push(hours);
            }
            of_shop.entry(key).or_default().push(hours);
        }
        let learned = |took, of_family| Learned { took, of_family, expected: OnceLock::new() };
        Self {
            as_of,
            by_family: of_family.into_iter().map(|(key, took)| (key, learned(took, true))).collect(),
            by_key: of_shop.into_iter().map(|(key, took)| (key, learned(took, false))).collect(),
        }
    }

    /// What steps of this key took on engines of the family, or else on any.
    pub fn find(&self, family: Option<i64>, key: &str) -> Option<&Learned> {
        let own = family.and_then(|family| self.by_family.get(&(family, key.to_owned())));
        own.or_else(|| self.by_key.get(key)).filter(|learned| learned.expected().is_some())
    }
}

impl Learned {
    /// Around what they took on average, moved and spread by each: least and most are what one in twenty is below and above.
    fn expected(&self) -> Option<&(ThreePoint, Hours)> {
        let reckoned = || {
            let count = u32::try_from(self.took.len()).ok()?;
            let middle = ThreePoint::around(self.took.iter().sum::<f64>() / f64::from(count)).ok()?;
            let one = |&actual_hours: &f64| Worked { planned_hours: middle.mean(), actual_hours };
            let curve = bench_hours(&middle, &self.took.iter().map(one).collect::<Vec<_>>()).ok()?;
            let [least, likely, most] = [0.05, 0.5, 0.95].map(|share| curve.quantile(share));
            Some((ThreePoint::new(least, likely, most).ok()?, curve))
        };
        self.expected.get_or_init(reckoned).as_ref()
    }

    pub fn hours(&self) -> Option<ThreePoint> {
        self.expected().map(|(hours, _)| *hours)
    }

    pub fn curve(&self) -> Option<&Hours> {
        self.expected().map(|(_, curve)| curve)
    }

    /// "three engines of its family took 9 to 14 h", "one engine took 9 h".
    pub fn words(&self) -> String {
        let least = self.took.iter().copied().fold(f64::INFINITY, f64::min);
        let most = self.took.iter().copied().fold(0.0, f64::max);
        let engines = match self.took.len() {
            1 => "one engine".to_owned(),
            count => {
                let words = ["two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
                format!("{} engines", words.get(count - 2).map_or_else(|| count.to_string(), |&word| word.to_owned()))
            }
        };
        let whose = if self.of_family { " of its family" } else { "" };
        let span =
            if least < most { format!("{} to {}", hours_text(least), hours_text(most)) } else { hours_text(most) };
        format!("{engines}{whose} took {span}\u{a0}h")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::charges::hours::Quarters;

    fn took(of: &[(&str, Option<i64>, u32)]) -> Took {
        let one = |&(key, family, hours): &(&str, Option<i64>, u32)| StepTook {
            key: key.to_owned(),
            family,
            hours: Quarters(4 * hours),
        };
        Took::of(1, of.iter().map(one).collect())
    }

    #[test]
    fn a_step_is_expected_to_take_what_such_steps_took() {
        let took = took(&[("bore", Some(1), 9), ("bore", Some(1), 12), ("bore", Some(1), 14), ("bore", Some(2), 30)]);
        let of_family = took.find(Some(1), "bore").expect("three");
        assert_eq!(of_family.words(), "three engines of its family took 9 to 14\u{a0}h");
        let hours = of_family.hours().expect("hours");
        assert!((10.0..13.5).contains(&hours.likely()) && hours.least() < 9.5 && hours.most() > 13.5, "{hours:?}");
        assert_eq!(took.find(Some(2), "bore").expect("one").words(), "one engine of its family took 30\u{a0}h");
        // Of another family nothing is known: all of the shop count.
        assert_eq!(took.find(Some(3), "bore").expect("four").words(), "four engines took 9 to 30\u{a0}h");
        assert!(took.find(None, "bore").is_some() && took.find(None, "wash").is_none());
    }
}
