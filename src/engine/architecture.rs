//! Layout, counts, numbering and firing order: the skeleton every sheet and drawing hangs on.

use super::Place;
use serde::{Deserialize, Serialize};

/// How the cylinders stand to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Layout {
    Inline,
    Vee,
    Opposed,
}

impl Layout {
    pub const ALL: [Self; 3] = [Self::Inline, Self::Vee, Self::Opposed];

    /// The key kept in the record, which is also the word said in the shop.
    pub fn word(self) -> &'static str {
        match self {
            Self::Inline => "inline",
            Self::Vee => "vee",
            Self::Opposed => "opposed",
        }
    }

    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|layout| layout.word() == word)
    }

    /// One bank for an inline engine, two for the others.
    pub fn banks(self) -> u8 {
        match self {
            Self::Inline => 1,
            Self::Vee | Self::Opposed => 2,
        }
    }
}

/// How rods stand on crank pins.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Pins {
    /// Each rod on a pin of its own.
    Single,
    /// Both rods of a pair across the banks on one pin.
    Shared,
}

impl Pins {
    pub const ALL: [Self; 2] = [Self::Single, Self::Shared];

    /// The key kept in the record, which is also the word said in the shop.
    pub fn word(self) -> &'static str {
        match self {
            Self::Single => "single",
            Self::Shared => "shared",
        }
    }

    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|pins| pins.word() == word)
    }

    /// What a crank of the layout usually has.
    fn usual(layout: Layout) -> Self {
        if layout == Layout::Vee { Self::Shared } else { Self::Single }
    }
}

/// Why an architecture cannot be; each message says what to enter.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ArchitectureFault {
    #[error("enter between 1 and 16 cylinders")]
    Cylinders,
    #[error("an engine of two banks has an even number of cylinders, from 2")]
    UnevenBanks,
    #[error("enter between 1 and 17 main bearings")]
    Mains,
    #[error("the numbering lists each cylinder once: {0} different numbers, bank by bank from the front")]
    Numbering(u8),
    #[error("the firing order lists each cylinder number once, such as 1-3-4-2")]
    FiringOrder,
}

/// Layout, cylinders, mains, and how this shop numbers them. Valid once made.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Parts", into = "Parts")]
pub struct Architecture {
    layout: Layout,
    cylinders: u8,
    mains: u8,
    numbering: Vec<u8>,
    firing_order: Vec<u8>,
    pins: Pins,
}

#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Parts {
    layout: Layout,
    cylinders: u8,
    mains: u8,
    /// Displayed numbers, bank by bank from the front; empty means the usual numbering.
    #[serde(default)]
    numbering: Vec<u8>,
    /// Displayed numbers in firing order; empty means not yet known.
    #[serde(default)]
    firing_order: Vec<u8>,
    /// None: as the layout usually has them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pins: Option<Pins>,
}

impl TryFrom<Parts> for Architecture {
    type Error = ArchitectureFault;
    fn try_from(p: Parts) -> Result<Self, ArchitectureFault> {
        let made = Self::new(p.layout, p.cylinders, p.mains, p.numbering, p.firing_order)?;
        Ok(p.pins.map_or(made.clone(), |pins| made.with_pins(pins)))
    }
}

impl From<Architecture> for Parts {
    fn from(a: Architecture) -> Self {
        Self {
            layout: a.layout,
            cylinders: a.cylinders,
            mains: a.mains,
            numbering: a.numbering,
            firing_order: a.firing_order,
            pins: Some(a.pins).filter(|pins| *pins != Pins::usual(a.layout)),
        }
    }
}

impl Architecture {
    /// An empty numbering stands for the usual one: counted from the front; with two banks, odd numbers on the first
    /// and even on the second.
    ///
    /// # Errors
    /// The first [`ArchitectureFault`] found.
    pub fn new(
        layout: Layout,
        cylinders: u8,
        mains: u8,
        numbering: Vec<u8>,
        firing_order: Vec<u8>,
    ) -> Result<Self, ArchitectureFault> {
        if !(1..=16).contains(&cylinders) {
            return Err(ArchitectureFault::Cylinders);
        }
        if !cylinders.is_multiple_of(layout.banks()) {
            return Err(ArchitectureFault::UnevenBanks);
        }
        if !(1..=17).contains(&mains) {
            return Err(ArchitectureFault::Mains);
        }
        let numbering = if numbering.is_empty() { usual_numbering(layout, cylinders) } else { numbering };
        if !each_once(&numbering, cylinders, |n| n >= 1) {
            return Err(ArchitectureFault::Numbering(cylinders));
        }
        if !firing_order.is_empty() && !each_once(&firing_order, cylinders, |n| numbering.contains(&n)) {
            return Err(ArchitectureFault::FiringOrder);
        }
        Ok(Self { layout, cylinders, mains, numbering, firing_order, pins: Pins::usual(layout) })
    }

