//! The verdict marks, drawn as a shop makes them: a witness line scribed across two parts that meet.
//!
//! The marks differ in outline, not in colour alone, so that they survive a photocopy and any colour vision.

use super::{HAIRLINE, Point, Role, Shape, arc, at, rectangle};

/// How a place or a finding stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Mark {
    /// Within its limits: the witness line runs straight across both parts.
    Good,
    /// Out of its limits: the parts have moved and the line no longer meets.
    Out,
    /// The limit lies within what the gauge can tell: a disc astride the limit's line.
    OnTheLine,
    /// Not taken yet: a gap left open between two corners. Not a fault.
    Missing,
    /// Checked good without a figure: a bolt's head with a stripe of paint.
    Checked,
    /// Rival readings wait for someone to choose: one line forks in two.
    Undecided,
    /// Taken, with no limit to judge it by: a centre punch mark.
    Taken,
}

impl Mark {
    /// The machinist's word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Good => "good",
            Self::Out => "out",
            Self::OnTheLine => "on the line",
            Self::Missing => "missing",
            Self::Checked => "checked good",
            Self::Undecided => "undecided",
            Self::Taken => "taken",
        }
    }

    /// The role in which its value is drawn.
    #[must_use]
    pub const fn role(self) -> Role {
        match self {
            Self::Good | Self::Checked => Role::Ink,
            Self::Out => Role::Out,
            Self::OnTheLine | Self::Undecided => Role::Unsure,
            Self::Missing => Role::Faint,
            Self::Taken => Role::Dye,
        }
    }
}

/// The mark of `kind`, centred at `cx`, `cy` and no wider or higher than `size` mm.
#[must_use]
pub fn mark(kind: Mark, cx: f64, cy: f64, size: f64) -> Vec<Shape> {
    let role = kind.role();
    let heavy = size * 0.13;
    let fine = (size * 0.06).max(HAIRLINE);
    // A point in fractions of the size from the centre.
    let p = |x: f64, y: f64| at(cx + x * size, cy + y * size);
    let block = |x: f64, y: f64, w: f64, h: f64| {
        let corner: Point = p(x, y);
        rectangle(corner.x, corner.y, w * size, h * size)
    };
    match kind {
        Mark::Good => vec![
            Shape::outline(block(-0.36, -0.3, 0.36, 0.6), role, fine),
            Shape::outline(block(0.0, -0.3, 0.36, 0.6), role, fine),
            Shape::line(p(-0.48, 0.0), p(0.48, 0.0), role, heavy),
        ],
        Mark::Out => vec![
            Shape::area(block(-0.44, -0.46, 0.44, 0.62), role),
            Shape::area(block(0.0, -0.16, 0.44, 0.62), role),
            Shape::line(p(-0.44, -0.15), p(0.0, -0.15), Role::Paper, heavy),
            Shape::line(p(0.0, 0.15), p(0.44, 0.15), Role::Paper, heavy),
        ],
        Mark::OnTheLine => {
            let left_half = arc(p(0.0, 0.0), size * 0.3, 90.0, 270.0);
            vec![
                Shape::area(left_half, role),
                Shape::ring(p(0.0, 0.0), size * 0.3, role, fine),
                Shape::line(p(0.0, -0.46), p(0.0, 0.46), role, heavy),
            ]
        }
        Mark::Missing => vec![
            Shape::path(vec![p(-0.12, -0.38), p(-0.38, -0.38), p(-0.38, 0.38), p(-0.12, 0.38)], Role::Ink, fine),
            Shape::path(vec![p(0.12, -0.38), p(0.38, -0.38), p(0.38, 0.38), p(0.12, 0.38)], Role::Ink, fine),
        ],
        Mark::Checked => {
            let hexagon = [0.0_f64, 60.0, 120.0, 180.0, 240.0, 300.0]
                .map(|degrees| p(0.4 * degrees.to_radians().cos(), 0.4 * degrees.to_radians().sin()));
            vec![Shape::outline(hexagon.to_vec(), role, fine), Shape::line(p(-0.1, 0.16), p(0.36, -0.42), role, heavy)]
        }
        Mark::Undecided => vec![
            Shape::line(p(-0.44, 0.0), p(-0.1, 0.0), role, heavy),
            Shape::path(vec![p(0.3, -0.3), p(-0.1, 0.0), p(0.3, 0.3)], role, heavy),
            Shape::dot(p(0.34, -0.32), size * 0.13, role),
            Shape::dot(p(0.34, 0.32), size * 0.13, role),
        ],
        Mark::Taken => {
            vec![Shape::ring(p(0.0, 0.0), size * 0.28, role, fine), Shape::dot(p(0.0, 0.0), size * 0.13, role)]
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Drawing, soundness::assert_sound};

    const ALL: [Mark; 7] =
        [Mark::Good, Mark::Out, Mark::OnTheLine, Mark::Missing, Mark::Checked, Mark::Undecided, Mark::Taken];

    #[test]
    fn every_mark_stays_within_its_size() {
        for kind in ALL {
            let shapes = mark(kind, 2.5, 2.5, 5.0);
            let title = kind.word().to_owned();
            assert_sound(&Drawing {
                width_mm: 5.0,
                height_mm: 5.0,
                title,
                description: String::new(),
                shapes,
                touches: vec![],
            });
        }
    }

    #[test]
    fn no_two_marks_share_an_outline_or_a_word() {
        // The geometry alone, as a photocopy keeps it.
        let outline = |kind: Mark| {
            let places: Vec<String> = mark(kind, 0.0, 0.0, 5.0)
                .iter()
                .map(|shape| match shape {
                    Shape::Polyline { points, closed, .. } => format!("{points:?} {closed}"),
                    Shape::Circle { centre, radius, .. } => format!("{centre:?} {radius}"),
                    Shape::Text(text) => text.text.clone(),
                })
                .collect();
            places.join("|")
        };
        for (index, one) in ALL.iter().enumerate() {
            for other in &ALL[index + 1..] {
                assert_ne!(outline(*one), outline(*other));
                assert_ne!(one.word(), other.word());
            }
        }
    }
}
