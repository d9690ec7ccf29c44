//! The limit strip: what a number means, in one small picture, the same on page and paper.
//!
//! A hairline scale with the permitted band, a tick for the value, a whisker for its expanded uncertainty, the target as
//! a notch above. All numbers of a strip are in one unit of the caller's choice.

use super::{
    Anchor, Drawing, HAIRLINE, HEAVY, LINE, Mark, Point, Role, Shape, Text, Touch, at, mark, rectangle, word_width,
};

/// Shows a number of the strip with the digits it deserves.
pub type Show<'a> = &'a dyn Fn(f64) -> String;

/// A value against its limits; every number in the same unit.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitStrip {
    /// The lower limit, or none.
    pub min: Option<f64>,
    /// The upper limit, or none.
    pub max: Option<f64>,
    /// The value, or none while it is missing.
    pub value: Option<f64>,
    /// The expanded uncertainty U of the value, 0 if it is not known.
    pub expanded: f64,
    /// What the builder aims at.
    pub target: Option<f64>,
    /// A stated range, or the least and the greatest of several places: drawn as a bar.
    pub spread: Option<(f64, f64)>,
    /// How it stands; gives the value its role.
    pub mark: Mark,
}

/// One line of several strips on a common scale.
#[derive(Clone, Debug, PartialEq)]
pub struct StripRow {
    /// The place: "main 3".
    pub label: String,
    pub strip: LimitStrip,
    /// What touching the row leads to.
    pub key: Option<String>,
}

/// The strip alone, 34 × 6 mm, for a table whose columns already give the numbers.
#[must_use]
pub fn compact(strip: &LimitStrip, title: &str, show: Show) -> Drawing {
    let (width, height) = (34.0, 6.0);
    let frame = Frame { left: 1.5, right: width - 1.5, axis: 3.6, half_band: 1.7 };
    Drawing {
        width_mm: width,
        height_mm: height,
        title: title.to_owned(),
        description: describe(strip, show),
        shapes: frame.draw(strip, &Scale::of(std::slice::from_ref(strip))),
        touches: Vec::new(),
    }
}

/// The strip with the numbers at its limits, 90 × 14 mm.
#[must_use]
pub fn full(strip: &LimitStrip, title: &str, show: Show) -> Drawing {
    let (width, height, type_size) = (90.0, 14.0, 3.7);
    let frame = Frame { left: 3.0, right: width - 3.0, axis: 6.6, half_band: 2.6 };
    let scale = Scale::of(std::slice::from_ref(strip));
    let mut shapes = frame.draw(strip, &scale);
    let baseline = height - 1.0;
    let label = |value: f64, anchor: Anchor| {
        Text {
            at: at(frame.x(&scale, value), baseline),
            text: show(value),
            size_mm: type_size,
            anchor,
            role: Role::Ink,
            bold: false,
        }
        .kept_within(width, 0.5)
    };
    let centred: Vec<Text> =
        [strip.min, strip.max].into_iter().flatten().map(|limit| label(limit, Anchor::Middle)).collect();
    match (strip.min, strip.max, centred.as_slice()) {
        // Too close to stand centred: let each run outward from its limit.
        (Some(min), Some(max), [low, high])
            if high.at.x - low.at.x < (low.width_mm() + high.width_mm()) / 2.0 + 1.5 =>
        {
            shapes.push(Shape::Text(label(min, Anchor::End)));
            shapes.push(Shape::Text(label(max, Anchor::Start)));
        }
        _ => shapes.extend(centred.into_iter().map(Shape::Text)),
    }
    if let Some(target) = strip.target {
        let word = Text {
            at: at(frame.x(&scale, target) + 2.2, 3.0),
            text: format!("target {}", show(target)),
            size_mm: 3.2,
            anchor: Anchor::Start,
            role: Role::Ink,
            bold: false,
        };
        shapes.push(Shape::Text(word.kept_within(width, 0.5)));
    }
    Drawing {
        width_mm: width,
        height_mm: height,
        title: title.to_owned(),
        description: describe(strip, show),
        shapes,
        touches: Vec::new(),
    }
}

