//! The measures of a plan: where banks, crank and mains lie on the sheet, and the outlines that give orientation.

use super::{EnginePlan, PlanLayout, What};
use crate::drawing::{Anchor, HAIRLINE, LINE, Role, Shape, at, rectangle, word_width};

/// Room left of the engine, for the arrow to the front, mm.
pub const FRONT: f64 = 19.0;
/// Room right of the engine, for the flywheel, mm.
pub const REAR: f64 = 7.0;
/// The least side of a touch area, mm: 64 px of a page.
pub const LEAST_TOUCH: f64 = 17.0;
/// Height of the lane in which the mains' numbers and marks stand, mm.
pub const LANE: f64 = 17.0;

/// How far the first and the last main lie within the engine's ends, mm.
pub const INSET: f64 = 1.5;

/// Where a bank lies.
pub struct Row {
    pub y: f64,
    /// The centre of its first cylinder.
    pub first: f64,
    pub count: usize,
}

impl Row {
    pub fn places(&self, pitch: f64) -> impl Iterator<Item = f64> {
        let first = self.first;
        (0..self.count).map(move |index| first + pitch * count(index))
    }
}

/// The measures of one plan, mm.
pub struct Sheet {
    pub width: f64,
    pub height: f64,
    pub pitch: f64,
    pub radius: f64,
    pub rows: Vec<Row>,
    /// The crank's axis.
    pub crank: f64,
    /// Top of the lane in which the mains' numbers stand.
    pub lane: f64,
    pub mains: Vec<f64>,
    /// Height of the bar that stands for a main.
    pub bar: f64,
    pub engine_from: f64,
    pub engine_to: f64,
}

impl Sheet {
    pub fn of(plan: &EnginePlan, least_pitch: f64, greatest_pitch: f64) -> Self {
        let longest = count(plan.banks.iter().map(Vec::len).max().unwrap_or(0).max(1));
        let spans = count(plan.mains.len().saturating_sub(1)).max(1.0);
        let stagger = if plan.banks.len() > 1 { plan.stagger.clamp(-0.5, 0.5) } else { 0.0 };
        let room = 170.0 - FRONT - REAR;
        // Asked mains need a finger's room each, too.
        let for_mains =
            if plan.show == What::Cylinders { 0.0 } else { ((least_pitch - 0.5) * spans + 2.0 * INSET) / longest };
        let pitch = (room / (longest + stagger.abs())).clamp(least_pitch, greatest_pitch).max(for_mains);
        let radius = (pitch * 0.42).min(9.5);

        let engine_from = FRONT;
        let engine_to = FRONT + pitch * (longest + stagger.abs());
        // The bank that lies ahead starts at the front, the other one the stagger behind it.
        let set_back = |bank: usize| pitch * if bank == 0 { stagger.max(0.0) } else { (-stagger).max(0.0) };
        let numbered_mains = !plan.mains.is_empty() && plan.show != What::Cylinders;
        let inner = if plan.layout == PlanLayout::Opposed { 5.0 } else { 0.0 };
        let top = 2.0 + radius;
        let mut rows = Vec::new();
        let (crank, lane, bar, bottom);
        if plan.banks.len() < 2 {
            rows.push(Row { y: top, first: FRONT + pitch / 2.0, count: plan.banks.first().map_or(0, Vec::len) });
            crank = top;
            bar = radius * 1.1;
            lane = top + radius + 2.0;
            bottom = lane + if numbered_mains { LANE } else { 0.0 };
        } else {
            let between = if numbered_mains { LANE + 3.0 } else { 7.0 } + 2.0 * inner;
            crank = top + radius + between / 2.0;
            lane = crank - LANE / 2.0;
            bar = between - 2.6;
            for (index, bank) in plan.banks.iter().enumerate() {
                let y = if index == 0 { crank + between / 2.0 + radius } else { top };
                rows.push(Row { y, first: FRONT + set_back(index) + pitch / 2.0, count: bank.len() });
            }
            bottom = crank + between / 2.0 + 2.0 * radius + 2.0;
        }
        let foot = if plan.firing_order.is_some() { 8.0 } else { 0.0 };
        let order_width =
            plan.firing_order.as_ref().map_or(0.0, |order| word_width(order, 4.0) + word_width("firing order ", 4.0));
        Self {
            width: (engine_to + REAR).max(FRONT + order_width + 2.0),
            height: bottom + foot,
            pitch,
            radius,
            mains: main_places(plan.mains.len(), longest, engine_from, engine_to),
            rows,
            bar,
            crank,
            lane,
            engine_from,
            engine_to,
        }
    }

