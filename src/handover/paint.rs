//! Pages of shapes as a PDF whose bytes depend on nothing but what is on them and the time given.
//!
//! Colours keep their order of darkness in black and white, since marks and words carry the meaning. The faces are embedded
//! as subsets, text can be selected and found.

use lopdf::{Dictionary, Object, StringFormat};
use printpdf::{
    Color, FontId, Greyscale, Line, LineJoinStyle, LinePoint, Mm, Op, PaintMode, PdfDocument, PdfFont, PdfFontHandle,
    PdfPage, PdfSaveOptions, Polygon, PolygonRing, Pt, Rgb, TextItem, TextMatrix, WindingOrder,
};
use sha2::{Digest, Sha256};

use super::contents::{MadeAt, Paper};
use super::face::{self, POINT, printable, width_mm};
use crate::drawing::{Anchor, Point, Role, Shape, Text, arc, at};

impl Paper {
    /// Width and height of the sheet, upright, mm.
    pub const fn size_mm(self) -> (f64, f64) {
        match self {
            Self::Letter => (215.9, 279.4),
            Self::A4 => (210.0, 297.0),
        }
    }
}

/// What the document says about itself.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct About {
    pub title: String,
    pub author: String,
    pub subject: String,
    pub made_at: MadeAt,
}

