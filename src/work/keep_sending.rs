//! Work sent out, written down: to whom, what is asked with which tolerance, when it left and came back.

use super::Shop;
use super::changes::{keep_change, place_of_change};
use super::doing::{Doing, Done, FieldFault, Refused};
use super::job::JobLook;
use super::limits::figure;
use super::move_part::day;
use super::sendings::Out;
use super::when::civil;
use crate::engine::{FindingFeature, FindingKey, Place, SheetKey};
use crate::metrology::Band;
use crate::record::changes::NewChange;
use crate::record::rounds::Condition;
use crate::record::sendings::{self, Asked, NewSending, Sending};
use crate::sheets::{Change, home_of};

/// What is typed of work sent out.
#[derive(Clone, Debug, Default)]
pub struct SendingForm {
    /// Public id; empty for none.
    pub supplier: String,
    pub what: String,
    /// Keys; empty for none.
    pub step: String,
    pub sheet: String,
    pub condition: Condition,
    pub words: String,
    /// Civil days; empty while it did not happen.
    pub sent: String,
    pub due: String,
    pub back: String,
    /// Numbers of rounds of the sheet; empty for none.
    pub before_round: String,
    pub after_round: String,
    pub cost: String,
    pub price: String,
    /// What its coming back changed of what was measured, by its key; empty for nothing.
    pub change: String,
    /// Where; empty for everywhere.
    pub place: String,
}

/// One size asked, as typed.
#[derive(Clone, Debug, Default)]
pub struct AskForm {
    /// A finding feature's key.
    pub feature: String,
    /// A place's key; empty for every place it is found at.
    pub place: String,
    pub least: String,
    pub most: String,
}

impl SendingForm {
    /// As its form shows it.
    pub(super) fn of(look: &JobLook, out: &Out, sending: &Sending) -> Self {
        let said = &sending.said;
        let text = |day: Option<jiff::civil::Date>| day.map(|day| day.to_string()).unwrap_or_default();
        let round = |id: Option<i64>| {
            let round = id.and_then(|id| look.job.round(id));
            round.map(|round| round.number.to_string()).unwrap_or_default()
        };
        Self {
            supplier: out
                .suppliers
                .iter()
                .find(|one| Some(one.id) == said.supplier)
                .map(|one| one.public_id.clone())
                .unwrap_or_default(),
            what: said.what.clone(),
            step: look.steps.iter().find(|s| Some(s.id) == said.step).map(|s| s.key.clone()).unwrap_or_default(),
            sheet: said.sheet.map(|key| key.key().to_owned()).unwrap_or_default(),
            condition: said.condition.clone(),
            words: said.words.clone(),
            sent: text(said.sent),
            due: text(said.due),
            back: text(said.back),
            before_round: round(said.before_round),
            after_round: round(said.after_round),
            cost: out.purse.typed(said.cost),
            price: out.purse.typed(said.price),
            change: String::new(),
            place: String::new(),
        }
    }

