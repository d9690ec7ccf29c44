//! Sets a table: column widths from what is in them, decimal marks under each other, a hairline under each row.

use super::block::{Block, Style};
use super::contents::{Align, Cell, Column, Table};
use super::face::{printable, width_mm};
use crate::drawing::mark::mark;
use crate::drawing::{Anchor, HAIRLINE, Role, Shape, at};

/// Space between two columns, mm.
const GAP: f64 = 3.5;
/// Space above and below the words of a row, mm.
const PAD: f64 = 0.7;

/// A table as blocks: its head, to be repeated on each page, and its rows.
pub struct SetTable {
    pub head: Vec<Block>,
    pub rows: Vec<Block>,
}

/// The table set `width` mm wide in type of `points`.
pub fn set_table(table: &Table, width: f64, points: f64) -> SetTable {
    let style = Style::regular(points);
    let columns = Measures::of(table, width, style);
    let titles: Vec<Cell> = table.columns.iter().map(|column| Cell::of(column.title.clone())).collect();
    let mut head = columns.set(&titles, Style::bold(points), &|align| match align {
        Align::Left => Align::Left,
        Align::Right | Align::Decimal => Align::Right,
    });
    if let Some(last) = head.last_mut() {
        last.shapes.push(Shape::line(at(0.0, last.height), at(width, last.height), Role::Ink, HAIRLINE * 1.4));
    }
    for block in &mut head {
        block.with_next = true;
    }
    let mut rows = Vec::new();
    for (nth, row) in table.rows.iter().enumerate() {
        let mut blocks = columns.set(row, style, &|align| align);
        if let Some(last) = blocks.last_mut() {
            // Three rows at least begin a table, and two end it.
            last.with_next = nth < 2 || nth + 2 == table.rows.len();
            last.shapes.push(Shape::line(at(0.0, last.height), at(width, last.height), Role::Faint, HAIRLINE * 0.7));
        }
        rows.extend(blocks);
    }
    SetTable { head, rows }
}

/// Where a column lies, mm.
struct Measure {
    align: Align,
    x: f64,
    width: f64,
    /// Room after the decimal marks.
    after: f64,
}

struct Measures(Vec<Measure>);

impl Measures {
    fn of(table: &Table, width: f64, style: Style) -> Self {
        let count = table.rows.iter().map(Vec::len).chain([table.columns.len()]).max().unwrap_or(0);
        let column = |nth: usize| table.columns.get(nth).cloned().unwrap_or_default();
        let widths = |whole_titles: bool| -> Vec<(f64, f64)> {
            (0..count).map(|nth| natural(&column(nth), cells(table, nth), style, whole_titles)).collect()
        };
        let room = (width - GAP * count.saturating_sub(1) as f64).max(1.0);
        let total = |widths: &[(f64, f64)]| widths.iter().map(|(width, _)| width).sum::<f64>();
        let whole = widths(true);
        let mut natural = whole.clone();
        if total(&natural) > room {
            // A title may break between its words before any cell has to, but no more than the room demands.
            natural = widths(false);
            let wanted = total(&whole) - total(&natural);
            let part = ((room - total(&natural)) / wanted).clamp(0.0, 1.0);
            for ((width, _), (whole, _)) in natural.iter_mut().zip(&whole) {
                *width += (whole - *width) * part;
            }
        }
        let cap = cap_for(&natural, room);
        // A little of what is left over goes between the columns, so that the table does not look lost on the page.
        let spread = ((room - total(&natural)).max(0.0) / count.max(1) as f64).min(7.0);
        // A last column of amounts stands at the right edge, and the first takes what is left.
        let used =
            natural.iter().map(|(width, _)| width.min(cap)).sum::<f64>() + spread * count.saturating_sub(1) as f64;
        let at_the_edge = count > 0 && column(count - 1).align == Align::Right;
        let rest = if at_the_edge { (room - used).max(0.0) } else { 0.0 };
        let mut x = 0.0;
        let measures = natural.iter().enumerate().map(|(nth, (natural, after))| {
            let width = natural.min(cap);
            let measure = Measure { align: column(nth).align, x, width, after: *after };
            x += width + GAP + spread + if nth == 0 { rest } else { 0.0 };
            measure
        });
        Self(measures.collect())
    }

