//! What comes later to a job: customer, serials, numbering, firing order, materials, targets, the words of its card.

use super::doing::{Doing, Done, FieldFault, Refused};
use super::job::JobHead;
use super::job_record::JobRecord;
use super::target_fields::{changed_targets, target_keys, target_label, target_text};
use super::{Shop, sheet_pictures};
use crate::drawing::Drawing;
use crate::engine::{
    Architecture, ArchitectureFault, FACTS, FactKey, ItemKind, Materials, Pins, Place, TargetGroup, TargetKey,
    WorkingUnit,
};
use crate::metrology::{Material, Rule};
use crate::quantity::{Entry, Typed};
use crate::record::builds::NewBuild;
use crate::record::engines::NewEngine;
use crate::record::people::NewPerson;
use crate::record::{builds, engines, facts, items, people, targets};
use crate::sheets::Words;
use jiff::Timestamp;
use std::collections::BTreeMap;

/// A job's details as typed; empty means not known.
#[derive(Clone, Debug, Default)]
pub struct JobForm {
    /// The newest act the form saw: what is newer is a conflict.
    pub saw: i64,
    pub title: String,
    pub wants: String,
    pub customer: String,
    pub phone: String,
    pub email: String,
    pub address: String,
    pub unit: String,
    /// `simple` or `guarded`.
    pub rule: String,
    /// Displayed numbers bank by bank from the front: "1 3 5 7, 2 4 6 8".
    pub numbering: String,
    pub firing_order: String,
    pub block_material: String,
    pub head_material: String,
    pub crank_material: String,
    pub piston_material: String,
    pub cap_material: String,
    pub rod_material: String,
    pub sleeve_material: String,
    pub bush_material: String,
    /// How rods stand on crank pins.
    pub pins: String,
    /// Serial by item's public id.
    pub serials: BTreeMap<String, String>,
    /// Target as typed, by `feature@place`.
    pub targets: BTreeMap<String, String>,
    /// Text by fact's key.
    pub facts: BTreeMap<String, String>,
}

/// An item whose serial can be noted.
#[derive(Clone, Debug)]
pub struct SerialField {
    pub id: String,
    /// "block", "crank", "head, left bank".
    pub label: String,
    pub serial: String,
}

/// A target that can be set.
#[derive(Clone, Debug)]
pub struct TargetField {
    /// `feature@place`.
    pub key: String,
    pub label: String,
    pub typed: String,
    /// In the working unit, where it is set.
    pub shown: String,
    /// What it is for.
    pub meaning: &'static str,
    /// What it is of.
    pub group: TargetGroup,
    /// Of one place only, where the places may differ.
    pub by_place: bool,
}

/// The form of a job's details, filled from the record.
#[derive(Clone, Debug)]
pub struct JobFormView {
    pub head: JobHead,
    pub form: JobForm,
    pub serials: Vec<SerialField>,
    pub targets: Vec<TargetField>,
    pub facts: Vec<(FactKey, String)>,
    /// Whether two rods can share a crank pin.
    pub two_banks: bool,
    /// Numbering and firing order as they stand.
    pub plan: Drawing,
}

/// Details understood.
struct Parsed {
    build: NewBuild,
    engine: NewEngine,
    targets: Vec<(TargetKey, Option<Typed>)>,
}

