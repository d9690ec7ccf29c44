//! An engine on the stand with readings typed at it, for the tests of this folder.

use std::collections::BTreeMap;

use witnessmark::engine::{
    Architecture, FindingFeature, FindingKey, Layout, Limit, LimitKind, Materials, Place, Setup, SheetKey, SlotKey,
    TargetFeature, TargetKey, WorkingUnit,
};
use witnessmark::metrology::{Rule, Verdict};
use witnessmark::quantity::{Entry, Unit};
use witnessmark::sheets::{Book, Finding, Slot, Standing, Take, TakeValue, home_of, sheet};

/// One thou in m.
pub const THOU: f64 = 25.4e-6;
/// One tenth (of a thou) in m.
pub const TENTH: f64 = 2.54e-6;
pub const MICROMETRE: f64 = 1e-6;

#[derive(Clone)]
pub struct Bench {
    pub setup: Setup,
    pub limits: Vec<Limit>,
    pub rule: Rule,
    pub takes: Vec<(SlotKey, Take)>,
}

impl Bench {
    pub fn inline(cylinders: u8, mains: u8, unit: WorkingUnit) -> Self {
        let architecture = Architecture::new(Layout::Inline, cylinders, mains, vec![], vec![]).expect("an engine");
        let setup = Setup {
            architecture,
            unit,
            materials: Materials::default(),
            expansions: BTreeMap::new(),
            targets: BTreeMap::new(),
        };
        Self { setup, limits: vec![], rule: Rule::Simple, takes: vec![] }
    }

    pub fn inch() -> Self {
        Self::inline(4, 5, WorkingUnit::Inch)
    }

    pub fn millimetre() -> Self {
        Self::inline(4, 5, WorkingUnit::Millimetre)
    }

    #[must_use]
    pub fn guarded(self) -> Self {
        Self { rule: Rule::Guarded, ..self }
    }

    #[must_use]
    pub fn target(mut self, feature: TargetFeature, place: &str, unit: Unit, value: f64) -> Self {
        self.setup.targets.insert(TargetKey { feature, place: at(place) }, unit.to_si(value));
        self
    }

    /// A limit for every place in `unit`; NaN stands for no limit on that side.
    #[must_use]
    pub fn limit(self, feature: &str, kind: LimitKind, unit: Unit, min: f64, max: f64) -> Self {
        self.limit_at(feature, None, kind, unit, min, max)
    }

    #[must_use]
    pub fn limit_at(
        mut self,
        feature: &str,
        place: Option<&str>,
        kind: LimitKind,
        unit: Unit,
        min: f64,
        max: f64,
    ) -> Self {
        let si = |value: f64| (!value.is_nan()).then(|| unit.to_si(value));
        self.limits.push(Limit {
            feature: FindingFeature::parse(feature),
            place: place.map(at),
            kind,
            min: si(min),
            max: si(max),
            condition: String::new(),
            source: "the test".into(),
        });
        self
    }

    pub fn slot(&self, key: &str) -> Slot {
        let key = SlotKey::parse(key);
        SheetKey::ALL
            .into_iter()
            .flat_map(|sheet_key| (sheet(sheet_key).slots)(&self.setup))
            .find(|slot| slot.key == key)
            .unwrap_or_else(|| panic!("{key} is no reading of this engine"))
    }

    /// A figure or a range as typed at the slot.
    #[must_use]
    pub fn read(self, key: &str, typed: &str) -> Self {
        self.read_with(key, typed, |_| ())
    }

    /// The same, with something said of the take.
    #[must_use]
    pub fn read_with(mut self, key: &str, typed: &str, say: impl Fn(&mut Take)) -> Self {
        let slot = self.slot(key);
        let how = slot.how(self.setup.unit, self.setup.unit.small(), None);
        let read = slot.read(typed, &how, self.setup.unit).unwrap_or_else(|fault| panic!("{key} {typed}: {fault}"));
        let value = match read.entry {
            Entry::Figure(figure) => TakeValue::Figure(figure.si),
            Entry::Range(low, high) => TakeValue::Range(low.si, high.si),
        };
        self.put(slot.key, value, read.resolution_si, say);
        self
    }

    /// Several figures at once, each "slot value".
    #[must_use]
    pub fn reads(self, lines: &[(&str, &str)]) -> Self {
        lines.iter().fold(self, |bench, (key, typed)| bench.read(key, typed))
    }

    #[must_use]
    pub fn checked(mut self, key: &str, how: &str) -> Self {
        self.put(SlotKey::parse(key), TakeValue::Checked { how: how.into() }, 0.0, |_| ());
        self
    }

    pub fn put(&mut self, key: SlotKey, value: TakeValue, resolution: f64, say: impl Fn(&mut Take)) {
        let id = format!("r{}", self.takes.len());
        let mut take = Take { id, value, resolution, gauge: None, setting: None, temperature: None, past_due: false };
        say(&mut take);
        self.takes.push((key, take));
    }

    pub fn book(&self) -> Book {
        let mut book = Book::new(self.setup.clone(), self.limits.clone(), self.rule);
        for key in SheetKey::ALL {
            let slots = (sheet(key).slots)(&self.setup);
            let of = |slot: &Slot| {
                self.takes.iter().filter(|(key, _)| *key == slot.key).map(|(_, take)| take.clone()).collect()
            };
            book.enter_round("final", slots.iter().map(|slot| (slot, of(slot))).collect()).expect("finite");
        }
        book
    }

    /// The finding of a key, worked out by its home.
    pub fn find(&self, key: &str) -> Option<Finding> {
        let key = FindingKey::parse(key);
        let home = home_of(&key.feature).unwrap_or_else(|| panic!("{key} has no home"));
        self.book().finding(home, &key).cloned()
    }

    #[track_caller]
    pub fn finding(&self, key: &str) -> Finding {
        self.find(key).unwrap_or_else(|| panic!("no finding {key}"))
    }

    #[track_caller]
    pub fn value(&self, key: &str) -> f64 {
        value(&self.finding(key))
    }

    #[track_caller]
    pub fn u(&self, key: &str) -> f64 {
        self.finding(key).value.expect("a value").u()
    }
}

pub fn at(place: &str) -> Place {
    place.parse().expect("a place")
}

#[track_caller]
pub fn value(finding: &Finding) -> f64 {
    finding.value.as_ref().unwrap_or_else(|| panic!("{} has no value", finding.key)).value()
}

#[track_caller]
pub fn verdict(finding: &Finding) -> Verdict {
    finding.judgement.unwrap_or_else(|| panic!("{} is not judged", finding.key)).verdict
}

#[track_caller]
pub fn is_missing(finding: &Finding, what: &str) {
    assert_eq!(finding.standing(), Standing::Missing, "{finding:?}");
    assert!(finding.judgement.is_none(), "what is missing carries no verdict");
    let said = format!("{:?}", finding.basis);
    assert!(said.contains(what), "{said} does not say {what}");
}

#[track_caller]
pub fn close(actual: f64, expected: f64, tolerance: f64) {
    assert!((actual - expected).abs() <= tolerance, "{actual} is not {expected} ± {tolerance}");
}
