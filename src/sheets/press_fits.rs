//! Press fits: cylinder sleeves in the block, bushes in small ends, pins that a rod holds. Small ends and pins have their
//! homes with rods and pistons.

use super::as_read::judge_all;
use super::fit::FITS;
use super::options::Options;
use super::{Book, Finding, Sheet, Slot, choose_fit};
use crate::engine::{FindingFeature, ItemKind, PressedIn, Setup, SheetKey, SlotFeature};
use crate::metrology::GaugeKind;

const EDITION: u32 = 1;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::PressFits,
    edition: EDITION,
    title: "Press fits",
    purpose: "Sleeves, bushes and held pins: how tight cold and hot, what holds them, at what temperature they are loose, how much \
              their bores close.",
    caution: "A heated block or rod burns, what was cooled in dry ice or liquid nitrogen freezes skin, and its gas takes the air \
              of a small room: gloves, shield, open door. Behind a guard at the press: what goes in crooked can burst. Never \
              torch a rod.",
    reads: &[SheetKey::Rods],
    finds: &[
        FindingFeature::FitInterference(PressedIn::Sleeve),
        FindingFeature::FitHot(PressedIn::Sleeve),
        FindingFeature::FitHolds(PressedIn::Sleeve),
        FindingFeature::FitLost(PressedIn::Sleeve),
        FindingFeature::FitCloses(PressedIn::Sleeve),
        FindingFeature::FitInterference(PressedIn::Bush),
        FindingFeature::FitHot(PressedIn::Bush),
        FindingFeature::FitHolds(PressedIn::Bush),
        FindingFeature::FitLost(PressedIn::Bush),
        FindingFeature::FitCloses(PressedIn::Bush),
        FindingFeature::FitHot(PressedIn::Pin),
        FindingFeature::FitHolds(PressedIn::Pin),
        FindingFeature::FitLost(PressedIn::Pin),
    ],
    main: FindingFeature::FitInterference(PressedIn::Sleeve),
    compared: &[FindingFeature::FitInterference(PressedIn::Sleeve), FindingFeature::FitInterference(PressedIn::Bush)],
    options: Some(Options {
        title: "Fit by ISO 286",
        purpose: "What a fit named by its letters gives, and how what was read lies in it.",
        asks: Some("a fit, its size in millimetres, such as 60 H7/p6"),
        work_out: choose_fit::work_out,
    }),
    slots,
    work_out,
};

const SLEEVES: &str = "sleeves";
const BUSHES: &str = "bushes";

/// What is pressed into this engine: what it was said to have, or anything where nothing was said.
fn asked(setup: &Setup) -> (bool, bool) {
    match (setup.materials.sleeves, setup.materials.bushes) {
        (None, None) => (true, true),
        (sleeves, bushes) => (sleeves.is_some(), bushes.is_some()),
    }
}

fn slots(setup: &Setup) -> Vec<Slot> {
    use GaugeKind::{BoreGauge, OutsideMicrometer};
    use SlotFeature::{FitBore, FitOutside};
    let (sleeves, bushes) = asked(setup);
    let of_sleeve = |slot: Slot| Slot { material: setup.materials.sleeves, ..slot };
    let of_bush = |slot: Slot| Slot { material: setup.materials.bushes, ..slot };
    let mut slots = Vec::new();
    for cylinder in setup.architecture.cylinders_in_order() {
        let read = |feature, label, group, gauge, item| {
            Slot::of(setup, cylinder, (feature, label, group, gauge, item)).between(0.005, 0.5)
        };
        if sleeves {
            let (block, sleeve) = ("block’s bore for the sleeve", "sleeve, outside");
            slots.extend([
                read(FitBore(PressedIn::Sleeve), block, SLEEVES, BoreGauge, ItemKind::Block),
                of_sleeve(read(FitOutside(PressedIn::Sleeve), sleeve, SLEEVES, OutsideMicrometer, ItemKind::Block)),
            ]);
        }
        if bushes {
            let (rod, bush) = ("small end’s bore for the bush", "bush, outside");
            slots.extend([
                read(FitBore(PressedIn::Bush), rod, BUSHES, BoreGauge, ItemKind::Rod),
                of_bush(read(FitOutside(PressedIn::Bush), bush, BUSHES, OutsideMicrometer, ItemKind::Rod)),
            ]);
        }
    }
    slots
}

fn work_out(book: &Book) -> Vec<Finding> {
    let places = book.setup.architecture.cylinders_in_order();
    let mut findings: Vec<Finding> =
        places.into_iter().flat_map(|place| FITS.iter().flat_map(move |fit| fit.found(book, place))).collect();
    judge_all(&mut findings, book);
    findings
}
