//! Who does something, and how it can be refused.

use super::Shop;
use crate::record::{self, NewAct, Writing, acts, people};
use jiff::Timestamp;

/// Who does something, where and when; the key makes the same post sent twice one act.
#[derive(Clone, Debug)]
pub struct Doing {
    /// Public id of the name tapped at this tablet.
    pub person: Option<String>,
    pub device: String,
    pub key: String,
    pub at: Timestamp,
}

/// One thing wrong with a form.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FieldFault {
    pub field: String,
    /// What to enter.
    pub message: String,
}

impl FieldFault {
    #[expect(clippy::needless_pass_by_value, reason = "callers hand over what they have just made")]
    pub fn new(field: impl Into<String>, message: impl ToString) -> Self {
        Self { field: field.into(), message: message.to_string() }
    }
}

/// Why something was not done. Nothing of it was kept.
#[derive(Debug, thiserror::Error)]
pub enum Refused {
    #[error("there is no such thing in the record")]
    NotFound,
    #[error("the form has {} faults", .0.len())]
    Faults(Vec<FieldFault>),
    /// Somebody changed it after the form was shown: what stands now, as text.
    #[error("it was changed meanwhile")]
    Conflict { stands: String },
    /// A file longer than what is taken in.
    #[error("a file is too large")]
    TooLarge,
    #[error(transparent)]
    Record(#[from] record::Error),
}

impl FieldFault {
    /// The fault of a text that is longer than what stands on a page or paper.
    pub(super) fn too_long(field: &str, text: &str, most: usize) -> Option<Self> {
        (text.trim().chars().count() > most).then(|| Self::new(field, format!("enter at most {most} characters")))
    }
}

impl Refused {
    /// The fields that have a fault, with what to enter instead.
    ///
    /// # Errors
    /// The refusal itself, where it is no fault of a form.
    pub fn faults(self) -> Result<impl Iterator<Item = (String, String)>, Self> {
        match self {
            Self::Faults(faults) => Ok(faults.into_iter().map(|fault| (fault.field, fault.message))),
            other => Err(other),
        }
    }

    pub(super) fn fault(field: &str, message: impl ToString) -> Self {
        Self::Faults(vec![FieldFault::new(field, message)])
    }
}

pub(super) type Done<T> = Result<T, Refused>;

impl Shop {
    /// Begins what is being done by its act; none where it was done already.
    pub(super) async fn begin(&self, doing: &Doing, what: &str, build: Option<i64>) -> Done<Option<Writing>> {
        let person = match &doing.person {
            Some(public_id) => people::by_public_id(&mut *self.record.look().await?, public_id).await?.map(|p| p.id),
            None => None,
        };
        let act = NewAct { person, device: &doing.device, what, build, at: doing.at, idempotency_key: &doing.key };
        Ok(self.record.begin(&act).await?)
    }

    /// Goes on in the same transaction with the act of another job. What is done to several jobs by one post is kept as a whole or
    /// not at all, and each job has an act of its own: its findings and its past are told by the acts that touch it.
    pub(super) async fn go_on(&self, w: &mut Writing, doing: &Doing, what: &str, job: i64) -> Done<()> {
        let person = match &doing.person {
            Some(public_id) => people::by_public_id(w, public_id).await?.map(|person| person.id),
            None => None,
        };
        let key = format!("{}, job {job}", doing.key);
        let act = NewAct { person, device: &doing.device, what, build: Some(job), at: doing.at, idempotency_key: &key };
        Ok(w.go_on(&act).await?)
    }

    /// Whether this was done already: the same post sent twice.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn was_done(&self, doing: &Doing) -> Done<bool> {
        Ok(acts::by_key(&mut *self.record.look().await?, &doing.key).await?.is_some())
    }

    /// The person whose name is tapped.
    pub(super) async fn somebody(&self, doing: &Doing, field: &str) -> Done<i64> {
        let name_missing = || Refused::fault(field, "tap your name first");
        let public_id = doing.person.as_deref().ok_or_else(name_missing)?;
        let person = people::by_public_id(&mut *self.record.look().await?, public_id).await?;
        person.filter(|person| person.works_here).map(|person| person.id).ok_or_else(name_missing)
    }
}
