//! Sets the spec card: one page where it fits, two where it must, more rather than leave anything out.

use super::block::{Block, Style, hanging, heading, paragraph, picture};
use super::contents::{Align, Audience, Card, Cell, Column, Line, Section, Table};
use super::face::{shortened, width_mm};
use super::paint::{About, PaintFault, pdf};
use super::pour::{Area, GUTTER, Pour};
use super::table::set_table;
use crate::drawing::{Anchor, HAIRLINE, HEAVY, Role, Shape, at};

/// Sizes of the running type that are tried, in points: the largest with the fewest pages is used.
const BODY_SIZES: [f64; 3] = [12.0, 11.0, 10.0];
/// No type is smaller than this, in points.
const LEAST: f64 = 9.0;
/// Space at the sides of the page, mm.
const MARGIN: f64 = 16.0;
/// Space at the top and for the footer, mm.
const TOP: f64 = 13.0;
const FOOT: f64 = 17.0;

/// The card as the bytes of a PDF. The same card always gives the same bytes.
pub fn card(card: &Card) -> Result<Vec<u8>, PaintFault> {
    let mut pages =
        BODY_SIZES.iter().map(|points| Setting::new(card, *points).pages()).min_by_key(Vec::len).unwrap_or_default();
    let count = pages.len();
    for (index, page) in pages.iter_mut().enumerate() {
        page.extend(footer(card, index + 1, count));
    }
    let about = About {
        title: format!("{} {}, job {}", card.kind_title, card.number, card.job),
        author: card.shop.name.clone(),
        subject: card.heading.clone(),
        made_at: card.made_at,
    };
    pdf(card.paper, &pages, &about)
}

/// A card being set in one size of type.
struct Setting<'a> {
    card: &'a Card,
    points: f64,
    width: f64,
}

impl<'a> Setting<'a> {
    fn new(card: &'a Card, points: f64) -> Self {
        Self { card, points, width: card.paper.size_mm().0 - 2.0 * MARGIN }
    }

    fn pages(&self) -> Vec<Vec<Shape>> {
        let card = self.card;
        let area = Area { left: MARGIN, top: TOP, width: self.width, bottom: card.paper.size_mm().1 - FOOT };
        let mut pour = Pour::new(area, self.running_head());
        pour.pour(&self.head(), &[]);
        pour.space(1.0);
        pour.pour_in_two(&self.identity(pour.half_width()));
        pour.pour(&self.set_to(), &[]);
        pour.pour_in_two(&self.advice(pour.half_width()));
        for section in card.sections.iter().filter(|section| !is_short(section)) {
            self.full_width(&mut pour, section);
        }
        self.list(&mut pour, "Accepted out of limits", &self.deviations());
        self.list(&mut pour, "Signed", &self.sign_offs());
        pour.pour(&self.witness(), &[]);
        pour.pages()
    }

    fn body(&self) -> Style {
        Style::regular(self.points)
    }

    fn strong(&self) -> Style {
        Style::bold(self.points)
    }

    fn small(&self) -> Style {
        Style::regular((self.points - 2.0).max(LEAST))
    }

    fn title(&self, text: &str, width: f64) -> Vec<Block> {
        heading(text, width, Style::bold(self.points))
    }

