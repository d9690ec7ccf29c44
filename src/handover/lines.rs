//! Labels with their values: the ruled lines of a section, and the large box of what to set the engine to.

use super::block::{Block, Style, paragraph};
use super::contents::Line;
use super::face::{printable, width_mm};
use super::pour::GUTTER;
use crate::drawing::{Anchor, HAIRLINE, HEAVY, Role, Shape, at};

/// A head is no higher than this, mm.
const HIGHEST_HEAD: f64 = 60.0;

/// The sizes of type that lines are set in.
#[derive(Clone, Copy, Debug)]
pub struct LineStyles {
    pub label: Style,
    pub value: Style,
    pub beneath: Style,
}

/// Lines under each other: label on the left, value beside it, a hairline beneath each. The labels take the room of the
/// widest, but no more than two fifths of the width.
pub fn ruled(lines: &[Line], width: f64, styles: LineStyles) -> Vec<Block> {
    let widest =
        lines.iter().map(|line| width_mm(&line.label, styles.label.size_mm, styles.label.bold)).fold(0.0, f64::max);
    let label_width = widest.min(width * 0.4);
    let x = label_width + 3.0;
    let mut all = Vec::new();
    for line in lines {
        let mut blocks = Vec::new();
        set_side(&mut blocks, wrapped(styles.label, &line.label, label_width), 0.0);
        set_side(&mut blocks, value(line, width - x, styles), x);
        if let Some(last) = blocks.last_mut() {
            last.height += 0.5;
            last.shapes.push(Shape::line(at(0.0, last.height), at(width, last.height), Role::Faint, HAIRLINE * 0.6));
            last.height += 0.5;
        }
        all.extend(together(blocks, f64::INFINITY));
    }
    all
}

/// The large box between two heavy rules: small labels, large values, in three columns; a line too long for one takes two
/// or all three, before it is broken.
pub fn large_box(title: &str, title_style: Style, lines: &[Line], width: f64, styles: LineStyles) -> Vec<Block> {
    const COLUMNS: usize = 3;
    if lines.is_empty() {
        return Vec::new();
    }
    let column = column_width(width, COLUMNS);
    let wide = |span: usize| column * span as f64 + GUTTER * (span - 1) as f64;
    let longest = |line: &Line| {
        let value = width_mm(&printable(&line.value), styles.value.size_mm, styles.value.bold);
        value.max(width_mm(&printable(&line.label), styles.label.size_mm, styles.label.bold))
    };
    let span_of = |line: &Line| (1..COLUMNS).find(|span| longest(line) <= wide(*span)).unwrap_or(COLUMNS);

    let mut blocks = vec![Block {
        height: title_style.line() + 2.0,
        gap: 4.0,
        with_next: true,
        shapes: vec![
            Shape::line(at(0.0, 0.0), at(width, 0.0), Role::Ink, HEAVY),
            title_style.word(title, 0.0, 1.2, Anchor::Start),
        ],
    }];
    for row in in_rows(lines, COLUMNS, &span_of) {
        let mut set = Vec::new();
        let mut x = 0.0;
        for (line, span) in row {
            let room = wide(span);
            let label = wrapped(styles.label, &line.label, room);
            set_side(&mut set, label.into_iter().chain(value(line, room, styles)), x);
            x += room + GUTTER;
        }
        if let Some(first) = set.first_mut() {
            first.shapes.push(Shape::line(at(0.0, -0.4), at(width, -0.4), Role::Faint, HAIRLINE));
        }
        if let Some(last) = set.last_mut() {
            last.height += 1.2;
        }
        blocks.extend(together(set, f64::INFINITY));
    }
    if let Some(last) = blocks.last_mut() {
        last.shapes.push(Shape::line(at(0.0, last.height), at(width, last.height), Role::Ink, HEAVY));
        last.height += 1.0;
    }
    blocks
}

