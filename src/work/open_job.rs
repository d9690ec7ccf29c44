//! A new job, as on the phone: who, what it is, what he wants; layout, cylinders and mains open every sheet.

use super::doing::{Doing, Done, FieldFault, Refused};
use super::families::{self, CopiedFamily};
use super::{Shop, shop_settings};
use crate::engine::{Architecture, ItemKind, ItemRef, Layout, Place, WorkingUnit};
use crate::record::builds::{BuildKind, NewBuild};
use crate::record::engines::NewEngine;
use crate::record::people::NewPerson;
use crate::record::{
    self, Writing, acts, builds, engines, items, limits, people, second_readings, settings, steps, targets,
};

/// A job to open, as typed.
#[derive(Clone, Debug, Default)]
pub struct NewJob {
    /// Whose engine: somebody known by this name and phone, or a new person. Empty for an engine that comes back: whose
    /// it was.
    pub name: String,
    pub phone: String,
    /// What it is.
    pub title: String,
    /// What he wants.
    pub wants: String,
    /// Public id of the family to start from; empty for none.
    pub family: String,
    /// A layout's word; empty where a family gives it.
    pub layout: String,
    pub cylinders: String,
    pub mains: String,
    /// `inch` or `millimetre`; empty where the job before or a family gives it, or else inch.
    pub unit: String,
    /// Job number whose engine comes back for a refresh or repair; empty for an engine new to the shop.
    pub engine_of: String,
    /// `new`, `refresh` or `repair`; empty for new.
    pub kind: String,
}

/// A job whose words have been understood.
struct Parsed {
    build: NewBuild,
    engine: Engine,
    family: Option<CopiedFamily>,
}

enum Engine {
    New(NewEngine),
    /// Comes back with everything that is fitted in it; the job it came from.
    Back {
        engine: i64,
        from: i64,
    },
}

impl Shop {
    /// Opens a job with its engine, items, steps, and what its family gives; its number.
    ///
    /// # Errors
    /// [`Refused::Faults`] with every fault of the form.
    pub async fn open_job(&self, doing: &Doing, new: &NewJob) -> Done<i64> {
        let parsed = self.parse_job(new).await?;
        let Some((number, mut w)) = self.begin_job(doing).await? else {
            return self.job_opened_by(&doing.key).await;
        };
        let customer = match new.name.trim() {
            "" => parsed.build.customer,
            name => Some(customer(&mut w, name, new.phone.trim()).await?),
        };
        let engine = match &parsed.engine {
            Engine::New(engine) => {
                let id = engines::insert(&mut w, engine).await?;
                fit_items(&mut w, id, &engine.architecture).await?;
                id
            }
            Engine::Back { engine, .. } => {
                if let Some(back) = engines::by_id(&mut w, *engine).await? {
                    fit_items(&mut w, *engine, &back.architecture).await?;
                }
                *engine
            }
        };
        builds::insert(&mut w, number, engine, &NewBuild { customer, ..parsed.build.clone() }).await?;
        if let Engine::Back { from, .. } = parsed.engine {
            copy_aims(&mut w, from, number).await?;
        }
        let list =
            parsed.family.as_ref().and_then(|family| family.steps.clone()).unwrap_or_else(families::default_steps);
        steps::insert(&mut w, number, &list).await?;
        if let Some(family) = &parsed.family {
            for target in &family.targets {
                targets::put(&mut w, number, target.key, Some(target.si), &target.typed).await?;
            }
            for feature in &family.second {
                second_readings::insert(&mut w, number, feature, true).await?;
            }
            for limit in &family.limits {
                limits::insert(&mut w, number, limit, &format!("from the family {}", family.name)).await?;
            }
        }
        w.commit().await?;
        Ok(number)
    }

    /// Begins the act that opens a job, with the job's number; none where it was done already.
    async fn begin_job(&self, doing: &Doing) -> Done<Option<(i64, Writing)>> {
        loop {
            let number = builds::next_number(&mut *self.record.look().await?).await?;
            let Some(mut w) = self.begin(doing, "open job", Some(number)).await? else { return Ok(None) };
            // The act names the job before its row stands; another tablet may have taken the number meanwhile.
            if builds::next_number(&mut w).await? == number {
                return Ok(Some((number, w)));
            }
        }
    }

    async fn job_opened_by(&self, key: &str) -> Done<i64> {
        let mut look = self.record.look().await?;
        let act = acts::by_key(&mut look, key).await?.ok_or(Refused::NotFound)?;
        acts::build_of(&mut look, act).await?.ok_or(Refused::NotFound)
    }

