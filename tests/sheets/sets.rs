//! Whole sets of readings as a shop takes them, drawn from stated distributions: what misreads are told from.
//!
//! Nothing here is taken from the house's own thresholds. Standard deviations in thou, common practice, no source:
//!
//! | set | set about its nominal | place to place | shape within a place | one reading |
//! |---|---|---|---|---|
//! | ground journals, front and rear, two ways | 0.20 | 0.10 | 0.07 | 0.05 |
//! | honed bores, three heights, two ways | 0.30 | 0.12 | 0.10, and a taper of 0 to 0.2 | 0.05 |
//! | worn bores, as they came | 0.50 | 0.20 | worn by 1 to 8 at the top, 0.4 of it in the middle, 0.1 at the bottom; 0.7 of it pin way | 0.10 |
//! | worn journals, as they came | 0.30 | 0.40 | 0.30 | 0.05 |
//! | skirts | 0.30 | 0.15 | | 0.05 |
//! | shell walls | 0.05 | 0.05 | | 0.05 |
//! | bores with shells in, as deviations from a setting 1 to 5 thou below | 0.20 | 0.15 | near the parting line 0.2 to 0.8 more | 0.05 |
//! | clearances, a mean of 1.8 to 3.2 | | 0.20 | near the parting line 0.2 to 0.8 more | 0.05 |
//! | worn clearances, as they came, a mean of 2.5 to 4.5 | | 0.50 | near the parting line 0.2 to 0.8 more | 0.05 |
//!
//! Engines have 4, 6 or 8 cylinders and 5 or 7 mains, are worked in inches or millimetres, and every other one has its
//! targets entered. Readings are told to a tenth (clearances too), in metric work to a micrometre.

use crate::bench::THOU;
use crate::deviates::Deviates;
use std::collections::BTreeMap;
use witnessmark::engine::{
    Architecture, Height, Layout, Materials, Place, Setup, SheetKey, SlotFeature, SlotKey, Spot, TargetFeature,
    TargetKey, Way, WorkingUnit,
};
use witnessmark::metrology::Rule;
use witnessmark::quantity::{Entry, HowRead, Typed, Unit};
use witnessmark::sheets::{Book, SetDoubt, Slot, Take, TakeValue, ValueFault, set_doubts, sheet, told_in_full};

/// The kinds of set in the table above.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    Journals,
    HonedBores,
    WornBores,
    WornJournals,
    Skirts,
    Walls,
    ShellBores,
    Clearances,
    WornClearances,
}

impl Kind {
    pub const ALL: [Self; 9] = [
        Self::Journals,
        Self::HonedBores,
        Self::WornBores,
        Self::WornJournals,
        Self::Skirts,
        Self::Walls,
        Self::ShellBores,
        Self::Clearances,
        Self::WornClearances,
    ];

    pub fn is_worn(self) -> bool {
        matches!(self, Self::WornBores | Self::WornJournals | Self::WornClearances)
    }

    fn sheet(self) -> SheetKey {
        match self {
            Self::HonedBores | Self::WornBores => SheetKey::CylinderBores,
            Self::Skirts => SheetKey::Pistons,
            Self::Journals | Self::WornJournals => SheetKey::Crankshaft,
            _ => SheetKey::MainBearings,
        }
    }

    fn target(self) -> TargetFeature {
        match self {
            Self::HonedBores | Self::WornBores => TargetFeature::Bore,
            Self::Skirts => TargetFeature::Skirt,
            Self::Walls => TargetFeature::MainShellWall,
            Self::Clearances | Self::WornClearances => TargetFeature::MainClearance,
            Self::Journals | Self::WornJournals | Self::ShellBores => TargetFeature::MainJournal,
        }
    }

    fn takes(self, feature: &SlotFeature) -> bool {
        match self {
            Self::Journals | Self::WornJournals => matches!(feature, SlotFeature::MainJournal(..)),
            Self::HonedBores | Self::WornBores => matches!(feature, SlotFeature::Bore(..)),
            Self::Skirts => matches!(feature, SlotFeature::Skirt),
            Self::Walls => matches!(feature, SlotFeature::MainShellWall(_)),
            Self::ShellBores => matches!(feature, SlotFeature::MainShellBore(_)),
            Self::Clearances | Self::WornClearances => matches!(feature, SlotFeature::MainClearanceDirect(_)),
        }
    }
}

