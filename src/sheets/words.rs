//! Figures in words, in the job's working unit: what the working on a page or paper is written with.

use super::Finding;
use crate::engine::{Measure, WorkingUnit};
use crate::quantity::Unit;

/// Shows lengths as the job speaks of them.
#[derive(Clone, Copy, Debug)]
pub struct Words {
    pub unit: WorkingUnit,
}

impl Words {
    /// "1 reading", "6 readings".
    pub fn counted(count: usize, what: &str) -> String {
        if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
    }

    /// A size with its unit: "4.3775 in".
    pub fn size(self, metres: f64) -> String {
        let unit = self.unit.size();
        unit.show(metres, unit.usual_decimals())
    }

    /// A size without its unit.
    pub fn size_number(self, metres: f64) -> String {
        let unit = self.unit.size();
        unit.show_number(metres, unit.usual_decimals())
    }

    /// What stands behind a figure in a unit; of a ratio of clearance to diameter as the job speaks of it.
    pub fn symbol(self, unit: Unit) -> &'static str {
        match (unit, self.unit) {
            (Unit::ThouPerInch, WorkingUnit::Millimetre) => "µm/mm",
            _ => unit.symbol(),
        }
    }

    /// The decimals that a figure was given with rather than measured, between `fewest` and `most`.
    pub fn decimals_given(unit: Unit, si: f64, fewest: u8, most: u8) -> u8 {
        let value = unit.from_si(si);
        let told = |decimals: &u8| {
            let scale = 10_f64.powi(i32::from(*decimals));
            ((value * scale).round() / scale - value).abs() < 1e-6
        };
        (fewest..most).find(told).unwrap_or(most)
    }

    /// A figure that was given rather than measured, without its unit: with the usual decimals, and more where it was
    /// given finer, as far as the trade speaks.
    pub fn given(unit: Unit, si: f64) -> String {
        let usual = unit.usual_decimals();
        let more = match unit {
            Unit::Millimetre | Unit::ThouPerInch => 0,
            _ => 1,
        };
        unit.show_number(si, Self::decimals_given(unit, si, usual, usual + more))
    }

    /// Limits as they were set: "2.0 to 3.0 thou", "at most 0.25 thou"; empty where neither is given.
    pub fn limits(self, unit: Unit, min: Option<f64>, max: Option<f64>) -> String {
        let number = |si| Self::given(unit, si);
        let figure = |si| format!("{}\u{a0}{}", number(si), self.symbol(unit));
        match (min, max) {
            (Some(min), Some(max)) => format!("{} to {}", number(min), figure(max)),
            (Some(min), None) => format!("at least {}", figure(min)),
            (None, Some(max)) => format!("at most {}", figure(max)),
            (None, None) => String::new(),
        }
    }

    /// A clearance or small difference with its unit: "2.5 thou".
    pub fn small(self, metres: f64) -> String {
        let unit = self.unit.small();
        unit.show(metres, unit.usual_decimals())
    }

    /// The mean of several sizes without its unit, told one digit more finely than they were.
    pub fn mean_number(self, metres: f64) -> String {
        let unit = self.unit.size();
        unit.show_number(metres, unit.usual_decimals() + 1)
    }

    /// The difference of such means, with its unit.
    pub fn small_of_means(self, metres: f64) -> String {
        let unit = self.unit.small();
        unit.show(metres, unit.usual_decimals() + 1)
    }

    /// A figure as its measure is spoken of, with its unit.
    pub fn said(self, measure: Measure, si: f64) -> String {
        let unit = self.unit.of(measure);
        match unit {
            Unit::ThouPerInch => format!("{}\u{a0}{}", self.number(measure, si), self.symbol(unit)),
            _ => unit.show(si, unit.usual_decimals()),
        }
    }

    /// The same without its unit.
    pub fn number(self, measure: Measure, si: f64) -> String {
        let unit = self.unit.of(measure);
        unit.show_number(si, unit.usual_decimals())
    }

    /// A stress or pressure in metal, as either trade says it: psi or `MPa`.
    pub fn stress(self, pascal: f64) -> String {
        match self.unit {
            WorkingUnit::Inch => Unit::PoundPerSquareInch.show(pascal, 0),
            WorkingUnit::Millimetre => format!("{:.1}\u{a0}MPa", pascal / 1e6).replace('-', "−"),
        }
    }

    /// How finely a gauge tells, or how wide a limit is: "0.1 thou", "0.25 µm".
    pub fn step(self, metres: f64) -> String {
        let unit = self.unit.small();
        format!("{}\u{a0}{}", unit.show_number(metres, Self::decimals_given(unit, metres, 0, 3)), unit.symbol())
    }

    /// A figure of a finding in the unit it is spoken of.
    pub fn figure(self, finding: &Finding, si: f64) -> String {
        self.said(finding.measure, si)
    }

    /// A ratio of clearance to diameter: "0.95 thou/in", or µm per mm, which is the same number.
    pub fn ratio(self, ratio: f64) -> String {
        self.said(Measure::PER_DIAMETER, ratio)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_given_keeps_its_digits() {
        let inch = Words { unit: WorkingUnit::Inch };
        let thou = |value: f64| Some(Unit::Thou.to_si(value));
        assert_eq!(inch.limits(Unit::Thou, thou(2.0), thou(2.25)), "2.0 to 2.25\u{a0}thou");
        assert_eq!(inch.limits(Unit::Thou, None, Some(Unit::Millimetre.to_si(0.05))), "at most 1.97\u{a0}thou");
        assert_eq!(Words::decimals_given(Unit::Inch, Unit::Inch.to_si(3.5), 2, 4), 2);
        assert_eq!(Words::given(Unit::Inch, Unit::Inch.to_si(4.03055)), "4.03055");
        assert_eq!(inch.limits(Unit::Thou, None, None), "");
        let metric = Words { unit: WorkingUnit::Millimetre };
        assert_eq!(metric.limits(Unit::ThouPerInch, Some(7.5e-4), None), "at least 0.75\u{a0}µm/mm");
    }
}