/// Several places on one common scale, one under the other, with the place on the left and the value on the right.
#[must_use]
pub fn strips_in_column(rows: &[StripRow], title: &str, show: Show) -> Drawing {
    let (row_height, type_size, foot) = (12.5, 4.0, 8.0);
    let strips: Vec<LimitStrip> = rows.iter().map(|row| row.strip.clone()).collect();
    let values: Vec<String> = strips.iter().map(|strip| value_words(strip, show)).collect();
    let widest =
        |words: &mut dyn Iterator<Item = &String>| words.map(|word| word_width(word, type_size)).fold(10.0, f64::max);
    let label_width = widest(&mut rows.iter().map(|row| &row.label));
    let value_width = widest(&mut values.iter());
    let left = label_width + 4.0;
    let right = left + 90.0;
    let width = right + value_width + 12.0;
    let scale = Scale::of(&strips);

    let mut shapes = Vec::new();
    let mut touches = Vec::new();
    let mut descriptions = Vec::new();
    let mut top = 1.0;
    for (row, value) in rows.iter().zip(&values) {
        let axis = top + row_height / 2.0;
        let frame = Frame { left, right, axis, half_band: 2.6 };
        let baseline = axis + type_size * 0.36;
        shapes.push(Shape::word(at(1.0, baseline), &row.label, type_size, Anchor::Start, Role::Ink));
        shapes.extend(frame.draw(&row.strip, &scale));
        shapes.extend(mark::mark(row.strip.mark, right + 5.5, axis, 5.0));
        shapes.push(Shape::Text(Text {
            at: at(width - 1.0, baseline),
            text: value.clone(),
            size_mm: type_size,
            anchor: Anchor::End,
            role: Role::Ink,
            bold: true,
        }));
        let described = format!("{}: {}", row.label, describe(&row.strip, show));
        if let Some(key) = &row.key {
            touches.push(Touch { key: key.clone(), label: described.clone(), x: 0.0, y: top, w: width, h: row_height });
        }
        descriptions.push(described);
        top += row_height;
    }
    shapes.extend(common_axis(&Frame { left, right, axis: top + 1.0, half_band: 0.0 }, &scale, show, width));
    Drawing {
        width_mm: width,
        height_mm: top + foot,
        title: title.to_owned(),
        description: descriptions.join("; "),
        shapes,
        touches,
    }
}

/// The scale under a column of strips, with numbers at round places.
fn common_axis(frame: &Frame, scale: &Scale, show: Show, width: f64) -> Vec<Shape> {
    let type_size = 3.4;
    let mut shapes = vec![Shape::line(at(frame.left, frame.axis), at(frame.right, frame.axis), Role::Faint, HAIRLINE)];
    let step = round_step((scale.to - scale.from) / 8.0);
    let mut tick = (scale.from / step).ceil() * step;
    let mut free_from = f64::NEG_INFINITY;
    while tick <= scale.to && tick + step > tick {
        let x = frame.x(scale, tick);
        shapes.push(Shape::line(at(x, frame.axis), at(x, frame.axis + 1.2), Role::Faint, HAIRLINE));
        // A tick that is zero but for rounding reads as zero.
        let number = if tick.abs() < step * 1e-9 { 0.0 } else { tick };
        let word = Text {
            at: at(x, frame.axis + 5.0),
            text: show(number),
            size_mm: type_size,
            anchor: Anchor::Middle,
            role: Role::Ink,
            bold: false,
        }
        .kept_within(width, 0.5);
        let half = word.width_mm() / 2.0;
        if word.at.x - half >= free_from {
            free_from = word.at.x + half + 1.5;
            shapes.push(Shape::Text(word));
        }
        tick += step;
    }
    shapes
}

/// The nearest round step (1, 2 or 5 times a power of ten) at or above a positive number.
fn round_step(at_least: f64) -> f64 {
    let power = 10_f64.powf(at_least.log10().floor());
    [1.0, 2.0, 5.0, 10.0].into_iter().map(|factor| factor * power).find(|step| *step >= at_least).unwrap_or(at_least)
}

/// The value as it stands beside the strip: the figure, or the stated range, or a dash.
fn value_words(strip: &LimitStrip, show: Show) -> String {
    match (strip.value, strip.spread) {
        (Some(value), _) => show(value),
        (None, Some((least, greatest))) => format!("{}–{}", show(least), show(greatest)),
        (None, None) => "–".to_owned(),
    }
}

fn describe(strip: &LimitStrip, show: Show) -> String {
    let mut words = Vec::new();
    match (strip.value, strip.spread) {
        (Some(value), _) if strip.expanded > 0.0 => words.push(format!("{} ± {}", show(value), show(strip.expanded))),
        (None, None) => {}
        _ => words.push(value_words(strip, show)),
    }
    words.push(strip.mark.word().to_owned());
    words.push(match (strip.min, strip.max) {
        (Some(min), Some(max)) => format!("permitted {} to {}", show(min), show(max)),
        (Some(min), None) => format!("at least {}", show(min)),
        (None, Some(max)) => format!("at most {}", show(max)),
        (None, None) => "no limits set".to_owned(),
    });
    if let Some(target) = strip.target {
        words.push(format!("target {}", show(target)));
    }
    words.join(", ")
}

/// The part of the number line that is drawn.
struct Scale {
    from: f64,
    to: f64,
}

impl Scale {
    /// A scale on which all of the bands can be seen, and the values as far as they leave the bands room.
    fn of(strips: &[LimitStrip]) -> Self {
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

    fn holds(&self, value: f64) -> bool {
        value >= self.from && value <= self.to
    }
}

/// Where on the sheet the scale lies.
struct Frame {
    left: f64,
    right: f64,
    /// Height of the hairline, mm from the top.
    axis: f64,
    /// How far the band reaches above and below it.
    half_band: f64,
}

impl Frame {
    fn x(&self, scale: &Scale, value: f64) -> f64 {
        let part = (value - scale.from) / (scale.to - scale.from);
        self.left + part.clamp(0.0, 1.0) * (self.right - self.left)
    }

