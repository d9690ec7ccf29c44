//! The shape of one bore, exaggerated until the eye can see it: three sections and the walls from top to bottom.
//!
//! Between the two ways it was measured the section is drawn as r(φ) = ½·(T·sin²φ + P·cos²φ), with T thrust way and P pin way, the curve of the
//! first order that has both diameters: what is between them was not measured, so no more is claimed.

use super::limit_strip::Show;
use super::{Anchor, Drawing, HAIRLINE, LINE, Point, Role, Shape, Text, at};

/// One bore's diameters in metres, at the top, the middle and the bottom.
#[derive(Clone, Debug, PartialEq)]
pub struct BoreShape {
    /// The cylinder: "cylinder 3".
    pub label: String,
    /// Thrust way: square to the crank.
    pub thrust: [Option<f64>; 3],
    /// Pin way: along the crank.
    pub pin: [Option<f64>; 3],
}

const LEVELS: [&str; 3] = ["top", "middle", "bottom"];
/// Radius of the circle of the mean diameter on the sheet, mm.
const RADIUS: f64 = 14.0;
/// The greatest deviation drawn, as a part of the radius.
const DEEPEST: f64 = 0.22;
const TYPE: f64 = 3.7;

/// The bore as a drawing of 170 × 50 mm: the three sections from above (crank axis across the sheet), then the walls.
#[must_use]
pub fn bore_shape(bore: &BoreShape, show: Show) -> Drawing {
    let (width, height) = (170.0, 50.0);
    // A section's scale has no place for what cannot be a diameter.
    let measured = |diameters: [Option<f64>; 3]| diameters.map(|way| way.filter(|d| d.is_finite() && *d > 0.0));
    let (thrust, pin) = (measured(bore.thrust), measured(bore.pin));
    let known: Vec<f64> = thrust.iter().chain(&pin).flatten().copied().collect();
    let mean = known.iter().sum::<f64>() / known.iter().map(|_| 1.0).sum::<f64>().max(1.0);
    let deepest = known.iter().map(|diameter| (diameter / mean - 1.0).abs()).fold(0.0, f64::max);
    let magnified = magnification(deepest);
    // How far from the mean circle a diameter is drawn, mm.
    let offset = |diameter: f64| RADIUS * magnified * (diameter / mean - 1.0);

    let mut shapes = Vec::new();
    let middle = 21.0;
    for (index, level) in LEVELS.iter().enumerate() {
        let centre = at([19.0, 56.0, 93.0][index], middle);
        shapes.extend(section(centre, thrust[index].map(offset), pin[index].map(offset)));
        shapes.push(Shape::word(at(centre.x, 43.0), *level, TYPE, Anchor::Middle, Role::Ink));
    }
    shapes.push(Shape::word(at(19.0 + 1.0, 3.4), "thrust way", 3.2, Anchor::Start, Role::Ink));
    shapes.push(Shape::word(at(19.0 + 9.5, middle - 1.0), "pin way", 3.2, Anchor::End, Role::Ink));
    shapes.extend(walls(&thrust, "thrust way", 126.0, &offset, show));
    shapes.extend(walls(&pin, "pin way", 155.0, &offset, show));
    let caption = if known.is_empty() {
        "not measured yet".to_owned()
    } else if magnified > 0.0 {
        format!("deviation from the mean diameter drawn ×{magnified:.0}")
    } else {
        "no difference measured".to_owned()
    };
    shapes.push(Shape::Text(Text {
        at: at(1.0, 48.8),
        text: caption,
        size_mm: 3.2,
        anchor: Anchor::Start,
        role: Role::Ink,
        bold: false,
    }));
    Drawing {
        width_mm: width,
        height_mm: height,
        title: format!("Shape of {}", bore.label),
        description: describe(bore, show),
        shapes,
        touches: Vec::new(),
    }
}

/// The greatest of 1, 2, 5, 10 … that keeps the deepest relative deviation within what can be drawn; 0 if there is none.
/// It is the deviation's scale over the bore's own scale, so it holds at any size of print.
fn magnification(deepest: f64) -> f64 {
    // Below a part in 10⁹ nothing was measured: that is rounding.
    if deepest < 1e-9 {
        return 0.0;
    }
    let most = DEEPEST / deepest;
    let power = 10_f64.powf(most.log10().floor());
    [5.0, 2.0, 1.0].into_iter().map(|factor| factor * power).find(|scale| *scale <= most).unwrap_or(power)
}

