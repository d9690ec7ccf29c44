//! The engine from above, front to the left: cylinders and main bearings where they sit, numbered as the shop numbers them.
//!
//! The plan is the map of a sheet: each place carries its mark and can be touched. A missing place has a broken outline,
//! so that what is left to do is seen without reading.

use super::{
    Anchor, Drawing, HAIRLINE, LINE, Mark, Point, Role, Shape, Text, Touch, arc, at, mark, rectangle, word_width,
};

/// How the cylinders lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PlanLayout {
    Inline,
    Vee,
    Opposed,
}

/// Which places are asked for; the others are drawn as outlines for orientation, without marks or touch areas.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum What {
    Cylinders,
    Mains,
    Both,
}

/// One cylinder or one main bearing.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanPlace {
    /// As the shop numbers it: "1", "R3".
    pub label: String,
    /// How it stands, or none where the plan only shows the numbering.
    pub mark: Option<Mark>,
    /// What touching it leads to, or none.
    pub key: Option<String>,
}

/// What the plan is drawn from.
#[derive(Clone, Debug, PartialEq)]
pub struct EnginePlan {
    pub layout: PlanLayout,
    /// Each bank from front to back. The first is drawn below (the left-hand bank for someone at the back looking
    /// forward), the second above. One bank for an inline engine.
    pub banks: Vec<Vec<PlanPlace>>,
    /// From front to back.
    pub mains: Vec<PlanPlace>,
    pub show: What,
    /// How far the second bank lies ahead of the first, in cylinder pitches: -0.5 to 0.5, negative if it lies behind.
    pub stagger: f64,
    /// As it is read out: "1-8-4-3-6-5-7-2".
    pub firing_order: Option<String>,
}

/// Room left of the engine, for the arrow to the front, mm.
const FRONT: f64 = 19.0;
/// Room right of the engine, for the flywheel, mm.
const REAR: f64 = 7.0;
/// The least side of a touch area, mm.
const LEAST_TOUCH: f64 = 12.5;
/// Height of the lane in which the mains' numbers and marks stand, mm.
const LANE: f64 = 15.0;

/// How far the first and the last main lie within the engine's ends, mm.
const INSET: f64 = 1.5;

/// The plan as a drawing to be touched, about 170 mm wide for a long engine.
#[must_use]
pub fn engine_plan(plan: &EnginePlan) -> Drawing {
    drawn(plan, &Sheet::of(plan, LEAST_TOUCH + 1.0, 27.0))
}

/// The plan for paper: closer together, nothing to be touched; twelve cylinders in a vee take 95 mm.
#[must_use]
pub fn small_plan(plan: &EnginePlan) -> Drawing {
    let mut drawing = drawn(plan, &Sheet::of(plan, 10.5, 11.5));
    drawing.touches.clear();
    drawing
}

fn drawn(plan: &EnginePlan, sheet: &Sheet) -> Drawing {
    let mut drawing = Drawing {
        width_mm: sheet.width,
        height_mm: sheet.height,
        title: "Plan of the engine, front to the left".to_owned(),
        description: describe(plan),
        shapes: sheet.outlines(plan),
        touches: Vec::new(),
    };
    for (bank, row) in plan.banks.iter().zip(&sheet.rows) {
        for (place, x) in bank.iter().zip(row.places(sheet.pitch)) {
            let asked = plan.show != What::Mains;
            draw_cylinder(&mut drawing, place, at(x, row.y), sheet, asked);
        }
    }
    for (place, x) in plan.mains.iter().zip(&sheet.mains) {
        draw_main(&mut drawing, place, *x, sheet, plan.show != What::Cylinders);
    }
    if let Some(order) = &plan.firing_order {
        let text = format!("firing order {order}");
        drawing.shapes.push(Shape::word(at(FRONT, sheet.height - 1.6), text, 4.0, Anchor::Start, Role::Ink));
    }
    drawing
}

/// Where a bank lies.
struct Row {
    y: f64,
    /// The centre of its first cylinder.
    first: f64,
    count: usize,
}

impl Row {
    fn places(&self, pitch: f64) -> impl Iterator<Item = f64> {
        let first = self.first;
        (0..self.count).map(move |index| first + pitch * count(index))
    }
}

