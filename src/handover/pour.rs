//! Pours blocks down the pages, in one column or in two even ones, turning the page where they do not fit.
//!
//! Nothing is ever dropped: what is too much for one page goes on to the next.

use super::block::Block;
use crate::drawing::{Shape, at};

/// The part of a page that is printed on, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    pub left: f64,
    pub top: f64,
    pub width: f64,
    pub bottom: f64,
}

/// Space between two columns, mm.
pub const GUTTER: f64 = 8.0;

/// Pages being filled.
pub struct Pour {
    area: Area,
    /// Set at the top of every page but the first.
    running_head: Block,
    pages: Vec<Vec<Shape>>,
    /// Where the next block goes, mm below the top edge.
    y: f64,
}

impl Pour {
    pub fn new(area: Area, running_head: Block) -> Self {
        Self { area, running_head, pages: vec![Vec::new()], y: area.top }
    }

    /// Width of each of two columns.
    pub fn half_width(&self) -> f64 {
        (self.area.width - GUTTER) / 2.0
    }

    /// One column. `repeated` is set again above what goes on after a turn of the page: the head of a table.
    pub fn pour(&mut self, blocks: &[Block], repeated: &[Block]) {
        let mut rest = blocks;
        // On a fresh page something must go down, or the pages would turn for ever.
        let mut fresh = self.at_top();
        while !rest.is_empty() {
            let fitting = fit(rest, self.room(), self.page()).max(usize::from(fresh));
            let (now, later) = rest.split_at(fitting);
            let gap = !self.at_top();
            self.y = self.set(now, self.area.left, self.y, gap);
            rest = later;
            if !rest.is_empty() {
                self.turn();
                fresh = true;
                // A head that is still to come is not repeated before it stands.
                let comes = !repeated.is_empty() && rest.windows(repeated.len()).any(|blocks| blocks == repeated);
                if !comes && stack(repeated) < self.room() / 2.0 {
                    self.y = self.set(repeated, self.area.left, self.y, false);
                }
            }
        }
    }

    /// Two columns, as even as the blocks allow; each page's left one is read before its right one.
    pub fn pour_in_two(&mut self, blocks: &[Block]) {
        let mut rest = blocks;
        while !rest.is_empty() {
            let room = self.room();
            let (left, right) = fit_in_two(rest, room, self.page());
            if left + right < rest.len() {
                let left = left.max(usize::from(self.at_top()));
                self.set_two(rest, left, right);
                rest = &rest[left + right..];
                self.turn();
                continue;
            }
            // Everything fits: find the least height at which it still does.
            let (mut low, mut high) = (0.0, room);
            while high - low > 0.2 {
                let middle = f64::midpoint(low, high);
                let (left, right) = fit_in_two(rest, middle, self.page());
                if left + right == rest.len() { high = middle } else { low = middle }
            }
            let (left, right) = fit_in_two(rest, high, self.page());
            self.set_two(rest, left, right);
            return;
        }
    }

    /// Leaves a space, unless at the top of a page.
    pub fn space(&mut self, height: f64) {
        if !self.at_top() {
            self.y += height;
        }
    }

    /// The pages as they stand.
    pub fn pages(self) -> Vec<Vec<Shape>> {
        self.pages
    }

    fn set_two(&mut self, blocks: &[Block], left: usize, right: usize) {
        // Both columns begin at one height, whatever stands first in them.
        let gap = blocks.first().map_or(0.0, |block| block.gap);
        self.space(gap);
        let y = self.y;
        let right_x = self.area.left + self.half_width() + GUTTER;
        let left_end = self.set(&blocks[..left], self.area.left, y, false);
        let right_end = self.set(&blocks[left..left + right], right_x, y, false);
        self.y = left_end.max(right_end);
    }

    /// Sets blocks under each other, with or without the gap above the first, and returns where they end.
    fn set(&mut self, blocks: &[Block], x: f64, top: f64, first_gap: bool) -> f64 {
        let mut y = top;
        for (index, block) in blocks.iter().enumerate() {
            if index > 0 || first_gap {
                y += block.gap;
            }
            let page = self.pages.last_mut().expect("there is always a page");
            page.extend(block.shapes.iter().map(|shape| shape.placed(at(x, y), 1.0)));
            y += block.height;
        }
        y
    }

    fn turn(&mut self) {
        self.pages.push(Vec::new());
        let head = self.running_head.clone();
        self.set(&[head], self.area.left, self.area.top, false);
        self.y = self.top_of_page();
    }

    fn top_of_page(&self) -> f64 {
        if self.pages.len() == 1 { self.area.top } else { self.area.top + self.running_head.height }
    }

