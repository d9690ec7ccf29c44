//! Deck and compression: where each piston stands at top dead centre, the room above it, the ratio that makes, and what to cut for
//! the ratio aimed at.

use super::as_read::{AsRead, judge_all};
use super::figure::{Figure, Lack, Lacks, found};
use super::room::{self, Room, volume, volume_said};
use super::shape::spread;
use super::slot::{ON_THE_DECK, SlotRow};
use super::{Basis, Book, Finding, Options, Sheet, Slot, choose_deck, piston_deck};
use crate::engine::{
    FindingFeature, ItemKind, ItemRef, Measure, Place, Setup, SheetKey, Side, SlotFeature, TargetFeature,
};
use crate::mechanics::compression;
use crate::mechanics::motion::SliderCrank;
use crate::metrology::{GaugeKind, Measured};
use std::convert::Infallible;

const EDITION: u32 = 1;

pub const SHEET: Sheet = Sheet {
    key: SheetKey::Compression,
    edition: EDITION,
    title: "Deck and compression",
    purpose: "Deck clearance and chamber of every cylinder, the crushed gasket; from them squish, compression ratio and what to cut.",
    caution: "Turn the crank by hand and keep fingers out of the bores. Read the deck at true top dead centre, the piston held \
              against its rock; the chamber with valves and plug sealed, no air under the plate.",
    reads: &[SheetKey::Block, SheetKey::Crankshaft, SheetKey::Rods, SheetKey::Pistons, SheetKey::CylinderBores],
    finds: &[
        FindingFeature::DeckClearance,
        FindingFeature::PistonRock,
        FindingFeature::Squish,
        FindingFeature::ChamberVolume,
        FindingFeature::ClearanceVolume,
        FindingFeature::CompressionRatio,
        FindingFeature::CompressionSpread,
        FindingFeature::EffectiveRatio,
        FindingFeature::DeckCut,
    ],
    main: FindingFeature::CompressionRatio,
    compared: &[FindingFeature::DeckClearance, FindingFeature::Squish, FindingFeature::CompressionRatio],
    options: Some(Options {
        title: "Choose rods and pistons",
        purpose: "Which rod with which piston on which throw evens the decks.",
        asks: None,
        work_out: choose_deck::work_out,
    }),
    slots,
    work_out,
};

const DECK: &str = "deck clearance";
const CHAMBER: &str = "chamber";
const GASKET: &str = "head gasket";
/// Below the deck and above it, in m: nothing of an engine stands further off.
const DECK_CAN_BE: (f64, f64) = (-0.005, 0.01);
/// In m. Thinner is a figure typed in the wrong unit.
const GASKET_CAN_BE: (f64, f64) = (20e-6, 0.005);

fn slots(setup: &Setup) -> Vec<Slot> {
    use GaugeKind::{Burette, Indicator, OutsideMicrometer};
    let cylinders = setup.architecture.cylinders_in_order();
    let deck = |place, feature, label| {
        let row: SlotRow = (feature, label, DECK, Indicator, ItemKind::Block);
        Slot {
            set_at_each_place: Some(ON_THE_DECK),
            ..Slot::of(setup, place, row).between(DECK_CAN_BE.0, DECK_CAN_BE.1)
        }
    };
    let chamber = |place, feature, label| {
        let slot = Slot::of(setup, place, (feature, label, CHAMBER, Burette, ItemKind::Head));
        match place {
            Place::Cylinder { bank, .. } => {
                Slot { item: ItemRef { kind: ItemKind::Head, place: Place::Cylinder { bank, index: 0 } }, ..slot }
            }
            _ => slot,
        }
    };
    let mut slots = vec![deck(Place::AllCylinders, SlotFeature::DeckStated, "one figure for all")];
    for &place in &cylinders {
        slots.extend([
            deck(place, SlotFeature::DeckStated, "one figure"),
            deck(place, SlotFeature::Deck(Side::Thrust), "thrust side"),
            deck(place, SlotFeature::Deck(Side::Across), "side across"),
            deck(place, SlotFeature::Deck(Side::Front), "on the pin’s axis, front"),
            deck(place, SlotFeature::Deck(Side::Rear), "on the pin’s axis, rear"),
        ]);
    }
    slots.push(chamber(Place::AllCylinders, SlotFeature::ChamberStated, "one figure for all"));
    slots.extend(cylinders.into_iter().map(|place| chamber(place, SlotFeature::Chamber, "chamber")));
    for place in setup.architecture.bank_places() {
        let row: SlotRow =
            (SlotFeature::GasketThickness, "crushed thickness", GASKET, OutsideMicrometer, ItemKind::Block);
        slots.push(Slot::of(setup, place, row).between(GASKET_CAN_BE.0, GASKET_CAN_BE.1));
    }
    slots
}