    /// The shop on the left, the paper's name and number on the right, then the engine.
    fn head(&self) -> Vec<Block> {
        let card = self.card;
        let right = self.width;
        let audience = match card.audience {
            Audience::Owner => "for the owner",
            Audience::Tuner => "for the tuner",
            Audience::Shop => "for the shop only",
        };
        let mut on_right = vec![
            (Style::bold(self.points + 8.0), card.kind_title.clone()),
            (self.body(), format!("number {} · {}", card.number, card.date)),
            (self.body(), audience.to_owned()),
        ];
        if let Some(replaced) = card.replaces {
            on_right.push((self.body(), format!("takes the place of number {replaced}")));
        }
        let right_width =
            on_right.iter().map(|(style, text)| width_mm(text, style.size_mm, style.bold)).fold(0.0, f64::max);
        let left_width = (right - right_width - GUTTER).max(right * 0.45);

        let mut block = Block::default();
        let mut y = 0.0;
        let set = |block: &mut Block, style: Style, text: &str, y: &mut f64| {
            for line in style.wrap(text, left_width) {
                block.shapes.push(style.word(&line, 0.0, *y, Anchor::Start));
                *y += style.line();
            }
        };
        set(&mut block, Style::bold(self.points + 5.0), &card.shop.name, &mut y);
        for line in &card.shop.address_lines {
            set(&mut block, self.small(), line, &mut y);
        }
        if !card.shop.phone.is_empty() {
            set(&mut block, self.strong(), &card.shop.phone, &mut y);
        }
        let mut right_y = 0.0;
        for (style, text) in &on_right {
            for line in style.wrap(text, right - left_width - 2.0) {
                block.shapes.push(style.word(&line, right, right_y, Anchor::End));
                right_y += style.line();
            }
        }
        let rule = y.max(right_y) + 1.5;
        block.shapes.push(Shape::line(at(0.0, rule), at(right, rule), Role::Ink, HEAVY));
        block.height = rule + 2.0;

        let style = Style::bold(self.points + 4.0);
        let job = format!("job {}", card.job);
        let job = style.wrap(&job, right * 0.35);
        let job_width = job.iter().map(|line| width_mm(line, style.size_mm, true)).fold(0.0, f64::max);
        let mut engine = Block::default();
        for (nth, line) in job.iter().enumerate() {
            engine.shapes.push(style.word(line, right, lines_down(style, nth), Anchor::End));
        }
        let about = style.wrap(&card.heading, right - job_width - GUTTER);
        for (nth, line) in about.iter().enumerate() {
            engine.shapes.push(style.word(line, 0.0, lines_down(style, nth), Anchor::Start));
        }
        engine.height = lines_down(style, job.len().max(about.len())) + 0.5;
        vec![block, engine]
    }

    /// On every page but the first.
    fn running_head(&self) -> Block {
        let style = Style::bold(LEAST + 1.0);
        let job = shortened(&format!("job {}", self.card.job), self.width * 0.3, style.size_mm, true);
        let engine = shortened(&self.card.heading, self.width * 0.66, style.size_mm, true);
        let rule = style.line() + 1.0;
        Block {
            height: rule + 3.0,
            shapes: vec![
                style.word(&engine, 0.0, 0.0, Anchor::Start),
                style.word(&job, self.width, 0.0, Anchor::End),
                Shape::line(at(0.0, rule), at(self.width, rule), Role::Ink, HAIRLINE),
            ],
            ..Block::default()
        }
    }

    /// Sections of lines, and the plan, for two columns.
    fn identity(&self, width: f64) -> Vec<Block> {
        let mut blocks = Vec::new();
        for section in self.card.sections.iter().filter(|section| is_short(section)) {
            blocks.extend(self.title(&section.title, width));
            blocks.extend(section.lines.iter().flat_map(|line| self.line(line, width)));
        }
        blocks.extend(self.card.plan.as_ref().map(|plan| picture(plan, width, 70.0)));
        blocks
    }

    /// A label on the left, its value in bold beside it, a hairline beneath.
    fn line(&self, line: &Line, width: f64) -> Vec<Block> {
        let label_width = width * 0.38;
        let value_x = width * 0.41;
        let labels = self.body().wrap(&line.label, label_width).into_iter().map(|text| (self.body(), text));
        let values = self.strong().wrap(&line.value, width - value_x).into_iter().map(|text| (self.strong(), text));
        let beneath = line.beneath.iter().flat_map(|text| self.small().wrap(text, width - value_x));
        let values = values.chain(beneath.map(|text| (self.small(), text)));
        let mut blocks = Vec::new();
        set_side(&mut blocks, labels, 0.0);
        set_side(&mut blocks, values, value_x);
        let count = blocks.len();
        for (nth, block) in blocks.iter_mut().enumerate() {
            block.with_next = nth + 1 < count;
        }
        if let Some(last) = blocks.last_mut() {
            last.height += 0.5;
            last.shapes.push(Shape::line(at(0.0, last.height), at(width, last.height), Role::Faint, HAIRLINE * 0.6));
            last.height += 0.5;
        }
        blocks
    }

