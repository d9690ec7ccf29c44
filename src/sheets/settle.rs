//! What would settle a finding on the line: which one contribution, made smaller, would leave its limit beyond U = 2u.

use crate::metrology::Source;

/// A contribution to an uncertainty, of one name.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Part {
    pub name: String,
    /// One of those it is made of.
    pub source: Source,
    /// Standard uncertainty.
    pub u: f64,
}

impl Part {
    pub fn new(name: String, source: Source) -> Self {
        Self { name, source, u: 0.0 }
    }

    /// Takes in another contribution of the same name, independent of it.
    pub fn add(&mut self, u: f64) {
        self.u = self.u.hypot(u);
    }
}

/// Somebody will read one thing so many times; not more.
const PATIENCE: f64 = 9.0;

/// What would settle a value that lies `margin` from its limit: reading one thing more often, zeroing again, a better gauge,
/// an even temperature. With the repeats counted as independent readings of one size, √n times surer (JCGM 100:2008, 4.2.3).
/// `parts` are its contributions, the largest first; `good_to` shows twice a standard uncertainty.
pub(super) fn settle(margin: f64, parts: &[Part], good_to: impl Fn(f64) -> String) -> String {
    let square: f64 = parts.iter().map(|part| part.u * part.u).sum();
    let enough = (margin / 2.0).powi(2);
    // What each part may still be, where it alone can settle the matter.
    let may_be = |part: &Part| {
        let room = enough - (square - part.u * part.u);
        (room > 0.0).then(|| room.sqrt())
    };
    let alone: Vec<(&Part, f64)> = parts.iter().filter_map(|part| Some((part, may_be(part)?))).collect();
    let times = |(part, allowed): &(&Part, f64)| (part.u / allowed).powi(2);
    // The least trouble first: one reading again, then zeroing again, then whatever weighs most.
    let patient =
        |of: fn(&Source) -> bool| alone.iter().find(|may_be| of(&may_be.0.source) && times(may_be) <= PATIENCE);
    let again = patient(|source| matches!(source, Source::Reading(_)))
        .or_else(|| patient(|source| matches!(source, Source::Setting(_))));
    let Some(chosen @ (part, allowed)) = again.or(alone.first()) else {
        return "no single reading would settle it: the limit lies too near for these gauges".to_owned();
    };
    // At least once more; and not once too often for the last bit of the arithmetic.
    let times = (times(chosen) - 1e-9).ceil().max(2.0);
    let name = &part.name;
    match part.source {
        Source::Reading(_) if times <= PATIENCE => {
            format!("would settle it: {name}, read {times} times as often")
        }
        Source::Reading(_) => format!("would settle it: {name}, read with a gauge good to ± {}", good_to(*allowed)),
        Source::Setting(_) if times <= PATIENCE => {
            format!("would settle it: {name} anew, {times} times, and reading again")
        }
        Source::Setting(_) => format!("would settle it: {name} to ± {}", good_to(*allowed)),
        Source::Temperature(_) | Source::Material(_) => "would settle it: part and gauge both at 20 °C".to_owned(),
        Source::Spread(_) => "would settle it: every reading instead of the range".to_owned(),
        Source::Gauge(_) | Source::Master(_) | Source::Study(_) | Source::Maker(_) => {
            format!("would settle it: {name} not above ± {}", good_to(*allowed))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn part(name: &str, source: Source, u: f64) -> Part {
        Part { name: name.to_owned(), source, u }
    }

    fn reading(u: f64) -> Part {
        part("top", Source::Reading("1".into()), u)
    }

    fn setting(u: f64) -> Part {
        part("zeroing", Source::Setting("s".into()), u)
    }

    /// u = √(3² + 1²); at a margin of 4 u may be 2, so the reading √3: 3²/3 = 3 times as many.
    #[test]
    fn the_reading_to_repeat_is_named() {
        let said = settle(4.0, &[reading(3.0), setting(1.0)], |u| u.to_string());
        assert_eq!(said, "would settle it: top, read 3 times as often");
        // Twice as many would not do: √(9/2 + 1) = 2.35; three times does: √(9/3 + 1) = 2.
        assert!((9.0_f64 / 2.0 + 1.0).sqrt() > 2.0 && (9.0_f64 / 3.0 + 1.0).sqrt() <= 2.0);
    }

    #[test]
    fn a_better_gauge_or_nothing_at_all() {
        let better = settle(2.02, &[reading(9.0), setting(1.0)], |u| format!("{:.2}", 2.0 * u));
        assert_eq!(better, "would settle it: top, read with a gauge good to ± 0.28");
        let nothing = settle(1.0, &[reading(3.0), setting(3.0)], |u| u.to_string());
        assert!(nothing.starts_with("no single reading"), "{nothing}");
    }

    #[test]
    fn zeroing_is_named_where_it_decides() {
        // u may be 1.5, which leaves √(2.25 − 1) = 1.118 to the setting: (2/1.118)² = 3.2.
        let said = settle(3.0, &[setting(2.0), reading(1.0)], |u| u.to_string());
        assert_eq!(said, "would settle it: zeroing anew, 4 times, and reading again");
    }
}
