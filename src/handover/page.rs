//! What stands around every paper alike: its margins, the shop at its head, the running head and the footer.

use super::block::{Block, Style};
use super::contents::{Paper, ShopHead};
use super::face::{shortened, width_mm};
use super::lines::side_by_side;
use super::pour::{Area, GUTTER};
use crate::drawing::{Anchor, HAIRLINE, HEAVY, Role, Shape, at};

/// No type is smaller than this, in points.
pub const LEAST: f64 = 9.0;
/// Space at the sides of the page, mm.
const MARGIN: f64 = 16.0;
/// Space at the top and for the footer, mm.
const TOP: f64 = 13.0;
const FOOT: f64 = 17.0;

/// The part of a page that is printed on.
pub fn printed(paper: Paper) -> Area {
    let (width, height) = paper.size_mm();
    Area { left: MARGIN, top: TOP, width: width - 2.0 * MARGIN, bottom: height - FOOT }
}

/// The shop on the left, what the paper is on the right, and a heavy rule beneath.
pub fn letterhead(shop: &ShopHead, on_right: &[(Style, String)], width: f64, points: f64) -> Vec<Block> {
    let small = Style::regular((points - 2.0).max(LEAST));
    let mut on_left = vec![(Style::bold(points + 5.0), shop.name.clone())];
    on_left.extend(shop.address_lines.iter().map(|line| (small, line.clone())));
    if !shop.phone.is_empty() {
        on_left.push((Style::bold(points), shop.phone.clone()));
    }
    let mut blocks = side_by_side(&on_left, on_right, width);
    if let Some(last) = blocks.last_mut() {
        let rule = last.height + 1.5;
        last.shapes.push(Shape::line(at(0.0, rule), at(width, rule), Role::Ink, HEAVY));
        last.height = rule + 2.0;
    }
    blocks
}

/// On every page but the first.
pub fn running_head(left: &str, right: &str, width: f64) -> Block {
    let style = Style::bold(LEAST + 1.0);
    let right = shortened(right, width * 0.3, style.size_mm, true);
    let left = shortened(left, width * 0.66, style.size_mm, true);
    let rule = style.line() + 1.0;
    Block {
        height: rule + 3.0,
        shapes: vec![
            style.word(&left, 0.0, 0.0, Anchor::Start),
            style.word(&right, width, 0.0, Anchor::End),
            Shape::line(at(0.0, rule), at(width, rule), Role::Ink, HAIRLINE),
        ],
        ..Block::default()
    }
}

/// Whose paper it is and which page.
pub fn footer(paper: Paper, whose: &str, page: usize, pages: usize) -> Vec<Shape> {
    let (width, height) = paper.size_mm();
    let style = Style::regular(LEAST);
    let y = height - FOOT + 5.0;
    let count = format!("Page {page} of {pages}");
    let count_width = width_mm(&count, style.size_mm, false);
    let whose = shortened(whose, width - 2.0 * MARGIN - count_width - GUTTER, style.size_mm, false);
    vec![
        Shape::line(at(MARGIN, y), at(width - MARGIN, y), Role::Ink, HAIRLINE),
        style.word(&whose, MARGIN, y + 0.8, Anchor::Start),
        style.word(&count, width - MARGIN, y + 0.8, Anchor::End),
    ]
}
