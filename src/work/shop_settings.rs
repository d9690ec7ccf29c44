//! The shop's own choices: what stands on its cards, its paper and its zone.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::round_temperatures::temperature;
use crate::metrology::Rule;
use crate::record::{Connection, settings};
use jiff::tz::TimeZone;
use std::collections::BTreeMap;

const NAME: &str = "shop-name";
const ADDRESS: &str = "shop-address";
const PHONE: &str = "shop-phone";
const PAPER: &str = "paper";
const ZONE: &str = "zone";
const WARRANTY: &str = "warranty";
const TEMPERATURE: &str = "usual-temperature";
const RULE: &str = "decision-rule";

/// Those that this page keeps.
const OURS: [&str; 8] = [NAME, ADDRESS, PHONE, PAPER, ZONE, WARRANTY, TEMPERATURE, RULE];

/// The shop's choices.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShopSettings {
    pub name: String,
    /// Lines.
    pub address: String,
    pub phone: String,
    /// `letter` or `a4`.
    pub paper: String,
    /// A zone's name, such as Europe/Paris.
    pub zone: String,
    /// Printed on cards where a job has none of its own.
    pub warranty: String,
    /// Of parts and gauges in the shop, as typed: what a new round is read at. Empty: sizes are not brought to 20 °C.
    pub temperature: String,
    /// `simple` or `guarded`: how limits are decided on jobs opened from now on.
    pub rule: String,
}

pub(super) fn zone(kept: &BTreeMap<String, String>) -> String {
    kept.get(ZONE).cloned().unwrap_or_else(|| "UTC".to_owned())
}

/// How limits are decided on a job opened now.
pub(super) fn rule(kept: &BTreeMap<String, String>) -> Rule {
    kept.get(RULE).and_then(|key| Rule::from_key(key)).unwrap_or(Rule::Simple)
}

/// What a new round is read at where nothing else is said, in °C.
pub(super) fn usual_temperature(kept: &BTreeMap<String, String>) -> Option<f64> {
    // It was understood before it was kept.
    temperature("temperature", kept.get(TEMPERATURE)?).ok().flatten()
}

pub(super) fn read(kept: &BTreeMap<String, String>) -> ShopSettings {
    let text = |key: &str| kept.get(key).cloned().unwrap_or_default();
    ShopSettings {
        name: text(NAME),
        address: text(ADDRESS),
        phone: text(PHONE),
        paper: kept.get(PAPER).cloned().unwrap_or_else(|| "letter".to_owned()),
        zone: zone(kept),
        warranty: text(WARRANTY),
        temperature: text(TEMPERATURE),
        rule: rule(kept).key().to_owned(),
    }
}

/// The act that last changed any of them, 0 for none.
async fn newest(db: &mut Connection) -> Done<i64> {
    let acts = settings::acts(db).await?.into_iter().filter(|(key, _)| OURS.contains(&key.as_str()));
    Ok(acts.map(|(_, act)| act).max().unwrap_or(0))
}

/// The act that last changed one that stands on cards, 0 for none; the shop's warranty only where the job has none.
pub(super) async fn newest_on_cards(db: &mut Connection, own_warranty: bool) -> Done<i64> {
    let stands = |key: &str| [NAME, ADDRESS, PHONE].contains(&key) || key == WARRANTY && !own_warranty;
    let acts = settings::acts(db).await?;
    Ok(acts.into_iter().filter(|(key, _)| stands(key)).map(|(_, act)| act).max().unwrap_or(0))
}

impl Shop {
    /// # Errors
    /// Where the record cannot be read.
    pub async fn settings(&self) -> Done<ShopSettings> {
        Ok(read(&settings::all(&mut *self.record.look().await?).await?))
    }

    /// The act that last changed them: what a form saw.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn settings_seen(&self) -> Done<i64> {
        newest(&mut *self.record.look().await?).await
    }

    /// Changes the shop's choices; `saw` is the act that last changed them when the form was shown, 0 for none.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, or a conflict where somebody changed them after the form was shown.
    pub async fn change_settings(&self, doing: &Doing, saw: i64, form: &ShopSettings) -> Done<()> {
        let mut faults = Vec::new();
        let texts = [
            ("name", &form.name, 120),
            ("address", &form.address, 400),
            ("phone", &form.phone, 60),
            ("warranty", &form.warranty, 600),
        ];
        faults.extend(texts.iter().filter_map(|(field, text, most)| FieldFault::too_long(field, text, *most)));
        if TimeZone::get(form.zone.trim()).is_err() {
            faults.push(FieldFault::new("zone", "enter a zone such as Europe/Paris, America/Chicago or UTC"));
        }
        if Rule::from_key(&form.rule).is_none() {
            faults.push(FieldFault::new("rule", "choose how limits are decided"));
        }
        faults.extend(temperature("temperature", &form.temperature).err());
        if !["letter", "a4"].contains(&form.paper.as_str()) {
            faults.push(FieldFault::new("paper", "choose Letter or A4"));
        }
        if !faults.is_empty() {
            return Err(Refused::Faults(faults));
        }
        let Some(mut w) = self.begin(doing, "change settings", None).await? else { return Ok(()) };
        if newest(&mut w).await? != saw {
            return Err(Refused::Conflict { stands: read(&settings::all(&mut w).await?).name });
        }
        let pairs = [
            (NAME, &form.name),
            (ADDRESS, &form.address),
            (PHONE, &form.phone),
            (PAPER, &form.paper),
            (ZONE, &form.zone),
            (WARRANTY, &form.warranty),
            (TEMPERATURE, &form.temperature),
            (RULE, &form.rule),
        ];
        let kept = settings::all(&mut w).await?;
        let changed = |(key, value): &(&str, &String)| kept.get(*key).map(String::as_str) != Some(value.trim());
        for (key, value) in pairs.into_iter().filter(changed) {
            settings::put(&mut w, key, value.trim()).await?;
        }
        Ok(w.commit().await?)
    }
}