/// A set: its slots in bench order, what is read in each, and how it is typed.
pub struct Set {
    pub name: String,
    pub sheet: SheetKey,
    /// Read as the parts came.
    pub as_came: bool,
    pub setup: Setup,
    pub slots: Vec<Slot>,
    /// In m.
    pub sizes: Vec<f64>,
    /// What the gauge is set to, where the set is typed as deviations; in m.
    pub zeroed_at: Option<f64>,
    pub told: Told,
}

/// What a set is told in: unit, decimals, and how many of the last decimal one step of the gauge is.
#[derive(Clone, Copy)]
pub struct Told {
    pub unit: Unit,
    pub decimals: usize,
    pub step: f64,
}

impl Told {
    pub fn sizes(unit: WorkingUnit) -> Self {
        match unit {
            WorkingUnit::Inch => Self { unit: Unit::Inch, decimals: 4, step: 1.0 },
            WorkingUnit::Millimetre => Self { unit: Unit::Millimetre, decimals: 3, step: 1.0 },
        }
    }

    pub fn small(unit: WorkingUnit) -> Self {
        match unit {
            WorkingUnit::Inch => Self { unit: Unit::Thou, decimals: 1, step: 1.0 },
            WorkingUnit::Millimetre => Self { unit: Unit::Micrometre, decimals: 0, step: 1.0 },
        }
    }
}

impl Set {
    pub fn draw(kind: Kind, chance: &mut Deviates) -> Self {
        let (cylinders, mains) = chance.one_of(&[(4, 5), (6, 7), (8, 5)]);
        let architecture = Architecture::new(Layout::Inline, cylinders, mains, vec![], vec![]).expect("an engine");
        let unit = chance.one_of(&[WorkingUnit::Inch, WorkingUnit::Inch, WorkingUnit::Millimetre]);
        let nominal = match kind {
            Kind::HonedBores | Kind::WornBores | Kind::Skirts => chance.between(3200.0, 4600.0),
            Kind::Walls => chance.between(60.0, 110.0),
            Kind::Clearances => chance.between(1.8, 3.2),
            Kind::WornClearances => chance.between(2.5, 4.5),
            Kind::Journals | Kind::WornJournals | Kind::ShellBores => chance.between(2000.0, 3100.0),
        };
        // A nominal size is a whole number of tenths; of hundredths of a millimetre in metric work.
        let nominal = match (unit, kind) {
            (_, Kind::Clearances | Kind::WornClearances) => nominal * THOU,
            (WorkingUnit::Inch, _) => (nominal * 2.0).round() / 2.0 * THOU,
            (WorkingUnit::Millimetre, _) => (nominal * THOU / 1e-5).round() * 1e-5,
        };
        let mut targets = BTreeMap::new();
        if chance.uniform() < 0.5 {
            let feature = kind.target();
            targets.insert(TargetKey { feature, place: feature.whole() }, nominal);
        }
        let setup = Setup { architecture, unit, materials: Materials::default(), expansions: BTreeMap::new(), targets };
        let slots: Vec<Slot> = (sheet(kind.sheet()).slots)(&setup);
        let slots: Vec<Slot> = slots.into_iter().filter(|slot| kind.takes(&slot.key.feature)).collect();
        let sizes = sizes(kind, nominal, &slots, chance);
        let zeroed_at = (kind == Kind::ShellBores).then(|| nominal - chance.between(1.0, 5.0).round() * THOU);
        let told = match kind {
            Kind::Clearances | Kind::WornClearances | Kind::ShellBores => Told::small(unit),
            _ => Told::sizes(unit),
        };
        let (name, sheet, as_came) = (format!("{kind:?}"), kind.sheet(), kind.is_worn());
        Self { name, sheet, as_came, setup, slots, sizes, zeroed_at, told }
    }

    /// The book before anything is read.
    pub fn book(&self) -> Book {
        let mut book = Book::new(self.setup.clone(), vec![], Rule::Simple);
        if self.as_came {
            book.background.as_came.insert(self.sheet);
        }
        book
    }

