//! The grammar: from text to what was said, not yet what it means.
//!
//! ```text
//! entry  = value [("-" | "to") value] [[","] "all" anything]
//! value  = "std" | [sign] amount [unit] ["and a half"] ["under" | "over"]
//! amount = 4.3775 | 4,3775 | 2 3/8 | 2-3/8 | 3/8 | 2½ | two | half a | two and a half | three quarters of a …
//! ```

use super::spelling::leading_unit;
use super::unit::Unit;

/// One value as it was said.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Said {
    /// "std".
    Standard,
    /// "10 under", ".010 over".
    Graded { amount: Amount, unit: Option<Unit>, way: Way },
    /// "4.3775", "+2 tenths".
    Size { sign: Option<Sign>, amount: Amount, unit: Option<Unit> },
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sign {
    Plus,
    Minus,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Way {
    Under,
    Over,
}

/// A figure and the size of one step of it, both in the unit it was said in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Amount {
    pub figure: f64,
    pub step: f64,
    /// Written with a stroke ("3/8"): of a length, that is inches unless said otherwise.
    pub stroke: bool,
}

/// Why a text is not a sentence of the grammar.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Unsaid {
    NoNumber,
    TwoMarks,
    Exponent,
    /// What stands where nothing more was expected.
    Rest(String),
}

/// Reads a whole text: one value, or the two ends of a range as they were said.
pub(super) fn parse(text: &str) -> Result<(Said, Option<Said>), Unsaid> {
    let tidy = tidied(text);
    let mut cursor = Cursor { rest: &tidy };
    let first = cursor.value()?;
    let second = if cursor.eat("-") || cursor.eat_word("to") { Some(cursor.value()?) } else { None };
    cursor.remark();
    if cursor.rest.is_empty() { Ok((first, second)) } else { Err(cursor.unexpected()) }
}

/// Lower case, one kind of space, dash, µ and inch mark.
fn tidied(text: &str) -> String {
    let plain: String = text
        .chars()
        .flat_map(char::to_lowercase)
        .map(|c| match c {
            '‐' | '‑' | '‒' | '–' | '—' | '−' => '-',
            'μ' => 'µ',
            '“' | '”' | '″' => '"',
            '⋅' | '•' => '·',
            c if c.is_whitespace() => ' ',
            c => c,
        })
        .collect();
    plain.split(' ').filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
}

struct Cursor<'a> {
    rest: &'a str,
}