/// The measures of one plan, mm.
struct Sheet {
    width: f64,
    height: f64,
    pitch: f64,
    radius: f64,
    rows: Vec<Row>,
    /// The crank's axis.
    crank: f64,
    /// Top of the lane in which the mains' numbers stand.
    lane: f64,
    mains: Vec<f64>,
    engine_from: f64,
    engine_to: f64,
}

impl Sheet {
    fn of(plan: &EnginePlan, least_pitch: f64, greatest_pitch: f64) -> Self {
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
        let (crank, lane, bottom);
        if plan.banks.len() < 2 {
            rows.push(Row { y: top, first: FRONT + pitch / 2.0, count: plan.banks.first().map_or(0, Vec::len) });
            crank = top;
            lane = top + radius + 2.0;
            bottom = lane + if numbered_mains { LANE } else { 0.0 };
        } else {
            let between = if numbered_mains { LANE + 3.0 } else { 7.0 } + 2.0 * inner;
            crank = top + radius + between / 2.0;
            lane = crank - LANE / 2.0;
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
            crank,
            lane,
            engine_from,
            engine_to,
        }
    }

    /// What only gives orientation: the axis of the crank, pulley and flywheel, banks, and the arrow to the front.
    fn outlines(&self, plan: &EnginePlan) -> Vec<Shape> {
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

fn draw_cylinder(drawing: &mut Drawing, place: &PlanPlace, centre: Point, sheet: &Sheet, asked: bool) {
    let radius = sheet.radius;
    let shown_mark = place.mark.filter(|_| asked);
    let label_size = if asked { radius * 0.68 } else { radius * 0.6 };
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
    let baseline = if with_mark { centre.y - radius * 0.08 } else { centre.y + label_size * 0.36 };
    drawing.shapes.push(Shape::Text(label(&place.label, at(centre.x, baseline), label_size, radius * 1.7, asked)));
    if let Some(kind) = shown_mark.filter(|_| with_mark) {
        drawing.shapes.extend(mark::mark(kind, centre.x, centre.y + radius * 0.48, radius * 0.66));
    }
    if asked {
        let side = (sheet.pitch - 0.5).min(2.0 * radius + 2.5).max(LEAST_TOUCH);
        touch(drawing, place, "cylinder", [centre.x - side / 2.0, centre.y - side / 2.0, side, side]);
    }
}

fn draw_main(drawing: &mut Drawing, place: &PlanPlace, x: f64, sheet: &Sheet, asked: bool) {
    let single = sheet.rows.len() < 2;
    let role = if asked { Role::Ink } else { Role::Faint };
    let bar_height = if single { sheet.radius * 1.1 } else { LANE - 1.0 };
    let bar = rectangle(x - 0.9, sheet.crank - bar_height / 2.0, 1.8, bar_height);
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
        drawing.shapes.push(Shape::line(at(x, sheet.crank + bar_height / 2.0), at(x, top), Role::Faint, HAIRLINE));
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
        drawing.shapes.extend(mark::mark(kind, x, top + 10.0, 5.6));
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

fn place_words(place: &PlanPlace, what: &str) -> String {
    match place.mark {
        Some(mark) => format!("{what} {}, {}", place.label, mark.word()),
        None => format!("{what} {}", place.label),
    }
}

fn describe(plan: &EnginePlan) -> String {
    let mut words = Vec::new();
    let names = ["bank below", "bank above"];
    for (index, bank) in plan.banks.iter().enumerate() {
        let numbers: Vec<&str> = bank.iter().map(|place| place.label.as_str()).collect();
        let which = if plan.banks.len() > 1 { names.get(index).copied().unwrap_or("bank") } else { "cylinders" };
        words.push(format!("{which}, from the front: {}", numbers.join(", ")));
    }
    let marked = |places: &[PlanPlace], what: &str| -> Vec<String> {
        places.iter().filter(|place| place.mark.is_some()).map(|place| place_words(place, what)).collect()
    };
    if plan.show != What::Mains {
        words.extend(plan.banks.iter().flat_map(|bank| marked(bank, "cylinder")));
    }
    if plan.show != What::Cylinders {
        words.extend(marked(&plan.mains, "main"));
    }
    words.extend(plan.firing_order.as_ref().map(|order| format!("firing order {order}")));
    words.join("; ")
}

#[expect(clippy::cast_precision_loss, reason = "an engine has few cylinders")]
fn count(number: usize) -> f64 {
    number as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::soundness::{assert_sound, assert_touchable};

    const MARKS: [Option<Mark>; 8] = [
        Some(Mark::Good),
        Some(Mark::Out),
        Some(Mark::OnTheLine),
        Some(Mark::Missing),
        Some(Mark::Checked),
        Some(Mark::Undecided),
        Some(Mark::Taken),
        None,
    ];

    fn plan(layout: PlanLayout, banks: usize, cylinders: usize, mains: usize, show: What, stagger: f64) -> EnginePlan {
        let place =
            |label: String, nth: usize| PlanPlace { key: Some(label.clone()), label, mark: MARKS[nth % MARKS.len()] };
        let in_bank = |bank: usize| {
            (0..cylinders).skip(bank).step_by(banks).map(|nth| place((nth + 1).to_string(), nth)).collect()
        };
        EnginePlan {
            layout,
            banks: (0..banks).map(in_bank).collect(),
            mains: (0..mains).map(|nth| place(format!("M{}", nth + 1), nth)).collect(),
            show,
            stagger,
            firing_order: Some("1-8-4-3-6-5-7-2".to_owned()),
        }
    }

    #[test]
    fn every_engine_from_one_to_sixteen_cylinders_is_sound_and_touchable() {
        for (layout, banks) in [(PlanLayout::Inline, 1), (PlanLayout::Vee, 2), (PlanLayout::Opposed, 2)] {
            for cylinders in 1..=16_usize {
                let per_bank = cylinders.div_ceil(banks);
                for mains in [0, 1, 2, per_bank / 2 + 1, per_bank + 1, cylinders + 1] {
                    for show in [What::Cylinders, What::Mains, What::Both] {
                        for stagger in [-0.5, 0.0, 0.2] {
                            let drawing = engine_plan(&plan(layout, banks, cylinders, mains, show, stagger));
                            assert_sound(&drawing);
                            assert_touchable(&drawing);
                            let expected = match show {
                                What::Cylinders => cylinders,
                                What::Mains => mains,
                                What::Both => cylinders + mains,
                            };
                            assert_eq!(drawing.touches.len(), expected, "{layout:?} {cylinders} {mains} {show:?}");
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn a_long_vee_engine_fits_a_page() {
        let drawing = engine_plan(&plan(PlanLayout::Vee, 2, 16, 9, What::Both, 0.2));
        assert!(drawing.width_mm <= 171.0, "{}", drawing.width_mm);
    }

    #[test]
    fn cylinders_run_from_the_front_on_the_left_and_the_bank_ahead_starts_first() {
        let drawing = engine_plan(&plan(PlanLayout::Vee, 2, 8, 0, What::Cylinders, 0.2));
        let x = |key: &str| drawing.touches.iter().find(|touch| touch.key == key).map(|touch| touch.x).unwrap();
        assert!(x("1") < x("3") && x("3") < x("5") && x("2") < x("1"));
        let behind = engine_plan(&plan(PlanLayout::Vee, 2, 8, 0, What::Cylinders, -0.2));
        assert!(behind.touches.iter().find(|touch| touch.key == "2").unwrap().x > behind.touches[0].x);
    }

    #[test]
    fn mains_lie_in_the_gaps_between_cylinders() {
        // Four cylinders on three mains: front, between two and three, back.
        let places = main_places(3, 4.0, 0.0, 100.0);
        assert_eq!(places, vec![1.5, 50.0, 98.5]);
        let every_gap = main_places(7, 6.0, 0.0, 123.0);
        assert!((every_gap[1] - every_gap[0] - 20.0).abs() < 1e-9);
    }

    #[test]
    fn hostile_and_long_labels_stay_on_the_sheet() {
        let mut wild = plan(PlanLayout::Inline, 1, 4, 5, What::Both, f64::NAN);
        wild.banks[0][0].label = "<svg onload=alert(1)>".repeat(5);
        wild.mains[4].label = "the very last main of all".to_owned();
        assert_sound(&engine_plan(&wild));
        wild.banks.clear();
        assert_sound(&engine_plan(&wild));
    }

    #[test]
    fn the_words_name_places_and_how_they_stand() {
        let drawing = engine_plan(&plan(PlanLayout::Inline, 1, 2, 0, What::Cylinders, 0.0));
        assert_eq!(drawing.touches[1].label, "cylinder 2, out");
        assert!(drawing.description.starts_with("cylinders, from the front: 1, 2; cylinder 1, good; cylinder 2, out"));
    }
}
