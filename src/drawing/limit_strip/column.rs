//! Several places on one common scale, one under the other.

use super::scale::{Frame, Scale};
use super::{LimitStrip, Show, describe, value_words};
use crate::drawing::mark::mark;
use crate::drawing::{Anchor, Drawing, HAIRLINE, Role, Shape, Text, Touch, at, word_width};

/// One line of several strips on a common scale.
#[derive(Clone, Debug, PartialEq)]
pub struct StripRow {
    /// The place: "main 3".
    pub label: String,
    pub strip: LimitStrip,
    /// What touching the row leads to.
    pub key: Option<String>,
}

/// Several places on one common scale, one under the other, with the place on the left and the value on the right.
#[must_use]
pub fn strips_in_column(rows: &[StripRow], title: &str, show: Show) -> Drawing {
    let (type_size, foot) = (4.0, 8.0);
    // A finger's height where rows can be touched, closer together on paper.
    let row_height = if rows.iter().any(|row| row.key.is_some()) { 17.0 } else { 8.0 };
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
        shapes.extend(mark(row.strip.mark, right + 5.5, axis, 5.0));
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
    let step = told_step((scale.to - scale.from) / 8.0, show);
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

/// The nearest round step at or above a positive number of which no digit is lost where it is shown.
fn told_step(at_least: f64, show: Show) -> f64 {
    let is_told = |step: f64| show(step).parse::<f64>().is_ok_and(|told| (told / step - 1.0).abs() < 1e-6);
    let steps = std::iter::successors(Some(round_step(at_least)), |step| Some(round_step(step * 1.5)));
    steps.take(4).find(|step| is_told(*step)).unwrap_or_else(|| round_step(at_least))
}

/// The nearest round step (1, 2 or 5 times a power of ten) at or above a positive number.
fn round_step(at_least: f64) -> f64 {
    let power = 10_f64.powf(at_least.log10().floor());
    [1.0, 2.0, 5.0, 10.0].into_iter().map(|factor| factor * power).find(|step| *step >= at_least).unwrap_or(at_least)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::soundness::{assert_sound, assert_touchable};
    use crate::drawing::{HEAVY, Mark};

    fn strip(min: Option<f64>, max: Option<f64>, value: Option<f64>) -> LimitStrip {
        LimitStrip { min, max, value, expanded: 0.1, target: None, spread: None, mark: Mark::Good }
    }

    fn show(value: f64) -> String {
        format!("{value:.4}")
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

    #[test]
    fn a_scale_counts_in_steps_that_its_digits_can_tell() {
        let tenths = |value: f64| format!("{value:.1}");
        assert!((told_step(0.03, &tenths) - 0.1).abs() < 1e-12);
        assert!((told_step(0.3, &tenths) - 0.5).abs() < 1e-12);
        assert!((told_step(0.03, &show) - 0.05).abs() < 1e-12);
        assert!((told_step(3.0, &|_| "no number".to_owned()) - 5.0).abs() < 1e-12);
    }
}
