//! The label that hangs on parts refused: not to be fitted, whose they are, what is wrong, since when, and who says so.
//!
//! It is printed in black, as the stand tag is: the mark tells jobs apart by its outline.

use super::contents::MadeAt;
use super::face::{shortened, width_mm, wrap};
use super::paint::{About, PaintFault, pdf};
use super::tag::{MARGIN, TAG_MM, bold, job_head};
use crate::drawing::{Anchor, Drawing, Role, Shape, Text, at, rectangle};

/// At most so many lines of what the part is, and of what is wrong with it.
const PART_LINES: usize = 2;
const WHY_LINES: usize = 5;

/// What stands on a label.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Label {
    pub job: i64,
    /// What the engine is, in the shop's words.
    pub title: String,
    /// What was refused.
    pub part: String,
    /// Maker and part number.
    pub made_as: String,
    pub quantity: i64,
    /// What is wrong with it; may be empty.
    pub why: String,
    /// "3 March 2027".
    pub day: String,
    /// Who refused it; may be empty.
    pub who: String,
    pub made_at: MadeAt,
}

/// Lines down the label, one below the other.
struct Down {
    y: f64,
    shapes: Vec<Shape>,
}

impl Down {
    /// At most so many lines of a text; the last is shortened where there are more.
    fn lines(&mut self, text: &str, size_mm: f64, most: usize, heavy: bool) {
        // A screen's own face runs wider than the paper's.
        let inner = 0.88 * (TAG_MM.0 - 2.0 * MARGIN);
        let mut lines = wrap(text, inner, size_mm, heavy);
        if lines.len() > most {
            let rest = lines.split_off(most - 1).join(" ");
            lines.push(shortened(&rest, inner, size_mm, heavy));
        }
        for text in lines {
            self.y += size_mm * 1.25;
            let at = at(MARGIN, self.y);
            let line = Text { at, text, size_mm, anchor: Anchor::Start, role: Role::Ink, bold: heavy };
            self.shapes.push(Shape::Text(line));
        }
    }
}

/// The label as a picture.
pub fn label_drawing(label: &Label) -> Drawing {
    let (width, height) = TAG_MM;
    let warning = "DO NOT FIT";
    let size_mm = (width - 4.0 * MARGIN) / width_mm(warning, 1.0, true);
    let mut shapes = vec![
        Shape::area(rectangle(0.0, 0.0, width, height), Role::Paper),
        Shape::outline(rectangle(2.5, 2.5, width - 5.0, height - 5.0), Role::Ink, 1.6),
        bold(width / 2.0, MARGIN + size_mm, warning.to_owned(), size_mm, Anchor::Middle),
    ];
    let head = MARGIN + size_mm + 7.0;
    let (of_job, below) = job_head(label.job, head);
    shapes.extend(of_job);
    let mut down = Down { y: below, shapes };
    down.lines(&label.title, 4.2, 1, false);
    down.y += 2.0;
    down.lines(&format!("{} × {}", label.quantity, label.part), 6.5, PART_LINES, true);
    down.lines(&label.made_as, 4.2, 1, false);
    down.y += 2.0;
    down.lines(&label.why, 5.2, WHY_LINES, false);
    let refused = format!("Refused on {}", label.day);
    let by = if label.who.is_empty() { String::new() } else { format!("by {}", label.who) };
    let mut foot = Down { y: height - 27.0, shapes: down.shapes };
    foot.lines(&refused, 4.8, 1, true);
    foot.lines(&by, 4.8, 1, true);
    foot.y += 1.0;
    foot.lines("It lies apart until it goes back.", 4.2, 1, false);
    Drawing {
        width_mm: width,
        height_mm: height,
        title: format!("Quarantine label of job {}", label.job),
        description: format!("Do not fit: {} {}. {}. {refused} {by}", label.quantity, label.part, label.why),
        shapes: foot.shapes,
        touches: Vec::new(),
    }
}

/// A label's picture as the bytes of a PDF. The same label always gives the same bytes.
pub fn label_pdf(label: &Label, drawing: &Drawing) -> Result<Vec<u8>, PaintFault> {
    let subject = format!("{} refused", label.part);
    let about = About { title: drawing.title.clone(), author: String::new(), subject, made_at: label.made_at };
    pdf(TAG_MM, std::slice::from_ref(&drawing.shapes), &about)
}