    fn at_top(&self) -> bool {
        self.y <= self.top_of_page() + 0.01
    }

    /// Height of a page's whole column.
    fn page(&self) -> f64 {
        self.area.bottom - self.area.top - self.running_head.height
    }

    /// Height that is left on this page.
    fn room(&self) -> f64 {
        self.area.bottom - self.y
    }
}

/// The height of blocks under each other.
pub fn stack(blocks: &[Block]) -> f64 {
    blocks.iter().map(|block| block.gap + block.height).sum()
}

/// How many of the blocks fit a height, from the first on. What belongs together stays together, unless it alone would take
/// more than two thirds of a page.
fn fit(blocks: &[Block], height: f64, page: f64) -> usize {
    let mut used = 0.0;
    let mut fitting = 0;
    while fitting < blocks.len() {
        let more = blocks[fitting..].iter().take_while(|block| block.with_next).count() + 1;
        let end = (fitting + more).min(blocks.len());
        let group = stack(&blocks[fitting..end]);
        if used + group <= height {
            used += group;
            fitting = end;
            continue;
        }
        if group > page * 2.0 / 3.0 {
            for block in &blocks[fitting..end] {
                used += block.gap + block.height;
                if used > height {
                    break;
                }
                fitting += 1;
            }
        }
        break;
    }
    fitting
}

fn fit_in_two(blocks: &[Block], height: f64, page: f64) -> (usize, usize) {
    let left = fit(blocks, height, page);
    (left, fit(&blocks[left..], height, page))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Role, at};

    fn blocks(heights: &[f64]) -> Vec<Block> {
        let line = |length: f64| Shape::line(at(0.0, 0.0), at(length, 0.0), Role::Ink, 0.1);
        heights
            .iter()
            .map(|height| Block { height: *height, shapes: vec![line(*height)], ..Block::default() })
            .collect()
    }

    fn area() -> Area {
        Area { left: 10.0, top: 10.0, width: 100.0, bottom: 110.0 }
    }

    fn shapes(pages: &[Vec<Shape>]) -> usize {
        pages.iter().map(Vec::len).sum()
    }

    #[test]
    fn every_block_is_set_once_however_many_there_are() {
        for count in [0, 1, 7, 100, 5000] {
            let heights = vec![7.0; count];
            let mut one = Pour::new(area(), Block::default());
            one.pour(&blocks(&heights), &[]);
            assert_eq!(shapes(&one.pages()), count);
            let mut two = Pour::new(area(), Block::default());
            two.pour_in_two(&blocks(&heights));
            assert_eq!(shapes(&two.pages()), count);
        }
    }

    #[test]
    fn a_block_higher_than_the_page_is_set_all_the_same() {
        let mut pour = Pour::new(area(), Block::default());
        pour.pour(&blocks(&[20.0, 300.0, 20.0]), &[]);
        pour.pour_in_two(&blocks(&[20.0, 300.0, 20.0]));
        assert_eq!(shapes(&pour.pages()), 6);
    }

    #[test]
    fn a_row_too_high_beneath_a_repeated_head_is_set_all_the_same() {
        let mut pour = Pour::new(area(), Block::default());
        pour.pour(&blocks(&[20.0, 95.0, 95.0]), &blocks(&[10.0]));
        assert_eq!(shapes(&pour.pages()), 3 + 2);
    }

    #[test]
    fn a_heading_goes_with_what_it_heads() {
        let mut pour = Pour::new(area(), Block::default());
        let mut all = blocks(&[85.0, 10.0, 30.0]);
        all[1].with_next = true;
        pour.pour(&all, &[]);
        let pages = pour.pages();
        assert_eq!(pages.iter().map(Vec::len).collect::<Vec<_>>(), [1, 2]);
    }

    #[test]
    fn the_head_of_a_table_is_repeated_on_each_page() {
        let mut pour = Pour::new(area(), Block { height: 5.0, ..blocks(&[5.0])[0].clone() });
        pour.pour(&blocks(&[30.0; 9]), &blocks(&[10.0]));
        // Three rows on the first page, two after the running head and the table's head on each of the others.
        assert_eq!(pour.pages().iter().map(Vec::len).collect::<Vec<_>>(), [3, 4, 4, 4]);
    }

    #[test]
    fn two_columns_come_out_even() {
        let mut pour = Pour::new(area(), Block::default());
        pour.pour_in_two(&blocks(&[10.0; 6]));
        assert!((pour.y - 40.0).abs() < 0.3, "{}", pour.y);
    }
}
