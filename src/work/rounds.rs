//! Rounds: a new one never strikes out an old one, and the builder says which counts.

use super::doing::{Doing, Done, FieldFault, Refused};
use super::round_temperatures::{TemperaturesForm, temperatures};
use super::{Shop, shop_settings};
use crate::engine::SheetKey;
use crate::record::rounds::{self, Condition, NewRound, RoundKind};
use crate::record::{Writing, builds, settings};

/// A round as typed.
#[derive(Clone, Debug, Default)]
pub struct RoundForm {
    /// A round kind's key.
    pub kind: String,
    pub condition: Condition,
    pub temperatures: TemperaturesForm,
}

impl Shop {
    /// Begins a round of a sheet; it counts from now on.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be.
    pub async fn begin_round(&self, doing: &Doing, job: i64, sheet: SheetKey, form: &RoundForm) -> Done<()> {
        builds::by_id(&mut *self.record.look().await?, job).await?.ok_or(Refused::NotFound)?;
        let mut faults = Vec::new();
        let kind = RoundKind::from_key(&form.kind);
        if kind.is_none() {
            faults.push(FieldFault::new("kind", "choose what the round is for"));
        }
        let (temperature_c, gauge_temperature_c) =
            temperatures(&form.temperatures, ["temperature", "gauge_temperature"]).unwrap_or_else(|found| {
                faults.extend(found);
                (None, None)
            });
        let (Some(kind), true) = (kind, faults.is_empty()) else { return Err(Refused::Faults(faults)) };
        let Some(mut w) = self.begin(doing, "begin round", Some(job)).await? else { return Ok(()) };
        let temperature_c = match temperature_c {
            None => shop_settings::usual_temperature(&settings::all(&mut w).await?),
            noted => noted,
        };
        let new = NewRound { sheet, kind, condition: form.condition.clone(), temperature_c, gauge_temperature_c };
        rounds::insert(&mut w, job, &new).await?;
        Ok(w.commit().await?)
    }

    /// Says which round of its sheet counts.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is no such round.
    pub async fn let_round_count(&self, doing: &Doing, job: i64, sheet: SheetKey, number: i64) -> Done<()> {
        let all = rounds::of(&mut *self.record.look().await?, Some(job)).await?;
        let round = all.iter().find(|r| r.sheet == sheet && r.number == number).ok_or(Refused::NotFound)?;
        let Some(mut w) = self.begin(doing, "let round count", Some(job)).await? else { return Ok(()) };
        rounds::let_count(&mut w, round).await?;
        Ok(w.commit().await?)
    }
}

/// The round of a sheet that counts, begun as received where there is none.
pub(super) async fn counting_or_first(w: &mut Writing, job: i64, sheet: SheetKey) -> Done<i64> {
    let all = rounds::of(w, Some(job)).await?;
    if let Some(round) = all.iter().find(|round| round.sheet == sheet && round.counts) {
        return Ok(round.id);
    }
    let new = NewRound {
        sheet,
        kind: RoundKind::Received,
        condition: Condition::default(),
        temperature_c: shop_settings::usual_temperature(&settings::all(w).await?),
        gauge_temperature_c: None,
    };
    Ok(rounds::insert(w, job, &new).await?)
}