    /// The same with its rods on pins of their own, or two on one; an inline engine's stay single.
    #[must_use]
    pub fn with_pins(self, pins: Pins) -> Self {
        Self { pins: if self.banks() == 1 { Pins::Single } else { pins }, ..self }
    }

    pub fn pins(&self) -> Pins {
        self.pins
    }

    /// How many crank pins there are.
    pub fn throws(&self) -> u8 {
        match self.pins {
            Pins::Single => self.cylinders,
            Pins::Shared => self.cylinders_per_bank(),
        }
    }

    /// Every crank pin from the front.
    pub fn throw_places(&self) -> impl Iterator<Item = Place> + use<> {
        (0..self.throws()).map(|index| Place::Throw { index })
    }

    /// The pin that a cylinder's rod runs on; single pins stand bank by bank in turn from the front.
    pub fn throw_of(&self, cylinder: Place) -> Place {
        match (cylinder, self.pins) {
            (Place::Cylinder { index, .. }, Pins::Shared) => Place::Throw { index },
            (Place::Cylinder { bank, index }, Pins::Single) => Place::Throw { index: index * self.banks() + bank },
            (other, _) => other,
        }
    }

    /// The cylinders whose rods run on a pin, bank by bank.
    pub fn cylinders_on(&self, throw: Place) -> Vec<Place> {
        self.cylinder_places().filter(|&cylinder| self.throw_of(cylinder) == throw).collect()
    }

    pub fn bank_places(&self) -> impl Iterator<Item = Place> + use<> {
        (0..self.banks()).map(|bank| Place::Bank { bank })
    }

    /// Every place that a whole speaks for, in bench order.
    pub fn places_of(&self, whole: Place) -> Vec<Place> {
        match whole.whole() {
            Place::AllCylinders => self.cylinders_in_order(),
            Place::AllMains => self.main_places().collect(),
            Place::AllThrows => self.throw_places().collect(),
            Place::AllBanks => self.bank_places().collect(),
            other => vec![other],
        }
    }

    pub fn layout(&self) -> Layout {
        self.layout
    }

    pub fn cylinders(&self) -> u8 {
        self.cylinders
    }

    pub fn mains(&self) -> u8 {
        self.mains
    }

    pub fn banks(&self) -> u8 {
        self.layout.banks()
    }

    pub fn cylinders_per_bank(&self) -> u8 {
        self.cylinders / self.banks()
    }

    pub fn numbering(&self) -> &[u8] {
        &self.numbering
    }

    pub fn firing_order(&self) -> &[u8] {
        &self.firing_order
    }

    /// Every cylinder, bank by bank from the front.
    pub fn cylinder_places(&self) -> impl Iterator<Item = Place> + use<> {
        let per_bank = self.cylinders_per_bank();
        (0..self.banks()).flat_map(move |bank| (0..per_bank).map(move |index| Place::Cylinder { bank, index }))
    }

    /// Every cylinder in the order of its displayed number: bench order.
    pub fn cylinders_in_order(&self) -> Vec<Place> {
        let mut places: Vec<Place> = self.cylinder_places().collect();
        places.sort_by_key(|&place| self.number(place));
        places
    }

    /// Every main bearing from the front.
    pub fn main_places(&self) -> impl Iterator<Item = Place> + use<> {
        (0..self.mains).map(|index| Place::Main { index })
    }

    /// The number the shop calls a cylinder or a main by; none for places without one or not on this engine.
    pub fn number(&self, place: Place) -> Option<u8> {
        match place {
            Place::Cylinder { bank, index } if bank < self.banks() && index < self.cylinders_per_bank() => {
                self.numbering.get(usize::from(bank * self.cylinders_per_bank() + index)).copied()
            }
            Place::Main { index } if index < self.mains => Some(index + 1),
            Place::Throw { index } if index < self.throws() => Some(index + 1),
            Place::Bank { bank } if bank < self.banks() => Some(bank + 1),
            _ => None,
        }
    }

    /// Whether the place exists on this engine.
    pub fn has(&self, place: Place) -> bool {
        match place {
            Place::Engine | Place::AllCylinders | Place::AllMains | Place::AllThrows | Place::AllBanks => true,
            Place::Cylinder { .. } | Place::Main { .. } | Place::Throw { .. } | Place::Bank { .. } => {
                self.number(place).is_some()
            }
        }
    }