impl Shop {
    /// # Errors
    /// [`Refused::NotFound`] where there is no such job.
    pub async fn job_form(&self, job: i64, now: Timestamp) -> Done<JobFormView> {
        let look = self.look_at_job(job, now).await?;
        let mut db = self.record.look().await?;
        let kept = facts::of_build(&mut db, job).await?;
        let (build, engine) = (&look.job.build, &look.job.engine);
        let customer = build.customer.and_then(|id| look.people.iter().find(|person| person.id == id)).cloned();
        let customer = customer.map(|p| (p.name, p.phone, p.email, p.address)).unwrap_or_default();
        let material = |material: Option<Material>| material.map_or_else(String::new, |m| m.key().to_owned());
        let words = Words { unit: build.unit };
        let per_bank = usize::from(engine.architecture.cylinders_per_bank());
        let banks = engine.architecture.numbering().chunks(per_bank.max(1));
        let form = JobForm {
            saw: build.act,
            title: build.title.clone(),
            wants: build.wants.clone(),
            customer: customer.0,
            phone: customer.1,
            email: customer.2,
            address: customer.3,
            unit: build.unit.key().to_owned(),
            rule: build.rule.key().to_owned(),
            numbering: banks.map(joined).collect::<Vec<_>>().join(", "),
            firing_order: engine.architecture.firing_order_text(),
            block_material: material(engine.materials.block),
            head_material: material(engine.materials.head),
            crank_material: material(engine.materials.crank),
            piston_material: material(engine.materials.pistons),
            cap_material: material(engine.materials.caps),
            rod_material: material(engine.materials.rods),
            sleeve_material: material(engine.materials.sleeves),
            bush_material: material(engine.materials.bushes),
            pins: engine.architecture.pins().word().to_owned(),
            serials: BTreeMap::new(),
            targets: BTreeMap::new(),
            facts: BTreeMap::new(),
        };
        let noted = |at: &crate::engine::ItemRef| matches!(at.kind, ItemKind::Block | ItemKind::Crank | ItemKind::Head);
        let targets = target_keys(&engine.architecture).map(|key| {
            let set = look.job.targets.iter().find(|target| target.key == key);
            TargetField {
                key: target_text(key),
                label: target_label(&engine.architecture, key),
                typed: set.map_or_else(String::new, |target| target.typed.clone()),
                shown: set.map_or_else(String::new, |target| words.said(key.feature.measure(), target.si)),
                meaning: key.feature.meaning(),
                group: key.feature.group(),
                by_place: key.place != key.feature.whole(),
            }
        });
        Ok(JobFormView {
            serials: look
                .job
                .items
                .iter()
                .filter(|item| noted(&item.at))
                .map(|item| SerialField {
                    id: item.public_id.clone(),
                    label: item_label(&engine.architecture, item.at),
                    serial: item.serial.clone(),
                })
                .collect(),
            targets: targets.collect(),
            facts: FACTS.into_iter().map(|fact| (fact, kept.get(fact.key).cloned().unwrap_or_default())).collect(),
            two_banks: engine.architecture.banks() > 1,
            plan: sheet_pictures::numbering(&engine.architecture, true),
            head: look.head(),
            form,
        })
    }

    /// Changes a job's details. Only what differs is written.
    ///
    /// # Errors
    /// Every fault at once, or a conflict where somebody changed the job after the form was shown.
    pub async fn change_job(&self, doing: &Doing, job: i64, form: &JobForm) -> Done<()> {
        let mut look = self.record.look().await?;
        let loaded = JobRecord::load(&mut look, job).await?.ok_or(Refused::NotFound)?;
        let kept = facts::of_build(&mut look, job).await?;
        let customer = match loaded.build.customer {
            Some(id) => people::by_id(&mut look, id).await?,
            None => None,
        };
        drop(look);
        let parsed = parse(&loaded, form)?;
        let Some(mut w) = self.begin(doing, "change job", Some(job)).await? else { return Ok(()) };
        let now = builds::by_id(&mut w, job).await?.ok_or(Refused::NotFound)?;
        if form.saw != now.act {
            return Err(Refused::Conflict { stands: format!("{}: {}", now.title, now.wants) });
        }
        let person = customer_of(form);
        let customer = match (customer, person.name.is_empty()) {
            (Some(known), false) => {
                people::update(&mut w, known.id, &person).await?;
                Some(known.id)
            }
            (None, false) => Some(people::insert(&mut w, &person).await?),
            (_, true) => None,
        };
        builds::update(&mut w, job, &NewBuild { customer, ..parsed.build }).await?;
        engines::update(&mut w, loaded.engine.id, &parsed.engine).await?;
        for item in &loaded.items {
            match form.serials.get(&item.public_id).map(|serial| serial.trim()) {
                Some(serial) if serial != item.serial => items::set_serial(&mut w, item.item, serial).await?,
                _ => {}
            }
        }
        for (key, typed) in parsed.targets {
            let (si, text) = match &typed {
                Some(Typed { entry: Entry::Figure(q), text, .. }) => (Some(q.si), text.as_str()),
                _ => (None, ""),
            };
            targets::put(&mut w, job, key, si, text).await?;
        }
        for (key, text) in &form.facts {
            let known = kept.get(key).map_or("", String::as_str);
            if FactKey::find(key).is_some() && known != text.trim() {
                facts::put(&mut w, job, key, text.trim()).await?;
            }
        }
        Ok(w.commit().await?)
    }
}

/// The customer as typed; without a name there is none.
fn customer_of(form: &JobForm) -> NewPerson {
    let text = |text: &str| text.trim().to_owned();
    NewPerson {
        name: text(&form.customer),
        phone: text(&form.phone),
        email: text(&form.email),
        address: text(&form.address),
        works_here: false,
    }
}

