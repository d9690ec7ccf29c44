//! One cylinder or one main on the plan: its outline, number, mark and touch area.

use super::sheet::{LANE, LEAST_TOUCH, Sheet};
use super::{PlanPlace, place_words};
use crate::drawing::mark::mark;
use crate::drawing::{
    Anchor, Drawing, HAIRLINE, LINE, Mark, Point, Role, Shape, Text, Touch, arc, at, rectangle, word_width,
};

pub fn draw_cylinder(drawing: &mut Drawing, place: &PlanPlace, centre: Point, sheet: &Sheet, asked: bool) {
    let radius = sheet.radius;
    let shown_mark = place.mark.filter(|_| asked);
    match shown_mark {
        Some(Mark::Missing) => {
            for quarter in [0.0, 90.0, 180.0, 270.0] {
                drawing.shapes.push(Shape::path(
                    arc(centre, radius, quarter + 12.0, quarter + 78.0),
                    Role::Ink,
                    HAIRLINE * 1.4,
                ));
            }
        }
        Some(mark) => drawing.shapes.push(Shape::ring(
            centre,
            radius,
            mark.role(),
            if mark == Mark::Out { 0.9 } else { LINE * 1.3 },
        )),
        None => drawing.shapes.push(Shape::ring(centre, radius, if asked { Role::Ink } else { Role::Faint }, LINE)),
    }
    let with_mark = shown_mark.is_some_and(|mark| mark != Mark::Missing);
    let label_size = radius * if with_mark { 0.68 } else { 0.85 };
    let baseline = if with_mark { centre.y - radius * 0.08 } else { centre.y + label_size * 0.36 };
    drawing.shapes.push(Shape::Text(label(&place.label, at(centre.x, baseline), label_size, radius * 1.7, asked)));
    if let Some(kind) = shown_mark.filter(|_| with_mark) {
        drawing.shapes.extend(mark(kind, centre.x, centre.y + radius * 0.48, radius * 0.66));
    }
    if asked {
        let side = (sheet.pitch - 0.5).min(2.0 * radius + 2.5).max(LEAST_TOUCH);
        touch(drawing, place, "cylinder", [centre.x - side / 2.0, centre.y - side / 2.0, side, side]);
    }
}

pub fn draw_main(drawing: &mut Drawing, place: &PlanPlace, x: f64, sheet: &Sheet, asked: bool) {
    let single = sheet.rows.len() < 2;
    let role = if asked { Role::Ink } else { Role::Faint };
    let bar = rectangle(x - 0.9, sheet.crank - sheet.bar / 2.0, 1.8, sheet.bar);
    if !single && asked {
        // The number and the mark stand on the bearing itself.
        drawing.shapes.push(Shape::area(rectangle(x - 4.5, sheet.lane + 0.5, 9.0, LANE - 1.0), Role::Paper));
    }
    let shown_mark = place.mark.filter(|_| asked);
    if single || !asked {
        let fill = if asked { Role::Ink } else { Role::Paper };
        drawing.shapes.push(Shape::Polyline {
            points: bar,
            closed: true,
            stroke: Some(role),
            fill: Some(fill),
            width_mm: HAIRLINE,
        });
    }
    if !asked {
        return;
    }
    let (left, top, width, height) = (x - 4.5, sheet.lane + 0.5, 9.0, LANE - 1.0);
    if single {
        drawing.shapes.push(Shape::line(at(x, sheet.crank + sheet.bar / 2.0), at(x, top), Role::Faint, HAIRLINE));
    }
    let (right, bottom) = (left + width, top + height);
    match shown_mark {
        Some(Mark::Missing) => {
            // Open at the middle of each side, as a missing cylinder's circle is.
            let (arm_x, arm_y) = (width * 0.36, height * 0.38);
            for (corner, along, down) in [
                (at(left, top), arm_x, arm_y),
                (at(right, top), -arm_x, arm_y),
                (at(right, bottom), -arm_x, -arm_y),
                (at(left, bottom), arm_x, -arm_y),
            ] {
                let path = vec![at(corner.x + along, corner.y), corner, at(corner.x, corner.y + down)];
                drawing.shapes.push(Shape::path(path, Role::Ink, HAIRLINE * 1.4));
            }
        }
        Some(mark) => {
            let line = if mark == Mark::Out { 0.9 } else { LINE * 1.3 };
            drawing.shapes.push(Shape::outline(rectangle(left, top, width, height), mark.role(), line));
        }
        None => drawing.shapes.push(Shape::outline(rectangle(left, top, width, height), Role::Ink, LINE)),
    }
    let with_mark = shown_mark.is_some_and(|mark| mark != Mark::Missing);
    let size = 5.2;
    let baseline = top + if with_mark { 5.8 } else { height / 2.0 + size * 0.36 };
    drawing.shapes.push(Shape::Text(label(&place.label, at(x, baseline), size, width - 1.0, true)));
    if let Some(kind) = shown_mark.filter(|_| with_mark) {
        drawing.shapes.extend(mark(kind, x, top + 10.0, 5.6));
    }
    touch(drawing, place, "main", [x - LEAST_TOUCH / 2.0, sheet.lane, LEAST_TOUCH, LANE]);
}

/// A number that fits the room it has: the type shrinks for long ones.
fn label(text: &str, at: Point, size_mm: f64, room: f64, bold: bool) -> Text {
    let width = word_width(text, size_mm);
    let size_mm = if width > room { size_mm * room / width } else { size_mm };
    Text { at, text: text.to_owned(), size_mm, anchor: Anchor::Middle, role: Role::Ink, bold }
}

fn touch(drawing: &mut Drawing, place: &PlanPlace, what: &str, [x, y, w, h]: [f64; 4]) {
    if let Some(key) = &place.key {
        drawing.touches.push(Touch { key: key.clone(), label: place_words(place, what), x, y, w, h });
    }
}