/// One section: hairline circle of the mean diameter, its axes, and the measured outline where both ways are known.
fn section(centre: Point, thrust: Option<f64>, pin: Option<f64>) -> Vec<Shape> {
    let reach = RADIUS * (1.0 + DEEPEST) + 0.8;
    let mut shapes = vec![
        Shape::line(at(centre.x - reach, centre.y), at(centre.x + reach, centre.y), Role::Faint, HAIRLINE),
        Shape::line(at(centre.x, centre.y - reach), at(centre.x, centre.y + reach), Role::Faint, HAIRLINE),
        Shape::ring(centre, RADIUS, Role::Faint, HAIRLINE),
    ];
    if let (Some(thrust), Some(pin)) = (thrust, pin) {
        let outline = (0..72_u8).map(|step| {
            let (sin, cos) = (f64::from(step) * 5.0).to_radians().sin_cos();
            let radius = RADIUS + thrust * sin * sin + pin * cos * cos;
            at(centre.x + radius * cos, centre.y + radius * sin)
        });
        shapes.push(Shape::outline(outline.collect(), Role::Dye, LINE * 1.4));
    } else {
        // One way alone gives no outline, only where the wall is on that axis.
        for (offset, along, across) in [(thrust, 0.0, 1.0), (pin, 1.0, 0.0)] {
            let Some(offset) = offset else { continue };
            for side in [-1.0, 1.0] {
                let wall =
                    at(centre.x + side * (RADIUS + offset) * along, centre.y + side * (RADIUS + offset) * across);
                let (half_x, half_y) = (2.0 * across, 2.0 * along);
                shapes.push(Shape::line(
                    at(wall.x - half_x, wall.y - half_y),
                    at(wall.x + half_x, wall.y + half_y),
                    Role::Dye,
                    LINE * 1.4,
                ));
            }
        }
    }
    shapes
}

/// Both walls from top to bottom, one way, with the diameter at each level.
fn walls(diameters: &[Option<f64>; 3], way: &str, x: f64, offset: &dyn Fn(f64) -> f64, show: Show) -> Vec<Shape> {
    let half = 9.5;
    let levels = [6.0, 21.0, 36.0];
    let mut shapes = vec![Shape::word(at(x, 43.0), way, TYPE, Anchor::Middle, Role::Ink)];
    for side in [-1.0, 1.0] {
        let wall = x + side * half;
        shapes.push(Shape::line(at(wall, levels[0] - 2.0), at(wall, levels[2] + 2.0), Role::Faint, HAIRLINE));
        let points: Vec<Point> = diameters
            .iter()
            .zip(levels)
            .filter_map(|(diameter, y)| Some(at(wall + side * offset((*diameter)?), y)))
            .collect();
        shapes.extend(points.iter().map(|point| Shape::dot(*point, 0.6, Role::Dye)));
        if points.len() > 1 {
            shapes.push(Shape::path(points, Role::Dye, LINE * 1.4));
        }
    }
    for (diameter, y) in diameters.iter().zip(levels) {
        let text = diameter.map_or_else(|| "–".to_owned(), show);
        shapes.push(Shape::word(at(x, y + 1.2), text, 3.2, Anchor::Middle, Role::Ink));
    }
    shapes
}

fn describe(bore: &BoreShape, show: Show) -> String {
    let figure = |diameter: Option<f64>| diameter.map_or_else(|| "missing".to_owned(), show);
    LEVELS
        .iter()
        .zip(bore.thrust.iter().zip(&bore.pin))
        .map(|(level, (thrust, pin))| format!("{level}: thrust way {}, pin way {}", figure(*thrust), figure(*pin)))
        .collect::<Vec<_>>()
        .join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::soundness::assert_sound;

    fn show(metres: f64) -> String {
        format!("{:.4}", metres / 0.0254)
    }

    #[test]
    fn any_bore_is_drawn_on_its_sheet() {
        let numbers = [None, Some(0.1), Some(0.100_02), Some(0.11), Some(1e-9), Some(f64::NAN)];
        for a in numbers {
            for b in numbers {
                for c in numbers {
                    let bore = BoreShape { label: "cylinder 3".to_owned(), thrust: [a, b, c], pin: [c, a, b] };
                    assert_sound(&bore_shape(&bore, &|metres| format!("{metres:.4}")));
                }
            }
        }
    }

    #[test]
    fn the_magnification_is_round_and_fits() {
        for (deepest, expected) in [(0.0, 0.0), (0.22 / 500.0, 500.0), (0.22 / 1999.0, 1000.0), (0.22 / 21.0, 20.0)] {
            assert!((magnification(deepest) - expected).abs() < 1e-6, "{deepest}: {}", magnification(deepest));
        }
    }

    #[test]
    fn the_outline_meets_both_measured_diameters() {
        // Thrust way 20 µm over, pin way 20 µm under a mean of 100 mm: 2·10⁻⁴ either way, so drawn ×1000, 2.8 mm.
        let bore = BoreShape {
            label: "cylinder 1".to_owned(),
            thrust: [Some(0.100_02), None, None],
            pin: [Some(0.099_98), None, None],
        };
        let drawing = bore_shape(&bore, &show);
        let outline = drawing.shapes.iter().find_map(|shape| match shape {
            Shape::Polyline { points, closed: true, .. } => Some(points),
            _ => None,
        });
        let outline = outline.unwrap();
        let span = |axis: fn(&Point) -> f64| {
            let numbers = outline.iter().map(axis);
            numbers.clone().fold(f64::NEG_INFINITY, f64::max) - numbers.fold(f64::INFINITY, f64::min)
        };
        assert!((span(|point| point.y) - 2.0 * (RADIUS + 2.8)).abs() < 1e-6, "thrust way stands square to the crank");
        assert!((span(|point| point.x) - 2.0 * (RADIUS - 2.8)).abs() < 1e-6, "pin way lies along the crank");
        assert!(drawing.description.starts_with("top: thrust way 3.9378, pin way 3.9362; middle: thrust way missing"));
    }
}