    /// A row as blocks, one per line of type; the first also holds marks and strips.
    fn set(&self, row: &[Cell], style: Style, aligned: &dyn Fn(Align) -> Align) -> Vec<Block> {
        let line_height = style.line();
        let small = Style { size_mm: beneath_size(style), ..style };
        let mut blocks = vec![Block::default()];
        for (measure, cell) in self.0.iter().zip(row) {
            let lead = mark_width(cell, style);
            let text_width = (measure.width - lead - strip_width(cell)).max(style.size_mm * 2.0);
            let align = aligned(measure.align);
            let mut nth = 0;
            let beneath = cell.beneath.iter().map(|text| (text, small));
            for (text, style) in [(&cell.text, style)].into_iter().chain(beneath) {
                for line in style.wrap(text, text_width) {
                    if blocks.len() <= nth {
                        blocks.push(Block::default());
                    }
                    let left = measure.x + lead;
                    blocks[nth].shapes.push(aligned_word(&line, style, align, left, measure, PAD));
                    nth += 1;
                }
            }
            if let Some(kind) = cell.mark {
                let size = style.size_mm * 1.15;
                blocks[0].shapes.extend(mark(kind, measure.x + size / 2.0, PAD + line_height / 2.0, size));
            }
            if let Some(strip) = &cell.strip {
                let x = measure.x + measure.width - strip.width_mm;
                let y = (PAD + line_height / 2.0 - strip.height_mm * 0.6).max(0.2);
                blocks[0].shapes.extend(strip.shapes.iter().map(|shape| shape.placed(at(x, y), 1.0)));
            }
        }
        let strip_height =
            row.iter().filter_map(|cell| cell.strip.as_ref()).map(|strip| strip.height_mm + 0.4).fold(0.0, f64::max);
        let lines = blocks.len();
        for (nth, block) in blocks.iter_mut().enumerate() {
            block.height = line_height + if nth == 0 { PAD } else { 0.0 };
            if nth > 0 {
                // Words of later lines were set as on a first line, below its padding.
                block.shapes.iter_mut().for_each(|shape| *shape = shape.placed(at(0.0, -PAD), 1.0));
            }
            if nth + 1 == lines {
                block.height += PAD;
            }
            if nth == 0 {
                block.height =
                    block.height.max(if lines == 1 { strip_height } else { strip_height.min(block.height * 1.6) });
            }
            block.with_next = nth + 1 < lines;
        }
        blocks
    }
}

fn aligned_word(line: &str, style: Style, align: Align, left: f64, measure: &Measure, y: f64) -> Shape {
    let right = measure.x + measure.width;
    match align {
        Align::Left => style.word(line, left, y, Anchor::Start),
        Align::Right => style.word(line, right, y, Anchor::End),
        Align::Decimal => {
            let (before, _) = around_decimal(line, style);
            style.word(line, (right - measure.after - before).max(left), y, Anchor::Start)
        }
    }
}

/// The other unit beneath a figure: smaller, but never under nine points.
fn beneath_size(style: Style) -> f64 {
    (style.size_mm * 0.86).max(Style::regular(9.0).size_mm.min(style.size_mm))
}

fn cells(table: &Table, nth: usize) -> impl Iterator<Item = &Cell> {
    table.rows.iter().filter_map(move |row| row.get(nth))
}

fn mark_width(cell: &Cell, style: Style) -> f64 {
    if cell.mark.is_some() { style.size_mm * 1.15 + 1.2 } else { 0.0 }
}

fn strip_width(cell: &Cell) -> f64 {
    cell.strip.as_ref().map_or(0.0, |strip| strip.width_mm + if cell.text.is_empty() { 0.0 } else { 2.0 })
}

/// The width a column would like, and the room after its decimal marks.
fn natural<'a>(column: &Column, cells: impl Iterator<Item = &'a Cell>, style: Style, whole_title: bool) -> (f64, f64) {
    let title = printable(&column.title);
    let in_title = |text: &str| width_mm(text, style.size_mm, true);
    let title_width = if whole_title { in_title(&title) } else { title.split(' ').map(in_title).fold(0.0, f64::max) };
    let small = Style { size_mm: beneath_size(style), ..style };
    let (mut widest, mut before, mut after) = (0.0_f64, 0.0_f64, 0.0_f64);
    for cell in cells {
        let extra = mark_width(cell, style) + strip_width(cell);
        for (text, style) in [(&cell.text, style)].into_iter().chain(cell.beneath.iter().map(|text| (text, small))) {
            let longest =
                text.lines().map(|line| width_mm(&printable(line), style.size_mm, style.bold)).fold(0.0, f64::max);
            widest = widest.max(longest + extra);
            let (its_before, its_after) = around_decimal(text, style);
            before = before.max(its_before);
            after = after.max(its_after);
        }
    }
    if column.align == Align::Decimal {
        (title_width.max(widest).max(before + after), after)
    } else {
        (title_width.max(widest), 0.0)
    }
}

