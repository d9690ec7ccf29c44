//! How materials expand: the usual coefficients, and the shop's own instead.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use crate::metrology::{Expansion, Material};
use crate::record::expansions;

/// What a material's coefficient can be at all, per K.
const POSSIBLE: std::ops::RangeInclusive<f64> = 0.1e-6..=100e-6;

/// A material's expansion, as the shop goes by it. Coefficients in 10⁻⁶ per K.
#[derive(Clone, Debug)]
pub struct ExpansionView {
    pub material: Material,
    pub form: ExpansionForm,
    /// The shop's own, instead of the usual one.
    pub own: bool,
    /// "usually 21.5 (21.4 to 22.5), data sheet …".
    pub usual: String,
    /// The act that last changed it, 0 where it was never changed: what its form saw.
    pub saw: i64,
}

/// A coefficient as typed, in 10⁻⁶ per K.
#[derive(Clone, Debug, Default)]
pub struct ExpansionForm {
    pub per_kelvin: String,
    /// Least and most it may be.
    pub low: String,
    pub high: String,
    pub source: String,
}

impl Shop {
    /// Every material with how it expands.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn expansions(&self) -> Done<Vec<ExpansionView>> {
        let own = expansions::all(&mut *self.record.look().await?).await?;
        let view = |material: Material| {
            let usual = material.expansion();
            let changed = own.get(&material);
            let (low, high) = usual.span;
            let shown = changed.map_or(&usual, |own| &own.expansion);
            ExpansionView {
                material,
                form: ExpansionForm {
                    per_kelvin: micro(shown.per_kelvin),
                    low: micro(shown.span.0),
                    high: micro(shown.span.1),
                    source: shown.source.to_string(),
                },
                own: changed.is_some(),
                usual: format!(
                    "usually {} ({} to {}); {}",
                    micro(usual.per_kelvin),
                    micro(low),
                    micro(high),
                    usual.source
                ),
                saw: changed.map_or(0, |own| own.act),
            }
        };
        Ok(Material::ALL.into_iter().map(view).collect())
    }

    /// Keeps the shop's own coefficient of a material, or goes back to the usual one where the coefficient is left empty.
    /// `saw` is the act that last changed it when the form was shown.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, or a conflict where somebody changed it after the form was shown.
    pub async fn set_expansion(&self, doing: &Doing, material: Material, saw: i64, form: &ExpansionForm) -> Done<()> {
        let new = parse(form)?;
        let Some(mut w) = self.begin(doing, "set expansion", None).await? else { return Ok(()) };
        let stands = expansions::all(&mut w).await?.remove(&material);
        if stands.as_ref().map_or(0, |own| own.act) != saw {
            let now = stands.map_or_else(|| material.expansion(), |own| own.expansion);
            return Err(Refused::Conflict { stands: format!("{} per K × 10⁻⁶", micro(now.per_kelvin)) });
        }
        match new {
            Some(new) => expansions::put(&mut w, material, &new).await?,
            None => expansions::withdraw(&mut w, material).await?,
        }
        w.commit().await?;
        self.memo.clear();
        Ok(())
    }
}

fn micro(per_kelvin: f64) -> String {
    format!("{:.1}", per_kelvin * 1e6)
}

fn parse(form: &ExpansionForm) -> Done<Option<Expansion>> {
    if form.per_kelvin.trim().is_empty() {
        return Ok(None);
    }
    let mut faults = Vec::new();
    let mut figure = |field: &str, text: &str| {
        let read = text.trim().replace(',', ".").parse::<f64>().map(|figure| figure * 1e-6);
        let read = read.ok().filter(|per_kelvin| POSSIBLE.contains(per_kelvin));
        if read.is_none() {
            faults.push(FieldFault::new(field, "enter it in millionths per kelvin, such as 21.5"));
        }
        read
    };
    let (mean, low, high) =
        (figure("per_kelvin", &form.per_kelvin), figure("low", &form.low), figure("high", &form.high));
    if let (Some(mean), Some(low), Some(high)) = (mean, low, high)
        && !(low <= mean && mean <= high)
    {
        faults.push(FieldFault::new("per_kelvin", "enter a figure between the least and the most it may be"));
    }
    if form.source.trim().is_empty() {
        faults.push(FieldFault::new("source", "say where the figure comes from: a data sheet, the maker"));
    }
    faults.extend(FieldFault::too_long("source", &form.source, 200));
    match (mean, low, high, faults.is_empty()) {
        (Some(per_kelvin), Some(low), Some(high), true) => {
            Ok(Some(Expansion { per_kelvin, span: (low, high), source: form.source.trim().to_owned().into() }))
        }
        _ => Err(Refused::Faults(faults)),
    }
}
