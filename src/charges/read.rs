//! The figures an office types, as whole numbers of their smallest part.
//!
//! As in the rest of the house a comma or a point is the decimal mark, and both in one number are refused. So thousands
//! are set apart by a space (plain, no-break, thin) or an apostrophe, in groups of three: "1 250.00", "1'250,00".

use thiserror::Error;

const LONGEST: usize = 40;

/// Why a text was refused. Each says what to enter; `enter` is an example that would have been read.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum ReadFault {
    #[error("nothing entered: enter {enter}")]
    Empty { enter: &'static str },
    #[error("too long: enter {enter}")]
    TooLong { enter: &'static str },
    #[error("“{text}” is not understood: enter {enter}")]
    NoNumber { text: String, enter: &'static str },
    #[error(
        "“{text}” has both a comma and a point: use one as the decimal mark, a space between thousands, and enter {enter}"
    )]
    TwoMarks { text: String, enter: &'static str },
    #[error("“{text}” could be thousands or a fraction: set thousands apart by a space, and enter {enter}")]
    Thousands { text: String, enter: &'static str },
    #[error("“{text}”: thousands stand in groups of three: enter {enter}")]
    Groups { text: String, enter: &'static str },
    #[error("“{text}” is below zero: enter it without a sign; what is given back has its own kind of line")]
    BelowZero { text: String },
    #[error("“{text}” is finer than is reckoned with here: enter {enter}")]
    TooFine { text: String, enter: &'static str },
    #[error("“{text}” is too large: enter {enter}")]
    TooLarge { text: String, enter: &'static str },
    #[error("“{text}” is no whole quarter of an hour: enter {below} or {above}")]
    NoQuarter { text: String, below: String, above: String },
}

/// How many decimals there are, and an example of what is read.
#[derive(Clone, Copy)]
pub(super) struct Form {
    pub decimals: u8,
    pub enter: &'static str,
}

impl Form {
    /// The number of smallest parts that `text` says: with two decimals "12.5" is 1250.
    ///
    /// Three figures behind a mark are refused where they could be thousands: always with fewer than three decimals,
    /// and behind a comma with three.
    pub fn read(self, text: &str) -> Result<i64, ReadFault> {
        let Self { decimals, enter } = self;
        let text = text.trim();
        let said = || text.to_owned();
        if text.is_empty() {
            return Err(ReadFault::Empty { enter });
        }
        if text.chars().count() > LONGEST {
            return Err(ReadFault::TooLong { enter });
        }
        if text.starts_with(['-', '−']) {
            return Err(ReadFault::BelowZero { text: said() });
        }
        if text.contains(',') && text.contains('.') {
            return Err(ReadFault::TwoMarks { text: said(), enter });
        }
        let (whole, mark, fraction) = match text.find([',', '.']) {
            Some(at) => (&text[..at], Some(&text[at..=at]), &text[at + 1..]),
            None => (text, None, ""),
        };
        let whole = ungrouped(whole).ok_or_else(|| ReadFault::Groups { text: said(), enter })?;
        let figures = |part: &str| part.bytes().all(|b| b.is_ascii_digit());
        if !figures(&whole) || !figures(fraction) || whole.is_empty() && fraction.is_empty() {
            return Err(ReadFault::NoNumber { text: said(), enter });
        }
        if fraction.len() == 3 && (decimals < 3 || decimals == 3 && mark == Some(",")) {
            return Err(ReadFault::Thousands { text: said(), enter });
        }
        let decimals = usize::from(decimals);
        if fraction.len() > decimals {
            return Err(ReadFault::TooFine { text: said(), enter });
        }
        let all = format!("0{whole}{fraction:0<decimals$}").parse();
        all.map_err(|_| ReadFault::TooLarge { text: said(), enter })
    }
}

fn parts_thousands(c: char) -> bool {
    matches!(c, ' ' | '\u{a0}' | '\u{2009}' | '\u{202f}' | '\'' | '’')
}

/// The figures without what sets thousands apart; `None` where a group has not three.
fn ungrouped(whole: &str) -> Option<String> {
    let mut groups = whole.split(parts_thousands);
    let first = groups.next()?.to_owned();
    if groups.clone().next().is_some() && !(1..=3).contains(&first.chars().count()) {
        return None;
    }
    groups.try_fold(first, |so_far, group| (group.chars().count() == 3).then(|| so_far + group))
}
