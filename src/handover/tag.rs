//! The tag that hangs on an engine's stand: whose it is not, which it is in letters to be read across the shop, and a code
//! that leads a phone to the page for its photos.
//!
//! It stands in the open, so no customer is named on it, and it is printed in black.

use super::contents::MadeAt;
use super::face::{shortened, width_mm, wrap};
use super::paint::{About, PaintFault, pdf};
use crate::drawing::job_mark::job_mark;
use crate::drawing::{Anchor, Drawing, HAIRLINE, Role, Shape, Text, at, qr, rectangle};

/// A6, upright, mm.
pub const TAG_MM: (f64, f64) = (105.0, 148.0);
pub(super) const MARGIN: f64 = 7.0;
/// The mark's box, and the height of the largest number, mm.
const MARK: f64 = 26.0;
const NUMBER: f64 = 38.0;
const TITLE: f64 = 6.5;
/// At most so many lines of what the engine is.
const TITLE_LINES: usize = 3;
/// The code with its quiet zone, mm: 1.5 mm a module for an address in numbers.
const CODE: f64 = 62.0;

/// What stands on a tag.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tag {
    pub job: i64,
    /// What the engine is, in the shop's words.
    pub title: String,
    /// Where the code leads: `http://192.168.1.20:8040/jobs/12/phone`.
    pub address: String,
    pub made_at: MadeAt,
}

/// The tag as a picture; none where its address is too long for a code.
pub fn tag_drawing(tag: &Tag) -> Option<Drawing> {
    let (width, height) = TAG_MM;
    let inner = width - 2.0 * MARGIN;
    let mut shapes = vec![
        Shape::area(rectangle(0.0, 0.0, width, height), Role::Paper),
        Shape::outline(rectangle(1.5, 1.5, width - 3.0, height - 3.0), Role::Faint, HAIRLINE),
    ];
    let (head, below) = job_head(tag.job, MARGIN + 2.0);
    shapes.extend(head);
    let mut lines = wrap(&tag.title, inner, TITLE, true);
    if lines.len() > TITLE_LINES {
        let rest = lines.split_off(TITLE_LINES - 1).join(" ");
        lines.push(shortened(&rest, inner, TITLE, true));
    }
    for (line, y) in lines.into_iter().zip((0..).map(|line| below + 12.0 + f64::from(line) * TITLE * 1.2)) {
        shapes.push(bold(MARGIN, y, line, TITLE, Anchor::Start));
    }
    let code = qr::code(&tag.address, "Photo and note", 1.0)?;
    let corner = at((width - CODE) / 2.0, height - CODE - 15.0);
    shapes.extend(code.shapes.iter().map(|shape| shape.placed(corner, CODE / code.width_mm)));
    let middle = |y: f64, text: &str, size_mm: f64| {
        Shape::word(at(width / 2.0, y), shortened(text, inner, size_mm, false), size_mm, Anchor::Middle, Role::Ink)
    };
    shapes.push(middle(height - 11.5, "Photo and note: point a phone here", 4.0));
    shapes.push(middle(height - 6.5, &tag.address, 3.2));
    Some(Drawing {
        width_mm: width,
        height_mm: height,
        title: format!("Stand tag of job {}", tag.job),
        description: format!("{}, with a code that says {}", tag.title, tag.address),
        shapes,
        touches: Vec::new(),
    })
}

/// The job's mark and its number beside it, from so far down, and where they end.
pub(super) fn job_head(job: i64, top: f64) -> ([Shape; 2], f64) {
    let number = job.to_string();
    let room = TAG_MM.0 - 2.0 * MARGIN - MARK - 5.0;
    let size_mm = NUMBER.min(room / width_mm(&number, 1.0, true));
    let bottom = top + MARK;
    ([job_mark(job, at(MARGIN, top), MARK), bold(TAG_MM.0 - MARGIN, bottom, number, size_mm, Anchor::End)], bottom)
}

pub(super) fn bold(x: f64, y: f64, text: String, size_mm: f64, anchor: Anchor) -> Shape {
    Shape::Text(Text { at: at(x, y), text, size_mm, anchor, role: Role::Ink, bold: true })
}

/// A tag's picture as the bytes of a PDF. The same tag always gives the same bytes.
pub fn tag_pdf(tag: &Tag, drawing: &Drawing) -> Result<Vec<u8>, PaintFault> {
    let about =
        About { title: drawing.title.clone(), author: String::new(), subject: tag.title.clone(), made_at: tag.made_at };
    pdf(TAG_MM, std::slice::from_ref(&drawing.shapes), &about)
}