    /// The large box between two heavy rules: small labels, large values.
    fn set_to(&self) -> Vec<Block> {
        if self.card.set_to.is_empty() {
            return Vec::new();
        }
        let value_style = Style::bold(self.points + 3.0);
        let fits_third = |line: &Line| {
            width_mm(&line.value, value_style.size_mm, true) <= column_width(self.width, 3)
                && width_mm(&line.label, self.small().size_mm, false) <= column_width(self.width, 3)
        };
        let columns = if self.card.set_to.iter().all(fits_third) { 3 } else { 2 };
        let width = column_width(self.width, columns);

        let title = Style::bold(self.points + 1.0);
        let mut blocks = vec![Block {
            height: title.line() + 2.0,
            gap: 4.0,
            with_next: true,
            shapes: vec![
                Shape::line(at(0.0, 0.0), at(self.width, 0.0), Role::Ink, HEAVY),
                title.word("Set it to", 0.0, 1.2, Anchor::Start),
            ],
        }];
        for row in self.card.set_to.chunks(columns) {
            let mut set: Vec<Block> = Vec::new();
            let mut x = 0.0;
            for line in row {
                let label = self.small().wrap(&line.label, width).into_iter().map(|text| (self.small(), text));
                let value = value_style.wrap(&line.value, width).into_iter().map(|text| (value_style, text));
                let beneath = line.beneath.iter().flat_map(|text| self.small().wrap(text, width));
                set_side(&mut set, label.chain(value).chain(beneath.map(|text| (self.small(), text))), x);
                x += width + GUTTER;
            }
            let count = set.len();
            for (nth, block) in set.iter_mut().enumerate() {
                block.with_next = nth + 1 < count;
            }
            if let Some(first) = set.first_mut() {
                first.shapes.push(Shape::line(at(0.0, -0.4), at(self.width, -0.4), Role::Faint, HAIRLINE));
            }
            if let Some(last) = set.last_mut() {
                last.height += 1.2;
            }
            blocks.extend(set);
        }
        if let Some(last) = blocks.last_mut() {
            last.shapes.push(Shape::line(at(0.0, last.height), at(self.width, last.height), Role::Ink, HEAVY));
            last.height += 1.0;
        }
        blocks
    }

    /// Cautions, running in, notes and warranty, for two columns.
    fn advice(&self, width: f64) -> Vec<Block> {
        let mut blocks = Vec::new();
        if !self.card.cautions.is_empty() {
            blocks.extend(self.title("Read first", width));
            for caution in &self.card.cautions {
                let mut lines = paragraph(caution, 3.0, width, self.body());
                if let Some(first) = lines.first_mut() {
                    first.gap = 1.2;
                }
                for line in &mut lines {
                    line.shapes.push(Shape::line(at(0.8, 0.3), at(0.8, line.height + 0.3), Role::Ink, HEAVY));
                }
                blocks.extend(lines);
            }
        }
        if !self.card.run_in.is_empty() {
            blocks.extend(self.title("Running it in", width));
            for (index, step) in self.card.run_in.iter().enumerate() {
                blocks.extend(hanging(&format!("{}.", index + 1), step, width, self.body()));
            }
        }
        for note in &self.card.notes {
            blocks.extend(self.title(&note.title, width));
            blocks.extend(paragraph(&note.text, 0.0, width, self.body()));
        }
        if let Some(warranty) = &self.card.warranty {
            blocks.extend(self.title("Warranty", width));
            blocks.extend(paragraph(warranty, 0.0, width, self.body()));
        }
        blocks
    }

    /// A section with a table or drawings.
    fn full_width(&self, pour: &mut Pour, section: &Section) {
        let mut blocks = self.title(&section.title, self.width);
        let half = pour.half_width();
        for pair in section.lines.chunks(2) {
            let mut row: Vec<Block> = Vec::new();
            for (line, x) in pair.iter().zip([0.0, half + GUTTER]) {
                for (nth, block) in self.line(line, half).into_iter().enumerate() {
                    if row.len() <= nth {
                        row.push(Block::default());
                    }
                    row[nth].height = row[nth].height.max(block.height);
                    row[nth].shapes.extend(block.shapes.iter().map(|shape| shape.placed(at(x, 0.0), 1.0)));
                }
            }
            blocks.extend(row);
        }
        let table = section.table.as_ref().map(|table| set_table(table, self.width, self.table_points()));
        let mut repeated = Vec::new();
        if let Some(table) = table {
            blocks.extend(table.head.iter().cloned());
            repeated = table.head;
            blocks.extend(table.rows);
        }
        pour.pour(&blocks, &repeated);
        let drawings: Vec<Block> = section.drawings.iter().map(|drawing| picture(drawing, self.width, 120.0)).collect();
        pour.pour(&drawings, &[]);
    }