    /// What only gives orientation: the axis of the crank, pulley and flywheel, banks, and the arrow to the front.
    pub fn outlines(&self, plan: &EnginePlan) -> Vec<Shape> {
        let (from, to, axis) = (self.engine_from, self.engine_to, self.crank);
        let mut shapes = Vec::new();
        // One bank is drawn on its own crank, whose line runs beneath the cylinders.
        shapes.push(Shape::line(at(from - 3.5, axis), at(to + 3.0, axis), Role::Faint, HAIRLINE));
        shapes.push(Shape::outline(rectangle(from - 3.5, axis - 3.5, 1.8, 7.0), Role::Faint, HAIRLINE));
        shapes.push(Shape::outline(rectangle(to + 2.4, axis - 6.5, 2.0, 13.0), Role::Faint, HAIRLINE));
        for row in &self.rows {
            let margin = self.radius + 1.4;
            let ahead = row.first - self.pitch / 2.0;
            let length = self.pitch * count(row.count);
            if length > 0.0 {
                shapes.push(Shape::outline(
                    rectangle(ahead, row.y - margin, length, 2.0 * margin),
                    Role::Faint,
                    HAIRLINE,
                ));
            }
            if plan.layout == PlanLayout::Opposed {
                // Barrels lie flat: their sides run from the crank to the head.
                let inward = if row.y > axis { -1.0 } else { 1.0 };
                for x in row.places(self.pitch) {
                    for side in [-1.0, 1.0] {
                        let x = x + side * self.radius * 0.72;
                        let rim = row.y + inward * margin;
                        shapes.push(Shape::line(at(x, rim), at(x, rim + inward * 3.4), Role::Faint, HAIRLINE));
                    }
                }
            }
        }
        let tip = 2.0;
        shapes.push(Shape::line(at(tip, axis), at(tip + 9.5, axis), Role::Ink, LINE));
        shapes.push(Shape::area(
            vec![at(tip - 1.0, axis), at(tip + 2.6, axis - 1.4), at(tip + 2.6, axis + 1.4)],
            Role::Ink,
        ));
        shapes.push(Shape::word(at(1.0, axis - 3.0), "front", 4.0, Anchor::Start, Role::Ink));
        shapes
    }
}

/// Mains lie evenly from the first cylinder's front to the last one's back; where they are no more than one between any two
/// cylinders, each lies in the gap nearest to its even place.
fn main_places(mains: usize, longest: f64, from: f64, to: f64) -> Vec<f64> {
    let length = to - from - 2.0 * INSET;
    if mains == 1 {
        return vec![to - INSET];
    }
    let spans = count(mains.saturating_sub(1)).max(1.0);
    (0..mains)
        .map(|index| {
            let part = count(index) / spans;
            let part = if spans <= longest { (part * longest).round() / longest } else { part };
            from + INSET + part * length
        })
        .collect()
}

fn count(number: usize) -> f64 {
    number as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn mains_lie_in_the_gaps_between_cylinders() {
        // Four cylinders on three mains: front, between two and three, back.
        let places = main_places(3, 4.0, 0.0, 100.0);
        assert_eq!(places, vec![1.5, 50.0, 98.5]);
        let every_gap = main_places(7, 6.0, 0.0, 123.0);
        assert!((every_gap[1] - every_gap[0] - 20.0).abs() < 1e-9);
    }
}
