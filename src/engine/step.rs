//! The steps of a job by default, from check-in to hand-over, and what each waits for.
//!
//! The list is common practice, without a source: a family may keep its own.

use serde::{Deserialize, Serialize};

/// A measuring job. Its key stands in the record and in addresses.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SheetKey {
    Block,
    Crankshaft,
    Rods,
    Pistons,
    CylinderBores,
    Rings,
    MainBearings,
    RodBearings,
    Compression,
    Balance,
    Motion,
    TurningClearances,
    PressFits,
}

impl SheetKey {
    /// In the order of the work.
    pub const ALL: [Self; 13] = [
        Self::Block,
        Self::Crankshaft,
        Self::Rods,
        Self::Pistons,
        Self::PressFits,
        Self::CylinderBores,
        Self::Rings,
        Self::MainBearings,
        Self::RodBearings,
        Self::Compression,
        Self::Balance,
        Self::Motion,
        Self::TurningClearances,
    ];

    pub fn key(self) -> &'static str {
        match self {
            Self::Block => "block",
            Self::Crankshaft => "crankshaft",
            Self::Rods => "rods",
            Self::Pistons => "pistons",
            Self::CylinderBores => "cylinder-bores",
            Self::Rings => "rings",
            Self::MainBearings => "main-bearings",
            Self::RodBearings => "rod-bearings",
            Self::Compression => "compression",
            Self::Balance => "balance",
            Self::Motion => "motion",
            Self::TurningClearances => "turning-clearances",
            Self::PressFits => "press-fits",
        }
    }

    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|sheet| sheet.key() == key)
    }
}

/// One step of the default list.
pub struct DefaultStep {
    pub key: &'static str,
    pub title: &'static str,
    pub purpose: &'static str,
    /// What can hurt someone here; shown where the work happens.
    pub caution: &'static str,
    /// Keys of the steps it follows.
    pub after: &'static [&'static str],
    pub sheets: &'static [SheetKey],
}

