//! How far each gauge's readings of one thing scatter, as its newest study found it: in one hand, and in all of them.

use crate::metrology::Repeatability;
use crate::record::studies::Repeat;
use std::collections::BTreeMap;

/// What the newest studies found.
#[derive(Clone, Debug, Default)]
pub(super) struct Studied {
    by_hand: BTreeMap<(i64, String), Repeatability>,
    by_gauge: BTreeMap<i64, Repeatability>,
}

impl Studied {
    /// Pools the readings of each part by each person (JCGM 100:2008, 4.2.4): what people and parts differ by is no scatter.
    pub fn of(repeats: &[Repeat]) -> Self {
        let mut cells: BTreeMap<(i64, &str, i64), Vec<f64>> = BTreeMap::new();
        let mut studies: BTreeMap<i64, &str> = BTreeMap::new();
        for repeat in repeats {
            cells.entry((repeat.gauge, &repeat.person, repeat.part)).or_default().push(repeat.si);
            studies.insert(repeat.gauge, &repeat.study);
        }
        let pooled = |of: String, in_it: &dyn Fn(&(i64, &str, i64)) -> bool| {
            let cells = cells.iter().filter(|(cell, _)| in_it(cell)).map(|(_, figures)| figures.as_slice());
            Repeatability::pooled(of, cells)
        };
        let mut studied = Self::default();
        for (&gauge, study) in &studies {
            if let Some(known) = pooled(format!("study {study}"), &|cell| cell.0 == gauge) {
                studied.by_gauge.insert(gauge, known);
            }
        }
        for &(gauge, hand, _) in cells.keys() {
            let of = format!("study {}, {hand}", studies[&gauge]);
            if let Some(known) = pooled(of, &|cell| (cell.0, cell.1) == (gauge, hand)) {
                studied.by_hand.insert((gauge, hand.to_owned()), known);
            }
        }
        studied
    }

    /// Of a gauge in somebody's hand, where they took part; or else in the hands of those who did.
    pub fn find(&self, gauge: i64, hand: Option<&str>) -> Option<Repeatability> {
        let own = hand.and_then(|hand| self.by_hand.get(&(gauge, hand.to_owned())));
        own.or_else(|| self.by_gauge.get(&gauge)).cloned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn repeat(person: &str, part: i64, si: f64) -> Repeat {
        Repeat { gauge: 1, study: "s".into(), person: person.into(), part, si }
    }

    /// Ada reads each part ± 1 about its own size, Ben ± 3: s² = 2 and 18, each with five degrees of freedom; together 10.
    #[test]
    fn a_hand_has_its_own_scatter() {
        let mut repeats = Vec::new();
        for part in 1..=5 {
            let size = part as f64 * 100.0;
            for (person, by) in [("Ada", 1.0), ("Ben", 3.0)] {
                repeats.extend([repeat(person, part, size - by), repeat(person, part, size + by)]);
            }
        }
        let studied = Studied::of(&repeats);
        let deviation = |hand| studied.find(1, hand).expect("studied").deviation;
        assert!((deviation(Some("Ada")) - 2_f64.sqrt()).abs() < 1e-12);
        assert!((deviation(Some("Ben")) - 18_f64.sqrt()).abs() < 1e-12);
        assert!((deviation(Some("Cy")) - 10_f64.sqrt()).abs() < 1e-12, "who took no part reads as those who did");
        assert_eq!(studied.find(2, Some("Ada")), None);
        let few = Studied::of(&repeats[..8]);
        assert_eq!(few.find(1, Some("Ada")), None, "two parts twice say too little");
    }
}
