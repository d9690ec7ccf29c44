//! Where a family differs from the map of changes: what is stale on its engines besides, or is not.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::second_readings::setup_of;
use super::when::When;
use crate::engine::{SheetKey, SlotFeature};
use crate::record::changes::{self, NewFamilyChange};
use crate::record::families::{self, Family};
use crate::record::settings;
use crate::sheets::{Change, sheet};
use jiff::Timestamp;

/// Where a family differs from the map of changes, as its page shows it.
#[derive(Clone, Debug)]
pub struct FamilyChangeView {
    pub id: i64,
    /// "other rod bolts: Rods: rod, length is not stale".
    pub words: String,
    pub reason: String,
    pub when: String,
}

/// Where a family differs, as typed.
#[derive(Clone, Debug, Default)]
pub struct FamilyChangeForm {
    /// A change's key.
    pub change: String,
    /// A slot feature's key.
    pub slot: String,
    /// Whether it is stale by it there.
    pub stale: bool,
    pub reason: String,
}

/// The page of where a family differs.
#[derive(Clone, Debug)]
pub struct FamilyChangesView {
    pub family: String,
    pub name: String,
    pub differs: Vec<FamilyChangeView>,
    /// What can change: key and words.
    pub kinds: Vec<(&'static str, &'static str)>,
    /// What is read on its engines: key and words.
    pub slots: Vec<(String, String)>,
}

/// What is read on a family's engines, each feature once: its key, and its words with the sheet's before them.
fn asked(family: &Family) -> Vec<(String, String)> {
    let setup = setup_of(family);
    let mut all: Vec<(String, String)> = Vec::new();
    for of in SheetKey::ALL.into_iter().map(sheet) {
        for slot in (of.slots)(&setup) {
            let key = slot.key.feature.text();
            if !all.iter().any(|(known, _)| *known == key) {
                all.push((key, format!("{}: {}, {}", of.title, slot.group, slot.label)));
            }
        }
    }
    all
}

impl Shop {
    /// Where a family differs from the map of changes.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such family.
    pub async fn family_changes(&self, public_id: &str, now: Timestamp) -> Done<FamilyChangesView> {
        let mut db = self.record.look().await?;
        let family = families::by_public_id(&mut db, public_id).await?.ok_or(Refused::NotFound)?;
        let differs = changes::of_family(&mut db, family.id).await?;
        let when = When::new(&super::shop_settings::zone(&settings::all(&mut db).await?), now);
        let slots = asked(&family);
        let words_of = |slot: &SlotFeature| {
            let key = slot.text();
            slots.iter().find(|(known, _)| *known == key).map_or(key.clone(), |(_, words)| words.clone())
        };
        Ok(FamilyChangesView {
            family: family.public_id.clone(),
            name: family.name.clone(),
            differs: differs
                .iter()
                .map(|one| FamilyChangeView {
                    id: one.id,
                    words: format!(
                        "{}: {} is {}stale",
                        one.said.change.word(),
                        words_of(&one.said.slot),
                        if one.said.stale { "" } else { "not " }
                    ),
                    reason: one.said.reason.clone(),
                    when: when.stamp(&one.stamp),
                })
                .collect(),
            kinds: super::changes::kinds_of_change(),
            slots,
        })
    }

    /// Notes where a family differs from the map of changes: what is stale there besides, or is not.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such family; [`Refused::Faults`] for what is not in the lists.
    pub async fn differ_on_change(&self, doing: &Doing, family: &str, form: &FamilyChangeForm) -> Done<()> {
        let family = families::by_public_id(&mut *self.record.look().await?, family).await?.ok_or(Refused::NotFound)?;
        let mut faults: Vec<FieldFault> = FieldFault::too_long("reason", &form.reason, 500).into_iter().collect();
        let change = Change::from_key(&form.change);
        if change.is_none() {
            faults.push(FieldFault::new("change", "choose what is changed"));
        }
        let slot = SlotFeature::parse(&form.slot);
        if !asked(&family).iter().any(|(key, _)| *key == form.slot) {
            faults.push(FieldFault::new("slot", "choose what is read"));
        }
        if form.reason.trim().is_empty() {
            faults.push(FieldFault::new("reason", "say why it is otherwise on these engines"));
        }
        let (Some(change), true) = (change, faults.is_empty()) else { return Err(Refused::Faults(faults)) };
        let new = NewFamilyChange { change, slot, stale: form.stale, reason: form.reason.trim().to_owned() };
        let Some(mut w) = self.begin(doing, "differ on change", None).await? else { return Ok(()) };
        changes::differ(&mut w, family.id, &new).await?;
        w.commit().await?;
        // Every job of the family may rest on it.
        self.memo.clear();
        Ok(())
    }

    /// Withdraws where a family differs.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such family, or it does not differ so.
    pub async fn differ_no_more(&self, doing: &Doing, family: &str, id: i64) -> Done<()> {
        let family = families::by_public_id(&mut *self.record.look().await?, family).await?.ok_or(Refused::NotFound)?;
        let Some(mut w) = self.begin(doing, "differ no more on change", None).await? else { return Ok(()) };
        if !changes::differ_no_more(&mut w, family.id, id).await? {
            return Err(Refused::NotFound);
        }
        w.commit().await?;
        self.memo.clear();
        Ok(())
    }
}
