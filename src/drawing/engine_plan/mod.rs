//! The engine from above, front to the left: cylinders and main bearings where they sit, numbered as the shop numbers them.
//!
//! The plan is the map of a sheet: each place carries its mark and can be touched. A missing place has a broken outline,
//! so that what is left to do is seen without reading.

mod places;
mod sheet;

use super::{Anchor, Drawing, Mark, Role, Shape, at};
use sheet::{FRONT, Sheet};

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

/// The plan as a drawing to be touched, about 170 mm wide for a long engine.
#[must_use]
pub fn engine_plan(plan: &EnginePlan) -> Drawing {
    drawn(plan, &Sheet::of(plan, sheet::LEAST_TOUCH + 0.5, 27.0))
}

/// The plan for paper: closer together, nothing to be touched; twelve cylinders in a vee take 95 mm.
#[must_use]
pub fn small_plan(plan: &EnginePlan) -> Drawing {
    let mut drawing = drawn(plan, &Sheet::of(plan, 10.5, 13.0));
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
            places::draw_cylinder(&mut drawing, place, at(x, row.y), sheet, asked);
        }
    }
    for (place, x) in plan.mains.iter().zip(&sheet.mains) {
        places::draw_main(&mut drawing, place, *x, sheet, plan.show != What::Cylinders);
    }
    if let Some(order) = &plan.firing_order {
        let text = format!("firing order {order}");
        drawing.shapes.push(Shape::word(at(FRONT, sheet.height - 1.6), text, 4.0, Anchor::Start, Role::Ink));
    }
    drawing
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
