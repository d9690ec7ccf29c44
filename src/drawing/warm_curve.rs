//! A bearing's clearance over temperature: from the coldest start over 20 °C to hot oil.

use super::limit_strip::Show;
use super::{Anchor, Drawing, HAIRLINE, HEAVY, Role, Shape, at, rectangle};

const TYPE: f64 = 3.7;
const WIDTH: f64 = 120.0;
const HEIGHT: f64 = 62.0;
const LEFT: f64 = 22.0;
const RIGHT: f64 = 112.0;
const TOP: f64 = 6.0;
const BOTTOM: f64 = 48.0;

/// What the clearance is at each temperature of the housing, and within what it is wanted hot; in one unit.
#[derive(Clone, Debug, PartialEq)]
pub struct WarmCurve {
    /// "main 3".
    pub label: String,
    /// Temperature of the housing in words, and in °C, and the clearance; from cold to hot, two at least.
    pub points: Vec<(String, f64, f64)>,
    /// Least and most wanted when hot.
    pub band: (Option<f64>, Option<f64>),
}

/// The clearance as a line over the temperature of its housing; 120 × 62 mm.
#[must_use]
pub fn warm_curve(curve: &WarmCurve, show: Show) -> Drawing {
    let ends = |of: &dyn Fn(&(String, f64, f64)) -> f64| {
        let all = curve.points.iter().map(of);
        (all.clone().fold(f64::INFINITY, f64::min), all.fold(f64::NEG_INFINITY, f64::max))
    };
    let (coldest, hottest) = ends(&|point| point.1);
    let (least, most) = ends(&|point| point.2);
    let least = curve.band.0.map_or(least, |band| band.min(least)).min(0.0);
    let most = curve.band.1.map_or(most, |band| band.max(most));
    let span = |low: f64, high: f64| if high > low { high - low } else { 1.0 };
    let x = |celsius: f64| LEFT + (celsius - coldest) / span(coldest, hottest) * (RIGHT - LEFT);
    let y = |clearance: f64| BOTTOM - (clearance - least) / span(least, most) * (BOTTOM - TOP);

    let mut shapes = Vec::new();
    if let (Some(low), Some(high)) = curve.band {
        shapes.push(Shape::area(rectangle(RIGHT - 14.0, y(high), 14.0, y(low) - y(high)), Role::Band));
    }
    shapes.push(Shape::line(at(LEFT, y(0.0)), at(RIGHT, y(0.0)), Role::Faint, HAIRLINE));
    shapes.push(Shape::word(at(LEFT - 2.0, y(0.0) + 1.2), show(0.0), TYPE, Anchor::End, Role::Ink));
    let line = curve.points.iter().map(|(_, celsius, clearance)| at(x(*celsius), y(*clearance))).collect();
    shapes.push(Shape::path(line, Role::Dye, HEAVY));
    for (nth, (words, celsius, clearance)) in curve.points.iter().enumerate() {
        let (at_x, anchor) = match nth {
            0 => (x(*celsius), Anchor::Start),
            last if last + 1 == curve.points.len() => (x(*celsius), Anchor::End),
            _ => (x(*celsius), Anchor::Middle),
        };
        shapes.push(Shape::dot(at(x(*celsius), y(*clearance)), 1.0, Role::Dye));
        shapes.push(Shape::word(at(at_x, y(*clearance) - 2.6), show(*clearance), TYPE, anchor, Role::Ink));
        shapes.push(Shape::word(at(at_x, BOTTOM + 7.0), words.clone(), TYPE, anchor, Role::Ink));
    }
    let said = |(words, _, clearance): &(String, f64, f64)| format!("{} at {words}", show(*clearance));
    let description = format!("{}: {}.", curve.label, curve.points.iter().map(said).collect::<Vec<_>>().join(", "));
    let title = format!("Clearance over the housing’s temperature, {}", curve.label);
    Drawing { width_mm: WIDTH, height_mm: HEIGHT, title, description, shapes, touches: Vec::new() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn everything_stays_on_the_sheet_and_higher_is_wider() {
        let points = vec![
            ("−20 °C".to_owned(), -20.0, 34.0),
            ("20 °C".to_owned(), 20.0, 60.0),
            ("100 °C".to_owned(), 100.0, 104.0),
        ];
        let drawing =
            warm_curve(&WarmCurve { label: "main 1".into(), points, band: (Some(80.0), Some(110.0)) }, &|x| {
                format!("{x:.0}")
            });
        let mut line = Vec::new();
        for shape in &drawing.shapes {
            let points = match shape {
                Shape::Polyline { points, .. } => points.clone(),
                Shape::Circle { centre, .. } => vec![*centre],
                Shape::Text(text) => vec![text.at],
            };
            assert!(points.iter().all(|p| (0.0..=WIDTH).contains(&p.x) && (0.0..=HEIGHT).contains(&p.y)), "{shape:?}");
            if points.len() == 3 {
                line = points;
            }
        }
        assert!(line[0].y > line[1].y && line[1].y > line[2].y, "{line:?}");
        assert!(drawing.description.contains("104 at 100 °C"));
    }

    #[test]
    fn one_temperature_and_no_band_draw_without_dividing_by_nothing() {
        let points = vec![("20 °C".to_owned(), 20.0, 0.0), ("20 °C".to_owned(), 20.0, 0.0)];
        let drawing =
            warm_curve(&WarmCurve { label: "rod 1".into(), points, band: (None, None) }, &|x| format!("{x:.0}"));
        let finite = |shape: &Shape| match shape {
            Shape::Polyline { points, .. } => points.iter().all(|p| p.x.is_finite() && p.y.is_finite()),
            Shape::Circle { centre, .. } => centre.x.is_finite() && centre.y.is_finite(),
            Shape::Text(text) => text.at.x.is_finite() && text.at.y.is_finite(),
        };
        assert!(drawing.shapes.iter().all(finite));
    }
}
