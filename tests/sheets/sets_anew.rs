//! Sets drawn anew, from other distributions than those of `sets.rs`, written down before anything was tried on them.
//!
//! What the thresholds of misreads were chosen on must not be what they are measured on. These sets differ in what is read, in the
//! engines, in how parts differ and in how finely they are told. In thou; common practice, no source. "t5" is Student's t of five
//! degrees of freedom brought to the standard deviation given: real parts have more far ones than a normal distribution.
//!
//! | set | about its nominal | place to place | shape within a place |
//! |---|---|---|---|
//! | journals ground with a wedge: a grinder's table not square tapers the whole crank | 0.15 | t5 0.10, and a trend of up to 0.3 either way front to rear | t5 0.08 |
//! | line-honed housings: the hone cuts caps and saddles unequally | within 0.3 either way | t5 0.12 | near the parting line up to 0.4 more |
//! | bores honed with a plate, told to a tenth or to half a thou | 0.20 | t5 0.12 | the middle up to 0.3 more; each reading t5 0.08 |
//! | bores as they came, one in five sleeved | 0.30 | 0.15 | worn at the top by a median of 3, log-normal of 0.6; 0.4 of it in the middle, 0.1 at the bottom; 0.6 to 0.9 of it pin way; sleeved ones not |
//! | journals as they came, one in four scored | 0.20 | 0.20 | 0.15; scored ones worn by 0.5 to 2 all round |
//! | skirts of two grades 0.4 apart, mixed | 0.20 | t5 0.12 | |
//! | strips, told to half a thou | a mean of 1.5 to 3 | 0.25 | |
//! | shell walls, the lower of another grade in every other engine: 0.5 thicker | 0.05 | 0.05 | |
//! | clearances with a trend: a wedge in crank or line | a mean of 1.8 to 3.2 | t5 0.15, a trend of up to 0.5 | near the parting line 0.2 to 0.8 more |
//! | bores with shells in, as deviations from a setting 1 to 4 below | 0.20 | t5 0.15 | near the parting line 0.3 to 0.9 more |
//!
//! Every reading scatters by 0.05 besides, a strip by 0.2. Engines are vees of 6, 8 and 12, an opposed six and an inline three;
//! half are metric; two of three have their targets entered.

use crate::bench::THOU;
use crate::deviates::Deviates;
use crate::sets::{Set, Told};
use std::collections::BTreeMap;
use witnessmark::engine::{
    Architecture, Height, Layout, Materials, Place, Setup, SheetKey, Shell, SlotFeature, SlotKey, Spot, TargetFeature,
    TargetKey, Way, WorkingUnit,
};
use witnessmark::quantity::Unit;
use witnessmark::sheets::{Slot, sheet};

/// One row of the table above: what it reads and how.
struct Row {
    name: &'static str,
    sheet: SheetKey,
    as_came: bool,
    takes: fn(&SlotFeature) -> bool,
    target: TargetFeature,
    /// Between which nominals, in thou.
    nominal: (f64, f64),
    told: fn(WorkingUnit, &mut Deviates) -> Told,
    /// How far the gauge is set below the nominal, in thou, where the set is typed as deviations.
    set_below: Option<(f64, f64)>,
    /// Sizes about the nominal, in thou.
    draw: fn(&[Slot], &mut Deviates) -> Vec<f64>,
}

fn sizes(unit: WorkingUnit, _: &mut Deviates) -> Told {
    Told::sizes(unit)
}

fn small(unit: WorkingUnit, _: &mut Deviates) -> Told {
    Told::small(unit)
}

/// To a tenth or to half a thou; to a micrometre or to a hundredth of a millimetre.
fn fine_or_coarse(unit: WorkingUnit, chance: &mut Deviates) -> Told {
    let coarse = if unit == WorkingUnit::Inch { 5.0 } else { 10.0 };
    Told { step: chance.one_of(&[1.0, coarse]), ..Told::sizes(unit) }
}

fn strip(unit: WorkingUnit, _: &mut Deviates) -> Told {
    Told { step: if unit == WorkingUnit::Inch { 5.0 } else { 10.0 }, ..Told::small(unit) }
}

const CYLINDER: (f64, f64) = (3000.0, 4700.0);
const MAIN: (f64, f64) = (1900.0, 3300.0);