/// Why no document could be made; neither depends on what is on the pages.
#[derive(Debug, thiserror::Error)]
pub enum PaintFault {
    /// The library refused an object of the document.
    #[error("the PDF could not be put together")]
    Document(#[from] lopdf::Error),
    /// The bytes could not be written out.
    #[error("the PDF could not be written")]
    Write(#[from] std::io::Error),
}

/// The pages, of this width and height in mm, each a list of shapes in mm from its top left corner, as the bytes of a PDF
/// 1.7.
pub fn pdf(size_mm: (f64, f64), pages: &[Vec<Shape>], about: &About) -> Result<Vec<u8>, PaintFault> {
    let (width, height) = size_mm;
    let mut document = PdfDocument::new("");
    for bold in [false, true] {
        document.resources.fonts.map.insert(font_id(bold), PdfFont::new(face::face(bold).clone()));
    }
    for shapes in pages {
        let mut ops = vec![Op::SetLineJoinStyle { join: LineJoinStyle::Round }];
        for shape in shapes {
            paint(&mut ops, shape, height);
        }
        document.pages.push(PdfPage::new(Mm(single(width)), Mm(single(height)), ops));
    }
    finished(&document, about)
}

/// The library leaves some things to chance or says them wrongly: the document's identity, its dates, and the claim to
/// follow a standard for pre-press that it does not follow. They are set here.
fn finished(document: &PdfDocument, about: &About) -> Result<Vec<u8>, PaintFault> {
    let mut file = document.to_lopdf_document(&PdfSaveOptions::default(), &mut Vec::new());
    file.compress();
    "1.7".clone_into(&mut file.version);

    let MadeAt { year, month, day, hour, minute, second } = about.made_at;
    let date = format!("D:{year:04}{month:02}{day:02}{hour:02}{minute:02}{second:02}Z");
    let mut info = Dictionary::new();
    info.set("Title", lopdf::text_string(&about.title));
    info.set("Author", lopdf::text_string(&about.author));
    info.set("Subject", lopdf::text_string(&about.subject));
    info.set("Creator", lopdf::text_string("Witnessmark"));
    info.set("Producer", lopdf::text_string("Witnessmark"));
    info.set("CreationDate", Object::string_literal(date.clone()));
    info.set("ModDate", Object::string_literal(date));
    let info_id = file.trailer.get(b"Info")?.as_reference()?;
    file.objects.insert(info_id, Object::Dictionary(info.clone()));

    let catalog = file.catalog_mut()?;
    catalog.set("Lang", Object::string_literal("en"));
    let mut preferences = Dictionary::new();
    preferences.set("DisplayDocTitle", true);
    catalog.set("ViewerPreferences", preferences);

    let mut digest = Sha256::new();
    digest.update(format!("{info:?}"));
    for object in file.objects.values() {
        if let Ok(stream) = object.as_stream() {
            digest.update(&stream.content);
        }
    }
    let identity = Object::String(digest.finalize()[..16].to_vec(), StringFormat::Hexadecimal);
    file.trailer.set("ID", vec![identity.clone(), identity]);

    let mut bytes = Vec::new();
    file.save_to(&mut bytes)?;
    Ok(bytes)
}

/// Fixed names of exactly six capitals: the library makes the subset's name of them.
fn font_id(bold: bool) -> FontId {
    FontId(if bold { "WITNSB" } else { "WITNSR" }.to_owned())
}

fn paint(ops: &mut Vec<Op>, shape: &Shape, page_height: f64) {
    match shape {
        Shape::Polyline { points, closed, stroke, fill, width_mm } => {
            path(ops, points, *closed, *stroke, *fill, *width_mm, page_height);
        }
        Shape::Circle { centre, radius, stroke, fill, width_mm } => {
            path(ops, &arc(*centre, *radius, 0.0, 355.0), true, *stroke, *fill, *width_mm, page_height);
        }
        Shape::Text(text) => word(ops, text, page_height),
    }
}

fn path(
    ops: &mut Vec<Op>,
    points: &[Point],
    closed: bool,
    stroke: Option<Role>,
    fill: Option<Role>,
    width_mm: f64,
    page_height: f64,
) {
    let points = points.iter().map(|point| LinePoint { p: on_page(*point, page_height), bezier: false }).collect();
    if let Some(role) = stroke {
        ops.push(Op::SetOutlineColor { col: colour(role) });
        ops.push(Op::SetOutlineThickness { pt: Pt(single(width_mm / POINT)) });
    }
    let Some(role) = fill else {
        ops.push(Op::DrawLine { line: Line { points, is_closed: closed } });
        return;
    };
    ops.push(Op::SetFillColor { col: colour(role) });
    ops.push(Op::DrawPolygon {
        polygon: Polygon {
            rings: vec![PolygonRing { points }],
            mode: if stroke.is_some() { PaintMode::FillStroke } else { PaintMode::Fill },
            winding_order: WindingOrder::NonZero,
        },
    });
}

fn word(ops: &mut Vec<Op>, text: &Text, page_height: f64) {
    let line = printable(&text.text);
    if line.trim().is_empty() {
        return;
    }
    let before = match text.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => width_mm(&line, text.size_mm, text.bold) / 2.0,
        Anchor::End => width_mm(&line, text.size_mm, text.bold),
    };
    let start = on_page(at(text.at.x - before, text.at.y), page_height);
    ops.push(Op::StartTextSection);
    ops.push(Op::SetFillColor { col: colour(text.role) });
    ops.push(Op::SetFont { font: PdfFontHandle::External(font_id(text.bold)), size: Pt(single(text.size_mm / POINT)) });
    ops.push(Op::SetTextMatrix { matrix: TextMatrix::Translate(start.x, start.y) });
    ops.push(Op::ShowText { items: vec![TextItem::Text(line)] });
    ops.push(Op::EndTextSection);
}

/// From millimetres below the top to points above the bottom.
fn on_page(point: Point, page_height: f64) -> printpdf::Point {
    printpdf::Point { x: Pt(single(point.x / POINT)), y: Pt(single((page_height - point.y) / POINT)) }
}

fn colour(role: Role) -> Color {
    let grey = |percent: f32| Color::Greyscale(Greyscale { percent, icc_profile: None });
    let rgb = |r: f32, g: f32, b: f32| Color::Rgb(Rgb { r, g, b, icc_profile: None });
    match role {
        Role::Ink => grey(0.0),
        Role::Faint => grey(0.45),
        Role::Dye => rgb(0.08, 0.20, 0.50),
        Role::Band => rgb(0.84, 0.88, 0.92),
        Role::Out => rgb(0.58, 0.06, 0.06),
        Role::Unsure => rgb(0.45, 0.27, 0.0),
        Role::Paper => grey(1.0),
    }
}

/// The library counts in single precision: to a thousandth of a millimetre on any page.
#[expect(clippy::cast_possible_truncation, reason = "lengths on a page")]
fn single(value: f64) -> f32 {
    value as f32
}