    fn table_points(&self) -> f64 {
        (self.points - 1.5).max(LEAST)
    }

    fn list(&self, pour: &mut Pour, title: &str, table: &Table) {
        if table.rows.is_empty() {
            return;
        }
        let set = set_table(table, self.width, self.table_points());
        let blocks: Vec<Block> =
            self.title(title, self.width).into_iter().chain(set.head.iter().cloned()).chain(set.rows).collect();
        pour.pour(&blocks, &set.head);
    }

    fn deviations(&self) -> Table {
        let row = |titles: [&String; 5]| titles.map(|text| Cell::of(text.clone())).to_vec();
        Table {
            columns: words(["what", "found", "because", "accepted by", "on"]),
            rows: self.card.deviations.iter().map(|d| row([&d.what, &d.found, &d.reason, &d.by, &d.on])).collect(),
        }
    }

    fn sign_offs(&self) -> Table {
        let remarks = self.card.sign_offs.iter().any(|sign_off| sign_off.remark.is_some());
        let mut columns = words(["step", "by", "on"]);
        if remarks {
            columns.extend(words(["remark"]));
        }
        let row = |sign_off: &super::contents::SignOff| {
            let remark = sign_off.remark.clone().filter(|_| remarks);
            [&sign_off.step, &sign_off.by, &sign_off.on].into_iter().cloned().chain(remark).map(Cell::of).collect()
        };
        Table { columns, rows: self.card.sign_offs.iter().map(row).collect() }
    }

    /// The digest that stands as the record's outside witness.
    fn witness(&self) -> Vec<Block> {
        let Some(hash) = &self.card.head_hash else { return Vec::new() };
        let text = format!("The shop's record stood at {hash} when this card was issued.");
        let mut blocks = paragraph(&text, 0.0, self.width, Style::regular(LEAST));
        if let Some(first) = blocks.first_mut() {
            first.gap = 4.0;
        }
        blocks
    }
}

/// Sections of lines only stand in two columns.
fn is_short(section: &Section) -> bool {
    section.table.is_none() && section.drawings.is_empty()
}

fn words<const N: usize>(titles: [&str; N]) -> Vec<Column> {
    titles.map(|title| Column { title: title.to_owned(), align: Align::Left }).to_vec()
}

#[expect(clippy::cast_precision_loss, reason = "few lines and columns")]
fn lines_down(style: Style, lines: usize) -> f64 {
    style.line() * lines as f64
}

#[expect(clippy::cast_precision_loss, reason = "few lines and columns")]
fn column_width(width: f64, columns: usize) -> f64 {
    (width - GUTTER * (columns - 1) as f64) / columns as f64
}

/// Sets lines of type one to a block at `x`, beside what the blocks already hold. Each block is as high as its highest line.
fn set_side(blocks: &mut Vec<Block>, lines: impl Iterator<Item = (Style, String)>, x: f64) {
    for (nth, (style, text)) in lines.enumerate() {
        if blocks.len() <= nth {
            blocks.push(Block::default());
        }
        blocks[nth].height = blocks[nth].height.max(style.line());
        blocks[nth].shapes.push(style.word(&text, x, 0.0, Anchor::Start));
    }
}

/// Whose paper it is and which page.
fn footer(card: &Card, page: usize, pages: usize) -> Vec<Shape> {
    let (width, height) = card.paper.size_mm();
    let style = Style::regular(LEAST);
    let y = height - FOOT + 5.0;
    let count = format!("Page {page} of {pages}");
    let count_width = width_mm(&count, style.size_mm, false);
    let whose = format!(
        "{} · job {} · {} {}, {}",
        card.shop.name,
        card.job,
        card.kind_title.to_lowercase(),
        card.number,
        card.date
    );
    let whose = shortened(&whose, width - 2.0 * MARGIN - count_width - GUTTER, style.size_mm, false);
    vec![
        Shape::line(at(MARGIN, y), at(width - MARGIN, y), Role::Ink, HAIRLINE),
        style.word(&whose, MARGIN, y + 0.8, Anchor::Start),
        style.word(&count, width - MARGIN, y + 0.8, Anchor::End),
    ]
}