impl Cursor<'_> {
    fn value(&mut self) -> Result<Said, Unsaid> {
        if self.eat_word("std") || self.eat_word("standard") {
            return Ok(Said::Standard);
        }
        let sign = self.sign();
        let mut amount = self.amount()?;
        let unit = self.unit();
        if unit.is_some() {
            self.and_part(&mut amount);
        }
        match (sign, self.way()) {
            (None, Some(way)) => Ok(Said::Graded { amount, unit, way }),
            (Some(_), Some(_)) => Err(Unsaid::NoNumber),
            (sign, None) => Ok(Said::Size { sign, amount, unit }),
        }
    }

    fn sign(&mut self) -> Option<Sign> {
        if self.eat("+") || self.eat_word("plus") {
            Some(Sign::Plus)
        } else if self.eat("-") || self.eat_word("minus") {
            Some(Sign::Minus)
        } else {
            None
        }
    }

    fn way(&mut self) -> Option<Way> {
        let under = ["under", "undersize", "u/s"].iter().any(|word| self.eat_word(word));
        let over = !under && ["over", "oversize", "o/s"].iter().any(|word| self.eat_word(word));
        match (under, over) {
            (true, _) => Some(Way::Under),
            (_, true) => Some(Way::Over),
            _ => None,
        }
    }

    fn unit(&mut self) -> Option<Unit> {
        let (unit, rest) = leading_unit(self.rest.trim_start())?;
        self.rest = rest;
        Some(unit)
    }

    fn amount(&mut self) -> Result<Amount, Unsaid> {
        if let Some(part) = self.part() {
            return Ok(part);
        }
        let mut amount = match self.decimal()? {
            Some(decimal) => self.with_fraction(decimal)?,
            None => Amount { figure: self.spelled().ok_or(Unsaid::NoNumber)?, step: 1.0, stroke: false },
        };
        self.and_part(&mut amount);
        Ok(amount)
    }

    /// "half a", "a quarter of a", "three quarters of a", "½"; what it is a part of follows.
    fn part(&mut self) -> Option<Amount> {
        const PARTS: [(&str, f64, f64); 7] = [
            ("a half", 0.5, 0.5),
            ("half", 0.5, 0.5),
            ("a quarter", 0.25, 0.25),
            ("quarter", 0.25, 0.25),
            ("three quarters", 0.75, 0.25),
            ("three quarter", 0.75, 0.25),
            ("3 quarters", 0.75, 0.25),
        ];
        if let Some(vulgar) = self.vulgar() {
            return Some(vulgar);
        }
        let &(_, figure, step) = PARTS.iter().find(|(words, ..)| self.eat_word(words))?;
        self.eat_word("of");
        let _article = self.eat_word("a") || self.eat_word("an");
        Some(Amount { figure, step, stroke: false })
    }

    /// "… and a half", behind a whole number: said before the unit or after it.
    fn and_part(&mut self, amount: &mut Amount) {
        let before = self.rest;
        let part = if is_whole(amount) && self.eat_word("and") { self.part() } else { None };
        match part {
            Some(part) => *amount = Amount { figure: amount.figure + part.figure, step: part.step, stroke: false },
            None => self.rest = before,
        }
    }

    /// A fraction behind a whole number ("2 3/8", "2-3/8", "2½") or below one ("3/8").
    fn with_fraction(&mut self, whole: Amount) -> Result<Amount, Unsaid> {
        if !is_whole(&whole) {
            return Ok(whole);
        }
        if let Some(part) = self.vulgar() {
            return Ok(Amount { figure: whole.figure + part.figure, ..part });
        }
        if let Some(below) = self.rest.strip_prefix('/').and_then(leading_whole) {
            self.rest = below.1;
            return fraction(whole.figure, below.0);
        }
        if let Some((above, below, rest)) = self.rest.strip_prefix([' ', '-']).and_then(leading_fraction) {
            self.rest = rest;
            let part = fraction(above, below)?;
            return Ok(Amount { figure: whole.figure + part.figure, ..part });
        }
        Ok(whole)
    }

    fn vulgar(&mut self) -> Option<Amount> {
        let text = self.rest.trim_start();
        let sign = text.chars().next()?;
        let (above, below) = match sign {
            '½' => (1.0, 2.0),
            '¼' => (1.0, 4.0),
            '¾' => (3.0, 4.0),
            '⅛' => (1.0, 8.0),
            '⅜' => (3.0, 8.0),
            '⅝' => (5.0, 8.0),
            '⅞' => (7.0, 8.0),
            _ => return None,
        };
        self.rest = &text[sign.len_utf8()..];
        Some(Amount { figure: above / below, step: 1.0 / below, stroke: false })
    }

    /// Digits with at most one decimal mark, a comma or a point. A comma that no digit follows is left for the remark.
    fn decimal(&mut self) -> Result<Option<Amount>, Unsaid> {
        let text = self.rest.trim_start();
        let (whole, after) = digits(text);
        let (decimals, after) = match after.strip_prefix(['.', ',']).map(digits) {
            Some((decimals, after)) if !decimals.is_empty() => (decimals, after),
            Some((_, after)) if !whole.is_empty() && text[whole.len()..].starts_with('.') => ("", after),
            _ => ("", after),
        };
        if whole.is_empty() && decimals.is_empty() {
            return Ok(None);
        }
        if after.strip_prefix(['.', ',']).is_some_and(starts_with_digit) {
            let comma_and_point = text[..text.len() - after.len()].contains(',') != after.starts_with(',');
            return Err(if comma_and_point { Unsaid::TwoMarks } else { Unsaid::NoNumber });
        }
        if after.strip_prefix('e').is_some_and(|power| starts_with_digit(power.trim_start_matches(['+', '-']))) {
            return Err(Unsaid::Exponent);
        }
        self.rest = after;
        let places = i32::try_from(decimals.len()).map_err(|_| Unsaid::NoNumber)?;
        let figure = format!("{whole}.{decimals}0").parse().map_err(|_| Unsaid::NoNumber)?;
        Ok(Some(Amount { figure, step: 10_f64.powi(-places), stroke: false }))
    }

    /// A number in words; "a" and "an" are one.
    fn spelled(&mut self) -> Option<f64> {
        const WORDS: [(&str, f64); 22] = [
            ("nothing", 0.0),
            ("zero", 0.0),
            ("a", 1.0),
            ("an", 1.0),
            ("one", 1.0),
            ("two", 2.0),
            ("three", 3.0),
            ("four", 4.0),
            ("five", 5.0),
            ("six", 6.0),
            ("seven", 7.0),
            ("eight", 8.0),
            ("nine", 9.0),
            ("ten", 10.0),
            ("eleven", 11.0),
            ("twelve", 12.0),
            ("fifteen", 15.0),
            ("twenty", 20.0),
            ("thirty", 30.0),
            ("forty", 40.0),
            ("fifty", 50.0),
            ("sixty", 60.0),
        ];
        WORDS.iter().find(|(word, _)| self.eat_word(word)).map(|&(_, figure)| figure)
    }

    /// ", all five", "all": kept in the text, meaning nothing here.
    fn remark(&mut self) {
        let before = self.rest;
        self.eat(",");
        self.rest = if self.eat_word("all") { "" } else { before };
    }

    fn eat(&mut self, mark: &str) -> bool {
        let rest = self.rest.trim_start().strip_prefix(mark);
        self.rest = rest.unwrap_or(self.rest);
        rest.is_some()
    }

    fn eat_word(&mut self, word: &str) -> bool {
        let rest = self.rest.trim_start().strip_prefix(word).filter(|rest| !rest.starts_with(char::is_alphanumeric));
        self.rest = rest.unwrap_or(self.rest);
        rest.is_some()
    }

    /// A number that goes on where none can is no number; any other rest is named.
    fn unexpected(&self) -> Unsaid {
        match self.rest.trim() {
            "" => Unsaid::NoNumber,
            rest if rest.starts_with(['.', ',', '/']) => Unsaid::NoNumber,
            rest => Unsaid::Rest(rest.to_owned()),
        }
    }
}

/// Given to a step of one: "2", not "2.0".
fn is_whole(amount: &Amount) -> bool {
    amount.step >= 1.0
}

fn digits(text: &str) -> (&str, &str) {
    text.split_at(text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len()))
}

fn starts_with_digit(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_digit())
}

fn leading_whole(text: &str) -> Option<(f64, &str)> {
    let (digits, rest) = digits(text);
    Some((digits.parse().ok()?, rest))
}

fn leading_fraction(text: &str) -> Option<(f64, f64, &str)> {
    let (above, rest) = leading_whole(text)?;
    let (below, rest) = leading_whole(rest.strip_prefix('/')?)?;
    Some((above, below, rest))
}

fn fraction(above: f64, below: f64) -> Result<Amount, Unsaid> {
    if below > 0.0 {
        Ok(Amount { figure: above / below, step: below.recip(), stroke: true })
    } else {
        Err(Unsaid::NoNumber)
    }
}