/// Lines in their order, each with the columns it takes, as many in a row as it has columns for.
fn in_rows<'a>(lines: &'a [Line], columns: usize, span_of: &dyn Fn(&Line) -> usize) -> Vec<Vec<(&'a Line, usize)>> {
    let mut rows: Vec<Vec<(&Line, usize)>> = vec![Vec::new()];
    let mut taken = 0;
    for line in lines {
        let span = span_of(line);
        if taken + span > columns {
            rows.push(Vec::new());
            taken = 0;
        }
        taken += span;
        if let Some(row) = rows.last_mut() {
            row.push((line, span));
        }
    }
    rows
}

/// Lines against the left edge beside lines against the right edge, in one block; if that were too high for a head, a block
/// for each line, the left ones first.
pub fn side_by_side(left: &[(Style, String)], right: &[(Style, String)], width: f64) -> Vec<Block> {
    let widest = right.iter().map(|(style, text)| width_mm(text, style.size_mm, style.bold)).fold(0.0, f64::max);
    let left_width = (width - widest - GUTTER).max(width * 0.5);
    let mut block = Block::default();
    for (texts, x, room, anchor) in
        [(left, 0.0, left_width, Anchor::Start), (right, width, width - left_width - GUTTER, Anchor::End)]
    {
        let mut y = 0.0;
        for (style, text) in texts {
            for line in style.wrap(text, room) {
                block.shapes.push(style.word(&line, x, y, anchor));
                y += style.line();
            }
        }
        block.height = block.height.max(y);
    }
    if block.height <= HIGHEST_HEAD {
        return vec![block];
    }
    left.iter().chain(right).flat_map(|(style, text)| paragraph(text, 0.0, width, *style)).collect()
}

/// Keeps blocks in one column, if they are not higher than `most`.
pub fn together(mut blocks: Vec<Block>, most: f64) -> Vec<Block> {
    if super::pour::stack(&blocks) <= most {
        let count = blocks.len();
        for block in blocks.iter_mut().take(count.saturating_sub(1)) {
            block.with_next = true;
        }
    }
    blocks
}

/// Words on one baseline, each with its distance from the left.
type Row = Vec<(Style, String, f64)>;

/// The value, and what belongs beneath it: beside it where the line has room.
fn value(line: &Line, width: f64, styles: LineStyles) -> Vec<Row> {
    let mut rows = wrapped(styles.value, &line.value, width);
    let Some(beneath) = &line.beneath else { return rows };
    let small = wrapped(styles.beneath, beneath, width);
    let apart = styles.value.size_mm * 0.7;
    if let ([row], [small_row]) = (rows.as_mut_slice(), small.as_slice())
        && let ([(style, text, _)], [(small_style, small_text, _)]) = (row.as_slice(), small_row.as_slice())
    {
        let x = width_mm(text, style.size_mm, style.bold) + apart;
        if x + width_mm(small_text, small_style.size_mm, small_style.bold) <= width {
            row.push((*small_style, small_text.clone(), x));
            return rows;
        }
    }
    rows.into_iter().chain(small).collect()
}

fn wrapped(style: Style, text: &str, width: f64) -> Vec<Row> {
    style.wrap(text, width).into_iter().map(|line| vec![(style, line, 0.0)]).collect()
}

/// Sets rows of type one to a block at `x`, beside what the blocks already hold. Each block is as high as its highest row.
fn set_side(blocks: &mut Vec<Block>, rows: impl IntoIterator<Item = Row>, x: f64) {
    for (nth, row) in rows.into_iter().enumerate() {
        if blocks.len() <= nth {
            blocks.push(Block::default());
        }
        let baseline = row.iter().map(|(style, ..)| style.baseline()).fold(0.0, f64::max);
        for (style, text, along) in row {
            blocks[nth].height = blocks[nth].height.max(style.line());
            blocks[nth].shapes.push(style.word(&text, x + along, baseline - style.baseline(), Anchor::Start));
        }
    }
}

fn column_width(width: f64, columns: usize) -> f64 {
    (width - GUTTER * (columns - 1) as f64) / columns as f64
}