fn work_out(book: &Book) -> Vec<Finding> {
    let cylinders = book.setup.architecture.cylinders_in_order();
    let mut findings: Vec<Finding> = cylinders.into_iter().flat_map(|place| one_cylinder(book, place)).collect();
    over_each_deck(book, &mut findings);
    let apart = Finding::new(FindingFeature::CompressionSpread, Place::AllCylinders, Basis::Readings);
    findings.extend(spread(apart, &FindingFeature::CompressionRatio, &findings, book));
    judge_all(&mut findings, book);
    findings
}

fn one_cylinder(book: &Book, place: Place) -> Vec<Finding> {
    let read_chamber = AsRead {
        slot: SlotFeature::Chamber,
        stated: Some(SlotFeature::ChamberStated),
        finding: FindingFeature::ChamberVolume,
        name: "chamber",
    };
    let chamber = read_chamber.at(book, place);
    let deck = piston_deck::clearance(book, place);
    let squish = found(squish(book, place, &deck), FindingFeature::Squish, place);
    let room = Room::above(book, place, &deck, &chamber);
    let rock = piston_deck::rock(book, place);
    let mut findings: Vec<Finding> = [deck].into_iter().chain(rock).chain([squish.clone(), chamber]).collect();
    let ratio = match room {
        Ok(room) => {
            let given = |feature, name| Figure::given(book, feature, place, name).ok();
            findings.push(room.volume(place));
            if let Some(wanted) = given(TargetFeature::CompressionRatio, "compression ratio aimed at") {
                let cut = room.deck_cut(book, place, &wanted, squish.value.as_ref());
                findings.push(found(cut, FindingFeature::DeckCut, place));
            }
            if let Some(closing) = given(TargetFeature::InletCloses, "inlet closing") {
                let effective = room.effective_ratio(book, place, &closing);
                findings.push(found(effective, FindingFeature::EffectiveRatio, place));
            }
            room.ratio(book, place)
        }
        Err(lack) => Err(lack),
    };
    let ratio = found(ratio, FindingFeature::CompressionRatio, place);
    findings.push(Finding { target: book.setup.target(TargetFeature::CompressionRatio, place), ..ratio });
    findings
}

/// Deck clearance and gasket together, cold.
fn squish(book: &Book, place: Place, deck: &Finding) -> Result<Finding, Lack> {
    let mut lacks = Lacks::default();
    let sought = (lacks.seek(room::deck(book, place, deck)), lacks.seek(room::gasket(book, place)));
    let (Some(deck), Some(gasket)) = sought else { return Err(lacks.all()) };
    let squish = Figure::worked("squish", Measure::SMALL, book, &[&deck, &gasket], |x| {
        Ok::<_, Infallible>(compression::squish_m(x[0], x[1]))
    })?;
    let words = book.words();
    let mut finding = squish.finding(FindingFeature::Squish, place);
    finding.working.push(format!(
        "deck {} + gasket {} = {}",
        words.small(deck.si()),
        words.small(gasket.si()),
        words.small(squish.si())
    ));
    if squish.si() <= 0.0 {
        finding.remarks.push("the piston meets the head: deck clearance and gasket cannot both be right".to_owned());
    }
    Ok(finding)
}

impl Room {
    fn volume(&self, place: Place) -> Finding {
        let finding = self.clearance.finding(FindingFeature::ClearanceVolume, place);
        Finding { working: vec![self.working.clone()], remarks: self.remarks.clone(), ..finding }
    }

    fn ratio(&self, book: &Book, place: Place) -> Result<Finding, Lack> {
        let of = [&self.swept, &self.clearance];
        let ratio = Figure::worked("compression ratio", Measure::NUMBER, book, &of, |x| {
            compression::compression_ratio(x[0], x[1])
        })?;
        let (swept, room) = (volume(book, self.swept.si()), volume(book, self.clearance.si()));
        let said = book.words().said(Measure::NUMBER, ratio.si());
        let working = vec![format!("({swept} swept + {room} above the piston) / {room} = {said}")];
        let finding = ratio.finding(FindingFeature::CompressionRatio, place);
        Ok(Finding { working, remarks: self.remarks.clone(), ..finding })
    }