    fn draw(&self, strip: &LimitStrip, scale: &Scale) -> Vec<Shape> {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::soundness::{assert_sound, assert_touchable};

    fn strip(min: Option<f64>, max: Option<f64>, value: Option<f64>) -> LimitStrip {
        LimitStrip { min, max, value, expanded: 0.1, target: None, spread: None, mark: Mark::Good }
    }

    fn show(value: f64) -> String {
        format!("{value:.4}")
    }

    /// Where the value's tick stands in the full form, if there is one.
    fn tick(strip: &LimitStrip) -> Option<f64> {
        full(strip, "t", &show).shapes.iter().find_map(|shape| match shape {
            Shape::Polyline { points, width_mm, .. } if (*width_mm - HEAVY).abs() < 1e-9 => Some(points[0].x),
            _ => None,
        })
    }

    /// The permitted band's edges in the full form.
    fn band(strip: &LimitStrip) -> Option<(f64, f64)> {
        full(strip, "t", &show).shapes.iter().find_map(|shape| match shape {
            Shape::Polyline { points, fill: Some(Role::Band), .. } => Some((points[0].x, points[1].x)),
            _ => None,
        })
    }

    #[test]
    fn any_strip_is_drawn_on_its_sheet() {
        let numbers = [None, Some(0.0), Some(2.0), Some(3.0), Some(-1e9), Some(1e-12), Some(1e12)];
        for min in numbers {
            for max in numbers {
                for value in numbers {
                    for (expanded, target, spread) in
                        [(0.0, None, None), (0.5, Some(2.5), Some((1.0, 9.0))), (1e6, Some(-4.0), Some((5.0, 5.0)))]
                    {
                        let strip = LimitStrip { min, max, value, expanded, target, spread, mark: Mark::Out };
                        assert_sound(&compact(&strip, "t", &show));
                        assert_sound(&full(&strip, "t", &|value| format!("{value:.1e}")));
                    }
                }
            }
        }
    }

    #[test]
    fn the_tick_stands_in_the_band_exactly_when_the_value_is_permitted() {
        for (value, inside) in [(2.0, true), (2.5, true), (3.0, true), (1.9, false), (3.4, false)] {
            let strip = strip(Some(2.0), Some(3.0), Some(value));
            let (from, to) = band(&strip).unwrap();
            let tick = tick(&strip).unwrap();
            assert_eq!((from - 1e-9..=to + 1e-9).contains(&tick), inside, "{value}");
        }
    }

    #[test]
    fn a_value_far_out_breaks_the_scale_and_leaves_the_band_readable() {
        for value in [400.0, -400.0] {
            let strip = strip(Some(2.0), Some(3.0), Some(value));
            assert_eq!(tick(&strip), None, "no tick at a place where the value is not");
            let (from, to) = band(&strip).unwrap();
            assert!(to - from > 15.0, "{from}..{to}");
        }
    }

    #[test]
    fn a_limit_on_one_side_leaves_the_band_open_on_the_other() {
        assert!((band(&strip(None, Some(3.0), Some(2.0))).unwrap().0 - 3.0).abs() < 1e-9);
        assert!((band(&strip(Some(3.0), None, Some(2.0))).unwrap().1 - 87.0).abs() < 1e-9);
        assert_eq!(band(&strip(None, None, Some(2.0))), None);
    }

    #[test]
    fn the_words_say_what_the_picture_shows() {
        let words = full(&strip(Some(2.0), Some(3.0), Some(2.5)), "main 3", &show).description;
        assert_eq!(words, "2.5000 ± 0.1000, good, permitted 2.0000 to 3.0000");
        let mut open = strip(None, Some(3.0), None);
        open.mark = Mark::Missing;
        assert_eq!(compact(&open, "main 3", &show).description, "missing, at most 3.0000");
    }

    #[test]
    fn a_column_has_one_scale_and_can_be_touched() {
        let row = |place: usize, value: f64| StripRow {
            label: format!("main {place} <b>"),
            strip: strip(Some(2.0), Some(3.0), Some(value)),
            key: Some(format!("main.{place}")),
        };
        let drawing = strips_in_column(&[row(1, 2.2), row(2, 2.2), row(3, 2.9), row(4, 70.0)], "mains", &show);
        assert_sound(&drawing);
        assert_touchable(&drawing);
        assert_eq!(drawing.touches.len(), 4);
        let ticks: Vec<f64> = drawing
            .shapes
            .iter()
            .filter_map(|shape| match shape {
                Shape::Polyline { points, width_mm, .. } if (*width_mm - HEAVY).abs() < 1e-9 => Some(points[0].x),
                _ => None,
            })
            .collect();
        assert_eq!(ticks.len(), 3, "the fourth lies beyond the scale");
        assert!((ticks[0] - ticks[1]).abs() < 1e-9 && ticks[2] > ticks[1]);
        assert_sound(&strips_in_column(&[], "none", &show));
    }
}
