//! Engine families: kept from a job or by hand, copied into new jobs. A later change never alters an old job.

use super::doing::{Doing, Done, FieldFault, Refused};
use super::job_record::JobRecord;
use super::second_readings::{SecondField, family_fields};
use super::target_fields::target_label;
use super::{Shop, limits};
use crate::engine::{Architecture, DEFAULT_STEPS, Limit, Materials, SheetKey, SlotFeature, WorkingUnit};
use crate::record::families::{Family, FamilyStep, NewFamily};
use crate::record::targets::Target;
use crate::record::{Connection, Result, acts, families, second_readings, steps};
use crate::sheets::Words;
use std::collections::BTreeSet;

/// A family to choose from or to read.
#[derive(Clone, Debug)]
pub struct FamilyView {
    pub id: String,
    pub name: String,
    /// What is odd about it.
    pub note: String,
    /// "inline 4, 3 mains".
    pub engine: String,
    pub unit: WorkingUnit,
    pub limits: usize,
    pub steps: usize,
}

/// A family's own page.
#[derive(Clone, Debug)]
pub struct FamilyPage {
    pub family: FamilyView,
    /// The newest act that changed it: what its form saw.
    pub saw: i64,
    /// What is made of what, as far as it is known: "Block", "grey iron".
    pub materials: Vec<(&'static str, &'static str)>,
    /// What is aimed at, and how much: "bore", "3.5000 in".
    pub targets: Vec<(String, String)>,
    pub limits: Vec<FamilyLimit>,
    pub steps: Vec<String>,
    /// What its jobs can read twice.
    pub second: Vec<SecondField>,
}

/// A limit that a job of this family starts with.
#[derive(Clone, Debug)]
pub struct FamilyLimit {
    pub title: String,
    pub place: String,
    pub figures: String,
    pub source: String,
}

/// A family as typed.
#[derive(Clone, Debug, Default)]
pub struct FamilyForm {
    pub name: String,
    /// What is odd about it.
    pub note: String,
    /// The act that the form saw, where it changes a family that stands.
    pub saw: i64,
}

/// Everything a new job copies.
pub(super) struct CopiedFamily {
    pub id: i64,
    pub name: String,
    pub architecture: Architecture,
    pub materials: Materials,
    pub unit: WorkingUnit,
    pub targets: Vec<Target>,
    pub limits: Vec<Limit>,
    pub steps: Option<Vec<FamilyStep>>,
    pub second: BTreeSet<SlotFeature>,
}

pub(super) async fn copy(db: &mut Connection, public_id: &str) -> Result<Option<CopiedFamily>> {
    let Some(family) = families::by_public_id(db, public_id).await? else { return Ok(None) };
    Ok(Some(CopiedFamily {
        targets: families::targets_of(db, family.id).await?,
        limits: families::limits_of(db, family.id).await?,
        steps: families::steps_of(db, family.id).await?,
        second: second_readings::of_family(db, family.id).await?,
        id: family.id,
        name: family.name,
        architecture: family.architecture,
        materials: family.materials,
        unit: family.unit,
    }))
}

/// The default list of steps as a family would keep it.
pub(super) fn default_steps() -> Vec<FamilyStep> {
    let owned = |texts: &[&str]| texts.iter().map(|&text| text.to_owned()).collect();
    DEFAULT_STEPS
        .iter()
        .map(|step| FamilyStep {
            key: step.key.to_owned(),
            title: step.title.to_owned(),
            purpose: step.purpose.to_owned(),
            caution: step.caution.to_owned(),
            after: owned(step.after),
            sheets: step.sheets.iter().map(|sheet| sheet.key().to_owned()).collect(),
        })
        .collect()
}

