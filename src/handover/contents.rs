//! What stands on a spec card: words and figures already chosen, worded and rounded by others.
//!
//! Everything that is empty is left out with its heading; nothing that is here is ever dropped for want of room.

use crate::drawing::{Drawing, Mark};
/// Whom the card is for; it is printed on it.
pub use crate::engine::Audience;

/// The shop's paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 8.5 × 11 in.
    #[default]
    Letter,
    /// 210 × 297 mm.
    A4,
}

/// Who made the engine.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ShopHead {
    pub name: String,
    pub address_lines: Vec<String>,
    pub phone: String,
}

/// When the card was made, UTC: it becomes part of the document.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct MadeAt {
    pub year: i16,
    /// 1 to 12.
    pub month: i8,
    /// 1 to 31.
    pub day: i8,
    pub hour: i8,
    pub minute: i8,
    pub second: i8,
}

/// What is said about one thing: "displacement", "511 in³", and beneath it "8.37 L".
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Line {
    pub label: String,
    pub value: String,
    /// The same in the other unit, or a remark; set smaller.
    pub beneath: Option<String>,
}

/// How the cells of a column line up.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Align {
    #[default]
    Left,
    Right,
    /// Decimal marks under each other.
    Decimal,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Column {
    /// The heading, with the unit: "clearance, in".
    pub title: String,
    pub align: Align,
}

/// One cell; the mark stands before the text, the strip after it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cell {
    pub text: String,
    /// The other unit, set smaller.
    pub beneath: Option<String>,
    pub mark: Option<Mark>,
    /// A compact limit strip.
    pub strip: Option<Drawing>,
}

impl Cell {
    /// A cell with nothing but words or a figure.
    pub fn of(text: impl Into<String>) -> Self {
        Self { text: text.into(), ..Self::default() }
    }
}

/// Rows may be shorter than the columns: what is missing is blank.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    pub columns: Vec<Column>,
    pub rows: Vec<Vec<Cell>>,
}

/// A part of the card under its own title.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Section {
    pub title: String,
    pub lines: Vec<Line>,
    pub table: Option<Table>,
    /// Full-width pictures, such as the shape of a bore.
    pub drawings: Vec<Drawing>,
}

/// What the owner must know, in the builder's words.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OwnerNote {
    pub title: String,
    pub text: String,
}

/// A finding outside its limits, accepted by the builder.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Deviation {
    /// "main 3 clearance".
    pub what: String,
    /// "0.0033 in, limit 0.0025 to 0.0031 in".
    pub found: String,
    pub reason: String,
    pub by: String,
    pub on: String,
}

/// Who signed which step.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SignOff {
    pub step: String,
    pub by: String,
    pub on: String,
    /// "checked again by Ada, 3 March 2026; changed since signed: readings changed", "done elsewhere".
    pub remark: Option<String>,
}

/// A spec card.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Card {
    pub paper: Paper,
    /// "Spec card".
    pub kind_title: String,
    pub shop: ShopHead,
    pub audience: Audience,
    /// Number of the issue, from 1.
    pub number: u32,
    /// The issue it takes the place of.
    pub replaces: Option<u32>,
    /// The job as the shop says it: "1042".
    pub job: String,
    /// Civil date, already written out: "12 March 2026".
    pub date: String,
    pub made_at: MadeAt,
    /// Which engine, in a line.
    pub heading: String,
    /// Sections of lines only stand in two columns beside the plan; those with tables or drawings follow at full width.
    pub sections: Vec<Section>,
    /// The large box: what to set the engine to.
    pub set_to: Vec<Line>,
    /// Numbering and firing order; made by `engine_plan::small_plan`.
    pub plan: Option<Drawing>,
    /// How to run it in, a step each.
    pub run_in: Vec<String>,
    pub notes: Vec<OwnerNote>,
    pub cautions: Vec<String>,
    pub warranty: Option<String>,
    pub deviations: Vec<Deviation>,
    pub sign_offs: Vec<SignOff>,
    /// Digest of the newest act in the shop's record, the outside witness against rewriting it.
    pub head_hash: Option<String>,
}
