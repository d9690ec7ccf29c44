//! How late a supplier delivers: a dot for each delivery over the days before and after the day promised.

use super::{Drawing, HAIRLINE, HEAVY, LINE, Role, Shape, at};

const TYPE: f64 = 3.7;
const WIDTH: f64 = 120.0;
const LEFT: f64 = 6.0;
const RIGHT: f64 = 114.0;
/// Above the dots stand the two marks, beneath them the days.
const TOP: f64 = 14.0;
const FIELD: f64 = 24.0;
const HEIGHT: f64 = TOP + FIELD + 10.0;
const DOT: f64 = 1.1;

/// Deliveries by their days after the day promised; below zero before it.
#[derive(Clone, Debug, PartialEq)]
pub struct Lateness {
    /// Whose.
    pub label: String,
    pub days: Vec<i64>,
    /// Within how many days half of them came, and 8 of 10.
    pub half: i64,
    pub most: i64,
    /// All of it in words.
    pub said: String,
}

/// A strip of dots, those of one day on top of each other; 120 × 48 mm.
#[must_use]
pub fn lateness(late: &Lateness) -> Drawing {
    let first = late.days.iter().copied().min().unwrap_or(0).min(0);
    let last = late.days.iter().copied().max().unwrap_or(0).max(first + 1);
    let x = |day: i64| LEFT + (day - first) as f64 / (last - first) as f64 * (RIGHT - LEFT);
    let base = TOP + FIELD;
    let on = |day: i64| late.days.iter().filter(|other| **other == day).count();
    let highest = late.days.iter().map(|day| on(*day)).max().unwrap_or(1);
    let rise = ((FIELD - 2.0 * DOT) / highest as f64).min(2.0 * DOT + 0.3);

    let mut shapes = vec![Shape::line(at(LEFT - 3.0, base), at(RIGHT + 3.0, base), Role::Faint, HAIRLINE)];
    shapes.push(Shape::line(at(x(0), TOP - 2.0), at(x(0), base + 2.0), Role::Ink, LINE));
    let mut seen = std::collections::BTreeMap::new();
    for day in &late.days {
        let below: &mut usize = seen.entry(*day).or_default();
        let role = if *day > 0 { Role::Ink } else { Role::Dye };
        shapes.push(Shape::dot(at(x(*day), base - DOT - 0.4 - *below as f64 * rise), DOT, role));
        *below += 1;
    }
    for (day, word, y) in [(late.half, "half", 4.0), (late.most, "8 of 10", 9.0)] {
        shapes.push(Shape::line(at(x(day), y + 0.8), at(x(day), base), Role::Faint, HEAVY / 2.0));
        shapes.push(Shape::centred_word(at(x(day), y), word.to_owned(), TYPE, WIDTH));
    }
    let mut marked: Vec<i64> = Vec::new();
    for day in [0, last, first, late.most] {
        if marked.iter().all(|other| (x(*other) - x(day)).abs() > 16.0) {
            marked.push(day);
            let word = if day == 0 { "as promised".to_owned() } else { format!("{day:+}").replace('-', "−") };
            shapes.push(Shape::centred_word(at(x(day), base + 7.0), word, TYPE, WIDTH));
        }
    }
    Drawing {
        width_mm: WIDTH,
        height_mm: HEIGHT,
        title: format!("Promised against received: {}", late.label),
        description: late.said.clone(),
        shapes,
        touches: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(days: &[i64]) -> Drawing {
        let late = Lateness { label: "Harrow Lane".into(), days: days.to_vec(), half: 0, most: 3, said: "said".into() };
        lateness(&late)
    }

    #[test]
    fn a_dot_for_each_delivery_within_the_sheet() {
        let many = [0; 60];
        for days in [&[][..], &[0], &[-3, 0, 0, 1, 40], &[5, 6], &many] {
            let drawing = drawn(days);
            let dots: Vec<_> = drawing
                .shapes
                .iter()
                .filter_map(|shape| match shape {
                    Shape::Circle { centre, .. } => Some(*centre),
                    _ => None,
                })
                .collect();
            assert_eq!(dots.len(), days.len());
            assert!(
                dots.iter().all(|p| (0.0..=WIDTH).contains(&p.x) && (TOP - DOT..TOP + FIELD).contains(&p.y)),
                "{dots:?}"
            );
        }
    }

    #[test]
    fn later_lies_further_right() {
        let drawing = drawn(&[-2, 9]);
        let dots: Vec<f64> = drawing
            .shapes
            .iter()
            .filter_map(|shape| if let Shape::Circle { centre, .. } = shape { Some(centre.x) } else { None })
            .collect();
        assert!(dots[0] < dots[1]);
        assert_eq!(drawing.description, "said");
    }
}