    /// What is typed for a size in m.
    pub fn text(&self, si: f64) -> String {
        let Told { unit, decimals, step } = self.told;
        let last = 10_f64.powi(i32::try_from(decimals).expect("few decimals")) / step;
        let value = (unit.from_si(si - self.zeroed_at.unwrap_or(0.0)) * last).round() / last;
        if self.zeroed_at.is_some() { format!("{value:+.decimals$}") } else { format!("{value:.decimals$}") }
    }

    pub fn how(&self, slot: &Slot) -> HowRead {
        slot.how(self.setup.unit, self.setup.unit.small(), self.zeroed_at)
    }

    /// What is asked of the whole set as it stands in a book.
    pub fn doubts(&self, book: &Book) -> Vec<SetDoubt> {
        let Told { unit, decimals, step } = self.told;
        let resolution = unit.to_si(step * 10_f64.powi(-i32::try_from(decimals).expect("few decimals")));
        let told = self.slots.iter().zip(&self.sizes).filter(|(_, size)| told_in_full(&self.text(**size), resolution));
        set_doubts(book, self.sheet, &told.map(|(slot, _)| slot.key.clone()).collect(), None)
    }

    pub fn read(&self, slot: &Slot, text: &str) -> Result<Typed, ValueFault> {
        slot.read(text, &self.how(slot), self.setup.unit)
    }
}

/// Enters a reading as it was typed.
pub fn enter(book: &mut Book, slot: &Slot, typed: &Typed) {
    let Entry::Figure(figure) = typed.entry else { panic!("{} is no figure", typed.text) };
    let take = Take {
        id: slot.key.to_string(),
        value: TakeValue::Figure(figure.si),
        resolution: typed.resolution_si,
        gauge: None,
        setting: None,
        temperature: None,
        past_due: false,
    };
    book.enter_round("set", vec![(slot, vec![take])]).expect("finite");
}

fn sizes(kind: Kind, nominal: f64, slots: &[Slot], chance: &mut Deviates) -> Vec<f64> {
    let (set, place_to_place, within, reading) = match kind {
        Kind::Journals => (0.20, 0.10, 0.07, 0.05),
        Kind::HonedBores => (0.30, 0.12, 0.10, 0.05),
        Kind::WornBores => (0.50, 0.20, 0.10, 0.10),
        Kind::WornJournals => (0.30, 0.40, 0.30, 0.05),
        Kind::Skirts => (0.30, 0.15, 0.0, 0.05),
        Kind::Walls => (0.05, 0.05, 0.0, 0.05),
        Kind::ShellBores => (0.20, 0.15, 0.0, 0.05),
        Kind::Clearances => (0.0, 0.20, 0.0, 0.05),
        Kind::WornClearances => (0.0, 0.50, 0.0, 0.05),
    };
    let set = set * chance.normal();
    let at_parting = chance.between(0.2, 0.8);
    let mut of_places: BTreeMap<Place, (f64, f64, f64)> = BTreeMap::new();
    let mut size = |SlotKey { place, feature }: &SlotKey| {
        let (off, worn, tapered) = *of_places
            .entry(*place)
            .or_insert_with(|| (place_to_place * chance.normal(), chance.between(1.0, 8.0), chance.between(0.0, 0.2)));
        let shape = match (kind, feature) {
            (Kind::WornBores, SlotFeature::Bore(height, way)) => {
                let deep = match height {
                    Height::Top => 1.0,
                    Height::Middle => 0.4,
                    Height::Bottom => 0.1,
                };
                worn * deep * if *way == Way::Pin { 0.7 } else { 1.0 }
            }
            (Kind::HonedBores, SlotFeature::Bore(Height::Bottom, _)) => -tapered,
            (_, SlotFeature::MainClearanceDirect(Spot::Parting) | SlotFeature::MainShellBore(Spot::Parting)) => {
                at_parting
            }
            _ => 0.0,
        };
        let over = if kind == Kind::ShellBores { 2.5 } else { 0.0 };
        let thou = over + set + off + shape + within * chance.normal() + reading * chance.normal();
        nominal + thou * THOU
    };
    slots.iter().map(|slot| size(&slot.key)).collect()
}
