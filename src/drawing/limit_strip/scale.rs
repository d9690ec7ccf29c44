//! The part of the number line that is drawn, and the strip's marks on it.

use super::LimitStrip;
use crate::drawing::{HAIRLINE, HEAVY, LINE, Point, Role, Shape, at, rectangle};

/// The part of the number line that is drawn.
pub struct Scale {
    pub from: f64,
    pub to: f64,
}

impl Scale {
    /// A scale on which all of the bands can be seen, and the values as far as they leave the bands room.
    pub fn of(strips: &[LimitStrip]) -> Self {
        let finite = |numbers: Vec<f64>| numbers.into_iter().filter(|number| number.is_finite()).collect::<Vec<_>>();
        let limits = finite(strips.iter().flat_map(|strip| [strip.min, strip.max]).flatten().collect());
        let shown = finite(
            strips
                .iter()
                .flat_map(|strip| {
                    let whisker = strip.value.map(|value| [value - strip.expanded, value + strip.expanded]);
                    let range = strip.spread.map(|(least, greatest)| [least, greatest]);
                    [whisker, range, strip.target.map(|target| [target, target])].into_iter().flatten().flatten()
                })
                .collect(),
        );
        let least = |numbers: &[f64]| numbers.iter().copied().fold(f64::INFINITY, f64::min);
        let greatest = |numbers: &[f64]| numbers.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let (low, high) = (least(&limits), greatest(&limits));
        let band = high - low;
        if band > 0.0 && band.is_finite() {
            // Room beside the band: at least enough to see that a value is out, at most so much that the band stays readable.
            let below = (low - least(&shown)).max(0.0) * 1.15;
            let above = (greatest(&shown) - high).max(0.0) * 1.15;
            let room = |wanted: f64| wanted.clamp(0.45 * band, 1.5 * band);
            return Self { from: low - room(below), to: high + room(above) };
        }
        let all: Vec<f64> = limits.into_iter().chain(shown).collect();
        let (low, high) = (least(&all), greatest(&all));
        if !low.is_finite() || !high.is_finite() {
            return Self { from: 0.0, to: 1.0 };
        }
        let room = if high > low { (high - low) * 0.4 } else { (low.abs() * 0.1).max(1e-9) };
        Self { from: low - room, to: high + room }
    }

    pub fn holds(&self, value: f64) -> bool {
        value >= self.from && value <= self.to
    }
}

/// Where on the sheet the scale lies.
pub struct Frame {
    pub left: f64,
    pub right: f64,
    /// Height of the hairline, mm from the top.
    pub axis: f64,
    /// How far the band reaches above and below it.
    pub half_band: f64,
}

impl Frame {
    pub fn x(&self, scale: &Scale, value: f64) -> f64 {
        let part = (value - scale.from) / (scale.to - scale.from);
        self.left + part.clamp(0.0, 1.0) * (self.right - self.left)
    }

    pub fn draw(&self, strip: &LimitStrip, scale: &Scale) -> Vec<Shape> {
        let (axis, half) = (self.axis, self.half_band);
        let x = |value: f64| self.x(scale, value);
        let upright = |x: f64, reach: f64, role: Role, width: f64| {
            Shape::line(at(x, axis - reach), at(x, axis + reach), role, width)
        };
        let mut shapes = Vec::new();

        let from = strip.min.map_or(self.left, x);
        let to = strip.max.map_or(self.right, x);
        if (strip.min.is_some() || strip.max.is_some()) && to >= from {
            shapes.push(Shape::area(rectangle(from, axis - half * 0.8, to - from, half * 1.6), Role::Band));
        }
        shapes.push(Shape::line(at(self.left, axis), at(self.right, axis), Role::Faint, HAIRLINE));
        for limit in [strip.min, strip.max].into_iter().flatten() {
            shapes.push(upright(x(limit), half, Role::Ink, HAIRLINE * 1.4));
        }
        if let Some(target) = strip.target.filter(|target| scale.holds(*target)) {
            let (x, top) = (x(target), axis - half);
            let notch: Vec<Point> = vec![
                at(x - half * 0.38, top - half * 0.45),
                at(x, top + half * 0.25),
                at(x + half * 0.38, top - half * 0.45),
            ];
            shapes.push(Shape::path(notch, Role::Ink, HAIRLINE * 1.4));
        }
        let role = strip.mark.role();
        if let Some((least, greatest)) = strip.spread {
            let (from, to) = (x(least.min(greatest)), x(least.max(greatest)));
            let bar = rectangle(from, axis - half * 0.3, (to - from).max(LINE), half * 0.6);
            let ends_beyond = !scale.holds(least) || !scale.holds(greatest);
            shapes.push(Shape::Polyline {
                points: bar,
                closed: true,
                stroke: Some(role),
                fill: Some(Role::Paper),
                width_mm: LINE,
            });
            if strip.value.is_none() && ends_beyond {
                shapes.extend(self.beyond(scale, if scale.holds(least) { greatest } else { least }, role));
            }
        }
        let Some(value) = strip.value.filter(|value| value.is_finite()) else { return shapes };
        if strip.expanded > 0.0 && scale.holds(value) {
            for end in [value - strip.expanded, value + strip.expanded] {
                shapes.push(Shape::line(at(x(value), axis), at(x(end), axis), role, LINE));
                if scale.holds(end) {
                    shapes.push(upright(x(end), half * 0.35, role, LINE));
                }
            }
        }
        if scale.holds(value) {
            shapes.push(upright(x(value), half, role, HEAVY));
        } else {
            shapes.extend(self.beyond(scale, value, role));
        }
        shapes
    }

    /// The sign that a value lies beyond the scale: the hairline breaks and an arrow points on.
    fn beyond(&self, scale: &Scale, value: f64, role: Role) -> Vec<Shape> {
        let (edge, onward) = if value > scale.to { (self.right, 1.0) } else { (self.left, -1.0) };
        let half = self.half_band;
        let back = |distance: f64| edge - onward * distance * half;
        let slash = |distance: f64| {
            Shape::line(
                at(back(distance), self.axis + half * 0.6),
                at(back(distance - 0.4), self.axis - half * 0.6),
                Role::Ink,
                LINE,
            )
        };
        vec![
            Shape::line(at(back(2.3), self.axis), at(back(1.7), self.axis), Role::Paper, LINE * 2.0),
            slash(2.5),
            slash(1.9),
            Shape::area(
                vec![
                    at(back(1.1), self.axis - half * 0.75),
                    at(edge, self.axis),
                    at(back(1.1), self.axis + half * 0.75),
                ],
                role,
            ),
        ]
    }
}
