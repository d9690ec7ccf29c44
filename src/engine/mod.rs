//! What is being built: layout, places, items, targets, slot keys, finding keys, limits, steps, the words of the card.
//!
//! Everything here is plain data with its own rules; nothing knows a database or a page. Keys are made to last: they stand
//! on internal ordinals (bank, index from the front), never on displayed numbers, and their texts are never renamed or reused.

mod architecture;
mod fact;
mod finding_feature;
mod finding_key;
mod finding_nature;
mod item;
mod kept_words;
mod limit;
mod measure;
mod place;
mod setup;
mod slot_feature;
mod slot_key;
mod spot;
mod step;
mod target;
mod target_group;

pub use architecture::{Architecture, ArchitectureFault, Layout, Pins};
pub use fact::{Audience, FACTS, FactGroup, FactKey};
pub use finding_feature::FindingFeature;
pub use finding_key::FindingKey;
pub use item::{ItemKind, ItemRef};
pub(crate) use kept_words::kept_words;
pub use limit::{Limit, LimitFault, LimitKind};
pub use measure::{Measure, WorkingUnit};
pub use place::{Place, UnknownPlace};
pub use setup::{Materials, Setup};
pub use slot_feature::SlotFeature;
pub use slot_key::SlotKey;
pub use spot::{
    Bearings, Corner, Flank, Height, Off, Passing, Plane, PressedIn, Quarter, Ring, Seating, Shell, Side, Spot, Way,
    Weighed,
};
pub use step::{DEFAULT_STEPS, DefaultStep, SheetKey};
pub use target::{TargetFeature, TargetKey};
pub use target_group::TargetGroup;
