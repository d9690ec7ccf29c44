//! What is read twice, the second time without seeing the first: asked for by a family or a job.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::job_record::JobRecord;
use crate::engine::{Setup, SheetKey, SlotFeature};
use crate::record::{families, second_readings};
use crate::sheets::{Depth, sheet};
use std::collections::{BTreeMap, BTreeSet};

/// A feature that can be asked to be read twice.
#[derive(Clone, Debug)]
pub struct SecondField {
    /// The feature's key.
    pub key: String,
    /// "Main bearings, gauge zeroed on the journal: clearance, vertical".
    pub title: String,
    pub wanted: bool,
}

/// Every feature of an engine that is read place by place, in bench order, with whether it is read twice.
pub(super) fn second_fields(setup: &Setup, wanted: &BTreeSet<SlotFeature>) -> Vec<SecondField> {
    let mut fields: Vec<SecondField> = Vec::new();
    for of in SheetKey::ALL.map(sheet) {
        for slot in (of.slots)(setup).into_iter().filter(|slot| slot.depth == Depth::Each) {
            let key = slot.key.feature.text();
            if fields.iter().all(|field| field.key != key) {
                let title = format!("{}, {}: {}", of.title, slot.group, slot.label);
                fields.push(SecondField { key, title, wanted: wanted.contains(&slot.key.feature) });
            }
        }
    }
    fields
}

/// What changes between what is asked for and what stands.
fn changes(keys: &[String], stands: &BTreeSet<SlotFeature>) -> Done<Vec<(SlotFeature, bool)>> {
    let asked: BTreeSet<SlotFeature> = keys.iter().map(|key| SlotFeature::parse(key)).collect();
    if asked.iter().any(|feature| matches!(feature, SlotFeature::Retired(_))) {
        let unknown = FieldFault::new("second", "choose from the list what is to be read twice");
        return Err(Refused::Faults(vec![unknown]));
    }
    let more = asked.difference(stands).map(|feature| (feature.clone(), true));
    let less = stands.difference(&asked).map(|feature| (feature.clone(), false));
    Ok(more.chain(less).collect())
}

impl Shop {
    /// Says which features of a job are read twice from now on.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job; [`Refused::Faults`] for a feature that is not read.
    pub async fn read_twice(&self, doing: &Doing, job: i64, keys: &[String]) -> Done<()> {
        let loaded = JobRecord::load(&mut *self.record.look().await?, job).await?.ok_or(Refused::NotFound)?;
        let changes = changes(keys, &loaded.second)?;
        let Some(mut w) = self.begin(doing, "ask for second readings", Some(job)).await? else { return Ok(()) };
        for (feature, wanted) in changes {
            second_readings::insert(&mut w, job, &feature, wanted).await?;
        }
        Ok(w.commit().await?)
    }

    /// Says which features of a family's later jobs are read twice.
    ///
    /// # Errors
    /// As [`Shop::read_twice`].
    pub async fn read_twice_in_family(&self, doing: &Doing, public_id: &str, keys: &[String]) -> Done<()> {
        let mut look = self.record.look().await?;
        let family = families::by_public_id(&mut look, public_id).await?.ok_or(Refused::NotFound)?;
        let changes = changes(keys, &second_readings::of_family(&mut look, family.id).await?)?;
        drop(look);
        let Some(mut w) = self.begin(doing, "ask for second readings", None).await? else { return Ok(()) };
        for (feature, wanted) in changes {
            second_readings::insert_for_family(&mut w, family.id, &feature, wanted).await?;
        }
        Ok(w.commit().await?)
    }
}

/// The features of a family as its page offers them.
pub(super) fn family_fields(family: &families::Family, wanted: &BTreeSet<SlotFeature>) -> Vec<SecondField> {
    second_fields(&setup_of(family), wanted)
}

/// What the sheets ask of a family's engines, whatever they aim at.
pub(super) fn setup_of(family: &families::Family) -> Setup {
    Setup {
        architecture: family.architecture.clone(),
        unit: family.unit,
        materials: family.materials,
        expansions: BTreeMap::new(),
        targets: BTreeMap::new(),
    }
}
