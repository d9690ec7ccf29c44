//! Blocks of type: pieces of a column that are never torn, with their shapes measured from their own top left corner.

use super::face::{POINT, wrap};
use crate::drawing::{Anchor, Drawing, HAIRLINE, Role, Shape, Text, at};

/// Distance from one baseline to the next, in heights of the type.
const LEADING: f64 = 1.32;
/// Where the baseline lies in its line, in heights of the type.
const BASELINE: f64 = 1.0;

/// A piece of a column.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Block {
    pub height: f64,
    /// Space above it, unless it stands at the top of its column.
    pub gap: f64,
    /// Never the last of its column while another follows: a heading.
    pub with_next: bool,
    pub shapes: Vec<Shape>,
}

/// A size and weight of type.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Style {
    pub size_mm: f64,
    pub bold: bool,
}

impl Style {
    pub const fn regular(points: f64) -> Self {
        Self { size_mm: points * POINT, bold: false }
    }

    pub const fn bold(points: f64) -> Self {
        Self { size_mm: points * POINT, bold: true }
    }

    /// Height of a line.
    pub const fn line(self) -> f64 {
        self.size_mm * LEADING
    }

    /// How far the baseline lies below the top of the line.
    pub const fn baseline(self) -> f64 {
        self.size_mm * BASELINE
    }

    pub fn wrap(self, text: &str, width: f64) -> Vec<String> {
        wrap(text, width, self.size_mm, self.bold)
    }

    /// A line of it whose top is at `y`.
    pub fn word(self, text: &str, x: f64, y: f64, anchor: Anchor) -> Shape {
        Shape::Text(Text {
            at: at(x, y + self.baseline()),
            text: text.to_owned(),
            size_mm: self.size_mm,
            anchor,
            role: Role::Ink,
            bold: self.bold,
        })
    }
}

/// A heading with a hairline under it.
pub fn heading(text: &str, width: f64, style: Style) -> Vec<Block> {
    let mut blocks = paragraph(text, 0.0, width, style);
    if let Some(first) = blocks.first_mut() {
        first.gap = style.size_mm * 1.1;
    }
    if let Some(last) = blocks.last_mut() {
        let y = last.height + 0.4;
        last.shapes.push(Shape::line(at(0.0, y), at(width, y), Role::Ink, HAIRLINE));
        last.height = y + 1.0;
    }
    for block in &mut blocks {
        block.with_next = true;
    }
    blocks
}

/// Running text, a block a line so that it can go on in the next column.
pub fn paragraph(text: &str, x: f64, width: f64, style: Style) -> Vec<Block> {
    let lines = style.wrap(text, width - x);
    lines
        .iter()
        .map(|line| Block {
            height: style.line(),
            shapes: vec![style.word(line, x, 0.0, Anchor::Start)],
            ..Block::default()
        })
        .collect()
}

/// A paragraph with a number or a sign hung to its left.
pub fn hanging(sign: &str, text: &str, width: f64, style: Style) -> Vec<Block> {
    let indent = style.size_mm * 1.7;
    let mut blocks = paragraph(text, indent, width, style);
    if let Some(first) = blocks.first_mut() {
        first.gap = style.size_mm * 0.25;
        first.shapes.push(Style { bold: true, ..style }.word(sign, 0.0, 0.0, Anchor::Start));
        first.with_next = true;
    }
    blocks
}

/// A drawing at its own size, or as much smaller as the room demands.
pub fn picture(drawing: &Drawing, width: f64, height: f64) -> Block {
    let scale = (width / drawing.width_mm).min(height / drawing.height_mm).min(1.0);
    Block {
        height: drawing.height_mm * scale,
        gap: 2.0,
        with_next: false,
        shapes: drawing.shapes.iter().map(|shape| shape.placed(at(0.0, 0.0), scale)).collect(),
    }
}