/// The whole life of a job. Order is the order shown; the graph is in `after`.
pub const DEFAULT_STEPS: [DefaultStep; 18] = [
    DefaultStep {
        key: "check-in",
        title: "Check in",
        purpose: "What came, its stamps and serials, photographed on all sides; what is missing.",
        caution: "Check hoist, sling and stand against the engine's weight. Never stand under a hung engine.",
        after: &[],
        sheets: &[],
    },
    DefaultStep {
        key: "tear-down",
        title: "Tear down",
        purpose: "Caps and parts kept in order; the state of everything as found.",
        caution: "Old fuel, coolant and gasket dust: ventilate, wet, bag. Never cut or crush a sodium-filled valve.",
        after: &["check-in"],
        sheets: &[],
    },
    DefaultStep {
        key: "cracks",
        title: "Clean and look for cracks",
        purpose: "All plugs out and counted; block, heads, crank and rods tested before money is spent on them.",
        caution: "Caustic never on aluminium or magnesium. Keep air for cleaning under 30 psi. Shield a pressure test.",
        after: &["tear-down"],
        sheets: &[SheetKey::Block],
    },
    DefaultStep {
        key: "agree",
        title: "Agree the work",
        purpose: "What the engine is for, what it gets, what it may cost, what happens if more is found.",
        caution: "",
        after: &["cracks"],
        sheets: &[SheetKey::Motion],
    },
    DefaultStep {
        key: "parts",
        title: "Order and check parts",
        purpose: "Each part against its order line: mark, size, count; pistons measured as they arrive.",
        caution: "Valve and ring edges cut.",
        after: &["agree"],
        sheets: &[SheetKey::Pistons, SheetKey::Rods],
    },
    DefaultStep {
        key: "main-line",
        title: "Main line and housings",
        purpose: "Housing sizes and alignment with caps pulled down as they will run.",
        caution: "",
        after: &["agree"],
        sheets: &[SheetKey::MainBearings],
    },
    DefaultStep {
        key: "crank",
        title: "Crank ground or polished",
        purpose: "Journals measured on return: size, round, taper; feed holes and radii looked at.",
        caution: "A crank weighs 25 to 40 kg: use a sling, mind fingers.",
        after: &["agree"],
        sheets: &[SheetKey::Crankshaft],
    },
    DefaultStep {
        key: "bore",
        title: "Bore and hone",
        purpose: "To the pistons in hand, plate on where the block is run with one.",
        caution: "Guard the machine; keep hands out of a turning hone.",
        after: &["parts", "main-line"],
        sheets: &[SheetKey::CylinderBores, SheetKey::PressFits],
    },
    DefaultStep {
        key: "deck",
        title: "Decks and machining done",
        purpose: "Deck height and finish; every machining job back and checked.",
        caution: "",
        after: &["main-line"],
        sheets: &[SheetKey::Block],
    },
    DefaultStep {
        key: "wash",
        title: "Final wash and plugs",
        purpose: "Every gallery brushed and blown; plugs counted in.",
        caution: "Hot wash and compressed air: face shield, under 30 psi.",
        after: &["bore", "deck"],
        sheets: &[],
    },
    DefaultStep {
        key: "bearings",
        title: "Fit main bearings",
        purpose: "Clearances at every main with shells in and caps pulled down.",
        caution: "",
        after: &["crank", "wash"],
        sheets: &[SheetKey::MainBearings],
    },
    DefaultStep {
        key: "mock-up",
        title: "Trial assembly",
        purpose: "Deck, valve and rotating clearances with the parts that will run.",
        caution: "Turn by hand only; keep fingers out of the throws.",
        after: &["bearings"],
        sheets: &[SheetKey::Compression, SheetKey::TurningClearances],
    },
    DefaultStep {
        key: "balance",
        title: "Weights and balance",
        purpose: "Weights matched, crank balanced to the bobweight, report kept.",
        caution: "Stand clear of the plane of a spinning crank.",
        after: &["mock-up"],
        sheets: &[SheetKey::Balance],
    },
    DefaultStep {
        key: "short-block",
        title: "Short block",
        purpose: "Crank, pistons and rods in for good; every fastener to its maker's figure and recorded.",
        caution: "Torque-to-yield bolts follow their maker's procedure only. Check the wrench before the last step.",
        after: &["balance"],
        sheets: &[
            SheetKey::CylinderBores,
            SheetKey::MainBearings,
            SheetKey::RodBearings,
            SheetKey::Rings,
            SheetKey::Crankshaft,
        ],
    },
    DefaultStep {
        key: "top-end",
        title: "Heads and valve gear",
        purpose: "Springs, heads, timing, lash; cam phase checked again after the final drive is on.",
        caution: "Valve springs hold hundreds of pounds: captive compressor and face shield.",
        after: &["short-block"],
        sheets: &[],
    },
    DefaultStep {
        key: "prime",
        title: "Prime and check before start",
        purpose: "Oil at every rocker, pressure on the gauge, nothing leaks, timing set static.",
        caution: "Fuel and oil under pressure: extinguisher, eye protection, kill switch within reach.",
        after: &["top-end"],
        sheets: &[],
    },
    DefaultStep {
        key: "run-in",
        title: "First start and run-in",
        purpose: "Run in as the makers of rings, cam and bearings ask; filter cut, lash and fasteners checked.",
        caution: "Two people. Nobody in the plane of flywheel or driveshaft. Extract exhaust gas. Ear protection.",
        after: &["prime"],
        sheets: &[],
    },
    DefaultStep {
        key: "hand-over",
        title: "Hand over",
        purpose: "Card issued, engine drained or filled and labelled, secured for transport.",
        caution: "Mind the crated engine's centre of gravity.",
        after: &["run-in"],
        sheets: &[],
    },
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_default_steps_are_a_graph_without_cycles_and_every_sheet_is_in_it() {
        let mut seen = std::collections::BTreeSet::new();
        for step in &DEFAULT_STEPS {
            assert!(step.after.iter().all(|before| seen.contains(before)), "{} follows a later step", step.key);
            assert!(seen.insert(step.key), "{} stands twice", step.key);
        }
        for sheet in SheetKey::ALL {
            assert!(DEFAULT_STEPS.iter().any(|step| step.sheets.contains(&sheet)), "{}", sheet.key());
        }
    }
}
