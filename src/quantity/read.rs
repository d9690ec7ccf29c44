//! From what was said to what it means at this slot.

use super::fault::{Fault, example};
use super::said::{Amount, Said, Sign, Unsaid, Way, parse};
use super::unit::{Dimension, NotFinite, Quantity, Unit};

/// The longest text taken for a reading, in characters, its remark included.
const LONGEST: usize = 80;

/// A bare signed figure below this many steps is finer than any gauge steps: more likely another unit was meant.
const FINEST_DEVIATION: f64 = 0.05;

/// How a text is meant where it is typed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HowRead {
    /// What is asked for; a unit of another dimension is refused.
    pub dimension: Dimension,
    /// The unit of a bare figure. Of a length it also says whether the work is in inches or metric.
    pub bare: Unit,
    /// (x, unit): a bare figure at or above x is in that unit. For clearances, where ".0025" is inches and "2.5" thou:
    /// (0.1, thou) in inches, (1.0, µm) in millimetres. Both ends of a range go by the larger.
    pub bare_from: Option<(f64, Unit)>,
    /// The unit of a bare signed figure ("+2"), set once per gauge.
    pub step: Unit,
    /// The size a signed figure is added to: what the gauge is set to. A slot that may be below zero by its nature (deck
    /// height) gives zero here. Without it a signed length is refused; of other dimensions a sign is just a sign.
    pub from: Option<Quantity>,
    /// What "std", "10 under" and "30 over" refer to.
    pub standard: Option<Quantity>,
}

impl HowRead {
    /// Plain figures in `bare`: no set size, no standard size.
    pub fn plain(bare: Unit) -> Self {
        Self { dimension: bare.dimension(), bare, bare_from: None, step: bare, from: None, standard: None }
    }

    fn enter(&self) -> &'static str {
        example(self.bare, self.bare_from.is_some())
    }
}

/// What was typed and what it means.
#[derive(Clone, Debug, PartialEq)]
pub struct Typed {
    /// As typed, without the spaces around it.
    pub text: String,
    pub entry: Entry,
    /// The unit it was typed in, whether said or meant.
    pub unit: Unit,
    /// One step of the last digit given, in SI; of a fraction one part ("2 3/8": 1/8 in, "half a thou": half a thou); of
    /// a range the coarser of its ends. A size named by its grade ("std", "10 under") counts as told to 1 thou, in metric
    /// work to 0.01 mm.
    pub resolution_si: f64,
}

/// One figure, or the two ends of a stated range, the lower first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Entry {
    Figure(Quantity),
    Range(Quantity, Quantity),
}

/// Reads `text` as it is meant at a slot.
///
/// A bare fraction of a length is inches in any work; a bare "0" at a set gauge is the set size. "10 under" is 10 thou
/// in inches and 0.10 mm in metric work (hundredths), ".010 under" and "0.25 under" are inches and mm: a bare figure
/// below 1 is in the working unit.
///
/// Whether a value can be below zero, or is odd, is not asked here.
///
/// # Errors
/// A [`Fault`] that says what to enter: empty, too long, no number, another dimension, a deviation without a set size, a
/// grade without a standard size, or something that could mean two things.
pub fn read(text: &str, how: &HowRead) -> Result<Typed, Fault> {
    let text = text.trim();
    let enter = how.enter();
    if text.is_empty() {
        return Err(Fault::Empty { enter });
    }
    if text.chars().count() > LONGEST {
        return Err(Fault::TooLong { enter });
    }
    let (first, second) = parse(text).map_err(|unsaid| unreadable(unsaid, text, enter))?;
    let reader = Reader { how, text };
    reader.check_comma()?;
    let (entry, meant) = match second {
        None => {
            let one = reader.meaning(first, figure(&first))?;
            (Entry::Figure(one.quantity), one)
        }
        Some(second) => reader.range(first, second)?,
    };
    Ok(Typed { text: text.to_owned(), entry, unit: meant.unit, resolution_si: meant.resolution_si })
}