const ROWS: [Row; 10] = [
    Row {
        name: "wedged journals",
        sheet: SheetKey::Crankshaft,
        as_came: false,
        takes: |feature| matches!(feature, SlotFeature::MainJournal(..)),
        target: TargetFeature::MainJournal,
        nominal: MAIN,
        told: sizes,
        set_below: None,
        draw: |slots, chance| {
            let (set, trend) = (0.15 * chance.normal(), chance.between(-0.3, 0.3));
            let of = places(slots, |at, chance| trend * at + 0.10 * t5(chance), chance);
            each(slots, chance, |slot, chance| set + of[&slot.key.place] + 0.08 * t5(chance))
        },
    },
    Row {
        name: "line-honed housings",
        sheet: SheetKey::MainBearings,
        as_came: false,
        takes: |feature| matches!(feature, SlotFeature::MainHousing(_)),
        target: TargetFeature::MainHousing,
        nominal: MAIN,
        told: sizes,
        set_below: None,
        draw: |slots, chance| {
            let (set, parting) = (chance.between(-0.3, 0.3), chance.between(0.0, 0.4));
            let of = places(slots, |_, chance| 0.12 * t5(chance), chance);
            each(slots, chance, |slot, _| set + of[&slot.key.place] + at_parting(&slot.key, parting))
        },
    },
    Row {
        name: "bores honed with a plate",
        sheet: SheetKey::CylinderBores,
        as_came: false,
        takes: |feature| matches!(feature, SlotFeature::Bore(..)),
        target: TargetFeature::Bore,
        nominal: CYLINDER,
        told: fine_or_coarse,
        set_below: None,
        draw: |slots, chance| {
            let (set, barrel) = (0.20 * chance.normal(), chance.between(0.0, 0.3));
            let of = places(slots, |_, chance| 0.12 * t5(chance), chance);
            each(slots, chance, |slot, chance| {
                let middle = matches!(slot.key.feature, SlotFeature::Bore(Height::Middle, _));
                set + of[&slot.key.place] + if middle { barrel } else { 0.0 } + 0.08 * t5(chance)
            })
        },
    },
    Row {
        name: "bores as they came, some sleeved",
        sheet: SheetKey::CylinderBores,
        as_came: true,
        takes: |feature| matches!(feature, SlotFeature::Bore(..)),
        target: TargetFeature::Bore,
        nominal: CYLINDER,
        told: sizes,
        set_below: None,
        draw: |slots, chance| {
            let (set, pin) = (0.30 * chance.normal(), chance.between(0.6, 0.9));
            let own = places(slots, |_, chance| 0.15 * chance.normal(), chance);
            let worn = |_: f64, chance: &mut Deviates| {
                let sleeved = chance.uniform() < 0.2;
                let worn = 3.0 * (0.6 * chance.normal()).exp();
                if sleeved { 0.0 } else { worn }
            };
            let worn = places(slots, worn, chance);
            each(slots, chance, |slot, _| {
                let SlotFeature::Bore(height, way) = slot.key.feature else { return 0.0 };
                let deep = match height {
                    Height::Top => 1.0,
                    Height::Middle => 0.4,
                    Height::Bottom => 0.1,
                };
                let across = if way == Way::Pin { pin } else { 1.0 };
                set + own[&slot.key.place] + worn[&slot.key.place] * deep * across
            })
        },
    },
    Row {
        name: "journals as they came, some scored",
        sheet: SheetKey::Crankshaft,
        as_came: true,
        takes: |feature| matches!(feature, SlotFeature::MainJournal(..)),
        target: TargetFeature::MainJournal,
        nominal: MAIN,
        told: sizes,
        set_below: None,
        draw: |slots, chance| {
            let set = 0.20 * chance.normal();
            let scored = |_: f64, chance: &mut Deviates| {
                let (scored, by) = (chance.uniform() < 0.25, chance.between(0.5, 2.0));
                0.20 * chance.normal() - if scored { by } else { 0.0 }
            };
            let of = places(slots, scored, chance);
            each(slots, chance, |slot, chance| set + of[&slot.key.place] + 0.15 * chance.normal())
        },
    },
    Row {
        name: "skirts of two grades",
        sheet: SheetKey::Pistons,
        as_came: false,
        takes: |feature| matches!(feature, SlotFeature::Skirt),
        target: TargetFeature::Skirt,
        nominal: CYLINDER,
        told: sizes,
        set_below: None,
        draw: |slots, chance| {
            let set = 0.20 * chance.normal();
            each(slots, chance, |_, chance| set + chance.one_of(&[0.0, 0.4]) + 0.12 * t5(chance))
        },
    },
    Row {
        name: "strips",
        sheet: SheetKey::MainBearings,
        as_came: false,
        takes: |feature| matches!(feature, SlotFeature::MainPlasticStrip),
        target: TargetFeature::MainClearance,
        nominal: (1.5, 3.0),
        told: strip,
        set_below: None,
        draw: |slots, chance| each(slots, chance, |_, chance| 0.25 * chance.normal() + 0.2 * chance.normal()),
    },
    Row {
        name: "shell walls of two grades",
        sheet: SheetKey::MainBearings,
        as_came: false,
        takes: |feature| matches!(feature, SlotFeature::MainShellWall(_)),
        target: TargetFeature::MainShellWall,
        nominal: (60.0, 120.0),
        told: sizes,
        set_below: None,
        draw: |slots, chance| {
            let (set, lower) = (0.05 * chance.normal(), chance.one_of(&[0.0, 0.5]));
            each(slots, chance, |slot, chance| {
                let is_lower = matches!(slot.key.feature, SlotFeature::MainShellWall(Shell::Lower));
                set + if is_lower { lower } else { 0.0 } + 0.05 * chance.normal()
            })
        },
    },
    Row {
        name: "clearances with a trend",
        sheet: SheetKey::MainBearings,
        as_came: false,
        takes: |feature| matches!(feature, SlotFeature::MainClearanceDirect(_)),
        target: TargetFeature::MainClearance,
        nominal: (1.8, 3.2),
        told: small,
        set_below: None,
        draw: |slots, chance| {
            let (trend, parting) = (chance.between(-0.5, 0.5), chance.between(0.2, 0.8));
            let of = places(slots, |at, chance| trend * at + 0.15 * t5(chance), chance);
            each(slots, chance, |slot, _| of[&slot.key.place] + at_parting(&slot.key, parting))
        },
    },
    Row {
        name: "bores with shells in",
        sheet: SheetKey::MainBearings,
        as_came: false,
        takes: |feature| matches!(feature, SlotFeature::MainShellBore(_)),
        target: TargetFeature::MainJournal,
        nominal: MAIN,
        told: small,
        set_below: Some((1.0, 4.0)),
        draw: |slots, chance| {
            let (set, parting) = (2.5 + 0.20 * chance.normal(), chance.between(0.3, 0.9));
            let of = places(slots, |_, chance| 0.15 * t5(chance), chance);
            each(slots, chance, |slot, _| set + of[&slot.key.place] + at_parting(&slot.key, parting))
        },
    },
];

