//! Pictures as primitives in millimetres with roles: the same drawing becomes SVG on a page and lines on paper.
//!
//! x runs to the right, y downward, both from the top left corner of the sheet. A shape says what it *is* (ink, permitted
//! band, out …); the page's stylesheet and the paper's inks say how that looks. Nothing here knows a unit of what was
//! measured: the caller hands in plain numbers in one unit and a function that shows them.

pub mod bore_shape;
pub mod engine_plan;
pub mod job_mark;
pub mod lateness;
pub mod limit_strip;
pub mod mark;
pub mod qr;
pub mod step_hours;
pub mod study_chart;
pub mod warm_curve;
pub mod weeks;

pub use mark::Mark;

/// Width of the thinnest line, mm: scales, leaders, outlines of what only gives orientation.
pub const HAIRLINE: f64 = 0.18;
/// Width of an ordinary line, mm.
pub const LINE: f64 = 0.35;
/// Width of a line that carries the message, mm.
pub const HEAVY: f64 = 0.8;

/// What a stroke, a fill or a word is; never a colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Role {
    /// Lines and words of the drawing itself.
    Ink,
    /// Hairlines that give orientation: scales, axes, outlines.
    Faint,
    /// Layout blue: a value, or what can be touched.
    Dye,
    /// The permitted band: a light fill.
    Band,
    /// Out of its limits.
    Out,
    /// Cannot be told: the limit lies within what the gauge can tell, or two readings stand against each other.
    Unsure,
    /// The sheet itself, to leave a gap in what lies beneath.
    Paper,
}

/// A place on the sheet, mm from its top left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    pub x: f64,
    pub y: f64,
}

/// The point `x` mm to the right and `y` mm down.
#[must_use]
pub const fn at(x: f64, y: f64) -> Point {
    Point { x, y }
}

/// Which part of a word stands at its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    Start,
    Middle,
    End,
}

/// A word on a drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// On the baseline.
    pub at: Point,
    pub text: String,
    /// Height of the type, mm (1 mm = 2.83 pt).
    pub size_mm: f64,
    pub anchor: Anchor,
    pub role: Role,
    pub bold: bool,
}

impl Text {
    /// An estimate of how wide the word runs, mm, on the generous side: faces differ between page and paper.
    #[must_use]
    pub fn width_mm(&self) -> f64 {
        word_width(&self.text, self.size_mm)
    }

    /// The same word moved sideways so that it stays `margin` mm inside a sheet of this width.
    #[must_use]
    pub fn kept_within(mut self, width_mm: f64, margin: f64) -> Self {
        let width = self.width_mm();
        let before = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => width / 2.0,
            Anchor::End => width,
        };
        let leftmost = margin + before;
        let rightmost = (width_mm - margin - width + before).max(leftmost);
        self.at.x = self.at.x.clamp(leftmost, rightmost);
        self
    }
}

/// An estimate of how wide a word runs, mm, at 0.6 of the type's height per character.
#[must_use]
pub fn word_width(text: &str, size_mm: f64) -> f64 {
    let characters = text.chars().count() as f64;
    characters * size_mm * 0.6
}

/// One primitive. Arcs are drawn as polylines of short chords.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    Polyline { points: Vec<Point>, closed: bool, stroke: Option<Role>, fill: Option<Role>, width_mm: f64 },
    Circle { centre: Point, radius: f64, stroke: Option<Role>, fill: Option<Role>, width_mm: f64 },
    Text(Text),
}

impl Shape {
    /// A straight line.
    #[must_use]
    pub fn line(from: Point, to: Point, role: Role, width_mm: f64) -> Self {
        Self::path(vec![from, to], role, width_mm)
    }

    /// A line through several points.
    #[must_use]
    pub fn path(points: Vec<Point>, role: Role, width_mm: f64) -> Self {
        Self::Polyline { points, closed: false, stroke: Some(role), fill: None, width_mm }
    }

    /// A closed outline, empty inside.
    #[must_use]
    pub fn outline(points: Vec<Point>, role: Role, width_mm: f64) -> Self {
        Self::Polyline { points, closed: true, stroke: Some(role), fill: None, width_mm }
    }

    /// A filled area without an outline.
    #[must_use]
    pub fn area(points: Vec<Point>, role: Role) -> Self {
        Self::Polyline { points, closed: true, stroke: None, fill: Some(role), width_mm: 0.0 }
    }

    /// An empty circle.
    #[must_use]
    pub const fn ring(centre: Point, radius: f64, role: Role, width_mm: f64) -> Self {
        Self::Circle { centre, radius, stroke: Some(role), fill: None, width_mm }
    }

    /// A filled circle.
    #[must_use]
    pub const fn dot(centre: Point, radius: f64, role: Role) -> Self {
        Self::Circle { centre, radius, stroke: None, fill: Some(role), width_mm: 0.0 }
    }

    /// The same shape drawn `scale` times as large, its sheet's corner set down at `origin`.
    #[must_use]
    pub fn placed(&self, origin: Point, scale: f64) -> Self {
        let place = |point: Point| at(origin.x + point.x * scale, origin.y + point.y * scale);
        match self.clone() {
            Self::Polyline { points, closed, stroke, fill, width_mm } => Self::Polyline {
                points: points.into_iter().map(place).collect(),
                closed,
                stroke,
                fill,
                width_mm: width_mm * scale,
            },
            Self::Circle { centre, radius, stroke, fill, width_mm } => {
                Self::Circle { centre: place(centre), radius: radius * scale, stroke, fill, width_mm: width_mm * scale }
            }
            Self::Text(text) => Self::Text(Text { at: place(text.at), size_mm: text.size_mm * scale, ..text }),
        }
    }