/// Widths of a figure before and from its decimal mark; a figure without one ends where the mark would stand. Of two
/// figures, the ends of a range, the last one counts.
fn around_decimal(text: &str, style: Style) -> (f64, f64) {
    let text = printable(text);
    let after_digits = || text.rfind(|character: char| character.is_ascii_digit()).map(|last| last + 1);
    let mark = text.rfind(['.', ',']).or_else(after_digits);
    let (before, after) = text.split_at(mark.unwrap_or(text.len()));
    (width_mm(before, style.size_mm, style.bold), width_mm(after, style.size_mm, style.bold))
}

/// The width no column may exceed so that together they fit: narrow ones keep theirs, wide ones share the rest.
fn cap_for(widths: &[(f64, f64)], room: f64) -> f64 {
    let mut sorted: Vec<f64> = widths.iter().map(|(width, _)| *width).collect();
    sorted.sort_by(f64::total_cmp);
    let mut left = room;
    for (nth, width) in sorted.iter().enumerate() {
        let share = left / (sorted.len() - nth) as f64;
        if *width > share {
            return share;
        }
        left -= width;
    }
    f64::INFINITY
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table(align: Align, texts: &[&str]) -> Table {
        Table {
            columns: vec![
                Column { title: "main".to_owned(), align: Align::Left },
                Column { title: "in".to_owned(), align },
            ],
            rows: texts.iter().map(|text| vec![Cell::of("1"), Cell::of(*text)]).collect(),
        }
    }

    /// The words of the rows with where they start.
    fn words(blocks: &[Block]) -> Vec<(String, f64)> {
        let in_block = |block: &Block| {
            let words = block.shapes.iter().filter_map(|shape| match shape {
                Shape::Text(text) => Some((text.text.clone(), text.at.x)),
                _ => None,
            });
            words.collect::<Vec<_>>()
        };
        blocks.iter().flat_map(in_block).collect()
    }

    #[test]
    fn decimal_marks_stand_under_each_other() {
        let style = Style::regular(9.0);
        let set = set_table(&table(Align::Decimal, &["4.3770", "12.5", "100", "−0.0005"]), 100.0, 9.0);
        let marks: Vec<f64> = words(&set.rows)
            .iter()
            .filter(|(text, _)| text != "1")
            .map(|(text, x)| x + around_decimal(text, style).0)
            .collect();
        assert_eq!(marks.len(), 4);
        assert!(marks.iter().all(|mark| (mark - marks[0]).abs() < 1e-6), "{marks:?}");
    }

    #[test]
    fn everything_stays_within_the_width_however_much_there_is() {
        let long = "accepted because the crank was already nitrided and the customer agreed ".repeat(4);
        let mut table = table(Align::Left, &[&long, "short", &"x".repeat(300)]);
        table.rows[0].extend((0..9).map(|nth| Cell::of(format!("{nth} {long}"))));
        let set = set_table(&table, 170.0, 9.0);
        let mut found = String::new();
        for block in set.head.iter().chain(&set.rows) {
            for shape in &block.shapes {
                if let Shape::Text(text) = shape {
                    let end = text.at.x + width_mm(&text.text, text.size_mm, text.bold);
                    assert!(
                        text.anchor != Anchor::Start || (text.at.x >= 0.0 && end <= 170.01),
                        "{text:?} ends at {end}"
                    );
                    found.push_str(&text.text);
                }
            }
        }
        assert_eq!(found.matches('x').count(), 300);
    }

    #[test]
    fn narrow_columns_keep_their_width_and_wide_ones_share() {
        assert!((cap_for(&[(10.0, 0.0), (90.0, 0.0), (200.0, 0.0)], 110.0) - 50.0).abs() < 1e-9);
        assert!(cap_for(&[(10.0, 0.0), (20.0, 0.0)], 110.0).is_infinite());
    }
}
