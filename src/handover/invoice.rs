//! Sets an invoice, or the credit that undoes one. What a part cost the shop, and who sold it, is in no field of it.

use super::block::{Block, Style, paragraph};
use super::contents::{MadeAt, Paper, ShopHead, Table};
use super::lines::{side_by_side, together};
use super::page::{LEAST, footer, letterhead, printed, running_head};
use super::paint::{About, PaintFault, pdf};
use super::pour::Pour;
use super::table::set_table;
use crate::drawing::{HAIRLINE, Role, Shape, at};

/// The size of the running type, in points.
const BODY: f64 = 10.0;
/// The sums stand in the right part of the page, this much of its width.
const SUMS: f64 = 0.58;

/// What stands on an invoice: words and figures already worded and rounded by others.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bill {
    pub paper: Paper,
    /// "Invoice", "Credit".
    pub kind_title: String,
    pub number: String,
    /// Civil date, already written out.
    pub date: String,
    /// "undoes invoice 2026-0041"; none of an invoice.
    pub undoes: Option<String>,
    pub shop: ShopHead,
    /// Whose bill it is: name and address, a line each.
    pub to: Vec<String>,
    /// The job as the shop says it.
    pub job: String,
    /// Which engine, in a line.
    pub heading: String,
    pub made_at: MadeAt,
    pub rows: Table,
    /// Words and amount; the last is what is to be paid.
    pub sums: Vec<(String, String)>,
    /// How it was rounded, why there is no tax, why it is credited.
    pub notes: Vec<String>,
}

/// The invoice as the bytes of a PDF. The same contents always give the same bytes.
pub fn invoice(bill: &Bill) -> Result<Vec<u8>, PaintFault> {
    let area = printed(bill.paper);
    let width = area.width;
    let title = format!("{} {}", bill.kind_title, bill.number);
    let mut pour = Pour::new(area, running_head(&title, &format!("job {}", bill.job), width));
    pour.pour(&head(bill, width), &[]);
    pour.space(2.0);
    let set = set_table(&bill.rows, width, BODY);
    let rows: Vec<Block> = set.head.iter().cloned().chain(set.rows).collect();
    pour.pour(&rows, &set.head);
    pour.pour(&together(sums(bill, width), f64::INFINITY), &[]);
    pour.space(4.0);
    for note in &bill.notes {
        pour.pour(&together(paragraph(note, 0.0, width, Style::regular(LEAST)), 40.0), &[]);
        pour.space(1.0);
    }
    let mut pages = pour.pages();
    let count = pages.len();
    let whose = format!("{title}, {} · {}", bill.date, bill.shop.name);
    for (index, page) in pages.iter_mut().enumerate() {
        page.extend(footer(bill.paper, &whose, index + 1, count));
    }
    let about = About {
        title: format!("{title}, job {}", bill.job),
        author: bill.shop.name.clone(),
        subject: bill.heading.clone(),
        made_at: bill.made_at,
    };
    pdf(bill.paper.size_mm(), &pages, &about)
}

/// The shop and the paper's number, then whose bill it is and of which engine.
fn head(bill: &Bill, width: f64) -> Vec<Block> {
    let body = Style::regular(BODY);
    let mut on_right =
        vec![(Style::bold(BODY + 8.0), bill.kind_title.clone()), (Style::bold(BODY + 2.0), bill.number.clone())];
    on_right.push((body, bill.date.clone()));
    on_right.extend(bill.undoes.iter().map(|undoes| (body, undoes.clone())));
    let mut blocks = letterhead(&bill.shop, &on_right, width, BODY);
    let to: Vec<(Style, String)> = bill
        .to
        .iter()
        .enumerate()
        .map(|(at, line)| (if at == 0 { Style::bold(BODY + 1.0) } else { body }, line.clone()))
        .collect();
    let engine = [(Style::bold(BODY + 1.0), format!("job {}", bill.job)), (body, bill.heading.clone())];
    blocks.extend(side_by_side(&to, &engine, width));
    blocks
}

/// The sums at the right, the last one heavy.
fn sums(bill: &Bill, width: f64) -> Vec<Block> {
    let left = width * (1.0 - SUMS);
    let last = bill.sums.len().saturating_sub(1);
    let mut blocks = Vec::new();
    for (at_row, (words, amount)) in bill.sums.iter().enumerate() {
        let style = if at_row == last { Style::bold(BODY + 2.0) } else { Style::regular(BODY) };
        let row = [(style, words.clone())];
        let mut set = side_by_side(&row, &[(style, amount.clone())], width - left);
        for block in &mut set {
            block.shapes = block.shapes.iter().map(|shape| shape.placed(at(left, 0.0), 1.0)).collect();
            block.gap = 0.8;
        }
        if let Some(block) = set.first_mut().filter(|_| at_row == last) {
            block.shapes.push(Shape::line(at(left, -0.4), at(width, -0.4), Role::Ink, HAIRLINE));
            block.gap = 1.6;
        }
        blocks.extend(set);
    }
    blocks
}