fn unreadable(unsaid: Unsaid, text: &str, enter: &'static str) -> Fault {
    let text = text.to_owned();
    match unsaid {
        Unsaid::NoNumber => Fault::NoNumber { text, enter },
        Unsaid::TwoMarks => Fault::TwoMarks { text, enter },
        Unsaid::Exponent => Fault::Exponent { text, enter },
        Unsaid::Rest(rest) => Fault::NotUnderstood { text, rest, enter },
    }
}

/// One value, its unit and the size of one step of it.
#[derive(Clone, Copy)]
struct Meant {
    quantity: Quantity,
    unit: Unit,
    resolution_si: f64,
}

struct Reader<'a> {
    how: &'a HowRead,
    text: &'a str,
}

impl Reader<'_> {
    fn text(&self) -> String {
        self.text.to_owned()
    }

    /// "6,500" rpm is six thousand five hundred to the person typing, and 6.5 by the house's rule.
    fn check_comma(&self) -> Result<(), Fault> {
        let speed = self.how.dimension == Dimension::RotationalSpeed;
        let marked = self.text.split(',').skip(1).any(|after| after.starts_with(|c: char| c.is_ascii_digit()));
        if speed && marked { Err(Fault::CommaInSpeed { text: self.text(), enter: self.how.enter() }) } else { Ok(()) }
    }

    fn range(&self, first: Said, second: Said) -> Result<(Entry, Meant), Fault> {
        let (first, second) = sharing_unit(first, second);
        let alike = match (first, second) {
            (Said::Size { sign: a, .. }, Said::Size { sign: b, .. }) => {
                self.how.from.is_none() || a.is_some() == b.is_some()
            }
            (Said::Size { unit, .. }, _) | (_, Said::Size { unit, .. }) => unit.is_some(),
            _ => true,
        };
        if !alike {
            return Err(Fault::EndsUnlike { text: self.text() });
        }
        let larger = figure(&first).max(figure(&second));
        let (one, other) = (self.meaning(first, larger)?, self.meaning(second, larger)?);
        let (low, high) = if one.quantity.si <= other.quantity.si { (one, other) } else { (other, one) };
        let coarser = Meant { resolution_si: one.resolution_si.max(other.resolution_si), ..one };
        Ok((Entry::Range(low.quantity, high.quantity), coarser))
    }

    /// What `said` means; `larger` is the figure a bare one goes by: its own, or of a range the larger.
    fn meaning(&self, said: Said, larger: f64) -> Result<Meant, Fault> {
        match said {
            Said::Standard => self.graded(0.0),
            Said::Graded { amount, unit, way } => {
                let beyond = self.grade(&amount, unit)?;
                self.graded(if way == Way::Under { -beyond } else { beyond })
            }
            Said::Size { sign, amount, unit } => match (sign, self.how.from) {
                (Some(sign), Some(from)) => {
                    let unit = self.deviation_unit(&amount, unit)?;
                    self.meant(from.si + factor(sign) * unit.interval_to_si(amount.figure), &amount, unit)
                }
                (None, Some(from)) if amount.figure == 0.0 && unit.is_none() => {
                    self.meant(from.si, &amount, self.how.step)
                }
                (Some(_), None) if self.how.dimension == Dimension::Length => {
                    Err(Fault::NoSetSize { text: self.text(), enter: self.how.enter() })
                }
                (sign, _) => {
                    let unit = self.size_unit(&amount, unit, larger)?;
                    self.meant(unit.to_si(sign.map_or(1.0, factor) * amount.figure), &amount, unit)
                }
            },
        }
    }

    fn size_unit(&self, amount: &Amount, said: Option<Unit>, larger: f64) -> Result<Unit, Fault> {
        match (said, self.how.bare_from) {
            (Some(unit), _) => self.checked(unit),
            (None, _) if amount.stroke && self.how.dimension == Dimension::Length => Ok(Unit::Inch),
            (None, Some((least, unit))) if larger >= least => Ok(unit),
            (None, _) => Ok(self.how.bare),
        }
    }

    fn deviation_unit(&self, amount: &Amount, said: Option<Unit>) -> Result<Unit, Fault> {
        let HowRead { bare, step, .. } = *self.how;
        match said {
            Some(unit) => self.checked(unit),
            None if step != bare && amount.figure > 0.0 && amount.figure < FINEST_DEVIATION => {
                Err(Fault::StepUnclear { text: self.text(), step, bare })
            }
            None => Ok(step),
        }
    }

    /// The unit said, if it is of the dimension asked for and can mean one thing only.
    fn checked(&self, unit: Unit) -> Result<Unit, Fault> {
        let HowRead { dimension, bare, step, .. } = *self.how;
        if unit.dimension() != dimension {
            let (text, enter) = (self.text(), self.how.enter());
            return Err(Fault::WrongDimension { text, given: unit.dimension(), wanted: dimension, enter });
        }
        if unit == Unit::Tenth && bare.is_metric_length() && step.is_metric_length() {
            return Err(Fault::TenthUnclear { text: self.text() });
        }
        Ok(unit)
    }

    /// How far beyond the standard size "10 under" is, in SI.
    fn grade(&self, amount: &Amount, said: Option<Unit>) -> Result<f64, Fault> {
        let whole_unit = if self.how.bare.is_metric_length() { Unit::Millimetre } else { Unit::Inch };
        match said {
            Some(unit) => Ok(self.checked(unit)?.to_si(amount.figure)),
            None if amount.figure < 1.0 => Ok(whole_unit.to_si(amount.figure)),
            None => Ok(amount.figure * self.grade_step()),
        }
    }

    /// What sizes are graded in: thou, in metric work hundredths of a millimetre.
    fn grade_step(&self) -> f64 {
        if self.how.bare.is_metric_length() { Unit::Millimetre.to_si(0.01) } else { Unit::Thou.to_si(1.0) }
    }

    /// The standard size and so much beyond it.
    fn graded(&self, beyond_si: f64) -> Result<Meant, Fault> {
        let Some(standard) = self.how.standard.filter(|_| self.how.dimension == Dimension::Length) else {
            return Err(Fault::NoStandard { text: self.text(), enter: self.how.enter() });
        };
        let quantity = self.quantity(standard.si + beyond_si)?;
        Ok(Meant { quantity, unit: self.how.bare, resolution_si: self.grade_step() })
    }

    fn meant(&self, si: f64, amount: &Amount, unit: Unit) -> Result<Meant, Fault> {
        Ok(Meant { quantity: self.quantity(si)?, unit, resolution_si: unit.interval_to_si(amount.step) })
    }

    fn quantity(&self, si: f64) -> Result<Quantity, Fault> {
        Quantity::new(si, self.how.dimension)
            .map_err(|NotFinite| Fault::TooLarge { text: self.text(), enter: self.how.enter() })
    }
}

/// "2.5 to 2.8 thou": a unit said at one end only is that of both.
fn sharing_unit(first: Said, second: Said) -> (Said, Said) {
    match (first, second) {
        (Said::Size { sign, amount, unit: None }, Said::Size { unit: Some(unit), .. }) => {
            (Said::Size { sign, amount, unit: Some(unit) }, second)
        }
        (Said::Size { unit: Some(unit), .. }, Said::Size { sign, amount, unit: None }) => {
            (first, Said::Size { sign, amount, unit: Some(unit) })
        }
        both => both,
    }
}

fn figure(said: &Said) -> f64 {
    match said {
        Said::Standard => 0.0,
        Said::Graded { amount, .. } | Said::Size { amount, .. } => amount.figure,
    }
}

fn factor(sign: Sign) -> f64 {
    match sign {
        Sign::Plus => 1.0,
        Sign::Minus => -1.0,
    }
}

#[cfg(test)]
mod tests;