/// What is wrong with the words of the form.
fn faults_of_words(form: &JobForm) -> Vec<FieldFault> {
    let mut faults = Vec::new();
    if form.title.trim().is_empty() {
        faults.push(FieldFault::new("title", "say what it is"));
    }
    let customer = customer_of(form);
    if customer.name.is_empty() && [&customer.phone, &customer.email, &customer.address].iter().any(|t| !t.is_empty()) {
        faults.push(FieldFault::new("customer", "say whose phone or address this is"));
    }
    let texts = [
        ("title", &form.title, 120),
        ("wants", &form.wants, 2000),
        ("customer", &form.customer, 120),
        ("phone", &form.phone, 60),
        ("email", &form.email, 120),
        ("address", &form.address, 400),
    ];
    faults.extend(texts.iter().filter_map(|(field, text, most)| FieldFault::too_long(field, text, *most)));
    faults.extend(form.serials.iter().filter_map(|(id, serial)| FieldFault::too_long(id, serial, 60)));
    faults.extend(form.facts.iter().filter_map(|(key, text)| FieldFault::too_long(key, text, 600)));
    faults
}

fn parse(loaded: &JobRecord, form: &JobForm) -> Done<Parsed> {
    let mut faults = faults_of_words(form);
    let unit = WorkingUnit::from_key(&form.unit);
    if unit.is_none() {
        faults.push(FieldFault::new("unit", "choose inch or millimetre"));
    }
    let rule = Rule::from_key(&form.rule);
    if rule.is_none() {
        faults.push(FieldFault::new("rule", "choose the simple or the guarded rule"));
    }
    let known = &loaded.engine.architecture;
    // A form that does not ask leaves them as they are.
    let pins = if form.pins.is_empty() { Some(known.pins()) } else { Pins::from_word(&form.pins) };
    if pins.is_none() {
        faults.push(FieldFault::new("pins", "choose single or shared pins"));
    }
    let architecture = parse_order(known, form, &mut faults).zip(pins).map(|(order, pins)| order.with_pins(pins));
    let mut material = |field: &str, text: &str| match text {
        "" => None,
        key => {
            let material = Material::from_key(key);
            if material.is_none() {
                faults.push(FieldFault::new(field, "choose a material from the list"));
            }
            material
        }
    };
    let materials = Materials {
        block: material("block_material", &form.block_material),
        head: material("head_material", &form.head_material),
        crank: material("crank_material", &form.crank_material),
        pistons: material("piston_material", &form.piston_material),
        caps: material("cap_material", &form.cap_material),
        rods: material("rod_material", &form.rod_material),
        sleeves: material("sleeve_material", &form.sleeve_material),
        bushes: material("bush_material", &form.bush_material),
    };
    let targets = changed_targets(loaded, form, unit.unwrap_or(loaded.build.unit), &mut faults);
    match (unit, rule, architecture, faults.is_empty()) {
        (Some(unit), Some(rule), Some(architecture), true) => Ok(Parsed {
            build: NewBuild {
                customer: loaded.build.customer,
                kind: loaded.build.kind,
                title: form.title.trim().to_owned(),
                wants: form.wants.trim().to_owned(),
                unit,
                rule,
            },
            engine: NewEngine { family: loaded.engine.family, architecture, materials },
            targets,
        }),
        _ => Err(Refused::Faults(faults)),
    }
}

/// Numbering and firing order as typed, each judged by itself; none where either cannot be.
fn parse_order(known: &Architecture, form: &JobForm, faults: &mut Vec<FieldFault>) -> Option<Architecture> {
    let made = |numbering: &[u8], firing: &[u8]| {
        Architecture::new(known.layout(), known.cylinders(), known.mains(), numbering.to_vec(), firing.to_vec())
    };
    let numbering = numbers(&form.numbering).filter(|numbering| made(numbering, &[]).is_ok());
    if numbering.is_none() {
        faults.push(FieldFault::new("numbering", ArchitectureFault::Numbering(known.cylinders())));
    }
    let counted = numbering.as_deref().unwrap_or(known.numbering());
    let architecture = numbers(&form.firing_order).and_then(|firing| made(counted, &firing).ok());
    if architecture.is_none() {
        faults.push(FieldFault::new("firing_order", ArchitectureFault::FiringOrder));
    }
    architecture.filter(|_| numbering.is_some())
}

pub(super) fn item_label(architecture: &Architecture, at: crate::engine::ItemRef) -> String {
    match (at.kind, at.place) {
        (ItemKind::Head, Place::Cylinder { bank, .. }) if architecture.banks() > 1 => {
            let first = architecture.number(Place::Cylinder { bank, index: 0 }).unwrap_or(0);
            format!("head over cylinder {first}")
        }
        (kind, _) => kind.word().to_owned(),
    }
}

fn joined(numbers: &[u8]) -> String {
    numbers.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")
}

/// Numbers separated by spaces or signs; none where something else stands between, or one is too large.
fn numbers(text: &str) -> Option<Vec<u8>> {
    let between = |c: char| c.is_whitespace() || "-–,.;/|".contains(c);
    text.split(between).filter(|part| !part.is_empty()).map(|part| part.parse().ok()).collect()
}