    fn understood(&self, look: &JobLook, out: &Out) -> Done<NewSending> {
        let mut faults = Vec::new();
        if self.what.trim().is_empty() {
            faults.push(FieldFault::new("what", "say what is to be done: line honing"));
        }
        let condition = &self.condition;
        for (field, text, most) in [
            ("what", &self.what, 200),
            ("words", &self.words, 2000),
            ("plate", &condition.plate, 200),
            ("fasteners", &condition.fasteners, 200),
            ("lubricant", &condition.lubricant, 200),
            ("torque", &condition.torque, 200),
            ("shells", &condition.shells, 200),
        ] {
            faults.extend(FieldFault::too_long(field, text, most));
        }
        let supplier = out.suppliers.iter().find(|one| one.public_id == self.supplier).map(|one| one.id);
        if supplier.is_none() && !self.supplier.is_empty() {
            faults.push(FieldFault::new("supplier", "choose the shop from the list"));
        }
        let step = look.steps.iter().find(|step| step.key == self.step).map(|step| step.id);
        if step.is_none() && !self.step.is_empty() {
            faults.push(FieldFault::new("step", "choose the step from the list"));
        }
        let mut on = |field: &str, typed: &str| day(field, typed).map_err(|why| faults.push(why)).ok().flatten();
        let (sent, due, back) = (on("sent", &self.sent), on("due", &self.due), on("back", &self.back));
        let today = look.when.today();
        if sent.is_some_and(|sent| sent > today) {
            faults.push(FieldFault::new("sent", "this day has not come yet: leave it empty until it leaves"));
        }
        if back.is_some_and(|back| back > today) {
            faults.push(FieldFault::new("back", "this day has not come yet: leave it empty until it is back"));
        }
        match (sent, back) {
            (None, Some(_)) => faults.push(FieldFault::new("sent", "enter the day it left: it is said to be back")),
            (Some(sent), Some(back)) if back < sent => {
                faults.push(FieldFault::new("back", format!("it left on {}: enter a day from then on", civil(sent))));
            }
            _ => {}
        }
        if let (Some(sent), Some(due)) = (sent, due)
            && due < sent
        {
            faults.push(FieldFault::new("due", "this is before the day it left: enter the day it is promised for"));
        }
        let sheet = SheetKey::from_key(&self.sheet);
        let mut round = |field: &str, typed: &str| {
            let number = typed.trim().parse::<i64>().ok()?;
            let round = look.job.rounds.iter().find(|round| Some(round.sheet) == sheet && round.number == number);
            if round.is_none() {
                faults.push(FieldFault::new(field, "choose a round of the sheet from the list"));
            }
            round.map(|round| round.id)
        };
        let (before_round, after_round) =
            (round("before_round", &self.before_round), round("after_round", &self.after_round));
        let cost = out.purse.amount("cost", &self.cost).map_err(|why| faults.push(why)).ok().flatten();
        let price = out.purse.amount("price", &self.price).map_err(|why| faults.push(why)).ok().flatten();
        if !faults.is_empty() {
            return Err(Refused::Faults(faults));
        }
        // What was read when it left is what it left as.
        let counting = sheet.and_then(|key| look.job.counting(key)).map(|round| round.id);
        Ok(NewSending {
            supplier,
            what: self.what.trim().to_owned(),
            step,
            sheet,
            condition: condition.clone(),
            words: self.words.trim().to_owned(),
            sent,
            due,
            back,
            before_round: before_round.or(counting.filter(|_| sent.is_some() && back.is_none())),
            after_round,
            cost,
            price,
        })
    }
}

impl Shop {
    /// Writes down work to be sent out; its public id leads to its page.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be.
    pub async fn add_sending(&self, doing: &Doing, job: i64, form: &SendingForm) -> Done<()> {
        let look = self.look_at_job(job, doing.at).await?;
        let out = Out::load(&mut *self.record.look().await?, job).await?;
        let new = form.understood(&look, &out)?;
        let Some(mut w) = self.begin(doing, "send out", Some(job)).await? else { return Ok(()) };
        sendings::insert(&mut w, job, &new).await?;
        Ok(w.commit().await?)
    }

    /// Changes what is said of work sent out: what was asked, that it left, that it is back. `saw` is the act that had last
    /// changed it when the form was shown.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be, [`Refused::Conflict`] where it was changed since.
    pub async fn change_sending(
        &self,
        doing: &Doing,
        job: i64,
        public_id: &str,
        saw: Option<i64>,
        form: &SendingForm,
    ) -> Done<()> {
        let look = self.look_at_job(job, doing.at).await?;
        let out = Out::load(&mut *self.record.look().await?, job).await?;
        let sending = out.find(public_id)?;
        let new = form.understood(&look, &out)?;
        let place = place_of_change(&look, &form.place).map_err(|fault| Refused::Faults(vec![fault]))?;
        let change = Change::from_key(&form.change);
        if change.is_some() && new.back.is_none() {
            return Err(Refused::fault("back", "enter the day it came back: from then on it has changed"));
        }
        let Some(mut w) = self.begin(doing, "change work sent out", Some(job)).await? else { return Ok(()) };
        let now = sendings::of(&mut w, Some(job)).await?.into_iter().find(|other| other.id == sending.id);
        if now.is_none_or(|now| saw.is_some_and(|saw| saw != now.act)) {
            return Err(Refused::Conflict { stands: format!("{} was changed meanwhile", sending.said.what) });
        }
        sendings::update(&mut w, sending.id, &new).await?;
        if let Some(change) = change {
            let said = NewChange { change, place, part: None, sending: Some(sending.id), words: String::new() };
            keep_change(&mut w, &look, &said).await?;
        }
        Ok(w.commit().await?)
    }

