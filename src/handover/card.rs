//! Sets the spec card: one page where it fits, two where it must, more rather than leave anything out.

use super::block::{Block, Style, hanging, heading, paragraph, picture};
use super::contents::{Align, Audience, Card, Cell, Column, Section, SignOff, Table};
use super::lines::{LineStyles, large_box, ruled, side_by_side, together};
use super::page::{LEAST, footer, letterhead, printed, running_head};
use super::paint::{About, PaintFault, pdf};
use super::pour::Pour;
use super::table::set_table;
use crate::drawing::{HEAVY, Role, Shape, at};

/// The smallest size of the running type, in points.
const SMALLEST_BODY: f64 = 9.5;
/// Larger sizes that are tried, in points, the largest first.
const LARGER_BODIES: [f64; 5] = [12.0, 11.5, 11.0, 10.5, 10.0];
/// A part no higher than this is kept in one column, mm.
const TOGETHER: f64 = 48.0;
/// The card as the bytes of a PDF. The same card always gives the same bytes.
pub fn card(card: &Card) -> Result<Vec<u8>, PaintFault> {
    let in_size = |points: f64| Setting::new(card, points).pages();
    // The smallest type takes the fewest pages; the largest that takes no more is used.
    let fewest = in_size(SMALLEST_BODY);
    let larger = LARGER_BODIES.into_iter().map(in_size).find(|pages| pages.len() <= fewest.len());
    let mut pages = larger.unwrap_or(fewest);
    let count = pages.len();
    let kind = card.kind_title.to_lowercase();
    let whose = format!("job {} · {kind} {}, {} · {}", card.job, card.number, card.date, card.shop.name);
    for (index, page) in pages.iter_mut().enumerate() {
        page.extend(footer(card.paper, &whose, index + 1, count));
    }
    let about = About {
        title: format!("{} {}, job {}", card.kind_title, card.number, card.job),
        author: card.shop.name.clone(),
        subject: card.heading.clone(),
        made_at: card.made_at,
    };
    pdf(card.paper.size_mm(), &pages, &about)
}

/// A card being set in one size of type.
struct Setting<'a> {
    card: &'a Card,
    points: f64,
    width: f64,
}

impl<'a> Setting<'a> {
    fn new(card: &'a Card, points: f64) -> Self {
        Self { card, points, width: printed(card.paper).width }
    }

    fn pages(&self) -> Vec<Vec<Shape>> {
        let card = self.card;
        let area = printed(card.paper);
        let mut pour = Pour::new(area, running_head(&card.heading, &format!("job {}", card.job), self.width));
        pour.pour(&self.head(), &[]);
        pour.space(1.0);
        pour.pour_in_two(&self.identity(pour.half_width()));
        let title = Style::bold(self.points + 1.0);
        pour.pour(&large_box("Set it to", title, &card.set_to, self.width, self.large()), &[]);
        pour.pour_in_two(&self.advice(pour.half_width()));
        for section in card.sections.iter().filter(|section| !is_short(section)) {
            self.full_width(&mut pour, section);
        }
        self.list(&mut pour, "Accepted, with reasons", &self.deviations());
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

    /// The lines of a section.
    fn ordinary(&self) -> LineStyles {
        LineStyles { label: self.body(), value: self.strong(), beneath: self.small() }
    }

    /// The lines of the large box.
    fn large(&self) -> LineStyles {
        LineStyles { label: self.small(), value: Style::bold(self.points + 3.0), beneath: self.small() }
    }

    fn title(&self, text: &str, width: f64) -> Vec<Block> {
        heading(text, width, Style::bold(self.points))
    }

    /// The shop on the left, the paper's name and number on the right, then the engine.
    fn head(&self) -> Vec<Block> {
        let card = self.card;
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
        let mut blocks = letterhead(&card.shop, &on_right, self.width, self.points);
        let large = Style::bold(self.points + 4.0);
        let engine = [(large, card.heading.clone())];
        let job = [(large, format!("job {}", card.job))];
        blocks.extend(side_by_side(&engine, &job, self.width));
        blocks
    }

    /// Sections of lines, and the plan, for two columns.
    fn identity(&self, width: f64) -> Vec<Block> {
        let mut blocks = Vec::new();
        for section in self.card.sections.iter().filter(|section| is_short(section)) {
            let lines = ruled(&section.lines, width, self.ordinary());
            blocks.extend(together(chained(self.title(&section.title, width), lines), TOGETHER));
        }
        blocks.extend(self.card.plan.as_ref().map(|plan| picture(plan, width, 70.0)));
        blocks
    }

    /// Cautions, running in, notes and warranty, for two columns.
    fn advice(&self, width: f64) -> Vec<Block> {
        let card = self.card;
        let body = self.body();
        let text = |text: &String| paragraph(text, 0.0, width, body);
        let numbered = |(index, step): (usize, &String)| {
            together(hanging(&format!("{}.", index + 1), step, width, body), TOGETHER)
        };
        let cautions =
            card.cautions.iter().flat_map(|caution| together(barred(caution, width, body), TOGETHER)).collect();
        let run_in = card.run_in.iter().enumerate().flat_map(numbered).collect();
        let mut parts: Vec<(&str, Vec<Block>)> = vec![("Read first", cautions), ("Running it in", run_in)];
        parts.extend(card.notes.iter().map(|note| (note.title.as_str(), text(&note.text))));
        parts.extend(card.warranty.iter().map(|warranty| ("Warranty", text(warranty))));
        parts.retain(|(_, blocks)| !blocks.is_empty());
        let titled = |(title, blocks)| together(chained(self.title(title, width), blocks), TOGETHER);
        parts.into_iter().flat_map(titled).collect()
    }

    /// A section with a table or drawings.
    fn full_width(&self, pour: &mut Pour, section: &Section) {
        let mut blocks = self.title(&section.title, self.width);
        let lines = ruled(&section.lines, self.width, self.ordinary());
        // A table is not parted from what is said above it.
        blocks.extend(lines.into_iter().map(|line| Block { with_next: section.table.is_some(), ..line }));
        let table = section.table.as_ref().map(|table| set_table(table, self.width, self.table_points()));
        let mut repeated = Vec::new();
        if let Some(table) = table {
            blocks.extend(table.head.iter().cloned());
            repeated = table.head;
            blocks.extend(table.rows);
        }
        pour.pour(&together(blocks, TOGETHER), &repeated);
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
        pour.pour(&together(blocks, TOGETHER), &set.head);
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
        let row = |sign_off: &SignOff| {
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

fn chained(mut first: Vec<Block>, then: Vec<Block>) -> Vec<Block> {
    first.extend(then);
    first
}

/// A paragraph with a heavy bar to its left.
fn barred(text: &str, width: f64, style: Style) -> Vec<Block> {
    let mut lines = paragraph(text, 3.0, width, style);
    if let Some(first) = lines.first_mut() {
        first.gap = 1.2;
    }
    for line in &mut lines {
        line.shapes.push(Shape::line(at(0.8, 0.3), at(0.8, line.height + 0.3), Role::Ink, HEAVY));
    }
    lines
}

/// Sections of lines only stand in two columns.
fn is_short(section: &Section) -> bool {
    section.table.is_none() && section.drawings.is_empty()
}

fn words<const N: usize>(titles: [&str; N]) -> Vec<Column> {
    titles.map(|title| Column { title: title.to_owned(), align: Align::Left }).to_vec()
}
