//! What the sheets ask their slots by: the engine's skeleton, its materials, its targets, the job's working unit.

use super::{Architecture, ItemKind, Place, SlotKey, TargetFeature, TargetKey, WorkingUnit};
use crate::metrology::{Expansion, Material};
use std::collections::BTreeMap;

/// Everything the slots of a sheet depend on.
#[derive(Clone, Debug)]
pub struct Setup {
    pub architecture: Architecture,
    pub unit: WorkingUnit,
    pub materials: Materials,
    /// Coefficients of expansion the shop goes by instead of the usual ones.
    pub expansions: BTreeMap<Material, Expansion>,
    /// SI.
    pub targets: BTreeMap<TargetKey, f64>,
}

/// What the parts of an engine are made of, as far as it is known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Materials {
    pub block: Option<Material>,
    pub head: Option<Material>,
    pub crank: Option<Material>,
    pub pistons: Option<Material>,
    /// Of the mains; none: as the block.
    pub caps: Option<Material>,
    pub rods: Option<Material>,
    /// Pressed into the block, where there are any.
    pub sleeves: Option<Material>,
    /// Pressed into the rods’ small ends, where there are any.
    pub bushes: Option<Material>,
}

impl Materials {
    /// By their keys in the record, in the order block, head, crank, pistons, caps, rods, sleeves, bushes; an unknown one counts as not known.
    pub fn from_keys(keys: [Option<&str>; 8]) -> Self {
        let [block, head, crank, pistons, caps, rods, sleeves, bushes] =
            keys.map(|key| key.and_then(Material::from_key));
        Self { block, head, crank, pistons, caps, rods, sleeves, bushes }
    }

    /// What a kind of item is made of, as far as it is known.
    pub fn of(self, kind: ItemKind) -> Option<Material> {
        match kind {
            ItemKind::Block => self.block,
            ItemKind::Head => self.head,
            ItemKind::Crank => self.crank,
            ItemKind::Piston => self.pistons,
            ItemKind::Rod => self.rods,
            ItemKind::MainShells => None,
        }
    }

    /// What each is made of, as far as it is known, by the part's name.
    pub fn named(self) -> impl Iterator<Item = (&'static str, Material)> {
        let parts = [
            ("Block", self.block),
            ("Main caps", self.caps),
            ("Heads", self.head),
            ("Crank", self.crank),
            ("Rods", self.rods),
            ("Pistons", self.pistons),
            ("Sleeves", self.sleeves),
            ("Small ends’ bushes", self.bushes),
        ];
        parts.into_iter().filter_map(|(part, material)| Some((part, material?)))
    }

    /// Their keys in the record, in the same order.
    pub fn keys(self) -> [Option<&'static str>; 8] {
        [self.block, self.head, self.crank, self.pistons, self.caps, self.rods, self.sleeves, self.bushes]
            .map(|material| material.map(Material::key))
    }
}

impl Setup {
    /// A target in SI at a place: its own, or the one given for all.
    pub fn target(&self, feature: TargetFeature, place: Place) -> Option<f64> {
        let at = |place| self.targets.get(&TargetKey { feature, place }).copied();
        at(place).or_else(|| at(feature.whole()))
    }

    /// How a material expands: as the shop says, or else as it usually does.
    pub fn expansion(&self, material: Material) -> Expansion {
        self.expansions.get(&material).cloned().unwrap_or_else(|| material.expansion())
    }

    /// The target of a slot, in SI.
    pub fn target_of(&self, slot: &SlotKey) -> Option<f64> {
        self.target(TargetFeature::of_slot(&slot.feature)?, slot.place)
    }
}