    /// A word in ink centred at a point, moved sideways where it would run over the edge of a sheet of this width.
    #[must_use]
    pub fn centred_word(at: Point, text: String, size_mm: f64, width_mm: f64) -> Self {
        let text = Text { at, text, size_mm, anchor: Anchor::Middle, role: Role::Ink, bold: false };
        Self::Text(text.kept_within(width_mm, 1.0))
    }

    /// A word in ordinary weight.
    #[must_use]
    pub fn word(at: Point, text: impl Into<String>, size_mm: f64, anchor: Anchor, role: Role) -> Self {
        Self::Text(Text { at, text: text.into(), size_mm, anchor, role, bold: false })
    }
}

/// The four corners of a rectangle, from its top left corner.
#[must_use]
pub fn rectangle(x: f64, y: f64, width: f64, height: f64) -> Vec<Point> {
    vec![at(x, y), at(x + width, y), at(x + width, y + height), at(x, y + height)]
}

/// Part of a circle as chords of at most five degrees; angles in degrees, clockwise on the sheet from the right.
#[must_use]
pub fn arc(centre: Point, radius: f64, from_degrees: f64, to_degrees: f64) -> Vec<Point> {
    let sweep = to_degrees - from_degrees;
    let chords = (sweep.abs() / 5.0).ceil().max(1.0);
    let mut points = Vec::new();
    let mut chord = 0.0;
    while chord <= chords {
        let angle = (from_degrees + sweep * chord / chords).to_radians();
        points.push(at(centre.x + radius * angle.cos(), centre.y + radius * angle.sin()));
        chord += 1.0;
    }
    points
}

/// An area that can be touched on a page; paper ignores it.
#[derive(Clone, Debug, PartialEq)]
pub struct Touch {
    /// What it leads to: the page turns it into an address.
    pub key: String,
    /// What it is called, for those who do not see it: "main 3, out".
    pub label: String,
    pub x: f64,
    pub y: f64,
    pub w: f64,
    pub h: f64,
}

/// A picture on a sheet of its own size.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    pub width_mm: f64,
    pub height_mm: f64,
    /// What it shows, in a few words.
    pub title: String,
    /// What is to be seen on it, in a sentence, for those who do not see it.
    pub description: String,
    pub shapes: Vec<Shape>,
    pub touches: Vec<Touch>,
}

/// What every drawing must hold, for the tests of this room.
#[cfg(test)]
mod soundness {
    use super::{Anchor, Drawing, Point, Shape, Text};

    /// Every coordinate is a number and everything that is drawn or can be touched lies on the sheet.
    pub fn assert_sound(drawing: &Drawing) {
        let (width, height) = (drawing.width_mm, drawing.height_mm);
        assert!(width.is_finite() && height.is_finite() && width > 0.0 && height > 0.0, "{width} × {height}");
        let on_sheet = |point: Point, what: &dyn std::fmt::Debug| {
            let inside = (-0.01..=width + 0.01).contains(&point.x) && (-0.01..=height + 0.01).contains(&point.y);
            assert!(inside, "{}: {point:?} is not on {width} × {height}: {what:?}", drawing.title);
        };
        for shape in &drawing.shapes {
            match shape {
                Shape::Polyline { points, .. } => points.iter().for_each(|point| on_sheet(*point, shape)),
                Shape::Circle { centre, radius, .. } => {
                    on_sheet(Point { x: centre.x - radius, y: centre.y - radius }, shape);
                    on_sheet(Point { x: centre.x + radius, y: centre.y + radius }, shape);
                }
                Shape::Text(text) => {
                    let Text { at, size_mm, anchor, .. } = text;
                    assert!(*size_mm > 0.0, "{text:?}");
                    let before = match anchor {
                        Anchor::Start => 0.0,
                        Anchor::Middle => text.width_mm() / 2.0,
                        Anchor::End => text.width_mm(),
                    };
                    on_sheet(Point { x: at.x - before, y: at.y - size_mm * 0.75 }, text);
                    on_sheet(Point { x: at.x - before + text.width_mm(), y: at.y + size_mm * 0.2 }, text);
                }
            }
        }
        for touch in &drawing.touches {
            on_sheet(Point { x: touch.x, y: touch.y }, touch);
            on_sheet(Point { x: touch.x + touch.w, y: touch.y + touch.h }, touch);
        }
    }

    /// No two touch areas overlap, and none is smaller than a gloved finger's 12 mm.
    pub fn assert_touchable(drawing: &Drawing) {
        for (index, one) in drawing.touches.iter().enumerate() {
            assert!(one.w >= 17.0 && one.h >= 17.0, "{one:?}");
            for other in &drawing.touches[index + 1..] {
                let apart = one.x + one.w <= other.x + 0.01
                    || other.x + other.w <= one.x + 0.01
                    || one.y + one.h <= other.y + 0.01
                    || other.y + other.h <= one.y + 0.01;
                assert!(apart, "{one:?} overlaps {other:?}");
            }
        }
    }
}