    /// Asks a size of work sent out, at a place or at each place it is found at.
    ///
    /// # Errors
    /// [`Refused::Faults`] for what cannot be asked.
    pub async fn ask_of_sending(&self, doing: &Doing, job: i64, public_id: &str, form: &AskForm) -> Done<()> {
        let look = self.look_at_job(job, doing.at).await?;
        let out = Out::load(&mut *self.record.look().await?, job).await?;
        let sending = out.find(public_id)?;
        let mut faults = Vec::new();
        let feature = FindingFeature::parse(&form.feature);
        if !feature.takes_limit() || home_of(&feature) != sending.said.sheet {
            return Err(Refused::fault("feature", "choose what is asked from the list of its sheet"));
        }
        let how = feature.how_read(look.job.build.unit);
        let mut end = |field: &str, text: &str| {
            figure(field, text, &how, feature.may_be_below_zero()).map_err(|why| faults.push(why)).ok().flatten()
        };
        let (least, most) = (end("least", &form.least), end("most", &form.most));
        if let (Err(why), true) = (Band::new(least, most), faults.is_empty()) {
            faults.push(FieldFault::new("least", why));
        }
        let places = asked_at(&look, &feature, &form.place).map_err(|why| faults.push(why)).unwrap_or_default();
        if !faults.is_empty() {
            return Err(Refused::Faults(faults));
        }
        let typed = format!("{} to {}", form.least.trim(), form.most.trim());
        let Some(mut w) = self.begin(doing, "ask of work sent out", Some(job)).await? else { return Ok(()) };
        for place in places {
            let finding = FindingKey::new(feature.clone(), place);
            for before in out.asked_of(sending.id).filter(|asked| asked.finding == finding) {
                sendings::ask_no_more(&mut w, sending.id, before.id).await?;
            }
            let asked = Asked { id: 0, sending: sending.id, finding, least, most, typed: typed.clone() };
            sendings::ask(&mut w, &asked).await?;
        }
        Ok(w.commit().await?)
    }

    /// Asks a size no more.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where it was not asked.
    pub async fn ask_no_more(&self, doing: &Doing, job: i64, public_id: &str, asked: i64) -> Done<()> {
        let out = Out::load(&mut *self.record.look().await?, job).await?;
        let sending = out.find(public_id)?;
        let Some(mut w) = self.begin(doing, "ask no more of work sent out", Some(job)).await? else { return Ok(()) };
        if !sendings::ask_no_more(&mut w, sending.id, asked).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }

    /// Withdraws work that was not sent out after all.
    ///
    /// # Errors
    /// [`Refused::Faults`] where it is away, or a change names it.
    pub async fn withdraw_sending(&self, doing: &Doing, job: i64, public_id: &str) -> Done<()> {
        let look = self.look_at_job(job, doing.at).await?;
        let out = Out::load(&mut *self.record.look().await?, job).await?;
        let sending = out.find(public_id)?;
        if sending.said.sent.is_some() && sending.said.back.is_none() {
            return Err(Refused::fault("withdraw", "it is away: say that it is back first"));
        }
        if let Some(change) = look.job.changes.iter().find(|change| change.said.sending == Some(sending.id)) {
            let words = format!("the change “{}” names it: withdraw that first", change.said.change.word());
            return Err(Refused::fault("withdraw", words));
        }
        let Some(mut w) = self.begin(doing, "withdraw work sent out", Some(job)).await? else { return Ok(()) };
        sendings::withdraw(&mut w, sending.id).await?;
        Ok(w.commit().await?)
    }
}

/// The places at which a size is asked: the one typed, or each that the engine has of the finding's kind.
fn asked_at(look: &JobLook, feature: &FindingFeature, typed: &str) -> Result<Vec<Place>, FieldFault> {
    let engine = &look.job.engine.architecture;
    let each = engine.places_of(feature.whole());
    match place_of_change(look, typed)? {
        None if feature.is_spread() || each.is_empty() => Ok(vec![feature.whole()]),
        None => Ok(each),
        Some(place) if each.contains(&place) => Ok(vec![place]),
        Some(_) => Err(FieldFault::new("place", "it is not found at this place: choose another, or everywhere")),
    }
}
