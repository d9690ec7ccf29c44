//! "My call, because …": accepting a finding that is out, on the line or missing.

use super::Shop;
use super::doing::{Doing, Done, Refused};
use super::findings::seen;
use crate::engine::FindingKey;
use crate::record::acceptances::{self, NewAcceptance};

/// A call as typed.
#[derive(Clone, Debug, Default)]
pub struct NewCall {
    pub because: String,
    /// What the owner's card says of it; empty for nothing.
    pub for_owner: String,
}

impl Shop {
    /// Accepts a finding as it is seen now.
    ///
    /// # Errors
    /// Where nobody's name is tapped, no reason is given, or there is no such finding.
    pub async fn accept(&self, doing: &Doing, job: i64, key: &FindingKey, call: &NewCall) -> Done<()> {
        let person = self.somebody(doing, "person").await?;
        if call.because.trim().is_empty() {
            return Err(Refused::fault("because", "say why it is good for this engine"));
        }
        let look = self.look_at_job(job, doing.at).await?;
        let finding = look.findings.find(key).ok_or(Refused::NotFound)?;
        let new = NewAcceptance {
            finding: key.clone(),
            person,
            because: call.because.trim().to_owned(),
            for_owner: call.for_owner.trim().to_owned(),
            seen: seen(finding),
        };
        let Some(mut w) = self.begin(doing, "accept finding", Some(job)).await? else { return Ok(()) };
        acceptances::withdraw(&mut w, job, key).await?;
        acceptances::insert(&mut w, job, &new).await?;
        Ok(w.commit().await?)
    }

    /// Takes a call back.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where none of this job stands.
    pub async fn take_call_back(&self, doing: &Doing, job: i64, key: &FindingKey) -> Done<()> {
        let Some(mut w) = self.begin(doing, "take call back", Some(job)).await? else { return Ok(()) };
        if !acceptances::withdraw(&mut w, job, key).await? {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }
}