/// How many kinds of set there are.
pub const KINDS: usize = ROWS.len();

/// A set of the kind of that number, in the order of the table.
pub fn draw(kind: usize, chance: &mut Deviates) -> Set {
    let row = &ROWS[kind];
    let (layout, cylinders, mains) = chance.one_of(&[
        (Layout::Vee, 8, 5),
        (Layout::Vee, 6, 4),
        (Layout::Vee, 12, 7),
        (Layout::Opposed, 6, 7),
        (Layout::Inline, 3, 4),
    ]);
    let architecture = Architecture::new(layout, cylinders, mains, vec![], vec![]).expect("an engine");
    let unit = chance.one_of(&[WorkingUnit::Inch, WorkingUnit::Millimetre]);
    let nominal = chance.between(row.nominal.0, row.nominal.1);
    // A size is given to half a thou or to a hundredth of a millimetre; a clearance is what it is.
    let nominal = match unit {
        _ if row.target == TargetFeature::MainClearance => nominal * THOU,
        WorkingUnit::Inch => (nominal * 2.0).round() / 2.0 * THOU,
        WorkingUnit::Millimetre => (nominal * THOU / 1e-5).round() * 1e-5,
    };
    let mut targets = BTreeMap::new();
    if chance.uniform() < 2.0 / 3.0 {
        targets.insert(TargetKey { feature: row.target, place: row.target.whole() }, nominal);
    }
    let setup = Setup { architecture, unit, materials: Materials::default(), expansions: BTreeMap::new(), targets };
    let slots: Vec<Slot> = (sheet(row.sheet).slots)(&setup);
    let slots: Vec<Slot> = slots.into_iter().filter(|slot| (row.takes)(&slot.key.feature)).collect();
    let told = (row.told)(unit, chance);
    let zeroed_at = row.set_below.map(|(least, most)| {
        let below = chance.between(least, most).round();
        nominal - below * if unit == WorkingUnit::Inch { THOU } else { Unit::Millimetre.to_si(0.02) }
    });
    let about = (row.draw)(&slots, chance);
    let sizes = about.into_iter().map(|thou| nominal + thou * THOU).collect();
    Set { name: row.name.to_owned(), sheet: row.sheet, as_came: row.as_came, setup, slots, sizes, zeroed_at, told }
}

/// Student's t of five degrees of freedom, brought to a standard deviation of 1: t divided by √(5/3).
pub fn t5(chance: &mut Deviates) -> f64 {
    let square: f64 = (0..5).map(|_| chance.normal().powi(2)).sum();
    chance.normal() / (square / 5.0).sqrt() * 0.6_f64.sqrt()
}

/// What belongs to a place as a whole. `of` is told where it lies: from −1 at the first to 1 at the last.
fn places(slots: &[Slot], of: impl Fn(f64, &mut Deviates) -> f64, chance: &mut Deviates) -> BTreeMap<Place, f64> {
    let mut in_order: Vec<Place> = slots.iter().map(|slot| slot.key.place).collect();
    in_order.dedup();
    let last = (in_order.len() - 1).max(1) as f64;
    in_order.iter().enumerate().map(|(n, place)| (*place, of(2.0 * n as f64 / last - 1.0, chance))).collect()
}

/// Every reading scatters by 0.05 beside what it is.
fn each(slots: &[Slot], chance: &mut Deviates, size: impl Fn(&Slot, &mut Deviates) -> f64) -> Vec<f64> {
    slots.iter().map(|slot| size(slot, chance) + 0.05 * chance.normal()).collect()
}

fn at_parting(key: &SlotKey, more: f64) -> f64 {
    let parting = matches!(
        key.feature,
        SlotFeature::MainHousing(Spot::Parting)
            | SlotFeature::MainClearanceDirect(Spot::Parting)
            | SlotFeature::MainShellBore(Spot::Parting)
    );
    if parting { more } else { 0.0 }
}
