//! Targets as the form of a job's details has them: which can be set, how each is called, what of them was changed.

use super::doing::FieldFault;
use super::edit_job::JobForm;
use super::job_record::JobRecord;
use crate::engine::{Architecture, Place, TargetFeature, TargetKey, WorkingUnit};
use crate::quantity::{Entry, Typed, read};

/// Targets whose text differs from what stands; none lifts one.
pub(super) fn changed_targets(
    loaded: &JobRecord,
    form: &JobForm,
    unit: WorkingUnit,
    faults: &mut Vec<FieldFault>,
) -> Vec<(TargetKey, Option<Typed>)> {
    let mut changed = Vec::new();
    for key in target_keys(&loaded.engine.architecture) {
        let text_key = target_text(key);
        let Some(text) = form.targets.get(&text_key).map(|text| text.trim()) else { continue };
        let known = loaded.targets.iter().find(|target| target.key == key).map_or("", |target| target.typed.as_str());
        if text == known {
            continue;
        }
        if text.is_empty() {
            changed.push((key, None));
            continue;
        }
        match read(text, &key.feature.how_read(unit)) {
            Ok(typed) if matches!(typed.entry, Entry::Figure(q) if key.feature.can_be(q.si)) => {
                changed.push((key, Some(typed)));
            }
            Ok(_) => faults.push(FieldFault::new(&*text_key, "enter one figure above zero that can be")),
            Err(fault) => faults.push(FieldFault::new(&*text_key, fault)),
        }
    }
    changed
}

/// Every target that can be set: each for all its places; journals and housings also main by main, as they may differ.
pub(super) fn target_keys(architecture: &Architecture) -> impl Iterator<Item = TargetKey> {
    let whole = TargetFeature::all().map(|feature| TargetKey { feature, place: feature.whole() });
    let mains: Vec<Place> = architecture.main_places().collect();
    let by_main = [TargetFeature::MainJournal, TargetFeature::MainHousing, TargetFeature::MainShellWall];
    whole.chain(
        by_main
            .into_iter()
            .flat_map(move |feature| mains.clone().into_iter().map(move |place| TargetKey { feature, place })),
    )
}

pub(super) fn target_text(key: TargetKey) -> String {
    format!("{}@{}", key.feature.key(), key.place)
}

pub(super) fn target_label(architecture: &Architecture, key: TargetKey) -> String {
    if key.place == key.feature.whole() {
        key.feature.title().to_owned()
    } else {
        format!("{}, {}", key.feature.title(), architecture.label(key.place))
    }
}
