//! Engine families: kept from a job or by hand, copied into new jobs. A later change never alters an old job.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::job_record::JobRecord;
use crate::engine::{Architecture, DEFAULT_STEPS, Limit, SheetKey, WorkingUnit};
use crate::metrology::Material;
use crate::record::families::{FamilyStep, NewFamily};
use crate::record::targets::Target;
use crate::record::{Connection, Result, families, steps};

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

/// A family as typed.
#[derive(Clone, Debug, Default)]
pub struct FamilyForm {
    pub name: String,
    pub note: String,
}

/// Everything a new job copies.
pub(super) struct CopiedFamily {
    pub id: i64,
    pub name: String,
    pub architecture: Architecture,
    pub block_material: Option<Material>,
    pub head_material: Option<Material>,
    pub unit: WorkingUnit,
    pub targets: Vec<Target>,
    pub limits: Vec<Limit>,
    pub steps: Option<Vec<FamilyStep>>,
}

pub(super) async fn copy(db: &mut Connection, public_id: &str) -> Result<Option<CopiedFamily>> {
    let Some(family) = families::by_public_id(db, public_id).await? else { return Ok(None) };
    Ok(Some(CopiedFamily {
        targets: families::targets_of(db, family.id).await?,
        limits: families::limits_of(db, family.id).await?,
        steps: families::steps_of(db, family.id).await?,
        id: family.id,
        name: family.name,
        architecture: family.architecture,
        block_material: family.block_material,
        head_material: family.head_material,
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
        let mut views = Vec::new();
        for family in families::all(&mut look).await? {
            let steps = families::steps_of(&mut look, family.id).await?;
            views.push(FamilyView {
                limits: families::limits_of(&mut look, family.id).await?.len(),
                steps: steps.map_or(DEFAULT_STEPS.len(), |steps| steps.len()),
                engine: family.architecture.summary(),
                id: family.public_id,
                name: family.name,
                note: family.note,
                unit: family.unit,
            });
        }
        Ok(views)
    }

    /// Keeps a job's make-up, targets, limits and steps as a family to start from later.
    ///
    /// # Errors
    /// [`Refused::Faults`] where the name is missing or taken.
    pub async fn keep_as_family(&self, doing: &Doing, job: i64, form: &FamilyForm) -> Done<()> {
        let mut look = self.record.look().await?;
        let loaded = JobRecord::load(&mut look, job).await?.ok_or(Refused::NotFound)?;
        let list = steps::of(&mut look, Some(job)).await?;
        let name = form.name.trim();
        if name.is_empty() {
            return Err(Refused::fault("name", "give the family a name of your own"));
        }
        if families::all(&mut look).await?.iter().any(|family| family.name == name) {
            return Err(Refused::fault("name", "a family of this name is kept already: choose another name"));
        }
        drop(look);
        let Some(mut w) = self.begin(doing, "keep family", Some(job)).await? else { return Ok(()) };
        let family = NewFamily {
            name: name.to_owned(),
            note: form.note.trim().to_owned(),
            architecture: loaded.engine.architecture.clone(),
            block_material: loaded.engine.block_material,
            head_material: loaded.engine.head_material,
            unit: loaded.build.unit,
        };
        let id = families::insert(&mut w, &family).await?;
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
        Ok(w.commit().await?)
    }

    /// Changes a family's name and what is odd about it.
    ///
    /// # Errors
    /// [`Refused::Faults`] where the name is missing or taken.
    pub async fn change_family(&self, doing: &Doing, public_id: &str, form: &FamilyForm) -> Done<()> {
        let mut look = self.record.look().await?;
        let family = families::by_public_id(&mut look, public_id).await?.ok_or(Refused::NotFound)?;
        let name = form.name.trim();
        let mut faults = Vec::new();
        if name.is_empty() {
            faults.push(FieldFault::new("name", "give the family a name of your own"));
        }
        if families::all(&mut look).await?.iter().any(|other| other.name == name && other.id != family.id) {
            faults.push(FieldFault::new("name", "another family has this name: choose another"));
        }
        if !faults.is_empty() {
            return Err(Refused::Faults(faults));
        }
        drop(look);
        let Some(mut w) = self.begin(doing, "change family", None).await? else { return Ok(()) };
        let changed = NewFamily {
            name: name.to_owned(),
            note: form.note.trim().to_owned(),
            architecture: family.architecture,
            block_material: family.block_material,
            head_material: family.head_material,
            unit: family.unit,
        };
        families::update(&mut w, family.id, &changed).await?;
        Ok(w.commit().await?)
    }
}