impl Shop {
    /// Every family kept, by name.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn families(&self) -> Done<Vec<FamilyView>> {
        let mut look = self.record.look().await?;
        let limits = families::limits_by_family(&mut look).await?;
        let steps = families::steps_by_family(&mut look).await?;
        let view = |family: Family| {
            let limits = limits.get(&family.id).map_or(0, Vec::len);
            let steps = steps.get(&family.id).map_or(DEFAULT_STEPS.len(), Vec::len);
            view(family, limits, steps)
        };
        Ok(families::all(&mut look).await?.into_iter().map(view).collect())
    }

    /// A family's own page.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no family of this id.
    pub async fn family(&self, public_id: &str) -> Done<FamilyPage> {
        let mut look = self.record.look().await?;
        let family = families::by_public_id(&mut look, public_id).await?.ok_or(Refused::NotFound)?;
        let targets = families::targets_of(&mut look, family.id).await?;
        let limits = families::limits_of(&mut look, family.id).await?;
        let steps = families::steps_of(&mut look, family.id).await?.unwrap_or_else(default_steps);
        let second = second_readings::of_family(&mut look, family.id).await?;
        let (architecture, words) = (&family.architecture, Words { unit: family.unit });
        let limit = |limit: &Limit| {
            let place = limit.place.map_or("every place".to_owned(), |place| architecture.label(place));
            let seen = limits::view(limit, place, family.unit);
            FamilyLimit { title: seen.title, place: seen.place, figures: seen.figures, source: seen.source }
        };
        Ok(FamilyPage {
            saw: family.act,
            materials: family.materials.named().map(|(part, material)| (part, material.word())).collect(),
            targets: targets
                .iter()
                .map(|target| {
                    (target_label(architecture, target.key), words.said(target.key.feature.measure(), target.si))
                })
                .collect(),
            limits: limits.iter().map(limit).collect(),
            steps: steps.iter().map(|step| step.title.clone()).collect(),
            second: family_fields(&family, &second),
            family: view(family, limits.len(), steps.len()),
        })
    }

    /// Keeps a job's make-up, targets, limits and steps as a family to start from later; its public id.
    ///
    /// # Errors
    /// [`Refused::Faults`] where the name is missing or taken.
    pub async fn keep_as_family(&self, doing: &Doing, job: i64, form: &FamilyForm) -> Done<String> {
        let mut look = self.record.look().await?;
        let loaded = JobRecord::load(&mut look, job).await?.ok_or(Refused::NotFound)?;
        let list = steps::of(&mut look, Some(job)).await?;
        if let Some(act) = acts::by_key(&mut look, &doing.key).await? {
            return families::made_by(&mut look, act).await?.ok_or(Refused::NotFound);
        }
        let name = parse(form, &families::all(&mut look).await?, None)?;
        drop(look);
        // Keeping a family leaves the job as it is: the act is not one of the job's.
        let Some(mut w) = self.begin(doing, "keep family", None).await? else { return Err(Refused::NotFound) };
        let family = NewFamily {
            name,
            note: form.note.trim().to_owned(),
            architecture: loaded.engine.architecture.clone(),
            materials: loaded.engine.materials,
            unit: loaded.build.unit,
        };
        let (id, public_id) = families::insert(&mut w, job, &family).await?;
        for target in &loaded.targets {
            families::put_target(&mut w, id, target).await?;
        }
        for limit in &loaded.limits {
            families::insert_limit(&mut w, id, limit, &format!("from job {job}")).await?;
        }
        let key_of = |id: &i64| list.iter().find(|step| step.id == *id).map(|step| step.key.clone());
        let copied: Vec<FamilyStep> = list
            .iter()
            .map(|step| FamilyStep {
                key: step.key.clone(),
                title: step.title.clone(),
                purpose: step.purpose.clone(),
                caution: step.caution.clone(),
                after: step.after.iter().filter_map(key_of).collect(),
                sheets: step.sheets.iter().map(|sheet: &SheetKey| sheet.key().to_owned()).collect(),
            })
            .collect();
        families::insert_steps(&mut w, id, &copied).await?;
        for feature in &loaded.second {
            second_readings::insert_for_family(&mut w, id, feature, true).await?;
        }
        w.commit().await?;
        Ok(public_id)
    }

    /// Changes a family's name and what is odd about it.
    ///
    /// # Errors
    /// [`Refused::Faults`] where the name is missing or taken, or a conflict where somebody changed it after the form was
    /// shown.
    pub async fn change_family(&self, doing: &Doing, public_id: &str, form: &FamilyForm) -> Done<()> {
        let mut look = self.record.look().await?;
        let family = families::by_public_id(&mut look, public_id).await?.ok_or(Refused::NotFound)?;
        let name = parse(form, &families::all(&mut look).await?, Some(family.id))?;
        drop(look);
        let Some(mut w) = self.begin(doing, "change family", None).await? else { return Ok(()) };
        let now = families::by_id(&mut w, family.id).await?.ok_or(Refused::NotFound)?;
        if now.act != form.saw {
            return Err(Refused::Conflict { stands: format!("{}: {}", now.name, now.note) });
        }
        let changed = NewFamily {
            name,
            note: form.note.trim().to_owned(),
            architecture: now.architecture,
            materials: now.materials,
            unit: now.unit,
        };
        families::update(&mut w, family.id, &changed).await?;
        Ok(w.commit().await?)
    }
}

/// The name typed, if it is one and no other family has it.
fn parse(form: &FamilyForm, known: &[Family], own: Option<i64>) -> Done<String> {
    let name = form.name.trim();
    let mut faults = Vec::new();
    if name.is_empty() {
        faults.push(FieldFault::new("name", "give the family a name of your own"));
    }
    if known.iter().any(|other| other.name == name && Some(other.id) != own) {
        faults.push(FieldFault::new("name", "another family has this name: choose another"));
    }
    faults.extend(FieldFault::too_long("name", name, 120));
    faults.extend(FieldFault::too_long("note", &form.note, 2000));
    if faults.is_empty() { Ok(name.to_owned()) } else { Err(Refused::Faults(faults)) }
}

fn view(family: Family, limits: usize, steps: usize) -> FamilyView {
    FamilyView {
        engine: family.architecture.summary(),
        id: family.public_id,
        name: family.name,
        note: family.note,
        unit: family.unit,
        limits,
        steps,
    }
}
