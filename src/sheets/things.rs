//! Of which kinds of things a sheet takes readings.

use super::sheet;
use crate::engine::{Architecture, ItemKind, Layout, Materials, Setup, SheetKey, WorkingUnit};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

/// Kinds hang on the sheet and not on the engine, so those of any engine will do.
static OF_SHEETS: LazyLock<BTreeMap<SheetKey, BTreeSet<ItemKind>>> = LazyLock::new(|| {
    let architecture = Architecture::new(Layout::Inline, 4, 5, Vec::new(), Vec::new()).expect("an inline four");
    let setup = Setup {
        architecture,
        unit: WorkingUnit::Inch,
        materials: Materials::default(),
        expansions: BTreeMap::new(),
        targets: BTreeMap::new(),
    };
    let kinds = |key| (sheet(key).slots)(&setup).into_iter().map(|slot| slot.item.kind).collect();
    SheetKey::ALL.into_iter().map(|key| (key, kinds(key))).collect()
});

/// The kinds of things that a sheet takes readings of.
pub fn things_read(key: SheetKey) -> &'static BTreeSet<ItemKind> {
    &OF_SHEETS[&key]
}