    async fn parse_job(&self, new: &NewJob) -> Done<Parsed> {
        let mut look = self.record.look().await?;
        let mut faults = Vec::new();
        if new.title.trim().is_empty() {
            faults.push(FieldFault::new("title", "say what it is: such as “inline four, 1.6, for a vintage car”"));
        }
        let kind = if new.kind.is_empty() { Some(BuildKind::New) } else { BuildKind::from_word(&new.kind) };
        if kind.is_none() {
            faults.push(FieldFault::new("kind", "choose new, refresh or repair"));
        }
        let family = match new.family.as_str() {
            "" => None,
            public_id => {
                let family = families::copy(&mut look, public_id).await?;
                if family.is_none() {
                    faults.push(FieldFault::new("family", "this family is no longer kept: choose another, or none"));
                }
                family
            }
        };
        let back = match new.engine_of.trim() {
            "" => None,
            number => {
                let build = match number.parse() {
                    Ok(number) => builds::by_id(&mut look, number).await?,
                    Err(_) => None,
                };
                if build.is_none() {
                    faults.push(FieldFault::new("engine_of", "enter the number of the job this engine was built in"));
                }
                build
            }
        };
        let unit = match new.unit.as_str() {
            "" => {
                let known = back.as_ref().map(|build| build.unit).or(family.as_ref().map(|family| family.unit));
                Some(known.unwrap_or(WorkingUnit::Inch))
            }
            unit => WorkingUnit::from_key(unit),
        };
        if unit.is_none() {
            faults.push(FieldFault::new("unit", "choose inch or millimetre"));
        }
        let engine = match &back {
            Some(build) => Some(Engine::Back { engine: build.engine, from: build.id }),
            None => architecture(new, family.as_ref(), &mut faults).map(|architecture| {
                Engine::New(NewEngine {
                    family: family.as_ref().map(|family| family.id),
                    materials: family.as_ref().map(|family| family.materials).unwrap_or_default(),
                    architecture,
                })
            }),
        };
        match (kind, unit, engine, faults.is_empty()) {
            (Some(kind), Some(unit), Some(engine), true) => Ok(Parsed {
                build: NewBuild {
                    customer: back.and_then(|build| build.customer),
                    kind,
                    title: new.title.trim().to_owned(),
                    wants: new.wants.trim().to_owned(),
                    unit,
                    rule: shop_settings::rule(&settings::all(&mut look).await?),
                },
                engine,
                family,
            }),
            _ => Err(Refused::Faults(faults)),
        }
    }
}

/// Layout, cylinders and mains as typed, or else the family's.
fn architecture(new: &NewJob, family: Option<&CopiedFamily>, faults: &mut Vec<FieldFault>) -> Option<Architecture> {
    let typed = [&new.layout, &new.cylinders, &new.mains].iter().any(|text| !text.trim().is_empty());
    if let (Some(family), false) = (family, typed) {
        return Some(family.architecture.clone());
    }
    let layout = Layout::from_word(new.layout.trim());
    if layout.is_none() {
        faults.push(FieldFault::new("layout", "choose inline, vee or opposed"));
    }
    let cylinders = count("cylinders", &new.cylinders, "enter the number of cylinders, 1 to 16", faults);
    let mains = count("mains", &new.mains, "enter the number of main bearings, 1 to 17", faults);
    let made = Architecture::new(layout?, cylinders?, mains?, vec![], vec![]);
    made.map_err(|fault| {
        let field = if fault == crate::engine::ArchitectureFault::Mains { "mains" } else { "cylinders" };
        faults.push(FieldFault::new(field, fault));
    })
    .ok()
}

fn count(field: &str, text: &str, what_to_enter: &str, faults: &mut Vec<FieldFault>) -> Option<u8> {
    let number = text.trim().parse().ok();
    if number.is_none() {
        faults.push(FieldFault::new(field, what_to_enter));
    }
    number
}

/// Somebody who does not work here, of this name and phone: known, or made.
async fn customer(w: &mut Writing, name: &str, phone: &str) -> record::Result<i64> {
    let all = people::all(w).await?;
    if let Some(known) = all.iter().find(|p| !p.works_here && p.name == name && p.phone == phone) {
        return Ok(known.id);
    }
    people::insert(w, &NewPerson { name: name.to_owned(), phone: phone.to_owned(), ..NewPerson::default() }).await
}

/// Block, crank, heads, and for each place its piston, rod and shells; of an engine that comes back what has left it
/// meanwhile.
async fn fit_items(w: &mut Writing, engine: i64, architecture: &Architecture) -> record::Result<()> {
    let mut all = vec![ItemRef::single(ItemKind::Block), ItemRef::single(ItemKind::Crank)];
    for bank in 0..architecture.banks() {
        all.push(ItemRef { kind: ItemKind::Head, place: Place::Cylinder { bank, index: 0 } });
    }
    for place in architecture.cylinder_places() {
        all.extend([ItemKind::Piston, ItemKind::Rod].map(|kind| ItemRef { kind, place }));
    }
    all.extend(architecture.main_places().map(|place| ItemRef { kind: ItemKind::MainShells, place }));
    let fitted = items::fitted(w, engine).await?;
    for at in all.into_iter().filter(|at| fitted.iter().all(|item| item.at != *at)) {
        items::fit_new(w, engine, at, "").await?;
    }
    Ok(())
}

/// A refresh aims at what the build before it aimed at.
async fn copy_aims(w: &mut Writing, from: i64, to: i64) -> record::Result<()> {
    for target in targets::of_build(w, from).await? {
        targets::put(w, to, target.key, Some(target.si), &target.typed).await?;
    }
    for feature in second_readings::of_build(w, from).await? {
        second_readings::insert(w, to, &feature, true).await?;
    }
    for limit in limits::of_build(w, from).await? {
        limits::insert(w, to, &limit, &format!("as in job {from}")).await?;
    }
    Ok(())
}