    /// The place as said in the shop: "cylinder 3", "main 2", "all mains".
    pub fn label(&self, place: Place) -> String {
        match (place, self.number(place)) {
            (Place::Engine, _) => "engine".into(),
            (Place::AllCylinders, _) => "all cylinders".into(),
            (Place::AllMains, _) => "all mains".into(),
            (Place::AllThrows, _) => "all throws".into(),
            (Place::AllBanks, _) => "all banks".into(),
            (Place::Bank { .. }, _) if self.banks() == 1 => "deck".into(),
            (Place::Bank { .. }, Some(n)) => format!("bank {n}"),
            (Place::Throw { .. }, Some(n)) => format!("throw {n}"),
            (Place::Throw { index }, None) => format!("throw not on this engine ({index})"),
            (Place::Bank { bank }, None) => format!("bank not on this engine ({bank})"),
            (Place::Cylinder { .. }, Some(n)) => format!("cylinder {n}"),
            (Place::Main { .. }, Some(n)) => format!("main {n}"),
            (Place::Cylinder { bank, index }, None) => format!("cylinder not on this engine (bank {bank}, {index})"),
            (Place::Main { index }, None) => format!("main not on this engine ({index})"),
        }
    }

    /// "vee 8, 5 mains".
    pub fn summary(&self) -> String {
        let mains = if self.mains == 1 { "main" } else { "mains" };
        format!("{} {}, {} {mains}", self.layout.word(), self.cylinders, self.mains)
    }

    /// "1-3-4-2", or empty where it is not known.
    pub fn firing_order_text(&self) -> String {
        self.firing_order.iter().map(ToString::to_string).collect::<Vec<_>>().join("-")
    }
}

fn usual_numbering(layout: Layout, cylinders: u8) -> Vec<u8> {
    match layout.banks() {
        1 => (1..=cylinders).collect(),
        _ => (1..=cylinders).step_by(2).chain((2..=cylinders).step_by(2)).collect(),
    }
}

fn each_once(numbers: &[u8], cylinders: u8, allowed: impl Fn(u8) -> bool) -> bool {
    let mut seen = std::collections::BTreeSet::new();
    numbers.len() == usize::from(cylinders) && numbers.iter().all(|&n| allowed(n) && seen.insert(n))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn usual_numbering_of_a_vee_is_odd_then_even() {
        let vee = Architecture::new(Layout::Vee, 8, 5, vec![], vec![]).unwrap();
        assert_eq!(vee.number(Place::Cylinder { bank: 1, index: 0 }), Some(2));
        assert_eq!(vee.label(Place::Cylinder { bank: 0, index: 3 }), "cylinder 7");
        assert_eq!(vee.cylinders_in_order()[1], Place::Cylinder { bank: 1, index: 0 });
    }

    #[test]
    fn what_cannot_be_is_refused() {
        let made = |layout, cylinders, mains, numbering, firing| {
            Architecture::new(layout, cylinders, mains, numbering, firing).unwrap_err()
        };
        assert_eq!(made(Layout::Vee, 7, 5, vec![], vec![]), ArchitectureFault::UnevenBanks);
        assert_eq!(made(Layout::Inline, 0, 5, vec![], vec![]), ArchitectureFault::Cylinders);
        assert_eq!(made(Layout::Inline, 4, 0, vec![], vec![]), ArchitectureFault::Mains);
        assert_eq!(made(Layout::Inline, 4, 5, vec![1, 2, 3, 3], vec![]), ArchitectureFault::Numbering(4));
        assert_eq!(made(Layout::Inline, 4, 5, vec![], vec![1, 3, 4]), ArchitectureFault::FiringOrder);
    }

    #[test]
    fn survives_serialising_and_refuses_what_cannot_be() {
        let inline = Architecture::new(Layout::Inline, 4, 5, vec![4, 3, 2, 1], vec![1, 3, 4, 2]).unwrap();
        let text = serde_json::to_string(&inline).unwrap();
        assert_eq!(serde_json::from_str::<Architecture>(&text).unwrap(), inline);
        assert!(serde_json::from_str::<Architecture>(r#"{"layout":"vee","cylinders":3,"mains":4}"#).is_err());
        let split = Architecture::new(Layout::Vee, 6, 4, vec![], vec![]).unwrap().with_pins(Pins::Single);
        let text = serde_json::to_string(&split).unwrap();
        assert_eq!(serde_json::from_str::<Architecture>(&text).unwrap(), split);
    }

    #[test]
    fn rods_stand_on_shared_pins_or_their_own() {
        let vee = Architecture::new(Layout::Vee, 8, 5, vec![], vec![]).unwrap();
        let right = |index| Place::Cylinder { bank: 1, index };
        assert_eq!((vee.throws(), vee.throw_of(right(2))), (4, Place::Throw { index: 2 }));
        assert_eq!(vee.cylinders_on(Place::Throw { index: 0 }), [Place::Cylinder { bank: 0, index: 0 }, right(0)]);
        let flat = Architecture::new(Layout::Opposed, 4, 3, vec![], vec![]).unwrap();
        assert_eq!((flat.throws(), flat.throw_of(right(0))), (4, Place::Throw { index: 1 }));
        for engine in [vee, flat] {
            let on_pins: usize = engine.throw_places().map(|throw| engine.cylinders_on(throw).len()).sum();
            assert_eq!(on_pins, usize::from(engine.cylinders()));
        }
    }
}
