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

    /// The blanks behind a figure.
    pub fn blanks(self, shown: &str) -> String {
        let Some((number, _)) = split(shown) else { return String::new() };
        (after(number)..self.after).map(|place| if place == 0 { MARK_SPACE } else { FIGURE_SPACE }).collect()
    }
}

/// A plain figure without its unit; anything else as it is.
pub(super) fn figure(shown: &str) -> &str {
    split(shown).map_or(shown, |(number, _)| number)
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
        let figures = shown.map(figure);
        assert_eq!(figures, ["2.55", "2.6", "3", "2.5 to 2.8\u{a0}thou", "checked: by feel"]);
        assert_eq!(shown.map(|one| column.blanks(one)), ["", "\u{2007}", "\u{2008}\u{2007}\u{2007}", "", ""]);
    }
}
