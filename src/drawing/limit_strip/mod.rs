//! The limit strip: what a number means, in one small picture, the same on page and paper.
//!
//! A hairline scale with the permitted band, a tick for the value, a whisker for its expanded uncertainty, the target as
//! a notch above. All numbers of a strip are in one unit of the caller's choice.

mod column;
mod scale;

pub use column::{StripRow, strips_in_column};

use super::{Anchor, Drawing, Mark, Role, Shape, Text, at};
use scale::{Frame, Scale};

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

impl LimitStrip {
    /// The same with every number in another unit, of which zero stays zero.
    #[must_use]
    pub fn in_unit(self, convert: impl Fn(f64) -> f64) -> Self {
        Self {
            min: self.min.map(&convert),
            max: self.max.map(&convert),
            value: self.value.map(&convert),
            expanded: convert(self.expanded),
            target: self.target.map(&convert),
            spread: self.spread.map(|(least, greatest)| (convert(least), convert(greatest))),
            mark: self.mark,
        }
    }
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
            if high.at.x - low.at.x < f64::midpoint(low.width_mm(), high.width_mm()) + 1.5 =>
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::HEAVY;
    use crate::drawing::soundness::assert_sound;

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
}
