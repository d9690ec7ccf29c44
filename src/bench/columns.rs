//! Figures one under the other, their decimal marks in line: what is missing at either end is made up with blanks as
//! wide as a digit.

/// The widths that a column of figures needs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Column {
    /// Characters after the whole part, the decimal mark included.
    after: usize,
}

/// As wide as a digit.
const FIGURE_SPACE: char = '\u{2007}';
/// As wide as a decimal mark.
const MARK_SPACE: char = '\u{2008}';

impl Column {
    /// The column that holds all of these; those that are no plain figure with a unit stand outside.
    pub fn of<'a>(shown: impl Iterator<Item = &'a str>) -> Self {
        Self { after: shown.filter_map(split).map(|(number, _)| after(number)).max().unwrap_or(0) }
    }

    /// One of its figures without its unit; anything else as it is.
    pub fn figure(self, shown: &str) -> String {
        let Some((number, _)) = split(shown) else { return shown.to_owned() };
        let mut aligned = number.to_owned();
        for place in after(number)..self.after {
            aligned.push(if place == 0 { MARK_SPACE } else { FIGURE_SPACE });
        }
        aligned
    }
}

/// Number and unit of a plain figure.
fn split(shown: &str) -> Option<(&str, &str)> {
    let (number, unit) = shown.split_once('\u{a0}')?;
    number.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '−')).then_some((number, unit))
}

fn after(number: &str) -> usize {
    number.find('.').map_or(0, |at| number.len() - at)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn decimal_marks_stand_in_line() {
        let shown = ["2.55\u{a0}thou", "2.6\u{a0}thou", "3\u{a0}thou", "2.5 to 2.8\u{a0}thou", "checked: by feel"];
        let column = Column::of(shown.into_iter());
        assert_eq!(shown.map(|one| column.figure(one)), [
            "2.55",
            "2.6\u{2007}",
            "3\u{2008}\u{2007}\u{2007}",
            "2.5 to 2.8\u{a0}thou",
            "checked: by feel"
        ]);
        assert_eq!(Column::of(["4.3775\u{a0}in"].into_iter()).figure("4.3775\u{a0}in"), "4.3775");
    }
}