    /// The ratio from where the inlet closes.
    fn effective_ratio(&self, book: &Book, place: Place, closing: &Figure) -> Result<Finding, Lack> {
        let (rod, offset) = (piston_deck::rod(book, place)?, piston_deck::offset(book)?);
        let depth = Figure::worked("depth", Measure::SIZE, book, &[&self.stroke, &rod, &offset, closing], |x| {
            SliderCrank::from_stroke(x[0], x[1], x[2]).map(|crank| crank.depth_m(crank.bdc_rad() + x[3]))
        })?;
        let of = [&self.bore, &self.stroke, &rod, &offset, &self.clearance, closing];
        let ratio = Figure::worked("effective ratio", Measure::NUMBER, book, &of, |x| {
            let crank = SliderCrank::from_stroke(x[1], x[2], x[3]).map_err(|fault| fault.to_string())?;
            compression::effective_ratio(x[0], &crank, x[4], x[5]).map_err(|fault| fault.to_string())
        })?;
        let words = book.words();
        let room = volume(book, self.clearance.si());
        let trapped = volume(book, compression::deck_volume_m3(self.bore.si(), depth.si()));
        let mut finding = ratio.finding(FindingFeature::EffectiveRatio, place);
        finding.working = vec![
            format!(
                "inlet closes {} after bottom dead centre: piston {} below its top",
                words.said(Measure::ANGLE, closing.si()),
                words.size(depth.si())
            ),
            format!("({trapped} trapped + {room}) / {room} = {}", words.said(Measure::NUMBER, ratio.si())),
        ];
        finding.remarks.push("closing counted on the seat, with lash: not at a checking lift".to_owned());
        Ok(finding)
    }

    /// What to take off the deck for the ratio aimed at.
    fn deck_cut(&self, book: &Book, place: Place, wanted: &Figure, squish: Option<&Measured>) -> Result<Finding, Lack> {
        let of = [&self.swept, &self.clearance, wanted];
        let remove = Figure::worked("volume to take out", Measure::VOLUME, book, &of, |x| {
            compression::volume_to_remove_m3(x[0], x[1], x[2])
        })?;
        let cut = Figure::worked("off the deck", Measure::SMALL, book, &[&self.bore, &remove], |x| {
            compression::deck_cut_m(x[0], x[1])
        })?;
        let words = book.words();
        let mut finding = cut.finding(FindingFeature::DeckCut, place);
        finding.working.push(format!(
            "for {}: {} − {} = {} over the bore {}: {}",
            words.said(Measure::NUMBER, wanted.si()),
            volume(book, self.clearance.si()),
            volume(book, self.clearance.si() - remove.si()),
            volume_said(book, remove.si()),
            words.size(self.bore.si()),
            words.small_of_means(cut.si())
        ));
        if cut.si().abs() <= cut.value.expanded(2.0) {
            finding.remarks.push("no more than the readings can tell".to_owned());
        } else if cut.si() < 0.0 {
            finding
                .remarks
                .push("too little room already: no cut, but a thicker gasket or a larger chamber".to_owned());
        }
        if let Some(squish) = squish {
            finding.remarks.push(format!("squish then {}", words.small(squish.value() - cut.si())));
        }
        let chamber = self.chamber.si() - remove.si();
        if chamber > 0.0 {
            finding.remarks.push(format!(
                "or a chamber of {}; how much off the head for it is not known: that needs the chamber’s open area",
                volume_said(book, chamber)
            ));
        }
        Ok(finding)
    }
}

/// A deck is cut as a whole: says beside each cylinder's cut what its deck's others ask.
fn over_each_deck(book: &Book, findings: &mut [Finding]) {
    for deck in book.setup.architecture.bank_places() {
        let is_cut =
            |finding: &&mut Finding| finding.key.feature == FindingFeature::DeckCut && finding.key.place.deck() == deck;
        let mut cuts: Vec<&mut Finding> = findings.iter_mut().filter(is_cut).collect();
        let values: Vec<f64> = cuts.iter().filter_map(|cut| Some(cut.value.as_ref()?.value())).collect();
        if values.len() < 2 || values.len() < usize::from(book.setup.architecture.cylinders_per_bank()) {
            continue;
        }
        let (least, greatest) = (
            values.iter().copied().fold(f64::INFINITY, f64::min),
            values.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        );
        let mean = values.iter().sum::<f64>() / values.len() as f64;
        let words = book.words();
        let said = format!(
            "over {}: {} to {}, mean {}",
            book.setup.architecture.label(deck),
            words.small_of_means(least),
            words.small_of_means(greatest),
            words.small_of_means(mean)
        );
        for cut in &mut cuts {
            cut.remarks.push(said.clone());
        }
    }
}
